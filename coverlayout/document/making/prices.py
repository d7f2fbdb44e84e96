"""What materials cost: a cloth whole, a sheet or roll by its area, thread by its length."""

from __future__ import annotations

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import ladder_in_use
from coverlayout.document.project import Project, Stock

__all__ = ["cloth_price", "price_per_mm2"]

_MM_IN_METRE = 1000.0


def cloth_price(project: Project, cloth: Cloth) -> float | None:
    """The cloth's own price, else that of the cut it was bought as: the project's, else the ladder's; None: not known.

    >>> cloth_price(Project(), Cloth("c", "swatch", 300.0, 300.0, price=4.5))
    4.5
    """
    if cloth.price is not None or cloth.cut_name is None:
        return cloth.price
    own = (price.amount for price in project.prices if price.cut_name == cloth.cut_name)
    ladder = (cut.price for cut in ladder_in_use() if cut.name == cloth.cut_name)
    return next(own, next(ladder, None))


def price_per_mm2(stock: Stock) -> float | None:
    """What a square millimetre of a stock costs; None without a price or a width.

    >>> price_per_mm2(Stock("s", "web", "web", 500.0, price=2.0))
    4e-06
    """
    if stock.price is None or stock.width_mm <= 0.0:
        return None
    return stock.price / (stock.width_mm * (_MM_IN_METRE if stock.length_mm is None else stock.length_mm))
