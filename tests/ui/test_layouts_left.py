"""What is left: kept current once the hand rests, listed, drawn on the cloth, and asked what could be cut from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from canvas_samples import job, leftover, linen, session_of, with_side
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.left_over import left_over
from coverlayout.document.cutting.rows import Rows
from coverlayout.document.edits.cloths import remove_cloth
from coverlayout.document.edits.job import change_preferences, change_rules
from coverlayout.document.edits.placements import move_by, take_off
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.document.session import Session
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.layouts.left_list import place_words
from coverlayout.ui.layouts.marks import size_of
from coverlayout.ui.layouts.rows_dialog import RowsDialog, count_words, way_words
from coverlayout.ui.look import Look
from coverlayout.ui.window import Window
from coverlayout.units import LengthStyle


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


def rested(qtbot: QtBot, window: Window) -> None:
    qtbot.waitUntil(lambda: not window.around.leftovers.old)


def dialog(window: Window) -> RowsDialog:
    """The dialog, which comes as soon as it is known what is left."""
    for _ in range(500):
        shown = [each for each in window.findChildren(RowsDialog) if each.isVisible()]
        if shown:
            break
        QTest.qWait(10)
    (found,) = shown
    return found


def picture(window: Window) -> QImage:
    return window.canvas.grab().toImage()


def test_the_bar_tells_the_largest_piece_left_over_once_the_hand_rests(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    """In the maker's own fineness, as everywhere, rounded down: half a millimetre."""
    rested(qtbot, window)
    expected = left_over(session.project)[0].rectangle
    width, height = (int(side_mm * 2 + 1e-6) / 2 for side_mm in (expected.width_mm, expected.height_mm))
    assert window.bar.left.figure == f"{width} × {height} mm"
    before = window.bar.left.figure
    session.do(take_off(("back-1",)))
    assert window.bar.left.figure == before, "nothing is worked out while the hand may still be at it"
    rested(qtbot, window)
    assert window.bar.left.figure != before


def test_nothing_is_worked_out_while_something_is_dragged(qtbot: QtBot, window: Window, session: Session) -> None:
    rested(qtbot, window)
    canvas, leftovers = window.canvas, window.around.leftovers
    box = canvas.bench.outlines["front-1"][1]
    start = QPoint(*(round(at) for at in canvas.view.to_screen.at(box.middle)))
    session.do(change_rules(gap_mm=4.0))
    qtbot.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(canvas, start + QPoint(30, 12))
    qtbot.waitUntil(lambda: canvas.gesture is not None)
    leftovers._begin()
    leftovers._next()
    assert leftovers.old
    qtbot.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=start)
    rested(qtbot, window)


def test_a_click_on_the_figure_lists_all_and_a_row_is_drawn(qtbot: QtBot, window: Window, session: Session) -> None:
    rested(qtbot, window)
    around = window.around
    bare = picture(window)
    qtbot.mouseClick(window.bar.left, Qt.MouseButton.LeftButton)
    assert around.list_open
    assert around.left_list.rows.count() == len(left_over(session.project))
    assert around.left_list.rows.currentRow() == 0
    assert around.left_list.rows.item(0).text() == size_of(left_over(session.project)[0], LengthStyle())
    assert around.leftovers.drawn == (around.leftovers.found[0],)
    drawn = picture(window)
    assert drawn != bare
    around.left_list.rows.setCurrentRow(1)
    assert picture(window) != drawn
    around.left_list.all.click()
    assert len(around.leftovers.drawn) == around.left_list.rows.count()
    assert around.leftovers.drawn[-1] == around.leftovers.found[1], "the chosen one lies on top"
    qtbot.keyClick(around.left_list.rows, Qt.Key.Key_Escape)
    assert not around.list_open
    assert around.leftovers.chosen is None


def test_the_row_chosen_stays_where_it_was_when_something_moves(qtbot: QtBot, window: Window, session: Session) -> None:
    rested(qtbot, window)
    around = window.around
    around.toggle_list()
    middle = around.leftovers.found[0].rectangle.middle_mm
    session.do(move_by(("liner-front-1",), 0.0, 4.0))
    rested(qtbot, window)
    chosen = around.leftovers.found[around.leftovers.chosen or 0].rectangle
    assert abs(chosen.middle_mm[0] - middle[0]) < 20
    assert around.left_list.rows.currentRow() == around.leftovers.chosen
    # A cloth that goes takes its rows along, at once on the canvas and then in the list.
    session.do(remove_cloth("cloth-1"))
    assert not window.canvas.grab().isNull()
    rested(qtbot, window)
    assert (around.leftovers.found, around.leftovers.chosen) == ((), None)
    assert not around.left_list.none.isHidden()
    around.toggle_list()


def test_by_keys_alone(qtbot: QtBot, window: Window, session: Session) -> None:
    rested(qtbot, window)
    menus, around = window.menus, window.around
    menus.do("what-is-left")
    assert around.list_open
    assert menus.action("what-is-left").isChecked()
    qtbot.waitUntil(around.left_list.rows.hasFocus)
    qtbot.keyClick(around.left_list.rows, Qt.Key.Key_Down)
    assert around.leftovers.chosen == 1
    qtbot.keyClick(around.left_list.rows, Qt.Key.Key_Return)
    assert dialog(window).kinds
    dialog(window).reject()
    menus.do("what-is-left")
    assert not around.list_open
    menus.do("draw-left")
    assert around.leftovers.all_drawn
    menus.do("draw-left")
    assert around.leftovers.drawn == ()


def test_with_nothing_left_the_actions_say_so(qtbot: QtBot, window: Window, session: Session) -> None:
    session.do(remove_cloth("cloth-1"))
    rested(qtbot, window)
    for name in ("draw-left", "cut-from-left"):
        window.menus.do(name)
        assert "Nothing worth keeping" in window.banner.sentence.text()
    window.around.ask_what()
    assert not [each for each in window.findChildren(RowsDialog) if each.isVisible()]
    assert window.bar.left.figure == "–"


def test_the_waiting_liner_is_laid_into_the_rectangle_in_one_step(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    before = session.project
    with_gap = replace(before, rules=replace(before.rules, gap_mm=2.0))
    assert left_over(with_gap) != ()
    window.menus.do("cut-from-left")
    asked = dialog(window)
    names = [asked.table.item(row, 0).text() for row in range(asked.table.rowCount())]
    assert len(names) == 4
    kind = next(kind for kind in asked.kinds if kind.waiting)
    fits = kind.count > 0
    asked.table.setCurrentCell(asked.kinds.index(kind), 0)
    assert asked.lay_button.isEnabled() == fits
    if not fits:
        assert "goes in here" in asked.why_not.text()
    other = next(k for k in asked.kinds if not k.waiting)
    asked.table.setCurrentCell(asked.kinds.index(other), 0)
    assert not asked.lay_button.isEnabled()
    assert "waits" in asked.why_not.text()
    asked.reject()
    # With the covers off there is room for all.
    session.do(take_off(("front-1", "back-1")))
    steps = session.undo_name
    assert steps is not None
    window.menus.do("cut-from-left")
    asked = dialog(window)
    assert asked.lay_button.isEnabled()
    asked.lay_button.click()
    assert len(session.project.layout.placements) == 2
    (chosen,) = window.canvas.chosen
    assert session.project.layout.place_of(chosen) is not None
    session.undo()
    assert len(session.project.layout.placements) == 1


def test_a_piece_that_must_keep_its_motif_and_cannot_is_laid_and_said(window: Window, session: Session) -> None:
    """The origin of the print is not known, so no lock can be kept anywhere."""
    project = session.project
    laid = project.cloths[0].laid
    assert laid is not None
    cloth = replace(project.cloths[0], laid=replace(laid, origin_known=False))
    lock = LockWish("lock-1", "liner-back-1", place_mm=(1.0, 1.0))
    session.replace_all(replace(project, cloths=(cloth,), locks=(lock,)), session.pictures, None)
    session.do(take_off(("front-1", "back-1", "liner-front-1")))
    window.menus.do("cut-from-left")
    asked = dialog(window)
    row = next(row for row, kind in enumerate(asked.kinds) if kind.waiting == ("liner-back-1",))
    asked.table.setCurrentCell(row, 0)
    asked.lay_button.click()
    assert session.project.layout.place_of("liner-back-1") is not None
    assert "not where its wish for the motif holds" in window.banner.sentence.text()


def test_it_becomes_a_cloth_or_a_piece_of_its_own(window: Window, session: Session) -> None:
    size = left_over(session.project)[0].rectangle
    window.menus.do("cut-from-left")
    dialog(window).own_piece.emit()
    dialog(window).reject()
    own = session.project.own_pieces[-1]
    assert (own.name, own.width_mm, own.height_mm) == ("rest piece", size.width_mm, size.height_mm)
    assert session.project.layout.place_of("rest piece-1") is not None
    window.menus.do("cut-from-left")
    dialog(window)._own_piece()
    assert session.project.own_pieces[-1].name == "rest piece 2"
    window.menus.do("cut-from-left")
    dialog(window)._own_cloth()
    assert len(session.project.cloths) == 2
    assert session.project.cloths[1].name == "Rest of Linen"


def test_what_cannot_be_made_a_cloth_is_said_and_changes_nothing(window: Window, session: Session) -> None:
    project = session.project
    session.replace_all(replace(project, cloths=(replace(linen(), state="to-buy"),)), session.pictures, None)
    window.menus.do("cut-from-left")
    before = session.project
    dialog(window)._own_cloth()
    assert session.project is before
    assert "Linen" in window.banner.sentence.text()


def two_cloths(side: str) -> Project:
    return with_side(job(linen(), leftover()), side)


def test_where_a_rectangle_is_as_seen_from_either_side() -> None:
    """On the back the left edge of the cloth is its right one: 460 less the rectangle's right side."""
    front = two_cloths("print")
    left = next(each for each in left_over(front) if each.cloth_id == "cloth-1")
    box = left.rectangle
    x0, x1 = box.middle_mm[0] - box.width_mm / 2, box.middle_mm[0] + box.width_mm / 2
    style = LengthStyle()
    assert place_words(front, left).startswith(f"Leaf on Linen: {style.show(x0)} from the left")
    assert place_words(two_cloths("back"), left).startswith(f"Leaf on Linen: {style.show(460.0 - x1)} from the left")


def test_a_crooked_print_is_said_with_its_angle_and_plain_cloth_without_print() -> None:
    project = job(replace(linen(), laid=replace(linen().laid, turn_deg=2.0)))  # type: ignore[type-var]  # it has one
    assert place_words(project, left_over(project)[0]).endswith("Its sides run along the print, 2° off the straight.")
    fine = job(replace(linen(), laid=replace(linen().laid, turn_deg=-0.9601745666663435)))  # type: ignore[type-var]  # it has one
    words = place_words(fine, left_over(fine)[0])
    assert words.endswith(" from the top. Its sides run along the print, -0.96° off the straight.")
    plain = Project(cloths=(Cloth("c", "Plain", 100.0, 80.0),))
    assert place_words(plain, left_over(plain)[0]) == "Plain: 0.0 mm from the left, 0.0 mm from the top"


@pytest.mark.parametrize(
    ("kind", "count", "way"),
    [
        (Rows("cover", 10.0, 20.0, 3, 2), "6", "3 across, 2 along"),
        (Rows("cover", 10.0, 20.0, 3, 2, 90.0, True), "at least 6", "3 across, 2 along, turned a quarter"),
        (Rows("cover", 10.0, 20.0, 1, 1, 180.0), "1", "1 across, 1 along, head down"),
        (Rows("cover", 10.0, 20.0, 0, 2), "none", ""),
        (Rows("cover", 10.0, 20.0, 0, 0, from_here=False), "none", "comes from elsewhere"),
    ],
)
def test_counts_in_words(kind: Rows, count: str, way: str) -> None:
    plain = Project(cloths=(Cloth("c", "Plain", 100.0, 80.0),))
    assert (count_words(kind), way_words(kind, left_over(plain)[0])) == (count, way)


def test_rows_of_several_cloths_say_which_and_inches_stay_inches(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    session.replace_all(two_cloths("print"), session.pictures, None)
    session.do(change_preferences(length_style=LengthStyle("in", inch_parts=16)))
    window.around.toggle_list()
    rested(qtbot, window)
    words = [window.around.left_list.rows.item(row).text() for row in range(window.around.left_list.rows.count())]
    assert any(each.endswith(", Linen") for each in words)
    assert any(each.endswith(", Leftover") for each in words)
    assert window.bar.left.figure.endswith(" in")
    assert "/" in window.bar.left.figure, "a sixteenth is shown as a sixteenth, as everywhere"
    assert "." not in window.bar.left.figure


def test_a_list_opened_when_a_cloth_has_just_gone_shows_what_is_there(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    session.replace_all(two_cloths("print"), session.pictures, None)
    rested(qtbot, window)
    leftovers = window.around.leftovers
    on_linen = next(row for row, each in enumerate(leftovers.found) if each.cloth_id == "cloth-1")
    leftovers.choose(on_linen)
    kept = leftovers.found[on_linen]
    session.do(remove_cloth("cloth-2"))
    assert leftovers.old
    window.around.toggle_list()
    assert {each.cloth_id for each in leftovers.found} == {"cloth-1"}
    assert leftovers.drawn == (kept,)
    assert window.around.left_list.rows.count() == len(leftovers.found)
    session.do(remove_cloth("cloth-1"))
    assert (leftovers.found, leftovers.chosen) == ((), None)
    rested(qtbot, window)


def test_both_sides_and_both_looks_are_drawn(qtbot: QtBot, window: Window, session: Session, look: Look) -> None:
    rested(qtbot, window)
    window.around.toggle_all()
    light = picture(window)
    session.do(change_preferences(side="back"))
    QApplication.processEvents()
    back = picture(window)
    assert back != light
    look.choose("dark")
    assert picture(window) != back


def test_a_job_that_cannot_be_judged_leaves_nothing(qtbot: QtBot, window: Window, session: Session) -> None:
    link = LinkWish("link-1", ("front-1", "back-1", "liner-front-1"), ((5.0, 0.0),))
    session.replace_all(replace(session.project, links=(link,)), session.pictures, None)
    rested(qtbot, window)
    assert window.around.leftovers.found == ()
