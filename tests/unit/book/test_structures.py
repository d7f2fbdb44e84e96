"""From a book to its pieces by structure, and the warnings beside them."""

from dataclasses import replace
from typing import get_args

import pytest

from coverlayout.book.book import Book, PartOfBook, Structure, TurnIns, Volume
from coverlayout.book.structures import BUILT_STRUCTURES, boards, notes, pieces
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import bounds

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4))


def test_each_built_structure_makes_its_pieces() -> None:
    assert [piece.id for piece in pieces(BOOK)] == ["front-1", "back-1", "liner-front-1", "liner-back-1"]
    listed = Book("b", "Set", "parts", board_mm=(90.0, 90.0), parts=(PartOfBook("wall", 1, 0.0, "none"),))
    assert [piece.id for piece in pieces(listed)] == ["wall-1-1"]


@pytest.mark.parametrize(
    ("structure", "ids", "names"),
    [
        ("separate-boards", ["front-4", "back-4", "liner-front-4", "liner-back-4"], ["cover board"]),
        ("exposed-spine-wrap", ["cover-4", "liner-front-4", "liner-back-4"], ["cover board"]),
        ("flat-case", ["cover-4", "liner-front-4", "liner-back-4"], ["cover board", "spine piece"]),
        ("rounded-case", ["cover-4", "liner-front-4", "liner-back-4"], ["cover board", "spine strip"]),
    ],
)
def test_pieces_and_boards_of_a_structure(structure: str, ids: list[str], names: list[str]) -> None:
    volumes = (Volume(4, 12.0),)
    book = replace(BOOK, structure=structure, volumes=volumes)  # type: ignore[arg-type]  # one of its words
    assert [piece.id for piece in pieces(book)] == ids
    assert [board.name for board in boards(book, volumes[0])] == names
    assert {piece.volume for piece in pieces(book)} == {4}


def test_every_structure_there_is_is_made() -> None:
    """With every figure left to the rules: pieces of cloth with their head marked and their anchor within."""
    assert set(BUILT_STRUCTURES) == set(get_args(Structure))
    for structure in BUILT_STRUCTURES:
        if structure == "parts":
            continue
        book = Book("book-1", "Ledger", structure, block_mm=(100.0, 150.0, 12.0), volumes=(Volume(4),))
        for piece in pieces(book):
            assert piece.id.endswith("-4")
            box = bounds(piece.outline_mm)
            assert (box.left_mm, box.top_mm) == pytest.approx((0.0, 0.0))
            assert piece.kind == "corner" or "head" in {mark.kind for mark in piece.marks}
            assert 0 <= piece.anchor_mm[0] <= box.width_mm
            assert 0 <= piece.anchor_mm[1] <= box.height_mm


def test_a_list_of_parts_tells_no_boards_and_an_unknown_word_makes_nothing() -> None:
    listed = Book("b", "Set", "parts", board_mm=(90.0, 90.0), parts=(PartOfBook("wall", 1, 0.0, "none"),))
    assert boards(listed, listed.volumes[0]) == ()
    for made in (pieces, lambda book: boards(book, book.volumes[0])):
        with pytest.raises(BadInput, match="scroll"):
            made(replace(BOOK, structure="scroll"))  # type: ignore[arg-type]  # a word that is none of them


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
