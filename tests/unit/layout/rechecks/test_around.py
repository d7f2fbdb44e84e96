"""The second look at rings of wishes: by hand, on a sheared repeat, on stripes, and where nothing can be said."""

from __future__ import annotations

from dataclasses import replace

from laying import piece

from coverlayout.geometry.frames import Point, shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Question
from coverlayout.layout.rechecks.around import never_close
from coverlayout.motif.lattice import Lattice

GROUND = Ground("g", Region.of(rectangle(300, 300)), "A", 0.0, Lattice((48.0, 20.0), (0.0, 60.0)), shift(3.0, 8.0))
CLOTH = ClothAsked("c", "c", rectangle(300, 300), (GROUND,))
A, B, D = piece("a", 40, 60), piece("b", 30, 50), piece("d", 20, 35)


def link(first: str, other: str, difference: Point) -> Link:
    return Link((first, other), ((2.0, 3.0), (2.0, 3.0)), (difference,))


# 10, 0 and 5, 7 make 15, 7; with one repeat of 48, 20 more it is 63, 27.
RING = Question(
    (A, B, D), (CLOTH,), links=(link("a", "b", (10, 0)), link("d", "b", (-5, -7)), link("d", "a", (-63, -27)))
)


def off_by(x_mm: float, y_mm: float) -> Question:
    return replace(RING, links=(*RING.links[:2], link("d", "a", (-63 - x_mm, -27 - y_mm))))


def test_a_ring_closes_or_does_not() -> None:
    assert not never_close(RING, (A, B, D), locked=False)
    assert never_close(off_by(7, 0), (A, B, D), locked=False)
    assert never_close(off_by(0, -9), (B, D, A), locked=False)
    # Three wishes bear 0.06 mm each; whole repeats are nothing.
    assert not never_close(off_by(0.18, 0.0), (A, B, D), locked=False)
    assert never_close(off_by(0.19, 0.0), (A, B, D), locked=False)
    assert not never_close(off_by(2 * 48, 2 * 20 - 60), (A, B, D), locked=False)


def test_a_chain_between_locks() -> None:
    locks = Lock("a", (1.0, 1.0), (10.0, 5.0)), Lock("d", (0.0, 0.0), (24.0, 11.0))
    asked = replace(RING, links=RING.links[:2], locks=locks)
    # The corner of a is at 9, 4 in the repeat, that of d at 24, 11: 15 and 7 further, as the chain says.
    assert not never_close(asked, (A, B, D), locked=True)
    off = replace(asked, locks=(locks[0], replace(locks[1], place_mm=(24.0, 16.0))))
    assert never_close(off, (A, B, D), locked=True)
    unprinted = replace(off, cloths=(replace(CLOTH, grounds=(replace(GROUND, print_to_cloth=None),)),))
    assert not never_close(unprinted, (A, B, D), locked=True)


def test_on_stripes_only_the_way_across_counts() -> None:
    stripes = replace(CLOTH, grounds=(replace(GROUND, lattice_mm=Lattice((48.0, 0.0))),))
    assert not never_close(replace(off_by(0, 31), cloths=(stripes,)), (A, B, D), locked=False)
    assert never_close(replace(off_by(7, 0), cloths=(stripes,)), (A, B, D), locked=False)


def test_nothing_is_said_where_there_is_a_choice() -> None:
    off = off_by(7, 0)
    two = replace(off, cloths=(replace(CLOTH, grounds=(GROUND, replace(GROUND, id="h"))),))
    bare = replace(off, cloths=(replace(CLOTH, grounds=(replace(GROUND, lattice_mm=None),)),))
    alike = replace(off, cloths=(replace(CLOTH, grounds=(replace(GROUND, alike_deg=(180.0,)),)),))
    for question in (two, bare, alike, replace(off, cloths=())):
        assert not never_close(question, (A, B, D), locked=False)
    free: PieceAsked = replace(A, turns_deg=None)
    assert not never_close(off, (free, B, D), locked=False)
    assert not never_close(off, (A,), locked=False)
    # No wish ties b to a piece that is not named between.
    assert not never_close(replace(off, links=off.links[:1]), (A, B, D), locked=False)
    many = replace(off, links=(*off.links, *[link("a", "b", (k, 0)) for k in range(1001)]))
    assert not never_close(many, (A, B, D), locked=False)
