"""Linked pieces as turned copies: against sums of places, and never a layout that the judge does not pass."""

from __future__ import annotations

from dataclasses import replace

import pytest
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout, lay
from coverlayout.layout.laying.first import decided
from coverlayout.layout.question import Link, PieceAsked, Placed, Question, never
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
    return decided(replace(question, steps=20_000), never)


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
    found_nothing = replace(quick(job((0.0, 0.0), ())), verdict="not found", proved=False, proof=None)

    def unsure(question: Question) -> Answer:
        return found_nothing if len(question.cloths) > 1 else quick(question)

    answer = with_turned_copies(job((0.0, 0.0)), unsure)
    assert (answer.verdict, answer.proved) == ("not found", False)


@pytest.mark.parametrize(("x", "can"), [(20.0, True), (0.0, False)])
def test_the_layout_asks_for_turned_copies_before_it_says_no(x: float, can: bool) -> None:
    question = replace(job((x, 0.0)), steps=20_000)
    for answer in (lay(question), first_layout(question)):
        assert (answer.verdict, answer.proved) == (("fits, tight" if can else "does not fit"), True)
        assert not answer.spare_proved
        assert not can or Judge(question).report(answer.placed).breaches == ()


def test_room_is_not_proved_where_turned_copies_might_have_more() -> None:
    roomy = job((20.0, 0.0), cloth=(160.0, 60.0))
    assert lay(roomy).verdict == "fits"
    assert not lay(roomy).spare_proved
    alike = replace(roomy.cloths[0], grounds=(replace(roomy.cloths[0].grounds[0], alike_deg=()),))
    assert lay(replace(roomy, cloths=(alike,))).spare_proved


def test_turned_copies_are_laid_on_the_smaller_cloth_too() -> None:
    question = job((20.0, 0.0))
    smaller = job((20.0, 0.0), cloth=(99.0, 45.0)).cloths
    answer = lay(replace(question, spare_wish_mm=0.0, cloths_if_smaller=smaller))
    assert [note.code for note in answer.notes] == ["lay-smaller-not-found"]
    same = lay(replace(question, spare_wish_mm=0.0, cloths_if_smaller=question.cloths))
    assert (same.verdict, same.notes) == ("fits", ())


def test_copies_on_two_grounds_are_never_refused_for_being_turned() -> None:
    # Two cloths of 50 x 45 with the same print at the same place, so that one piece goes on each, its middle at 25:
    # never 10 apart. Turned by a half the second belongs at 2 x 20 - (25 - 10) = 25, which no search of places tries.
    question = job((20.0, 0.0), cloth=(50.0, 45.0))
    one = question.cloths[0]
    other = replace(one, id="other", grounds=(replace(one.grounds[0], id="other"),))
    link = replace(question.links[0], differences_mm=((-10.0, 0.0),))
    both = replace(question, cloths=(one, other), links=(link,))
    lies = (Placed("a", one.id, 25.0, 20.0), Placed("b", "other", 25.0, 20.0, 180.0))
    assert Judge(both).report(lies).breaches == ()
    assert turned_copies_possible(both)
    assert lay(both).verdict != "does not fit"
    large = replace(both, pieces=tuple(replace(piece, outline_mm=rectangle(60.0, 40.0)) for piece in both.pieces))
    assert lay(large).verdict == "does not fit", "no turn helps against that"
