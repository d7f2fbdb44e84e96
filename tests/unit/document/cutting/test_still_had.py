"""What can still be had: everything where it fits, else whole books first, then single pieces, each step judged."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, Volume
from coverlayout.cloth.cloth import Cloth, Flaw
from coverlayout.document.cutting.marking import mark_spoiled
from coverlayout.document.cutting.rest import RestAsked, StillHad, rest_asked
from coverlayout.document.cutting.still_had import still_had
from coverlayout.document.edits.placements import accept, pin, place
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.document.questions import judge_for, placed_now, question_for
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.layout.search import effort
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

# Covers of 144.3 x 182.4 mm and no liners: common practice, no source.
BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4), liners="none", volumes=(Volume(1), Volume(2)))
LABEL = OwnPiece("own-1", "label", 30.0, 20.0, turns="none")


def project(width_mm: float, length_mm: float, *, labels: int = 0, book: Book = BOOK) -> Project:
    own = (replace(LABEL, count=labels),) if labels else ()
    return Project(cloths=(Cloth("cloth-1", "Swatch", width_mm, length_mm),), books=(book,), own_pieces=own)


def laid(start: Project, had: StillHad) -> Project:
    after = accept(had.answer.placed).change(start)
    assert judge_for(after).report(placed_now(after)).breaches == ()
    return after


def test_everything_is_laid_where_it_fits() -> None:
    start = place((Placed("front-1", "cloth-1", 100.0, 100.0),)).change(project(660.0, 200.0, labels=1))
    had = still_had(rest_asked(start))
    assert had.missing == ()
    assert had.answer is had.whole
    assert (had.books, had.pieces) == (("Ledger 1", "Ledger 2"), ("label-1",))
    after = laid(start, had)
    assert after.layout.place_of("front-1") == Placed("front-1", "cloth-1", 100.0, 100.0)
    assert len(after.layout.placements) == 5


def test_a_whole_book_comes_before_half_of_two() -> None:
    """A strip of 450 mm holds three covers of 144.3 side by side (432.9), and of four, two books, there is no way."""
    start = project(450.0, 190.0)
    had = still_had(rest_asked(start))
    assert had.whole.verdict == "does not fit"
    assert (had.books, had.pieces, had.missing) == (("Ledger 1",), ("front-2",), ("back-2",))
    assert {placed.piece for placed in had.answer.placed} == {"front-1", "back-1", "front-2"}
    laid(start, had)


def test_a_begun_book_is_made_whole_first() -> None:
    """Of the second copy one cover lies: with room for one cover more, that copy becomes whole."""
    start = place((Placed("front-2", "cloth-1", 75.0, 95.0),)).change(project(300.0, 190.0))
    had = still_had(rest_asked(start))
    assert (had.books, had.pieces) == (("Ledger 2",), ())
    assert set(had.missing) == {"front-1", "back-1"}
    laid(start, had)


def test_the_spoiled_cover_is_planned_again_where_there_is_room() -> None:
    lying = tuple(
        Placed(f"{name}-{copy}", "cloth-1", 75.0 + 150.0 * k, 95.0)
        for k, (name, copy) in enumerate([("front", 1), ("back", 1), ("front", 2), ("back", 2)])
    )
    start = mark_spoiled(("back-1",)).change(place(lying).change(project(760.0, 190.0)))
    had = still_had(rest_asked(start))
    assert (had.books, had.missing) == (("Ledger 1",), ())
    after = laid(start, had)
    again = after.layout.place_of("back-1")
    assert again is not None
    assert again.x_mm > 600.0
    # Where all of the strip was used, nothing is left for it, and that is proved.
    full = replace(start, cloths=(replace(start.cloths[0], width_mm=600.0),))
    none = still_had(rest_asked(full))
    assert (none.answer.placed, none.books, none.missing) == ((), (), ("back-1",))
    assert none.whole.verdict == "does not fit"


def test_what_lies_uncut_in_the_way_could_move(monkeypatch: pytest.MonkeyPatch) -> None:
    """One book on 300 mm: with the front in the middle the back, 144.3 wide, has no place; at the edge it has."""
    one = project(300.0, 190.0, book=replace(BOOK, volumes=(Volume(1),)))
    start = place((Placed("front-1", "cloth-1", 150.0, 95.0),)).change(one)
    had = still_had(rest_asked(start))
    assert had.missing == ("back-1",)
    assert had.moved is not None
    assert {placed.piece for placed in had.moved.placed} == {"front-1", "back-1"}
    assert had.loose == 1
    assert still_had(rest_asked(start)) == had
    # On 280 mm there is no place for both, wherever the front lies.
    narrow = replace(start, cloths=(replace(start.cloths[0], width_mm=280.0),))
    no = still_had(rest_asked(narrow)).moved
    assert no is not None
    assert no.verdict == "does not fit"
    # Pinned or cut it stays, and nothing is asked.
    assert still_had(rest_asked(pin(("front-1",)).change(start))).moved is None
    # A search that was ended says nothing of it.
    monkeypatch.setattr(effort, "_WATCH_EVERY_S", 0.0)
    assert still_had(rest_asked(start), lambda share: True).moved is None


def test_labels_are_found_beside_what_is_too_large() -> None:
    start = project(150.0, 250.0, labels=3)
    had = still_had(rest_asked(start))
    assert had.books == ()
    assert had.pieces == ("front-1", "label-1", "label-2", "label-3")
    assert had.missing == ("back-1", "front-2", "back-2")
    laid(start, had)


def test_the_same_question_has_the_same_answer() -> None:
    start = replace(
        project(450.0, 400.0, labels=2),
        cloths=(
            Cloth(
                "cloth-1", "Swatch", 450.0, 300.0, flaws=(Flaw("flaw-1", "tea", rectangle(30.0, 20.0, 200.0, 90.0)),)
            ),
        ),
    )
    asked = rest_asked(start)
    assert still_had(asked) == still_had(asked)


def test_a_search_that_is_stopped_says_what_it_has() -> None:
    asked = rest_asked(project(450.0, 190.0, labels=2))
    stopped = still_had(asked, lambda share: True)
    assert set(stopped.missing) | {placed.piece for placed in stopped.answer.placed} == {
        piece.id for piece in asked.question.pieces
    }
    hurried = still_had(replace(asked, question=replace(asked.question, seconds=1e-9)))
    assert isinstance(hurried, StillHad)


def test_progress_only_grows(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(effort, "_WATCH_EVERY_S", 0.0)
    shares: list[float] = []

    def watch(share: float) -> bool:
        shares.append(share)
        return False

    slanted = Flaw("flaw-1", "crease", ((0.0, 20.0), (450.0, 90.0)), line_width_mm=2.0)
    start = replace(project(450.0, 400.0), cloths=(Cloth("cloth-1", "Swatch", 450.0, 300.0, flaws=(slanted,)),))
    still_had(rest_asked(start, steps=4000), watch)
    assert len(shares) > 10
    assert shares == sorted(shares)
    assert all(0.0 <= share <= 1.0 for share in shares)


def test_nothing_asked_is_answered_at_once() -> None:
    had = still_had(RestAsked(replace(question_for(project(450.0, 190.0)), pieces=())))
    assert (had.missing, had.books, had.pieces) == ((), (), ())


HERONS = Print("print-1", "Herons", Lattice((70.0, 0.0), (0.0, 70.0)))


def printed(width_mm: float) -> Project:
    """Front and back alike in the repeat of 70 mm."""
    return replace(
        project(width_mm, 190.0, book=replace(BOOK, volumes=(Volume(1),))),
        prints=(HERONS,),
        cloths=(Cloth("cloth-1", "Swatch", width_mm, 190.0, laid=LaidPrint("print-1")),),
        links=(LinkWish("wish-1", ("front-1", "back-1")),),
        locks=(LockWish("wish-2", "front-1", (10.0, 25.0)),),
    )


def test_a_link_reaches_what_stays() -> None:
    """The front stays at x = 80; the back must lie whole repeats of 70 from it: 290 is the first that is clear of it.

    80 + 140 = 220 would lie 4.3 mm over it, and the cloth ends at 364, 1.85 mm past a cover at 290.
    """
    start = place((Placed("front-1", "cloth-1", 80.0, 95.0),)).change(printed(364.0))
    had = still_had(rest_asked(start))
    after = laid(start, had)
    back = after.layout.place_of("back-1")
    assert back is not None
    assert (back.x_mm, back.y_mm) == (pytest.approx(290.0), pytest.approx(95.0))
    # Two millimetres less, and there is no such place, though there is room for a cover that goes with nothing.
    narrow = place((Placed("front-1", "cloth-1", 80.0, 95.0),)).change(printed(362.0))
    assert still_had(rest_asked(narrow)).missing == ("back-1",)
    alone = replace(narrow, links=())
    assert still_had(rest_asked(alone)).missing == ()
