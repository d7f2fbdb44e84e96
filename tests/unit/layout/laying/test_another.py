"""Another layout on purpose: unlike all seen, the same each time, and honest when there is none."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from laying import ANY, book_pieces, clearance_of, cloth, faults, piece
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.layout.lay import lay
from coverlayout.layout.laying.another import another, unlike
from coverlayout.layout.question import AnotherAsked, Lock, Placed, Question
from coverlayout.layout.ranking.upright import turned
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice

Layout = tuple[Placed, ...]
ZERO: Point = (0.0, 0.0)
FEW = Question((piece("a", 60, 40), piece("b", 40, 30), piece("d", 40, 30)), (cloth(160, 120),))


def test_pieces_alike_may_change_places_and_a_little_shift_is_none() -> None:
    judge = Judge(FEW)
    first = Placed("a", "c", 40.0, 30.0), Placed("b", "c", 100.0, 30.0), Placed("d", "c", 100.0, 80.0)
    swapped = first[0], replace(first[1], piece="d"), replace(first[2], piece="b")
    assert unlike(judge, first, first) == 0
    assert unlike(judge, swapped, first) == 0
    assert unlike(judge, (replace(first[0], x_mm=44.9), *first[1:]), first) == 0
    assert unlike(judge, (replace(first[0], x_mm=45.1), *first[1:]), first) == 1
    assert unlike(judge, (replace(first[0], turn_deg=180.0), *first[1:]), first) == 1
    assert unlike(judge, (replace(first[0], cloth="d"), *first[1:]), first) == 1
    # a where b was is no equal; one place counts for one piece only.
    assert unlike(judge, (replace(first[1], piece="a"),), first) == 1
    both_there = replace(first[1]), replace(first[1], piece="d")
    assert unlike(judge, both_there, first) == 1
    # A piece that is no longer asked for is like none.
    assert unlike(judge, first, (replace(first[0], piece="gone"),)) == 3


def test_it_is_unlike_all_that_were_seen_and_keeps_the_wish() -> None:
    seen: list[Layout] = [lay(FEW).placed]
    judge = Judge(FEW)
    for _ in range(4):
        answer = another(AnotherAsked(FEW, tuple(seen)))
        assert answer.placed
        assert faults(FEW, answer.placed) == []
        assert answer.verdict == "fits"
        assert clearance_of(FEW, answer.placed) >= 6.0 - 0.01
        assert answer.clearance_mm == answer.spare_mm
        assert not answer.spare_proved
        assert all(unlike(judge, answer.placed, one) > 0 for one in seen)
        seen.append(answer.placed)
    assert all(unlike(judge, one, other) for one, other in itertools.combinations(seen, 2))


def test_the_same_seen_give_the_same() -> None:
    asked = AnotherAsked(FEW, (lay(FEW).placed,))
    assert another(asked) == another(asked)


def test_the_most_unlike_is_taken_with_the_fewest_turned() -> None:
    question = replace(FEW, pieces=tuple(replace(asked, turns_deg=ANY) for asked in FEW.pieces))
    first = lay(question).placed
    answer = another(AnotherAsked(question, (first,)))
    assert unlike(Judge(question), answer.placed, first) == 3
    assert turned(Judge(question), answer.placed)[0] <= 1


def test_when_there_is_no_other_nothing_is_found() -> None:
    # A piece that fills the cloth, and two that do: of them one order is left.
    whole = Question((piece("a", 60, 40),), (cloth(60, 40),))
    assert another(AnotherAsked(whole, (lay(whole).placed,))).verdict == "not found"
    two = Question((piece("a", 60, 40), piece("b", 20, 40)), (cloth(80, 40),))
    first = lay(two).placed
    other = another(AnotherAsked(two, (first,)))
    assert other.placed
    assert another(AnotherAsked(two, (first, other.placed))).verdict == "not found"


def test_with_less_room_than_wished_the_room_that_was_had_is_asked_for() -> None:
    # 3 mm is all the room there is in a row: the mirrored row has it too.
    row = Question((piece("a", 60, 40), piece("b", 31, 40)), (cloth(100, 46),))
    first = lay(row)
    assert first.clearance_mm == pytest.approx(3.0, abs=0.01)
    answer = another(AnotherAsked(row, (first.placed,)))
    assert answer.verdict == "fits, tight"
    assert clearance_of(row, answer.placed) >= 3.0 - 0.02


def test_where_none_has_the_room_one_with_less_is_taken() -> None:
    # Seen: lying, with 10 mm of room. Standing there is one of 2.
    question = Question((piece("a", 60, 40, ANY),), (cloth(80, 64),))
    seen = tuple((Placed("a", "c", 40.0, 32.0, turn),) for turn in (0.0, 180.0))
    answer = another(AnotherAsked(question, seen))
    assert answer.placed
    assert faults(question, answer.placed) == []
    assert all(unlike(Judge(question), answer.placed, one) for one in seen)


def test_with_nothing_seen_any_layout_will_do() -> None:
    assert another(AnotherAsked(FEW, ())).placed
    assert another(AnotherAsked(FEW, ((),))).placed


def test_doubt_about_the_cloth_is_no_matter_here() -> None:
    doubted = replace(FEW, cloths_if_smaller=(cloth(50, 50),))
    assert another(AnotherAsked(doubted, ())).verdict == "fits"


def test_locks_hold_in_another_layout() -> None:
    on = printed_cloth(160, 100, Lattice((20.0, 0.0), (0.0, 20.0)))
    question = Question(
        (piece("a", 40, 30, anchor=ZERO), piece("b", 30, 30, anchor=ZERO)), (on,), locks=(Lock("a", ZERO, ZERO),)
    )
    first = lay(question).placed
    answer = another(AnotherAsked(question, (first,)))
    assert answer.placed[0].x_mm % 20.0 == pytest.approx(0.0, abs=0.06) or answer.placed[0].x_mm % 20.0 > 19.94
    assert Judge(question).report(answer.placed).breaches == ()


def test_the_watch_cuts_it_short() -> None:
    many = Question(book_pieces(4), (cloth(900, 600),))
    answer = another(AnotherAsked(many, ()), lambda share: True)
    assert answer.cut_short
    assert not another(AnotherAsked(FEW, ())).cut_short


def test_another_meets_the_wishes_that_can_be_met_and_any_place_of_the_print() -> None:
    on = printed_cloth(300, 200, Lattice((50.0, 0.0), (0.0, 40.0)))
    pieces = piece("a", 60, 40, anchor=ZERO), piece("b", 40, 30, anchor=ZERO)
    wished = Question(pieces, (on,), locks=(Lock("a", ZERO, (7.0, 3.0), must=False),), spare_wish_mm=0.0)
    first = lay(wished)
    second = another(AnotherAsked(wished, (first.placed,)))
    assert second.verdict in ("fits", "fits, tight")
    (a,) = (one for one in second.placed if one.piece == "a")
    assert ((a.x_mm - 7.0) % 50.0, (a.y_mm - 3.0) % 40.0) == (
        pytest.approx(0.0, abs=0.06),
        pytest.approx(0.0, abs=0.06),
    )
    # Where the print falls is not known: another layout for the place of the example.
    unknown = printed_cloth(300, 200, Lattice((50.0, 0.0), (0.0, 40.0)), known=False)
    anywhere = Question(pieces, (unknown,), locks=(Lock("a", ZERO, (7.0, 3.0)),), spare_wish_mm=0.0)
    assert another(AnotherAsked(anywhere, (lay(anywhere).placed,))).placed
    # Too small for the lock wherever it falls: nothing, and no claim.
    narrow = printed_cloth(61, 100, Lattice((50.0, 0.0), (0.0, 40.0)), known=False)
    none = another(AnotherAsked(Question(pieces, (narrow,), locks=(Lock("a", ZERO, (7.0, 3.0)),)), ()))
    assert (none.verdict, none.proved, none.placed) == ("not found", False, ())
