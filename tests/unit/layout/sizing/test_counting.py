"""The most sets: proved, open, none, all, stopped; and the cloth smaller by its doubt."""

from __future__ import annotations

import pytest
from laying import ANY, cloth, faults, piece

from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Placed, Question
from coverlayout.layout.sizing import counting
from coverlayout.layout.sizing.counting import if_smaller, most_sets


def pairs(sets: int) -> Question:
    """Each set a 60 x 40 and a 40 x 20 that turns, on 130 x 100."""
    pieces = tuple(one for k in range(sets) for one in (piece(f"a{k}", 60.0, 40.0), piece(f"b{k}", 40.0, 20.0, ANY)))
    return Question(pieces, (cloth(130.0, 100.0),))


def test_the_most_and_why_no_more() -> None:
    found = most_sets(pairs, 50)
    # 3200 a set: 4 fill 12800 of 13000, and 5 have no room by area.
    assert found.sets >= 3
    assert found.proved
    assert found.refused is not None
    assert found.refused.proof is not None
    assert found.laid is not None
    assert faults(pairs(found.sets), found.laid.placed) == []


def test_none_fits() -> None:
    def wide(sets: int) -> Question:
        return Question(tuple(piece(f"a{k}", 200.0, 10.0) for k in range(sets)), (cloth(130.0, 100.0),))

    found = most_sets(wide, 50)
    assert (found.sets, found.laid) == (0, None)
    assert found.proved


def test_all_that_are_counted_fit() -> None:
    found = most_sets(pairs, 2)
    assert found.sets == 2
    assert found.refused is None
    assert not found.proved


def answering(monkeypatch: pytest.MonkeyPatch, fits: int, refused: int) -> list[tuple[int, int]]:
    """A search that lays up to `fits` sets, refuses from `refused` on, finds nothing between; what it was asked."""
    asked: list[tuple[int, int]] = []

    def first_layout(question: Question, _watch: object) -> Answer:
        sets = len(question.pieces) // 2
        asked.append((sets, question.steps))
        if sets <= fits:
            return Answer("fits", True, Remark.of("lay-nothing-asked"), placed=(Placed("a0", "c", 0.0, 0.0),))
        if sets >= refused:
            return Answer("does not fit", True, Remark.of("lay-no-way", pieces="9"))
        return Answer("not found", False, Remark.of("lay-not-found"))

    monkeypatch.setattr(counting, "first_layout", first_layout)
    return asked


@pytest.mark.parametrize("fits", [1, 2, 3, 7, 8, 21])
def test_counts_of_any_size_are_reached(monkeypatch: pytest.MonkeyPatch, fits: int) -> None:
    asked = answering(monkeypatch, fits, fits + 1)
    found = most_sets(pairs, 100)
    assert (found.sets, found.proved) == (fits, True)
    # A look doubles and halves; it does not count up one by one.
    assert len(asked) <= 12


def test_what_a_look_leaves_open_is_asked_in_earnest(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = answering(monkeypatch, 5, 9)
    found = most_sets(pairs, 100)
    assert (found.sets, found.proved) == (5, False)
    assert found.refused is not None
    assert found.refused.verdict == "not found"
    in_earnest = [sets for sets, steps in asked if steps > 10_000]
    assert in_earnest == [6]


def test_a_stopped_count_says_so() -> None:
    found = most_sets(pairs, 50, lambda _share: True)
    assert found.cut_short or found.proved


def test_the_cloth_smaller_by_its_doubt() -> None:
    question = Question(pairs(1).pieces, (cloth(130.0, 100.0),), cloths_if_smaller=(cloth(128.7, 99.0),))
    smaller = if_smaller(question)
    assert smaller is not None
    assert (smaller.cloths, smaller.cloths_if_smaller) == (question.cloths_if_smaller, ())
    assert if_smaller(pairs(1)) is None
