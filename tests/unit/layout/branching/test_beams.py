"""Level by level with the best kept: a layout found is one, and a no is only said when nothing was left behind."""

from __future__ import annotations

import pytest
from laying import cloth, piece
from searching import tables_for
from shapely.geometry import box
from stripping import TILES

from coverlayout.layout.branching import beams
from coverlayout.layout.branching.beams import first_found
from coverlayout.layout.branching.looked import Layout
from coverlayout.layout.question import Question
from coverlayout.layout.search.effort import CutShort, Effort, OutOfSteps

# Two pinwheels of 100 x 100 beside each other, each round a hole of 20 x 20.
WHEELS = [(60, 40), (40, 60), (60, 40), (40, 60)] * 2


def question_of(sizes: list[tuple[float, float]], width_mm: float, length_mm: float) -> Question:
    return Question(tuple(piece(f"p{k}", *size) for k, size in enumerate(sizes)), (cloth(width_mm, length_mm),))


def overlap_mm2(sizes: list[tuple[float, float]], layout: Layout) -> float:
    boxes = [box(x, y, x + w, y + h) for (w, h), (x, y) in zip(sizes, layout.places.tolist(), strict=True)]
    return sum(one.intersection(other).area for k, one in enumerate(boxes) for other in boxes[:k])


@pytest.mark.parametrize("turns", [((0, 16),), ((0, 256),), ((6_000, 16), (0, 64))])
def test_many_pieces_are_found_a_layout(monkeypatch: pytest.MonkeyPatch, turns: tuple[tuple[int, int], ...]) -> None:
    monkeypatch.setattr(beams, "_TURNS", turns)
    sizes: list[tuple[float, float]] = [*WHEELS, (20, 20), (20, 20)]
    layout = first_found(tables_for(question_of(sizes, 203, 103)), Effort(2_000_000))
    assert layout is not None
    assert overlap_mm2(sizes, layout) < 1e-6
    assert layout.places.min() >= -1e-9


@pytest.mark.parametrize("count", [4, 9])
def test_what_cannot_be_is_refused_by_few_and_by_many(count: int) -> None:
    # Squares of 30 in a row on 31 high: one more than the cloth is long.
    sizes: list[tuple[float, float]] = [(30, 30)] * count
    assert first_found(tables_for(question_of(sizes, 30 * count, 31)), Effort(100_000)) is not None
    assert first_found(tables_for(question_of(sizes, 30 * count - 1, 31)), Effort(100_000)) is None


def test_a_beam_that_left_nodes_behind_says_no_no(monkeypatch: pytest.MonkeyPatch) -> None:
    # One node a level goes astray; the search of all ways after it finds the layout all the same.
    monkeypatch.setattr(beams, "_TURNS", ((0, 1),))
    sizes: list[tuple[float, float]] = [*WHEELS, (20, 20)]
    found = first_found(tables_for(question_of(sizes, 200, 100)), Effort(3_000_000))
    assert found is not None
    assert overlap_mm2(sizes, found) < 1e-6


def test_few_pieces_need_no_beam(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(beams, "_Beam", lambda *_: pytest.fail("not needed"))
    assert first_found(tables_for(question_of([(30, 30)] * 8, 120, 60)), Effort(100_000)) is not None


def test_the_effort_ends_it() -> None:
    tables = tables_for(question_of(list(TILES), 305, 380))
    with pytest.raises(OutOfSteps):
        first_found(tables, Effort(40))
    with pytest.raises(CutShort):
        first_found(tables, Effort(10**9, watch=lambda share: True))
