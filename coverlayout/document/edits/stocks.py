"""Edits of the stock: which sheets and rolls of board, paper, web, tissue and thread there are."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from coverlayout.document.checks.whole import checked_edit, known
from coverlayout.document.history import Edit
from coverlayout.document.project import Project, Stock
from coverlayout.errors import BadInput, Remark

__all__ = ["add_stock", "change_stock", "remove_stock"]


def add_stock(stock: Stock) -> Edit:
    """Add a stock; it comes last, under an id of its own that was never used before (the one it brings is not kept).

    BadInput when it lacks a size that its material needs, or a figure is out of range.

    >>> after = add_stock(Stock("", "grey board", "board", 700.0, 1000.0, 2.0)).change(Project())
    >>> [(stock.id, stock.name) for stock in after.stocks]
    [('stock-1', 'grey board')]
    """

    def change(old: Project) -> Project:
        new_id, counted = old.named_anew("stock")
        return replace(counted, stocks=(*old.stocks, replace(stock, id=new_id)))

    return checked_edit(Remark.of("edit-add-stock", name=stock.name or stock.material), change)


def change_stock(stock_id: str, **fields: Any) -> Edit:
    """Change a stock by the field names of Stock. BadInput as `add_stock`."""

    def change(old: Project) -> Project:
        after = replace(known(old.stocks, stock_id, "stock"), **fields)
        if after.id != stock_id:
            raise BadInput("id-fixed", kind="stock", id=stock_id)
        return replace(old, stocks=tuple(after if stock.id == stock_id else stock for stock in old.stocks))

    return checked_edit(Remark("edit-change-stock"), change)


def remove_stock(stock_id: str) -> Edit:
    """Remove a stock; nothing else speaks of it."""

    def change(old: Project) -> Project:
        gone = known(old.stocks, stock_id, "stock")
        return replace(old, stocks=tuple(stock for stock in old.stocks if stock is not gone))

    return checked_edit(Remark("edit-remove-stock"), change)
