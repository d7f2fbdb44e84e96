"""Linked pieces as turned copies: against sums of places, and never a layout that the judge does not pass."""

from __future__ import annotations

from dataclasses import replace

import pytest
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import Link, PieceAsked, Question
from coverlayout.layout.rules import Judge
from coverlayout.layout.wishes.turned_copies import turned_copies_possible, with_turned_copies
from coverlayout.motif.lattice import Lattice


def job(
    about: Point,
    alike: tuple[float, ...] = (180.0,),
    *,
    lattice: Lattice | None = None,
    turns: tuple[float, ...] = (0.0, 180.0),
    size: Point = (50.0, 40.0),
    cloth: Point = (110.0, 45.0),
    known: bool = True,
    second: str = "b",
) -> Question:
    """Two pieces anchored in their middles, to look the same on a cloth as large as a row of them and a bit."""
    on = printed_cloth(*cloth, lattice or Lattice((64.0, 0.0)), known=known)
    ground = replace(on.grounds[0], alike_deg=alike, alike_about_mm=about)
    middle = size[0] / 2, size[1] / 2
    pieces = tuple(PieceAsked(name, rectangle(*size), middle, turns, "birds") for name in ("a", second))
    link = Link(("a", "b"), (middle, middle), ((0.0, 0.0),))
    return Question(pieces, (replace(on, grounds=(ground,)),), links=(link,))


def quick(question: Question) -> Answer:
    return first_layout(replace(question, steps=20_000))


# Stripes every 64 mm across: two pieces of 50 on 110 lie 50 to 60 apart, so never a whole repeat. Turned by a half
# about x, their middles together make 100 to 120, and twice x and whole repeats are wanted.
@pytest.mark.parametrize(("x", "can"), [(20.0, True), (28.0, True), (52.0, True), (0.0, False), (16.0, False)])
def test_a_half_turned_copy_lies_where_both_places_make_twice_the_middle(x: float, can: bool) -> None:
    question = job((x, 0.0))
    assert turned_copies_possible(question)
    assert quick(job((x, 0.0), ())).verdict == "does not fit", "no two turned alike"
    answer = with_turned_copies(question, quick)
    assert (answer.verdict in ("fits", "fits, tight")) == can
    if can:
        assert Judge(question).report(answer.placed).breaches == ()
        lies = {one.piece: one for one in answer.placed}
        assert {one.turn_deg for one in answer.placed} == {0.0, 180.0}
        repeats = (lies["a"].x_mm + lies["b"].x_mm - 2 * x) / 64
        assert repeats == pytest.approx(round(repeats), abs=0.001)
    else:
        assert answer.verdict == "does not fit"
        assert answer.proved


def standing(question: Question) -> Question:
    """The same with the second piece only ever a quarter turned."""
    one, other = question.pieces
    return replace(question, pieces=(replace(one, turns_deg=(0.0,)), replace(other, turns_deg=(90.0, 270.0))))


def test_a_quarter_turned_copy_where_the_repeat_is_square() -> None:
    # 70 x 40 and the same turned: side by side 110 wide and 70 high. On 110.4 x 70.4 the upright one's middle is at
    # (35, y), the turned one's at (90, 35): a quarter turn about (x, y) brings (35, 20 to 50) there, repeats aside.
    square = Lattice((60.0, 0.0), (0.0, 60.0))
    shape = {"size": (70.0, 40.0), "cloth": (110.4, 70.4), "turns": (0.0, 90.0, 180.0, 270.0), "lattice": square}
    # (35, y) is (35 - p, y - q) from the place (p, q) turned about; turned it lies at (p + q - y, q + 35 - p), and
    # (90, 35) is wanted: p and q alike, and 2 p - y is 90 or 30 more or less whole 60s, where y is 20 to 50.4.
    question = standing(job((60.0, 60.0), (90.0, 180.0, 270.0), **shape))  # type: ignore[arg-type] # fields by name
    answer = with_turned_copies(question, quick)
    assert answer.placed, "2 x 60 - 30 is 90"
    assert Judge(question).report(answer.placed).breaches == ()
    assert {one.turn_deg % 180 for one in answer.placed} == {0.0, 90.0}
    oblong = job((60.0, 60.0), (90.0, 180.0, 270.0), **{**shape, "lattice": Lattice((60.0, 0.0), (0.0, 61.0))})  # type: ignore[arg-type] # fields by name
    assert not with_turned_copies(standing(oblong), quick).placed, "the repeat does not come to lie on itself"


def test_a_question_that_allows_no_turned_copies_is_only_decided() -> None:
    asked: list[Question] = []

    def decide(question: Question) -> Answer:
        asked.append(question)
        return quick(question)

    for question in (
        job((20.0, 0.0), ()),
        job((20.0, 0.0), (90.0,)),
        job((20.0, 0.0), turns=(0.0,)),
        job((20.0, 0.0), known=False),
        job((20.0, 0.0), second="other"),
    ):
        asked.clear()
        assert not turned_copies_possible(question)
        with_turned_copies(question, decide)
        assert len(asked) == 1
    roomy = job((20.0, 0.0), cloth=(300.0, 45.0))
    assert with_turned_copies(roomy, quick).placed


def test_without_the_decisions_to_prove_it_nothing_is_refused() -> None:
    def unsure(question: Question) -> Answer:
        answer = quick(question)
        floating = len(question.cloths) > 1
        return replace(answer, verdict="not found", proved=False, proof=None) if floating else answer

    answer = with_turned_copies(job((0.0, 0.0)), unsure)
    assert (answer.verdict, answer.proved) == ("not found", False)
