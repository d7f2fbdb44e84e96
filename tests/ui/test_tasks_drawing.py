"""Flaws, zones and outlines drawn by hand: with the pointer, by keys alone, by number, from both sides."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from canvas_samples import job, leftover, linen, with_side
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from coverlayout.cloth.cloth import Change
from coverlayout.document.edits.cloths import add_change, remove_cloth
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.project import Project
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import bounds, rectangle
from coverlayout.ui.canvas.keys import Keys
from coverlayout.ui.cloths.flaws import KINDS, flaw_wanted
from coverlayout.ui.cloths.outline import outline_wanted
from coverlayout.ui.cloths.zones import cut_wanted, zone_wanted
from coverlayout.ui.tasks.drawing import Drawing, Wanted
from coverlayout.ui.tasks.typed_place import read_place
from coverlayout.ui.window import Window
from coverlayout.units import LengthStyle

LEFT = Qt.MouseButton.LeftButton
CREASE, STAIN, HOLE, FRAYED = KINDS
Open = Callable[[Project], Window]


def px(window: Window, at_mm: Point) -> QPoint:
    x, y = window.canvas.view.to_screen.at(at_mm)
    return QPoint(round(x), round(y))


def begin(window: Window, wanted: Wanted) -> Drawing:
    task = Drawing(window.canvas, wanted)
    window.canvas.work.begin(task)
    return task


def press(window: Window, *places: Point) -> None:
    for place in places:
        QTest.mouseMove(window.canvas, px(window, place))
        QTest.mouseClick(window.canvas, LEFT, pos=px(window, place))
        QApplication.processEvents()


def sweep(window: Window, start: Point, end: Point) -> None:
    """Press, draw, let go."""
    QTest.mousePress(window.canvas, LEFT, pos=px(window, start))
    for share in (0.3, 0.7, 1.0):
        at = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
        QTest.mouseMove(window.canvas, px(window, at))
        QApplication.processEvents()
    QTest.mouseRelease(window.canvas, LEFT, pos=px(window, end))
    QApplication.processEvents()


def keys(window: Window, *pressed: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    for key in pressed:
        QTest.keyClick(window.canvas, key, held)


def type_place(window: Window, text: str) -> None:
    """The first sign is typed on the canvas; it opens the field, which takes the rest."""
    QTest.keyClicks(window.canvas, text[:1])
    QTest.keyClicks(window.strip.place, text[1:])
    QTest.keyClick(window.strip.place, Qt.Key.Key_Return)
    QApplication.processEvents()


def near(window: Window) -> float:
    """Half a pixel, in mm: the hand is no more exact."""
    return 0.75 / window.canvas.view.px_per_mm


def test_a_rectangle_is_drawn_in_one_sweep_and_is_one_edit(opened: Open) -> None:
    window = opened(job())
    begin(window, flaw_wanted(FRAYED))
    assert window.strip.isVisible()
    assert window.strip.title.text() == "Draw a frayed edge"
    sweep(window, (300.0, 280.0), (340.0, 318.0))
    flaw = window.session.project.cloths[0].flaws[-1]
    box = bounds(flaw.points_mm)
    assert (box.left_mm, box.top_mm, box.right_mm, box.bottom_mm) == pytest.approx(
        (300.0, 280.0, 340.0, 318.0), abs=near(window)
    )
    assert (flaw.name, flaw.line_width_mm) == ("frayed edge", 0.0)
    assert window.canvas.work.task is None
    assert not window.strip.isVisible()
    assert window.session.undo_name == "Mark flaw frayed edge"
    window.session.undo()
    assert window.session.project == job()


def test_an_area_closes_at_its_first_point(opened: Open) -> None:
    window = opened(job())
    begin(window, flaw_wanted(STAIN))
    corners = ((300.0, 230.0), (380.0, 240.0), (330.0, 300.0))
    press(window, *corners, corners[0])
    flaw = window.session.project.cloths[0].flaws[-1]
    assert flaw.name == "stain"
    assert [*flaw.points_mm] == [pytest.approx(corner, abs=near(window)) for corner in corners]


def test_a_double_click_ends_a_line_and_backspace_takes_a_point_back(opened: Open) -> None:
    window = opened(job())
    task = begin(window, flaw_wanted(CREASE))
    press(window, (220.0, 230.0), (300.0, 300.0), (310.0, 240.0))
    assert len(task.points) == 3
    keys(window, Qt.Key.Key_Backspace)
    assert len(task.points) == 2
    press(window, (350.0, 250.0), (350.0, 250.0))
    flaw = window.session.project.cloths[0].flaws[-1]
    assert flaw.line_width_mm == 4.0
    assert flaw.points_mm[-1] == pytest.approx((350.0, 250.0), abs=near(window))
    assert len(flaw.points_mm) == 3


def test_everything_is_drawn_by_keys_alone(opened: Open) -> None:
    """From the middle of the canvas: Enter, 30 mm right by three long steps, Enter, then 5.1 down, and Enter twice."""
    window = opened(job())
    window.menus.do("draw-hole")
    middle = window.canvas.work.at_mm
    keys(window, Qt.Key.Key_Return)
    keys(window, *[Qt.Key.Key_Right] * 3, held=Qt.KeyboardModifier.ShiftModifier)
    keys(window, Qt.Key.Key_Return)
    keys(window, *[Qt.Key.Key_Down] * 5)
    keys(window, Qt.Key.Key_Down, held=Qt.KeyboardModifier.AltModifier)
    keys(window, Qt.Key.Key_Return, Qt.Key.Key_Return)
    flaw = window.session.project.cloths[0].flaws[-1]
    x, y = middle
    assert flaw.name == "hole"
    assert [*flaw.points_mm] == [pytest.approx(at) for at in ((x, y), (x + 30, y), (x + 30, y + 5.1))]


def test_escape_gives_up_and_backspace_with_nothing_drawn_leaves(opened: Open) -> None:
    window = opened(job())
    begin(window, flaw_wanted(STAIN))
    press(window, (300.0, 230.0), (380.0, 240.0))
    keys(window, Qt.Key.Key_Escape)
    assert window.canvas.work.task is None
    begin(window, flaw_wanted(STAIN))
    press(window, (300.0, 230.0))
    keys(window, Qt.Key.Key_Backspace)
    assert window.canvas.work.task is not None
    keys(window, Qt.Key.Key_Backspace)
    assert window.canvas.work.task is None
    assert window.session.project == job()


def test_places_are_typed_in_the_makers_unit(opened: Open) -> None:
    window = opened(job())
    window.session.do(change_preferences(length_style=LengthStyle("in", inch_parts=16)))
    begin(window, flaw_wanted(FRAYED))
    type_place(window, "4 1/2, 9")
    assert not window.strip.place.isVisible()
    type_place(window, "5;10 in")
    flaw = window.session.project.cloths[0].flaws[-1]
    assert bounds(flaw.points_mm).ring() == tuple(pytest.approx(at) for at in rectangle(12.7, 25.4, 114.3, 228.6))


def test_a_place_that_cannot_be_read_is_told_and_escape_closes_the_field_only(opened: Open) -> None:
    window = opened(job())
    task = begin(window, flaw_wanted(CREASE))
    said: list[str] = []
    window.canvas.hint.connect(said.append)
    type_place(window, "12")
    assert said == ["12: a place is two lengths, across and down, like 120, 45"]
    assert window.strip.place.isVisible()
    QTest.keyClick(window.strip.place, Qt.Key.Key_Escape)
    assert not window.strip.place.isVisible()
    assert window.canvas.work.task is task
    QTest.keyClicks(window.canvas, "7")
    window.strip.place.clear()
    QTest.keyClick(window.strip.place, Qt.Key.Key_Return)
    assert not window.strip.place.isVisible()
    assert task.points == ()


def test_from_the_back_the_drawing_is_mirrored(opened: Open) -> None:
    """460 wide: what is drawn 100 from the left as seen lies 360 from the left of the print side."""
    window = opened(with_side(job(), "back"))
    begin(window, flaw_wanted(CREASE))
    type_place(window, "100, 240")
    type_place(window, "130, 260")
    keys(window, Qt.Key.Key_Return)
    flaw = window.session.project.cloths[0].flaws[-1]
    assert [*flaw.points_mm] == [pytest.approx((360.0, 240.0)), pytest.approx((330.0, 260.0))]


def test_the_cloth_turned_over_while_drawing_takes_the_drawing_along(opened: Open) -> None:
    window = opened(job())
    begin(window, flaw_wanted(CREASE))
    type_place(window, "100, 240")
    window.turn_over()
    type_place(window, "100, 260")
    keys(window, Qt.Key.Key_Return)
    flaw = window.session.project.cloths[0].flaws[-1]
    assert [*flaw.points_mm] == [pytest.approx((100.0, 240.0)), pytest.approx((360.0, 260.0))]


def test_on_a_washed_cloth_the_points_are_those_of_now(opened: Open) -> None:
    window = opened(job())
    window.session.do(add_change("cloth-1", Change("washing", -10.0, -5.0)))
    begin(window, flaw_wanted(CREASE))
    type_place(window, "100, 240")
    type_place(window, "130, 260")
    keys(window, Qt.Key.Key_Return)
    flaw = window.session.project.cloths[0].flaws[-1]
    assert flaw.changes_in == 1
    assert [*flaw.points_mm] == [pytest.approx((100.0, 240.0)), pytest.approx((130.0, 260.0))]


def test_a_drawing_belongs_to_the_cloth_it_begins_on_and_rulers_count_from_it(opened: Open) -> None:
    window = opened(job(linen(), leftover()))
    second = window.canvas.bench.sheets[1]
    task = begin(window, flaw_wanted(CREASE))
    press(window, (second.box.left_mm + 60.0, 80.0))
    assert window.canvas.shown.measured_sheet().id == "cloth-2"
    assert task.zero() == (second.box.left_mm, second.box.top_mm)
    type_place(window, "100, 90")
    keys(window, Qt.Key.Key_Return)
    first, other = window.session.project.cloths
    assert len(first.flaws) == 1
    assert [*other.flaws[0].points_mm] == [
        pytest.approx((60.0, 80.0), abs=near(window)),
        pytest.approx((100.0, 90.0)),
    ]
    assert window.canvas.shown.measured_sheet().id == "cloth-1"


def test_lines_that_would_cross_are_refused_point_by_point(opened: Open) -> None:
    window = opened(job())
    task = begin(window, flaw_wanted(STAIN))
    said: list[str] = []
    window.canvas.hint.connect(said.append)
    press(window, (300.0, 230.0), (380.0, 230.0), (380.0, 300.0), (340.0, 200.0))
    assert len(task.points) == 3
    assert "crosses or meets itself" in said[0]


def test_an_outline_that_closes_across_itself_stays_to_be_mended(opened: Open) -> None:
    window = opened(job())
    task = begin(window, flaw_wanted(STAIN))
    said: list[str] = []
    window.canvas.hint.connect(said.append)
    # A zigzag: the way back from the fourth to the first point runs across the second stretch.
    for place in ("300,230", "380,240", "300,250", "380,270"):
        type_place(window, place)
    before = window.session.project
    window.strip.done.click()
    assert window.canvas.work.task is task
    assert "crosses itself" in said[-1]
    assert window.session.project is before
    keys(window, Qt.Key.Key_Backspace)
    window.strip.done.click()
    assert len(window.session.project.cloths[0].flaws) == 2


def test_a_flaw_beside_the_cloth_is_refused(opened: Open) -> None:
    window = opened(job())
    begin(window, flaw_wanted(FRAYED))
    said: list[str] = []
    window.canvas.hint.connect(said.append)
    type_place(window, "500, 20")
    type_place(window, "560, 80")
    assert "wholly beside Linen" in said[0]
    assert window.session.project == job()
    type_place(window, "440, 80")
    assert bounds(window.session.project.cloths[0].flaws[-1].points_mm).width_mm == pytest.approx(60.0)


def test_shapes_are_chosen_by_key_before_the_second_point(opened: Open) -> None:
    window = opened(job())
    task = begin(window, flaw_wanted(CREASE))
    assert "R rectangle" in window.strip.guide.text()
    keys(window, Qt.Key.Key_R)
    assert task.shape == "rectangle"
    assert "corner to corner" in window.strip.guide.text()
    keys(window, Qt.Key.Key_S)
    assert task.shape == "line"
    press(window, (300.0, 230.0), (380.0, 240.0))
    keys(window, Qt.Key.Key_A)
    assert task.shape == "line"


def test_zones_are_drawn_cut_and_never_lie_over_each_other(opened: Open) -> None:
    window = opened(job())
    said: list[str] = []
    window.canvas.hint.connect(said.append)
    begin(window, zone_wanted())
    type_place(window, "0, 0")
    type_place(window, "200, 330")
    begin(window, zone_wanted())
    type_place(window, "190, 0")
    type_place(window, "460, 200")
    assert said == ["zone 2 lies over zone 1; zones may touch, but every spot of a cloth has one print"]
    keys(window, Qt.Key.Key_Escape)
    (zone,) = window.session.project.cloths[0].zones
    assert (zone.name, zone.laid) == ("zone 1", window.session.project.cloths[0].laid)
    begin(window, cut_wanted())
    type_place(window, "-5, 100")
    type_place(window, "220, 120")
    upper, lower = sorted(window.session.project.cloths[0].zones, key=lambda each: bounds(each.outline_mm).top_mm)
    # The line from (-5, 100) to (220, 120) rises 20 on 225: it leaves the zone at 200 and enters it at 0.
    assert bounds(upper.outline_mm).bottom_mm == pytest.approx(100 + 205 * 20 / 225)
    assert bounds(lower.outline_mm).top_mm == pytest.approx(100 + 5 * 20 / 225)


def test_a_cut_beside_every_zone_is_refused_and_its_last_point_taken_back(opened: Open) -> None:
    window = opened(job())
    task = begin(window, cut_wanted())
    said: list[str] = []
    window.canvas.hint.connect(said.append)
    type_place(window, "10, 10")
    type_place(window, "90, 10")
    assert "no zone lies under" in said[0]
    assert len(task.points) == 1


def test_a_crooked_leftover_is_traced_and_keeps_what_lies_on_it(opened: Open) -> None:
    window = opened(job())
    before = window.session.project.layout.placements
    begin(window, outline_wanted("cloth-1"))
    for place in ("8, 12", "455, 3", "450, 325", "15, 318"):
        type_place(window, place)
    keys(window, Qt.Key.Key_Return)
    project = window.session.project
    # The box begins at 8, 3.
    assert project.cloths[0].outline_mm == ((0.0, 9.0), (447.0, 0.0), (442.0, 322.0), (7.0, 315.0))
    assert [(placed.x_mm, placed.y_mm) for placed in project.layout.placements] == [
        (placed.x_mm - 8.0, placed.y_mm - 3.0) for placed in before
    ]
    assert project.cloths[0].flaws[0].points_mm[0] == (2.0, 297.0)
    window.session.undo()
    assert window.session.project == job()


def test_a_drawing_ends_with_its_cloth(opened: Open) -> None:
    window = opened(job(linen(), leftover()))
    begin(window, outline_wanted("cloth-2"))
    window.session.do(remove_cloth("cloth-2"))
    assert window.canvas.work.task is None


def test_what_is_drawn_is_painted_and_gone_when_given_up(opened: Open) -> None:
    window = opened(job())
    window.canvas.grab()
    for kind in (CREASE, STAIN, FRAYED):
        begin(window, flaw_wanted(kind))
        bare = window.canvas.grab().toImage()
        press(window, (300.0, 230.0))
        QTest.mouseMove(window.canvas, px(window, (390.0, 290.0)))
        QApplication.processEvents()
        assert window.canvas.grab().toImage() != bare
        keys(window, Qt.Key.Key_Escape)


def test_without_a_cloth_there_is_nothing_to_draw_on(opened: Open) -> None:
    window = opened(Project())
    task = begin(window, flaw_wanted(CREASE))
    press(window, (10.0, 10.0))
    assert task.points == ()
    window.menus.do("draw-crease")
    assert window.menus.acts["draw-crease"].why_not() == "There is no cloth yet; step 2 makes one."


@pytest.mark.parametrize("text", ["12", "1,2,3", "a, b", "120", ", ,"])
def test_a_place_is_two_lengths(text: str) -> None:
    with pytest.raises(BadInput):
        read_place(text, LengthStyle())


# What stands over the canvas, and how a task ends


@pytest.mark.parametrize("fitting", [True, False])
def test_the_table_makes_way_for_what_is_said_of_a_task_and_comes_back(opened: Open, fitting: bool) -> None:
    window = opened(job(linen()))
    canvas = window.canvas
    window.resize(1100, 560)
    QApplication.processEvents()
    canvas.sight.fit()
    if not fitting:
        # As near as before, but moved up until the cloth begins right below the ruler.
        top = canvas.view.box_px(canvas.bench.box).top_mm
        canvas.sight.pan_to(canvas.view.panned((0.0, 26.0 - top)))
    before = canvas.view
    begin(window, outline_wanted(canvas.bench.sheets[0].id))
    QApplication.processEvents()
    below = window.strip.geometry().bottom()
    for corner in canvas.bench.sheets[0].box.ring():
        at = px(window, corner)
        assert at.y() > below
        assert fitting is False or canvas.rect().contains(at)
    # The first corner, pressed where it is seen, is a point.
    press(window, canvas.bench.sheets[0].box.ring()[0])
    task = canvas.work.task
    assert isinstance(task, Drawing)
    assert len(task.points) == 1
    canvas.work.leave()
    assert canvas.view == before
    assert canvas.sight.fitting is fitting


def test_a_view_the_maker_chose_during_a_task_stays(opened: Open) -> None:
    window = opened(job(linen()))
    canvas = window.canvas
    top = canvas.view.box_px(canvas.bench.box).top_mm
    canvas.sight.pan_to(canvas.view.panned((0.0, 26.0 - top)))
    begin(window, outline_wanted(canvas.bench.sheets[0].id))
    canvas.sight.pan_to(canvas.view.panned((12.0, 0.0)))
    chosen = canvas.view
    canvas.work.leave()
    assert canvas.view == chosen


def test_the_strip_never_shrinks_while_a_task_goes_on(opened: Open) -> None:
    window = opened(job(linen()))
    begin(window, flaw_wanted(STAIN))
    height = window.strip.height()
    keys(window, Qt.Key.Key_Return)
    keys(window, Qt.Key.Key_2)
    QApplication.processEvents()
    assert window.strip.place.isVisible()
    assert window.strip.height() == height
    assert window.canvas.work.covered_px == window.strip.geometry().bottom() + 1


def three_points(window: Window) -> None:
    begin(window, outline_wanted(window.canvas.bench.sheets[0].id))
    for place in ("0, 0", "200, 8", "190, 150"):
        type_place(window, place)


def test_one_return_after_the_last_point_ends_and_a_second_one_goes_nowhere(
    opened: Open, monkeypatch: pytest.MonkeyPatch
) -> None:
    laid: list[str] = []
    monkeypatch.setattr(Keys, "lay_on", lambda _keys: laid.append("laid"))
    window = opened(job(linen()))
    window.canvas.setFocus()
    window.canvas.choose(("liner-back-1",))
    three_points(window)
    assert window.canvas.work.task is not None
    keys(window, Qt.Key.Key_Return)
    assert window.canvas.work.task is None
    keys(window, Qt.Key.Key_Return, Qt.Key.Key_Enter)
    assert laid == []
    QTest.qWait(650)
    keys(window, Qt.Key.Key_Return)
    assert laid == ["laid"]


def test_return_where_the_crosshair_stands_elsewhere_sets_a_point(opened: Open) -> None:
    window = opened(job(linen()))
    three_points(window)
    keys(window, Qt.Key.Key_Left)
    keys(window, Qt.Key.Key_Return)
    task = window.canvas.work.task
    assert isinstance(task, Drawing)
    assert [tuple(round(each, 6) for each in point) for point in task.points][2:] == [(190.0, 150.0), (189.0, 150.0)]


def test_a_return_held_down_does_not_end_what_it_began(opened: Open) -> None:
    window = opened(job(linen()))
    three_points(window)
    keys(window, Qt.Key.Key_Left)
    no = Qt.KeyboardModifier.NoModifier
    for repeats in (False, True, True):
        QApplication.sendEvent(
            window.canvas, QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Return, no, "\r", autorep=repeats)
        )
    task = window.canvas.work.task
    assert isinstance(task, Drawing)
    assert len(task.points) == 4
