"""The quick verdict: below the wish as well known as a maker reads it, above it roughly, and never above the truth."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, INCH, book_pieces, clearance_of, cloth, core, faults, flaw, piece

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import Placed, Question, with_room
from coverlayout.layout.sizing.rooms import quick_answer

STEPS = 2_000


def test_the_tight_case_is_known_to_a_tenth() -> None:
    # 4.7 mm: common practice, no source; worked out in the outside tests.
    answer = quick_answer(core(12 * INCH), steps=STEPS)
    assert answer.verdict == "fits, tight"
    assert answer.spare_mm == pytest.approx(4.7, abs=0.11)
    assert not answer.spare_proved
    assert faults(core(12 * INCH), answer.placed) == []
    assert clearance_of(core(12 * INCH), answer.placed) == pytest.approx(answer.spare_mm)


def test_above_the_wish_it_fits_with_some_of_the_room_there_is() -> None:
    question = core(400.0)
    answer = quick_answer(question, steps=STEPS)
    assert answer.verdict == "fits"
    assert answer.spare_mm is not None
    # Two covers, one of them beside two liners, leave 36.4 at best.
    assert 6.0 <= answer.spare_mm <= 36.5
    assert clearance_of(question, answer.placed) == pytest.approx(answer.spare_mm)


def test_a_no_keeps_its_proof() -> None:
    answer = quick_answer(core(10 * INCH), steps=STEPS)
    assert (answer.verdict, answer.proved) == ("does not fit", True)
    assert answer.proof is not None


def test_a_layout_that_holds_as_well_is_a_start() -> None:
    small = first_layout(core(12 * INCH)).placed
    answer = quick_answer(core(20 * INCH), steps=STEPS, tries=0, starts=(small,))
    assert answer.verdict in ("fits", "fits, tight")
    assert (answer.spare_mm or 0.0) > 0.0
    # One that does not hold here is passed over.
    wrong = tuple(replace(one, x_mm=one.x_mm - 400.0) for one in small)
    assert quick_answer(core(12 * INCH), steps=STEPS, starts=(wrong,)).verdict == "fits, tight"


def test_the_doubt_makes_it_tight() -> None:
    pieces = (piece("a", 80.0, 50.0),)
    on, smaller = cloth(100.0, 70.0), cloth(79.0, 69.3)
    question = Question(pieces, (on,), cloths_if_smaller=(smaller,))
    answer = quick_answer(question, steps=STEPS)
    assert answer.verdict == "fits, tight"
    assert [note.code for note in answer.notes] == ["lay-smaller-no"]
    assert quick_answer(replace(question, cloths_if_smaller=(cloth(99.0, 69.3),)), steps=STEPS).verdict == "fits"
    # The layout lies in the middle and reaches beyond the smaller cloth, but another one holds there.
    narrow = replace(question, cloths_if_smaller=(cloth(85.0, 55.0),))
    assert quick_answer(narrow, steps=STEPS).verdict == "fits"


def test_nothing_to_lay_fits() -> None:
    assert quick_answer(Question((), (cloth(10.0, 10.0),)), steps=STEPS).verdict == "fits"


def test_many_pieces_and_a_wish_out_of_reach() -> None:
    pieces = tuple(replace(one, turns_deg=ANY) for one in book_pieces(5))
    question = Question(pieces, (cloth(44 * INCH, 18 * INCH),))
    answer = quick_answer(question, steps=STEPS)
    assert answer.verdict == "fits, tight"
    assert faults(question, answer.placed) == []


def test_a_stopped_look_is_cut_short() -> None:
    answer = quick_answer(core(12 * INCH), lambda _share: True, steps=STEPS)
    assert answer.cut_short or answer.verdict == "fits, tight"


def test_room_is_asked_for_as_gap_and_as_a_strip_all_round() -> None:
    hole = flaw(rectangle(10.0, 10.0), "hole", spoiled=True)
    asked = with_room(Question((piece("a", 20.0, 30.0),), (cloth(100.0, 60.0, keep_outs=(hole,)),), gap_mm=2.0), 5.0)
    assert asked.gap_mm == 5.0
    box = asked.cloths[0].grounds[0].usable.bounds
    assert (box.left_mm, box.top_mm, box.width_mm, box.height_mm) == pytest.approx((5.0, 5.0, 90.0, 50.0))
    assert asked.cloths[0].keep_outs == (hole,)
    assert with_room(replace(asked, gap_mm=9.0), 5.0).gap_mm == 9.0
    # A layout with room in the one question is a layout of the other, and the other way round.
    lies = (Placed("a", "c", 25.0, 30.0),)
    assert clearance_of(asked, lies) == pytest.approx(10.0)
