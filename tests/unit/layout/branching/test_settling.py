"""What follows from what is known: forced choices, slanted lines, whole repeats, and nodes that have none left."""

from __future__ import annotations

import numpy as np
import pytest
from laying import ANY, cloth, flaw, piece
from searching import root_of
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.branching.nodes import Nodes
from coverlayout.layout.branching.settling import between, settle, take_normals, ways_left
from coverlayout.layout.question import Link, Lock, Question
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
ROW = np.zeros(1, dtype=np.intp)
SQUARE = Lattice((50.0, 0.0), (0.0, 40.0))


def way(nodes: Nodes, axis: int, i: int, j: int) -> tuple[float, float]:
    return float(nodes.paths[axis][0, i, j]), float(-nodes.paths[axis][0, j, i])


def test_two_that_cannot_lie_over_each_other_lie_beside_each_other() -> None:
    # 30 and 25 of 40 length; the spot in the corner keeps the job from being mirrored.
    on = cloth(200, 40, keep_outs=(flaw(rectangle(1, 1, 199, 39)),))
    nodes = root_of(Question((piece("a", 50, 30), piece("b", 60, 25)), (on,)))
    nodes.add(0, ROW, 0, 1, 70.0)
    nodes, seen = settle(nodes)
    assert len(nodes) == 1
    # Left of a there are 70 mm at least, right of it 200 - 120: both are open still, above and below are not.
    (choice,) = np.flatnonzero((nodes.tables.apart.first == 1) & (nodes.tables.apart.second == 2))
    assert seen.open[:, 0, choice].tolist() == [True, True, False, False]
    nodes.add(0, ROW, 0, 1, 95.0)
    nodes, _ = settle(nodes)
    # Right of a there are not 60 left: b is left of it.
    assert way(nodes, 0, 2, 1) == (60.0, 150.0)
    assert way(nodes, 0, 0, 2) == (0.0, 90.0)


def test_one_forced_choice_forces_the_next() -> None:
    # Three in a row on 150: once a is first and c not second, all is settled.
    pieces = piece("a", 40, 30), piece("b", 50, 30), piece("c", 60, 30)
    nodes = root_of(Question(pieces, (cloth(150, 40, keep_outs=(flaw(rectangle(0.1, 0.1, 149.9, 39.9)),)),)))
    nodes.add(0, ROW, 0, 3, 45.0)
    nodes.add(0, ROW, 1, 0, -5.0)
    nodes, _ = settle(nodes)
    assert len(nodes) == 1
    assert way(nodes, 0, 1, 3)[0] == 90.0
    assert way(nodes, 0, 0, 2) == (40.0, 40.0)


def test_without_any_way_left_a_node_dies_and_the_choice_is_blamed() -> None:
    nodes = root_of(Question((piece("a", 60, 30), piece("b", 60, 30)), (cloth(110, 50),)))
    before = nodes.blame.copy()
    left, seen = settle(nodes)
    assert len(left) == len(seen.active) == 0
    assert (nodes.blame - before).tolist() == [1.0]


def test_what_is_implied_is_active_no_more() -> None:
    nodes = root_of(Question((piece("a", 60, 30), piece("b", 30, 30)), (cloth(200, 150),)))
    nodes, seen = settle(nodes)
    assert seen.active.tolist() == [[True]]
    assert seen.seated.tolist() == [[True]]
    nodes.add(0, ROW, 1, 2, 60.0)
    assert settle(nodes)[1].active.tolist() == [[False]]


def test_a_choice_of_pieces_without_seats_asks_for_the_least_of_them() -> None:
    nodes = root_of(Question((piece("a", 60, 30, ANY), piece("b", 20, 20)), (cloth(200, 150),)))
    nodes, seen = settle(nodes)
    assert seen.seated.tolist() == [[False]]
    # To the right of a: 60 lying, 30 standing; and 20 below either 30 or 60.
    assert seen.bounds[:, 0, 0].tolist() == [30.0, 20.0, 30.0, 20.0]
    nodes.seat_at(0, ROW, np.array([0]))
    nodes, seen = settle(nodes)
    assert seen.seated.tolist() == [[True]]
    assert seen.bounds[:, 0, 0].tolist() == [60.0, 20.0, 30.0, 20.0]


def test_between_says_least_and_most_of_every_choice() -> None:
    nodes = root_of(Question((piece("a", 60, 30), piece("b", 20, 20)), (cloth(200, 150, up_deg=0.0),)))
    nodes.add(0, ROW, 1, 2, 60.0)
    low_x, high_x, low_y, high_y = between(nodes)
    # a keeps to the left and upper halves of its 140 and 120.
    assert (low_x[0, 0], high_x[0, 0]) == (60.0, 180.0)
    assert (low_y[0, 0], high_y[0, 0]) == (-60.0, 130.0)


def test_a_slanted_line_kept_bounds_each_axis_by_the_other() -> None:
    # A roof over the cloth's upper left: x + y >= 60 for the upper left corner of the piece.
    roof = flaw(((0.0, 0.0), (60.0, 0.0), (0.0, 60.0)))
    nodes = root_of(Question((piece("a", 10, 10),), (cloth(100, 100, keep_outs=(roof,)),)))
    nodes, seen = settle(nodes)
    slanted = [k for k, (nx, ny) in enumerate(nodes.tables.apart.normals.tolist()) if nx > 0.1 and ny > 0.1]
    (normal,) = slanted
    assert seen.open[normal, 0, 0]
    take_normals(nodes, ROW, ROW, np.array([normal]), seen.bounds[[normal], 0, 0])
    assert nodes.slant.tolist() == [[normal]]
    nodes.add(1, ROW, 1, 0, -20.0)
    nodes, _ = settle(nodes)
    # Not more than 20 down, so at least 40 across.
    assert way(nodes, 0, 0, 1) == pytest.approx((40.0, 90.0))
    nodes.add(0, ROW, 1, 0, -30.0)
    nodes, _ = settle(nodes)
    assert len(nodes) == 0


def test_a_slant_waits_until_the_pieces_have_their_seats() -> None:
    # A wedge in a corner that leaves one line only: which one hangs on the seat.
    wedge = flaw(((0.0, 0.0), (99.0, 0.0), (0.0, 99.0)))
    nodes = root_of(Question((piece("a", 30, 20, ANY),), (cloth(100, 100, keep_outs=(wedge,)),)))
    nodes, _ = settle(nodes)
    assert nodes.slant.tolist() == [[-1]]
    nodes.seat_at(0, ROW, np.array([0]))
    nodes, _ = settle(nodes)
    assert nodes.slant[0, 0] >= 4
    # x + y >= 99 with x up to 70, y up to 80.
    assert way(nodes, 0, 0, 1) == pytest.approx((19.0, 70.0), abs=1e-5)
    assert way(nodes, 1, 0, 1) == pytest.approx((29.0, 80.0), abs=1e-5)


def test_several_normals_of_one_node_are_taken_one_by_one() -> None:
    pieces = piece("a", 40, 30), piece("b", 50, 30), piece("c", 60, 30)
    nodes = root_of(Question(pieces, (cloth(400, 40),))).take(np.array([0, 0]))
    apart = nodes.tables.apart
    number = {(int(a), int(b)): k for k, (a, b) in enumerate(zip(apart.first, apart.second, strict=True))}
    rows, choices = np.array([0, 0, 1]), np.array([number[1, 2], number[2, 3], number[1, 2]])
    take_normals(nodes, rows, choices, np.array([0, 0, 1]), np.array([40.0, 50.0, 50.0]))
    assert nodes.paths[0][0, 1, 3] == 90.0
    assert nodes.paths[0][1, 2, 1] == 50.0


def linked(width_mm: float, lattice: Lattice = SQUARE) -> Nodes:
    link = Link(("a", "b"), (ZERO, ZERO), ((5.0, 0.0),))
    return root_of(
        Question((piece("a", 30, 20), piece("b", 26, 18)), (printed_cloth(width_mm, 60, lattice),), links=(link,))
    )


def test_a_link_bounds_the_way_to_its_outermost_repeats() -> None:
    nodes = linked(130.0)
    nodes, _ = settle(nodes)
    # From -100 + ... to 104: whole repeats and 5 are -95, -45, 5 and 55; two are on each other only with 40 along.
    assert way(nodes, 0, 1, 2) == (-95.0, 55.0)
    assert way(nodes, 1, 1, 2) == (-40.0, 40.0)
    (ways,) = ways_left(nodes)
    listed = {tuple(one) for one in ways.ways[0][ways.left[0]].tolist()}
    assert (5.0, 0.0) not in listed
    assert (5.0, 40.0) in listed
    nodes.add(0, ROW, 1, 2, 6.0)
    nodes, _ = settle(nodes)
    assert way(nodes, 0, 1, 2) == (55.0, 55.0)


def test_a_link_without_any_way_left_kills() -> None:
    nodes = linked(130.0)
    nodes.add(0, ROW, 1, 2, 56.0)
    nodes, _ = settle(nodes)
    assert len(nodes) == 0


def test_plain_stripes_bound_one_axis() -> None:
    nodes = linked(130.0, Lattice((25.0, 0.0)))
    nodes.add(0, ROW, 1, 2, 31.0)
    nodes, _ = settle(nodes)
    # Of 30 and 55 and 80, and no more up to 104.
    assert way(nodes, 0, 1, 2) == (55.0, 80.0)
    assert way(nodes, 1, 1, 2) == (-40.0, 42.0)


def test_a_link_says_nothing_before_both_have_seats() -> None:
    link = Link(("a", "b"), (ZERO, ZERO), ((5.0, 0.0),))
    on = printed_cloth(130, 60, SQUARE)
    nodes = root_of(Question((piece("a", 30, 20, (0.0, 180.0)), piece("b", 26, 18)), (on,), links=(link,)))
    assert ways_left(nodes) == []


def test_a_lock_on_stripes_bounds_the_place() -> None:
    on = printed_cloth(130, 60, Lattice((25.0, 0.0)))
    nodes = root_of(Question((piece("a", 30, 20),), (on,), locks=(Lock("a", ZERO, (7.0, 0.0)),)))
    nodes, _ = settle(nodes)
    assert way(nodes, 0, 0, 1) == (7.0, 82.0)
    assert way(nodes, 1, 0, 1) == (0.0, 40.0)


def test_the_living_come_back_in_their_order_with_what_they_look_like() -> None:
    # Four nodes: one that dies, and three that settle after different rounds.
    pieces = piece("a", 40, 30), piece("b", 50, 30), piece("c", 60, 30)
    row = root_of(Question(pieces, (cloth(150, 40, keep_outs=(flaw(rectangle(0.1, 0.1, 149.9, 39.9)),)),)))
    four = row.take(np.array([0, 0, 0, 0]))
    four.add(0, np.array([0]), 0, 3, 45.0)
    four.add(0, np.array([0]), 1, 0, -5.0)
    four.add(0, np.array([1]), 0, 2, 120.0)
    four.add(0, np.array([3]), 0, 1, 95.0)
    nodes, seen = settle(four)
    assert len(nodes) == len(seen.active) == seen.open.shape[1] == seen.bounds.shape[1] == 3
    assert [float(nodes.paths[0][k, 1, 3]) for k in (0, 1)] == [90.0, -110.0]
    assert float(nodes.paths[0][2, 0, 1]) == 95.0
    assert seen.active.any(axis=1).tolist() == [False, True, True]
