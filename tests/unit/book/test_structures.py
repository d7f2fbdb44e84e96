"""From a book to its pieces by structure, and the warnings beside them."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, PartOfBook, TurnIns
from coverlayout.book.structures import notes, pieces
from coverlayout.errors import BadInput

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4))


def test_each_built_structure_makes_its_pieces() -> None:
    assert [piece.id for piece in pieces(BOOK)] == ["front-1", "back-1", "liner-front-1", "liner-back-1"]
    listed = Book("b", "Set", "parts", board_mm=(90.0, 90.0), parts=(PartOfBook("wall", 1, 0.0, "none"),))
    assert [piece.id for piece in pieces(listed)] == ["wall-1-1"]


def test_bad_figures_make_no_pieces() -> None:
    with pytest.raises(BadInput, match="Ledger: page width"):
        pieces(replace(BOOK, page_mm=(0.0, 1.0)))


@pytest.mark.parametrize(
    ("fields", "codes"),
    [
        ({}, []),
        ({"liner_inset_mm": 6.5}, []),
        ({"liner_inset_mm": 10.0}, ["figure-unusual"]),
        ({"liner_inset_mm": 10.1}, ["liner-inset-wide"]),
        ({"liner_inset_mm": 10.1, "liners": "paper"}, ["liner-inset-wide"]),
        ({"liner_inset_mm": 6.0, "liners": "none"}, []),
        ({"turn_ins": TurnIns(spine_mm=7.5)}, ["liner-inset-wide"]),
        ({"turn_ins": TurnIns(spine_mm=8.0)}, ["figure-unusual"]),
        ({"turn_ins": TurnIns(tail_mm=2.0)}, ["turn-in-short"]),
        ({"structure": "parts"}, []),
    ],
)
def test_warnings_refuse_nothing(fields: dict[str, object], codes: list[str]) -> None:
    said = notes(replace(BOOK, **fields))  # type: ignore[arg-type]  # fields by name
    assert [note.code for note in said] == codes


def test_a_warning_says_what_would_be_right() -> None:
    (note,) = notes(replace(BOOK, liner_inset_mm=12.0))
    assert note.text() == "Ledger: liners inset by 12 mm leave raw edges of the turn-in bare; 10 mm or less covers them"
