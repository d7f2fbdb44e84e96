"""The least length: exact, bounded, with a strip lost below, on an odd shape, refused, stopped."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, cloth, faults, flaw, piece

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Question
from coverlayout.layout.sizing.lengths import shortest_length

PIECES = (piece("a", 60.0, 40.0), piece("b", 50.0, 90.0, ANY), piece("c", 40.0, 50.0))


def test_the_least_length_and_its_bound() -> None:
    # 100 wide: b turned is 90 x 50 alone in its row; a and c fill the other, 60 + 40 wide and 50 high.
    question = Question(PIECES, (cloth(100.0, 400.0),))
    found = shortest_length(question)
    assert found.length_mm == pytest.approx(100.0, abs=0.02)
    assert found.proved
    assert found.bound_mm is not None
    assert 99.85 <= found.bound_mm < 100.0
    assert faults(Question(PIECES, (cloth(100.0, 100.02),)), found.placed) == []


def test_the_strip_below_belongs_to_it() -> None:
    question = Question(PIECES, (cloth(106.0, 400.0, edge_mm=3.0),))
    found = shortest_length(question)
    assert found.length_mm == pytest.approx(106.0, abs=0.02)
    assert found.proved


def test_a_flaw_pushes_everything_down() -> None:
    crease = flaw(rectangle(100.0, 5.0, 0.0, 20.0))
    found = shortest_length(Question(PIECES, (cloth(100.0, 400.0, keep_outs=(crease,)),)))
    assert found.length_mm == pytest.approx(125.0, abs=0.02)


def test_a_piece_too_wide_is_a_proved_no() -> None:
    found = shortest_length(Question((piece("a", 120.0, 40.0),), (cloth(100.0, 400.0),)))
    assert (found.length_mm, found.placed) == (None, ())
    assert found.proved
    assert found.answer.verdict == "does not fit"


def test_a_crooked_cloth() -> None:
    slanted = ((0.0, 0.0), (100.0, 0.0), (50.0, 400.0), (0.0, 400.0))
    question = Question((piece("a", 75.0, 100.0), piece("b", 20.0, 30.0)), (cloth(0.0, 0.0, outline=slanted),))
    found = shortest_length(question)
    # At 100 down the cloth is 87.5 wide: no room for b beside a, so it comes below.
    assert found.length_mm is not None
    assert found.length_mm <= 130.1


def test_nothing_to_lay_needs_no_length() -> None:
    found = shortest_length(Question((), (cloth(100.0, 400.0),)))
    assert found.length_mm == 0.0


def test_with_few_steps_and_when_stopped_it_says_what_it_has() -> None:
    many = tuple(piece(f"p{k}", 17.0 + k, 31.0 - k, ANY) for k in range(15))
    found = shortest_length(replace(Question(many, (cloth(97.0, 900.0),)), steps=200))
    assert found.length_mm is not None
    stopped = shortest_length(Question(many, (cloth(97.0, 900.0),)), lambda _share: True)
    assert stopped.cut_short
