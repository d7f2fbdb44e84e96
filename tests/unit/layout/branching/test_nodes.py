"""What nodes know and how it adds up: longest paths, seats, areas, and some of them taken."""

from __future__ import annotations

import numpy as np
import pytest
from laying import ANY, cloth, flaw, piece
from searching import root_of, tables_for
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.branching.nodes import OPEN, Nodes, root
from coverlayout.layout.question import Lock, PieceAsked, Question
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
ROW = np.zeros(1, dtype=np.intp)
SPOT = flaw(rectangle(1, 1, 199, 149))


def nodes_of(*pieces: PieceAsked) -> Nodes:
    """A cloth with a spot in its corner, so that nothing is mirrored."""
    return root_of(Question(pieces, (cloth(200, 150, keep_outs=(SPOT,)),)))


def between(nodes: Nodes, axis: int, i: int, j: int, row: int = 0) -> tuple[float, float]:
    """The least and the most of place j minus place i."""
    return float(nodes.paths[axis][row, i, j]), float(-nodes.paths[axis][row, j, i])


def test_the_root_knows_where_every_piece_may_lie() -> None:
    nodes = nodes_of(piece("a", 40, 20), piece("b", 30, 50))
    assert len(nodes) == 1
    assert between(nodes, 0, 0, 1) == (0.0, 160.0)
    assert between(nodes, 1, 0, 2) == (0.0, 100.0)
    # And so how far they may be apart, over the origin.
    assert between(nodes, 0, 1, 2) == (-160.0, 170.0)
    assert between(nodes, 1, 1, 2) == (-130.0, 100.0)
    assert nodes.seat.tolist() == [[0, 0]]
    assert nodes.alive.tolist() == [True]


def test_a_piece_with_several_seats_has_none_yet_and_the_widest_range() -> None:
    nodes = nodes_of(piece("a", 40, 20, ANY), piece("b", 30, 50))
    assert nodes.seat.tolist() == [[OPEN, 0]]
    assert between(nodes, 0, 0, 1) == (0.0, 180.0)
    assert between(nodes, 1, 0, 1) == (0.0, 130.0)
    nodes.seat_at(0, ROW, np.array([1]))
    assert nodes.seat.tolist() == [[1, 0]]
    assert between(nodes, 0, 0, 1) == (0.0, 180.0)
    assert between(nodes, 1, 0, 1) == (0.0, 110.0)


def test_what_is_added_is_passed_on_along_all_paths() -> None:
    nodes = nodes_of(piece("a", 40, 20), piece("b", 30, 50), piece("c", 10, 10))
    nodes.add(0, ROW, 1, 2, 40.0)
    assert between(nodes, 0, 0, 2)[0] == 40.0
    assert between(nodes, 0, 0, 1)[1] == 170.0 - 40.0
    nodes.add(0, ROW, 2, 3, 30.0)
    assert between(nodes, 0, 1, 3)[0] == 70.0
    assert between(nodes, 0, 0, 1)[1] == 190.0 - 70.0
    # Less than is known already changes nothing.
    known = nodes.paths[0].copy()
    nodes.add(0, ROW, 1, 3, 65.0)
    assert (nodes.paths[0] == known).all()
    assert nodes.alive.all()
    # Along, nothing was said.
    assert between(nodes, 1, 1, 2) == (-130.0, 100.0)


def test_nodes_that_contradict_themselves_die_and_others_do_not() -> None:
    two = nodes_of(piece("a", 40, 20), piece("b", 30, 50)).take(np.array([0, 0]))
    rows = np.array([0, 1])
    two.add(0, rows, np.array([1, 2]), np.array([2, 1]), np.array([170.0 + 1e-8, 160.0]))
    assert two.alive.tolist() == [False, True]
    assert between(two, 0, 2, 1, row=1) == (160.0, 160.0)
    # Dust kills nobody.
    two.add(0, rows[1:], 2, 1, 160.0 + 1e-10)
    assert two.alive.tolist() == [False, True]


def test_nodes_taken_and_joined_are_their_own() -> None:
    nodes = nodes_of(piece("a", 40, 20), piece("b", 30, 50))
    more = nodes.take(np.array([0, 0, 0]))
    more.add(0, np.array([1]), 1, 2, 40.0)
    assert between(nodes, 0, 0, 2)[0] == 0.0
    assert [between(more, 0, 0, 2, row=k)[0] for k in range(3)] == [0.0, 40.0, 0.0]
    joined = Nodes.joined([more.take(np.array([False, True, False])), nodes])
    assert [between(joined, 0, 0, 2, row=k)[0] for k in range(2)] == [40.0, 0.0]
    assert len(joined) == 2
    assert joined.blame is nodes.blame


def test_equals_in_one_seat_stand_from_left_to_right() -> None:
    nodes = nodes_of(piece("a", 40, 20), piece("b", 40, 20))
    assert between(nodes, 0, 1, 2) == (0.0, 160.0)
    turning = nodes_of(piece("a", 40, 20, ANY), piece("b", 40, 20, ANY))
    turning.seat_at(0, ROW, np.array([0]))
    apart = turning.take(np.array([0, 0]))
    apart.seat_at(1, np.array([0, 1]), np.array([0, 1]))
    assert [between(apart, 0, 1, 2, row=k)[0] for k in range(2)] == [0.0, -160.0]


def test_the_piece_that_keeps_to_a_half_does() -> None:
    nodes = root_of(Question((piece("a", 40, 20), piece("b", 30, 50)), (cloth(200, 150),)))
    assert between(nodes, 0, 0, 1) == (0.0, 80.0)
    assert between(nodes, 1, 0, 1) == (0.0, 65.0)
    assert between(nodes, 0, 0, 2) == (0.0, 170.0)


def test_more_area_than_a_part_has_kills() -> None:
    on = cloth(50, 40), cloth(100, 100, name="d")
    nodes = root_of(Question((piece("a", 40, 30), piece("b", 45, 20)), on))
    # 1200 and 900 mm2 on 2000.
    assert nodes.seat.tolist() == [[OPEN, OPEN]]
    both = nodes.take(np.array([0, 0]))
    both.seat_at(0, np.array([0, 1]), np.array([0, 0]))
    assert both.alive.all()
    both.seat_at(1, np.array([0, 1]), np.array([0, 1]))
    assert both.alive.tolist() == [False, True]


def test_places_held_are_all_left_at_first() -> None:
    on = printed_cloth(160, 100, Lattice((50.0, 0.0), (0.0, 40.0)))
    nodes = root(tables_for(Question((piece("a", 40, 20), piece("b", 9, 9)), (on,), locks=(Lock("a", ZERO, ZERO),))))
    assert nodes.left.shape[:2] == (1, 1)
    assert nodes.left.all()
    assert not nodes.told.any()
    assert nodes.take(np.array([0, 0])).left.shape[0] == 2


@pytest.mark.parametrize("rows", [slice(0, 1), np.array([0]), np.array([True])])
def test_nodes_are_taken_by_numbers_flags_or_a_slice(rows: object) -> None:
    nodes = nodes_of(piece("a", 40, 20))
    assert len(nodes.take(rows)) == 1  # type: ignore[arg-type]  # every kind is tried
