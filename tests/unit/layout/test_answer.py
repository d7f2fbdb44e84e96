"""Answers are frozen values that travel back: the plain case, a proof with its figures, a breach."""

from __future__ import annotations

import pickle
from dataclasses import FrozenInstanceError

import pytest

from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer, Breach, Proof, Report


def test_an_answer_without_layout_has_no_figures_of_one() -> None:
    answer = Answer("not found", False, Remark.of("lay-not-found"))
    assert (answer.placed, answer.clearance_mm, answer.spare_mm, answer.spare_proved) == ((), None, None, False)
    assert (answer.proof, answer.notes, answer.cut_short, answer.used_percent) == (None, (), False, 0.0)


def test_answers_travel_whole() -> None:
    proof = Proof("side by side", (("pieces", "a, b"), ("need_mm", 433.0)))
    answer = Answer("does not fit", True, Remark.of("lay-no-row", need_mm=433.0), proof, question_number=4)
    assert pickle.loads(pickle.dumps(answer)) == answer
    report = Report("not valid", (Breach("gap", ("a", "b"), 1.5, cloth="c"),), ("d",), 60.0, 0.5)
    assert pickle.loads(pickle.dumps(report)) == report


def test_answers_are_frozen() -> None:
    answer = Answer("fits", True, Remark.of("lay-fits", clearance_mm=7.0))
    with pytest.raises(FrozenInstanceError):
        answer.verdict = "not found"  # type: ignore[misc]  # that it cannot be set is the point
    assert Breach("lock", ("a",), 0.2).against == ""
