"""One sentence a change: the deciding figure to the hundredth, the room rounded down, in the maker's unit."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.turn_ins import Edge
from coverlayout.cloth.cuts import Cut
from coverlayout.document.asking.purchases import Purchase
from coverlayout.document.changing.lengths import Sides
from coverlayout.document.changing.saying import (
    gap_said,
    liners_said,
    paper_said,
    purchase_said,
    smaller_book_said,
    turn_ins_said,
    wish_said,
)
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer
from coverlayout.units import LengthStyle

ROOMY = Answer("fits, tight", True, Remark("lay-fits"), spare_mm=4.7)
BARELY = Answer("fits, tight", True, Remark("lay-fits"), spare_mm=0.02)
SIDEWAYS = Answer(
    "fits, tight", True, Remark("lay-fits"), notes=(Remark.of("lay-quarter-turn-print", pieces="a"),), spare_mm=4.7
)
LINERS = ("liner-front-1", "liner-back-1")


def test_turned_liners_run_across_the_grain() -> None:
    assert liners_said(ROOMY, LINERS, 2).text() == (
        "Turn the liners a quarter: everything fits with 4.7 mm to spare; they then run across the grain"
    )
    assert liners_said(SIDEWAYS, LINERS, 2).text() == (
        "Turn the liners a quarter: everything fits with 4.7 mm to spare; "
        "they then run across the grain and the motif lies sideways"
    )
    assert "with nothing to spare" in liners_said(BARELY, LINERS, 2).text()
    assert "with nothing to spare" in liners_said(replace(BARELY, spare_mm=0.4), LINERS, 2).text(), "never 0.0 mm"


def test_of_many_liners_only_those_turned_are_named() -> None:
    assert "but only liner-front-1, liner-back-1: " in liners_said(ROOMY, LINERS, 4).text()
    assert liners_said(SIDEWAYS, LINERS[:1], 4).text().endswith("across the grain with the motif sideways")


def test_lengths_are_shown_exactly_and_room_in_the_makers_steps() -> None:
    style = LengthStyle()
    assert style.said(turn_ins_said(ROOMY, "all round", 14.85)) == (
        "Make the turn-ins 14.85 mm on all four sides: everything fits with 4.5 mm to spare"
    )
    assert "side turn-ins, at the spine and the fore-edge, 14.85 mm:" in style.said(
        turn_ins_said(BARELY, "spine and fore-edge", 14.85)
    )
    assert "at head and tail 12 mm:" in style.said(turn_ins_said(BARELY, "head and tail", 12.0))
    # 14.85 mm is 0.58465 in; a turn-in must not come out larger.
    assert "0.584 in" in LengthStyle("in").said(turn_ins_said(BARELY, "head and tail", 14.85))


def test_a_gap_is_made_smaller_or_left_out() -> None:
    assert gap_said(ROOMY, 1.25).text() == "Make the gap between pieces 1.25 mm: everything fits with 4.7 mm to spare"
    assert gap_said(BARELY, 0.0).text().startswith("Leave no gap between the pieces, so that neighbours share a cut:")


def test_a_wish_is_told_in_the_makers_own_words_else_by_its_pieces() -> None:
    lock = LockWish("wish-1", "front-1", (1.0, 2.0))
    own = LockWish("wish-1", "front-1", (1.0, 2.0), sentence="bird in the middle of front")
    alike, on = LinkWish("wish-2", ("front-1", "back-1")), LinkWish("wish-3", ("back-1", "front-1"), ((9.0, 0.0),))
    assert wish_said(ROOMY, own, 0.0).text().startswith("Drop the wish “bird in the middle of front”: everything fits")
    assert "for the place of front-1 in the repeat" in wish_said(ROOMY, lock, 0.0).text()
    assert "that front-1, back-1 be alike in the print" in wish_said(ROOMY, alike, 0.0).text()
    assert "that the print run on over back-1, front-1" in wish_said(BARELY, on, 0.0).text()
    # What is missed is never made smaller.
    said = LengthStyle().said(wish_said(ROOMY, alike, 0.3125))
    assert said.endswith("with 4.5 mm to spare; held as nearly as can be, with less room, it is missed by 0.32 mm")
    for wish in (lock, own, alike, on):
        assert "held as nearly as can be it is missed by 2 mm" in wish_said(BARELY, wish, 2.0).text()


def test_a_smaller_book_tells_its_new_board() -> None:
    assert smaller_book_said(BARELY, 12.0, (105.3, 140.4), 1).text() == (
        "Make the book smaller by 12 mm in height, and in proportion: "
        "with boards of 105.3 mm x 140.4 mm everything fits, with nothing to spare"
    )
    assert smaller_book_said(ROOMY, 12.0, (105.3, 140.4), 3).text().startswith("Make every book smaller in proportion")


@pytest.mark.parametrize(
    ("price", "beside", "said"),
    [
        (None, False, "Buy “half yard, 44 in” instead: "),
        (7.5, False, "Buy “half yard, 44 in” instead, for 7.50 EUR: "),
        (None, True, "Buy “half yard, 44 in” as well, beside the cloth there is: "),
        (7.5, True, "Buy “half yard, 44 in” as well, beside the cloth there is, for 7.50 EUR: "),
    ],
)
def test_cloth_is_bought_instead_or_as_well(price: float | None, beside: bool, said: str) -> None:
    cut = Cut("half yard, 44 in", 1117.6, 457.2)
    bought = Purchase(cut.name, cut, 1, price, Project())
    assert purchase_said(ROOMY, bought, "EUR", beside=beside).text() == f"{said}everything fits with 4.7 mm to spare"
    assert "with nothing to spare" in purchase_said(BARELY, bought, "", beside=beside).text()


def test_where_the_covers_are_cut_paper_liners_leave_nothing_to_lay() -> None:
    nothing = Answer("fits", True, Remark("lay-nothing-asked"))
    assert paper_said(nothing).text().endswith("then no more is to be cut from cloth")
    assert paper_said(ROOMY).text().endswith("everything fits with 4.7 mm to spare")
    assert paper_said(BARELY).text().endswith("everything fits, with nothing to spare")
    assert paper_said(nothing, "paper sides").text().startswith("Cover the sides with paper instead of cloth: then")
    assert paper_said(ROOMY, "paper sides").text().endswith("everything fits with 4.7 mm to spare")


@pytest.mark.parametrize(
    ("sides", "edges", "said"),
    [
        ("all round", ("head", "tail", "fore-edge"), "Make all turn-ins 12.5 mm: "),
        ("spine and fore-edge", ("head", "tail", "fore-edge"), "Make the turn-ins at the fore-edge 12.5 mm: "),
        ("head and tail", ("head", "tail", "fore-edge"), "Make the turn-ins at head and tail 12.5 mm: "),
        ("head and tail", ("head", "fore-edge"), "Let the cloth round the slipcase lap 12.5 mm onto its walls: "),
    ],
)
def test_only_edges_that_are_turned_in_are_spoken_of(sides: Sides, edges: tuple[Edge, ...], said: str) -> None:
    assert turn_ins_said(ROOMY, sides, 12.5, edges).text().startswith(said)
    assert turn_ins_said(BARELY, sides, 12.5, edges).text() == f"{said}everything fits, with nothing to spare"


def test_a_limp_book_has_no_boards() -> None:
    said = smaller_book_said(ROOMY, 4.0, (96.0, 129.8), 1, limp=True).text()
    assert said.startswith(
        "Make the book smaller by 4 mm in height, and in proportion: with a front of 96 mm x 129.8 mm "
    )
    assert "a front of" not in smaller_book_said(ROOMY, 4.0, (96.0, 129.8), 2, limp=True).text()
