"""Questions are frozen values that travel to another process and come back equal."""

from __future__ import annotations

import pickle
from dataclasses import FrozenInstanceError, replace

import pytest
from laying import book_pieces, cloth, core, flaw, piece

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Link, Lock, Placed, Question, never


def full() -> Question:
    cut = (piece("cut-1", 20, 20), Placed("cut-1", "c", 30.0, 30.0, 90.0))
    on = cloth(300, 200, keep_outs=(flaw(rectangle(5, 5), seen_only=True),), fixed=(cut,), print_id="p")
    locks = (Lock("front-1", (1.0, 2.0), (3.0, 4.0)),)
    links = (Link(("front-1", "back-1"), ((0.0, 0.0), (1.0, 1.0)), ((13.5, 0.0),), must=False),)
    return Question(
        book_pieces(), (on,), 2.0, locks, links, cloths_if_smaller=(cloth(297, 198),), seconds=1.5, number=9
    )


def test_a_question_travels_whole() -> None:
    question = full()
    assert pickle.loads(pickle.dumps(question)) == question
    assert hash(question.pieces) == hash(full().pieces)


def test_a_question_is_frozen_and_told_apart_by_any_figure() -> None:
    question = full()
    with pytest.raises(FrozenInstanceError):
        question.gap_mm = 1.0  # type: ignore[misc]  # that it cannot be set is the point
    assert replace(question, gap_mm=2.5) != question
    assert core(304.8) != core(298.8)


def test_what_is_not_said_is_the_plain_job() -> None:
    question = core(304.8)
    assert (question.gap_mm, question.spare_wish_mm, question.seconds) == (0.0, 6.0, None)
    assert (question.locks, question.links, question.cloths_if_smaller) == ((), (), ())
    assert question.pieces[0].turns_deg == (0.0,)


def test_the_watch_that_never_stops() -> None:
    assert not never(0.0)
    assert not never(1.0)
