"""When a cut lies within another, and several within several."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, cloth, flaw, piece

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.buying.within import lies_within, within_together
from coverlayout.layout.question import ClothAsked, Link, Lock, Question
from coverlayout.motif.lattice import Lattice

A, B = piece("a", 30.0, 50.0), piece("b", 40.0, 20.0, ANY)
LOCK = Lock("a", (0.0, 0.0), (0.0, 0.0))
LINK = Link(("a", "b"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
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
        (SMALL, replace(LARGE, locks=(LOCK,))),
        (SMALL, replace(LARGE, links=(LINK,))),
        (SMALL, job(cloth(200.0, 80.0), cloth(50.0, 50.0, name="d"))),
        (SMALL, job(cloth(200.0, 80.0, name="d"))),
        (job(cloth(100.0, 80.0, print_id="A")), LARGE),
    ],
)
def test_anything_else_that_differs_says_nothing(small: Question, large: Question) -> None:
    assert not lies_within(small, large)


def printed(width: float, lattice: Lattice | None = None, *, known: bool = False, wish: Lock | Link) -> Question:
    on = cloth(width, 80.0, print_id="A")
    ground = replace(on.grounds[0], lattice_mm=lattice or Lattice((50.0, 13.0), (-17.0, 81.0)), origin_known=known)
    wishes = {"locks": (wish,)} if isinstance(wish, Lock) else {"links": (wish,)}
    return job(replace(on, grounds=(ground,)), **wishes)


def test_links_ask_the_same_of_the_same_lattice() -> None:
    small = printed(100.0, known=True, wish=LINK)
    assert lies_within(small, printed(200.0, wish=LINK))
    assert not lies_within(small, printed(200.0, Lattice((50.0, 13.0)), wish=LINK))


def test_locks_ask_the_same_where_the_print_may_fall_anywhere() -> None:
    small = printed(100.0, wish=LOCK)
    assert lies_within(small, printed(200.0, wish=LOCK))
    assert not lies_within(small, printed(200.0, known=True, wish=LOCK))
    assert not lies_within(printed(100.0, known=True, wish=LOCK), printed(200.0, wish=LOCK))


def test_wishes_over_two_cloths_say_nothing() -> None:
    small, large = (printed(width, wish=LINK) for width in (100.0, 200.0))
    rest = cloth(50.0, 50.0, name="d")
    small, large = (replace(one, cloths=(*one.cloths, rest)) for one in (small, large))
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
