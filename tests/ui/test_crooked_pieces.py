"""Pieces that follow a crooked print: seen where they must be, and still turned after being moved by hand or keys."""

from __future__ import annotations

import pytest
from canvas_samples import session_of, with_side
from crooked_core import SIDE_MM, crooked_core, roomiest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.theme import LIGHT

LEFT = Qt.MouseButton.LeftButton


def opened(qtbot: QtBot, project: Project) -> Canvas:
    canvas = Canvas(session_of(project), LIGHT)
    canvas.hand.snapping = False
    qtbot.addWidget(canvas)
    canvas.resize(1000, 700)
    with qtbot.waitExposed(canvas):
        canvas.show()
    canvas.sight.fit()
    QApplication.processEvents()
    return canvas


def turn_of(canvas: Canvas, piece_id: str) -> float:
    lying = canvas.bench.find(piece_id)
    assert lying is not None
    return lying.placed.turn_deg


@pytest.mark.parametrize("turn_deg", [2.0, 3.0])
@pytest.mark.parametrize("side", ["print", "back"])
def test_every_corner_is_seen_where_arithmetic_puts_it(qtbot, turn_deg, side):
    _, placed, corners = roomiest(turn_deg)
    canvas = opened(qtbot, with_side(crooked_core(turn_deg, placed), side))
    for piece, wanted in corners.items():
        ring, _ = canvas.bench.outlines[piece]
        seen = [(SIDE_MM - x, y) if side == "back" else (x, y) for x, y in wanted]
        assert len(ring) == 4
        for corner in seen:
            assert min(abs(x - corner[0]) + abs(y - corner[1]) for x, y in ring) < 1e-6


def test_the_cut_line_is_painted_along_the_crooked_edge(qtbot):
    _, placed, corners = roomiest(3.0)
    canvas = opened(qtbot, crooked_core(3.0, placed))
    picture = canvas.grab().toImage()
    (x0, y0), (x1, y1) = corners["front-1"][:2]
    dark = []
    for share in [k / 100 for k in range(5, 96)]:
        x, y = canvas.view.to_screen.at((x0 + share * (x1 - x0), y0 + share * (y1 - y0)))
        near = [picture.pixelColor(round(x), round(y) + step).lightness() for step in (-1, 0, 1)]
        dark.append(min(near) < 90)
    # Dashes of 5 with gaps of 3: more than half of the edge is dark; beside it, 6 mm farther up, nothing is.
    assert sum(dark) > 0.5 * len(dark)
    off = [canvas.view.to_screen.at((x0 + k * (x1 - x0) / 20, y0 - 1.6 + k * (y1 - y0) / 20)) for k in range(1, 20)]
    assert sum(picture.pixelColor(round(x), round(y)).lightness() < 90 for x, y in off) < 5


def test_keys_and_pointer_move_a_crooked_piece_and_keep_its_turn(qtbot):
    _, placed, _ = roomiest(2.0)
    canvas = opened(qtbot, crooked_core(2.0, placed))
    session = canvas._session
    canvas.choose(("front-1",))
    canvas.setFocus()
    QTest.keyClick(canvas, Qt.Key.Key_Right)
    QTest.keyClick(canvas, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    moved = session.project.layout.place_of("front-1")
    was = next(each for each in placed if each.piece == "front-1")
    assert moved is not None
    assert (moved.x_mm, moved.y_mm) == (pytest.approx(was.x_mm + 1.0), pytest.approx(was.y_mm + 10.0))
    assert moved.turn_deg == 2.0
    for piece, turned in (("back-1", 2.0), ("liner-back-1", 92.0)):
        x, y = canvas.view.to_screen.at(canvas.bench.outlines[piece][1].middle)
        start = QPoint(round(x), round(y))
        QTest.mousePress(canvas, LEFT, pos=start)
        for step in (4, 12, 25):
            QTest.mouseMove(canvas, start + QPoint(step, -step))
            QApplication.processEvents()
        QTest.mouseRelease(canvas, LEFT, pos=start + QPoint(25, -25))
        QApplication.processEvents()
        assert turn_of(canvas, piece) == turned
        after = session.project.layout.place_of(piece)
        assert after is not None
        before = next(each for each in placed if each.piece == piece)
        size = canvas.view.px_per_mm
        assert (after.x_mm - before.x_mm, after.y_mm - before.y_mm) == pytest.approx((25 / size, -25 / size))
    rules = {breach.rule for breach in judge_for(session.project).report(placed_now(session.project)).breaches}
    assert "turn" not in rules
