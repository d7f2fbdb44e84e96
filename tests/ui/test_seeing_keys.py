"""The keys of seeing in the real window: one letter each on the canvas, also while a task is under way."""

from __future__ import annotations

from pathlib import Path

import pytest
from canvas_samples import job, session_of
from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.document.project import Project
from coverlayout.document.recovery import Keeper
from coverlayout.errors import sentence
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.look import Look
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.seeing.loupe import STRENGTHS
from coverlayout.ui.tasks.measuring import Measuring
from coverlayout.ui.tasks.window_template import WindowTemplate
from coverlayout.ui.window import Window

Key = Qt.Key


@pytest.fixture
def window(qtbot: QtBot, port: QObject, look: Look, tmp_path: Path) -> Window:
    session = session_of(job())
    window = Window(session, port, look, keeper=Keeper(tmp_path / "kept"), remembered=Remembered(tmp_path / "set"))
    qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
    window.resize(1280, 800)
    with qtbot.waitExposed(window):
        window.show()
    window.activateWindow()
    window.canvas.setFocus()
    qtbot.waitUntil(window.canvas.hasFocus)
    return window


def press(window: Window, key: Qt.Key, modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    QTest.keyClick(window.canvas, key, modifiers)
    QApplication.processEvents()


def side(window: Window) -> str:
    return window.session.project.preferences.side


def test_each_has_its_letter(window: Window) -> None:
    canvas = window.canvas
    press(window, Key.Key_M)
    assert isinstance(canvas.work.task, Measuring)
    assert window.strip.isVisible()
    assert window.strip.guide.text().startswith("Press at one end")
    press(window, Key.Key_Escape)
    assert canvas.work.task is None
    press(window, Key.Key_W)
    assert isinstance(canvas.work.task, WindowTemplate)
    press(window, Key.Key_Escape)
    press(window, Key.Key_O)
    assert canvas.shown.covers_only
    press(window, Key.Key_O)
    assert not canvas.shown.covers_only
    press(window, Key.Key_B)
    assert side(window) == "back"
    press(window, Key.Key_B)
    assert side(window) == "print"


def test_the_loupe_by_keys(window: Window) -> None:
    press(window, Key.Key_L, Qt.KeyboardModifier.ShiftModifier)
    assert window.banner.sentence.text() == sentence("loupe-not-held", {})
    press(window, Key.Key_L)
    assert window.loupe.on
    assert window.menus.action("loupe").isChecked()
    strength = window.loupe.strength
    press(window, Key.Key_L, Qt.KeyboardModifier.ShiftModifier)
    assert window.loupe.strength == STRENGTHS[STRENGTHS.index(strength) + 1]
    press(window, Key.Key_L)
    assert not window.loupe.on


def test_during_a_task_one_still_looks_as_one_likes(window: Window) -> None:
    canvas = window.canvas
    press(window, Key.Key_M)
    task = canvas.work.task
    press(window, Key.Key_B)
    press(window, Key.Key_L)
    press(window, Key.Key_O)
    assert (side(window), window.loupe.on, canvas.shown.covers_only) == ("back", True, True)
    assert canvas.work.task is task
    # Below the words of the task, not behind them.
    assert window.loupe.geometry().top() >= canvas.work.covered_px > RULER_PX
    press(window, Key.Key_L)
    press(window, Key.Key_O)


def test_without_cloth_a_template_says_what_is_missing(window: Window) -> None:
    window.session.replace_all(Project(), window.session.pictures, None)
    window.menus.do("window-template")
    assert window.canvas.work.task is None
    assert window.banner.sentence.text() == sentence("window-no-cloth", {})


def accents(window: Window, top: float, bottom: float) -> int:
    """How many pixels of the accent are seen at the right of the canvas, between two heights."""
    image = window.canvas.grab().toImage()
    wanted = QColor(window.look.theme.accent).rgb()
    columns = range(image.width() - 300, image.width() - 12)
    return sum(image.pixel(x, y) == wanted for y in range(round(top), round(bottom), 2) for x in columns)


def test_the_back_is_said_on_the_canvas_and_never_hidden_by_a_task(window: Window) -> None:
    canvas = window.canvas
    assert accents(window, RULER_PX + 4, RULER_PX + 44) == 0
    press(window, Key.Key_B)
    assert accents(window, RULER_PX + 4, RULER_PX + 44) > 500
    press(window, Key.Key_M)
    below = canvas.work.covered_px
    assert accents(window, below + 4, below + 44) > 500
    press(window, Key.Key_Escape)
    assert canvas.work.covered_px == RULER_PX
    assert accents(window, RULER_PX + 4, RULER_PX + 44) > 500
    press(window, Key.Key_B)
    assert accents(window, RULER_PX + 4, RULER_PX + 44) == 0


def type_place(window: Window, text: str) -> None:
    """A digit opens the field, the rest goes into it."""
    press(window, Key(ord(text[0])))
    QTest.keyClicks(window.strip.place, text[1:])
    QTest.keyClick(window.strip.place, Key.Key_Return)
    QApplication.processEvents()


def test_typed_places_are_meant_as_they_are(window: Window) -> None:
    """Near a corner too, where a press would catch."""
    press(window, Key.Key_M)
    type_place(window, "3, 4")
    type_place(window, "103, 4")
    task = window.canvas.work.task
    assert isinstance(task, Measuring)
    assert task.measure is not None
    assert task.measure.start_mm == (3.0, 4.0)
    assert task.measure.length_mm == pytest.approx(100.0)


@pytest.mark.parametrize("seen", ["print", "back"])
def test_a_typed_place_is_where_the_holes_corner_comes(window: Window, seen: str) -> None:
    if seen == "back":
        press(window, Key.Key_B)
    window.canvas.choose(("front-1",))
    press(window, Key.Key_W)
    type_place(window, "60, 45.5")
    task = window.canvas.work.task
    assert isinstance(task, WindowTemplate)
    assert task.template.from_edges(window.canvas.bench) == pytest.approx((60.0, 45.5))


def test_letters_typed_in_a_field_stay_letters(window: Window, qtbot: QtBot) -> None:
    field = window.panels.placement.gap.line
    field.setFocus()
    qtbot.waitUntil(field.hasFocus)
    for key in (Key.Key_M, Key.Key_L, Key.Key_O, Key.Key_B, Key.Key_W):
        QTest.keyClick(field, key)
    assert window.canvas.work.task is None
    assert not window.loupe.on
    assert side(window) == "print"
    field.clear()
