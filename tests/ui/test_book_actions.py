"""The parts of the book step are found and opened by words, keys and menus."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book
from coverlayout.document.edits.books import add_book
from coverlayout.document.project import Project
from coverlayout.ui.keyboard.search import Sought, found
from coverlayout.ui.window import Window

Open = Callable[[Project], Window]


@pytest.fixture
def window(opened: Open) -> Window:
    return opened(add_book(Book("", "Ledger", page_mm=(114.3, 152.4))).change(Project()))


def test_a_part_is_opened_with_the_keys_in_its_first_field(qtbot: QtBot, window: Window) -> None:
    window.activateWindow()
    window.menus.do("book-sewing")
    sewing = window.panels.book.sewing
    assert window.steps.open_step == 2
    assert sewing.head.isChecked()
    qtbot.waitUntil(sewing.rule.box.hasFocus)


def test_a_part_of_other_structures_says_why_not(window: Window) -> None:
    window.menus.do("book-flaps")
    assert not window.panels.book.flaps.head.isChecked()
    assert "bound another way" in window.banner.sentence.text()


def test_the_pictures_open_larger_from_the_menu(window: Window) -> None:
    window.steps.open(2)
    window.menus.do("book-pictures")
    large = window.panels.book.drawing._large
    assert large is not None
    assert large.isVisible()
    large.reject()


@pytest.mark.parametrize(
    ("query", "first"),
    [
        ("signature", "Paper: sheets, cuts and folds"),
        ("stitch", "Sewing: stations and thread"),
        ("pastedown", "Liners and endpapers"),
        ("joint", "Cover: boards, joints and turn-ins"),
        ("edition", "Copies and volumes"),
        ("box", "How the slipcase is built"),
        ("title", "Label"),
        ("cut list", "What to cut"),
        ("cost", "What is made, and what it costs"),
    ],
)
def test_words_of_the_trade_lead_to_their_part(window: Window, query: str, first: str) -> None:
    names = (
        "paper",
        "cover",
        "sides",
        "flaps",
        "slipcase",
        "liners",
        "label",
        "sewing",
        "volumes",
        "cut-list",
        "tally",
    )
    listed = [Sought(window.menus.action(f"book-{name}").text(), "View, In the book step") for name in names]
    assert listed[found(query, listed)[0]].words == first


def test_what_is_opened_at_the_foot_of_the_panel_comes_into_view(qtbot: QtBot, window: Window) -> None:
    window.open_step(2)
    part = window.panels.book.tally
    part.open()

    def is_seen() -> bool:
        port = window.steps.viewport()
        at = part.head.mapTo(port, part.head.rect().topLeft())
        return bool(port.rect().contains(at)) and part.inside.isVisible()

    qtbot.waitUntil(is_seen)


def test_the_sheet_is_not_scrolled_away_when_the_paper_is_chosen(qtbot: QtBot, window: Window, hands) -> None:
    window.open_step(2)
    window.steps.verticalScrollBar().setValue(0)
    hands.choose(window.panels.book.sized_by, "the paper")
    qtbot.wait(60)
    port, sheet = window.steps.viewport(), window.panels.book.knowing.sheet
    assert window.panels.book.paper.head.isChecked()
    assert port.rect().contains(sheet.mapTo(port, sheet.rect().topLeft()))
