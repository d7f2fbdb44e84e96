"""Pieces held to the print: places that bounds rule out, and what the last place left tells all others."""

from __future__ import annotations

import numpy as np
from laying import piece
from searching import root_of
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.layout.branching.holding import keep_held
from coverlayout.layout.branching.nodes import OPEN, Nodes
from coverlayout.layout.question import Link, Lock, Question
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
ROW = np.zeros(1, dtype=np.intp)
SQUARE = Lattice((50.0, 0.0), (0.0, 40.0))


def locked(*names: str, width_mm: float = 160.0, slack_mm: float = 0.0, turns: tuple[float, ...] = (0.0,)) -> Nodes:
    """Pieces of 30 x 20 and 31 x 20, ... whose top left is locked to the lattice at (3, 8)."""
    pieces = tuple(piece(name, 30.0 + k, 20.0, turns) for k, name in enumerate(names))
    on = printed_cloth(width_mm, 80, SQUARE, origin_mm=(3.0, 8.0))
    return root_of(Question(pieces, (on,), locks=tuple(Lock(name, ZERO, ZERO) for name in names)), slack_mm=slack_mm)


def left(nodes: Nodes, number: int, row: int = 0) -> list[tuple[float, float]]:
    places = nodes.tables.held.place[number][nodes.left[row, number]]
    return sorted((round(x, 4), round(y, 4)) for x, y in places.tolist())


def test_without_held_pieces_nothing_follows() -> None:
    nodes = root_of(Question((piece("a", 30, 20),), (printed_cloth(160, 80, SQUARE),)))
    assert not keep_held(nodes).any()


def test_the_outermost_places_bound_the_piece() -> None:
    nodes = locked("a")
    assert keep_held(nodes).all()
    assert left(nodes, 0) == [(x, y) for x in (3.0, 53.0, 103.0) for y in (8.0, 48.0)]
    assert (nodes.paths[0][0, 0, 1], -nodes.paths[0][0, 1, 0]) == (3.0, 103.0)
    assert (nodes.paths[1][0, 0, 1], -nodes.paths[1][0, 1, 0]) == (8.0, 48.0)
    assert not keep_held(nodes).any()


def test_bounds_rule_places_out_and_the_rest_bounds_again() -> None:
    nodes = locked("a")
    keep_held(nodes)
    nodes.add(0, ROW, 0, 1, 4.0)
    assert keep_held(nodes).all()
    assert left(nodes, 0) == [(x, y) for x in (53.0, 103.0) for y in (8.0, 48.0)]
    assert nodes.paths[0][0, 0, 1] == 53.0


def test_a_tolerance_more_is_left_when_a_no_is_to_be_proved() -> None:
    nodes = locked("a", slack_mm=0.01)
    keep_held(nodes)
    assert nodes.paths[0][0, 0, 1] == 3.0 - 0.05
    nodes.add(0, ROW, 0, 1, 3.04)
    keep_held(nodes)
    assert (3.0, 8.0) in left(nodes, 0)
    nodes.add(0, ROW, 0, 1, 3.06)
    keep_held(nodes)
    assert (3.0, 8.0) not in left(nodes, 0)


def test_a_follower_has_the_tolerance_of_its_link_and_of_the_lock() -> None:
    pieces = piece("a", 30, 20), piece("b", 26, 18), piece("c", 20, 10)
    links = tuple(Link(names, (ZERO, ZERO), (ZERO,)) for names in (("a", "b"), ("b", "c")))
    on = printed_cloth(160, 80, SQUARE, origin_mm=(3.0, 8.0))
    nodes = root_of(Question(pieces, (on,), locks=(Lock("a", ZERO, ZERO),), links=links), slack_mm=0.01)
    keep_held(nodes)
    assert nodes.tables.held.musts == (1, 2, 3)
    assert [round(float(nodes.paths[0][0, 0, k]), 6) for k in (1, 2, 3)] == [2.95, 2.9, 2.85]


def test_a_piece_with_one_place_left_tells_the_others_once() -> None:
    nodes = locked("a", "b", "c")
    keep_held(nodes)
    nodes.left[0, 1] = False
    nodes.left[0, 1, 0] = True
    (only,) = left(nodes, 1)
    assert keep_held(nodes).all()
    assert nodes.told.tolist() == [[False, True, False]]
    assert only not in left(nodes, 0)
    assert len(left(nodes, 0)) == len(left(nodes, 2)) == 5
    assert not keep_held(nodes).any()


def test_nodes_whose_piece_has_no_place_left_die() -> None:
    nodes = locked("a", "b").take(np.array([0, 0]))
    nodes.left[1, 0] = False
    keep_held(nodes)
    assert nodes.alive.tolist() == [True, False]


def test_two_that_have_the_same_last_place_cannot_both_lie_there() -> None:
    nodes = locked("a", "b", width_mm=60.0)
    keep_held(nodes)
    assert left(nodes, 0) == [(3.0, 8.0), (3.0, 48.0)]
    nodes.left[0, 0] &= nodes.tables.held.place[0, :, 1] < 40
    keep_held(nodes)
    assert left(nodes, 1) == [(3.0, 48.0)]
    nodes.left[0, 1] = False
    keep_held(nodes)
    assert nodes.alive.tolist() == [False]


def test_a_seat_that_all_places_share_is_the_seat() -> None:
    nodes = locked("a", turns=(0.0, 180.0))
    keep_held(nodes)
    assert nodes.seat.tolist() == [[OPEN]]
    nodes.left[0, 0] &= nodes.tables.held.seat[0] == 1
    assert keep_held(nodes).all()
    assert nodes.seat.tolist() == [[1]]
    # And a seat chosen leaves only its own places.
    other = locked("a", turns=(0.0, 180.0))
    other.seat_at(0, ROW, np.array([0]))
    keep_held(other)
    assert set(other.tables.held.seat[0][other.left[0, 0]].tolist()) == {0}
