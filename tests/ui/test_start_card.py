"""What an empty window offers: ways to begin, and the projects of the last days."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog, QMenu, QPushButton
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.cloths import add_cloth
from coverlayout.document.file import load, save
from coverlayout.document.project import Project
from coverlayout.document.session import Pictures, Session
from coverlayout.ui.files import start_card
from coverlayout.ui.files.keeping import Keeping
from coverlayout.ui.files.recent import RecentProjects
from coverlayout.ui.files.start_card import StartCard, demo_project
from coverlayout.ui.look import Look
from coverlayout.ui.menus import Menus
from coverlayout.ui.theme import DARK
from coverlayout.ui.window import Window

TIDES = Project(name="Tide tables & ebb", cloths=(Cloth("cloth-1", "Cloth", 300.0, 200.0),))


@pytest.fixture
def recent(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> RecentProjects:
    """A list of its own for every test."""
    found = RecentProjects(tmp_path / "settings", tmp_path / "pictures")
    monkeypatch.setattr("coverlayout.ui.files.keeping.RecentProjects", lambda: found)
    return found


@pytest.fixture
def window(
    qtbot: QtBot, session: Session, port, look: Look, recent: RecentProjects, tmp_path: Path
) -> Iterator[Window]:
    for name in ("herons", "tides", "gone"):
        save(tmp_path / f"{name}.coverlayout", TIDES, Pictures())
        recent.remember(tmp_path / f"{name}.coverlayout", name)
    (tmp_path / "gone.coverlayout").unlink()
    window = Window(session, port, look)
    qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
    window.resize(1200, 800)
    window.show()
    yield window
    window.keeping.leave()


@pytest.fixture
def card(window: Window) -> StartCard:
    return window.start


@pytest.fixture
def keeping(window: Window) -> Keeping:
    return window.keeping


def test_an_empty_window_offers_ways_to_begin(card: StartCard, window: Window) -> None:
    assert card.isVisible()
    assert card.parentWidget().rect().contains(card.geometry())
    assert window.canvas.geometry().contains(card.geometry())
    assert [row.text().partition("\n")[0] for row in card.rows] == ["gone", "tides", "herons"]
    assert [row.isEnabled() for row in card.rows] == [False, True, True]
    assert card.rows[0].text().startswith("gone\nNot where it was")
    assert card.rows[0].accessibleName() == "gone, Not where it was"
    assert "tides.coverlayout" in card.rows[1].toolTip()


def test_the_card_goes_with_the_first_thing_there_is_and_comes_back(
    card: StartCard, keeping: Keeping, session: Session
) -> None:
    session.do(add_cloth(Cloth("", "Mine", 100.0, 100.0)))
    assert card.isHidden()
    session.undo()
    assert card.isVisible()


def test_a_project_of_the_last_days_opens(
    qtbot: QtBot, card: StartCard, keeping: Keeping, session: Session, recent: RecentProjects, tmp_path: Path
) -> None:
    card.rows[2].click()
    assert session.path == tmp_path / "herons.coverlayout"
    assert card.isHidden()
    # It is the newest now.
    keeping._draw_soon.flush()
    qtbot.waitUntil(lambda: recent.all()[0].path == tmp_path / "herons.coverlayout")


def test_a_missing_project_can_be_taken_off_the_list(card: StartCard, recent: RecentProjects) -> None:
    off = next(each for each in card.findChildren(QPushButton) if each.text() == "Take off the list")
    off.click()
    assert [each.name for each in recent.all()] == ["tides", "herons"]
    assert len(card.rows) == 2


def test_what_was_opened_has_its_picture_the_next_time(
    qtbot: QtBot, card: StartCard, keeping: Keeping, recent: RecentProjects, tmp_path: Path
) -> None:
    path = tmp_path / "tides.coverlayout"
    keeping.open_path(path)
    assert keeping._draw_soon.waiting
    keeping._draw_soon.flush()
    qtbot.waitUntil(lambda: recent.picture_of(path).is_file() and keeping.beside._thread is None)
    keeping.new()
    assert card.isVisible()
    assert not card.rows[0].icon().isNull()


def test_a_window_closed_at_once_remembers_what_it_opened(
    keeping: Keeping, recent: RecentProjects, tmp_path: Path
) -> None:
    keeping.open_path(tmp_path / "herons.coverlayout")
    keeping.leave()
    assert recent.all()[0].path == tmp_path / "herons.coverlayout"


def test_the_demo_opens_as_a_project_of_its_own(card: StartCard, session: Session) -> None:
    demo = demo_project()
    assert demo is not None
    before = demo.read_bytes()
    assert card.demo is not None
    card.demo.click()
    assert session.project == load(demo).project
    assert session.path is None, "saving asks where, so the sample stays as it is"
    assert not session.unsaved
    assert demo.read_bytes() == before


def test_the_other_buttons_lead_to_the_dialogs(
    card: StartCard, session: Session, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *words: (str(tmp_path / "tides.coverlayout"), ""))
    card.project.click()
    assert session.project.name == TIDES.name


def test_a_low_window_lists_fewer_and_a_look_changes_it(card: StartCard, window: Window) -> None:
    window.resize(960, 600)
    card._over.resize(600, 360)
    card.fit()
    assert len(card.rows) < 3
    assert card._over.rect().contains(card.geometry())
    card.dress(DARK)
    corner = card.grab().toImage().pixelColor(30, 6)
    assert corner.name().upper() == DARK.panel


def test_without_samples_there_is_no_demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(start_card.coverlayout, "__file__", str(tmp_path / "lib" / "coverlayout" / "__init__.py"))
    assert demo_project() is None


def recent_menu(menus: Menus) -> QMenu:
    """The menu as it is when the maker opens it."""
    menu = next(each for each in menus.findChildren(QMenu) if each.title() == "Open recent")
    menu.aboutToShow.emit()
    return menu


def test_the_menu_lists_them_too(window: Window, recent: RecentProjects, session: Session, tmp_path: Path) -> None:
    menu = recent_menu(window.menus)
    words = [action.text().split()[0] for action in menu.actions() if action.text()]
    assert words == ["gone", "tides", "herons", "Take"]
    assert [action.isEnabled() for action in menu.actions() if action.text()] == [False, True, True, True]
    assert menu.actions()[0].toolTip().startswith("gone.coverlayout is not in ")
    menu.actions()[-1].trigger()
    assert [each.name for each in recent.all()] == ["tides", "herons"]
    recent_menu(window.menus).actions()[1].trigger()
    assert session.path == tmp_path / "herons.coverlayout"


def test_the_menu_of_a_newcomer_says_that_there_are_none(window: Window, recent: RecentProjects) -> None:
    for each in recent.all():
        recent.forget(each.path)
    (none,) = recent_menu(window.menus).actions()
    assert (none.text(), none.isEnabled(), none.toolTip()) == ("None yet", False, "No project was opened or saved yet.")


def test_only_the_card_says_what_to_do_first(window: Window, card: StartCard, qtbot: QtBot) -> None:
    qtbot.waitUntil(card.isVisible)
    assert not window.canvas.says_empty
    window.session.mark_saved(Path("somewhere.coverlayout"))
    card.look()
    assert card.isHidden()
    assert window.canvas.says_empty


def test_the_cards_buttons_have_their_words_whole(card: StartCard, qtbot: QtBot) -> None:
    qtbot.waitUntil(card.isVisible)
    for each in (card.picture, card.project, card.demo):
        assert each is None or each.width() >= each.sizeHint().width()


def test_rulers_of_an_empty_table_tell_nothing(window: Window, card: StartCard) -> None:
    picture = window.canvas.grab().toImage()
    shades = {picture.pixelColor(x, y).name() for x in range(2, picture.width(), 3) for y in (4, 12, 20)}
    assert shades == {window.canvas._theme.color("panel").name()}
