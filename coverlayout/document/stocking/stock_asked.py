"""Pieces of a material as the layout asks for them: which turns the grain leaves, which stock they may come from."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from coverlayout.book.materials.cut_item import CutItem, Material
from coverlayout.document.project import Project, Stock
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Question

__all__ = [
    "check_fits",
    "comes_in_sheets",
    "grain_note",
    "grain_way",
    "kinds_of",
    "question_on",
    "same_thickness",
    "stocks_for",
    "turns_on",
]

_UPRIGHT, _TURNED = 0.0, 90.0


def kinds_of(items: Iterable[CutItem]) -> tuple[tuple[Material, float | None], ...]:
    """Each material with each of its thicknesses, in the order of the items; cloth and thread are laid elsewhere.

    >>> kinds_of([CutItem("boards", "board", 100.0, 150.0, 2, thickness_mm=2.0), CutItem("cover", "cloth", 9.0, 9.0)])
    (('board', 2.0),)
    """
    found: list[tuple[Material, float | None]] = []
    for item in items:
        known = any(item.material == kind and same_thickness(item.thickness_mm, mm) for kind, mm in found)
        if item.material not in ("cloth", "thread") and item.count > 0 and not known and not comes_in_sheets(item):
            found.append((item.material, item.thickness_mm))
    return tuple(found)


def comes_in_sheets(item: CutItem) -> bool:
    """True for what is counted in whole sheets already: text paper."""
    return item.note == "cut-whole-sheets"


def same_thickness(one_mm: float | None, other_mm: float | None) -> bool:
    """True for equal thicknesses; one that is not known equals only another not known."""
    if one_mm is None or other_mm is None:
        return one_mm is other_mm
    return abs(one_mm - other_mm) <= SAME_LENGTH_MM


def stocks_for(project: Project, material: Material, thickness_mm: float | None) -> tuple[Stock, ...]:
    """The stocks of that material; one without a thickness is right for every piece, a piece without for every stock.

    BadInput, naming material and thickness, when there is none.
    """
    found = tuple(
        stock
        for stock in project.stocks
        if stock.material == material
        and (stock.thickness_mm is None or thickness_mm is None or same_thickness(stock.thickness_mm, thickness_mm))
    )
    if not found and thickness_mm is not None:
        raise BadInput("stock-none-thick", material=material, thickness_mm=thickness_mm)
    if not found:
        raise BadInput("stock-none", material=material)
    return found


def grain_way(stock: Stock) -> Literal["across", "along"]:
    """How the grain runs on the sheet: along its length or across; one not known counts as along the longer side.

    >>> grain_way(Stock("s", "board", "board", 700.0, 1000.0, grain="short"))
    'across'
    """
    longer = "along" if stock.length_mm is None or stock.length_mm >= stock.width_mm else "across"
    shorter = "across" if longer == "along" else "along"
    return "across" if (shorter if stock.grain == "short" else longer) == "across" else "along"


def grain_note(stock: Stock, items: Iterable[CutItem]) -> tuple[Remark, ...]:
    """A remark where the grain matters and is not known."""
    if stock.grain != "unknown" or all(item.grain == "any" for item in items):
        return ()
    code = "stock-grain-unknown-roll" if stock.length_mm is None else "stock-grain-unknown"
    return (Remark.of(code, name=stock.name),)


def turns_on(stock: Stock, item: CutItem) -> tuple[float, ...]:
    """The turns in degrees that bring the item's grain along the sheet's; for a rectangle a half turn changes nothing.

    >>> grey = Stock("s", "board", "board", 700.0, 1000.0, grain="short")
    >>> turns_on(grey, CutItem("boards", "board", 100.0, 150.0, grain="head to tail"))
    (90.0,)
    """
    if item.grain == "any":
        return (_UPRIGHT, _TURNED)
    along = grain_way(stock) == "along"
    return (_UPRIGHT,) if along == (item.grain == "head to tail") else (_TURNED,)


def check_fits(stock: Stock, items: Iterable[CutItem]) -> None:
    """BadInput: an item that is larger than the sheet or roll, or fits only with its grain the wrong way."""
    for item in items:
        if _fits(stock, item, turns_on(stock, item)):
            continue
        code = "stock-against-grain" if _fits(stock, item, (_UPRIGHT, _TURNED)) else "stock-piece-larger"
        if item.material in ("web", "tissue"):
            code = "stock-backing-larger"
        elif stock.length_mm is None:
            code += "-roll"
        raise BadInput(
            code,
            piece=item.name,
            name=stock.name,
            piece_width_mm=item.width_mm,
            piece_height_mm=item.height_mm,
            sheet_width_mm=stock.width_mm,
            sheet_length_mm=stock.length_mm or 0.0,
        )


def _fits(stock: Stock, item: CutItem, turns_deg: tuple[float, ...]) -> bool:
    size = item.width_mm, item.height_mm
    boxes = [size if turn == _UPRIGHT else size[::-1] for turn in turns_deg]
    length_mm = float("inf") if stock.length_mm is None else stock.length_mm
    return any(
        across <= stock.width_mm + SAME_LENGTH_MM and along <= length_mm + SAME_LENGTH_MM for across, along in boxes
    )


def question_on(
    stock: Stock,
    items: tuple[CutItem, ...],
    sheets: int,
    length_mm: float,
    steps: int,
    *,
    objective: Literal["room", "largest leftover"] = "room",
) -> Question:
    """All pieces of the items on so many sheets of that length: knife and saw take nothing, edges may be shared.

    A piece is called `ITEM.NUMBER`, both counted from 0; a sheet by its number from 0.
    """
    outline = rectangle(stock.width_mm, length_mm)
    usable = Region.of(outline)
    pieces = tuple(
        PieceAsked(f"{k}.{number}", rectangle(item.width_mm, item.height_mm), (0.0, 0.0), turns_on(stock, item))
        for k, item in enumerate(items)
        for number in range(item.count)
    )
    cloths = tuple(ClothAsked(str(k), stock.name, outline, (Ground(str(k), usable),)) for k in range(sheets))
    return Question(pieces, cloths, spare_wish_mm=0.0, objective=objective, steps=steps)
