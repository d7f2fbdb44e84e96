"""Equal pieces come in one order, and of mirrored layouts one is looked at."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, cloth, flaw, piece
from samples import L_SHAPE
from searching import tables_for
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.exact.tables import Tables
from coverlayout.layout.question import ClothAsked, Link, Lock, PieceAsked, Question
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
SQUARE = Lattice((50.0, 0.0), (0.0, 40.0))


def plain(*pieces: PieceAsked, on: ClothAsked | None = None) -> Tables:
    return tables_for(Question(pieces, (on or cloth(200, 150),)))


def linked(*groups: tuple[str, ...], differences: tuple[Point, ...] = ()) -> tuple[Link, ...]:
    return tuple(Link(names, (ZERO,) * len(names), differences or (ZERO,) * (len(names) - 1)) for names in groups)


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
    assert tables_for(locked).before.tolist() == [0, 0, 1]
    preferred = replace(locked, locks=(Lock("b", ZERO, ZERO, must=False),))
    assert tables_for(preferred).before.tolist() == [0, 1, 2]
    run_on = Question(pieces, (on,), links=linked(("a", "b"), differences=((5.0, 0.0),)))
    assert tables_for(run_on).before.tolist() == [0, 0, 0]


def test_pieces_a_link_holds_alike_are_equal_within_it_and_links_as_a_whole() -> None:
    on = printed_cloth(300, 150, SQUARE)
    pieces = tuple(piece(name, 40, 20) for name in "abcdef")
    found = tables_for(Question(pieces, (on,), links=linked(("a", "b"), ("d", "c"))))
    # b after a; d after c, which comes after a; e and f speak of themselves.
    assert found.before.tolist() == [0, 1, 1, 3, 0, 5]
    # A piece that two links speak of is tied to both.
    assert tables_for(Question(pieces, (on,), links=linked(("a", "b"), ("b", "c")))).before.tolist() == [
        0,
        0,
        0,
        0,
        4,
        5,
    ]
    other_sizes = (*pieces[:2], piece("c", 30, 20), piece("d", 30, 20))
    assert tables_for(Question(other_sizes, (on,), links=linked(("a", "b"), ("c", "d")))).before.tolist() == [
        0,
        1,
        0,
        3,
    ]
    assert tables_for(Question(other_sizes, (on,), links=linked(("a", "c")))).before.tolist() == [0, 0, 0, 0]


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
    assert not tables_for(question).middle.any()
