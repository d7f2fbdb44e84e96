"""Sizes and counts against figures found by others.

Counts of books of 4.5 x 6 in boards (turn-in 15 mm, liners inset 3 mm) and of pieces of 180 x 250 mm on a quarter: our
own counts with a constraint solver and a slice bound, carried over. The largest 3:4 boards on 12 x 12 in and on
11.75 x 11.75 in: bisection with a constraint solver, carried over; the case itself is common practice, no source.
Least lengths: three squares of 6 on a strip of 10 (textbook case; common practice, no source); small-1 to small-4, our
own with a constraint solver's proof, carried over.
"""

from __future__ import annotations

import pytest
from laying import INCH, faults

from coverlayout.book.book import Book, OwnPiece, PartOfBook, Turns
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import ladder
from coverlayout.document.project import JobRules, LinkWish, Project
from coverlayout.document.questions import ladder_for, question_for
from coverlayout.document.sizing.count import CountAsked, count_books
from coverlayout.document.sizing.largest import LargestAsked, largest_board
from coverlayout.document.sizing.length import LengthAsked, least_length_off_bolt
from coverlayout.document.sizing.scale import ScaleAsked, print_scales
from coverlayout.layout.ladder import climb
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print


def book(cover: Turns, liner: Turns) -> Book:
    return Book("book-1", "Notebook", page_mm=(114.3, 152.4), cover_turns=cover, liner_turns=liner)


def on(width_mm: float, length_mm: float, *books: Book) -> Project:
    return Project(cloths=(Cloth("cloth-1", "Cloth", width_mm, length_mm),), books=books)


@pytest.mark.parametrize(
    ("width_in", "length_in", "cover", "liner", "books"),
    [
        (22.0, 18.0, "quarter", "quarter", 2),
        (21.0, 18.0, "quarter", "quarter", 2),
        (44.0, 18.0, "quarter", "quarter", 5),
        (44.0, 18.0, "none", "quarter", 5),
        (42.0, 18.0, "none", "none", 4),
        (18.0, 42.0, "none", "none", 5),
    ],
)
def test_books_of_four_and_a_half_by_six(
    width_in: float, length_in: float, cover: Turns, liner: Turns, books: int
) -> None:
    found = count_books(CountAsked(on(width_in * INCH, length_in * INCH, book(cover, liner))))
    assert (found.books, found.proved_most) == (books, True)
    assert found.answer is not None
    assert faults(question_for(found.project), found.answer.placed) == []


@pytest.mark.parametrize(("turns", "pieces"), [("none", 3), ("quarter", 5)])
def test_pieces_of_180_by_250_from_a_quarter(turns: Turns, pieces: int) -> None:
    one = OwnPiece("own-1", "piece", 180.0, 250.0, turns=turns)
    project = Project(cloths=(Cloth("cloth-1", "Cloth", 22 * INCH, 18 * INCH),), own_pieces=(one,))
    found = count_books(CountAsked(project))
    assert (found.books, found.proved_most) == (pieces, True)


def of_parts(turns: Turns) -> Book:
    parts = (PartOfBook("cover", 2, 15.0, turns), PartOfBook("liner", 2, -3.0, turns))
    return Book("book-1", "Book", "parts", board_ratio=(3.0, 4.0), parts=parts)


@pytest.mark.parametrize(
    ("side_in", "turns", "width_mm", "height_mm"),
    [
        (12.0, "quarter", 120.343, 160.457),
        (12.0, "none", 105.30, 140.40),
        (11.75, "quarter", 117.62, 156.83),
        (11.75, "none", 102.92, 137.23),
    ],
)
def test_the_largest_three_to_four_board(side_in: float, turns: Turns, width_mm: float, height_mm: float) -> None:
    found = largest_board(LargestAsked(on(side_in * INCH, side_in * INCH, of_parts(turns))))
    assert found.board_mm == pytest.approx((width_mm, height_mm), abs=0.006)
    assert found.proved
    assert found.bound_mm is not None
    assert width_mm < found.bound_mm <= width_mm + 0.11
    assert faults(question_for(found.project), found.answer.placed) == []


def test_a_book_of_pages_gives_the_same_board() -> None:
    whole = Book("book-1", "Notebook", page_mm=(90.0, 120.0), cover_turns="quarter", liner_turns="quarter")
    found = largest_board(LargestAsked(on(12 * INCH, 12 * INCH, whole)))
    assert found.board_mm == pytest.approx((120.343, 160.457), abs=0.002)


# Width, gap, edge, least length, pieces (may turn or not).
LENGTHS = {
    "three sixes": (10, 0, 0, 18, [(6, 6, True)] * 3),
    "small-1": (320, 0, 0, 320, [(128, 165, False), (128, 165, False), (44.5, 180.5, True), (113, 155, False)]),
    "small-2": (
        340, 2, 3, 167,
        [(39, 138, True), (47, 175, True), (80, 100, True), (80, 100, True), (38, 145, True), (103, 101, True)],
    ),
    "small-4": (
        457, 0, 4, 302,
        [(72, 131, False), (112, 120, False)] + [(105, 148, False), (104, 148, False), (95, 146, False)] * 2,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", LENGTHS)
def test_the_least_length_off_the_bolt(name: str) -> None:
    width, gap, edge, length, sizes = LENGTHS[name]
    own = tuple(
        OwnPiece(f"own-{k}", f"p{k}", w, h, turns="quarter" if free else "none") for k, (w, h, free) in enumerate(sizes)
    )
    on_bolt = Cloth("cloth-1", "Bolt", width, 2 * length, trim_mm=edge)
    rules = JobRules(gap_mm=gap, objective="least length")
    found = least_length_off_bolt(LengthAsked(Project(cloths=(on_bolt,), own_pieces=own, rules=rules)))
    assert found.length_mm == pytest.approx(length, abs=0.02)
    assert found.proved
    assert found.bound_mm is not None
    assert length - 0.1 <= found.bound_mm <= found.length_mm


def test_covers_alike_at_scales_of_a_print_of_50() -> None:
    """The core case: alike in a square repeat 50 mm fits, 48 and 64 do not (a constraint solver's, carried over)."""
    a_print = Print("print-1", "Squares", Lattice((50.0, 0.0), (0.0, 50.0)))
    swatch = Cloth("cloth-1", "Swatch", 12 * INCH, 12 * INCH, laid=LaidPrint("print-1"))
    alike = LinkWish("link-1", ("front-1", "back-1"))
    project = Project(prints=(a_print,), cloths=(swatch,), books=(book("none", "quarter"),), links=(alike,))
    found = print_scales(ScaleAsked(project, (96.0, 100.0, 128.0)))
    verdicts = {one.scale_percent: one.verdict for one in found.tried}
    assert verdicts == {96.0: "does not fit", 100.0: "fits, tight", 128.0: "does not fit"}
    assert found.best_percent == 100.0


def test_five_books_from_the_ladder() -> None:
    """Half a yard of 44 in holds five (our own count), a fat quarter two: no two fat quarters of 42 in are enough."""
    five = book("none", "quarter")
    five = Book(**{**vars(five), "volumes": tuple(type(five.volumes[0])(k) for k in range(1, 6))})
    rungs = climb(ladder_for(on(12 * INCH, 12 * INCH, five), ladder()), together=False).rungs
    verdicts = {rung.name: rung.verdict for rung in rungs}
    assert verdicts["half yard, 44 in"] == "fits, tight"
    assert verdicts["fat quarter, 44 in"] == "does not fit"
    assert verdicts["fat quarter, 150 cm"] == "does not fit"
    assert verdicts["yard, 42 in"] == "fits"
    assert "not found" not in [rung.verdict for rung in rungs if rung.name != "half yard, 42 in"]
