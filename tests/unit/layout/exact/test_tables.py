"""Everything of one search as arrays: ranges, equals, halves, and lists made equally long."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from laying import ANY, cloth, flaw, piece
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


def test_equal_pieces_come_one_after_the_other() -> None:
    found = plain(piece("a", 40, 20), piece("b", 30, 20), piece("c", 40, 20), piece("d", 30, 20), piece("e", 40, 20))
    assert found.before.tolist() == [0, 0, 1, 2, 3]
    # Lying or standing for good, they are equal once they look the same.
    assert plain(piece("a", 40, 20), piece("b", 20, 40, (90.0,))).before.tolist() == [0, 1]
    assert plain(piece("a", 40, 20, ANY), piece("b", 40, 20)).before.tolist() == [0, 0]


def test_a_piece_with_a_must_of_its_own_is_like_no_other() -> None:
    on = printed_cloth(300, 150, SQUARE)
    pieces = tuple(piece(name, 40, 20) for name in "abc")
    locked = Question(pieces, (on,), locks=(Lock("b", ZERO, ZERO),))
    assert tables(locked).before.tolist() == [0, 0, 1]
    preferred = replace(locked, locks=(Lock("b", ZERO, ZERO, must=False),))
    assert tables(preferred).before.tolist() == [0, 1, 2]
    run_on = Question(pieces, (on,), links=linked(("a", "b"), differences=((5.0, 0.0),)))
    assert tables(run_on).before.tolist() == [0, 0, 0]


def test_pieces_a_link_holds_alike_are_equal_within_it_and_links_as_a_whole() -> None:
    on = printed_cloth(300, 150, SQUARE)
    pieces = tuple(piece(name, 40, 20) for name in "abcdef")
    found = tables(Question(pieces, (on,), links=linked(("a", "b"), ("d", "c"))))
    # b after a; d after c, which comes after a; e and f speak of themselves.
    assert found.before.tolist() == [0, 1, 1, 3, 0, 5]
    # A piece that two links speak of is tied to both.
    assert tables(Question(pieces, (on,), links=linked(("a", "b"), ("b", "c")))).before.tolist() == [0, 0, 0, 0, 4, 5]
    other_sizes = (*pieces[:2], piece("c", 30, 20), piece("d", 30, 20))
    assert tables(Question(other_sizes, (on,), links=linked(("a", "b"), ("c", "d")))).before.tolist() == [0, 1, 0, 3]
    assert tables(Question(other_sizes, (on,), links=linked(("a", "c")))).before.tolist() == [0, 0, 0, 0]


def test_one_piece_keeps_to_its_half_where_the_mirrored_layout_is_one_too() -> None:
    assert plain(piece("a", 40, 20), piece("b", 30, 20)).middle.tolist() == [[True, True], [False, False]]
    # Of three equals the middle one, of four the one left of the middle.
    three = plain(*(piece(f"p{k}", 40, 20) for k in range(3)))
    assert three.middle.tolist() == [[False, True], [True, False], [False, False]]
    four = plain(*(piece(f"p{k}", 40, 20) for k in range(4)))
    assert [row[0] for row in four.middle.tolist()] == [False, True, False, False]
    # Equals that may turn stand in an order of their own; a piece alone may.
    turning = plain(*(piece(f"p{k}", 40, 20, ANY) for k in range(3)))
    assert not turning.middle[:, 0].any()
    assert plain(piece("p", 40, 20, ANY), piece("q", 40, 20, ANY), piece("r", 9, 9)).middle[2].tolist() == [True, False]


A = piece("a", 40, 20)
SLOPING = cloth(0, 0, outline=((0.0, 0.0), (200.0, 0.0), (180.0, 150.0), (0.0, 150.0)))
FINE = printed_cloth(200, 150, Lattice((0.3, 0.0), (0.0, 0.3)))


@pytest.mark.parametrize(
    "question",
    [
        Question((A,), (cloth(200, 150, keep_outs=(flaw(rectangle(5, 5, 1, 1)),)),)),
        Question((A,), (cloth(200, 150), cloth(200, 150, name="d"))),
        Question((piece("a", 0, 0, outline=L_SHAPE),), (cloth(200, 150),)),
        Question((piece("a", 40, 20, (30.0,)),), (cloth(200, 150),)),
        Question((A,), (SLOPING,)),
        Question((A,), (printed_cloth(200, 150, SQUARE),), locks=(Lock("a", ZERO, ZERO),)),
        # A repeat too fine to be listed leaves no steps, but the wish is there.
        Question(tuple(replace(A, id=name) for name in "abcd"), (FINE,), links=linked(("a", "b"), ("c", "d"))),
    ],
    ids=["flaw", "two cloths", "L", "slanted", "slope", "lock", "fine links"],
)
def test_nothing_keeps_to_a_half_where_mirroring_changes_something(question: Question) -> None:
    assert not tables(question).middle.any()


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
