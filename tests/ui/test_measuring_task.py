"""Measuring on the canvas with mouse and keys: what is said and shown, and that nothing changes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from canvas_samples import job, linen, session_of, with_side
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import BaseLine
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import Remark
from coverlayout.geometry.frames import Point
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.tasks.measuring import Measuring
from coverlayout.ui.theme import LIGHT
from coverlayout.units import LengthStyle

Begin = Callable[[Project], tuple[Canvas, Measuring]]
LEFT = Qt.MouseButton.LeftButton
FREE = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def measuring(qtbot: QtBot) -> Begin:
    """Opens a canvas on a project and begins to measure."""

    def begin(project: Project) -> tuple[Canvas, Measuring]:
        canvas = Canvas(session_of(project), LIGHT)
        qtbot.addWidget(canvas)
        canvas.resize(900, 640)
        with qtbot.waitExposed(canvas):
            canvas.show()
        task = Measuring(canvas)
        canvas.work.begin(task)
        return canvas, task

    return begin


def px(canvas: Canvas, at_mm: Point) -> QPoint:
    x, y = canvas.view.to_screen.at(at_mm)
    return QPoint(round(x), round(y))


def drag(canvas: Canvas, start: Point, end: Point) -> None:
    QTest.mousePress(canvas, LEFT, pos=px(canvas, start))
    QTest.mouseMove(canvas, px(canvas, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)))
    QApplication.processEvents()
    QTest.mouseMove(canvas, px(canvas, end))
    QApplication.processEvents()
    QTest.mouseRelease(canvas, LEFT, pos=px(canvas, end))
    QApplication.processEvents()


def found(task: Measuring) -> tuple[float, float, float]:
    measure = task.measure
    assert measure is not None
    return measure.length_mm, measure.across_mm, measure.along_mm


def test_a_drag_measures_from_corner_to_corner(measuring: Begin) -> None:
    canvas, task = measuring(job())
    project = canvas._session.project
    assert task.guide.startswith("Press at one end")
    # From the corner of the front board to the corner of the back one: 155 across, both at the same height.
    drag(canvas, (42.85, 39.8), (197.85, 39.8))
    assert found(task) == pytest.approx((155.0, 155.0, 0.0), abs=1e-9)
    assert task.guide == "155.0 mm: 155.0 mm across, 0.0 mm along, 0.0° off straight across."
    assert canvas._session.project is project
    assert canvas._session.undo_name is None


def test_two_clicks_measure_too_and_a_third_begins_anew(measuring: Begin) -> None:
    canvas, task = measuring(job())
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (0.0, 0.0)))
    assert task.guide == "From a corner of Linen: now the other end."
    assert task.measure is None
    QTest.mouseMove(canvas, px(canvas, (230.0, 165.0)))
    QApplication.processEvents()
    assert found(task)[0] == pytest.approx(283.0, abs=2.0), "the open end follows the pointer"
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (460.0, 330.0)))
    assert found(task) == pytest.approx((566.127194, 460.0, 330.0), abs=1e-6)
    QTest.mouseMove(canvas, px(canvas, (230.0, 165.0)))
    QApplication.processEvents()
    assert found(task)[0] == pytest.approx(566.127194), "the measure stays"
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (250.0, 250.0)))
    assert task.measure is None
    assert task.guide == "Now the other end."


def test_a_click_twice_on_one_place_is_no_measure(measuring: Begin) -> None:
    canvas, task = measuring(job())
    for _ in range(2):
        QTest.mouseClick(canvas, LEFT, pos=px(canvas, (460.0, 0.0)))
    assert task.measure is None
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (460.0, 330.0)))
    assert found(task) == pytest.approx((330.0, 0.0, 330.0))


def test_ctrl_lets_an_end_lie_freely(measuring: Begin) -> None:
    canvas, task = measuring(job())
    at = px(canvas, (0.0, 0.0)) + QPoint(3, 2)
    QTest.mouseClick(canvas, LEFT, FREE, pos=at)
    assert task._start is not None
    assert task._start[1] == pytest.approx(canvas.view.mm_at((at.x(), at.y())))
    canvas.work.leave()
    canvas.work.begin(again := Measuring(canvas))
    QTest.mouseClick(canvas, LEFT, pos=at)
    assert again._start == ("cloth-1", (0.0, 0.0))


def test_by_keys_alone(measuring: Begin) -> None:
    canvas, task = measuring(job())
    canvas.work.show_crosshair((250.0, 250.0))
    for key, modifiers in (
        (Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier),
        (Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier),
        (Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier),
        (Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier),
        (Qt.Key.Key_Left, Qt.KeyboardModifier.NoModifier),
        (Qt.Key.Key_Up, FREE),
        (Qt.Key.Key_Return, FREE),
    ):
        QTest.keyClick(canvas, key, modifiers)
    length, across, along = found(task)
    assert (across, along) == pytest.approx((19.0, 9.9), abs=1e-9)
    assert length == pytest.approx((19.0**2 + 9.9**2) ** 0.5)
    QTest.keyClick(canvas, Qt.Key.Key_Backspace)
    assert task.guide == "Now the other end."
    QTest.keyClick(canvas, Qt.Key.Key_Backspace)
    assert task.guide.startswith("Press at one end")
    QTest.keyClick(canvas, Qt.Key.Key_Backspace)
    assert canvas.work.task is None


def test_escape_takes_the_measure_away(measuring: Begin) -> None:
    canvas, _ = measuring(job())
    clean = canvas.grab().toImage()
    drag(canvas, (42.85, 39.8), (300.0, 250.0))
    assert canvas.grab().toImage() != clean
    QTest.keyClick(canvas, Qt.Key.Key_Escape)
    assert canvas.work.task is None
    canvas.work.begin(Measuring(canvas))
    assert canvas.grab().toImage() == clean


def test_nothing_is_left_of_a_measure_that_shrinks(measuring: Begin) -> None:
    """Only what a step touches is painted anew; the picture is the same as one painted whole."""
    canvas, _ = measuring(job())
    QTest.mousePress(canvas, LEFT, pos=px(canvas, (60.0, 280.0)))
    for place in ((440.0, 20.0), (300.0, 250.0), (90.0, 270.0)):
        QTest.mouseMove(canvas, px(canvas, place))
        QApplication.processEvents()
    stepwise = canvas.grab().toImage()
    canvas.repaint_all()
    assert canvas.grab().toImage() == stepwise


def test_turned_over_the_ends_stay_on_the_cloth_and_the_lean_turns_round(measuring: Begin) -> None:
    canvas, task = measuring(job())
    drag(canvas, (0.0, 0.0), (42.85, 39.8))
    before = task.measure
    assert before is not None
    canvas._session.do(change_preferences(side="back"))
    after = task.measure
    assert after is not None
    assert after.start_mm == pytest.approx((460.0, 0.0))
    assert after.end_mm == pytest.approx((460.0 - 42.85, 39.8))
    assert after.length_mm == pytest.approx(before.length_mm)
    assert after.lean_deg == pytest.approx(-before.lean_deg)


@pytest.mark.parametrize("side", ["print", "back"])
def test_by_a_base_line_across_and_along_follow_it(measuring: Begin, side: str) -> None:
    # The line runs 3 in 100 down to the right.
    line = BaseLine((30.0, 40.0), (430.0, 52.0), measured_from=True)
    canvas, task = measuring(with_side(job(replace(linen(), base_line=line)), side))
    sheet = canvas.bench.sheets[0]
    drag(canvas, sheet.to_table.at((30.0, 40.0)), sheet.to_table.at((430.0, 52.0)))
    length, across, along = found(task)
    assert (across, along) == pytest.approx((0.0, length), abs=1e-9)
    assert "400.0 mm along the base line of Linen and 0.0 mm straight across it, 0.0° off the line" in task.guide
    # Along the cloth's upper edge, 460 mm: 460 cos and 460 sin of that angle.
    drag(canvas, sheet.to_table.at((0.0, 0.0)), sheet.to_table.at((460.0, 0.0)))
    slope = 1 + 0.03**2
    assert found(task) == pytest.approx((460.0, 460.0 * 0.03 / slope**0.5, 460.0 / slope**0.5))
    assert "1.7° off the line" in task.guide


def test_what_is_square_to_the_base_line_is_a_right_angle_off_it(measuring: Begin) -> None:
    line = BaseLine((30.0, 20.0), (30.0, 280.0), measured_from=True)
    canvas, task = measuring(job(replace(linen(), base_line=line)))
    drag(canvas, (0.0, 0.0), (460.0, 0.0))
    assert "0.0 mm along the base line of Linen and 460.0 mm straight across it, 90.0° off the line" in task.guide


def test_a_base_line_that_is_not_measured_from_changes_nothing(measuring: Begin) -> None:
    canvas, task = measuring(job(replace(linen(), base_line=BaseLine((30.0, 40.0), (430.0, 52.0)))))
    drag(canvas, (0.0, 0.0), (460.0, 0.0))
    assert found(task) == pytest.approx((460.0, 460.0, 0.0))
    assert "base line" not in task.guide


def test_figures_come_in_the_makers_unit(measuring: Begin) -> None:
    canvas, task = measuring(with_side(job(), "print", LengthStyle("in", inch_parts=16)))
    drag(canvas, (0.0, 0.0), (460.0, 0.0))
    assert task.guide.startswith("18 1/8 in: 18 1/8 in across")
    assert canvas.grab().toImage() is not None


def test_a_measure_goes_with_its_cloth(measuring: Begin) -> None:
    canvas, task = measuring(job())
    drag(canvas, (0.0, 0.0), (460.0, 0.0))
    canvas._session.do(_without_cloth())
    assert canvas.work.task is task
    assert task.measure is None
    assert task.guide.startswith("Press at one end")


@pytest.mark.parametrize("button", [Qt.MouseButton.MiddleButton, LEFT])
def test_the_table_is_drawn_on_while_something_is_measured(measuring: Begin, button: Qt.MouseButton) -> None:
    """By the middle button, or by the left one while the space bar is held; no end is set, nothing chosen."""
    canvas, task = measuring(job())
    piece = canvas.bench.outlines["front-1"][1].middle
    before, start = canvas.view, px(canvas, piece)
    if button == LEFT:
        QTest.keyPress(canvas, Qt.Key.Key_Space)
    QTest.mousePress(canvas, button, pos=start)
    for dx in (2, 30, 60):
        QTest.mouseMove(canvas, start + QPoint(dx, 0))
        QApplication.processEvents()
    QTest.mouseRelease(canvas, button, pos=start + QPoint(60, 0))
    assert canvas.view.x_px == pytest.approx(before.x_px + 60.0, abs=1.0)
    QTest.mouseClick(canvas, button, pos=px(canvas, piece))
    QTest.keyRelease(canvas, Qt.Key.Key_Space)
    assert canvas.chosen == ()
    assert (canvas.work.task, task.measure) == (task, None)
    assert task.guide.startswith("Press at one end"), "no end is set"
    drag(canvas, (42.85, 39.8), (197.85, 39.8))
    assert found(task) == pytest.approx((155.0, 155.0, 0.0), abs=1e-9)


def _without_cloth() -> Edit:
    def change(project: Project) -> Project:
        bare = tuple(replace(each, placements=()) for each in project.layouts)
        return replace(project, cloths=(), layouts=bare)

    return Edit(Remark("edit-accept"), change)
