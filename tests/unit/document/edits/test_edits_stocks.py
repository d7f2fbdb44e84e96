"""Edits of the stock: what is added, changed and removed, and what no stock can be."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.document.edits.stocks import add_stock, change_stock, remove_stock
from coverlayout.document.history import History
from coverlayout.document.project import Project, Stock
from coverlayout.errors import BadInput

BOARD = Stock("", "grey board", "board", 700.0, 1000.0, 2.0, "long", 4.5)
THREAD = Stock("", "linen thread", "thread", price=0.2)


def test_stocks_get_ids_that_are_never_used_again() -> None:
    first = add_stock(BOARD).change(Project())
    assert first.stocks == (replace(BOARD, id="stock-1"),)
    second = add_stock(THREAD).change(remove_stock("stock-1").change(first))
    assert second.stocks == (replace(THREAD, id="stock-2"),)


def test_each_edit_is_one_step_with_a_name() -> None:
    history = History(Project()).after(add_stock(BOARD)).after(change_stock("stock-1", price=5.0))
    assert [step.name.text() for step in history.past] == ["Add grey board to the stock", "Change the stock"]
    assert history.present.stocks[0].price == 5.0
    assert history.after(remove_stock("stock-1")).past[-1].name.text() == "Remove from the stock"
    assert history.undone().present.stocks[0].price == 4.5
    unnamed = add_stock(replace(BOARD, name=""))
    assert unnamed.name.text() == "Add board to the stock"


def test_only_the_stock_meant_changes() -> None:
    two = add_stock(THREAD).change(add_stock(BOARD).change(Project()))
    after = change_stock("stock-2", name="silk").change(two)
    assert [stock.name for stock in after.stocks] == ["grey board", "silk"]
    assert remove_stock("stock-1").change(two).stocks == (two.stocks[1],)


@pytest.mark.parametrize(
    ("stock", "said"),
    [
        (replace(BOARD, length_mm=None), "grey board: board comes as sheets, so give their width and length"),
        (replace(BOARD, width_mm=0.0), "grey board: board comes as sheets, so give their width and length"),
        (replace(BOARD, material="card", name="", length_mm=None), "card: card comes as sheets"),
        (Stock("", "iron-on", "web"), "iron-on: give the width of a sheet or a roll of web"),
        (Stock("", "", "tissue", length_mm=500.0), "tissue: give the width"),
        (Stock("", "kraft", "paper"), "kraft: give the width"),
        (Stock("", "mull", "lining"), "mull: give the width"),
        (replace(BOARD, length_mm=-1.0), "grey board: length"),
        (replace(BOARD, thickness_mm=0.0), "grey board: thickness"),
        (replace(BOARD, price=-0.01), "grey board: price"),
        (replace(THREAD, width_mm=float("nan")), "linen thread: width"),
    ],
)
def test_what_no_stock_can_be_is_said_in_one_sentence(stock: Stock, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        add_stock(stock).change(Project())


def test_a_roll_has_no_length_and_thread_no_width() -> None:
    for material in ("web", "tissue", "paper", "lining"):
        assert add_stock(Stock("", "roll", material, 430.0)).change(Project()).stocks[0].length_mm is None  # type: ignore[arg-type] # each is a material
    assert add_stock(THREAD).change(Project()).stocks[0].width_mm == 0.0


def test_what_is_not_there_cannot_be_changed() -> None:
    there = add_stock(BOARD).change(Project())
    for edit in (change_stock("stock-9", price=1.0), remove_stock("stock-9")):
        with pytest.raises(BadInput, match="stock-9"):
            edit.change(there)
    with pytest.raises(BadInput, match="stock-1"):
        change_stock("stock-1", id="stock-7").change(there)
    with pytest.raises(BadInput, match="sheets"):
        change_stock("stock-1", length_mm=None).change(there)
