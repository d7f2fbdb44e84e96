"""Named layouts in tabs, and two of them beside each other on the canvas with their figures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from canvas_samples import job, session_of
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QInputDialog, QMenu, QPushButton
from pytestqt.qtbot import QtBot

from coverlayout.document.edits.placements import move_by, take_off
from coverlayout.document.layouts.named import duplicate_layout
from coverlayout.document.project import LinkWish
from coverlayout.document.session import Session
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.look import Look
from coverlayout.ui.window import Window


@pytest.fixture
def session() -> Session:
    return session_of(job())


@pytest.fixture
def window(qtbot: QtBot, session: Session, port, look: Look, tmp_path: Path) -> Iterator[Window]:
    window = Window(session, port, look, remembered=Remembered(tmp_path / "settings"))
    qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
    window.resize(1440, 900)
    window.show()
    qtbot.waitUntil(lambda: window._painted)
    yield window
    look.choose("light")


@pytest.fixture
def two(window: Window, session: Session) -> Session:
    """A copy of the layout in which the liner lies 6 mm lower; the copy is worked on."""
    session.do(duplicate_layout("layout-1", "Liner lower"))
    session.do(move_by(("liner-front-1",), 0.0, 6.0))
    return session


def names(window: Window) -> list[str]:
    tabs = window.around.switcher.tabs
    return [tabs.tabText(at) for at in range(tabs.count())]


def test_one_layout_needs_no_tabs_and_says_why_nothing_can_be_compared(window: Window) -> None:
    assert window.around.switcher.isHidden()
    for name in ("compare-layouts", "next-layout", "remove-layout", "layout-left"):
        window.menus.do(name)
        assert window.banner.sentence.text() == "There is only one layout; copy it, or begin a new one."
    window.around.compare()
    assert not window.around.comparing.under_way


def test_tabs_follow_the_project_and_a_click_switches(qtbot: QtBot, window: Window, two: Session) -> None:
    tabs = window.around.switcher.tabs
    assert not window.around.switcher.isHidden()
    assert names(window) == ["Layout 1", "Liner lower"]
    assert tabs.currentIndex() == 1
    qtbot.mouseClick(tabs, Qt.MouseButton.LeftButton, pos=tabs.tabRect(0).center())
    assert two.project.layout.name == "Layout 1"
    window.menus.do("next-layout")
    assert two.project.layout.name == "Liner lower"
    window.menus.do("next-layout")
    assert two.project.layout.name == "Layout 1"
    window.menus.do("last-layout")
    assert two.project.layout.name == "Liner lower"
    two.undo()
    assert tabs.currentIndex() == 0


def test_new_copied_renamed_moved_removed(window: Window, session: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    window.menus.do("new-layout")
    assert (session.project.layout.name, session.project.layout.placements) == ("Layout 2", ())
    window.menus.do("copy-layout")
    assert session.project.layout.name == "Layout 2 copy"
    answers = iter([("Rows & columns", True), ("Layout 2", True), ("ignored", False)])
    monkeypatch.setattr(QInputDialog, "getText", lambda *_: next(answers))
    window.menus.do("rename-layout")
    assert names(window) == ["Layout 1", "Layout 2", "Rows && columns"]
    window.menus.do("rename-layout")
    assert "another layout is called Layout 2 already" in window.banner.sentence.text()
    window.menus.do("rename-layout")
    assert session.project.layout.name == "Rows & columns"
    window.menus.do("layout-left")
    window.menus.do("layout-left")
    window.menus.do("layout-left")
    assert names(window) == ["Rows && columns", "Layout 1", "Layout 2"]
    window.menus.do("layout-right")
    assert names(window)[1] == "Rows && columns"
    window.menus.do("remove-layout")
    assert names(window) == ["Layout 1", "Layout 2"]
    assert window.banner.sentence.text() == "Rows & columns is gone. Undo brings it back."
    session.undo()
    assert len(names(window)) == 3


def test_a_tab_is_dragged_elsewhere(window: Window, two: Session) -> None:
    window.around.switcher.tabs.moveTab(0, 1)
    assert [layout.name for layout in two.project.layouts] == ["Liner lower", "Layout 1"]
    assert two.project.layout.name == "Liner lower"
    two.undo()
    assert names(window) == ["Layout 1", "Liner lower"]


def test_the_menu_of_a_tab_is_about_that_tab(
    qtbot: QtBot, window: Window, two: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    popped: list[list[str]] = []
    monkeypatch.setattr(QMenu, "popup", lambda menu, _at: popped.append([each.text() for each in menu.actions()]))
    switcher = window.around.switcher
    switcher.tabs.customContextMenuRequested.emit(switcher.tabs.tabRect(0).center())
    assert two.project.layout.name == "Layout 1"
    switcher.tabs.customContextMenuRequested.emit(QPoint(-5, -5))
    assert two.project.layout.name == "Layout 1"
    switcher.more.click()
    assert popped == [["New layout", "Copy this layout", "Rename this layout …", "Remove this layout"]] * 3
    for menu in switcher.findChildren(QMenu):
        menu.deleteLater()


def test_the_menu_switches_and_compares_by_name(window: Window, two: Session) -> None:
    acts = {act.name: act for _, act in window.menus.every()}
    assert acts["switch-layout-1"].words == "Switch to Layout 1"
    assert acts["switch-layout-2"].ticked is not None
    assert acts["switch-layout-2"].ticked()
    assert "compare-layout-2" not in acts, "a layout is not compared with itself"
    acts["compare-layout-1"].do()
    assert window.around.comparing.other_id == "layout-1"
    acts["switch-layout-1"].do()
    assert window.around.comparing.other_id == "layout-2", "the one worked on before is looked at now"
    window.around.comparing.end()


def test_two_canvases_at_the_same_scale_with_figures_and_words(qtbot: QtBot, window: Window, two: Session) -> None:
    window.menus.do("compare-layouts")
    comparing = window.around.comparing
    other = comparing.other_canvas
    assert other is not None
    qtbot.waitUntil(lambda: other.view == window.canvas.view)
    assert other.width() == pytest.approx(window.canvas.width(), abs=6)
    assert other.height() == pytest.approx(window.canvas.height(), abs=2)
    assert other.shown.project.layout.name == "Layout 1"
    assert comparing.first_strip.name.text() == "Liner lower"
    assert comparing._second_strip.name.text() == "Layout 1"
    qtbot.waitUntil(lambda: "1 piece waits" in comparing.first_strip.check.text())
    assert comparing.first_strip.used.figure == comparing._second_strip.used.figure
    assert "One piece lies in both, but elsewhere" in comparing.words.text()
    assert comparing.words.text().endswith("Short dashes show where they lie in the other.")
    window.canvas.sight.zoom_in()
    qtbot.waitUntil(lambda: other.view == window.canvas.view)
    # The one to look at hears neither mouse nor keys.
    before = two.project
    qtbot.mouseClick(other, Qt.MouseButton.LeftButton)
    assert other.focusPolicy() == Qt.FocusPolicy.NoFocus
    assert two.project is before


def test_figures_and_the_other_canvas_follow_what_is_done(qtbot: QtBot, window: Window, two: Session) -> None:
    window.around.compare("layout-1")
    comparing = window.around.comparing
    two.do(take_off(("front-1",)))
    qtbot.waitUntil(lambda: "2 pieces wait" in comparing.first_strip.check.text())
    assert "1 piece waits" in comparing._second_strip.check.text()
    assert "In Liner lower one piece more waits than in Layout 1" in comparing.words.text()
    wanted = comparing._second_strip.findChildren(QPushButton)
    wanted[0].click()
    assert two.project.layout.name == "Layout 1"
    assert comparing.other_id == "layout-2"
    qtbot.waitUntil(lambda: comparing.first_strip.name.text() == "Layout 1")


def test_escape_ends_it_but_lets_go_first(qtbot: QtBot, window: Window, two: Session) -> None:
    window.around.compare()
    comparing = window.around.comparing
    window.canvas.setFocus()
    qtbot.waitUntil(window.canvas.hasFocus)
    window.canvas.choose(("front-1",))
    qtbot.keyClick(window.canvas, Qt.Key.Key_Escape)
    assert comparing.under_way
    window.canvas.choose(())
    qtbot.keyClick(window.canvas, Qt.Key.Key_Escape)
    assert not comparing.under_way
    assert comparing.other_canvas is None
    assert comparing.foot.isHidden()
    window.around.compare()
    window.around.compare()
    assert not comparing.under_way
    comparing.end()


def test_the_list_of_what_is_left_and_a_second_layout_make_room_for_each_other(window: Window, two: Session) -> None:
    around = window.around
    around.toggle_list()
    around.compare()
    assert not around.list_open
    assert around.comparing.under_way
    around.toggle_list()
    assert around.list_open
    assert not around.comparing.under_way


def test_in_the_narrowest_window_every_figure_is_seen_whole(qtbot: QtBot, window: Window, two: Session) -> None:
    window.resize(960, 700)
    window.around.compare()
    QApplication.processEvents()
    for strip in (window.around.comparing.first_strip, window.around.comparing._second_strip):
        for figure in (strip.used, strip.room, strip.left):
            qtbot.waitUntil(lambda strip=strip, figure=figure: strip.rect().contains(figure.geometry()))
    window.resize(1440, 900)
    strip = window.around.comparing.first_strip
    qtbot.waitUntil(lambda: strip.left.y() == strip.used.y())


def test_it_ends_when_there_is_nothing_to_compare_with_any_more(window: Window, two: Session) -> None:
    window.around.compare()
    two.undo()
    assert window.around.comparing.under_way
    two.undo()
    assert not window.around.comparing.under_way
    assert window.around.switcher.isHidden()


def test_the_look_goes_over_both(qtbot: QtBot, window: Window, two: Session, look: Look) -> None:
    look.choose("dark")
    window.around.compare()
    other = window.around.comparing.other_canvas
    assert other is not None
    dark = window.around.grab().toImage()
    look.choose("light")
    QApplication.processEvents()
    assert window.around.grab().toImage() != dark


def test_a_job_that_cannot_be_judged_is_said_instead_of_figures(qtbot: QtBot, window: Window, two: Session) -> None:
    window.around.compare()
    project = two.project
    # A link that gives no difference for its second piece: nothing can be judged.
    broken = replace(project, links=(LinkWish("link-1", ("front-1", "back-1", "liner-front-1"), ((5.0, 0.0),)),))
    two.replace_all(broken, two.pictures, None)
    qtbot.waitUntil(lambda: "run on need one difference" in window.around.comparing.words.text())
    window.around.comparing.end()
