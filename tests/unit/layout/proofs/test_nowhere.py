"""A piece that fits nowhere: too large, nothing clear, at no place in the repeat; each just holds and just does not."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from laying import ANY, cloth, flaw, piece

from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.layout.answer import Proof
from coverlayout.layout.proofs import nowhere
from coverlayout.layout.proofs.nowhere import Spots, fits_nowhere, must_locks, places_for, repeats_in
from coverlayout.layout.question import ClothAsked, Ground, Lock, PieceAsked, Placed, Question
from coverlayout.motif.lattice import Lattice

DIAMOND = ((100.0, 0.0), (200.0, 100.0), (100.0, 200.0), (0.0, 100.0))
# A lattice that is neither square nor upright.
SHEARED = Lattice((50.0, 10.0), (0.0, 40.0))


def proof_of(question: Question) -> Proof | None:
    return fits_nowhere(question, Spots(question))


def figures(proof: Proof | None) -> dict[str, float | str]:
    assert proof is not None
    assert proof.name == "fits nowhere"
    return dict(proof.figures)


def printed(width: float, length: float, lattice: Lattice | None = SHEARED, **ground: object) -> ClothAsked:
    ring = rectangle(width, length)
    given = {"print_id": "A", "lattice_mm": lattice, "print_to_cloth": shift(3.0, 8.0), **ground}
    return ClothAsked("c", "c", ring, (Ground("g", Region.of(ring), **given),))  # type: ignore[arg-type]  # by name


def locked(one: PieceAsked, on: ClothAsked, *places: tuple[float, float]) -> Question:
    return Question((one,), (on,), locks=tuple(Lock(one.id, (5.0, 7.0), place) for place in places))


def test_a_piece_longer_than_the_cloth() -> None:
    question = Question((piece("strip", 100.03, 20),), (cloth(100, 50),))
    size = {"width_mm": pytest.approx(100.03), "height_mm": 20.0}
    assert figures(proof_of(question)) == {"piece": "strip", **size, "ground_width_mm": 100.0, "ground_height_mm": 50.0}
    # Within the tolerances it might.
    assert proof_of(Question((piece("strip", 100.015, 20),), (cloth(100, 50),))) is None
    assert proof_of(Question((piece("strip", 40, 60, (0.0, 90.0)),), (cloth(100, 50),))) is None


def test_a_piece_between_flaws() -> None:
    bars = flaw(rectangle(4, 100, 30, 0)), flaw(rectangle(4, 100, 66, 0))
    question = Question((piece("a", 40, 40),), (cloth(100, 100, keep_outs=bars),))
    assert figures(proof_of(question))["piece"] == "a"
    assert proof_of(replace(question, pieces=(piece("a", 32, 40),))) is None
    seen = tuple(replace(bar, seen_only=True) for bar in bars)
    seen_part = piece("a", 40, 40, seen=rectangle(30, 30, 5, 5))
    assert proof_of(Question((seen_part,), (cloth(100, 100, keep_outs=seen),))) is None
    assert proof_of(Question((piece("a", 40, 40),), (cloth(100, 100, keep_outs=seen),))) is not None


def test_a_piece_on_slanted_ground_or_beside_cut_pieces() -> None:
    on = cloth(0, 0, outline=DIAMOND)
    # The largest upright square in the diamond has half its width.
    assert proof_of(Question((piece("a", 100, 100),), (on,))) is None
    assert figures(proof_of(Question((piece("a", 101, 101),), (on,))))["piece"] == "a"
    cut = (piece("cut-1", 60, 100), Placed("cut-1", "c", 50.0, 50.0))
    beside = cloth(100, 100, fixed=(cut,))
    assert proof_of(Question((piece("a", 21, 50),), (beside,))) is not None
    assert proof_of(Question((piece("a", 20, 50),), (beside,))) is None
    # The gap is kept from pieces that stay and from holes, not from flaws.
    assert proof_of(Question((piece("a", 18, 50),), (beside,), gap_mm=3.0)) is not None
    assert proof_of(Question((piece("a", 17, 50),), (beside,), gap_mm=3.0)) is None
    drawn = [flaw(rectangle(60, 100, 20, 0), spoiled=spoiled) for spoiled in (True, False)]
    told = [proof_of(Question((piece("a", 18, 50),), (cloth(100, 100, keep_outs=[k]),), gap_mm=3.0)) for k in drawn]
    assert [each is None for each in told] == [False, True]


def test_a_piece_of_any_angle_must_be_short_and_thin_enough() -> None:
    def strip(width: float, height: float) -> Proof | None:
        return proof_of(Question((piece("strip", width, height, None),), (cloth(100, 60),)))

    # The cloth's diagonal is 116.62 mm and its least width 60.
    assert math.hypot(100, 60) == pytest.approx(116.62, abs=0.01)
    assert strip(116, 5) is None
    assert strip(117, 5) is not None
    assert strip(60, 60) is None
    assert strip(61, 61) is not None


def test_a_piece_without_ground_or_turn() -> None:
    proof = proof_of(Question((piece("a", 10, 10, print_id="waves"),), (cloth(100, 100, print_id="seeds"),)))
    assert figures(proof)["ground_width_mm"] == 0.0
    empty = ClothAsked("c", "c", rectangle(50, 50), (Ground("g", Region.nothing()),))
    assert figures(proof_of(Question((piece("a", 10, 10),), (empty,))))["ground_width_mm"] == 0.0
    assert figures(proof_of(Question((piece("a", 10, 10),), ())))["ground_width_mm"] == 0.0
    assert proof_of(Question((piece("a", 10, 10, ()),), (cloth(50, 50),))) is not None


def test_flaws_over_everything_are_named() -> None:
    halves = flaw(rectangle(60, 100), "oil"), flaw(rectangle(60, 100, 50, 0), "ink")
    question = Question((piece("a", 10, 10),), (cloth(100, 100, keep_outs=halves),))
    assert figures(proof_of(question))["covered_by"] == "oil, ink"
    seen = tuple(replace(half, seen_only=True) for half in halves)
    assert "covered_by" not in figures(proof_of(replace(question, cloths=(cloth(100, 100, keep_outs=seen),))))


def test_a_locked_piece_lies_on_its_places_in_the_repeat_alone() -> None:
    # The locked point is (5, 7) of the piece; the place (12, 20) of the print is at (15, 28) + i (50, 10) + k (0, 40).
    one = piece("a", 46, 66)
    assert proof_of(locked(one, printed(100, 100), (12.0, 20.0))) is None
    # On a cloth of 60 x 75 its left edge may lie from 0 to 14, its top from 0 to 9: (10, 21) and (10, -19) are off.
    proof = proof_of(locked(one, printed(60, 75), (12.0, 20.0)))
    assert figures(proof) == {"piece": "a", "wish": "lock", "tried": 2.0}
    # Turned a quarter the point (5, 7) is at (59, 5) of a piece 66 x 46: its left edge would be at 15 - 59 + 50.
    assert proof_of(locked(replace(one, turns_deg=(90.0,)), printed(72.1, 79.1), (12.0, 20.0))) is None
    assert proof_of(locked(replace(one, turns_deg=(90.0,)), printed(71.9, 79.1), (12.0, 20.0))) is not None
    # A lock holds within 0.05 mm, and a no must bear that.
    assert proof_of(locked(piece("a", 46, 66), printed(60, 86.96), (12.0, 20.0))) is None
    assert proof_of(locked(piece("a", 46, 66), printed(60, 86.9), (12.0, 20.0))) is not None


def test_a_locked_piece_keeps_clear_of_a_flaw() -> None:
    one = piece("a", 46, 66)
    spot = flaw(rectangle(2, 2, 11, 22))
    on = replace(printed(60, 88), keep_outs=(spot,))
    assert proof_of(locked(one, printed(60, 88), (12.0, 20.0))) is None
    assert proof_of(locked(one, on, (12.0, 20.0))) is not None


def test_a_lock_without_a_repeat_or_with_an_unknown_origin() -> None:
    one = piece("a", 46, 66)
    assert figures(proof_of(locked(one, printed(100, 100, None), (1.0, 1.0)))) == {"piece": "a", "wish": "no repeat"}
    assert figures(proof_of(locked(one, cloth(100, 100), (1.0, 1.0))))["wish"] == "no repeat"
    assert proof_of(locked(one, printed(60, 75, origin_known=False), (12.0, 20.0))) is None
    assert proof_of(locked(replace(one, turns_deg=None), printed(60, 75), (12.0, 20.0))) is None
    wish = replace(locked(one, cloth(100, 100), (1.0, 1.0)).locks[0], must=False)
    assert proof_of(Question((one,), (cloth(100, 100),), locks=(wish,))) is None
    assert must_locks(Question((one,), (), locks=(wish,))) == {}


def test_two_locks_hold_at_once_or_not() -> None:
    one = piece("a", 46, 66)
    both = Question(
        (one,), (printed(100, 100),), locks=(Lock("a", (5.0, 7.0), (12.0, 20.0)), Lock("a", (15.0, 7.0), (22.0, 20.0)))
    )
    assert proof_of(both) is None
    assert proof_of(replace(both, locks=(both.locks[0], replace(both.locks[1], place_mm=(23.0, 20.0))))) is not None


def test_stripes_are_met_by_a_piece_that_reaches_them() -> None:
    stripes = Lattice((0.0, 40.0))
    one = piece("a", 90, 66)
    # Stripes at 8 + 20 = 28 and 68 down: the point is 7 below the top, which goes from 0 to 9.
    assert proof_of(locked(one, printed(100, 75, stripes), (0.0, 20.0))) is not None
    assert figures(proof_of(locked(one, printed(100, 75, stripes), (0.0, 20.0))))["tried"] == 2.0
    assert proof_of(locked(one, printed(100, 75, stripes), (0.0, 5.0))) is None


def test_places_and_repeats(monkeypatch: pytest.MonkeyPatch) -> None:
    cloths = (cloth(100, 100, name="c1"), cloth(100, 100, name="c2", print_id="p"))
    anywhere = Question((piece("a", 10, 10),), cloths)
    assert [g.id for _, g in places_for(anywhere, anywhere.pieces[0])] == ["c1-all", "c2-all"]
    box = Box(0.0, 0.0, 60.0, 60.0)
    assert repeats_in(box, (15.0, 28.0), SHEARED) == [(15.0, 28.0)]
    assert repeats_in(box, (5.0, 5.0), SHEARED) == [(5.0, 5.0), (5.0, 45.0), (55.0, 15.0), (55.0, 55.0)]
    assert repeats_in(box, (5.0, 5.0), Lattice((10.0, 0.0))) is None
    monkeypatch.setattr(nowhere, "_MOST_REPEATS", 3)
    assert repeats_in(box, (5.0, 5.0), SHEARED) is None
    # Too many to look at: nothing is said.
    assert proof_of(locked(piece("a", 46, 66), printed(60, 75), (12.0, 20.0))) is None


def test_spots_are_those_of_the_frames_origin() -> None:
    question = Question((piece("a", 40, 20, ANY),), (cloth(100, 50),))
    place = places_for(question, question.pieces[0])[0]
    spots = Spots(question)
    for deg, left, top in ((0.0, 0.0, 0.0), (90.0, 20.0, 0.0), (180.0, 40.0, 20.0)):
        box = spots.box(question.pieces[0], place, deg)
        assert box is not None
        assert (box.left_mm, box.top_mm) == (pytest.approx(left - 0.01), pytest.approx(top - 0.01))
        swept = spots.of(question.pieces[0], place, deg).bounds
        assert (swept.left_mm, swept.width_mm) == (pytest.approx(box.left_mm), pytest.approx(box.width_mm))
    assert spots.box(piece("b", 101, 20), place, 0.0) is None
    flawed = Question(question.pieces, (cloth(100, 50, keep_outs=(flaw(rectangle(100, 40)),)),))
    assert Spots(flawed).box(question.pieces[0], places_for(flawed, flawed.pieces[0])[0], 0.0) is None


def test_a_piece_thinner_than_the_looseness_is_never_refused_for_its_flaws() -> None:
    hair = piece("hair", 0.015, 0.015)
    on = cloth(100, 50, keep_outs=(flaw(rectangle(100, 49.9)),))
    assert proof_of(Question((hair,), (on,))) is None


def test_many_shapes_are_only_measured(monkeypatch: pytest.MonkeyPatch) -> None:
    bars = flaw(rectangle(4, 100, 30, 0)), flaw(rectangle(4, 100, 66, 0))
    question = Question((piece("a", 40, 40),), (cloth(100, 100, keep_outs=bars),))
    monkeypatch.setattr(nowhere, "_MOST_SWEPT", 0)
    assert proof_of(question) is None
