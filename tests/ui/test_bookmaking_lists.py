"""The cut list, what is made and what it costs, and the two pictures that follow the book."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, Paper, Sewing, ThreadColour
from coverlayout.book.materials.cut_item import CutItem
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled
from coverlayout.document.edits.books import add_book, change_book
from coverlayout.document.edits.cloths import add_cloth
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.edits.placements import place
from coverlayout.document.edits.stocks import add_stock
from coverlayout.document.project import Stock
from coverlayout.document.session import Session
from coverlayout.layout.question import Placed
from coverlayout.ui.bookmaking.cut_list_view import CutListDialog, cut_rows, rows_as_text
from coverlayout.ui.panels.book_panel import BookPanel
from coverlayout.units import LengthStyle

CASE = Book("", "Ledger", "flat-case", block_mm=(148.0, 210.0, 12.0))


def cells(panel: BookPanel) -> list[list[str]]:
    table = panel.cut_list.table
    rows = range(table.rowCount())
    items = [[table.item(row, column) for column in range(table.columnCount())] for row in rows]
    return [[item.text() for item in row if item is not None] for row in items]


def test_the_cut_list_names_everything_with_size_count_and_grain(panel: BookPanel, session: Session) -> None:
    session.do(add_book(CASE))
    panel.cut_list.open()
    rows = cells(panel)
    assert ["Cloth"] in rows
    assert ["Board, 2.0 mm"] in rows
    # 148 - 3.5 wide, 210 + 2 x 3 high: setback and square of the rules; the spine 12 + 4 - 0.5.
    assert ["cover board", "144.5 × 216.0", "2", "↕"] in rows
    assert ["spine piece", "15.5 × 216.0", "1", "↕"] in rows
    counted = sum(int(row[2]) for row in rows if len(row) > 1 and row[0] != "thread")
    assert panel.cut_list.head.text().endswith(f"{counted} pieces")


def test_the_cut_list_follows_the_book_and_says_what_stands_in_its_way(panel: BookPanel, session: Session) -> None:
    session.do(add_book(CASE))
    panel.cut_list.open()
    session.do(change_book(session.project.books[0].id, board_setback_mm=0.0))
    assert ["cover board", "148.0 × 216.0", "2", "↕"] in cells(panel)
    pad = Paper((210.0, 297.0), sheets=8, thickness_mm=0.1)
    colours = (ThreadColour("red", 30), ThreadColour("black", 1))
    session.do(add_book(replace(CASE, block_mm=None, paper=pad, sewing=Sewing(colours=colours))))
    panel._choose_book(session.project.books[1].id)
    assert panel.cut_list.table.isHidden()
    assert "sections" in panel.cut_list.trouble.text()


def test_the_cut_list_is_copied_as_text(panel: BookPanel, session: Session) -> None:
    session.do(add_book(CASE))
    panel.cut_list.open()
    panel.cut_list.copy.click()
    text = QGuiApplication.clipboard().text()
    assert "\tcover board\t144.5 × 216.0 mm\t2\tgrain from head to tail" in text.splitlines()


def test_the_cut_list_opens_larger(panel: BookPanel, session: Session) -> None:
    session.do(add_book(CASE))
    panel.cut_list.open()
    panel.cut_list.larger.click()
    (dialog,) = [each for each in QApplication.topLevelWidgets() if isinstance(each, CutListDialog)]
    assert "Ledger" in dialog.windowTitle()
    assert dialog.table.rowCount() == panel.cut_list.table.rowCount()
    dialog.reject()


def test_sizes_in_inches_never_get_smaller() -> None:
    items = [CutItem("board", "board", 100.0, 200.0, 1, "across", 2.0), CutItem("thread", "thread", 0.0, 1524.0)]
    rows = cut_rows(items, LengthStyle("in", inch_parts=16))
    # 100 mm are 3.937 in, 200 mm 7.874: up to the next sixteenth.
    assert [(row.size, row.grain) for row in rows if not row.is_heading] == [("3 15/16 × 7 7/8", "↔"), ("60", "")]
    assert rows_as_text(rows, "in").startswith("Board, ")


def test_what_is_made_is_told_for_every_volume(panel: BookPanel, session: Session, hands) -> None:
    session.do(add_cloth(Cloth("", "Yard", 1100.0, 914.4)))
    session.do(add_book(replace(CASE, structure="separate-boards")))
    hands.type(panel.copies, "2")
    cloth = session.project.cloths[0].id
    session.do(place([Placed("front-1", cloth, 200.0, 200.0), Placed("back-1", cloth, 500.0, 200.0)]))
    session.do(mark_cut(("front-1",), None))
    session.do(mark_spoiled(("back-1",), None))
    panel.tally.open()
    table = panel.tally.table
    rows = [[table.item(row, column).text() for column in range(5)] for row in range(table.rowCount())]
    assert rows[0] == ["Ledger 1", "·", "3", "1", "1"]
    assert rows[-1][0] == "together"
    assert panel.tally.head.text().endswith("1 of 8 cut")


def test_an_edition_shows_what_is_begun_and_the_sum(panel: BookPanel, session: Session, hands) -> None:
    session.do(add_book(replace(CASE, structure="separate-boards", liners="none")))
    hands.type(panel.copies, "40")
    panel.tally.open()
    assert panel.tally.table.rowCount() == 1
    assert panel.tally.table.item(0, 2).text() == "80"
    hands.type(panel.copies, "100")
    assert panel.cut_list.head.text().endswith("What to cut"), "that many are not worked out for a heading"


def test_costs_are_told_once_something_has_a_price(panel: BookPanel, session: Session) -> None:
    session.do(change_preferences(currency="€"))
    session.do(add_book(CASE))
    panel.tally.open()
    assert "has a price" in panel.tally.costs.text()
    session.do(add_stock(Stock("", "grey board", "board", 700.0, 1000.0, 2.0, price=4.0)))
    assert "€" in panel.tally.costs.text()
    assert "Ledger:" in panel.tally.costs.text()
    assert "no price" in panel.tally.costs.text() or "not in the sum" in panel.tally.costs.text()


def test_a_book_that_cannot_be_made_costs_nothing_and_says_why(panel: BookPanel, session: Session) -> None:
    paper = Paper((210.0, 297.0), sheets=4)
    session.do(add_book(replace(CASE, block_mm=None, paper=replace(paper, thickness_mm=0.1))))
    panel.tally.open()
    assert panel.tally.costs.text()


def test_the_pictures_follow_the_book_and_the_last_good_one_stays(
    qtbot: QtBot, panel: BookPanel, session: Session, hands
) -> None:
    views = panel.drawing
    cut, flat = views.pictures
    example = cut.picture
    hands.type(panel.size_entry, "148 x 210")
    first = cut.picture
    assert first not in (None, example)
    assert flat.picture is None, "what is not open is not drawn"
    hands.choose(panel.structure, "Flat-back case")
    assert not views.example.isHidden()
    hands.type(panel.thickness, "12")
    case = cut.picture
    assert case not in (None, first)
    assert views.example.isHidden()
    panel.boards.open()
    hands.type(panel.boards.figures["joint_mm"], "500")
    assert panel.boards.figures["joint_mm"].trouble.text()
    assert cut.picture is case
    views.tabs.setCurrentIndex(1)
    assert flat.picture is not None
    assert not flat.isHidden()
    assert cut.isHidden()


def test_the_large_pictures_follow_as_well(qtbot: QtBot, panel: BookPanel, hands) -> None:
    hands.type(panel.size_entry, "148 x 210")
    panel.drawing.larger.click()
    large = panel.drawing._large
    assert large is not None
    before = large.plan.picture
    hands.type(panel.size_entry, "100 x 140")
    assert large.plan.picture != before
    panel.drawing.point_at("turn-in")
    large.reject()


@pytest.mark.parametrize("structure", ["separate-boards", "half-case", "slipcase"])
def test_no_picture_keeps_the_panel_waiting(panel: BookPanel, session: Session, hands, structure: str) -> None:
    hands.type(panel.size_entry, "148 x 210")
    hands.type(panel.thickness, "12")
    panel.change(structure=structure)
    assert panel.drawing.pictures[0].heightForWidth(280) <= 300
