"""What the books cost by the prices that are known; what has no price is named and never counted as nothing.

Two figures everywhere: the *share* is what a book's pieces take by their area, the *whole* besides what is lost around
them, shared out among all that come from the same cloth or sheets by area. The wholes add up to what was paid.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from coverlayout.book.book import Book
from coverlayout.book.materials.cut_item import CutItem, Material
from coverlayout.book.materials.cut_list import cut_list
from coverlayout.book.structures import BUILT_STRUCTURES
from coverlayout.document.making.cloth_shares import ClothShare, cloth_shares
from coverlayout.document.making.prices import cloth_price, price_per_mm2
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking.backing import backing_items_of
from coverlayout.document.stocking.on_stock import OnStock
from coverlayout.document.stocking.stock_asked import comes_in_sheets, same_thickness, stocks_for
from coverlayout.errors import BadInput, Remark

__all__ = ["BookCost", "CostLine", "Costs", "costs"]

_MM_IN_METRE = 1000.0


@dataclass(frozen=True)
class CostLine:
    """What one material costs a book: by its share, and with what is lost (`whole_price`)."""

    material: Material
    name: str
    share_price: float
    whole_price: float


@dataclass(frozen=True)
class BookCost:
    """What all copies of one book cost, line by line; `book_id` None: the maker's own pieces and what else was cut.

    `missing` names what has no price, or no place yet, and so is not in the sums.
    """

    book_id: str | None
    name: str
    copies: int
    lines: tuple[CostLine, ...]
    missing: tuple[Remark, ...] = ()

    @property
    def share_price(self) -> float:
        """The sum of the shares."""
        return math.fsum(line.share_price for line in self.lines)

    @property
    def whole_price(self) -> float:
        """The sum with what is lost."""
        return math.fsum(line.whole_price for line in self.lines)

    @property
    def whole_price_each(self) -> float:
        """The same for one copy, on average."""
        return self.whole_price / max(self.copies, 1)


@dataclass(frozen=True)
class Costs:
    """All books, and what is missing for all of them, each remark once."""

    books: tuple[BookCost, ...]

    @property
    def share_price(self) -> float:
        """The sum of the shares of all."""
        return math.fsum(book.share_price for book in self.books)

    @property
    def whole_price(self) -> float:
        """The sum of all with what is lost."""
        return math.fsum(book.whole_price for book in self.books)

    @property
    def missing(self) -> tuple[Remark, ...]:
        """What is in no sum, and why."""
        return tuple(dict.fromkeys(remark for book in self.books for remark in book.missing))

    @property
    def is_known(self) -> bool:
        """True when nothing is missing."""
        return not self.missing


def costs(project: Project, on_stock: Iterable[OnStock] = ()) -> Costs:
    """What every book costs, then the maker's own pieces where there are some.

    `on_stock` are the sheets that boards and the like were laid on for all books together, backing included; what is
    not among them counts by its area alone, and that its waste is not counted is said. BadInput as for pieces.
    """
    laid = tuple(on_stock)
    shares = cloth_shares(project)
    books = [_book_cost(project, book, shares, laid) for book in project.books]
    others = [one for one in shares if one.book_id is None]
    if others or project.own_pieces:
        lines, missing = _split(_of_cloth(project, None, shares, laid))
        books.append(BookCost(None, "", 1, lines, missing))
    return Costs(tuple(books))


_Found = CostLine | Remark


def _book_cost(project: Project, book: Book, shares: tuple[ClothShare, ...], laid: tuple[OnStock, ...]) -> BookCost:
    items = cut_list(book) if book.structure in BUILT_STRUCTURES else ()
    found: list[_Found] = [*_of_cloth(project, book.id, shares, laid)]
    for item in items:
        found += _of_item(project, book, item, laid)
    lines, missing = _split(found)
    return BookCost(book.id, book.name, len(book.volumes), lines, missing)


def _split(found: Iterable[_Found]) -> tuple[tuple[CostLine, ...], tuple[Remark, ...]]:
    """The lines, those of one material and name together, and the remarks once each."""
    lines: dict[tuple[Material, str], CostLine] = {}
    missing: dict[Remark, None] = {}
    for one in found:
        if isinstance(one, Remark):
            missing[one] = None
            continue
        key = one.material, one.name
        before = lines.get(key, CostLine(*key, 0.0, 0.0))
        lines[key] = CostLine(*key, before.share_price + one.share_price, before.whole_price + one.whole_price)
    return tuple(lines.values()), tuple(missing)


def _of_cloth(
    project: Project, book_id: str | None, shares: tuple[ClothShare, ...], laid: tuple[OnStock, ...]
) -> Iterator[_Found]:
    """Cloth and its backing by the area of what a book has on each; what waits has no cloth yet."""
    for share in (one for one in shares if one.book_id == book_id):
        if share.cloth_id is None:
            one = share.pieces == 1
            yield Remark("cost-piece-waits") if one else Remark.of("cost-pieces-wait", count=share.pieces)
            continue
        cloth = project.cloth(share.cloth_id)
        price = cloth_price(project, cloth)
        if price is None:
            yield Remark.of("cost-no-price-cloth", cloth=cloth.name)
        else:
            yield CostLine("cloth", cloth.name, price * share.of_cloth_share, price * share.of_pieces_share)
        for item in backing_items_of(cloth):
            for found in _by_stock(project, item, laid):
                yield found if isinstance(found, Remark) else _part(found, share)


def _part(line: CostLine, share: ClothShare) -> CostLine:
    """What a book bears of a line for the whole cloth."""
    return CostLine(
        line.material, line.name, line.share_price * share.of_cloth_share, line.whole_price * share.of_pieces_share
    )


def _of_item(project: Project, book: Book, item: CutItem, laid: tuple[OnStock, ...]) -> Iterator[_Found]:
    """One row of the cut list; cloth is told by where its pieces lie."""
    if item.material == "thread":
        yield _of_thread(project, book, item)
    elif comes_in_sheets(item):
        yield from _of_whole_sheets(book, item)
    elif item.material != "cloth":
        yield from _by_stock(project, item, laid)


def _of_whole_sheets(book: Book, item: CutItem) -> Iterator[_Found]:
    """Text paper, that is bought and cut up in whole sheets."""
    if book.paper is None or book.paper.price is None:
        yield Remark.of("cost-no-price", what=item.name, book=book.name)
    else:
        price = book.paper.price * item.count
        yield CostLine(item.material, item.name, price, price)


def _of_thread(project: Project, book: Book, item: CutItem) -> _Found:
    """A thread by its length: the price of its colour, else of the stock of that name or of the only one there is."""
    colour = item.name.partition(", ")[2]
    prices = [one.price for one in book.sewing.colours if one.name == colour and one.price is not None]
    stocks = [stock for stock in project.stocks if stock.material == "thread" and stock.price is not None]
    named = [stock for stock in stocks if stock.name == colour] or (stocks if len(stocks) == 1 else [])
    prices += [stock.price for stock in named if stock.price is not None]
    if not prices:
        return Remark.of("cost-no-price", what=item.name, book=book.name)
    price = prices[0] * item.height_mm * item.count / _MM_IN_METRE
    return CostLine("thread", item.name, price, price)


def _by_stock(project: Project, item: CutItem, laid: tuple[OnStock, ...]) -> Iterator[_Found]:
    """An item that is cut from sheets or off a roll: by its area, and with its part of what is lost there."""
    on = next((one for one in laid if _is_among(item, one)), None)
    stock = _stock_of(project, item) if on is None else on.stock
    each = None if stock is None else price_per_mm2(stock)
    if stock is None or each is None:
        yield Remark.of("cost-no-price-material", material=item.material, what=item.name)
        return
    share = each * _area_mm2(item)
    if on is None or on.price is None:
        yield Remark.of("cost-waste-unknown", name=stock.name)
        yield CostLine(item.material, stock.name, share, share)
        return
    together = math.fsum(_area_mm2(other) for other in on.items)
    yield CostLine(item.material, stock.name, share, on.price * _area_mm2(item) / together)


def _is_among(item: CutItem, on: OnStock) -> bool:
    return item.material == on.material and same_thickness(item.thickness_mm, on.thickness_mm)


def _stock_of(project: Project, item: CutItem) -> Stock | None:
    """The first stock of the material that has a price."""
    try:
        there = stocks_for(project, item.material, item.thickness_mm)
    except BadInput:
        return None
    return next((stock for stock in there if stock.price is not None), None)


def _area_mm2(item: CutItem) -> float:
    return item.width_mm * item.height_mm * item.count
