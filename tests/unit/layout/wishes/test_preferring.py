"""As many wishes marked if possible as can hold together, the others told: against every choice tried in the test."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace

import pytest
from wishing import decide_in_row, strip_piece, striped

from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Link, Lock, Question
from coverlayout.layout.wishes.preferring import with_most_wishes

JOB = Question((strip_piece("a", 35), strip_piece("b", 30)), (striped(100, 40),))


def lock(piece: str, at_mm: float, *, must: bool = False) -> Lock:
    return Lock(piece, (0.0, 0.0), (at_mm, 0.0), must)


def test_a_question_without_such_wishes_is_left_alone() -> None:
    question = replace(JOB, locks=(lock("a", 7.0, must=True),))
    preferred = with_most_wishes(question, decide_in_row)
    assert preferred.question is question
    assert preferred.notes() == ()


def test_wishes_that_all_hold_become_musts() -> None:
    question = replace(JOB, locks=(lock("a", 5.0), lock("b", 0.0, must=True)))
    preferred = with_most_wishes(question, decide_in_row)
    assert all(one.must for one in preferred.question.locks)
    assert {one.piece for one in preferred.question.locks} == {"a", "b"}
    assert preferred.unmet == ()


def test_one_of_two_that_quarrel_goes_and_is_told_by_how_much() -> None:
    # See the sums in the tests of dropping: a at 7 and b at 35 cannot both be; the one wished last goes, 5 off.
    preferred = with_most_wishes(replace(JOB, locks=(lock("a", 7.0), lock("b", 35.0))), decide_in_row)
    assert [one.piece for one in preferred.question.locks] == ["a"]
    (unmet,) = preferred.unmet
    assert unmet.wish == lock("b", 35.0)
    assert unmet.miss_mm == pytest.approx(5.0, abs=0.06)
    assert preferred.notes()[0].text().startswith("b:")
    assert "5" in preferred.notes()[0].text()


def test_a_must_is_never_dropped_for_a_wish_and_a_link_is_told_as_one() -> None:
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((10.0, 0.0),), must=False)
    # b at 10 or 50 behind a; with a at 7 b would lie at 57 and end at 87: that holds. On 85 it does not.
    question = replace(JOB, cloths=(striped(85, 40),), locks=(lock("a", 7.0, must=True),), links=(link,))
    preferred = with_most_wishes(question, decide_in_row)
    assert (len(preferred.question.locks), preferred.question.links) == (1, ())
    assert preferred.unmet[0].miss_mm == pytest.approx(2.0, abs=0.06)
    assert "a, b" in preferred.notes()[0].text()


def test_where_nothing_fits_at_all_no_wish_is_blamed() -> None:
    question = replace(JOB, cloths=(striped(60, 40),), locks=(lock("a", 7.0),))
    preferred = with_most_wishes(question, decide_in_row)
    assert preferred.question.locks == ()
    assert preferred.notes() == ()


def test_the_most_that_hold_are_kept_and_of_as_many_the_ones_wished_first() -> None:
    shuffled = random.Random(6)
    for _ in range(12):
        wishes = tuple(lock(shuffled.choice("ab"), shuffled.randrange(40)) for _ in range(4))
        kept = with_most_wishes(replace(JOB, locks=wishes), decide_in_row).question.locks

        def hold(chosen: tuple[Lock, ...]) -> bool:
            return bool(decide_in_row(replace(JOB, locks=chosen)).placed)

        most = max(
            len(chosen) for count in range(5) for chosen in itertools.combinations(wishes, count) if hold(chosen)
        )
        first = next(chosen for chosen in itertools.combinations(wishes, most) if hold(chosen))
        assert [one.place_mm for one in kept] == [one.place_mm for one in first]


def test_of_as_many_the_one_that_asks_least_goes() -> None:
    pieces = tuple(strip_piece(name, 20) for name in "abc")
    link = Link(("a", "b", "c"), ((0.0, 0.0),) * 3, ((20.0, 0.0), (0.0, 0.0)), must=False)
    # Linked, they lie at 0, 20 and 40 (or c first); locked b at 5 does not go with that on 60.
    question = Question(pieces, (striped(60, 40),), locks=(lock("b", 5.0),), links=(link,))
    preferred = with_most_wishes(question, decide_in_row)
    assert len(preferred.question.links) == 1
    assert preferred.question.locks == ()


def test_many_wishes_are_taken_one_after_another_with_few_questions() -> None:
    asked: list[Question] = []

    def decide(question: Question) -> Answer:
        asked.append(question)
        return decide_in_row(question)

    wishes = tuple(lock("a", 5.0 + (k % 2)) for k in range(10))
    preferred = with_most_wishes(replace(JOB, locks=wishes), decide)
    assert [one.place_mm[0] for one in preferred.question.locks] == [5.0] * 5
    assert len(preferred.unmet) == 5
    assert preferred.unmet[0].miss_mm == pytest.approx(1.0, abs=0.06)
