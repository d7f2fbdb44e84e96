"""True size: matched with a card by mouse and keys, remembered for each screen, and said where it is a guess."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import cast

import pytest
from canvas_samples import job, session_of
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QScreen
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from coverlayout.document.recovery import Keeper
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.dialogs.card import CARD_MM, CardDialog, most_dpi
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.look import Look
from coverlayout.ui.seeing.true_size import TrueSize, guessed_px_per_mm
from coverlayout.ui.theme import LIGHT
from coverlayout.ui.window import Window

Given = list[tuple[float, QScreen]]


@dataclass(frozen=True)
class Screen:
    """A screen that says of itself what a test wants."""

    name_: str
    dpi: float

    def size(self) -> QSize:
        return QSize(1600, 1000)

    def manufacturer(self) -> str:
        return "Maker"

    def model(self) -> str:
        return self.name_

    def serialNumber(self) -> str:
        return ""

    def name(self) -> str:
        return self.name_

    def devicePixelRatio(self) -> float:
        return 1.0

    def physicalDotsPerInch(self) -> float:
        return self.dpi

    def logicalDotsPerInch(self) -> float:
        return 96.0


def screen(name: str, dpi: float) -> QScreen:
    return cast(QScreen, Screen(name, dpi))


@pytest.fixture
def canvas(qtbot: QtBot) -> Canvas:
    canvas = Canvas(session_of(job()), LIGHT, px_per_mm=4.0)
    qtbot.addWidget(canvas)
    canvas.resize(900, 640)
    with qtbot.waitExposed(canvas):
        canvas.show()
    return canvas


@pytest.mark.parametrize(
    ("physical", "shown"), [(110.0, 110.0), (50.0, 50.0), (350.0, 350.0), (12.0, 96.0), (900.0, 96.0), (0.0, 96.0)]
)
def test_what_a_screen_says_is_believed_within_reason(physical: float, shown: float) -> None:
    assert guessed_px_per_mm(physical, 96.0) * 25.4 == pytest.approx(shown)


def test_a_guess_that_is_no_number_is_not_believed() -> None:
    assert guessed_px_per_mm(float("nan"), 96.0) * 25.4 == pytest.approx(96.0)
    assert guessed_px_per_mm(float("inf"), 96.0) * 25.4 == pytest.approx(96.0)


def test_each_screen_has_its_own_figure(canvas: Canvas, tmp_path: Path, qtbot: QtBot) -> None:
    remembered = Remembered(tmp_path)
    true_size = TrueSize(canvas, remembered, canvas)
    left, right = screen("left", 101.6), screen("right", 127.0)
    true_size.take(left)
    assert not true_size.matched
    canvas.sight.true_size()
    assert canvas.view.px_per_mm == pytest.approx(4.0)
    remembered.remember_px_per_mm(right, 6.25)
    with qtbot.waitSignal(true_size.changed):
        true_size.take(right)
    assert true_size.matched
    assert canvas.sight.percent_of_true_size == pytest.approx(64.0), "the view stays, the figure is another"
    canvas.sight.true_size()
    assert canvas.view.px_per_mm == pytest.approx(6.25)
    true_size.take(left)
    assert not true_size.matched
    assert canvas.sight.percent_of_true_size == pytest.approx(156.25)


def test_a_match_is_kept_for_the_screen_the_card_was_held_to(canvas: Canvas, tmp_path: Path) -> None:
    true_size = TrueSize(canvas, Remembered(tmp_path), canvas)
    true_size.follow()
    true_size.follow()
    other = screen("other", 96.0)
    true_size.match(5.5, other)
    assert not true_size.matched, "the window is on another screen"
    assert Remembered(tmp_path).px_per_mm(other) == pytest.approx(5.5)
    true_size.match(4.5, canvas.screen())
    assert true_size.matched
    canvas.sight.true_size()
    assert canvas.view.px_per_mm == pytest.approx(4.5)


def test_moving_the_window_takes_the_other_screens_figure(canvas: Canvas, tmp_path: Path) -> None:
    true_size = TrueSize(canvas, Remembered(tmp_path), canvas)
    true_size.follow()
    handle = canvas.windowHandle()
    true_size.match(4.5, canvas.screen())
    canvas.sight.set_px_per_mm(9.0)
    handle.screenChanged.emit(canvas.screen())
    canvas.sight.true_size()
    assert canvas.view.px_per_mm == pytest.approx(4.5)


@pytest.fixture
def given() -> Given:
    return []


@pytest.fixture
def card(qtbot: QtBot, canvas: Canvas, given: Given) -> CardDialog:
    dialog = CardDialog(100 / 25.4, lambda px_per_mm, where: given.append((px_per_mm, where)), canvas)
    qtbot.addWidget(dialog)
    with qtbot.waitExposed(dialog):
        dialog.show()
    dialog.activateWindow()
    qtbot.waitUntil(dialog.slider.hasFocus)
    return dialog


def test_by_keys_in_fine_and_broad_steps(card: CardDialog, given: Given, canvas: Canvas) -> None:
    for key, dpi in (
        (Qt.Key.Key_Right, 100.25),
        (Qt.Key.Key_Up, 100.5),
        (Qt.Key.Key_Left, 100.25),
        (Qt.Key.Key_PageUp, 105.25),
        (Qt.Key.Key_PageDown, 100.25),
        (Qt.Key.Key_Home, 50.0),
    ):
        QTest.keyClick(card.slider, key)
        assert card.px_per_mm * 25.4 == pytest.approx(dpi), key
        assert card.figure.text() == f"{dpi:.2f} dots to the inch"
    card.slider.setValue(112 * 4)
    QTest.keyClick(card, Qt.Key.Key_Return)
    assert given == [(pytest.approx(112 / 25.4), canvas.screen())]
    assert card.isHidden()


def test_a_fine_step_moves_the_edge_by_less_than_a_pixel(card: CardDialog) -> None:
    before = card.px_per_mm
    QTest.keyClick(card.slider, Qt.Key.Key_Right)
    assert 0 < (card.px_per_mm - before) * CARD_MM[0] < 1.0


def test_given_up_nothing_is_matched(card: CardDialog, given: Given) -> None:
    QTest.keyClick(card.slider, Qt.Key.Key_Right)
    QTest.keyClick(card, Qt.Key.Key_Escape)
    assert given == []


def test_the_drawn_card_is_as_large_as_it_says(card: CardDialog) -> None:
    for dpi in (80, 120):
        card.slider.setValue(dpi * 4)
        image = card.card.grab().toImage()
        row, width = image.height() // 4, CARD_MM[0] * dpi / 25.4
        ground = image.pixel(image.width() - 1, image.height() - 1)
        inside = [x for x in range(image.width()) if image.pixel(x, row) != ground]
        assert (inside[0], inside[-1] + 1) == (0, pytest.approx(width, abs=1.0))
        column = [y for y in range(image.height()) if image.pixel(round(width / 2), y) != ground]
        assert (column[0], column[-1] + 1) == (0, pytest.approx(CARD_MM[1] * dpi / 25.4, abs=1.0))


def test_the_card_is_never_larger_than_the_screen() -> None:
    assert most_dpi(QSize(1280, 800)) * CARD_MM[1] / 25.4 < 800
    assert most_dpi(QSize(800, 600)) * CARD_MM[0] / 25.4 < 800
    assert most_dpi(QSize(100, 100)) == 50
    assert most_dpi(QSize(8000, 8000)) == 350


def test_the_window_says_that_true_size_is_a_guess(
    qtbot: QtBot, port: QWidget, look: Look, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = session_of(job())
    window = Window(session, port, look, keeper=Keeper(tmp_path / "kept"), remembered=Remembered(tmp_path / "set"))
    qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
    with qtbot.waitExposed(window):
        window.show()
    menus = window.menus
    assert window.header.zoom.text().startswith("≈ ")
    assert "no card was held to it yet" in window.header.zoom.toolTip()
    words_now = menus.acts["true-size"].words_now
    assert words_now is not None
    assert words_now() == "True size (a guess on this screen)"
    window.header.zoom.click()
    assert window.header.zoom.text() == "≈ 100 %"
    assert "no card was held to it yet" in window.banner.sentence.text()
    window.true_size.match(5.0, window.screen())
    assert window.header.zoom.text() == f"{100 * window.canvas.view.px_per_mm / 5.0:.0f} %"
    assert words_now() == "True size"
    window.banner.clear()
    menus.do("true-size")
    assert window.banner.isHidden()
    assert window.header.zoom.text() == "100 %"
