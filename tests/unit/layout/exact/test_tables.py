"""Everything of one search as arrays: ranges, equals, halves, and lists made equally long."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from laying import ANY, cloth, piece
from samples import L_SHAPE
from wishing import printed_cloth

from coverlayout.geometry.frames import Point, shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.geometry.tolerance import LOCK_MM
from coverlayout.layout.exact.apart import Needs, apart_of
from coverlayout.layout.exact.held import Held, HeldTogether
from coverlayout.layout.exact.job import exact_job
from coverlayout.layout.exact.steps import Step, steps_of
from coverlayout.layout.exact.tables import HeldTable, Tables, WaysTable, tables_of
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Question
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
SQUARE = Lattice((50.0, 0.0), (0.0, 40.0))


def tables(question: Question, room_mm: float = 0.0, slack_mm: float = 0.0) -> Tables:
    job = exact_job(question, 14)
    assert job is not None
    steps, _ = steps_of(job)
    return tables_of(job, apart_of(job, None), steps, Needs.of(question.gap_mm, room_mm, slack_mm), slack_mm)


def plain(*pieces: PieceAsked, on: ClothAsked | None = None) -> Tables:
    return tables(Question(pieces, (on or cloth(200, 150),)))


def linked(*groups: tuple[str, ...], differences: tuple[Point, ...] = ()) -> tuple[Link, ...]:
    return tuple(Link(names, (ZERO,) * len(names), differences or (ZERO,) * (len(names) - 1)) for names in groups)


def test_ranges_keep_the_room_from_the_edge_and_pad_what_has_fewer_seats() -> None:
    found = tables(Question((piece("a", 40, 20, ANY), piece("b", 30, 30)), (cloth(200, 150),)), room_mm=5.0)
    assert (found.edge_mm, found.loose_mm, found.pieces) == (5.0, 0.0, 2)
    assert found.seats.tolist() == [2, 1]
    assert found.low[0].tolist() == [[5.0, 5.0], [5.0, 5.0]]
    assert found.high[0].tolist() == [[155.0, 125.0], [175.0, 105.0]]
    assert found.high[1, 0].tolist() == [165.0, 115.0]


def test_slack_makes_everything_looser() -> None:
    locked = Question((piece("a", 40, 20),), (printed_cloth(200, 150, SQUARE),), locks=(Lock("a", ZERO, ZERO),))
    found = tables(locked, slack_mm=0.01)
    assert (found.edge_mm, found.loose_mm) == (-0.01, LOCK_MM)
    assert found.low[0, 0].tolist() == [-0.01, -0.01]


def test_areas_are_a_tolerance_smaller_all_around() -> None:
    found = plain(piece("a", 40, 20), piece("b", 0, 0, outline=L_SHAPE), piece("c", 0.01, 0.01))
    # Twenty by forty has 120 mm around it; the L is 20 x 75 and 60 x 25.
    assert found.areas[0] == pytest.approx(800 - 120 * 0.01)
    assert 3000 - 6 < found.areas[1] < 3000
    assert found.areas[2] == 0.0
    assert found.part_areas.tolist() == pytest.approx([200 * 150])
    assert found.order.tolist() == [1, 0, 2]


def test_level_jobs_are_told_from_slanted_ones() -> None:
    assert plain(piece("a", 40, 20), piece("b", 30, 20)).is_level
    assert not plain(piece("a", 40, 20), piece("b", 30, 20, (30.0,))).is_level


def test_lists_of_ways_are_made_equally_long() -> None:
    step = Step(
        1, 2, 2, (np.array([[1.0, 2.0]]), np.zeros((0, 2)), np.array([[3.0, 4.0], [5.0, np.nan]]), np.zeros((0, 2)))
    )
    table = WaysTable.of(step)
    assert table.there.tolist() == [[True, False], [False, False], [True, True], [False, False]]
    assert table.ways.shape == (4, 2, 2)
    assert table.ways[2, 0].tolist() == [3.0, 4.0]
    assert WaysTable.of(Step(0, 1, 1, (np.zeros((0, 2)),))).there.tolist() == [[False]]


def test_held_lists_are_made_equally_long_and_known_both_ways_round() -> None:
    one = Held(0, np.array([0, 0, 1]), np.array([[1.0, 1.0], [2.0, 2.0], [3.0, 3.0]]))
    other = Held(3, np.array([2]), np.array([[9.0, 8.0]]))
    table = HeldTable.of(HeldTogether((one, other), {(0, 1): np.array([[True], [False], [True]])}))
    assert table.piece == (0, 3)
    assert table.there.tolist() == [[True, True, True], [True, False, False]]
    assert table.together[0, 1].tolist() == [[True, False, False], [False] * 3, [True, False, False]]
    assert (table.together[1, 0] == table.together[0, 1].T).all()
    none = HeldTable.of(HeldTogether((), {}))
    assert (none.piece, none.there.shape) == ((), (0, 1))


def test_ways_on_which_pieces_overlap_or_hit_something_are_struck_out() -> None:
    pieces = piece("a", 60, 50), piece("b", 30, 19)
    question = Question(pieces, (printed_cloth(200, 150, SQUARE),), links=linked(("b", "a"), differences=((3.0, 0.0),)))
    (step,) = tables(question).steps
    assert (step.first, step.second) == (2, 1)
    for x, y in step.ways[0][step.there[0]].tolist():
        assert x >= 30 or -x >= 60 or y >= 19 or -y >= 50
        assert (x - 3.0) % 50.0 == pytest.approx(0.0, abs=1e-6)
    job = exact_job(question, 14)
    assert job is not None
    assert step.there.sum() < len(steps_of(job)[0][0].ways[0])
    # Of stripes only one number of a way is known, so none is struck out.
    striped = replace(question, cloths=(printed_cloth(200, 150, Lattice((25.0, 0.0))),))
    (step,) = tables(striped).steps
    job = exact_job(striped, 14)
    assert job is not None
    assert step.there.sum() == len(steps_of(job)[0][0].ways[0])


def test_the_numbers_of_a_node_count_what_is_looked_at() -> None:
    few = plain(piece("a", 40, 20), piece("b", 30, 20))
    assert few.numbers == 16 * 9
    on = ClothAsked(
        "c",
        "c",
        rectangle(200, 150),
        (Ground("g", Region.of(rectangle(200, 150)), "p", 0.0, Lattice((2.0, 0.0), (0.0, 2.0)), shift(0.0, 0.0)),),
    )
    held = tables(Question((piece("a", 40, 20),), (on,), locks=(Lock("a", ZERO, ZERO),)))
    assert held.numbers == 2 * 81 * 66
    assert held.held.seat.size == 81 * 66
