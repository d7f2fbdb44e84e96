"""Whether a stock can be: what comes as a sheet or off a roll has a width, boards come as sheets only."""

from __future__ import annotations

from coverlayout.document.project import Stock
from coverlayout.errors import BadInput

__all__ = ["check_stock"]


def check_stock(stock: Stock) -> None:
    """BadInput in one sentence: a material that has no width, or board and card without a length.

    Thread is only as long as it is; everything else comes as a sheet or, without a length, off a roll.

    >>> check_stock(Stock("stock-1", "grey board", "board", 700.0))
    Traceback (most recent call last):
    coverlayout.errors.BadInput: grey board: board comes as sheets, so give their width and length, like 700x1000mm
    """
    if stock.material == "thread":
        return
    if stock.material in ("board", "card") and (stock.width_mm <= 0.0 or stock.length_mm is None):
        raise BadInput("stock-sheet-size", name=stock.name or stock.material, material=stock.material)
    if stock.width_mm <= 0.0:
        raise BadInput("stock-width", name=stock.name or stock.material, material=stock.material)
