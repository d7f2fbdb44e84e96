"""One node of the search: relations open at first, what choosing holds, angles narrowed, and nodes asked anew."""

from __future__ import annotations

import math

import pytest

from coverlayout.geometry.shapes import Box
from coverlayout.layout.positions.nodes import FIRST_DIAGONAL, RELATIONS, Asked, Node
from coverlayout.layout.positions.seats import Seats
from coverlayout.layout.search.sheets import Pose, Sheet

I_LEFT, J_LEFT, I_ABOVE, J_ABOVE, I_LEFT_ABOVE = range(5)


def seats(width: float, height: float, *sizes: tuple[float, float]) -> Seats:
    poses = [Pose(0.0, w, h, (0.0, 0.0), Box(0.0, 0.0, w, h)) for w, h in sizes]
    return Seats(Sheet("c", "g", Box(0.0, 0.0, width, height), ()), poses, gap_mm=0.0)


def test_only_relations_that_the_ground_allows_are_open() -> None:
    node = Node(Asked(seats(100, 50, (40, 30), (50, 25)), 2.0))
    open_relations, implied = node.open_relations()
    # Beside each other 96 of 100 are needed, above each other 61 of 50; at corners 55 alone are too many. The first to
    # the right of the second is the same mirrored.
    assert open_relations[0].tolist() == [True, False, False, False, False, False, False, False]
    assert not implied[0]


def test_a_chosen_relation_holds_and_is_implied_then() -> None:
    node = Node(Asked(seats(100, 100, (40, 30), (50, 25)), 2.0))
    assert node.choose(0, I_LEFT)
    assert node.paths[0][0].tolist() == [0.0, 2.0, 44.0]
    assert node.open_relations()[1][0]
    assert node.gaps()[0].tolist() == [2.0]
    assert not Node(Asked(seats(90, 100, (40, 30), (50, 25)), 2.0)).choose(0, J_LEFT)


def test_a_node_asked_for_more_holds_the_same_or_is_impossible() -> None:
    asked = Asked(seats(100, 100, (40, 30), (50, 25)), 2.0)
    node = Node(asked)
    node.choose(0, I_LEFT)
    same = Node(asked, node)
    assert same.paths[0] is not node.paths[0]
    assert same.paths[0].tolist() == node.paths[0].tolist()
    more = Node(Asked(asked.seats, 3.0), node)
    assert more.is_possible
    assert more.paths[0][0].tolist() == [0.0, 3.0, 46.0]
    assert not Node(Asked(asked.seats, 3.4), node).is_possible
    assert not Node(Asked(asked.seats, 60.0)).is_possible


def test_what_a_pair_does_not_take_bounds_it() -> None:
    asked = Asked(seats(200, 200, (40, 30), (50, 25)), 2.0)
    node = Node(asked)
    assert node.hold(asked.without(0, I_LEFT))
    # Not left by 2 mm: at most 42 mm between their left edges.
    assert node.paths[0][2, 1] == -42.0
    assert asked.without(0, I_ABOVE)[0].axis == 1
    assert asked.without(0, I_LEFT_ABOVE) == []


def test_corner_angles_are_narrowed_to_what_the_ground_leaves() -> None:
    # At most 3 mm between them across, so that 5 mm ask for an angle of at least acos(3 / 5).
    asked = Asked(seats(113, 200, (50, 30), (50, 25)), 5.0)
    node = Node(asked)
    assert node.choose(0, I_LEFT_ABOVE)
    assert node.sharpen()
    low, high = node.angles[0]
    assert low == pytest.approx(math.acos(0.6))
    assert high == pytest.approx(math.pi / 2)
    # Which asks for 4 mm along.
    assert node.paths[1][1, 2] == pytest.approx(30.0 + 4.0)
    assert not Node(asked).choose(0, I_LEFT_ABOVE, (0.0, 0.5))
    # With 3 mm both ways, corners are 4.2 mm apart at most.
    narrow = Node(Asked(seats(113, 68, (50, 30), (50, 25)), 5.0))
    assert narrow.choose(0, I_LEFT_ABOVE)
    assert not narrow.sharpen()


def test_relations_come_in_pairs_of_orders() -> None:
    assert RELATIONS[I_LEFT] == (0, None)
    assert RELATIONS[J_ABOVE] == (None, 1)
    assert all(None in relation for relation in RELATIONS[:FIRST_DIAGONAL])
    assert len(set(RELATIONS)) == 8
