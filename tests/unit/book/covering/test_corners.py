"""Corners of a half case: the triangle and its lines by arithmetic, with turn-ins that differ."""

import math

import pytest

from coverlayout.book.covering.corners import Corner
from coverlayout.geometry.shapes import area_mm2

# The board's corner lies at (100, 0); 20 mm are turned in at the fore-edge, 15 at the head.
HEAD = Corner((100.0, 0.0), False, 30.0, 4.0, 20.0, 15.0, 2.0, 3.0, hidden_from_mm=5.0)
# The tail of a board 150 high, 12 mm turned in there.
TAIL = Corner((100.0, 150.0), True, 30.0, 4.0, 20.0, 12.0, 2.0, 3.0, hidden_from_mm=None)
SEEN_LEG = 30 - 4 * math.sqrt(2)


def on_line(point: tuple[float, float], first: tuple[float, float], second: tuple[float, float]) -> bool:
    (x, y), (x0, y0), (x1, y1) = point, first, second
    return math.isclose((x - x0) * (y1 - y0), (y - y0) * (x1 - x0), abs_tol=1e-9)


@pytest.mark.parametrize(
    ("corner", "end_mm", "legs_end"),
    [(HEAD, 15.0, ((70.0, 0.0), (100.0, 30.0))), (TAIL, 12.0, ((70.0, 150.0), (100.0, 120.0)))],
)
def test_the_outline_is_a_triangle_whose_slanting_edge_runs_through_the_ends_of_the_legs(
    corner: Corner, end_mm: float, legs_end: tuple[tuple[float, float], tuple[float, float]]
) -> None:
    """Its legs are as long as the leg on the board and both turn-ins: 30 + 20 + 15 and 30 + 20 + 12 mm."""
    assert len(corner.outline_mm) == 3
    leg = 30 + 20 + end_mm
    assert area_mm2(corner.outline_mm) == pytest.approx(leg * leg / 2)
    ends = corner.line(30.0, 20.0, end_mm)
    for point in legs_end:
        assert on_line(point, *ends)
    assert set(ends) < set(corner.outline_mm)


def test_the_vertices_with_turn_ins_that_differ() -> None:
    assert set(HEAD.outline_mm) == {(120.0, -15.0), (55.0, -15.0), (120.0, 50.0)}
    assert set(TAIL.outline_mm) == {(120.0, 162.0), (58.0, 162.0), (120.0, 100.0)}


def test_the_side_hides_a_lap_measured_across_the_slanting_edge() -> None:
    assert HEAD.seen_leg_mm == pytest.approx(SEEN_LEG)
    face = HEAD.piece().faces[0].outline_mm
    assert area_mm2(face) == pytest.approx(SEEN_LEG**2 / 2)
    # The distance between the two parallel edges is the lap.
    (x0, y0), (x1, y1) = HEAD.line(30.0, 0.0, 0.0)
    px, py = HEAD.line(SEEN_LEG, 0.0, 0.0)[0]
    assert abs((x1 - x0) * (y0 - py) - (x0 - px) * (y1 - y0)) / math.dist((x0, y0), (x1, y1)) == pytest.approx(4.0)


def test_the_piece_is_anchored_in_the_middle_of_what_is_seen() -> None:
    """The centre of gravity of a triangle lies a third of each leg from the square corner."""
    assert HEAD.piece().anchor_mm == pytest.approx((100 - SEEN_LEG / 3, SEEN_LEG / 3))
    assert TAIL.piece().anchor_mm == pytest.approx((100 - SEEN_LEG / 3, 150 - SEEN_LEG / 3))


def test_what_stays_seen_ends_at_the_liner_and_at_the_side() -> None:
    seen = HEAD.piece().seen_mm
    assert seen is not None
    expected = ((105.0, -5.0), (105.0, SEEN_LEG + 5), (100 - SEEN_LEG - 5, -5.0))
    assert [pytest.approx(point) for point in expected] == list(seen)
    bare = TAIL.piece().seen_mm
    assert bare is not None
    expected = ((120.0, 162.0), (100 - SEEN_LEG - 12, 162.0), (120.0, 150 - SEEN_LEG - 20))
    assert [pytest.approx(point) for point in expected] == list(bare)


def test_marks_of_a_corner_at_the_head_and_at_the_tail() -> None:
    kinds = [mark.kind for mark in HEAD.piece().marks]
    assert kinds == ["board", "turn-in", "liner", "mitre", "lap", "head"]
    assert [mark.kind for mark in TAIL.piece().marks] == ["board", "turn-in", "mitre", "lap"]
    marks = {mark.kind: mark.points_mm for mark in HEAD.piece().marks}
    assert marks["turn-in"] == ((68.0, -2.0), (102.0, -2.0), (102.0, 32.0))
    assert marks["liner"] == ((65.0, -5.0), (105.0, -5.0), (105.0, 35.0))
    assert marks["head"] == ((70.0, 0.0), (100.0, 0.0))
    # A cut at 45 degrees, 3 mm from the board's corner: sqrt2 x 3 out on either side.
    reach = 3 * math.sqrt(2)
    assert marks["mitre"] == ((120.0, pytest.approx(20 - reach)), (pytest.approx(100 + reach - 15), -15.0))


def test_no_mitre_where_the_turn_ins_are_too_small_for_one() -> None:
    small = Corner((100.0, 0.0), False, 30.0, 4.0, 1.0, 2.0, 2.0, 3.0)
    assert "mitre" not in [mark.kind for mark in small.piece().marks]
