"""Which must to drop first, measured, against sums of widths and stripes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from wishing import decide_in_row, strip_piece, striped

from coverlayout.layout.question import Link, Lock, Question
from coverlayout.layout.wishes.dropping import which_to_drop

# Stripes every 40 on 100. Strip a, 35 wide, may lie at 0 to 65; b, 30 wide, beside it.
A_AT_7 = Lock("a", (0.0, 0.0), (7.0, 0.0))
B_AT_35 = Lock("b", (0.0, 0.0), (35.0, 0.0))
JOB = Question((strip_piece("a", 35), strip_piece("b", 30)), (striped(100, 40),))


def test_each_wish_without_which_it_fits_is_ranked_by_how_near_it_can_be_held() -> None:
    # a lies at 7 (to 42) or 47 (to 82); b at 35 (to 65), so neither goes with a. Without b's lock b lies at 42 or more,
    # 7 off its 35; or at the left of an a at 47, at 0, which is 5 off -5. Without a's lock a ends at 35: 7 off its 7.
    question = replace(JOB, locks=(A_AT_7, B_AT_35))
    found = which_to_drop(question, decide_in_row)
    assert [dropped.wish for dropped in found] == [B_AT_35, A_AT_7]
    assert [dropped.miss_mm for dropped in found] == [pytest.approx(5.0, abs=0.06), pytest.approx(7.0, abs=0.06)]
    assert "5" in found[0].remark.text()
    assert found[0].answer.placed


def test_the_least_off_comes_first() -> None:
    # Now b is wished at 39, or -1: at the left of an a at 47 it lies at 0, 1 off. With b at 39 a lies at 4, 3 off.
    nearer = replace(B_AT_35, place_mm=(39.0, 0.0))
    farther = Lock("a", (0.0, 0.0), (7.0, 0.0))
    third = Lock("a", (0.0, 0.0), (12.0, 0.0))
    found = which_to_drop(replace(JOB, locks=(farther, nearer)), decide_in_row)
    assert [dropped.wish for dropped in found] == [nearer, farther]
    assert [dropped.miss_mm for dropped in found] == [pytest.approx(1.0, abs=0.06), pytest.approx(3.0, abs=0.06)]
    # With a third that goes with neither, no single wish is to blame.
    assert which_to_drop(replace(JOB, locks=(farther, nearer, third)), decide_in_row) == ()


def test_the_sentence_names_the_pieces_of_a_link() -> None:
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((30.0, 0.0),))
    (dropped,) = which_to_drop(replace(JOB, cloths=(striped(66, 40),), links=(link,)), decide_in_row)
    # 65 of 66 are needed. b left of a: 10 behind a whole repeat, up to -31, so 30 - 40 is 20 or more off; a left of b:
    # 35 or 36 on, 5 off at the least.
    assert dropped.miss_mm == pytest.approx(5.0, abs=0.06)
    assert "a, b" in dropped.remark.text()


def test_nothing_is_to_blame_where_everything_fits_or_nothing_is_wished() -> None:
    assert which_to_drop(replace(JOB, locks=(A_AT_7,)), decide_in_row) == ()
    assert which_to_drop(JOB, decide_in_row) == ()
    assert which_to_drop(replace(JOB, locks=(replace(A_AT_7, must=False),)), decide_in_row) == ()
    assert which_to_drop(replace(JOB, cloths=(striped(60, 40),), locks=(A_AT_7,)), decide_in_row) == ()
