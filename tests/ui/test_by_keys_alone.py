"""A job done by keys alone, in the real window: no mouse, and no method of the program called."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from coverlayout.document.recovery import Keeper
from coverlayout.document.session import Session
from coverlayout.layout.lay import lay
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.keyboard.finder import Finder
from coverlayout.ui.look import Look
from coverlayout.ui.window import Window

Key, With = Qt.Key, Qt.KeyboardModifier


@pytest.fixture
def window(qtbot: QtBot, session: Session, port, look: Look, tmp_path: Path) -> Window:
    window = Window(session, port, look, keeper=Keeper(tmp_path / "kept"), remembered=Remembered(tmp_path / "set"))
    qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
    window.resize(1280, 800)
    with qtbot.waitExposed(window):
        window.show()
    window.activateWindow()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is window)
    window.asking.begin()
    return window


def press(key: Qt.Key, modifiers: Qt.KeyboardModifier = With.NoModifier, times: int = 1) -> None:
    """A key, to whatever has the keys now."""
    for _ in range(times):
        QTest.keyClick(QApplication.focusWidget() or QApplication.activeWindow(), key, modifiers)
        QApplication.processEvents()


def type_in(text: str) -> None:
    """Letters into the field that has the keys."""
    line = QApplication.focusWidget()
    assert isinstance(line, QLineEdit)
    press(Key.Key_A, With.ControlModifier)
    QTest.keyClicks(line, text)


def go_to(name: str) -> None:
    """Tab until the control of that name has the keys."""
    for _ in range(80):
        now = QApplication.focusWidget()
        if now is not None and name in (now.accessibleName(), getattr(now, "text", lambda: "")()):
            return
        press(Key.Key_Tab)
    raise AssertionError(f"Tab leads to no {name}")


def search(qtbot: QtBot, words: str) -> Finder:
    """Open the list of all actions and say what is wanted."""
    press(Key.Key_F, With.ControlModifier)
    qtbot.waitUntil(lambda: isinstance(QApplication.activeWindow(), Finder))
    qtbot.waitUntil(lambda: isinstance(QApplication.focusWidget(), QLineEdit))
    QTest.keyClicks(QApplication.focusWidget(), words)
    finder = QApplication.activeWindow()
    assert isinstance(finder, Finder)
    return finder


def find(qtbot: QtBot, window: Window, words: str) -> None:
    """Do the first action that words lead to; the keys come back to the cloth."""
    search(qtbot, words)
    press(Key.Key_Return)
    qtbot.waitUntil(lambda: QApplication.activeWindow() is window)
    qtbot.waitUntil(window.canvas.hasFocus)


def test_a_book_is_sized_laid_moved_turned_and_found_by_keys(
    qtbot: QtBot, window: Window, session: Session, port
) -> None:
    # The cloth: step 2, its size typed.
    press(Key.Key_2, With.AltModifier)
    go_to("Width × length")
    type_in("600 x 500 mm")
    press(Key.Key_Return)
    assert [(cloth.width_mm, cloth.length_mm) for cloth in session.project.cloths] == [(600.0, 500.0)]
    # The book: step 3, its pages typed. With no print a piece may lie either way up.
    press(Key.Key_3, With.AltModifier)
    go_to("Width × height")
    type_in("100 x 140 mm")
    press(Key.Key_Return)
    assert session.project.books[0].page_mm == (100.0, 140.0)
    # Laid out by the button in the line at the top, reached with F6 and Tab; Return takes what is proposed.
    press(Key.Key_F6, With.ShiftModifier)
    go_to("Lay out for me")
    press(Key.Key_Space)
    question = port.asked[-1][2]
    port.tell("done", lay(question))
    press(Key.Key_Return)
    laid = session.project.layout.placements
    assert len(laid) == 4
    # To the cloth, the first piece, ten millimetres and one back, then turned.
    while not window.canvas.hasFocus():
        press(Key.Key_F6)
    press(Key.Key_Tab)
    (chosen,) = window.canvas.chosen
    before = session.project.layout.place_of(chosen)
    assert before is not None
    press(Key.Key_Right, With.ShiftModifier)
    press(Key.Key_Left)
    moved = session.project.layout.place_of(chosen)
    assert moved is not None
    assert (moved.x_mm, moved.y_mm) == (pytest.approx(before.x_mm + 9.0), before.y_mm)
    press(Key.Key_R)
    turned = session.project.layout.place_of(chosen)
    assert turned is not None
    assert turned.turn_deg == (before.turn_deg + 180.0) % 360.0
    # The back of the cloth by its own key, the print side by words.
    press(Key.Key_B, With.ControlModifier)
    assert session.project.preferences.side == "back"
    find(qtbot, window, "flip fabric")
    assert session.project.preferences.side == "print"
    # Undo, by words and by key: the turn, and the two steps of moving. The side looked at is no step.
    find(qtbot, window, "undo")
    assert session.project.layout.place_of(chosen) == moved
    press(Key.Key_Z, With.ControlModifier, times=2)
    assert session.project.layout.placements == laid
    assert session.project.preferences.side == "print"
    assert window.canvas.hasFocus()


def test_the_list_of_actions_is_worked_by_keys(qtbot: QtBot, window: Window, session: Session) -> None:
    find(qtbot, window, "dark look")
    assert window.look_chosen == 2
    finder = search(qtbot, "")
    every = finder.table.rowCount()
    assert every == len(list(window.menus.every()))
    QTest.keyClicks(finder.field, "turn")
    assert 2 <= finder.table.rowCount() < every
    assert finder.table.item(0, 0).text() == "Turn"
    assert (finder.table.item(0, 1).text(), finder.table.item(0, 2).text()) == ("Pieces", "R")
    # Nothing is chosen on the cloth: it says why not, and stays.
    assert finder.foot.text().startswith("Not now: Choose a piece first")
    assert finder.table.item(0, 0).font().italic()
    assert "Not now" in finder.field.accessibleDescription()
    press(Key.Key_Return)
    assert finder.isVisible()
    press(Key.Key_Down)
    assert finder.table.currentRow() == 1
    press(Key.Key_PageUp)
    assert finder.table.currentRow() == 0
    QTest.keyClicks(finder.field, " xylophone")
    assert finder.table.rowCount() == 0
    assert finder.count.text().startswith("Nothing is called that")
    assert finder.foot.text() == ""
    press(Key.Key_Down)
    press(Key.Key_Return)
    press(Key.Key_Escape)
    qtbot.waitUntil(window.canvas.hasFocus)
    assert session.undo_name is None


def test_the_page_of_keys_is_made_from_the_actions(qtbot: QtBot, window: Window) -> None:
    finder = search(qtbot, "all keys")
    press(Key.Key_Return)
    qtbot.waitUntil(
        lambda: isinstance(QApplication.activeWindow(), Finder) and QApplication.activeWindow() is not finder
    )
    page = QApplication.activeWindow()
    assert isinstance(page, Finder)
    assert page.windowTitle() == "All keys"
    table = page.table
    shown = {table.item(row, 0).text(): table.item(row, 2).text() for row in range(table.rowCount())}
    assert all(shown.values())
    assert shown["Move to the left"] == "←"
    assert shown["Show everything"] == "Ctrl+0, F"
    assert set(shown) == {
        (act.words_now or (lambda act=act: act.words))() for _, act in window.menus.every() if act.keys_told
    }
    press(Key.Key_Escape)
    qtbot.waitUntil(window.canvas.hasFocus)
