"""What lies over what on the canvas: flaws shine through pieces, the piece last moved lies on top, words stay whole."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest
from canvas_samples import job, linen, session_of
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import Flaw
from coverlayout.document.project import Project
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.theme import LIGHT

Open = Callable[[Project], Canvas]
Levels = npt.NDArray[np.int16]
LEFT = Qt.MouseButton.LeftButton
# Without symmetry, off the middle of the front cover, which lies from (27.9, 24.8) to (172.2, 207.2).
STAIN = Flaw("flaw-2", "Stain", ((60.0, 110.0), (140.0, 100.0), (150.0, 150.0), (100.0, 170.0)), 0.0)


@pytest.fixture
def opened(qtbot: QtBot) -> Open:
    """Opens a canvas of 1000 x 700 on a project."""

    def open_one(project: Project) -> Canvas:
        canvas = Canvas(session_of(project), LIGHT)
        qtbot.addWidget(canvas)
        canvas.resize(1000, 700)
        with qtbot.waitExposed(canvas):
            canvas.show()
        QApplication.processEvents()
        return canvas

    return open_one


def picture(canvas: Canvas) -> Levels:
    """What is on the screen now: height x width x 3."""
    for _ in range(3):
        QApplication.processEvents()
    image = canvas.screen().grabWindow(canvas.winId()).toImage().convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).astype(np.int16)


def part(seen: Levels, canvas: Canvas, left_mm: float, top_mm: float, right_mm: float, bottom_mm: float) -> Levels:
    (left, top), (right, bottom) = (canvas.view.to_screen.at(at) for at in ((left_mm, top_mm), (right_mm, bottom_mm)))
    return seen[round(top) : round(bottom), round(left) : round(right)]


def at(canvas: Canvas, piece_id: str) -> QPoint:
    x, y = canvas.view.to_screen.at(canvas.bench.outlines[piece_id][1].middle)
    return QPoint(round(x), round(y))


def drag(canvas: Canvas, piece_id: str, by: QPoint, *, let_go: bool = True) -> None:
    start = at(canvas, piece_id)
    QTest.mousePress(canvas, LEFT, pos=start)
    for stop in (start + by / 2, start + by):
        QTest.mouseMove(canvas, stop)
        QApplication.processEvents()
    if let_go:
        QTest.mouseRelease(canvas, LEFT, pos=start + by)


def assert_no_trace(canvas: Canvas) -> None:
    seen = picture(canvas)
    canvas.repaint_all()
    assert int((np.abs(seen - picture(canvas)).max(axis=2) > 2).sum()) <= 60


def stained() -> Project:
    return job(replace(linen(), flaws=(STAIN,)))


def test_a_flaw_shines_through_the_piece_over_it(opened: Open) -> None:
    clean, marked = opened(job()), opened(stained())
    assert clean.view == marked.view
    inside = (105.0, 112.0, 138.0, 148.0)
    change = np.abs(part(picture(marked), marked, *inside) - part(picture(clean), clean, *inside)).max(axis=2)
    assert 0.05 < (change > 12).mean() < 0.7, "a light hatch: the print stays readable between its lines"
    assert_no_trace(marked)


def test_a_flaw_shines_through_a_piece_on_its_way_and_its_name_stays_whole(opened: Open) -> None:
    marked, clean = opened(stained()), opened(job())
    for canvas in (marked, clean):
        drag(canvas, "front-1", QPoint(0, 6), let_go=False)
    one, other = picture(marked), picture(clean)
    change = np.abs(one - other).max(axis=2)
    inside = (105.0, 120.0, 138.0, 148.0)
    assert (part(change, marked, *inside) > 12).mean() > 0.05
    tag = marked.scene().drawing.flaws[0].tag
    ground = one[round(tag.top()) + 3, round(tag.left()) + 4]
    assert tuple(ground) == (0x22, 0x25, 0x2B), "the tag lies over the moving piece"
    QTest.keyClick(marked, Qt.Key.Key_Escape)
    assert_no_trace(marked)


def test_the_piece_last_moved_stays_on_top_when_another_is_chosen(opened: Open) -> None:
    canvas = opened(job())
    size = canvas.view.px_per_mm
    drag(canvas, "front-1", QPoint(round(90 * size), round(12 * size)))
    assert [each.piece.id for each in canvas.bench.stacked(canvas.shown.raised)][-1] == "front-1"
    QTest.mouseClick(canvas, LEFT, pos=at(canvas, "liner-front-1"))
    assert canvas.chosen == ("liner-front-1",)
    shared_mm = canvas.bench.outlines["back-1"][1].left_mm + 20.0, canvas.bench.outlines["front-1"][1].middle[1]
    assert canvas.bench.piece_at(shared_mm, canvas.shown.raised) is canvas.bench.find("front-1")
    assert canvas.bench.piece_at(shared_mm) is canvas.bench.find("back-1"), "below, had it not been moved"
    assert_no_trace(canvas)


def test_overlapping_and_parting_again_leave_no_trace_of_words(opened: Open) -> None:
    canvas = opened(job())
    size = canvas.view.px_per_mm
    drag(canvas, "front-1", QPoint(round(140 * size), round(8 * size)))
    assert "overlap" in canvas.shown.looks["back-1"].rules
    assert_no_trace(canvas)
    canvas.choose(("back-1",))
    assert_no_trace(canvas)
    drag(canvas, "back-1", QPoint(round(-170 * size), round(20 * size)))
    assert "overlap" not in canvas.shown.looks["back-1"].rules
    assert_no_trace(canvas)
    canvas._session.undo()
    assert_no_trace(canvas)


def test_a_flaws_name_that_a_warning_covers_is_left_out_whole(opened: Open) -> None:
    canvas = opened(stained())
    tag = canvas.scene().drawing.flaws[0].tag
    canvas.sight.pan_to(canvas.view.at_size(0.55, (500.0, 350.0)))
    scene, lying = canvas.scene(), canvas.bench.find("front-1")
    assert lying is not None
    there = [(lying, scene.area_of(lying.placed))]
    labels = canvas.layers._labels(scene, there, there)
    assert [label.box.intersects(scene.drawing.flaws[0].tag) for label in labels] == [True, True]
    for _ in range(2):
        assert_no_trace(canvas)
        canvas.sight.pan_to(canvas.view.panned((-7.0, 3.0)))
    drag(canvas, "front-1", QPoint(0, 120))
    assert_no_trace(canvas)
    canvas._session.undo()
    assert_no_trace(canvas)
    canvas.sight.fit()
    assert canvas.scene().drawing.flaws[0].tag == tag
