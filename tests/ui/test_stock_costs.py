"""What the books cost: line by line, with what is lost once that is known, and what is in no sum by name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, OwnPiece, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.stocks import change_stock
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking.sheets import all_on_stock, items_of
from coverlayout.layout.question import Placed
from coverlayout.ui.bookmaking.costs_view import CostsView
from coverlayout.ui.stock.dialog import StockDialog, open_stock
from coverlayout.ui.window import Window

# Two boards of 120 x 160 for each of two ledgers on a sheet of 400 x 500 that costs 10: 76,800 of 200,000 mm2.
GREY = Stock("stock-1", "grey board", "board", 400.0, 500.0, 2.0, price=10.0)
BOOK = Book(
    "book-1",
    "Ledger",
    page_mm=(120.0, 160.0),
    square_mm=0.0,
    liners="none",
    board_thickness_mm=2.0,
    volumes=(Volume(1), Volume(2)),
)
PROJECT = Project(
    cloths=(Cloth("cloth-1", "Yard", 900.0, 500.0),),
    books=(BOOK,),
    stocks=(GREY,),
    next_number=9,
    next_volume_number=3,
)


@pytest.fixture
def shown(opened: Callable[[Project], Window]) -> Iterator[Callable[[Project], StockDialog]]:
    made: list[StockDialog] = []

    def show(project: Project) -> StockDialog:
        window = opened(project)
        window.asking.begin()
        window.menus.do("book-costs")
        dialog = window.findChild(StockDialog)
        assert dialog.part == "costs"
        made.append(dialog)
        return dialog

    yield show
    for dialog in made:
        dialog.reject()


def answer(port) -> None:
    _, kind, project = port.asked[-1]
    assert kind == "stock"
    port.tell("done", all_on_stock(project, items_of(project)))


def words(view: CostsView) -> list[str]:
    return [
        each.text()
        for part in view.parts
        for each in ([part] if isinstance(part, QLabel) else part.findChildren(QLabel))
    ]


def test_until_the_sheets_are_laid_only_what_is_used_is_told(shown, port) -> None:
    view = shown(PROJECT).costs
    told = words(view)
    assert told[:6] == ["Ledger, 2 copies", "by area alone", "with what is lost", "grey board (board)", "3.84", "3.84"]
    assert any("was not laid on its sheets" in each for each in told)
    answer(port)
    told = words(view)
    assert told[3:9] == ["grey board (board)", "3.84", "10.00", "Together", "3.84", "10.00"]
    assert told[9:12] == ["For each", "1.92", "5.00"]
    assert not any("was not laid" in each for each in told)


def test_what_has_no_price_is_named(shown, port) -> None:
    dialog = shown(replace(PROJECT, stocks=(replace(GREY, price=None),)))
    answer(port)
    told = words(dialog.costs)
    assert told[0] == "What a book costs is told here once cloth, board, paper or thread has a price."
    assert told[1] == "In no sum"
    assert "–  Cover board: no board with a price is in the stock, so it is not in the sum." in told
    assert "–  4 pieces lie on no cloth yet, so their cloth is not in the sum." in told


def test_an_old_answer_is_not_used_for_the_waste(shown, port) -> None:
    dialog = shown(PROJECT)
    answer(port)
    dialog._session.do(change_stock("stock-1", price=20.0))
    told = words(dialog.costs)
    assert told[3:6] == ["grey board (board)", "7.68", "7.68"]
    assert dialog.costs.state.words.text().startswith("What stands below is of before")


def test_several_books_and_pieces_of_ones_own_are_added_up(shown, port) -> None:
    other = replace(BOOK, id="book-2", name="Diary", volumes=(Volume(3),))
    own = OwnPiece("own-1", "pocket", 90.0, 100.0)
    project = replace(PROJECT, books=(BOOK, other), own_pieces=(own,), next_volume_number=4)
    project = replace(project, cloths=(replace(project.cloths[0], price=45.0),))
    project = project.with_layout(replace(project.layout, placements=(Placed("pocket-1", "cloth-1", 100.0, 100.0),)))
    dialog = shown(project)
    answer(port)
    told = words(dialog.costs)
    assert told.count("Together") == 3
    assert "Diary" in told
    assert "Pieces of your own" in told
    # 10 for the board of all three books, 45 for the cloth; 9,000 of 450,000 mm2 are the pocket.
    shares = 10.0 * 6 * 120 * 160 / 200_000 + 45.0 * 9_000 / 450_000
    assert f"All together: 55.00 with what is lost, {shares:.2f} by area alone." in told


def test_the_currency_stands_after_the_sums(shown, port, hands) -> None:
    dialog = shown(PROJECT)
    answer(port)
    hands.type(dialog.costs.currency, "EUR")
    assert dialog._session.project.preferences.currency == "EUR"
    assert "10.00 EUR" in words(dialog.costs)
    assert dialog.shelf.list.item(0).text().endswith("10.00 EUR a sheet")
    dialog._session.undo()
    assert dialog._session.project.preferences.currency == "EUR", "how it is shown is no step"


def test_a_book_that_cannot_be_made_is_told_in_one_sentence(shown, port) -> None:
    dialog = shown(replace(PROJECT, books=(replace(BOOK, page_mm=None),)))
    (told,) = words(dialog.costs)
    assert told.endswith(".")


def test_the_other_part_is_a_tab_away(shown, port, qtbot: QtBot) -> None:
    dialog = shown(PROJECT)
    assert dialog.needed.parts == []
    answer(port)
    dialog.tabs.setCurrentIndex(0)
    assert dialog.part == "sheets"
    assert len(dialog.needed.parts) == 1, "what was told meanwhile"
    assert open_stock(dialog._window, "costs") is dialog
    assert dialog.part == "costs"
    open_stock(dialog._window, material="tissue")
    assert dialog.shelf.fields.material.value == "tissue"
