"""Sizes that are worth a second look are said and refused by nobody; usual ones are not mentioned."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Paper, TurnIns, Volume
from coverlayout.book.checks import check_book
from coverlayout.book.measures import measures
from coverlayout.book.rules.remarks import notes
from coverlayout.book.rules.sizes import is_spine_far_off, size_notes, spine_by_block_mm
from coverlayout.errors import Remark
from coverlayout.units import LengthStyle

CASE = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0))
PAGES = Book("b", "Ledger", page_mm=(148.0, 210.0))
WRAP = replace(CASE, structure="exposed-spine-wrap")


def block(thickness_mm: float) -> Book:
    return replace(CASE, block_mm=(148.0, 210.0, thickness_mm))


def said(book: Book) -> list[str]:
    assert all(isinstance(note, Remark) for note in size_notes(book))
    return [note.text().removeprefix("Ledger: ") for note in size_notes(book)]


@pytest.mark.parametrize(
    ("book", "told"),
    [
        (CASE, []),
        (PAGES, []),
        (block(3.0), []),
        (block(80.0), []),
        (block(1.5), ["block thickness 1.5 mm is unusual; 3 mm to 80 mm is met most."]),
        (block(150.0), ["block thickness 150 mm is unusual; 3 mm to 80 mm is met most."]),
        (replace(PAGES, page_mm=(3700.0, 210.0)), ["page width 3700 mm is unusual; 40 mm to 600 mm is met most."]),
        (replace(PAGES, page_mm=(148.0, 39.0)), ["page height 39 mm is unusual; 40 mm to 600 mm is met most."]),
        (
            replace(PAGES, page_mm=None, board_mm=(700.0, 25.0)),
            [
                "board width 700 mm is unusual; 40 mm to 600 mm is met most.",
                "board height 25 mm is unusual; 40 mm to 600 mm is met most.",
            ],
        ),
        (
            replace(PAGES, page_mm=(14.8, 21.0)),
            ["a page of 14.8 mm x 21 mm is unusually small; were centimetres meant, it would be 148 mm x 210 mm."],
        ),
        # Ten times as much would not be usual either: nothing is asked about centimetres.
        (
            replace(PAGES, page_mm=(3.0, 2.0)),
            [
                "page width 3 mm is unusual; 40 mm to 600 mm is met most.",
                "page height 2 mm is unusual; 40 mm to 600 mm is met most.",
            ],
        ),
        (replace(CASE, structure="limp-wrap", block_mm=(148.0, 210.0, 0.5)), []),
        (
            replace(CASE, structure="limp-wrap", block_mm=(148.0, 210.0, 6.5)),
            ["block thickness 6.5 mm is unusual; 0.5 mm to 6 mm is met most."],
        ),
        # Over two boards of 2 mm 3 to 80 mm of block are 7 to 84.
        (replace(WRAP, block_mm=(148.0, 210.0, 7.0)), []),
        (
            replace(WRAP, block_mm=(148.0, 210.0, 6.5)),
            ["thickness with its boards 6.5 mm is unusual; 7 mm to 84 mm is met most."],
        ),
        (
            replace(CASE, structure="slipcase", block_mm=(14.8, 21.0, 1.0)),
            [
                "a book of 14.8 mm x 21 mm is unusually small; were centimetres meant, it would be 148 mm x 210 mm.",
                "book thickness 1 mm is unusual; 3 mm to 80 mm is met most.",
            ],
        ),
        # What follows from the paper was not typed here.
        (Book("b", "Ledger", paper=Paper((40.0, 50.0), sheets=2, thickness_mm=0.1)), []),
    ],
)
def test_what_is_said_of_sizes(book: Book, told: list[str]) -> None:
    assert said(book) == told


def test_of_many_volumes_the_thinnest_and_the_thickest_are_said() -> None:
    thick = (1.0, 2.0, 12.0, 90.0, 120.0)
    book = replace(PAGES, volumes=tuple(Volume(k, mm) for k, mm in enumerate(thick, 1)))
    assert [dict(note.figures)["found_exact_mm"] for note in size_notes(book)] == [1.0, 120.0]
    assert [note.code for note in notes(book)][:2] == ["figure-unusual"] * 2


def test_an_unusual_size_refuses_nothing_and_is_said_in_the_makers_unit() -> None:
    small = replace(PAGES, page_mm=(14.8, 21.0), turn_ins=TurnIns.all_round(5.0), liner_inset_mm=1.0)
    check_book(small)
    (note,) = size_notes(small)
    assert note in notes(small)
    assert "a page of 0.582 in x 0.826 in is unusually small" in LengthStyle("in", inch_parts=16).said(note)


@pytest.mark.parametrize(
    ("book", "spine_mm", "is_far"),
    [
        # By block and boards 10 + 4 - 0.5 = 13.5: a half more is 20.25.
        (CASE, 20.2, False),
        (CASE, 20.4, True),
        (CASE, 100.0, True),
        # No narrower than the block of 5, but 0.67 x 8.5 = 5.7 is not reached.
        (block(5.0), 5.6, True),
        (block(5.0), 5.8, False),
        # Narrower than the block is said in words of its own.
        (CASE, 8.0, False),
        # Measured round spines: 17 % over the block, and 45 % after backing (a bookbinding tutorial).
        (replace(CASE, structure="rounded-case"), 11.7, False),
        (replace(CASE, structure="rounded-case"), 14.5, False),
        (replace(CASE, structure="rounded-case", spine_rise_mm=60.0), 30.0, True),
        (WRAP, 16.0, True),
    ],
)
def test_a_measured_spine_far_from_what_the_block_makes(book: Book, spine_mm: float, is_far: bool) -> None:
    measured = replace(book, spine_width_mm=spine_mm)
    assert is_spine_far_off(measured, measures(measured, measured.volumes[0])) == is_far
    assert ("spine-far-off" in [note.code for note in notes(measured)]) == is_far
    assert ("spine-as-measured" in [note.code for note in notes(measured)]) != is_far


def test_a_spine_far_off_is_something_to_look_at() -> None:
    (note,) = notes(replace(CASE, spine_width_mm=100.0))
    assert note.text() == (
        "Ledger: the spine is made 100 mm wide, as it was measured, but by the thickness of the block it would be "
        "13.5 mm; look at both figures again."
    )
    assert spine_by_block_mm(replace(CASE, spine_width_mm=100.0)) == 13.5
    assert not is_spine_far_off(CASE, measures(CASE, CASE.volumes[0]))
