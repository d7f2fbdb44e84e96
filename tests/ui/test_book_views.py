"""The pictures of the book step before there is anything to draw: an example, that gives way to the maker's book."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QLineEdit, QScrollArea, QVBoxLayout, QWidget
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


def test_a_measure_that_only_the_other_view_has_opens_it(views: BookViews) -> None:
    mine = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 30.0))
    views.show_book(mine, mine.volumes[0], MM)
    cut, flat = views.pictures
    views.point_at("mitre distance")
    assert views.tabs.currentIndex() == 1
    assert flat.picture is not None
    assert flat.picture.measured("mitre distance") is not None
    assert cut.picture is not None
    assert cut.picture.measured("mitre distance") is None
    views.point_at("")
    views.point_at("joint")
    assert views.tabs.currentIndex() == 1, "both have it"
    views.point_at("no such measure")
    assert views.tabs.currentIndex() == 1


def test_beside_the_larger_window_the_view_stays(views: BookViews) -> None:
    mine = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 30.0))
    views.show_book(mine, mine.volumes[0], MM)
    views.open_larger()
    views.point_at("mitre distance")
    assert views.tabs.currentIndex() == 0
    assert views._large is not None
    views._large.reject()


def test_the_field_that_has_the_keys_stays_where_it_is_when_the_view_turns(qtbot: QtBot) -> None:
    area, inside, views = QScrollArea(), QWidget(), BookViews()
    column = QVBoxLayout(inside)
    field, below = QLineEdit(), QWidget()
    below.setFixedHeight(900)
    for each in (views, field, below):
        column.addWidget(each)
    area.setWidgetResizable(True)
    area.setWidget(inside)
    area.resize(320, 300)
    qtbot.addWidget(area)
    area.show()
    book = Book("b", "Box", "slipcase", block_mm=(148.0, 210.0, 30.0))
    views.show_book(book, book.volumes[0], MM)
    qtbot.waitExposed(area)
    field.setFocus()
    qtbot.waitUntil(field.hasFocus)
    qtbot.wait(60)
    area.ensureWidgetVisible(field)
    height, before = views.height(), field.mapTo(area, QPoint()).y()
    views._turn_in_place(1)
    qtbot.wait(60)
    assert views.height() != height
    assert abs(field.mapTo(area, QPoint()).y() - before) <= 1
