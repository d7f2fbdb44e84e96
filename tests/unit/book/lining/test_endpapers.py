"""Two folios for each volume of a case; none elsewhere unless asked for."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Paper, PartOfBook, Volume
from coverlayout.book.lining.endpapers import endpapers_of, has_endpapers, lining_notes
from coverlayout.book.materials.cut_item import CutItem
from coverlayout.book.materials.plan import plan

CASE = Book("book-1", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0), volumes=(Volume(4),))


def test_a_case_has_two_folios_folded_along_the_grain() -> None:
    assert endpapers_of(CASE, CASE.volumes[0]) == (
        CutItem("endpaper", "paper", 296.0, 210.0, 2, "head to tail", volumes=(4,)),
    )


@pytest.mark.parametrize(
    ("fields", "there"),
    [
        ({}, True),
        ({"structure": "rounded-case"}, True),
        ({"structure": "half-case"}, True),
        ({"endpapers": "none"}, False),
        ({"structure": "separate-boards"}, False),
        ({"structure": "separate-boards", "endpapers": "paper"}, True),
        ({"structure": "limp-wrap"}, False),
        ({"structure": "parts", "endpapers": "paper", "parts": (PartOfBook("a", 1, 0.0, "none"),)}, False),
    ],
)
def test_other_structures_have_them_when_asked(fields: dict[str, object], there: bool) -> None:
    book = replace(CASE, **fields)  # type: ignore[arg-type]  # fields by name
    assert has_endpapers(book) is there
    assert bool(endpapers_of(book, book.volumes[0])) is there


def test_the_page_comes_from_the_paper_or_back_from_the_board() -> None:
    paper = Paper((228.6, 304.8), sheets=16, cut=(2, 1), thickness_mm=0.1)
    (folio,) = endpapers_of(replace(CASE, block_mm=None, paper=paper), Volume(4))
    assert (folio.width_mm, folio.height_mm) == pytest.approx((228.6, 152.4))
    # A board of 144.5 x 216 is made for a page of 148 x 210: set back 3.5, squares of 3.
    (folio,) = endpapers_of(replace(CASE, block_mm=None, board_mm=(144.5, 216.0)), Volume(4, 10.0))
    assert (folio.width_mm, folio.height_mm) == pytest.approx((296.0, 210.0))


@pytest.mark.parametrize(
    ("fields", "codes"),
    [
        ({}, ["liners-over-endpapers"]),
        ({"liners": "paper", "structure": "half-case"}, ["liners-over-endpapers"]),
        ({"liners": "none"}, []),
        ({"endpapers": "none"}, []),
        ({"structure": "accordion"}, ["liners-under-panels"]),
        ({"structure": "accordion", "liners": "none"}, []),
        ({"structure": "separate-boards", "endpapers": "paper"}, []),
    ],
)
def test_what_is_pasted_to_the_same_board_is_said(fields: dict[str, object], codes: list[str]) -> None:
    book = replace(CASE, **fields)  # type: ignore[arg-type]  # fields by name
    assert [note.code for note in lining_notes(book)] == codes
    assert [note.code for note in plan(book).notes if note.code.startswith("liners-")] == codes
