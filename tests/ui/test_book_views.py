"""The pictures of the book step before there is anything to draw: an example, that gives way to the maker's book."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, Paper, Volume
from coverlayout.ui.bookmaking.views import BookViews, example_of
from coverlayout.units import LengthStyle

MM = LengthStyle()


@pytest.fixture
def views(qtbot: QtBot) -> BookViews:
    made = BookViews()
    qtbot.addWidget(made)
    made.show()
    return made


def spoken(views: BookViews) -> str:
    return views.pictures[views.tabs.currentIndex()].spoken()


def test_a_structure_without_a_size_is_drawn_as_an_example(views: BookViews) -> None:
    views.show_book(Book("", "", "flat-case"), Volume(1), MM)
    assert not views.example.isHidden()
    # A block of 12 mm between boards of 2 mm, less half a millimetre: 15.5 mm.
    assert "15.5" in spoken(views)
    views.tabs.setCurrentIndex(1)
    assert "15.5" in spoken(views)


def test_a_page_without_a_thickness_is_drawn_with_a_plausible_one(views: BookViews) -> None:
    views.show_book(Book("", "", "exposed-spine-wrap", page_mm=(90.0, 120.0)), Volume(1), MM)
    assert not views.example.isHidden()
    assert "12" in spoken(views)


def test_the_example_gives_way_and_does_not_come_back_for_the_same_structure(views: BookViews) -> None:
    views.show_book(Book("", "", "flat-case"), Volume(1), MM)
    mine = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 30.0))
    views.show_book(mine, mine.volumes[0], MM)
    assert views.example.isHidden()
    assert "33.5" in spoken(views)
    unsized = replace(mine, block_mm=None)
    views.show_book(unsized, unsized.volumes[0], MM)
    assert views.example.isHidden(), "the last good picture stays"
    assert "33.5" in spoken(views)
    views.show_book(replace(unsized, structure="limp-wrap"), unsized.volumes[0], MM)
    assert not views.example.isHidden(), "another structure shows itself"


def test_the_larger_window_shows_the_example_too(views: BookViews) -> None:
    views.show_book(Book("", "", "rounded-case"), Volume(1), MM)
    views.open_larger()
    assert views._large is not None
    assert "rise" in views._large.cut.spoken()
    views._large.reject()


def test_examples_in_inches_are_half_a_letter_sheet() -> None:
    assert example_of(Book("", ""), Volume(3, 9.0), "in").block_mm == pytest.approx((139.7, 215.9, 12.7))
    paper = Book("", "", paper=Paper((420.0, 297.0)))
    made = example_of(paper, Volume(3), "mm")
    assert (made.paper, made.volumes) == (paper.paper, (Volume(3, 12.0),))
