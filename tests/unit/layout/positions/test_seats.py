"""The numbers of the exhaustive search: needs, sizes, bounds on the room, and the room of a layout's own relations."""

from __future__ import annotations

import math

import numpy as np
import pytest

from coverlayout.geometry.shapes import Box
from coverlayout.layout.positions.axes import Arc
from coverlayout.layout.positions.seats import Seats
from coverlayout.layout.search.sheets import Block, Pose, Sheet


def pose(width: float, height: float, seen: Box | None = None) -> Pose:
    return Pose(0.0, width, height, (0.0, 0.0), seen or Box(0.0, 0.0, width, height))


def sheet(width: float, height: float, *blocks: Block) -> Sheet:
    return Sheet("c", "g", Box(0.0, 0.0, width, height), blocks)


def test_pieces_need_the_gap_or_the_room_and_drawn_flaws_nothing() -> None:
    blocks = Block(Box(0, 0, 5, 5), neighbour=False), Block(Box(90, 90, 5, 5), neighbour=True)
    seats = Seats(sheet(100, 100, *blocks), [pose(10, 20), pose(30, 10)], gap_mm=2.0, slack_mm=0.5)
    needs = seats.needs(7.0)
    assert (needs[1, 2], needs[1, 4], needs[1, 3]) == (7.0, 7.0, -0.5)
    assert seats.needs(0.0)[1, 2] == 1.5
    # Two blocks are none of the search's business.
    assert seats.pairs == [(1, 2), (1, 3), (1, 4), (2, 3), (2, 4)]


def test_only_the_seen_part_keeps_clear_of_what_only_it_must() -> None:
    block = Block(Box(50, 50, 6, 8), neighbour=False, seen_only=True)
    seats = Seats(sheet(100, 100, block), [pose(40, 30, Box(4.0, 3.0, 30.0, 20.0))], gap_mm=0.0)
    assert seats.size[0, 1, 2] == 34.0
    assert seats.size[1, 1, 2] == 23.0
    assert seats.size[0, 2, 1] == 6.0 - 4.0
    assert seats.size[1, 2, 1] == 8.0 - 3.0


def test_no_room_beyond_what_one_piece_leaves_or_the_areas_leave() -> None:
    assert Seats(sheet(100, 50), [pose(80, 20)], 0.0).most_room() == 10.0
    full = Seats(sheet(100, 100), [pose(100, 60), pose(100, 40)], 0.0)
    assert full.most_room() == 0.0
    # Two of 40 x 40 on 100 x 50: at room g the grown areas are equal, (pi / 2 - 1) g^2 + 310 g - 1800 = 0.
    square = math.pi / 2 - 1
    expected = (-310 + math.sqrt(310**2 + 4 * square * 1800)) / (2 * square)
    assert Seats(sheet(100, 50), [pose(40, 40), pose(40, 40)], 0.0).most_room() == pytest.approx(min(5.0, expected))


def test_one_small_piece_has_no_bound_by_area_but_by_itself() -> None:
    assert Seats(sheet(100, 100), [pose(1, 1)], 0.0).most_room() == pytest.approx(49.5)


def test_a_layout_is_widened_to_the_room_its_relations_allow() -> None:
    seats = Seats(sheet(100, 60), [pose(30, 40), pose(40, 40)], gap_mm=0.0)
    x, y = np.array([0.0, 0.0, 35.0]), np.array([0.0, 0.0, 0.0])
    room, wide_x, wide_y = seats.widened(x, y, seats.needs(0.0))
    assert room == 10.0
    assert wide_x.tolist() == pytest.approx([0.0, 10.0, 50.0])
    assert wide_y.tolist() == pytest.approx([0.0, 10.0, 10.0])


def test_a_corner_turns_to_the_angle_that_gives_the_most_room() -> None:
    # Two squares of 50 corner to corner on 118 x 124: g + dx + g and g + dy + g across, with dx^2 + dy^2 = g^2.
    seats = Seats(sheet(118, 124), [pose(50, 50), pose(50, 50)], gap_mm=0.0)
    x, y = np.array([0.0, 3.0, 56.0]), np.array([0.0, 3.0, 57.0])
    room, wide_x, wide_y = seats.widened(x, y, seats.needs(4.5))
    across, along = wide_x[2] - wide_x[1] - 50.0, wide_y[2] - wide_y[1] - 50.0
    assert math.hypot(across, along) == pytest.approx(room, abs=1e-4)
    assert (18.0 - 2 * room) ** 2 + (24.0 - 2 * room) ** 2 == pytest.approx(room**2, abs=1e-3)


def test_equal_pieces_keep_their_order_and_the_first_lies_in_the_upper_half() -> None:
    seats = Seats(sheet(100, 80), [pose(20, 30), pose(20, 30), pose(10, 10)], gap_mm=0.0)
    assert seats.alike == {(1, 2)}
    # The single one is the middle of its equals: it lies in the left half.
    assert seats.without_repeats(0) == [Arc(1, 2, 0.0), Arc(3, 0, -45.0)]
    assert seats.without_repeats(1) == [Arc(1, 0, -25.0)]
    blocked = Seats(sheet(100, 80, Block(Box(0, 0, 5, 5), neighbour=True)), [pose(20, 30), pose(20, 30)], gap_mm=0.0)
    assert blocked.without_repeats(0) == [Arc(1, 2, 0.0)]
    assert blocked.without_repeats(1) == []
