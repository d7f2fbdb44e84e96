"""Sides: full rectangles, whose seen part ends at the corners; marks and what they carry over."""

import math
from dataclasses import replace

import pytest
from half_case import HALF, plan

from coverlayout.book.book import Source
from coverlayout.book.covering.sides import side_of_front
from coverlayout.geometry.shapes import Box, area_mm2, bounds

QUARTER = replace(HALF, structure="quarter-case", side_turns="half", side_source=Source("print-2"))
SEEN_LEG = 25 - 4 * math.sqrt(2)


def test_a_side_is_the_rest_of_the_board_with_its_lap_and_turned_in_on_three_edges() -> None:
    side = side_of_front(plan(QUARTER))
    # 100 - 30 + 4 on the board and 20 turned in.
    assert bounds(side.outline_mm) == Box(42.0, -14.0, 94.0, 181.0)
    assert side.board == Box(42.0, 0.0, 74.0, 150.0)
    assert side.anchor_mm == (79.0, 75.0)
    assert (side.id, side.kind, side.turns, side.source) == ("side-front", "side", "half", Source("print-2"))
    assert bounds(side.faces[0].outline_mm) == side.board
    assert side.seen_mm == Box(42.0, -5.0, 79.0, 160.0).ring()


def test_a_half_case_is_cut_as_a_rectangle_too_and_seen_without_its_corners() -> None:
    side = side_of_front(plan(HALF))
    assert bounds(side.outline_mm) == Box(42.0, -14.0, 94.0, 181.0)
    assert area_mm2(side.outline_mm) == pytest.approx(94 * 181)
    assert area_mm2(side.faces[0].outline_mm) == pytest.approx(74 * 150 - SEEN_LEG**2)
    assert side.seen_mm is not None
    # The slanting cuts run on over the rims of 5 mm.
    assert area_mm2(side.seen_mm) == pytest.approx(79 * 160 - (SEEN_LEG + 10) ** 2, abs=0.01)


def test_marks_of_a_quarter_case_have_mitres_and_those_of_a_half_case_lines_to_trim_to() -> None:
    quarter = [mark.kind for mark in side_of_front(plan(QUARTER)).marks]
    assert quarter == ["board", "turn-in", "liner", "mitre", "mitre", "lap", "spine edge", "head"]
    half = [mark.kind for mark in side_of_front(plan(replace(HALF, liners="none"))).marks]
    assert half == ["board", "turn-in", "lap", "lap", "lap", "spine edge", "head"]


def test_where_the_marks_lie() -> None:
    marks = side_of_front(plan(QUARTER)).marks
    assert marks[1].points_mm == ((42.0, -2.0), (118.0, -2.0), (118.0, 152.0), (42.0, 152.0))
    reach = 3 * math.sqrt(2)
    assert marks[3].points_mm == ((136.0, pytest.approx(20 - reach)), (pytest.approx(116 + reach - 14), -14.0))
    assert marks[4].points_mm == ((136.0, pytest.approx(130 + reach)), (pytest.approx(116 + reach - 17), 167.0))
    assert marks[5].points_mm == ((46.0, 0.0), (46.0, 150.0))
    assert marks[6].points_mm == ((42.0, 0.0), (42.0, 150.0))
    assert marks[7].points_mm == ((42.0, 0.0), (116.0, 0.0))
    trims = [mark.points_mm for mark in side_of_front(plan(HALF)).marks if mark.kind == "lap"]
    assert trims[0][0] == pytest.approx((116 - SEEN_LEG - 14, -14.0))
    assert trims[0][1] == pytest.approx((136.0, SEEN_LEG + 20))
    assert trims[1][0] == pytest.approx((116 - SEEN_LEG - 17, 167.0))
    assert trims[1][1] == pytest.approx((136.0, 150 - SEEN_LEG - 20))


def test_the_line_of_a_large_corner_leaves_the_side_at_its_spine_edge() -> None:
    """Legs of 70 mm, up to the cloth of the spine: at the head the line would run out past the side's edge at 42."""
    large = side_of_front(plan(replace(HALF, corner_leg_mm=70.0)))
    start, end = next(mark.points_mm for mark in large.marks if mark.kind == "lap")
    leg = 70 - 4 * math.sqrt(2)
    assert start == (42.0, pytest.approx(leg - 74))
    assert end == (136.0, pytest.approx(leg + 20))


def test_no_mitre_where_hardly_anything_is_turned_in() -> None:
    little = replace(QUARTER, turn_ins=replace(QUARTER.turn_ins, head_mm=1.0, fore_edge_mm=2.0))
    assert [mark.kind for mark in side_of_front(plan(little)).marks].count("mitre") == 1
