"""A covered board with four different turn-ins: outline, face, seen part, marks, mitres."""

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import TurnIns
from coverlayout.book.rules.table import rule
from coverlayout.book.turn_ins import (
    CoveredBoard,
    least_mitre_distance_mm,
    mitre_cut,
    mitre_overlap_mm,
    turn_in_mm,
    turned_edges,
)
from coverlayout.geometry.shapes import Box

# No two edges alike, so that a mixed-up side cannot hide.
COVERED = CoveredBoard((100.0, 150.0), 8.0, 20.0, 14.0, 17.0, thickness_mm=2.0, inset_mm=3.0, mitre_mm=3.0)


def test_the_cut_outline_is_the_full_rectangle() -> None:
    assert COVERED.outline == Box(0.0, 0.0, 8 + 100 + 20, 14 + 150 + 17)
    assert COVERED.board == Box(8.0, 14.0, 100.0, 150.0)


def test_seen_is_all_that_no_liner_covers() -> None:
    # 2 mm of board and 3 mm of inset stay visible beyond the face.
    assert COVERED.seen == Box(8 - 5, 14 - 5, 110.0, 160.0)
    assert replace(COVERED, inset_mm=None).seen == COVERED.outline


def test_a_turn_in_shorter_than_the_inset_is_seen_to_its_end() -> None:
    short = replace(COVERED, left_mm=4.0, tail_mm=0.0)
    assert short.seen == Box(0.0, 9.0, 4 + 100 + 5, 5 + 150)


def test_the_marks_are_face_fold_liner_and_four_mitres() -> None:
    kinds = [mark.kind for mark in COVERED.marks()]
    assert kinds == ["board", "turn-in", "liner", "mitre", "mitre", "mitre", "mitre"]
    board, fold, liner = COVERED.marks()[:3]
    assert board.points_mm == COVERED.board.ring()
    assert fold.points_mm == Box(6.0, 12.0, 104.0, 154.0).ring()
    assert liner.points_mm == COVERED.seen.ring()
    assert [mark.closed for mark in COVERED.marks()] == [True] * 3 + [False] * 4
    assert "liner" not in [mark.kind for mark in replace(COVERED, inset_mm=None).marks()]


def test_each_mitre_is_cut_at_45_degrees_its_distance_from_the_corner() -> None:
    corners = ((8.0, 14.0), (108.0, 14.0), (108.0, 164.0), (8.0, 164.0))
    outline = COVERED.outline
    for corner, ((x0, y0), (x1, y1)) in zip(corners, COVERED.mitre_lines(), strict=True):
        assert abs(x1 - x0) == pytest.approx(abs(y1 - y0))
        length = math.hypot(x1 - x0, y1 - y0)
        distance = abs((x1 - x0) * (y0 - corner[1]) - (x0 - corner[0]) * (y1 - y0)) / length
        assert distance == pytest.approx(3.0)
        # It runs from one edge of the cloth to the other, outside the board's corner.
        assert x0 in (pytest.approx(0.0), pytest.approx(outline.right_mm))
        assert y1 in (pytest.approx(0.0), pytest.approx(outline.bottom_mm))
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        board = COVERED.board
        assert not (board.left_mm < middle[0] < board.right_mm and board.top_mm < middle[1] < board.bottom_mm)


def test_the_head_left_mitre_lies_where_arithmetic_puts_it() -> None:
    reach = 3.0 * math.sqrt(2)
    (start, end), *_ = COVERED.mitre_lines()
    assert start == pytest.approx((0.0, 14 - (reach - 8)))
    assert end == pytest.approx((8 - (reach - 14), 0.0))


def test_a_corner_without_cloth_needs_no_mitre() -> None:
    bare = replace(COVERED, left_mm=2.0, head_mm=2.0)
    assert len(bare.mitre_lines()) == 3
    assert replace(COVERED, left_mm=0.0, right_mm=0.0, head_mm=1.0, tail_mm=1.0).mitre_lines() == ()


def test_the_usual_mitre_overlaps_and_the_least_just_closes() -> None:
    for thickness in (1.5, 2.0, 3.0):
        least = least_mitre_distance_mm(thickness)
        assert mitre_overlap_mm(least, thickness) == pytest.approx(0.0, abs=1e-12)
        assert rule("mitre distance", "flat-case").figure(thickness) > least


def test_each_edge_has_its_turn_in_and_only_boards_covered_alone_one_at_the_spine() -> None:
    turn_ins = TurnIns(head_mm=1.0, tail_mm=2.0, spine_mm=3.0, fore_edge_mm=4.0)
    edges = turned_edges("separate-boards")
    assert {edge: turn_in_mm(turn_ins, edge) for edge in edges} == {"head": 1, "tail": 2, "spine": 3, "fore-edge": 4}
    assert turned_edges("side-sewn") == edges
    for structure in ("exposed-spine-wrap", "flat-case", "rounded-case", "half-case", "limp-wrap"):
        assert turned_edges(structure) == ("head", "tail", "fore-edge")


def test_beyond_the_folded_edge_the_cloth_lies_inside() -> None:
    assert COVERED.folded == Box(6.0, 12.0, 104.0, 154.0)


def test_a_mitre_is_cut_from_edge_to_edge_with_turn_ins_that_differ() -> None:
    """At 45 degrees, 3 mm from the corner: out sideways and endways add up to sqrt2 x 3 all along."""
    cut = mitre_cut(20.0, 12.0, 3.0)
    assert cut is not None
    (first_out, first_end), (second_out, second_end) = cut
    assert (first_out, second_end) == (20.0, 12.0)
    assert first_out + first_end == pytest.approx(3 * math.sqrt(2))
    assert second_out + second_end == pytest.approx(3 * math.sqrt(2))
    assert mitre_cut(2.0, 2.2, 3.0) is None


def test_a_slipcase_is_turned_in_at_its_mouth_and_laps_at_its_head() -> None:
    assert turned_edges("slipcase") == ("head", "fore-edge")
