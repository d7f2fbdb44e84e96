"""The one decision that larger questions ask: a first layout or a no, and nothing beyond."""

from __future__ import annotations

from dataclasses import replace

from laying import cloth, core, faults, piece
from stripping import TILES
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.layout.laying.desk import Desk
from coverlayout.layout.laying.first import decided, first_layout, worked_out
from coverlayout.layout.question import Lock, Question, never
from coverlayout.layout.search.effort import CutShort, Effort, OutOfSteps
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
SQUARE = Lattice((50.0, 0.0), (0.0, 40.0))


def test_a_layout_or_a_no() -> None:
    found = first_layout(core(400.0))
    assert faults(core(400.0), found.placed) == []
    assert not found.spare_proved
    assert first_layout(core(150.0)).verdict == "does not fit"
    assert first_layout(replace(core(400.0), number=9)).question_number == 9


def test_cloth_smaller_by_its_doubt_is_not_looked_at() -> None:
    question = Question(
        (piece("a", 90, 90),), (cloth(110, 110),), spare_wish_mm=0.0, cloths_if_smaller=(cloth(80, 80),)
    )
    assert first_layout(question).verdict == "fits"
    assert first_layout(question).notes == ()
    assert decided(question, never).verdict == "fits"


def test_what_is_no_must_is_not_looked_at() -> None:
    # The lock would need 50 beyond the edge.
    on = printed_cloth(45, 35, SQUARE, origin_mm=(40.0, 30.0))
    question = Question((piece("a", 30, 20),), (on,), locks=(Lock("a", ZERO, ZERO, must=False),))
    assert first_layout(question).placed
    assert first_layout(replace(question, locks=(Lock("a", ZERO, ZERO),))).verdict == "does not fit"


def test_a_lock_on_a_print_of_unknown_origin_holds_wherever_it_falls() -> None:
    # 30 + 50 across and 20 + 40 along are enough for any place; less is not.
    lock = Lock("a", ZERO, ZERO)
    sure = Question(
        (piece("a", 30, 20),), (printed_cloth(80, 60, SQUARE, known=False),), locks=(lock,), spare_wish_mm=0.0
    )
    assert first_layout(sure).verdict == "fits"
    unsure = replace(sure, cloths=(printed_cloth(60, 60, SQUARE, known=False),))
    answer = first_layout(unsure)
    assert answer.verdict != "fits"
    # With an `if possible` beside it that is not looked at.
    preferred = replace(sure, locks=(lock, Lock("a", ZERO, (7.0, 7.0), must=False)))
    assert first_layout(preferred).verdict == "fits"


def test_the_answer_says_when_it_was_cut_short() -> None:
    def cut(desk: Desk) -> None:
        raise CutShort

    def done(desk: Desk) -> None:
        with desk.part(0.5):
            raise OutOfSteps

    desk = Desk(core(400.0), Effort(1000))
    assert worked_out(desk, cut).cut_short
    assert not worked_out(desk, done).cut_short
    # Fourteen pieces that leave no waste are not found at once.
    tight = Question(tuple(piece(f"p{k}", *size) for k, size in enumerate(TILES)), (cloth(305, 380),))
    assert first_layout(tight, lambda share: True).cut_short
    assert first_layout(replace(tight, seconds=0.0)).cut_short
