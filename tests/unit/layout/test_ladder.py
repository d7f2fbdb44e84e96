"""The ladder: order, the least, what a larger cut proves of a smaller, and a climb that is stopped."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest
from laying import INCH, book_pieces, cloth

from coverlayout.errors import Remark
from coverlayout.geometry.frames import IDENTITY
from coverlayout.layout import ladder as ladder_module
from coverlayout.layout.answer import Answer, Proof
from coverlayout.layout.ladder import climb
from coverlayout.layout.question import CutAsked, Link, Lock, PieceAsked, Question
from coverlayout.motif.lattice import Lattice

SQUARES = Lattice((50.0, 0.0), (0.0, 50.0))


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
    assert ladder.cheapest is None
    assert asked == sorted(asked)


def test_a_climb_stopped_at_once_knows_nothing() -> None:
    ladder = climb((SQUARE, YARD), lambda _share: True)
    assert [rung.verdict for rung in ladder.rungs] == ["not found"] * 2
    assert (ladder.least, ladder.cheapest) == (None, None)
    assert ladder.rungs[0].answer.question_number == 3


def answering(monkeypatch: pytest.MonkeyPatch, verdicts: dict[float, str]) -> list[float]:
    """Answers in place of the search, by the cloth's width; the widths it was asked for."""
    asked: list[float] = []
    proof = Proof("exhaustive")

    def first_layout(question: Question, _watch: object) -> Answer:
        width = question.cloths[0].grounds[0].usable.bounds.width_mm
        asked.append(width)
        if verdicts[width] == "does not fit":
            return Answer("does not fit", True, Remark.of("lay-no-way", pieces="4"), proof)
        return Answer("not found", False, Remark.of("lay-not-found"))

    monkeypatch.setattr(ladder_module, "first_layout", first_layout)
    return asked


def test_what_the_larger_cut_cannot_hold_the_one_inside_it_cannot(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = answering(monkeypatch, {100.0: "not found", 200.0: "does not fit"})
    rungs = climb((cut("s", 100, 80), cut("l", 200, 80)), together=False).rungs
    assert [rung.verdict for rung in rungs] == ["does not fit"] * 2
    assert [rung.answer.reason.code for rung in rungs] == ["lay-no-larger", "lay-no-way"]
    # The larger told of the smaller, so that nothing was asked of that.
    assert asked == [200.0]


def test_only_a_cut_inside_the_other_learns_from_it(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = answering(monkeypatch, {100.0: "not found", 200.0: "does not fit"})
    rungs = climb((cut("s", 100, 81), cut("l", 200, 80)), together=False).rungs
    assert [rung.verdict for rung in rungs] == ["not found", "does not fit"]
    # So it is asked again, with more steps.
    assert sorted(asked) == [100.0, 100.0, 200.0]


def test_what_the_smaller_cut_holds_the_larger_holds_with_no_less_room() -> None:
    ladder = climb((QUARTER, YARD, cut("quarter again", 22 * INCH, 18.5 * INCH)), together=False)
    rooms = [rung.spare_mm or 0.0 for rung in ladder.rungs]
    assert rooms == sorted(rooms)


def test_cuts_together_where_no_single_one_is_enough() -> None:
    two = book_pieces(2)
    ladder = climb(
        (cut("foot square", 12 * INCH, 12 * INCH, pieces=two), cut("eighth", 22 * INCH, 9 * INCH, pieces=two))
    )
    assert (ladder.least, ladder.least_with_room) == (None, None)
    assert ladder.cheapest is not None
    assert ladder.cheapest.cuts == ("foot square", "foot square")
    assert climb((SQUARE,), together=False).cheapest is None
    assert climb(()).cheapest is None


def test_the_rung_looked_at_first_is_laid_in_earnest() -> None:
    ladder = climb((SQUARE, QUARTER))
    assert [rung.answer.spare_proved for rung in ladder.rungs] == [True, True]
    assert ladder.rungs[0].spare_mm == pytest.approx(4.7)


def test_pieces_held_to_a_print_that_may_fall_anywhere() -> None:
    """A lock on cloth to buy: where it fits it does so wherever the print falls, in every cut that has it inside."""

    def printed(name: str, width: float, length: float) -> CutAsked:
        made = cut(name, width, length)
        on = made.question.cloths[0]
        ground = replace(on.grounds[0], print_id="A", lattice_mm=SQUARES, print_to_cloth=IDENTITY, origin_known=False)
        lock = Lock("front-1", (72.0, 91.0), (25.0, 12.0))
        asked = replace(made.question, cloths=(replace(on, grounds=(ground,)),), locks=(lock,))
        return replace(made, question=asked)

    ladder = climb(
        (printed("yard", 44 * INCH, 36 * INCH), printed("quarter", 22 * INCH, 18 * INCH), printed("x", 200, 200))
    )
    assert [(rung.name, rung.verdict) for rung in ladder.rungs] == [
        ("x", "does not fit"),
        ("quarter", "fits"),
        ("yard", "fits"),
    ]
    assert [rung.answer.question_number for rung in ladder.rungs] == [3, 3, 3]
    assert ladder.cheapest is not None
    assert ladder.cheapest.cuts == ("quarter",)


def test_pieces_that_share_a_phase() -> None:
    squares = cloth(12 * INCH, 12 * INCH, print_id="A")
    ground = replace(squares.grounds[0], lattice_mm=SQUARES, print_to_cloth=IDENTITY)
    link = Link(("front-1", "back-1"), ((72.15, 91.2),) * 2, ((0.0, 0.0),))
    question = Question(book_pieces(), (replace(squares, grounds=(ground,)),), links=(link,))
    ladder = climb((CutAsked("foot", 12 * INCH, 12 * INCH, None, question), YARD))
    # 50 mm fits on a foot of cloth: common practice, no source.
    assert [rung.verdict for rung in ladder.rungs] == ["fits, tight", "fits"]


def test_wishes_that_quarrel_are_told_at_once_on_every_rung() -> None:
    # Both are tied to one place of the repeat, and are to lie 10 mm off in it as well; where the print falls is open.
    pieces = book_pieces()
    names = pieces[0].id, pieces[1].id
    locks = tuple(Lock(name, (0.0, 0.0), (10.0, 0.0)) for name in names)
    quarrel = Link(names, ((0.0, 0.0), (0.0, 0.0)), ((10.0, 0.0),))
    cuts = []
    for each in (SQUARE, EIGHTH, QUARTER, YARD):
        ground = replace(
            each.question.cloths[0].grounds[0], lattice_mm=SQUARES, print_to_cloth=IDENTITY, origin_known=False
        )
        on = replace(each.question.cloths[0], grounds=(ground,))
        cuts.append(replace(each, question=replace(each.question, cloths=(on,), locks=locks, links=(quarrel,))))
    asked: list[float] = []
    ladder = climb(cuts, lambda share: bool(asked.append(share)))
    assert [(rung.verdict, rung.proved) for rung in ladder.rungs] == [("does not fit", True)] * 4
    assert {rung.answer.reason.code for rung in ladder.rungs} <= {"lay-no-locks-and-link", "lay-no-larger"}
    assert ladder.cheapest is None
    # A search would ask the watch every few milliseconds; here each rung asks once or twice.
    assert len(asked) < 30
