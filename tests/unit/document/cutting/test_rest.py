"""Lay the rest: what is asked, what stays, and what is said of the room and of what can still be had."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.cutting.rest import (
    RestAsked,
    Staying,
    StillHad,
    WholeBook,
    rest_asked,
    staying_in,
    told,
    with_staying,
)
from coverlayout.document.edits.placements import pin, place
from coverlayout.document.project import Project
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer, Proof
from coverlayout.layout.question import Placed

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4), liners="none", volumes=(Volume(1), Volume(4)))
START = Project(
    cloths=(Cloth("cloth-1", "Swatch", 600.0, 400.0),),
    books=(BOOK, replace(BOOK, id="book-2", name="Diary", volumes=(Volume(2),))),
    own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0, count=2),),
)
# The cover is 144.3 x 182.4: its left edge 7.85 from the cloth's, its upper edge 3.8.
FRONT = Placed("front-1", "cloth-1", 80.0, 95.0)
POCKET = Placed("pocket-1", "cloth-1", 500.0, 200.0)
LAID = pin(("pocket-1",)).change(place((FRONT, POCKET)).change(START))


def ids(asked: RestAsked) -> set[str]:
    return {piece.id for piece in asked.question.pieces}


def staying(asked: RestAsked) -> set[str]:
    return {piece.id for cloth in asked.question.cloths for piece, _ in cloth.fixed}


def test_the_rest_is_what_waits_and_everything_that_lies_stays() -> None:
    asked = rest_asked(LAID)
    assert ids(asked) == {"back-1", "front-4", "back-4", "front-2", "back-2", "pocket-2"}
    assert staying(asked) == {"front-1", "pocket-1"}
    assert asked.staying == 2
    assert asked.books == (
        WholeBook("Ledger 1", ("back-1",)),
        WholeBook("Ledger 4", ("front-4", "back-4")),
        WholeBook("Diary", ("front-2", "back-2")),
    )
    assert pickle.loads(pickle.dumps(asked)) == asked


def test_only_the_chosen_are_laid_and_pinned_ones_never() -> None:
    asked = rest_asked(LAID, ("front-1", "pocket-1", "back-4"), steps=70, seconds=2.5)
    assert ids(asked) == {"front-1", "back-4"}
    assert staying(asked) == {"pocket-1"}
    assert (asked.question.steps, asked.question.seconds) == (70, 2.5)
    # Neither copy becomes whole: the other cover of each waits and is not asked for.
    assert asked.books == ()


def test_cut_pieces_count_for_a_whole_book_but_not_as_staying() -> None:
    cut = mark_cut(("front-1",)).change(LAID)
    asked = rest_asked(cut, ("back-1",))
    assert asked.books == (WholeBook("Ledger 1", ("back-1",)),)
    assert asked.staying == 1
    assert staying(asked) == {"front-1", "pocket-1"}


def test_the_room_of_what_stays() -> None:
    """3.8 mm above the cover; the pocket lies 70 mm from the right edge, 155 from the upper one."""
    both = staying_in(LAID, ("front-1", "pocket-1", "back-1"))
    assert (both.count, both.room_mm, both.broken) == (2, pytest.approx(3.8), ())
    assert staying_in(LAID, LAID.layout.pinned).room_mm == pytest.approx(70.0)
    assert staying_in(LAID, ("back-1",)) == Staying()
    outside = place((replace(FRONT, x_mm=60.0),)).change(LAID)
    assert staying_in(outside, ("front-1", "pocket-1")).broken == ("front-1",)


ROOMY = Answer("fits", True, Remark.of("lay-fits", clearance_mm=9.0), spare_mm=9.0, clearance_mm=8.5)


def test_an_answer_has_no_more_room_than_what_stays() -> None:
    capped = with_staying(ROOMY, Staying(2, 3.8), 6.0)
    assert (capped.verdict, capped.spare_mm, capped.spare_proved, capped.clearance_mm) == (
        "fits, tight",
        3.8,
        True,
        3.8,
    )
    assert capped.reason == Remark.of("lay-tight", spare_mm=3.8, wish_mm=6.0)
    assert [note.text() for note in capped.notes] == [
        "2 pieces stay where they lie",
        "Those that stay have 3.8 mm at their tightest place: however the others lie, there is no more",
    ]
    assert with_staying(replace(ROOMY, proof=Proof("exhaustive")), Staying(2, 3.8), 6.0).proof is None
    enough = with_staying(ROOMY, Staying(1, 7.0), 6.0)
    assert (enough.verdict, enough.spare_mm, enough.spare_proved, enough.clearance_mm) == ("fits", 7.0, True, 7.0)
    assert enough.notes[0].text() == "1 piece stays where it lies"


def test_an_answer_with_less_room_keeps_its_own() -> None:
    for room_mm in (70.0, None):
        told_of = with_staying(ROOMY, Staying(2, room_mm), 6.0)
        assert replace(told_of, notes=()) == ROOMY
    assert with_staying(ROOMY, Staying(), 6.0) is ROOMY
    none = Answer("not found", False, Remark("lay-not-found"))
    assert replace(with_staying(none, Staying(2, 3.0), 6.0), notes=()) == none


def test_where_every_piece_stays_their_room_is_the_room() -> None:
    nothing = Answer("fits", True, Remark("lay-nothing-asked"))
    told_of = with_staying(nothing, Staying(1, 2.0), 6.0)
    assert (told_of.verdict, told_of.spare_mm, told_of.clearance_mm) == ("fits, tight", 2.0, 2.0)
    assert with_staying(nothing, Staying(1, 0.0, ("pocket-1",)), 6.0).verdict == "not found"


def test_the_reason_tells_of_no_more_room_than_there_is() -> None:
    """The others lie 8.5 apart, but those that stay have 7."""
    assert with_staying(ROOMY, Staying(1, 7.0), 6.0).reason == Remark.of("lay-fits", clearance_mm=7.0)


# 3 % of 600 are 18 mm: a pocket 12 mm from the right edge (its middle 30 + 12 from it) may lie beside the cloth.
DOUBTFUL = replace(START, cloths=(replace(START.cloths[0], state="to-buy", doubt_percent=3.0),))


def test_what_stays_may_be_lost_on_a_smaller_cloth() -> None:
    near, far = (place((replace(POCKET, x_mm=x_mm),)).change(DOUBTFUL) for x_mm in (558.0, 551.0))
    assert staying_in(near, ("pocket-1",)).lost_if_smaller == ("pocket-1",)
    assert staying_in(far, ("pocket-1",)).lost_if_smaller == ()
    outside = place((replace(POCKET, x_mm=590.0),)).change(DOUBTFUL)
    assert staying_in(outside, ("pocket-1",)) == Staying(1, 0.0, ("pocket-1",))
    lost = with_staying(ROOMY, staying_in(near, ("pocket-1",)), 6.0)
    assert (lost.verdict, lost.spare_mm) == ("fits, tight", 9.0)
    assert lost.reason == Remark.of("lay-tight-doubt", spare_mm=9.0)
    assert lost.notes[-1].text().endswith("these could not stay where they lie: pocket-1")
    tight = with_staying(ROOMY, Staying(1, 3.0, lost_if_smaller=("pocket-1",)), 6.0)
    assert (tight.verdict, tight.reason.code, tight.notes[-1].code) == (
        "fits, tight",
        "lay-tight",
        "stay-lost-if-smaller",
    )


def test_no_answer_is_right_while_what_stays_breaks_a_rule() -> None:
    wrong = with_staying(replace(ROOMY, placed=(POCKET,)), Staying(2, 0.0, ("front-1",)), 6.0)
    assert (wrong.verdict, wrong.proved, wrong.placed) == ("not found", False, (POCKET,))
    assert wrong.reason.text() == "where it stays, a rule is broken: front-1"
    assert with_staying(NO, Staying(2, 0.0, ("front-1",)), 6.0).verdict == "does not fit"


NO = Answer("does not fit", True, Remark.of("lay-no-way", pieces=3), Proof("exhaustive"))
OPEN = Answer("not found", False, Remark("lay-not-found"))
TWO = replace(ROOMY, placed=(FRONT, POCKET))


@pytest.mark.parametrize(
    ("had", "words"),
    [
        (StillHad(TWO, TWO), "All 2 pieces that were asked for are laid."),
        (StillHad(replace(TWO, placed=(FRONT,)), TWO), "The piece that was asked for is laid."),
        (
            StillHad(TWO, NO, ("Ledger 1",), ("pocket-1",), ("back-2",)),
            "It cannot all be done: all ways in which the 3 pieces can lie beside and above each other were tried, "
            "and none fits. We found room for Ledger 1 (whole), pocket-1.",
        ),
        (
            StillHad(TWO, NO, (), ("front-1",), ("back-2",), staying=1),
            "It cannot all be done while 1 piece stays where it lies: all ways in which the 3 pieces can lie beside "
            "and above each other were tried, and none fits. We found room for front-1.",
        ),
        (
            StillHad(NO, NO, (), (), ("back-2",), staying=4),
            "It cannot be done while 4 pieces stay where they lie: all ways in which the 3 pieces can lie beside and "
            "above each other were tried, and none fits.",
        ),
        (
            StillHad(TWO, OPEN, (), ("front-1",), ("back-2",)),
            "No room was found for all of it; we found room for front-1.",
        ),
        (StillHad(OPEN, OPEN, (), (), ("back-2",)), "No room was found for any of it."),
    ],
)
def test_only_a_proof_says_that_it_cannot_be_done(had: StillHad, words: str) -> None:
    assert told(had) == words


@pytest.mark.parametrize(
    ("moved", "loose", "words"),
    [
        (TWO, 2, "It all fits once the 2 pieces that lie uncut may move too: choose Lay out for me."),
        (TWO, 1, "It all fits once the one piece that lies uncut may move too: choose Lay out for me."),
        (NO, 2, "Moving what lies uncut would not help either: that is proved."),
        (OPEN, 2, "With what lies uncut moved too, no way was found either."),
    ],
)
def test_what_moving_the_uncut_would_bring_is_told_after_the_no(moved: Answer, loose: int, words: str) -> None:
    had = StillHad(OPEN, OPEN, (), (), ("back-2",), staying=3, loose=loose, moved=moved)
    assert told(had) == f"No room was found for any of it. {words}"
    assert told(replace(had, answer=TWO, missing=())) == "All 2 pieces that were asked for are laid."


def test_what_lies_uncut_and_not_pinned_may_be_asked_to_move() -> None:
    asked = rest_asked(LAID, seconds=2.5, steps=70)
    assert asked.moved is not None
    assert {piece.id for piece in asked.moved.pieces} == {*ids(asked), "front-1"}
    assert [piece.id for cloth in asked.moved.cloths for piece, _ in cloth.fixed] == ["pocket-1"]
    assert (asked.moved.steps, asked.moved.seconds) == (70, 2.5)
    assert rest_asked(pin(("front-1",)).change(LAID)).moved is None
    assert rest_asked(mark_cut(("front-1",)).change(LAID)).moved is None


def test_a_proof_with_nothing_found_is_told_as_one() -> None:
    said = told(StillHad(NO, NO, (), (), ("front-1",)), lambda remark: remark.text())
    assert said.startswith("It cannot be done: all ways")
    assert said.endswith("none fits.")
