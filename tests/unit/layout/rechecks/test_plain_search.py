"""The plain search refuses what cannot be laid and nothing else: small jobs worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, book_pieces, cloth, flaw, piece

from coverlayout.geometry.frames import Point, shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, Placed, Question
from coverlayout.layout.rechecks.plain_search import cannot_be_laid
from coverlayout.motif.lattice import Lattice

L_SHAPE = ((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (20.0, 20.0), (20.0, 50.0), (0.0, 50.0))
SHEARED = Lattice((50.0, 10.0), (0.0, 40.0))


def refused(question: Question, most_nodes: int = 100_000) -> bool:
    return cannot_be_laid(question, question.pieces, most_nodes)


def printed(width: float, length: float, lattice: Lattice | None = SHEARED, **given: object) -> ClothAsked:
    ring = rectangle(width, length)
    own = {"print_id": "A", "lattice_mm": lattice, "print_to_cloth": shift(3.0, 8.0), **given}
    return ClothAsked("c", "c", ring, (Ground("g", Region.of(ring), **own),))  # type: ignore[arg-type]  # by name


def link(first: str, other: str, difference: Point = (0.0, 0.0)) -> Link:
    return Link((first, other), ((0.0, 0.0), (0.0, 0.0)), (difference,))


def test_three_of_six_by_six() -> None:
    # Textbook case (common practice, no source): on 10 wide three of 6 x 6 need a length of 18.
    sixes = tuple(piece(f"p{k}", 6, 6, ANY) for k in range(3))
    assert not refused(Question(sixes, (cloth(10, 18),)))
    assert refused(Question(sixes, (cloth(10, 17.9),)))
    # Within the tolerances it might.
    assert not refused(Question(sixes, (cloth(10, 17.99),)))


def test_a_pinwheel() -> None:
    # Four of 30 x 20 around a hole of 10 x 10 on 50 x 50: no line cuts it through.
    wheel = tuple(piece(f"p{k}", 30, 20, ANY) for k in range(4))
    assert not refused(Question(wheel, (cloth(50, 50),)))
    assert refused(Question(wheel, (cloth(50, 49.9),)))
    upright = tuple(replace(one, turns_deg=(0.0,)) for one in wheel)
    assert refused(Question(upright, (cloth(50, 50),)))
    full = (*wheel, piece("q", 10, 10))
    assert not refused(Question(full, (cloth(50, 50),)))
    assert refused(Question((*wheel, piece("q", 10.1, 10)), (cloth(50, 50),)))


def test_one_book_on_a_foot() -> None:
    # Pages of 4.5 x 6 in on 12 x 12 in: liners upright refused, turned they fit (common practice, no source).
    assert refused(Question(book_pieces(1, (0.0,)), (cloth(304.8, 304.8),)))
    assert not refused(Question(book_pieces(), (cloth(304.8, 304.8),)))
    # Between pieces alone 14.1 mm may be kept, not 14.2.
    assert not refused(Question(book_pieces(), (cloth(304.8, 304.8),), gap_mm=14.1))
    assert refused(Question(book_pieces(), (cloth(304.8, 304.8),), gap_mm=14.3))


def test_a_gap_from_corner_to_corner() -> None:
    pair = (piece("a", 50, 50), piece("b", 50, 50))
    # 3 across and 4 along are 5 from corner to corner.
    assert not refused(Question(pair, (cloth(103, 104),), gap_mm=5.0))
    assert refused(Question(pair, (cloth(102, 102),), gap_mm=5.0))
    assert refused(Question(pair, (cloth(103, 99),), gap_mm=4.0))


def test_what_is_in_the_way() -> None:
    pair = (piece("a", 60, 70), piece("b", 51, 70))
    crease = flaw(rectangle(8, 100, 50, 0))
    assert refused(Question(pair, (cloth(120, 100, keep_outs=(crease,)),)))
    assert not refused(Question((pair[0], piece("b", 50, 70)), (cloth(120, 100, keep_outs=(crease,)),)))
    seen = replace(crease, seen_only=True)
    bordered = piece("b", 51, 70, seen=rectangle(40, 60, 5, 5))
    assert not refused(Question((pair[0], bordered), (cloth(120, 100, keep_outs=(seen,)),)))
    slanted = flaw(((50.0, 0.0), (58.0, 0.0), (60.0, 100.0), (52.0, 100.0)))
    assert not refused(Question(pair, (cloth(120, 100, keep_outs=(slanted,)),)))
    cut = (piece("cut-1", 100, 8), Placed("cut-1", "c", 54.0, 50.0, 90.0))
    assert refused(Question(pair, (cloth(120, 100, fixed=(cut,)),)))
    assert refused(Question((pair[0], piece("b", 49, 70)), (cloth(120, 100, fixed=(cut,)),), gap_mm=3.0))
    assert not refused(Question((pair[0], piece("b", 49, 70)), (cloth(125, 100, fixed=(cut,)),), gap_mm=1.0))


def test_several_cloths_and_zones() -> None:
    covers = tuple(piece(f"p{k}", 60, 70) for k in range(3))
    cloths = cloth(100, 100, name="c1"), cloth(100, 100, name="c2")
    assert not refused(Question(covers[:2], cloths))
    assert refused(Question(covers, cloths))
    zones = ClothAsked(
        "c",
        "c",
        rectangle(150, 100),
        tuple(Ground(name, Region.of(rectangle(75, 100, left, 0)), name) for name, left in (("A", 0.0), ("B", 75.0))),
    )
    assert not refused(Question(covers[:2], (zones,)))
    both_a = tuple(replace(one, print_id="A") for one in covers[:2])
    assert refused(Question(both_a, (zones,)))
    assert refused(Question((piece("a", 80, 20),), (zones,)))
    empty = replace(zones, grounds=(Ground("g", Region.nothing()),))
    assert refused(Question(covers[:1], (empty,)))
    assert refused(Question(covers[:1], ()))


def test_locks() -> None:
    one = piece("a", 46, 66)
    locks = (Lock("a", (5.0, 7.0), (12.0, 20.0)),)
    assert not refused(Question((one,), (printed(100, 100),), locks=locks))
    # On 60 x 75 its left edge may lie from 0 to 14, its top from 0 to 9: at (10, 21) and (10, -19) it is off.
    assert refused(Question((one,), (printed(60, 75),), locks=locks))
    assert not refused(Question((one,), (printed(60, 75, origin_known=False),), locks=locks))
    assert refused(Question((one,), (printed(60, 175, None),), locks=locks))
    assert not refused(Question((one,), (printed(60, 75, Lattice((50.0, 0.0))),), locks=locks))
    wish = (replace(locks[0], must=False),)
    assert not refused(Question((one,), (printed(60, 75),), locks=wish))
    # Two covers locked to one place of a repeat of 50 x 40, sheared: beside each other only 10 lower.
    pair = (one, piece("b", 46, 66))
    tied = (*locks, Lock("b", (5.0, 7.0), (12.0, 20.0)))
    assert not refused(Question(pair, (printed(106, 97),), locks=tied))
    assert refused(Question(pair, (printed(106, 95),), locks=tied))


@pytest.mark.parametrize(("repeat", "no"), [(48.0, True), (50.0, False), (64.0, True)])
def test_covers_at_one_place_of_the_repeat(repeat: float, no: bool) -> None:
    pieces = book_pieces()
    tied = Link(("front-1", "back-1"), (pieces[0].anchor_mm, pieces[1].anchor_mm), ((0.0, 0.0),))
    on = printed(304.8, 304.8, Lattice((repeat, 0.0), (0.0, repeat)))
    assert cannot_be_laid(Question(pieces, (on,), links=(tied,)), pieces[:2]) == no


def test_links() -> None:
    pair = piece("a", 40, 60, ANY), piece("b", 40, 60, ANY)
    # By one repeat the second lies 10 lower: 90 x 70 mm; turned with the print's up, 110 x 50 needs two repeats.
    assert not refused(Question(pair, (printed(90, 70),), links=(link("a", "b"),)))
    assert refused(Question(pair, (printed(90, 69),), links=(link("a", "b"),)))
    other = (pair[0], replace(pair[1], turns_deg=(90.0,)))
    assert refused(
        Question((replace(pair[0], turns_deg=(0.0,)), other[1]), (printed(300, 300),), links=(link("a", "b"),))
    )
    alike = printed(300, 300, alike_deg=(90.0,))
    assert not refused(Question((replace(pair[0], turns_deg=(0.0,)), other[1]), (alike,), links=(link("a", "b"),)))
    assert refused(Question(pair, (printed(300, 300, None),), links=(link("a", "b"),)))
    assert refused(Question(pair, (printed(300, 300),), links=(link("a", "b"), link("a", "b", (9.0, 0.0)))))


def test_what_it_cannot_tell() -> None:
    any_angle = (piece("a", 200, 10, None),)
    assert not refused(Question(any_angle, (cloth(100, 100),)))
    leaning = (cloth(100, 100), cloth(100, 100, name="d", up_deg=3.0))
    assert not refused(Question((piece("a", 150, 150),), leaning))
    assert not refused(Question(tuple(piece(f"p{k}", 30, 30.1) for k in range(9)), (cloth(90, 90),)), most_nodes=20)
    # Of other outlines only that a corner lies on the ground is asked.
    assert not refused(Question((piece("l", 0, 0, outline=L_SHAPE),), (cloth(30, 30),)))
    leaned = (cloth(100, 100, up_deg=2.0),)
    assert refused(Question((piece("a", 104, 20),), leaned))
