"""From all flags of a book to the book: one size, its volumes, its turn-ins, and what disagrees."""

from __future__ import annotations

import pytest

from coverlayout.app.booking.book_flags import BOOK_FLAGS, COVER_FLAGS, book_of
from coverlayout.app.flags import Given
from coverlayout.book.book import Book, Label, Sewing, TurnIns
from coverlayout.errors import BadInput


def given(**values: str) -> Given:
    return Given("a", {"--" + name.replace("_", "-"): (text,) for name, text in values.items()})


def made(structure: str = "separate-boards", **values: str) -> Book:
    book = book_of(given(structure=structure, **values))
    assert book is not None
    return book


def refused(structure: str = "separate-boards", **values: str) -> str:
    with pytest.raises(BadInput) as told:
        book_of(given(structure=structure, **values))
    return str(told.value)


def test_no_word_of_a_book_makes_none() -> None:
    assert book_of(given(cloth="12x12in")) is None


@pytest.mark.parametrize("flag", [flag.name for flag in BOOK_FLAGS if flag.name != "--structure"])
def test_every_flag_wants_a_structure(flag: str) -> None:
    with pytest.raises(BadInput) as told:
        book_of(Given("a", {flag: ("1",)}))
    assert str(told.value) == f"{flag} needs --structure separate-boards as well"


def test_no_flag_stands_twice() -> None:
    names = [flag.name for flag in BOOK_FLAGS]
    assert len(names) == len(set(names))
    assert set(COVER_FLAGS) < set(BOOK_FLAGS)


def test_figures_that_are_not_given_are_the_usual_ones() -> None:
    book = made("flat-case", block="148x210x10mm")
    assert book == Book("book-1", "Book", "flat-case", block_mm=(148.0, 210.0, 10.0))


@pytest.mark.parametrize(
    ("flag", "text", "field", "size_mm"),
    [
        ("page", "4 1/2 in x 152mm", "page_mm", (114.3, 152.0)),
        ("block", "6x9x1in", "block_mm", (152.4, 228.6, 25.4)),
        ("board_size", "12x17cm", "board_mm", (120.0, 170.0)),
    ],
)
def test_one_of_three_sizes(flag: str, text: str, field: str, size_mm: tuple[float, ...]) -> None:
    book = made(**{flag: text})
    assert getattr(book, field) == pytest.approx(size_mm)
    others = {"page_mm", "block_mm", "board_mm"} - {field}
    assert all(getattr(book, other) is None for other in others)


def test_a_page_that_is_the_papers_goes_with_it() -> None:
    book = made(paper="9x12in", cut="2x1", sheets="16", page="4.5x6in")
    assert book.page_mm == pytest.approx((114.3, 152.4))
    assert book.paper is not None
    assert made(paper="9x12in", cut="2x1", sheets="16", block="114.3x152.4x9mm").block_mm is not None


def test_every_other_flag_fills_its_field() -> None:
    book = made(
        "half-case",
        block="148x210x10mm",
        turn_in="15x16x20x18mm",
        opens="right",
        board_thickness="3mm",
        liners="none",
        cover_turns="half",
        side_turns="quarter",
        spine_piece="strip",
        label="size=60x25mm",
        stations="4",
        corner_leg="30mm",
    )
    assert book.turn_ins == TurnIns(15.0, 16.0, 20.0, 18.0)
    assert (book.opens, book.board_thickness_mm, book.liners, book.spine_piece) == ("right", 3.0, "none", "strip")
    assert (book.cover_turns, book.liner_turns, book.side_turns) == ("half", None, "quarter")
    assert (book.label, book.sewing, book.corner_leg_mm) == (Label(60.0, 25.0), Sewing(count=4), 30.0)


def test_equal_books_and_volumes() -> None:
    page = {"page": "4.5x6in"}
    assert [volume.number for volume in made(books="3", **page).volumes] == [1, 2, 3]
    volumes = made(volumes="1/2 1 1/2 in", **page).volumes
    assert [volume.thickness_mm for volume in volumes] == pytest.approx([12.7, 38.1])
    assert [volume.thickness_mm for volume in made(volumes="12mm 1in", **page).volumes] == pytest.approx([12.0, 25.4])


@pytest.mark.parametrize(
    ("structure", "flags", "told"),
    [
        ("sewn", {"page": "4x6in"}, "--structure sewn: give one of separate-boards"),
        ("parts", {"page": "4x6in"}, "--structure parts: give one of"),
        ("flat-case", {}, "the book has no size; give one of --page"),
        ("slipcase", {}, "--structure slipcase needs --block 6x9x1in as well"),
        ("separate-boards", {"page": "4x6in", "block": "4x6x1in"}, "--page and --block disagree"),
        ("separate-boards", {"page": "4in"}, "--page 4in: a size is width x height"),
        ("separate-boards", {"block": "4x6in"}, "--block 4x6in: give 3 lengths"),
        ("separate-boards", {"page": "4x6in", "turn_in": "1x2mm"}, "--turn-in 1x2mm"),
        ("separate-boards", {"page": "4x6in", "turn_in": "-1mm"}, "--turn-in -1mm"),
        ("separate-boards", {"page": "4x6in", "books": "2", "volumes": "9mm"}, "--books and --volumes disagree"),
        ("separate-boards", {"page": "4x6in", "books": "501"}, "--books 501: give a number above 0 and up to 500"),
        ("separate-boards", {"page": "4x6in", "volumes": "9mm x"}, "--volumes 9mmx: this is not a length"),
        ("separate-boards", {"page": "4x6in", "liners": "none", "liner_turns": "half"}, "--liners none and --liner"),
        ("separate-boards", {"page": "4x6in", "liners": "none", "liner_inset": "3mm"}, "--liners none and --liner-in"),
        ("flat-case", {"block": "4x6x1in", "spine_width": "1in", "spine_allowance": "1mm"}, "--spine-width and --spi"),
        ("rounded-case", {"block": "4x6x1in", "spine_width": "1in", "spine_rise": "4mm"}, "--spine-width and --spine-"),
        ("separate-boards", {"page": "4x6in", "stations": "20 60mm", "station_end": "9mm"}, "--stations and --station"),
        ("half-case", {"block": "4x6x1in", "sides": "paper", "side_turns": "half"}, "--sides paper and --side-turns"),
        ("separate-boards", {"page": "4x6in", "cover_turns": "free"}, "--cover-turns free: give one of none, half"),
        ("separate-boards", {"page": "4x6in", "joint": "3mm"}, "--joint does not go with separate-boards"),
    ],
)
def test_what_cannot_be_is_told_by_its_flag(structure: str, flags: dict[str, str], told: str) -> None:
    assert refused(structure, **flags).startswith(told)
