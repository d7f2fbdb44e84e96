"""Boards, card, paper, web and tissue laid on their own sheets or rolls by the engine that lays pieces on cloth."""

from __future__ import annotations

from collections.abc import Iterable

from coverlayout.book.materials.cut_item import CutItem, Material
from coverlayout.book.materials.cut_list import cut_list
from coverlayout.book.structures import BUILT_STRUCTURES
from coverlayout.document.checks.whole import known
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking.backing import backing_items
from coverlayout.document.stocking.fewest import Asked, fewest_sheets, shortest_length
from coverlayout.document.stocking.on_stock import OnStock
from coverlayout.document.stocking.stock_asked import (
    check_fits,
    comes_in_sheets,
    kinds_of,
    same_thickness,
    stocks_for,
)
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.question import Watch, never

__all__ = ["all_on_stock", "items_of", "laid_on_stock"]

# Steps for one number of sheets: a second where nothing is found.
_STEPS = 400_000
# More pieces than this at once are no question of a bench any more.
_MOST_PIECES = 2_000


def items_of(project: Project) -> tuple[CutItem, ...]:
    """The cut lists of all books, then web, tissue and paper for the cloths. BadInput as for the cut list of a book.

    >>> items_of(Project())
    ()
    """
    books = (book for book in project.books if book.structure in BUILT_STRUCTURES)
    return (*(item for book in books for item in cut_list(book)), *backing_items(project))


def all_on_stock(
    project: Project, items: Iterable[CutItem], watch: Watch = never
) -> tuple[tuple[OnStock, ...], tuple[Remark, ...]]:
    """Every material and thickness of the items on its stock, and a remark for each that cannot be laid, saying why."""
    items = tuple(items)
    kinds = kinds_of(items)
    laid: list[OnStock] = []
    missing: list[Remark] = []
    for number, (material, thickness_mm) in enumerate(kinds):
        try:
            laid.append(laid_on_stock(project, items, material, thickness_mm, watch=_part(watch, number, len(kinds))))
        except BadInput as fault:
            missing.append(fault.remark)
    return tuple(laid), tuple(missing)


def laid_on_stock(
    project: Project,
    items: Iterable[CutItem],
    material: Material,
    thickness_mm: float | None = None,
    *,
    stock_id: str | None = None,
    watch: Watch = never,
    steps: int = _STEPS,
) -> OnStock:
    """The items of that material and thickness on the fewest sheets of a stock, or the least length off a roll.

    The grain of each item runs along the sheet's; nothing is lost between pieces. Of several stocks that will do the
    cheapest counts, where all have a price, else the one of which least area is bought; `stock_id` names one. `steps`
    bound the search for each number of sheets. The same question gives the same answer unless `watch` cut it short.

    BadInput: nothing to lay or too much, no such stock, a piece larger than every sheet of it, or one that fits only
    against the grain.

    >>> grey = Stock("stock-1", "grey board", "board", 700.0, 1000.0, 2.0, "long")
    >>> boards = CutItem("board", "board", 144.5, 216.0, 24, "head to tail", 2.0)
    >>> laid = laid_on_stock(Project(stocks=(grey,)), [boards], "board", 2.0)
    >>> laid.count, laid.proved
    (2, True)
    """
    wanted = tuple(
        item
        for item in items
        if item.material == material
        and same_thickness(item.thickness_mm, thickness_mm)
        and item.count > 0
        and not comes_in_sheets(item)
    )
    if not wanted:
        raise BadInput("stock-nothing", material=material)
    if sum(item.count for item in wanted) > _MOST_PIECES:
        raise BadInput("stock-too-many", material=material, most=_MOST_PIECES)
    stocks = stocks_for(project, material, thickness_mm)
    if stock_id is not None:
        stocks = (known(stocks, stock_id, "stock"),)
    fitting = _fitting(stocks, wanted)
    found = [
        _laid(Asked(stock, material, thickness_mm, wanted, steps), _part(watch, number, len(fitting)))
        for number, stock in enumerate(fitting)
    ]
    return _best(found)


def _laid(asked: Asked, watch: Watch) -> OnStock:
    return shortest_length(asked, watch) if asked.stock.length_mm is None else fewest_sheets(asked, watch)


def _part(watch: Watch, number: int, count: int) -> Watch:
    return lambda share: watch((number + share) / count)


def _fitting(stocks: tuple[Stock, ...], items: tuple[CutItem, ...]) -> list[Stock]:
    """The stocks on which every item fits; BadInput of the first where none is."""
    fitting: list[Stock] = []
    faults: list[BadInput] = []
    for stock in stocks:
        try:
            check_fits(stock, items)
        except BadInput as fault:
            faults.append(fault)
        else:
            fitting.append(stock)
    if not fitting:
        raise faults[0]
    return fitting


def _best(found: list[OnStock]) -> OnStock:
    """The cheapest where all have a price, else the one of which least area is bought; the first of equal ones."""
    laid = [one for one in found if one.sheets] or found
    prices = [one.price for one in laid]
    costs = [price for price in prices if price is not None]
    if len(costs) != len(laid):
        costs = [one.bought_mm2 for one in laid]
    return laid[costs.index(min(costs))]
