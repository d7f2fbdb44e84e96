"""When a cut lies within another, and several within several."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, cloth, flaw, piece

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.buying.within import lies_within, within_together
from coverlayout.layout.question import ClothAsked, Link, Lock, Question

A, B = piece("a", 30.0, 50.0), piece("b", 40.0, 20.0, ANY)
RAGGED = ((0.0, 0.0), (200.0, 0.0), (180.0, 80.0), (0.0, 80.0))


def job(*on: ClothAsked, **more: object) -> Question:
    return replace(Question((A, B), on), **more)  # type: ignore[arg-type] # tests give fields by name


SMALL, LARGE = job(cloth(100.0, 80.0)), job(cloth(200.0, 80.0))


def test_a_smaller_cut_of_the_same_job_lies_within() -> None:
    assert lies_within(SMALL, LARGE)
    assert not lies_within(LARGE, SMALL)
    assert lies_within(SMALL, SMALL)


@pytest.mark.parametrize(
    ("small", "large"),
    [
        (job(cloth(100.0, 81.0)), LARGE),
        (SMALL, job(cloth(200.0, 80.0, keep_outs=(flaw(rectangle(5.0, 5.0)),)))),
        (job(cloth(100.0, 80.0, up_deg=90.0)), LARGE),
        (SMALL, job(cloth(0.0, 0.0, outline=RAGGED))),
        (SMALL, replace(LARGE, pieces=(A,))),
        (SMALL, replace(LARGE, gap_mm=1.0)),
        (SMALL, replace(LARGE, locks=(Lock("a", (0.0, 0.0), (0.0, 0.0)),))),
        (SMALL, replace(LARGE, links=(Link(("a", "b"), ((0.0, 0.0),) * 2, ((0.0, 0.0),)),))),
        (SMALL, job(cloth(200.0, 80.0), cloth(50.0, 50.0, name="d"))),
        (SMALL, job(cloth(200.0, 80.0, name="d"))),
        (job(cloth(100.0, 80.0, print_id="A")), LARGE),
    ],
)
def test_anything_else_that_differs_says_nothing(small: Question, large: Question) -> None:
    assert not lies_within(small, large)


def test_the_same_second_cloth_does_not_stand_in_the_way() -> None:
    rest = cloth(50.0, 50.0, name="d", keep_outs=(flaw(rectangle(5.0, 5.0)),))
    assert lies_within(job(cloth(100.0, 80.0), rest), job(cloth(200.0, 80.0), rest))


def test_each_of_several_needs_a_home_of_its_own() -> None:
    wide, tall, tiny = cloth(90.0, 30.0, name="w"), cloth(30.0, 90.0, name="t"), cloth(20.0, 20.0, name="s")
    assert within_together((tiny,), (wide,))
    assert within_together((tiny, wide), (wide, tall))
    assert not within_together((tiny, tiny), (wide,))
    assert not within_together((tall,), (wide, tiny))
    assert within_together((), (wide,))
