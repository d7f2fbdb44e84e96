"""A print of unknown origin: what moves with it, and pieces grown or shrunk by how far it may be from the middle."""

from __future__ import annotations

from dataclasses import replace

import pytest
from samples import L_SHAPE
from wishing import printed_cloth

from coverlayout.geometry.frames import Ring, shift
from coverlayout.geometry.shapes import Region, bounds, rectangle
from coverlayout.layout.falling.prints import (
    falling_prints,
    grown,
    movers,
    shifted,
    shrunk,
    tied_to_what_lies,
    with_origin,
)
from coverlayout.layout.question import Link, Lock, PieceAsked, Placed, Question
from coverlayout.motif.lattice import Lattice

LATTICE = Lattice((40.0, 0.0), (0.0, 60.0))


def asked(name: str, turns: tuple[float, ...] | None = (0.0,), outline: Ring | None = None) -> PieceAsked:
    return PieceAsked(name, outline or rectangle(30.0, 20.0), (5.0, 5.0), turns, "birds")


ONE = printed_cloth(200, 200, LATTICE, origin_mm=(7.0, 3.0), known=False, name="one")
TWO = printed_cloth(200, 200, LATTICE, known=False, name="two")
LOCK = Lock("a", (0.0, 0.0), (1.0, 2.0))
LINK = Link(("b", "c"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
JOB = Question((asked("a"), asked("b"), asked("c"), asked("d")), (ONE,), locks=(LOCK,), links=(LINK,))


def outline_of(question: Question | None, name: str) -> Ring:
    assert question is not None
    return next(piece.outline_mm for piece in question.pieces if piece.id == name)


def test_a_lock_speaks_of_where_a_print_falls_and_a_shared_phase_on_one_ground_does_not() -> None:
    (falling,) = falling_prints(JOB)
    assert falling.cloth_id == "one"
    assert falling.holds("one", ONE.grounds[0])
    assert not falling.holds("two", TWO.grounds[0])
    assert falling_prints(replace(JOB, locks=())) == ()
    assert falling_prints(replace(JOB, locks=(replace(LOCK, must=False),))) == ()
    known = replace(ONE, grounds=(replace(ONE.grounds[0], origin_known=True),))
    assert falling_prints(replace(JOB, cloths=(known,))) == ()
    bare = replace(ONE, grounds=(replace(ONE.grounds[0], print_to_cloth=None, lattice_mm=None),))
    assert falling_prints(replace(JOB, cloths=(bare,))) == ()


def test_a_shared_phase_over_two_cloths_does() -> None:
    linked = replace(JOB, locks=(), cloths=(ONE, TWO))
    assert [falling.cloth_id for falling in falling_prints(linked)] == ["one", "two"]
    assert movers(linked) == {"b", "c"}


def test_locked_pieces_and_those_linked_to_them_move() -> None:
    assert movers(JOB) == {"a"}
    further = replace(LINK, pieces=("a", "b"))
    assert movers(replace(JOB, links=(LINK, further))) == {"a", "b", "c"}
    assert movers(replace(JOB, links=(LINK, replace(further, must=False)))) == {"a"}


def test_what_lies_for_good_cannot_move_along() -> None:
    assert not tied_to_what_lies(JOB)
    lying = replace(JOB, links=(replace(LINK, pieces=("a", "cut")),))
    assert tied_to_what_lies(lying)
    assert not tied_to_what_lies(replace(lying, locks=()))


def test_the_print_fell_where_it_is_put() -> None:
    (falling,) = falling_prints(JOB)
    question = with_origin(replace(JOB, cloths=(ONE, TWO), cloths_if_smaller=(ONE,)), falling, (10.0, 20.0))
    first, second = (cloth.grounds[0] for cloth in question.cloths)
    assert first.print_to_cloth is not None
    assert first.print_to_cloth.at((0.0, 0.0)) == (17.0, 23.0)
    assert first.origin_known
    assert not second.origin_known
    assert question.cloths_if_smaller == ()


def test_only_moving_pieces_on_that_cloth_move() -> None:
    placed = (Placed("a", "one", 1.0, 2.0), Placed("b", "one", 3.0, 4.0), Placed("a", "two", 5.0, 6.0))
    moved = shifted(placed, frozenset("a"), "one", (10.0, 20.0))
    assert [(one.x_mm, one.y_mm) for one in moved] == [(11.0, 22.0), (3.0, 4.0), (5.0, 6.0)]


@pytest.mark.parametrize(
    ("turns", "across_mm", "along_mm"),
    [
        ((0.0,), 4.0, 1.0),
        ((0.0, 180.0), 4.0, 1.0),
        ((90.0, 270.0), 1.0, 4.0),
        ((0.0, 90.0), 4.0, 4.0),
    ],
)
def test_rectangles_grow_and_shrink_by_the_reach_as_they_lie(
    turns: tuple[float, ...], across_mm: float, along_mm: float
) -> None:
    question = replace(JOB, pieces=(asked("a", turns), asked("b")))
    box = bounds(outline_of(grown(question, frozenset("a"), (4.0, 1.0)), "a"))
    assert (box.left_mm, box.top_mm) == (-across_mm, -along_mm)
    assert (box.width_mm, box.height_mm) == (30 + 2 * across_mm, 20 + 2 * along_mm)
    small = bounds(outline_of(shrunk(question, frozenset("a"), (4.0, 1.0)), "a"))
    assert (small.width_mm, small.height_mm) == (30 - 2 * across_mm, 20 - 2 * along_mm)
    assert outline_of(grown(question, frozenset("a"), (4.0, 1.0)), "b") == rectangle(30.0, 20.0)


@pytest.mark.parametrize(("turns", "outline"), [(None, None), ((7.0,), None), ((0.0,), L_SHAPE)])
def test_anything_else_grows_by_more_than_enough(turns: tuple[float, ...] | None, outline: Ring | None) -> None:
    question = replace(JOB, pieces=(asked("a", turns, outline),))
    plain = Region.of(outline_of(question, "a"))
    big = Region.of(outline_of(grown(question, frozenset("a"), (3.0, 4.0)), "a"))
    small = Region.of(outline_of(shrunk(question, frozenset("a"), (3.0, 4.0)), "a"))
    for corner in ((3.0, 4.0), (-3.0, 4.0), (3.0, -4.0), (-3.0, -4.0)):
        moved = plain.mapped(shift(*corner))
        assert big.covers(moved)
        assert moved.inset(-1e-6).covers(small)


def test_what_is_never_covered_all_the_time_refuses_nothing() -> None:
    assert shrunk(JOB, frozenset("a"), (15.0, 1.0)) is None
    board = replace(JOB.pieces[0], seen_mm=rectangle(10.0, 10.0, 5.0, 5.0))
    seen = replace(JOB, pieces=(board,))
    assert shrunk(seen, frozenset("a"), (5.0, 1.0)) is None
    (piece,) = grown(seen, frozenset("a"), (5.0, 1.0)).pieces
    assert piece.seen_mm == rectangle(20.0, 12.0, 0.0, 4.0)
