"""Hundreds of held pieces laid place by place: judged by shapely, counts and places worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, clearance_of, cloth, faults, flaw, piece

from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.filling.held_job import held_job
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.search.crowds import fill_crowd
from coverlayout.layout.search.effort import CutShort, Effort, OutOfSteps
from coverlayout.motif.lattice import Lattice

GRID = Lattice((50.0, 0.0), (0.0, 50.0))


def printed(width: float, height: float, *flaws: object) -> ClothAsked:
    ring = rectangle(width, height)
    ground = Ground("g", Region.of(ring), "p", 0.0, GRID, shift(3.0, 8.0))
    return replace(cloth(width, height, keep_outs=flaws), grounds=(ground,))  # type: ignore[arg-type] # tests name them


def labels(count: int, **more: object) -> tuple[PieceAsked, ...]:
    return tuple(piece(f"label-{k}", 40, 40) for k in range(count))


def locked(pieces: tuple[PieceAsked, ...], place: tuple[float, float] = (0.0, 0.0)) -> tuple[Lock, ...]:
    return tuple(Lock(each.id, (0.0, 0.0), place) for each in pieces)


def crowd(question: Question, room_mm: float = 0.0, steps: int = 100_000) -> tuple[Placed, ...] | None:
    job = held_job(question)
    assert job is not None
    return fill_crowd(job, Effort(steps), room_mm)


def test_every_place_of_the_repeat_is_used_row_by_row() -> None:
    # Corners at 3 + 50 i, 8 + 50 k: 40 more must stay below 500 and 300, so ten across and six along.
    pieces = labels(60)
    question = Question(pieces, (printed(500, 300),), locks=locked(pieces))
    placed = crowd(question)
    assert placed is not None
    assert faults(question, placed) == []
    assert {((one.x_mm - 20) % 50, (one.y_mm - 20) % 50) for one in placed} == {(3.0, 8.0)}
    assert [(one.x_mm, one.y_mm) for one in placed[:11]] == [*((23.0 + 50 * k, 28.0) for k in range(10)), (23.0, 78.0)]
    assert crowd(question) == placed
    # Ten mm lie between them, 3 to the left edge, and 2 to the lower one.
    assert clearance_of(question, placed) == pytest.approx(2.0)
    # With five to every edge the first column and the last row are lost: nine across and five along.
    assert crowd(question, 5.0) is None
    few = replace(question, pieces=pieces[:45], locks=question.locks[:45])
    roomy = crowd(few, 5.0)
    assert roomy is not None
    assert clearance_of(few, roomy) >= 5.0
    more = labels(61)
    assert crowd(Question(more, (printed(500, 300),), locks=locked(more))) is None


def test_flaws_take_places_and_free_pieces_lie_between() -> None:
    pieces = labels(50)
    free = tuple(piece(f"free-{k}", 90, 8, ANY) for k in range(6))
    question = Question((*free, *pieces), (printed(500, 360, flaw(rectangle(60, 60, 100, 100))),), locks=locked(pieces))
    placed = crowd(question)
    assert placed is not None
    assert faults(question, placed) == []


def test_two_kinds_and_a_gap() -> None:
    pieces = labels(20)
    wide = tuple(piece(f"wide-{k}", 60, 30) for k in range(8))
    locks = locked(pieces) + locked(wide, (5.0, 5.0))
    question = Question((*pieces, *wide), (printed(500, 300),), 2.0, locks)
    placed = crowd(question)
    assert placed is not None
    assert faults(question, placed) == []


def test_links_and_what_can_be_nowhere_are_left_to_others() -> None:
    pieces = labels(3)
    question = Question(pieces, (printed(500, 300),), locks=locked(pieces))
    link = Link(("label-0", "label-1"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
    assert crowd(replace(question, links=(link,))) is None
    unknown = replace(question.cloths[0].grounds[0], origin_known=False)
    assert crowd(replace(question, cloths=(replace(question.cloths[0], grounds=(unknown,)),))) is None
    assert crowd(replace(question, cloths=(printed(39, 300),))) is None


def test_steps_and_the_watch_end_it() -> None:
    pieces = labels(60)
    job = held_job(Question(pieces, (printed(500, 300),), locks=locked(pieces)))
    assert job is not None
    with pytest.raises(OutOfSteps):
        fill_crowd(job, Effort(20))
    stopping = Effort(10**6, seconds=0.0)
    thousands = labels(4000)
    crowded = held_job(Question(thousands, (printed(5000, 5000),), locks=locked(thousands)))
    assert crowded is not None
    with pytest.raises(CutShort):
        fill_crowd(crowded, stopping)


def test_three_hundred_locked_pieces_have_a_first_layout() -> None:
    pieces = labels(300)
    question = Question(pieces, (printed(1000, 900),), locks=locked(pieces), steps=20_000)
    answer = first_layout(question)
    assert answer.verdict.startswith("fits")
    assert faults(question, answer.placed) == []
