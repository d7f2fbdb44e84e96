"""What is shown of sheets that were laid: the fullest first, alike ones laid alike, much left over in one piece."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from coverlayout.book.materials.cut_item import CutItem
from coverlayout.document.project import Stock
from coverlayout.document.stocking.on_stock import PieceOnSheet, SheetLaid
from coverlayout.document.stocking.stock_asked import question_on
from coverlayout.geometry.empty_rectangles import empty_rectangles
from coverlayout.geometry.frames import piece_to_cloth
from coverlayout.geometry.shapes import Box, Region, bounds, rectangle
from coverlayout.layout.lay import lay
from coverlayout.layout.question import Placed, Watch

__all__ = ["sheets_shown"]

# An offcut narrower than this is waste; so many are named of each sheet.
_LEAST_OFFCUT_MM, _MOST_OFFCUTS = 10.0, 4
# A sheet is laid once more, tidily, with so many steps, when it has no more pieces than this.
_TIDY_STEPS, _MOST_TIDIED = 1_500, 30

# How many of each item lie on a sheet: (number of the item, how many), ascending.
_Mix = tuple[tuple[int, int], ...]
# Where one piece lies: number of the item, box, turned.
_Lying = tuple[int, Box, bool]


def sheets_shown(
    stock: Stock, items: tuple[CutItem, ...], placed: Iterable[Placed], length_mm: float, watch: Watch | None
) -> tuple[SheetLaid, ...]:
    """The sheets with the placed pieces, numbered in their order, and what is left of each.

    Every mix of pieces is laid once more so that much is left over in one piece; `watch` None, or one that says stop:
    as it is. Off a roll `length_mm` is what is cut off.
    """
    by_sheet: dict[str, list[_Lying]] = {}
    for one in placed:
        by_sheet.setdefault(one.cloth, []).append(_lying(items, one))
    mixes: dict[_Mix, list[list[_Lying]]] = {}
    for lying in by_sheet.values():
        mixes.setdefault(tuple(sorted(Counter(item for item, _, _ in lying).items())), []).append(lying)
    shown: list[SheetLaid] = []
    numbers = [0] * len(items)
    for mix in sorted(mixes, key=lambda mix: (-_mix_mm2(items, mix), mix)):
        like = mixes[mix][0] if watch is None else _tidied(stock, items, mix, length_mm, watch) or mixes[mix][0]
        offcuts = _offcuts(stock, like, length_mm)
        for _ in mixes[mix]:
            pieces = tuple(_piece(items, numbers, lying) for lying in sorted(like, key=_order))
            shown.append(SheetLaid(stock.width_mm, length_mm, pieces, offcuts))
    return tuple(shown)


def _mix_mm2(items: tuple[CutItem, ...], mix: _Mix) -> float:
    return sum(items[item].width_mm * items[item].height_mm * count for item, count in mix)


def _order(lying: _Lying) -> tuple[float, float, int]:
    """By rows from the top left, as a sheet is read."""
    item, box, _ = lying
    return round(box.top_mm, 3), round(box.left_mm, 3), item


def _lying(items: tuple[CutItem, ...], placed: Placed) -> _Lying:
    number = int(placed.piece.split(".")[0])
    outline = rectangle(items[number].width_mm, items[number].height_mm)
    box = bounds(piece_to_cloth((0.0, 0.0), (placed.x_mm, placed.y_mm), placed.turn_deg).ring(outline))
    return number, box, placed.turn_deg % 180.0 != 0.0


def _tidied(stock: Stock, items: tuple[CutItem, ...], mix: _Mix, length_mm: float, watch: Watch) -> list[_Lying] | None:
    """One sheet of that mix laid so that the largest piece is left over; None when it is too much or not found."""
    if sum(count for _, count in mix) > _MOST_TIDIED or watch(1.0):
        return None
    counts = dict(mix)
    here = tuple(replace(item, count=counts.get(number, 0)) for number, item in enumerate(items))
    question = question_on(stock, here, 1, length_mm, _TIDY_STEPS, objective="largest leftover")
    answer = lay(question, watch)
    return [_lying(items, one) for one in answer.placed] or None


def _piece(items: tuple[CutItem, ...], numbers: list[int], lying: _Lying) -> PieceOnSheet:
    """The piece under the next number of its item, and the volume that this one is for."""
    item, box, turned = lying
    numbers[item] += 1
    return PieceOnSheet(items[item].name, numbers[item], _volume(items[item], numbers[item]), box, turned)


def _volume(item: CutItem, number: int) -> int | None:
    """Volumes get equally many, one after the other; None where that does not come out even."""
    if not item.volumes or item.count % len(item.volumes):
        return None
    return item.volumes[(number - 1) // (item.count // len(item.volumes))]


def _offcuts(stock: Stock, lying: list[_Lying], length_mm: float) -> tuple[Box, ...]:
    sheet = Region.of(rectangle(stock.width_mm, length_mm))
    rest = sheet.minus(Region.union(Region.of(box.ring()) for _, box, _ in lying))
    found = empty_rectangles(rest, least_mm=_LEAST_OFFCUT_MM, most=_MOST_OFFCUTS)
    return tuple(
        Box(one.middle_mm[0] - one.width_mm / 2, one.middle_mm[1] - one.height_mm / 2, one.width_mm, one.height_mm)
        for one in found
    )
