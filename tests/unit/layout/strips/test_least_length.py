"""The least length off the bolt: published lengths reached and proved, what is lost below counted, the rest decided."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from laying import ANY, book_pieces, cloth, faults, flaw, piece
from stripping import FORTY, TILES, TWENTY, Size

from coverlayout.geometry.frames import IDENTITY
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, Lock, PieceAsked, Question
from coverlayout.layout.strips.least_length import LengthFound, least_length
from coverlayout.motif.lattice import Lattice


def pieces(sizes: Sequence[Size], turns_deg: tuple[float, ...] = (0.0,)) -> tuple[PieceAsked, ...]:
    return tuple(piece(f"p{k}", w, h, turns_deg) for k, (w, h) in enumerate(sizes))


def good(question: Question, found: LengthFound) -> LengthFound:
    """What was found, its layout looked at."""
    assert len(found.placed) == len(question.pieces)
    assert faults(question, found.placed) == []
    assert found.length_mm is not None
    assert found.bound_mm <= found.length_mm + 1e-9
    return found


@pytest.mark.parametrize(
    ("width_mm", "sizes", "turns_deg", "least_mm"),
    [(20, TWENTY, ANY, 20.0), (40, FORTY, ANY, 40.0), (305, TILES, (0.0,), 380.0)],
    ids=["published 20", "published 40", "own"],
)
def test_many_pieces_reach_the_length_known_and_it_is_proved(
    width_mm: float, sizes: Sequence[Size], turns_deg: tuple[float, ...], least_mm: float
) -> None:
    question = Question(pieces(sizes, turns_deg), (cloth(width_mm, 2000),))
    seen: list[LengthFound] = []
    found = good(question, least_length(question, found=seen.append))
    assert found.length_mm == pytest.approx(least_mm, abs=1e-9)
    assert found.proved
    assert not found.cut_short
    known = [each.length_mm for each in seen]
    assert known == sorted(known, key=lambda length: -(length or 0.0))
    assert known[-1] == found.length_mm
    assert least_length(question) == found


def test_a_few_pieces_are_decided_length_after_length() -> None:
    """Our own case, proved by a constraint solver: six free pieces, gap 2, trim 3, on 340 across need 167."""
    sizes = [(39, 138), (47, 175), (80, 100), (80, 100), (38, 145), (103, 101)]
    question = Question(pieces(sizes, ANY), (cloth(340, 700, edge_mm=3.0),), gap_mm=2.0)
    found = good(question, least_length(question))
    assert found.length_mm == pytest.approx(167.0, abs=0.05)
    assert found.proved
    assert found.bound_mm >= 166.9


def test_three_squares_of_six_cannot_lie_on_the_length_by_area() -> None:
    """Textbook case (common practice, no source): on 10 across three squares of 6 need 18, by area 10.8."""
    question = Question(pieces([(6, 6)] * 3, ANY), (cloth(10, 50),))
    found = good(question, least_length(question))
    assert found.length_mm == pytest.approx(18.0)
    assert found.proved


def test_trim_above_and_below_is_part_of_the_length() -> None:
    """Ten of 50 x 20 on 100 clear across: five rows, 100 in all, with 4 above and 4 below."""
    question = Question(pieces([(50, 20)] * 10), (cloth(108, 900, edge_mm=4.0),))
    found = good(question, least_length(question))
    assert found.length_mm == pytest.approx(108.0)
    assert found.proved
    # The ground ends 4 above and 30 below the cloth's edges.
    ground = Ground("g", Region.of(rectangle(100, 866, 4, 4)))
    uneven = ClothAsked("c", "c", rectangle(108, 900), (ground,))
    below = least_length(replace(question, cloths=(uneven,)))
    assert below.length_mm == pytest.approx(134.0)
    assert below.proved


def test_a_flaw_in_the_strip_is_decided_around() -> None:
    """Two of 60 x 40 on 100 across with a flaw over the first 30 mm of the cloth: the first can begin at 30."""
    stain = flaw(rectangle(100, 30, 0, 0))
    question = Question(pieces([(60, 40)] * 2), (cloth(100, 500, keep_outs=(stain,)),))
    found = good(question, least_length(question))
    assert found.length_mm == pytest.approx(110.0, abs=0.05)
    assert found.proved


def test_a_lock_to_the_repeat_is_decided() -> None:
    """Its middle may lie at 70 or 120 down the cloth, 50 apart; 40 long, it reaches to 90 at least (to 40 unlocked)."""
    locked = piece("a", 60, 40, anchor=(30.0, 20.0))
    whole = Region.of(rectangle(100, 500))
    ground = Ground("g", whole, "print", 0.0, Lattice((100.0, 0.0), (0.0, 50.0)), IDENTITY)
    question = Question(
        (locked,),
        (ClothAsked("c", "c", rectangle(100, 500), (ground,)),),
        locks=(Lock("a", (30.0, 20.0), (50.0, 20.0)),),
    )
    unreachable = replace(question, locks=(Lock("a", (30.0, 20.0), (50.0, 10.0)),))
    assert least_length(question).length_mm == pytest.approx(40.0, abs=0.1)
    assert least_length(unreachable).length_mm == pytest.approx(80.0, abs=0.1)


def test_twelve_with_a_flaw_are_found_but_not_proved_beyond_the_bound() -> None:
    stain = flaw(rectangle(10, 10, 45, 45))
    question = Question(book_pieces(3), (cloth(500, 3000, keep_outs=(stain,)),), steps=3_000)
    found = good(question, least_length(question))
    assert found.length_mm is not None
    assert found.length_mm < 1000.0


def test_what_cannot_be_laid_at_all_is_said_with_its_proof() -> None:
    found = least_length(Question(pieces([(120, 50)]), (cloth(100, 500),)))
    assert (found.length_mm, found.proved, found.placed) == (None, True, ())


def test_no_pieces_need_no_cloth_and_no_cloth_holds_none() -> None:
    assert least_length(Question((), (cloth(100, 500),))) == LengthFound(0.0, proved=True, bound_mm=0.0)
    none = least_length(Question(pieces([(20, 20)]), ()))
    assert (none.length_mm, none.proved) == (None, False)


def test_the_watch_stops_it_and_the_answer_says_so() -> None:
    many = Question(pieces([(41.3 + k, 30.7 + 2 * k) for k in range(40)], ANY), (cloth(517.3, 9000),))
    stopped = least_length(many, lambda share: True)
    assert stopped.cut_short
    few = Question(
        pieces([(60.3 - k, 41.7 + 2.3 * k) for k in range(8)], ANY),
        (cloth(171, 900, keep_outs=(flaw(rectangle(9, 9, 40, 40)),)),),
    )
    assert least_length(few, lambda share: True).cut_short
    assert least_length(replace(many, seconds=0.0)).cut_short


def test_few_steps_still_give_a_length() -> None:
    many = Question(pieces([(41.3 + k, 30.7 + 2 * k) for k in range(40)], ANY), (cloth(517.3, 9000),), steps=2_000)
    found = good(many, least_length(many))
    area = sum((41.3 + k) * (30.7 + 2 * k) for k in range(40))
    assert found.bound_mm >= area / 517.3 - 1e-6
    assert found.length_mm is not None
    assert found.length_mm <= area / 517.3 * 1.12
    assert not found.proved


def test_where_the_print_falls_is_not_known_the_length_does_wherever_it_falls() -> None:
    # A locked label below a piece as wide as the cloth: 200 + 60, and up to a whole repeat of 40 lost between them.
    repeat = Lattice((50.0, 0.0), (0.0, 40.0))
    printed = Ground("g", Region.of(rectangle(200, 600)), "A", 0.0, repeat, IDENTITY, origin_known=False)
    on = ClothAsked("c", "c", rectangle(200, 600), (printed,))
    label, wide = piece("label", 80, 60), piece("wide", 200, 200)
    asked = Question((label, wide), (on,), locks=(Lock("label", (0.0, 0.0), (7.0, 0.0)),))
    found = least_length(asked)
    assert found.length_mm is not None
    # Half the repeat is enough: the wide piece lies above the label or below it, whichever wastes less.
    assert 260.0 + 20.0 - 0.3 <= found.length_mm <= 300.0 + 0.1
    assert len(found.placed) == 2
    assert found.bound_mm <= found.length_mm
    loose = least_length(replace(asked, locks=()))
    assert loose.length_mm == pytest.approx(260.0)


def test_a_lock_that_takes_no_room_needs_no_more_than_the_pieces() -> None:
    repeat = Lattice((20.0, 0.0), (0.0, 20.0))
    printed = Ground("g", Region.of(rectangle(300, 500)), "A", 0.0, repeat, IDENTITY, origin_known=False)
    on = ClothAsked("c", "c", rectangle(300, 500), (printed,))
    asked = Question(
        (piece("label", 30, 50), piece("wide", 200, 260)), (on,), locks=(Lock("label", (0.0, 0.0), (0.0, 0.0)),)
    )
    found = least_length(asked)
    # A hundred beside the wide piece leave the label 70 across and 210 along: every place of a repeat of 20.
    assert (found.length_mm, found.proved) == (pytest.approx(260.0), True)
