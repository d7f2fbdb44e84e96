"""The loupe shows the place under the pointer larger and sharp, from either side, and goes where the hand goes."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
import numpy.typing as npt
import pytest
from canvas_samples import job, printed, session_of, with_side
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.document.edits.placements import move_by
from coverlayout.document.project import Project
from coverlayout.geometry.frames import Point
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.seeing.looking_through import look_through
from coverlayout.ui.seeing.loupe import STRENGTHS, Loupe
from coverlayout.ui.tasks.measuring import Measuring
from coverlayout.ui.theme import LIGHT

Open = Callable[[Project], Loupe]
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def held(qtbot: QtBot) -> Iterator[Open]:
    """Opens a canvas with the loupe taken up."""
    made: list[Loupe] = []

    def open_one(project: Project) -> Loupe:
        canvas = Canvas(session_of(project), LIGHT)
        qtbot.addWidget(canvas)
        canvas.resize(900, 640)
        with qtbot.waitExposed(canvas):
            canvas.show()
        loupe = Loupe(canvas)
        loupe.toggle()
        made.append(loupe)
        return loupe

    yield open_one
    for loupe in made:
        if loupe.on:
            loupe.toggle()


def settle() -> None:
    """Long enough for the glass to have followed: it does so as often as a screen shows a picture."""
    QTest.qWait(40)


def canvas_of(loupe: Loupe) -> Canvas:
    return loupe._canvas


def point(loupe: Loupe, at_mm: Point) -> Point:
    """Move the pointer to a place of the first cloth; the pixel it is on."""
    canvas = canvas_of(loupe)
    x, y = canvas.bench.sheets[0].to_table.then(canvas.view.to_screen).at(at_mm)
    # A pointer that is there already would not be heard of.
    QTest.mouseMove(canvas, QPoint(round(x) + 9, round(y) + 7))
    QTest.mouseMove(canvas, QPoint(round(x), round(y)))
    settle()
    return round(x), round(y)


def glass(loupe: Loupe) -> QImage:
    return loupe.grab().toImage()


def expected(loupe: Loupe, at_px: Point, off_px: Point) -> str | None:
    """The print so many pixels off the middle of the glass, by arithmetic; None where two colours meet."""
    canvas = canvas_of(loupe)
    per_mm = canvas.view.px_per_mm * loupe.strength
    x, y = canvas.view.mm_at(at_px)
    x, y = canvas.bench.sheets[0].from_table.at((x + off_px[0] / per_mm, y + off_px[1] / per_mm))
    around = {printed((x + dx, y + dy)) for dx in (-0.8, 0.8) for dy in (-0.8, 0.8)}
    return around.pop() if len(around) == 1 else None


def levels(image: QImage) -> npt.NDArray[np.int16]:
    plain = image.convertToFormat(QImage.Format.Format_RGB32)
    seen = np.frombuffer(plain.constBits(), np.uint8).reshape(plain.height(), plain.width(), 4)
    return seen[..., :3].astype(np.int16)


def share_unlike(first: npt.NDArray[np.int16], second: npt.NDArray[np.int16]) -> float:
    """The share of pixels that differ by more than rounding; dashes may begin elsewhere where a line is cut off."""
    return float((np.abs(first - second).max(axis=2) > 2).mean())


# Beside the cross at the middle and clear of the figure at the foot.
OFFSETS = [(x, y) for x in (-66, -44, -22, 22, 44, 66) for y in (-44, -26, -10, 10, 26)]


@pytest.mark.parametrize("side", ["print", "back"])
@pytest.mark.parametrize("place", [(92.0, 82.0), (82.0, 70.0), (134.0, 130.0), (276.0, 150.0)])
def test_it_shows_the_print_under_the_pointer(held: Open, side: str, place: Point) -> None:
    loupe = held(with_side(job(), side))
    at = point(loupe, place)
    image = glass(loupe)
    middle = loupe.width() / 2
    told = {offset: color for offset in OFFSETS if (color := expected(loupe, at, offset)) is not None}
    seen = {(x, y): QColor(image.pixel(round(middle + x), round(middle + y))).name() for x, y in told}
    assert seen == told
    assert len(told) > len(OFFSETS) / 2
    assert len(set(told.values())) > 1, "a place where only one colour is seen tells nothing"


def test_it_is_sharp_and_not_the_screen_enlarged(held: Open) -> None:
    loupe = held(job())
    # The left edge of a red corner: column 1 begins at 84 mm across, red from 58 to 88 down.
    at = point(loupe, (84.0, 75.0))
    loupe.set_strength(8.0)
    image = glass(loupe)
    row = round(loupe.height() / 2) + 30
    x_mm = canvas_of(loupe).view.mm_at(at)[0]
    edge = loupe.width() / 2 + (84.0 - x_mm) * canvas_of(loupe).view.px_per_mm * 8.0
    reds = [QColor(image.pixel(x, row)).name() == "#c8281e" for x in range(20, loupe.width() - 20)]
    first = 20 + reds.index(True)
    # Bilinear drawing softens an edge over one pixel of the tile (1 mm), half of it to each side.
    assert first == pytest.approx(edge, abs=0.6 * canvas_of(loupe).view.px_per_mm * 8.0)
    assert all(reds[first - 20 : first - 20 + 20])


def test_a_step_of_the_pointer_gives_the_picture_painted_whole(held: Open) -> None:
    loupe = held(job())
    for place in ((60.0, 60.0), (63.0, 61.0), (90.0, 66.0), (250.0, 150.0), (230.0, 120.0), (28.0, 25.0)):
        point(loupe, place)
        stepwise = levels(glass(loupe))
        loupe._painted = ()
        loupe.follow()
        assert share_unlike(levels(glass(loupe)), stepwise) < 0.02


def test_it_lies_beside_the_pointer_and_wholly_on_the_canvas(held: Open) -> None:
    loupe = held(job())
    canvas = canvas_of(loupe)
    for at in ((450, 320), (40, 40), (890, 40), (890, 630), (40, 630)):
        QTest.mouseMove(canvas, QPoint(*at))
        settle()
        assert canvas.rect().contains(loupe.geometry())
        middle = loupe.geometry().center()
        away = ((middle.x() - at[0]) ** 2 + (middle.y() - at[1]) ** 2) ** 0.5
        assert away > loupe.width() / 2, "the hand covers nothing"


def wheel(canvas: Canvas, by: int, modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    at = QPointF(300, 300)
    event = QWheelEvent(
        at,
        canvas.mapToGlobal(at),
        QPoint(),
        QPoint(0, by),
        Qt.MouseButton.NoButton,
        modifiers,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(canvas, event)


def test_the_wheel_makes_it_stronger_and_with_ctrl_zooms_the_table(held: Open, qtbot: QtBot) -> None:
    loupe = held(job())
    canvas = canvas_of(loupe)
    size = canvas.view.px_per_mm
    wheel(canvas, 120)
    assert (loupe.strength, canvas.view.px_per_mm) == (6.0, size)
    for _ in range(9):
        wheel(canvas, 120)
    assert loupe.strength == STRENGTHS[-1]
    for _ in range(9):
        wheel(canvas, -120)
    assert loupe.strength == STRENGTHS[0]
    wheel(canvas, 120, Qt.KeyboardModifier.ControlModifier)
    assert canvas.view.px_per_mm > size
    loupe.toggle()
    size = canvas.view.px_per_mm
    wheel(canvas, 120)
    assert canvas.view.px_per_mm > size
    assert loupe.strength == STRENGTHS[0]
    qtbot.waitUntil(lambda: not canvas.sight.moving)


def test_by_key_it_goes_round_the_strengths(held: Open) -> None:
    loupe = held(job())
    seen = [loupe.strength]
    for _ in STRENGTHS:
        loupe.next_strength()
        seen.append(loupe.strength)
    assert seen[0] == seen[-1] == 4.0
    assert set(seen) == set(STRENGTHS)


def test_it_follows_the_crosshair_and_the_chosen_piece(held: Open) -> None:
    loupe = held(job())
    canvas = canvas_of(loupe)
    point(loupe, (300.0, 200.0))
    canvas.choose(("front-1",))
    QTest.keyClick(canvas, Qt.Key.Key_Left)
    assert loupe.at_px == pytest.approx(canvas.view.to_screen.at((99.0, 116.0)), abs=1.0)
    canvas.work.begin(Measuring(canvas))
    canvas.work.show_crosshair((200.0, 100.0))
    QTest.keyClick(canvas, Qt.Key.Key_Right)
    assert loupe.at_px == pytest.approx(canvas.view.to_screen.at((201.0, 100.0)))
    point(loupe, (320.0, 210.0))
    assert loupe.at_px == pytest.approx(canvas.view.to_screen.at((320.0, 210.0)), abs=1.0)
    canvas.work.leave()


def test_what_changes_on_the_table_changes_in_the_glass(held: Open) -> None:
    loupe = held(job())
    canvas = canvas_of(loupe)
    # A place in a turn-in: pale now, veiled cloth when the piece is gone from there.
    at = point(loupe, (35.0, 100.0))
    before = levels(glass(loupe))
    canvas._session.do(move_by(("front-1",), 20.0, 40.0))
    settle()
    assert share_unlike(levels(glass(loupe)), before) > 0.1
    canvas._session.undo()
    settle()
    assert loupe.at_px == at
    assert share_unlike(levels(glass(loupe)), before) < 0.02


def test_a_piece_that_is_carried_is_seen_in_it(held: Open) -> None:
    loupe = held(job())
    canvas = canvas_of(loupe)
    canvas.hand.snapping = False
    start = QPoint(*map(round, canvas.view.to_screen.at((100.0, 150.0))))
    QTest.mousePress(canvas, LEFT, pos=start)
    for step in (10, 30, 60):
        QTest.mouseMove(canvas, start + QPoint(step, step))
        settle()
    # The pointer holds a place on the board: bright print, where the cloth beside is veiled.
    image, middle = glass(loupe), round(loupe.width() / 2)
    at = (start.x() + 60, start.y() + 60)
    told = {offset: color for offset in ((30, 30), (-30, 30), (40, -20)) if (color := expected(loupe, at, offset))}
    assert told
    assert {(x, y): QColor(image.pixel(middle + x, middle + y)).name() for x, y in told} == told
    QTest.keyClick(canvas, Qt.Key.Key_Escape)
    QTest.mouseRelease(canvas, LEFT, pos=start)


def test_put_away_it_is_gone(held: Open) -> None:
    loupe = held(job())
    assert loupe.on
    loupe.toggle()
    assert not loupe.on
    canvas = canvas_of(loupe)
    QTest.mouseMove(canvas, QPoint(300, 300))
    QApplication.processEvents()
    assert not loupe.on


def test_through_a_template_the_glass_shows_no_more_than_the_hole(held: Open) -> None:
    loupe = held(job())
    canvas = canvas_of(loupe)
    canvas.choose(("back-1",))
    look_through(canvas)
    at = point(loupe, (230.0, 140.0))
    QTest.mouseClick(canvas, LEFT, pos=QPoint(*map(round, at)))
    # On the left edge of the hole, half a board of 114.3 mm from its middle: mask to the left, print to the right.
    edge = point(loupe, (230.0 - 57.15, 140.0))
    image, middle = glass(loupe), round(loupe.width() / 2)
    assert QColor(image.pixel(middle - 40, middle + 20)).name() == QColor(LIGHT.panel).name()
    assert QColor(image.pixel(middle + 40, middle + 20)).name() == expected(loupe, edge, (40, 20))
    canvas.work.leave()
