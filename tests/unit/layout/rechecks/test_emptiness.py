"""The second look at a piece that fits nowhere: by boxes of places, for outlines and grounds without symmetry."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from laying import ANY, cloth, flaw, piece

from coverlayout.geometry.frames import Ring, shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rechecks import emptiness
from coverlayout.layout.rechecks.emptiness import nowhere_on, too_long_or_thick
from coverlayout.motif.lattice import Lattice

DIAMOND: Ring = ((100.0, 0.0), (200.0, 100.0), (100.0, 200.0), (0.0, 100.0))
L_SHAPE: Ring = ((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (20.0, 20.0), (20.0, 50.0), (0.0, 50.0))


def nowhere(one: PieceAsked, on: ClothAsked, gap: float = 0.0, *locks: Lock) -> bool:
    return nowhere_on(Question((one,), (on,), gap_mm=gap, locks=locks), one, on, on.grounds[0])


def test_a_square_in_a_diamond() -> None:
    on = cloth(0, 0, outline=DIAMOND)
    assert not nowhere(piece("a", 100, 100), on)
    assert nowhere(piece("a", 100.1, 100.1), on)
    assert nowhere(piece("a", 250, 20), on)
    # Standing on its corner it may be larger: 141.4 is the diamond's side.
    assert not nowhere(piece("a", 141, 141, (45.0,)), on)
    assert nowhere(piece("a", 141.5, 141.5, (45.0,)), on)


def test_an_l_around_a_flaw() -> None:
    ell = piece("l", 0, 0, outline=L_SHAPE)
    corner = flaw(rectangle(40, 30, 21, 21))
    assert not nowhere(ell, cloth(61, 51, keep_outs=(corner,)))
    assert nowhere(ell, cloth(61, 51, keep_outs=(flaw(rectangle(40, 30, 18, 21)),)))
    turned = replace(ell, turns_deg=(180.0,))
    assert nowhere(turned, cloth(61, 51, keep_outs=(corner,)))
    assert nowhere(replace(ell, turns_deg=ANY), cloth(59, 49))


def test_what_is_seen_and_what_stays() -> None:
    bars = [flaw(rectangle(4, 100, left, 0), seen_only=True) for left in (30, 66)]
    assert not nowhere(piece("a", 40, 40, seen=rectangle(30, 30, 5, 5)), cloth(100, 100, keep_outs=bars))
    assert nowhere(piece("a", 40, 40), cloth(100, 100, keep_outs=bars))
    on = cloth(100, 100, fixed=((piece("cut-1", 60, 100), Placed("cut-1", "c", 50.0, 50.0)),))
    assert not nowhere(piece("a", 19.9, 50), on)
    assert nowhere(piece("a", 20.1, 50), on)
    assert nowhere(piece("a", 18, 50), on, 3.0)
    assert not nowhere(piece("a", 16.9, 50), on, 3.0)


def test_places_of_a_lock_alone() -> None:
    lattice = Lattice((50.0, 10.0), (0.0, 40.0))
    ground = Ground("g", Region.of(rectangle(60, 75)), "A", 0.0, lattice, shift(3.0, 8.0))
    on = ClothAsked("c", "c", rectangle(60, 75), (ground,))
    lock = Lock("a", (5.0, 7.0), (12.0, 20.0))
    # Its left edge may lie from 0 to 14, its top from 0 to 9: at (10, 21) and (10, -19) it is off.
    assert nowhere(piece("a", 46, 66), on, 0.0, lock)
    assert not nowhere(piece("a", 46, 54), on, 0.0, lock)
    assert nowhere(piece("a", 146, 54), on, 0.0, lock)
    assert not nowhere(piece("a", 46, 66), on, 0.0, replace(lock, must=False))
    unknown = replace(on, grounds=(replace(ground, origin_known=False),))
    assert not nowhere(piece("a", 46, 66), unknown, 0.0, lock)
    bare = replace(on, grounds=(replace(ground, lattice_mm=None),))
    assert nowhere(piece("a", 46, 66), bare, 0.0, lock)
    stripes = replace(on, grounds=(replace(ground, lattice_mm=Lattice((0.0, 40.0))),))
    assert not nowhere(piece("a", 46, 66), stripes, 0.0, lock)


def test_what_takes_too_many_boxes_is_not_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(emptiness, "_MOST_BOXES", 3)
    assert not nowhere(piece("a", 100.1, 100.1), cloth(0, 0, outline=DIAMOND))


def test_a_piece_of_any_angle() -> None:
    ground = cloth(100, 60).grounds[0]

    def refused(width: float, height: float) -> bool:
        return too_long_or_thick(piece("strip", width, height, None), ground)

    assert math.hypot(100, 60) == pytest.approx(116.62, abs=0.01)
    assert not refused(116, 5)
    assert refused(117, 5)
    assert not refused(60, 60)
    assert refused(61, 61)
    assert too_long_or_thick(piece("a", 1, 1), Ground("g", Region.nothing()))
