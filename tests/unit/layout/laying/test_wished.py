"""Wishes marked if possible and prints of unknown origin: asked on the way, told in the notes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import cloth, piece
from wishing import answered, printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import lay
from coverlayout.layout.laying.wished import answer_with_wishes, needs_more_than_one_answer, without_preferences
from coverlayout.layout.question import Link, Lock, Placed, Question, Watch, never
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
SQUARE = Lattice((50.0, 0.0), (0.0, 40.0))
MUST, MAY = Lock("a", ZERO, ZERO), Lock("a", ZERO, (7.0, 3.0), must=False)
ON = printed_cloth(150, 100, SQUARE)
ASKED = Question((piece("a", 30, 20, anchor=ZERO), piece("b", 30, 20, anchor=ZERO)), (ON,))


def test_only_preferences_and_unknown_origins_take_more_than_one_answer() -> None:
    unknown = printed_cloth(150, 100, SQUARE, known=False)
    assert not needs_more_than_one_answer(ASKED)
    assert not needs_more_than_one_answer(replace(ASKED, locks=(MUST,)))
    assert needs_more_than_one_answer(replace(ASKED, locks=(MAY,)))
    assert needs_more_than_one_answer(replace(ASKED, locks=(MUST,), cloths=(unknown,)))
    link = Link(("a", "b"), (ZERO, ZERO), (ZERO,))
    assert not needs_more_than_one_answer(replace(ASKED, links=(link,), cloths=(unknown,)))
    assert needs_more_than_one_answer(replace(ASKED, links=(replace(link, must=False),), cloths=(unknown,)))


def test_musts_alone_are_left() -> None:
    link = Link(("a", "b"), (ZERO, ZERO), (ZERO,), must=False)
    left = without_preferences(replace(ASKED, locks=(MUST, MAY), links=(link,)))
    assert (left.locks, left.links) == ((MUST,), ())


def test_a_preference_that_can_be_met_is_met_without_a_word() -> None:
    question = replace(ASKED, locks=(MAY,))
    answer = lay(question)
    assert answer.verdict == "fits"
    assert (answer.placed[0].x_mm - 7.0) % 50.0 == pytest.approx(0.0, abs=0.06)
    assert (answer.placed[0].y_mm - 3.0) % 40.0 == pytest.approx(0.0, abs=0.06)
    assert [note.code for note in answer.notes] == []


def test_a_preference_that_cannot_be_met_is_told_and_the_rest_is_laid() -> None:
    # Only one place of a is both at 0 and at 7 across: none.
    answer = lay(replace(ASKED, locks=(MUST, MAY)))
    assert answer.verdict == "fits"
    assert answer.placed[0].x_mm % 50.0 == pytest.approx(0.0, abs=0.06)
    (note,) = answer.notes
    assert note.code == "wish-unmet-lock"
    assert dict(note.figures)["pieces"] == "a"


def test_a_must_on_a_print_of_unknown_origin_is_said_for_every_place() -> None:
    unknown = replace(ASKED, pieces=ASKED.pieces[:1], locks=(MUST,), spare_wish_mm=0.0)
    # 30 + 50 across and 20 + 40 along: there it lies wherever the print falls; on less it may not.
    sure = lay(replace(unknown, cloths=(printed_cloth(80, 60, SQUARE, known=False),)))
    assert sure.verdict == "fits"
    assert lay(replace(unknown, cloths=(printed_cloth(78, 60, SQUARE, known=False),))).verdict != "fits"


class Spoken:
    """A decision and a work that tell what they were asked, and answer as told."""

    def __init__(self, fits: bool = True) -> None:
        self.decided: list[Question] = []
        self.worked: list[Question] = []
        self._fits = fits

    def decide(self, question: Question, watch: Watch) -> Answer:
        self.decided.append(question)
        watch(0.5)
        return answered(() if self._fits else None)

    def work(self, question: Question, watch: Watch) -> Answer:
        self.worked.append(question)
        return answered(())


def test_small_questions_get_a_tenth_of_the_steps_and_the_work_all() -> None:
    spoken = Spoken()
    question = replace(ASKED, locks=(MAY,), steps=5_000, seconds=60.0)
    answer = answer_with_wishes(question, never, spoken.decide, spoken.work)
    assert {(asked.steps, asked.seconds) for asked in spoken.decided} == {(500, None)}
    (worked,) = spoken.worked
    assert worked.steps == 5_000
    assert worked.seconds is not None
    assert 0.0 < worked.seconds <= 60.0
    assert worked.locks == (replace(MAY, must=True),)
    assert not answer.cut_short
    spoken = Spoken()
    answer_with_wishes(replace(question, steps=3, seconds=None), never, spoken.decide, spoken.work)
    assert {asked.steps for asked in spoken.decided} == {1}
    assert spoken.worked[0].seconds is None


def test_the_clock_and_the_watch_are_heard_and_said() -> None:
    spoken = Spoken()
    question = replace(ASKED, locks=(MAY,))
    late = answer_with_wishes(replace(question, seconds=0.0), never, spoken.decide, spoken.work)
    assert late.cut_short
    assert spoken.worked[0].seconds == 0.0
    assert answer_with_wishes(question, lambda share: True, Spoken().decide, Spoken().work).cut_short
    shares: list[float] = []

    def listening(share: float) -> bool:
        shares.append(share)
        return False

    assert not answer_with_wishes(question, listening, Spoken().decide, Spoken().work).cut_short
    assert shares


def test_where_nothing_fits_no_preference_is_blamed() -> None:
    spoken = Spoken(fits=False)
    answer = answer_with_wishes(replace(ASKED, locks=(MAY,)), never, spoken.decide, spoken.work)
    assert answer.notes == ()
    assert spoken.worked[0].locks == ()
    nowhere = replace(ASKED, cloths=(replace(cloth(10, 10), grounds=printed_cloth(10, 10, SQUARE).grounds),))
    assert lay(replace(nowhere, locks=(MAY,))).verdict == "does not fit"


def alike_when_half_turned(width_mm: float, length_mm: float) -> Question:
    """A label upright and one on its head, linked, on a print that looks the same half turned about (20, 15)."""
    plain = printed_cloth(width_mm, length_mm, SQUARE)
    ground = replace(plain.grounds[0], alike_deg=(180.0,), alike_about_mm=(20.0, 15.0))
    pieces = piece("a", 30, 20, (0.0,), anchor=ZERO), piece("b", 30, 20, (180.0,), anchor=ZERO)
    link = Link(("a", "b"), (ZERO, ZERO), (ZERO,))
    return Question(pieces, (replace(plain, grounds=(ground,)),), links=(link,), spare_wish_mm=0.0)


def test_linked_pieces_may_be_turned_copies_and_then_no_room_is_proved() -> None:
    question = alike_when_half_turned(95, 45)
    assert needs_more_than_one_answer(question)
    answer = lay(question)
    assert answer.verdict == "fits"
    assert not answer.spare_proved
    # The two places together: twice the middle, and whole repeats.
    first, second = answer.placed
    across, along = first.x_mm + second.x_mm - 40.0, first.y_mm + second.y_mm - 30.0
    assert abs(across / 50.0 - round(across / 50.0)) < 0.003
    assert abs(along / 40.0 - round(along / 40.0)) < 0.003
    # Two labels in less than they take are refused all the same.
    assert lay(alike_when_half_turned(55, 35)).verdict == "does not fit"


@pytest.mark.parametrize(("smaller_fits", "verdict"), [(True, "fits"), (False, "fits, tight")])
def test_turned_copies_are_tried_where_the_work_finds_nothing(smaller_fits: bool, verdict: str) -> None:
    question = replace(alike_when_half_turned(95, 45), cloths_if_smaller=alike_when_half_turned(94, 44).cloths)
    placed = Placed("a", "c", 10.0, 5.0, 0.0), Placed("b", "c", 80.0, 25.0, 180.0)

    def decide(asked: Question, watch: Watch) -> Answer:
        whole = asked.cloths == question.cloths
        return answered(placed if whole or smaller_fits else None)

    answer = answer_with_wishes(question, never, decide, lambda asked, watch: answered(None))
    assert answer.verdict == verdict
    assert answer.placed == placed
    # 10 left, 5 above and between them 10 across and nothing along: 5 is the room, and no more is claimed.
    assert answer.spare_mm == pytest.approx(5.0)
    assert not answer.spare_proved
    refused = answer_with_wishes(question, never, lambda *_: answered(None), lambda *_: answered(None))
    assert refused.placed == ()


def test_a_preference_is_met_or_told_also_where_the_print_may_fall_anywhere() -> None:
    unknown = printed_cloth(200, 160, SQUARE, known=False)
    met = lay(replace(ASKED, cloths=(unknown,), locks=(Lock("a", ZERO, ZERO), Lock("b", ZERO, (9.0, 9.0), must=False))))
    assert met.verdict in ("fits", "fits, tight")
    assert "wish-unmet-lock" not in [note.code for note in met.notes]
    quarrel = lay(replace(ASKED, cloths=(unknown,), locks=(MUST, MAY)))
    assert quarrel.verdict in ("fits", "fits, tight")
    assert "wish-unmet-lock" in [note.code for note in quarrel.notes]
