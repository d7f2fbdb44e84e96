"""The base line is set in one step: the print is laid by it, and what lies on the print keeps its motif."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import OwnPiece, Source
from coverlayout.cloth.base_line import base_line_now
from coverlayout.cloth.cloth import BaseLine, Change, Cloth, Zone
from coverlayout.cloth.usable import laid_to_cloth
from coverlayout.document.edits.cloths import add_change, remove_change
from coverlayout.document.history import Edit
from coverlayout.document.measuring.base_lines import laid_at, line_found, measure_from_line, set_base_line, set_skew
from coverlayout.document.project import Layout, Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.document.session import Session
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import turn
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

SHEARED = Lattice((50.0, 12.0), (7.0, 64.0))
DOTS = Lattice((40.0, 0.0), (0.0, 40.0))
CLOTH = Cloth("cloth-1", "Swatch", 400.0, 300.0, laid=LaidPrint("p", (11.0, 23.0)))
PROJECT = Project(
    prints=(Print("p", "Flags", SHEARED), Print("q", "Dots", DOTS)),
    cloths=(CLOTH, Cloth("cloth-2", "Plain", 200.0, 200.0)),
    own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0, count=2, turns="none"),),
    layouts=(
        Layout(
            "layout-1", "a", (Placed("pocket-1", "cloth-1", 150.0, 140.0), Placed("pocket-2", "cloth-2", 99.0, 99.0))
        ),
        Layout("layout-2", "b", (Placed("pocket-1", "cloth-1", 250.0, 140.0),)),
    ),
)
START = (61.0, 99.0)
WAY = turn(2.0).vector((200.0, 48.0))
LINE = BaseLine(START, (START[0] + WAY[0], START[1] + WAY[1]), repeats=(4, 0))


def code_of(edit: Edit, project: Project = PROJECT) -> str:
    with pytest.raises(BadInput) as caught:
        edit.change(project)
    assert str(caught.value)
    return caught.value.code


def test_one_step_sets_the_line_and_lays_the_print():
    session = Session(PROJECT)
    session.do(set_base_line("cloth-1", LINE, name="Swatch"))
    cloth = session.project.cloths[0]
    assert session.undo_name == "Set the base line of Swatch"
    assert cloth.base_line == LINE
    assert cloth.laid is not None
    assert cloth.laid.turn_deg == pytest.approx(2.0)
    assert cloth.laid.print_to_cloth().at((50.0, 76.0)) == pytest.approx(START)
    session.undo()
    assert session.project == PROJECT


def test_planned_pieces_keep_their_motif_and_their_turn_in_the_print():
    new = set_base_line("cloth-1", LINE).change(PROJECT)
    for layout, was in zip(new.layouts, PROJECT.layouts, strict=True):
        place, before = layout.placements[0], was.placements[0]
        # (x, y) about the start, turned by 2 degrees.
        dx, dy = turn(2.0).vector((before.x_mm - START[0], before.y_mm - START[1]))
        assert (place.x_mm, place.y_mm) == pytest.approx((START[0] + dx, START[1] + dy))
        assert place.turn_deg == pytest.approx(2.0)
    assert new.layouts[0].placements[1] == PROJECT.layouts[0].placements[1]
    assert judge_for(new).report(placed_now(new)).breaches == ()


def test_without_laying_only_the_line_is_kept():
    new = set_base_line("cloth-1", LINE, lay=False).change(PROJECT)
    assert new == PROJECT.with_cloth(replace(CLOTH, base_line=LINE))
    plain = set_base_line("cloth-2", BaseLine((5.0, 5.0), (150.0, 9.0)), lay=False).change(PROJECT)
    assert plain.cloths[1].base_line == BaseLine((5.0, 5.0), (150.0, 9.0))


def test_the_line_can_be_taken_away_and_the_print_stays_as_it_is():
    laid = set_base_line("cloth-1", LINE).change(PROJECT)
    gone = set_base_line("cloth-1", None).change(laid)
    assert gone.cloths[0].base_line is None
    assert gone.cloths[0].laid == laid.cloths[0].laid


def test_washing_carries_line_and_print_along_together():
    washed = add_change("cloth-1", Change("washing", -3.0, -1.0)).change(set_base_line("cloth-1", LINE).change(PROJECT))
    cloth = washed.cloths[0]
    now = base_line_now(cloth)
    assert now is not None
    assert cloth.laid is not None
    assert now[0] == pytest.approx((START[0] * 0.97, START[1] * 0.99))
    motif = laid_to_cloth(cloth, cloth.laid).inverse().at(now[0])
    end = laid_to_cloth(cloth, cloth.laid).inverse().at(now[1])
    assert (end[0] - motif[0], end[1] - motif[1]) == pytest.approx((200.0, 48.0))


def test_a_line_set_after_washing_contains_it_and_survives_taking_it_back():
    washed = add_change("cloth-1", Change("washing", -3.0, -1.0)).change(PROJECT)
    lined = set_base_line("cloth-1", LINE).change(washed)
    line, laid = lined.cloths[0].base_line, lined.cloths[0].laid
    assert line is not None
    assert laid is not None
    assert (line.changes_in, laid.changes_in) == (1, 1)
    back = remove_change("cloth-1", 0).change(lined)
    assert back.cloths[0].base_line == replace(LINE, changes_in=0)
    assert base_line_now(back.cloths[0]) == (LINE.start_mm, LINE.end_mm)


def test_what_would_come_of_it_is_known_before_it_is_done():
    found = line_found(PROJECT, "cloth-1", LINE)
    assert found.turned_deg == pytest.approx(2.0)
    assert found.laid == set_base_line("cloth-1", LINE).change(PROJECT).cloths[0].laid


def test_a_line_that_tells_nothing_is_refused_and_nothing_changes():
    one_point = BaseLine(START, START, repeats=(1, 0))
    assert code_of(set_base_line("cloth-1", one_point)) == "base-line-one-point"
    assert code_of(set_base_line("cloth-1", one_point, lay=False)) == "base-line-one-point"
    assert code_of(set_base_line("cloth-1", replace(LINE, repeats=(0, 0)))) == "base-line-no-repeat"
    assert code_of(set_base_line("cloth-1", replace(LINE, repeats=(7, 0)))) == "base-line-stretch"
    beside = replace(LINE, start_mm=(401.0, 9.0))
    assert code_of(set_base_line("cloth-1", beside)) == "base-line-off-cloth"
    assert code_of(set_base_line("cloth-1", beside, lay=False)) == "base-line-off-cloth"
    short = BaseLine((9.0, 9.0), (99.0, 9.0), (1, 0))
    assert code_of(set_base_line("cloth-2", short)) == "base-line-no-print"
    assert code_of(set_base_line("cloth-9", LINE)) == "id-unknown"


def zoned() -> Project:
    zones = (
        Zone("zone-1", "left", rectangle(200.0, 300.0), LaidPrint("p", (11.0, 23.0))),
        Zone("zone-2", "right", rectangle(200.0, 300.0, 200.0), LaidPrint("q", (3.0, 4.0))),
    )
    layout = Layout(
        "layout-1", "a", (Placed("pocket-1", "cloth-1", 90.0, 140.0), Placed("pocket-2", "cloth-1", 300.0, 140.0))
    )
    own = replace(PROJECT.own_pieces[0], source=Source())
    return replace(
        PROJECT.with_cloth(replace(CLOTH, laid=None, zones=zones)),
        layouts=(layout,),
        layout_id="layout-1",
        own_pieces=(own,),
    )


def test_on_a_cloth_of_zones_the_line_lays_the_print_of_its_own_zone():
    project = zoned()
    end = turn(-1.0).vector((0.0, 160.0))
    line = BaseLine((220.0, 60.0), (220.0 + end[0], 60.0 + end[1]), repeats=(0, 4))
    new = set_base_line("cloth-1", line).change(project)
    left, right = new.cloths[0].zones
    assert left == project.cloths[0].zones[0]
    assert right.laid is not None
    assert right.laid.turn_deg == pytest.approx(-1.0)
    assert new.layout.placements[0] == project.layout.placements[0]
    assert new.layout.placements[1].turn_deg == pytest.approx(359.0)
    assert laid_at(project.cloths[0], (500.0, 500.0)) == (None, None)
    gap = replace(project.cloths[0], zones=project.cloths[0].zones[:1])
    assert code_of(set_base_line("cloth-1", line), project.with_cloth(gap)) == "base-line-no-print"


def test_measures_are_taken_from_the_line_when_there_is_one():
    lined = set_base_line("cloth-1", LINE).change(PROJECT)
    wanted = measure_from_line("cloth-1", True, name="Swatch")
    assert wanted.name.text() == "Measure Swatch from its base line"
    measured = wanted.change(lined)
    assert measured.cloths[0].base_line == replace(LINE, measured_from=True)
    assert measure_from_line("cloth-1", False).change(measured) == lined
    assert code_of(wanted) == "base-line-no-ends"


def test_skew_is_set_on_the_print_by_its_definition():
    new = set_skew("cloth-1", 6.0, 200.0).change(PROJECT)
    assert new.cloths[0].laid == replace(PROJECT.cloths[0].laid, skew_percent=3.0)
    one = set_skew("cloth-1", -2.0, 100.0, "zone-2").change(zoned())
    assert [zone.laid.skew_percent for zone in one.cloths[0].zones if zone.laid] == [0.0, -2.0]
    assert code_of(set_skew("cloth-2", 6.0, 200.0)) == "base-line-no-print"
    assert code_of(set_skew("cloth-1", 6.0, 0.0)) == "skew-out-of-range"


def test_skew_is_that_of_the_cloth_as_it_now_is():
    """A print 7 degrees crooked on cloth that lost 10 % across: what is measured now, 6 over 200, is there afterwards.

    Measured by hand: the far end of a step across the print lies off the square to its lengthwise direction.
    """
    washed = replace(CLOTH, changes=(Change("washing", -10.0, 0.0),), laid=LaidPrint("p", (11.0, 23.0), 7.0, 0.0, 5.0))
    new = set_skew("cloth-1", 6.0, 200.0).change(replace(PROJECT, cloths=(washed, PROJECT.cloths[1])))
    laid = new.cloths[0].laid
    to_cloth = laid_to_cloth(new.cloths[0], laid)
    (ax, ay), (bx, by) = to_cloth.vector((1.0, 0.0)), to_cloth.vector((0.0, 1.0))
    assert 100 * (ax * bx + ay * by) / (ax * by - ay * bx) == pytest.approx(3.0)
    assert (laid.skew_percent, laid.changes_in) == (3.0, 1)
    assert laid.origin_mm == pytest.approx((11.0 * 0.9, 23.0))
    # The lengthwise direction is where it was: (-sin 7, cos 7) before, its x a tenth shorter now.
    assert bx / by == pytest.approx(-0.9 * math.tan(math.radians(7.0)))


def test_a_piece_turned_along_keeps_a_turn_from_0_up_to_360():
    """A tenth of a degree to the left: from 0.05 it comes to 359.95."""
    angle = math.radians(-0.1)
    line = BaseLine((60.0, 60.0), (60.0 + 160.0 * math.cos(angle), 60.0 + 160.0 * math.sin(angle)), (4, 0))
    dotted = replace(PROJECT, cloths=(replace(CLOTH, laid=LaidPrint("q")),))
    piece = OwnPiece("own-1", "label", 20.0, 10.0, turns="free")
    start = replace(
        dotted,
        own_pieces=(piece,),
        layouts=(Layout("layout-1", "one", (Placed("label-1", "cloth-1", 90.0, 90.0, 0.05),)),),
    )
    moved = set_base_line("cloth-1", line).change(start)
    assert moved.layout.placements[0].turn_deg == pytest.approx(359.95)
