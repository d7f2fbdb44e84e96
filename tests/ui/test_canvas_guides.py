"""Pieces caught at guides with real mouse and key events: exact places, one undo, drawn and named, held off."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from canvas_samples import job, leftover, linen, session_of, with_side
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.document.project import Project
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.canvas.gestures import DragPiece, guides_for
from coverlayout.ui.canvas.guides import GuideMark
from coverlayout.ui.table.bench import WAITING
from coverlayout.ui.theme import DARK, LIGHT, Theme

Open = Callable[..., Canvas]
LEFT = Qt.MouseButton.LeftButton
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
# Covers are 144.3 x 182.4 mm with their anchors in the middle; the front cover's lies at 100, 116.
WIDTH, HEIGHT = 144.3, 182.4
TOUCHING = 100.0 + WIDTH


@pytest.fixture
def opened(qtbot: QtBot) -> Open:
    """Opens a canvas of 1000 x 700 on a project, the whole table in sight."""

    def open_one(project: Project, theme: Theme = LIGHT) -> Canvas:
        canvas = Canvas(session_of(project), theme)
        qtbot.addWidget(canvas)
        canvas.resize(1000, 700)
        with qtbot.waitExposed(canvas):
            canvas.show()
        canvas.sight.fit()
        QApplication.processEvents()
        return canvas

    return open_one


def px(canvas: Canvas, x_mm: float, y_mm: float) -> QPoint:
    """A place of the first cloth on the screen."""
    x, y = canvas.view.to_screen.at(canvas.bench.sheets[0].to_table.at((x_mm, y_mm)))
    return QPoint(round(x), round(y))


def held(canvas: Canvas, piece_id: str, x_mm: float, y_mm: float, key: Qt.KeyboardModifier | None = None) -> QPoint:
    """The piece taken by its anchor and held with it there, as near as whole pixels come; where the mouse is."""
    placed = place(canvas, piece_id)
    x, y = canvas.view.to_screen.at(canvas.bench.sheet(placed.cloth).to_table.at((placed.x_mm, placed.y_mm)))
    QTest.mousePress(canvas, LEFT, pos=QPoint(round(x), round(y)))
    to = px(canvas, x_mm, y_mm)
    for stop in (to + QPoint(9, 9), to):
        QTest.mouseMove(canvas, stop)
        QApplication.processEvents()
    if key is not None:
        QTest.keyPress(canvas, Qt.Key.Key_Control if key == CTRL else Qt.Key.Key_Shift)
        QApplication.processEvents()
    return to


def let_go(canvas: Canvas, at: QPoint, key: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    QTest.mouseRelease(canvas, LEFT, key, pos=at)
    QApplication.processEvents()


def place(canvas: Canvas, piece_id: str) -> Placed:
    lying = canvas.bench.find(piece_id)
    assert lying is not None
    return lying.placed


def shown(canvas: Canvas) -> Placed:
    assert isinstance(canvas.gesture, DragPiece)
    return canvas.gesture.shown[0]


def texts(canvas: Canvas) -> list[str]:
    return sorted(mark.text for mark in canvas.hand.guides)


def test_a_cover_comes_exactly_beside_its_neighbour_and_one_undo_takes_it_back(opened: Open) -> None:
    canvas = opened(job())
    to = held(canvas, "back-1", TOUCHING + 1.5, 117.5)
    assert texts(canvas) == ["level with Front cover", "touching Front cover"]
    let_go(canvas, to)
    placed = place(canvas, "back-1")
    assert (placed.x_mm, placed.y_mm) == pytest.approx((TOUCHING, 116.0), abs=1e-6)
    assert canvas.hand.guides == ()
    assert canvas.shown.looks["back-1"].breaches == ()
    session = canvas._session
    session.undo()
    assert session.project == job()
    assert session.undo_name is None


def test_from_the_back_it_is_the_same_place(opened: Open) -> None:
    canvas = opened(with_side(job(), "back"))
    let_go(canvas, held(canvas, "back-1", TOUCHING + 1.5, 117.5))
    placed = place(canvas, "back-1")
    assert (placed.x_mm, placed.y_mm) == pytest.approx((TOUCHING, 116.0), abs=1e-6)


def test_the_edge_and_the_same_place_in_the_repeat(opened: Open) -> None:
    canvas = opened(job())
    # The linen ends at 460 and the whole of it may be used.
    let_go(canvas, held(canvas, "back-1", 460.0 - WIDTH / 2 - 1.0, 150.5))
    assert place(canvas, "back-1").x_mm == pytest.approx(460.0 - WIDTH / 2, abs=1e-6)
    # Half-drop 64 x 96: three columns on and one up from the front cover's (100, 116) is (292, 164).
    to = held(canvas, "back-1", 291.0, 165.0)
    assert texts(canvas) == ["same place in the repeat as Front cover"]
    let_go(canvas, to)
    placed = place(canvas, "back-1")
    assert (placed.x_mm, placed.y_mm) == pytest.approx((292.0, 164.0), abs=1e-6)


def test_a_key_held_lets_it_lie_freely(opened: Open) -> None:
    canvas = opened(job())
    to = held(canvas, "back-1", TOUCHING + 1.5, 117.5)
    caught = shown(canvas)
    # Keys of a canvas come to it whether or not an action of the window asks for them.
    canvas.hand.held(CTRL, down=True)
    QApplication.processEvents()
    assert texts(canvas) == []
    free = shown(canvas)
    assert free.x_mm == pytest.approx(TOUCHING + 1.5, abs=1.0 / canvas.view.px_per_mm)
    assert free != caught
    canvas.hand.held(CTRL, down=False)
    QApplication.processEvents()
    assert shown(canvas) == caught
    let_go(canvas, to, CTRL)
    assert place(canvas, "back-1") == free
    assert not canvas.hand.held(CTRL, down=True)


def test_the_keys_reach_the_drag(opened: Open) -> None:
    canvas = opened(job())
    held(canvas, "back-1", TOUCHING + 1.5, 117.5, CTRL)
    assert texts(canvas) == []
    QTest.keyRelease(canvas, Qt.Key.Key_Control)
    QApplication.processEvents()
    assert len(texts(canvas)) == 2
    canvas.leave_gesture()


def test_snapping_can_be_turned_off(opened: Open) -> None:
    canvas = opened(job())
    canvas.hand.snapping = False
    let_go(canvas, held(canvas, "back-1", TOUCHING + 1.5, 117.5))
    assert place(canvas, "back-1").x_mm != pytest.approx(TOUCHING, abs=1e-3)


def test_a_straight_line_is_kept_with_shift(opened: Open) -> None:
    canvas = opened(job())
    held(canvas, "back-1", TOUCHING + 1.5, 119.0, SHIFT)
    # 9 mm across is more than 3 along: only across, caught there, and level all the time.
    assert (shown(canvas).x_mm, shown(canvas).y_mm) == pytest.approx((TOUCHING, 116.0), abs=1e-6)
    canvas.leave_gesture()


def test_nearness_is_counted_on_the_screen(opened: Open) -> None:
    canvas = opened(job())
    gap_mm = 5.0 / canvas.view.px_per_mm
    held(canvas, "liner-front-1", 430.0 - gap_mm, 240.0)
    far = canvas.gesture
    assert isinstance(far, DragPiece)
    reach_mm = far.reach_mm
    canvas.leave_gesture()
    canvas.sight.zoom_in()
    held(canvas, "liner-front-1", 430.0 - gap_mm, 240.0)
    near = canvas.gesture
    assert isinstance(near, DragPiece)
    assert near.reach_mm == pytest.approx(reach_mm / 1.25)
    canvas.leave_gesture()


def test_several_are_caught_by_the_box_around_them(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("front-1", "back-1"))
    # Together from 100 - 72.15 = 27.85; carried 26 to the left they begin at 1.85 and come to the edge.
    to = held(canvas, "front-1", 74.0, 130.0)
    let_go(canvas, to)
    front, back = place(canvas, "front-1"), place(canvas, "back-1")
    assert front.x_mm == pytest.approx(WIDTH / 2, abs=1e-6)
    assert back.x_mm - front.x_mm == pytest.approx(155.0, abs=1e-9)
    assert canvas._session.undo_name == "Move 2 pieces"


def test_a_waiting_piece_is_caught_once_it_is_over_the_cloth(opened: Open) -> None:
    canvas = opened(job())
    placed = place(canvas, "liner-back-1")
    assert placed.cloth == WAITING
    to = held(canvas, "liner-back-1", 396.0, 170.0)
    assert texts(canvas)[0].endswith("Front liner")
    let_go(canvas, to)
    # Its liner fellow lies at 395: one line.
    assert place(canvas, "liner-back-1").x_mm == pytest.approx(395.0, abs=1e-6)


def test_on_a_turned_print_it_is_caught_in_its_own_directions(opened: Open) -> None:
    crooked = replace(linen(), laid=LaidPrint("print-1", (20.0, 10.0), turn_deg=2.0))
    project = job(crooked, leftover())
    turned = tuple(replace(each, turn_deg=2.0) for each in project.layout.placements)
    project = project.with_layout(replace(project.layout, placements=turned))
    canvas = opened(project)
    to = held(canvas, "back-1", 246.0, 121.5)
    assert "touching Front cover" in texts(canvas)
    let_go(canvas, to)
    front, back = place(canvas, "front-1"), place(canvas, "back-1")
    # Along the axes turned by 2 degrees the anchors are one width apart: cos 2 = 0.99939083, sin 2 = 0.03489950.
    dx, dy = back.x_mm - front.x_mm, back.y_mm - front.y_mm
    assert 0.9993908270 * dx + 0.0348994967 * dy == pytest.approx(WIDTH, abs=1e-6)


def test_by_keys_a_piece_goes_on_to_the_next_guide(opened: Open) -> None:
    canvas = opened(job())
    said: list[str] = []
    canvas.hint.connect(said.append)
    canvas.choose(("back-1",))
    # 10.7 mm right of the front cover, 6 mm wished for: first to the room, then touching, then nothing but overlaps
    # until the edge, which is 0.
    canvas.keys.to_guide((-1.0, 0.0))
    assert place(canvas, "back-1").x_mm == pytest.approx(TOUCHING + 6.0, abs=1e-6)
    canvas.keys.to_guide((-1.0, 0.0))
    assert place(canvas, "back-1").x_mm == pytest.approx(TOUCHING, abs=1e-6)
    assert said == ["Back cover: 6.0 mm room to Front cover.", "Back cover: touching Front cover."]
    canvas._session.undo()
    assert place(canvas, "back-1").x_mm == pytest.approx(TOUCHING + 6.0, abs=1e-6)
    canvas.choose(())
    canvas.keys.to_guide((-1.0, 0.0))
    canvas.choose(("liner-back-1",))
    canvas.keys.to_guide((-1.0, 0.0))
    assert len(said) == 3
    assert said[-1].startswith("Back liner waits beside the cloth")


def test_seen_from_the_back_the_next_guide_lies_as_it_is_seen(opened: Open) -> None:
    canvas = opened(with_side(job(), "back"))
    canvas.choose(("back-1",))
    canvas.keys.to_guide((1.0, 0.0))
    assert place(canvas, "back-1").x_mm == pytest.approx(TOUCHING + 6.0, abs=1e-6)


def test_after_the_last_guide_that_is_said(opened: Open) -> None:
    canvas = opened(job())
    said: list[str] = []
    canvas.hint.connect(said.append)
    canvas.choose(("front-1",))
    for _ in range(9):
        canvas.keys.to_guide((0.0, -1.0))
    assert place(canvas, "front-1").y_mm == pytest.approx(HEIGHT / 2, abs=1e-6)
    assert said[-1] == "There is no further guide that way on this cloth."


def test_where_nothing_is_judged_there_are_no_guides(opened: Open) -> None:
    canvas = opened(job())
    assert guides_for(canvas.bench, None, ("back-1",), "back-1") is None
    assert guides_for(canvas.bench, canvas.shown.judge, ("gone-1",), "gone-1") is None
    assert guides_for(canvas.bench, canvas.shown.judge, ("front-1", "back-1"), "gone-1") is not None


@pytest.mark.parametrize("theme", [LIGHT, DARK])
def test_what_caught_is_drawn_and_leaves_no_trace(opened: Open, theme: Theme) -> None:
    canvas = opened(job(), theme)
    before = canvas.grab().toImage()
    to = held(canvas, "back-1", TOUCHING + 1.5, 117.5)
    level = next(mark for mark in canvas.hand.guides if mark.kind == "level")
    picture = canvas.grab().toImage()
    assert dark_along(picture, level) > 20
    assert canvas.hand._touched.contains(QPoint(round(level.box[0] + 4), round(level.box[1] + 4)))
    canvas.leave_gesture()
    QTest.mouseRelease(canvas, LEFT, pos=to)
    canvas.choose(())
    QApplication.processEvents()
    assert canvas.grab().toImage() == before


def dark_along(picture: QImage, mark: GuideMark) -> int:
    """How many pixels of the line's colour lie on a level line."""
    (x0, y0), (x1, _) = mark.lines_px[0]
    found = 0
    for x in range(round(x0), round(x1)):
        found += any(picture.pixelColor(x, round(y0) + k).name() == LIGHT.accent.lower() for k in (-1, 0, 1))
    return found
