"""The ladder: order, the least, what a larger cut proves of a smaller, and a climb that is stopped."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest
from laying import ANY, INCH, book_pieces, cloth, flaw, piece

from coverlayout.errors import Remark
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout import ladder as ladder_module
from coverlayout.layout.answer import Answer, Proof
from coverlayout.layout.ladder import climb
from coverlayout.layout.question import CutAsked, Link, Lock, PieceAsked, Question


def cut(
    name: str, width: float, length: float, price: float | None = None, pieces: tuple[PieceAsked, ...] = ()
) -> CutAsked:
    question = Question(pieces or book_pieces(), (cloth(width, length),), number=3)
    return CutAsked(name, width, length, price, question)


SQUARE, EIGHTH, QUARTER, YARD = (
    cut("foot square", 12 * INCH, 12 * INCH),
    cut("fat eighth", 22 * INCH, 9 * INCH),
    cut("fat quarter", 22 * INCH, 18 * INCH),
    cut("yard", 44 * INCH, 36 * INCH),
)


def test_by_area_least_first_and_the_least_that_holds() -> None:
    ladder = climb((YARD, QUARTER, EIGHTH, SQUARE, cut("small", 200, 200)))
    assert [rung.name for rung in ladder.rungs] == ["small", "foot square", "fat eighth", "fat quarter", "yard"]
    assert [rung.verdict for rung in ladder.rungs] == ["does not fit", "fits, tight", "fits", "fits", "fits"]
    assert (ladder.least, ladder.least_with_room) == ("foot square", "fat eighth")
    assert ladder.rungs[1].spare_mm == pytest.approx(4.7)
    assert ladder.rungs[0].proved
    assert ladder.rungs[0].answer.question_number == 3
    assert pickle.loads(pickle.dumps(ladder)) == ladder


def test_by_price_where_all_are_known() -> None:
    priced = (replace(SQUARE, price=9.0), replace(QUARTER, price=4.0), replace(YARD, price=12.0))
    ladder = climb(priced)
    assert [rung.name for rung in ladder.rungs] == ["fat quarter", "foot square", "yard"]
    assert [rung.price for rung in ladder.rungs] == [4.0, 9.0, 12.0]
    assert ladder.least == ladder.least_with_room == "fat quarter"
    assert [rung.name for rung in climb((*priced[:2], YARD)).rungs] == ["foot square", "fat quarter", "yard"]


def test_no_cut_holds_it() -> None:
    ladder = climb((cut("small", 200, 200), cut("narrow", 100, 3000)))
    assert (ladder.least, ladder.least_with_room) == (None, None)
    assert climb(()).rungs == ()


def test_a_stopped_climb_leaves_the_rest_open() -> None:
    asked: list[float] = []

    def stop(share_done: float) -> bool:
        asked.append(share_done)
        return share_done >= 0.5

    ladder = climb((SQUARE, QUARTER, YARD, EIGHTH), stop)
    assert [rung.verdict for rung in ladder.rungs][-1] == "not found"
    assert ladder.rungs[-1].answer.cut_short
    assert ladder.rungs[0].verdict == "fits, tight"
    assert asked == sorted(asked)


class Laid:
    """Answers in place of the search, by the cloth's size."""

    def __init__(self, verdicts: dict[float, Answer]) -> None:
        self.verdicts = verdicts

    def __call__(self, question: Question, _watch: object) -> Answer:
        return self.verdicts[question.cloths[0].grounds[0].usable.bounds.width_mm]


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> Laid:
    no = Answer("does not fit", True, Remark.of("lay-no-way", pieces="4"), Proof("exhaustive"))
    unknown = Answer("not found", False, Remark.of("lay-not-found"))
    laid = Laid({100.0: unknown, 200.0: no})
    monkeypatch.setattr(ladder_module, "lay", laid)
    return laid


def verdict_of(small: Question, large: Question) -> tuple[str, str]:
    rungs = climb((CutAsked("small", 1, 1, None, small), CutAsked("large", 2, 2, None, large))).rungs
    return rungs[0].verdict, rungs[0].answer.reason.code


def test_what_the_larger_cut_cannot_hold_the_one_inside_it_cannot(told: Laid) -> None:
    small, large = cut("s", 100, 80).question, cut("l", 200, 80).question
    assert verdict_of(small, large) == ("does not fit", "lay-no-larger")


def test_only_a_cut_inside_the_other_learns_from_it(told: Laid) -> None:
    small, large = cut("s", 100, 80).question, cut("l", 200, 80).question
    open_still = ("not found", "lay-not-found")
    longer = replace(small, cloths=(cloth(100, 81),))
    stained = replace(large, cloths=(cloth(200, 80, keep_outs=(flaw(rectangle(5, 5)),)),))
    quarter = replace(small, cloths=(cloth(100, 80, up_deg=90.0),))
    ragged = ((0.0, 0.0), (200.0, 0.0), (180.0, 80.0), (0.0, 80.0))
    lock = (Lock("front-1", (0.0, 0.0), (0.0, 0.0)),)
    link = (Link(("front-1", "back-1"), ((0.0, 0.0),) * 2, ((0.0, 0.0),)),)
    for one, other in (
        (longer, large),
        (small, stained),
        (quarter, large),
        (small, replace(large, cloths=(cloth(0, 0, outline=ragged),))),
        (small, replace(large, pieces=(piece("a", 10, 10, ANY),))),
        (small, replace(large, gap_mm=1.0)),
        (small, replace(large, locks=lock)),
        (small, replace(large, links=link)),
        (small, replace(large, cloths=(*large.cloths, cloth(50, 50, name="d")))),
        (small, replace(large, cloths=(cloth(200, 80, name="d"),))),
    ):
        assert verdict_of(one, other) == open_still


def test_the_same_second_cloth_does_not_stand_in_the_way(told: Laid) -> None:
    rest = cloth(50, 50, name="d", keep_outs=(flaw(rectangle(5, 5)),))
    small, large = cut("s", 100, 80).question, cut("l", 200, 80).question
    small, large = replace(small, cloths=(*small.cloths, rest)), replace(large, cloths=(*large.cloths, rest))
    assert verdict_of(small, large)[0] == "does not fit"
