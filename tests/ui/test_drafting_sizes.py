"""The size carried over from one way of saying it to another: of a wrap the thickness with its boards."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Paper, Volume
from coverlayout.book.measures import measures
from coverlayout.ui.bookmaking.drafting import sized_by


@pytest.mark.parametrize(("structure", "carried_mm"), [("exposed-spine-wrap", 16.0), ("flat-case", 16.0)])
def test_a_measured_thickness_stays_what_the_ruler_said(structure: str, carried_mm: float) -> None:
    book = Book("b", "L", structure, block_mm=(148.0, 210.0, 16.0))  # type: ignore[arg-type]  # two of its words
    as_page = replace(book, **sized_by(book, "page", "mm"))
    assert (as_page.block_mm, as_page.volumes[0].thickness_mm) == (None, carried_mm)
    again = replace(as_page, **sized_by(as_page, "block", "mm"))
    assert again.block_mm == (148.0, 210.0, carried_mm)
    assert measures(again, again.volumes[0]) == measures(book, book.volumes[0])


def test_what_the_paper_makes_is_carried_over_with_the_boards_of_a_wrap() -> None:
    """80 leaves of 0.1 are 8; over two boards of 2 a ruler says 12, and the cloth goes as far as before."""
    paper = Paper((210.0, 297.0), sheets=40, per_section=4, thickness_mm=0.1, swell_mm=0.0)
    wrap = Book("b", "L", "exposed-spine-wrap", paper=paper)
    typed = replace(wrap, **sized_by(wrap, "block", "mm"))
    assert typed.block_mm is not None
    assert typed.block_mm[2] == pytest.approx(12.0)
    before, after = measures(wrap, Volume(1)), measures(typed, typed.volumes[0])
    assert (after.gap_mm, after.thickness_mm) == (pytest.approx(before.gap_mm), pytest.approx(before.thickness_mm))
