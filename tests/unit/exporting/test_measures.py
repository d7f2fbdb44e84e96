from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.document.edits.cloths import change_cloth
from coverlayout.document.project import Project
from coverlayout.exporting.measures import measures
from coverlayout.geometry.shapes import bounds

# Cover 144.3 x 182.4 about its board's centre: 15 + 114.3 / 2 = 72.15 across, 15 + 152.4 / 2 = 91.2 down.
FRONT_LEFT_MM, FRONT_TOP_MM = 100.0 - 72.15, 120.0 - 91.2


def by_piece(project: Project, side: str):
    return {measure.piece: measure for measure in measures(project, "c", side)}


def test_the_print_side_measures_from_the_left_and_top_edges(project):
    front = by_piece(project, "print")["front-1"]
    assert front.box.left_mm == pytest.approx(FRONT_LEFT_MM)
    assert front.box.top_mm == pytest.approx(FRONT_TOP_MM)
    assert (front.box.width_mm, front.box.height_mm) == (pytest.approx(144.3), pytest.approx(182.4))


def test_seen_from_the_back_left_is_the_cloths_width_less_the_far_edge(project):
    front, back = by_piece(project, "print"), by_piece(project, "back")
    for piece, measure in front.items():
        assert back[piece].box.left_mm == pytest.approx(500.0 - (measure.box.left_mm + measure.box.width_mm), abs=1e-9)
        assert back[piece].box.top_mm == pytest.approx(measure.box.top_mm, abs=1e-9)


def test_a_quarter_turn_swaps_width_and_height_and_is_three_quarters_from_behind(project):
    assert by_piece(project, "print")["liner-front-1"].turn_deg == 90.0
    assert by_piece(project, "back")["liner-front-1"].turn_deg == 270.0
    assert by_piece(project, "back")["liner-front-1"].box.width_mm == pytest.approx(146.4)


def test_an_l_turned_a_quarter_keeps_its_corner_where_arithmetic_puts_it(project):
    # Middle of the L's bounding box is (30, 40). A clockwise quarter turn takes (dx, dy) to (-dy, dx): the inner corner
    # (25, 20), at (-5, -20) from the middle, comes to lie at (20, -5) from (420, 150).
    inner = by_piece(project, "print")["corner-1"].outline_mm[3]
    assert inner == (pytest.approx(440.0), pytest.approx(145.0))
    mirrored = by_piece(project, "back")["corner-1"].outline_mm[3]
    assert mirrored == (pytest.approx(500.0 - 440.0), pytest.approx(145.0))


def test_the_neighbour_to_the_left_and_above_is_named_and_measured(project):
    rows = by_piece(project, "print")
    # back-1 begins at 260 - 72.15 = 187.85, front-1 ends at 27.85 + 144.3 = 172.15.
    assert rows["back-1"].to_left.name == "front-1"
    assert rows["back-1"].to_left.distance_mm == pytest.approx(187.85 - 172.15)
    assert rows["front-1"].to_left == type(rows["front-1"].to_left)("edge", pytest.approx(FRONT_LEFT_MM))
    # liner-front-1 lies turned: 146.4 x 108.3 about (120, 300): its top at 245.85. Above it
    # are front-1, which ends at 28.8 + 182.4 = 211.2, and back-1, ten lower, which it passes by 193.2 - 187.85.
    assert rows["liner-front-1"].to_top.name == "back-1"
    assert rows["liner-front-1"].to_top.distance_mm == pytest.approx(245.85 - 221.2)


def test_from_the_back_the_neighbour_to_the_left_is_another(project):
    rows = by_piece(project, "back")
    assert rows["front-1"].to_left.name == "back-1"
    # corner-1 turned is 80 x 60 about (420, 150): it ends at 460, so 40 from the edge seen from behind.
    assert rows["corner-1"].to_left.name == "edge"
    assert rows["corner-1"].to_left.distance_mm == pytest.approx(40.0)


def test_the_place_in_the_repeat_is_the_anchor_less_the_origin_and_whole_repeats(project):
    # (100, 120) - (11, 23) = (89, 97) = 1 a + 1 b + rest with a = (50, 12), b = (7, 64): the rest is (32, 21).
    assert by_piece(project, "print")["front-1"].in_repeat_mm == (pytest.approx(32.0), pytest.approx(21.0))
    assert by_piece(project, "back")["front-1"].in_repeat_mm == (pytest.approx(32.0), pytest.approx(21.0))


def test_cut_pieces_are_measured_too_and_said_to_be_cut(project):
    label = by_piece(project, "print")["label-1"]
    assert (label.state, label.box.left_mm, label.box.top_mm) == ("cut", 410.0, 370.0)


def test_waiting_pieces_are_not_in_the_list_and_an_empty_cloth_gives_none(project):
    assert "liner-back-1" not in by_piece(project, "print")
    bare = Project(cloths=project.cloths, prints=project.prints)
    assert measures(bare, "c", "print") == ()


def test_an_irregular_cloth_ends_where_its_edge_does_beside_the_piece(project):
    slanted = ((0.0, 0.0), (500.0, 0.0), (500.0, 420.0), (30.0, 420.0))
    crooked = change_cloth("c", outline_mm=slanted).change(project)
    liner = by_piece(crooked, "print")["liner-front-1"]
    # The left edge runs from (0, 0) to (30, 420). Beside the liner it is nearest at the liner's lower end, y = 354.15.
    assert liner.to_left.distance_mm == pytest.approx((120.0 - 73.2) - 30.0 * 354.15 / 420.0)


def test_a_distance_is_told_with_the_place_where_it_is_nearest(project):
    slanted = ((0.0, 0.0), (500.0, 0.0), (500.0, 420.0), (30.0, 420.0))
    crooked = change_cloth("c", outline_mm=slanted).change(project)
    # The slanted edge is nearest at the liner's lower end, y = 354.15; front-1 is a third of its height down from 28.8
    # where back-1 and front-1 lie side by side from 38.8 to 211.2.
    assert by_piece(crooked, "print")["liner-front-1"].to_left.from_mm[1] == pytest.approx(354.15)
    assert by_piece(project, "print")["back-1"].to_left.from_mm[1] == pytest.approx(38.8 + (211.2 - 38.8) / 3)


def test_marks_lie_with_the_piece(project):
    front = by_piece(project, "back")["front-1"]
    board = next(mark for mark in front.marks if mark.kind == "board")
    box = bounds(board.points_mm)
    assert box.left_mm == pytest.approx(500.0 - (100.0 + 57.15))
    assert box.width_mm == pytest.approx(114.3)
    spine = next(mark for mark in front.marks if mark.kind == "spine edge")
    # A book that opens left has its spine at the left of the front board: at the right as seen from behind.
    assert {round(x, 6) for x, _ in spine.points_mm} == {round(500.0 - (100.0 - 57.15), 6)}


def test_one_piece_alone_is_measured_the_same(project):
    for piece, measure in by_piece(project, "back").items():
        assert measures(project, "c", "back", only=piece) == (measure,)
    assert measures(project, "c", "back", only="nobody") == ()


def test_rows_come_in_the_order_of_the_pieces_however_they_were_laid(project):
    backwards = project.with_layout(replace(project.layout, placements=project.layout.placements[::-1]))
    order = ["front-1", "back-1", "liner-front-1", "corner-1", "label-1"]
    assert [row.piece for row in measures(backwards, "c", "print")] == order
