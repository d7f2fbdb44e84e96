"""The base line set on the canvas by pointer and by keys, and its fields in the Cloth and Placement steps."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from canvas_samples import job, with_side
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from coverlayout.cloth.base_line import base_line_now
from coverlayout.cloth.cloth import BaseLine, Change, Cloth
from coverlayout.cloth.usable import laid_to_cloth
from coverlayout.document.edits.cloths import add_change, change_cloth, remove_cloth
from coverlayout.document.edits.prints import set_tile_mark
from coverlayout.document.measuring.base_lines import set_base_line
from coverlayout.document.project import Project
from coverlayout.errors import BadInput
from coverlayout.exporting.measures import measures
from coverlayout.geometry.frames import Point
from coverlayout.ui.cloths.base_line import read_repeats
from coverlayout.ui.painting.captions import caption_of
from coverlayout.ui.seeing.base_lines import name_box
from coverlayout.ui.tasks.base_line import BaseLineTask
from coverlayout.ui.theme import SIZES_PX, text_font
from coverlayout.ui.window import Window
from coverlayout.units import LengthStyle

LEFT = Qt.MouseButton.LeftButton
Open = Callable[[Project], Window]
# The half-drop of the sample: a = (64, 48), b = (0, 96). Four steps along a and two back along b: (256, 0).
START, END = (90.0, 250.0), (346.0, 250.0)


def begin(window: Window) -> BaseLineTask:
    window.menus.do("base-line")
    task = window.canvas.work.task
    assert isinstance(task, BaseLineTask)
    return task


def px(window: Window, at_mm: Point) -> QPoint:
    x, y = window.canvas.view.to_screen.at(at_mm)
    return QPoint(round(x), round(y))


def press(window: Window, *places: Point) -> None:
    for place in places:
        QTest.mouseMove(window.canvas, px(window, place))
        QTest.mouseClick(window.canvas, LEFT, pos=px(window, place))
        QApplication.processEvents()


def typed(window: Window, text: str) -> None:
    QTest.keyClicks(window.canvas, text[:1])
    QTest.keyClicks(window.strip.place, text[1:])
    QTest.keyClick(window.strip.place, Qt.Key.Key_Return)
    QApplication.processEvents()


def line_of(window: Window) -> BaseLine:
    line = window.session.project.cloths[0].base_line
    assert line is not None
    return line


def turn_of(window: Window) -> float:
    laid = window.session.project.cloths[0].laid
    assert laid is not None
    return laid.turn_deg


def test_two_presses_and_done_are_one_step(opened: Open) -> None:
    window = opened(job())
    task = begin(window)
    assert "Click a motif" in window.strip.guide.text()
    press(window, START)
    assert "same motif again" in window.strip.guide.text()
    assert not task.can_accept
    press(window, (346.0, 254.0))
    assert "4 repeats across and -2 along" in window.strip.guide.text()
    assert window.strip.done.isVisible()
    window.strip.done.click()
    within = 1.5 / window.canvas.view.px_per_mm
    assert math.dist(line_of(window).start_mm, START) < within
    assert math.dist(line_of(window).end_mm, (346.0, 254.0)) < within
    assert line_of(window).repeats == (4, -2)
    wanted = math.degrees(math.atan2(line_of(window).end_mm[1] - line_of(window).start_mm[1], 256.0))
    assert turn_of(window) == pytest.approx(wanted, abs=0.02)
    assert window.session.undo_name == "Set the base line of Linen"
    window.session.undo()
    assert window.session.project == job()
    assert window.canvas.work.task is None


def test_by_keys_alone_the_line_lies_where_it_was_typed(opened: Open) -> None:
    window = opened(job())
    begin(window)
    typed(window, "90, 250")
    typed(window, "346, 254.5")
    QTest.keyClick(window.canvas, Qt.Key.Key_Return)
    assert (line_of(window).start_mm, line_of(window).end_mm) == (pytest.approx(START), pytest.approx((346.0, 254.5)))
    assert turn_of(window) == pytest.approx(math.degrees(math.atan2(4.5, 256.0)))


def test_arrows_move_the_crosshair_to_the_ends(opened: Open) -> None:
    window = opened(job())
    task = begin(window)
    window.canvas.work.at_mm = START
    QTest.keyClick(window.canvas, Qt.Key.Key_Return)
    for _ in range(25):
        QTest.keyClick(window.canvas, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    for _ in range(6):
        QTest.keyClick(window.canvas, Qt.Key.Key_Right)
    QTest.keyClick(window.canvas, Qt.Key.Key_Down)
    QTest.keyClick(window.canvas, Qt.Key.Key_Return)
    assert task.ends == [pytest.approx(START), pytest.approx((346.0, 251.0))]
    QTest.keyClick(window.canvas, Qt.Key.Key_Return)
    assert line_of(window).repeats == (4, -2)


def test_seen_from_the_back_the_same_place_is_meant(opened: Open) -> None:
    window = opened(with_side(job(), "back"))
    begin(window)
    # The cloth is 460 wide: 90 from the left is 370 as seen from behind.
    typed(window, "370, 250")
    typed(window, "114, 250")
    QTest.keyClick(window.canvas, Qt.Key.Key_Return)
    assert (line_of(window).start_mm, line_of(window).end_mm) == (pytest.approx(START), pytest.approx(END))
    assert turn_of(window) == pytest.approx(0.0, abs=1e-9)


def test_an_end_can_be_dragged_and_set_again_and_taken_back(opened: Open) -> None:
    window = opened(job())
    task = begin(window)
    press(window, (60.0, 200.0), END)
    QTest.mousePress(window.canvas, LEFT, pos=px(window, (60.0, 200.0)))
    for x in (70.0, 80.0, 90.0):
        QTest.mouseMove(window.canvas, px(window, (x, 250.0)))
        QApplication.processEvents()
    QTest.mouseRelease(window.canvas, LEFT, pos=px(window, START))
    within = 1.5 / window.canvas.view.px_per_mm
    assert math.dist(task.ends[0], START) < within
    assert math.dist(task.ends[1], END) < within
    press(window, (360.0, 240.0))
    assert math.dist(task.ends[1], (360.0, 240.0)) < within
    QTest.keyClick(window.canvas, Qt.Key.Key_Backspace)
    assert len(task.ends) == 1
    QTest.keyClick(window.canvas, Qt.Key.Key_Backspace)
    assert task.ends == []
    QTest.keyClick(window.canvas, Qt.Key.Key_Backspace)
    assert window.canvas.work.task is None
    assert window.session.project == job()


def test_another_count_of_repeats_is_read_by_key(opened: Open) -> None:
    window = opened(job())
    task = begin(window)
    typed(window, "90, 250")
    typed(window, "346, 250")
    assert task.line is not None
    first = task.line.repeats
    QTest.keyClick(window.canvas, Qt.Key.Key_R)
    assert task.line is not None
    assert task.line.repeats != first
    assert f"{task.line.repeats[0]} repeats across" in window.strip.guide.text()


def test_what_cannot_be_a_line_is_said_and_not_taken(opened: Open) -> None:
    window = opened(job())
    task = begin(window)
    said: list[str] = []
    window.canvas.hint.connect(said.append)
    typed(window, "-30, -30")
    assert said == ["Click on a cloth: the base line starts there."]
    assert task.ends == []
    typed(window, "90, 250")
    typed(window, "95, 262")
    assert "no whole repeat lies between" in window.strip.guide.text()
    assert not task.can_accept
    assert not window.strip.done.isVisible()
    task.accept()
    assert window.session.project == job()


def test_without_a_print_the_line_only_serves_to_measure_from(opened: Open) -> None:
    plain = Cloth("cloth-1", "Linen", 460.0, 330.0)
    window = opened(job(plain))
    begin(window)
    typed(window, "20, 250")
    typed(window, "420, 262")
    assert "only serves to measure from" in window.strip.guide.text()
    QTest.keyClick(window.canvas, Qt.Key.Key_Return)
    assert line_of(window) == BaseLine(pytest.approx((20.0, 250.0)), pytest.approx((420.0, 262.0)), measured_from=True)


def test_the_task_is_over_when_its_cloth_is_gone(opened: Open) -> None:
    window = opened(job())
    begin(window)
    typed(window, "90, 250")
    window.session.do(remove_cloth("cloth-1"))
    assert window.canvas.work.task is None


def test_the_line_is_painted_with_its_dot(opened: Open) -> None:
    window = opened(set_base_line("cloth-1", BaseLine(START, END, (4, -2))).change(job()))
    picture = window.canvas.grab().toImage()
    x, y = (round(value) for value in window.canvas.view.to_screen.at(START))
    assert picture.pixelColor(x, y).name() == "#1f4e79"
    along = [window.canvas.view.to_screen.at((START[0] + k * 2.56, START[1])) for k in range(20, 95)]
    inked = [picture.pixelColor(round(px_x), round(px_y)).name() == "#1f4e79" for px_x, px_y in along]
    assert 0.3 < sum(inked) / len(inked) < 1.0


def fields(window: Window):
    window.open_step(1)
    part = window.panels.cloth.base_line
    part.head.setChecked(True)
    return part


def fill(entry, text: str) -> None:
    entry.text.setPlainText(text)
    entry.finish()


def test_ends_typed_in_the_cloth_step_lay_the_print(opened: Open, hands) -> None:
    window = opened(job())
    part = fields(window)
    assert not part.measured.isEnabled()
    fill(part.ends, "90,250\n346,254.5")
    assert line_of(window).repeats == (4, -2)
    assert turn_of(window) == pytest.approx(math.degrees(math.atan2(4.5, 256.0)))
    assert part.repeats.line.text() == "4, -2"
    assert part.head.text().endswith("Base line: set")
    # Both ends lie 10 lower: the motif stays, so the print goes along.
    before = laid_now(window).inverse().at((90.0, 250.0))
    fill(part.ends, "90,260\n346,264.5")
    assert laid_now(window).inverse().at((90.0, 260.0)) == pytest.approx(before)
    fill(part.ends, "90,250")
    assert "two points" in part.ends.trouble.text()
    fill(part.ends, "90,250\n90,250")
    assert "one point" in part.ends.trouble.text()


def laid_now(window: Window):
    cloth = window.session.project.cloths[0]
    assert cloth.laid is not None
    return laid_to_cloth(cloth, cloth.laid)


def test_repeats_and_motif_can_be_said(opened: Open, hands) -> None:
    window = opened(set_tile_mark("print-1", "eye", (12.0, 30.0)).change(job()))
    part = fields(window)
    fill(part.ends, "90,250\n346,254.5")
    hands.type(part.repeats, "6, -2")
    assert "more than 20 %" in part.repeats.trouble.text()
    assert line_of(window).repeats == (4, -2)
    hands.choose(part.motif, "eye")
    assert laid_now(window).inverse().at((90.0, 250.0)) == pytest.approx((12.0, 30.0))
    hands.type(part.repeats, "4, x")
    assert "whole numbers" in part.repeats.trouble.text()


@pytest.mark.parametrize("text", ["", "a", "1,2,3", "1.5", "99999"])
def test_what_is_no_count_of_repeats_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        read_repeats(text)


def test_measuring_from_the_line_changes_the_placement_step(opened: Open, hands) -> None:
    line = BaseLine((40.0, 20.0), (440.0, 50.0), (6, -3))
    window = opened(set_base_line("cloth-1", line, lay=False).change(job()))
    part, placement = fields(window), window.panels.placement
    part.measured.click()
    assert line_of(window).measured_from
    assert window.menus.action("measure-from-line").isEnabled()
    window.open_step(3)
    window.canvas.choose(("front-1",))
    assert placement.left.title.text() == "Along the base line"
    for side in ("print", "back"):
        window._show_side(side)
        hands.type(placement.left, "60")
        hands.type(placement.top, "-7.5")
        (found,) = measures(window.session.project, "cloth-1", side, only="front-1")
        assert found.from_line is not None
        assert found.from_line.left_mm == (pytest.approx(60.0), pytest.approx(-7.5))
    window.menus.do("measure-from-line")
    assert not line_of(window).measured_from
    assert placement.left.title.text() == "From the left"


def test_the_cutting_table_tells_along_and_across(opened: Open) -> None:
    line = BaseLine((40.0, 20.0), (440.0, 50.0), (6, -3), measured_from=True)
    window = opened(set_base_line("cloth-1", line, lay=False).change(job()))
    window.open_step(4)
    table = window.panels.cutting.table
    assert [table.horizontalHeaderItem(column).text() for column in (2, 3)] == ["Along", "Across"]
    (found,) = measures(window.session.project, "cloth-1", "print", only="front-1")
    assert found.from_line is not None
    assert table.item(0, 2).text() == f"{found.from_line.left_mm[0]:.2f}"
    assert table.item(0, 1).text() == f"{found.width_mm:.2f}\u2009×\u2009{found.height_mm:.2f}"
    assert "across it downward" in window.panels.cutting.notes.text()


def test_a_turn_is_typed_from_the_prints_up_where_the_line_is_measured_from(opened: Open, hands) -> None:
    line = BaseLine((40.0, 20.0), (440.0, 50.0), (6, -3), measured_from=True)
    window = opened(set_base_line("cloth-1", line, lay=False).change(job()))
    laid = window.session.project.cloths[0].laid
    assert laid is not None
    window.session.do(change_cloth("cloth-1", laid=replace(laid, turn_deg=359.0)))
    window.open_step(3)
    window.canvas.choose(("front-1",))
    turn, lies = window.panels.placement.turn, "front-1"
    hands.type(turn, "0")
    assert window.session.project.layout.place_of(lies).turn_deg == pytest.approx(359.0)
    assert turn.field.text() == "0"
    window._show_side("back")
    assert turn.field.text() == "0"
    window.menus.do("measure-from-line")
    assert turn.field.text() == "1"
    assert "as it lies" not in window.panels.placement.seen_from.text()


def test_skew_is_set_and_bow_is_told(opened: Open, hands) -> None:
    window = opened(job())
    part = fields(window)
    hands.type(part.over, "200")
    hands.type(part.skew, "6")
    laid = window.session.project.cloths[0].laid
    assert laid is not None
    assert laid.skew_percent == pytest.approx(3.0)
    hands.type(part.over, "100")
    assert part.skew.line.text() == "3"
    hands.type(part.bow, "2")
    assert "bends by 2.0 mm over 100.0 mm (2.0 %)" in part.bow_says.text()
    hands.type(part.bow, "300")
    assert "cannot be" in part.bow.trouble.text()
    hands.type(part.over, "1")
    assert part.bow_says.text() == ""


def test_the_line_is_removed_and_moves_along_with_washing(opened: Open) -> None:
    window = opened(set_base_line("cloth-1", BaseLine(START, END, (4, -2))).change(job()))
    part = fields(window)
    window.session.do(add_change("cloth-1", Change("washing", -10.0, 0.0)))
    assert part.ends.text.toPlainText() == "81,250\n311.4,250"
    part.remove.click()
    assert window.session.project.cloths[0].base_line is None
    fill(part.ends, "90,250\n346,250")
    fill(part.ends, "")
    assert window.session.project.cloths[0].base_line is None
    part.set_button.click()
    assert isinstance(window.canvas.work.task, BaseLineTask)


def test_stripes_and_unknown_cloths_offer_a_line_for_measuring_only(opened: Open) -> None:
    window = opened(change_cloth("cloth-1", laid=None).change(job()))
    part = fields(window)
    fill(part.ends, "20,250\n420,262")
    assert "only serves to measure from" in part.says.text()
    assert part.repeats.isHidden()
    assert part.skew.isHidden()
    assert base_line_now(window.session.project.cloths[0]) == ((20.0, 250.0), (420.0, 262.0))


def test_a_line_is_refused_without_a_cloth(opened: Open) -> None:
    window = opened(replace(job(), cloths=(), layouts=(replace(job().layouts[0], placements=()),)))
    window.menus.do("base-line")
    assert window.canvas.work.task is None
    part = fields(window)
    fill(part.ends, "20,250\n420,262")
    assert "needs a cloth" in part.ends.trouble.text()


@pytest.mark.parametrize(
    ("start", "end", "repeats"),
    [
        (START, END, (4, -2)),
        ((60.0, 40.0), (60.0, 232.0), (0, 2)),
        ((440.0, 20.0), (184.0, 20.0), (-4, 2)),
        ((300.0, 310.0), (44.0, 310.0), (-4, 2)),
    ],
)
def test_the_lines_name_stands_beside_the_cloth_where_nothing_is(
    opened: Open, start: Point, end: Point, repeats: tuple[int, int]
) -> None:
    project = set_base_line("cloth-1", BaseLine(start, end, repeats)).change(job())
    window = opened(project)
    canvas = window.canvas
    drawing = canvas.scene().drawing
    ((sheet, cloth),) = drawing.cloths()
    box = name_box(drawing, sheet, cloth, drawing.to_screen.at(start), "base line")
    on_screen = canvas.view.box_px(sheet.box)
    assert box.bottom() < on_screen.top_mm or box.top() > on_screen.bottom_mm
    caption = QFontMetricsF(text_font(SIZES_PX.small)).horizontalAdvance(caption_of(cloth, LengthStyle()))
    assert box.top() > on_screen.bottom_mm or box.left() > on_screen.left_mm + caption
    assert on_screen.left_mm <= box.left() < box.right() <= on_screen.right_mm
    picture = canvas.grab().toImage()
    inked = [picture.pixelColor(round(box.left()) + 4 + k, round(box.top()) + 2).name() for k in range(20)]
    assert set(inked) == {"#1f4e79"}


def test_only_what_is_on_the_book_has_no_base_line(opened: Open) -> None:
    with_line = set_base_line("cloth-1", BaseLine(START, END, (4, -2))).change(job())
    pictures = []
    for project in (replace(with_line, cloths=(replace(with_line.cloths[0], base_line=None),)), with_line):
        canvas = opened(project).canvas
        canvas.shown.covers_only = True
        canvas.repaint_all()
        canvas.sight.fit()
        pictures.append(canvas.grab().toImage())
    assert pictures[0] == pictures[1]
