"""Where each sheet and each piece comes to be drawn: alike sheets once, all of one material at one scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF

from coverlayout.geometry.shapes import Box

if TYPE_CHECKING:
    from coverlayout.document.stocking.on_stock import OnStock, PieceOnSheet, SheetLaid

__all__ = ["Alike", "PlacedSheet", "alike_sheets", "apart", "placed_sheets"]

# The longer side of the largest sheet where there is one to be drawn, and where there are several.
_ONE_PX, _SEVERAL_PX = 400.0, 250.0
# Around a sheet: the grain beside it or above it, its words below.
_GRAIN_PX, _WORDS_PX, _GAP_PX = 20.0, 20.0, 18.0


@dataclass(frozen=True)
class Alike:
    """Sheets on which the same lies at the same places: the first of them, its number from 1, how many there are."""

    sheet: SheetLaid
    first: int
    count: int


@dataclass(frozen=True)
class PlacedSheet:
    """Where one sheet is drawn. `lies`: its length runs to the right, as of a long piece off a roll."""

    alike: Alike
    frame: QRectF
    px_per_mm: float
    lies: bool

    def rect(self, box: Box) -> QRectF:
        """Where a box of the sheet is drawn."""
        sheet = self.alike.sheet
        if self.lies:
            # Turned a quarter against the clock, not mirrored.
            box = Box(box.top_mm, sheet.width_mm - box.right_mm, box.height_mm, box.width_mm)
        by, at = self.px_per_mm, self.frame.topLeft()
        return QRectF(at.x() + box.left_mm * by, at.y() + box.top_mm * by, box.width_mm * by, box.height_mm * by)


def alike_sheets(sheets: tuple[SheetLaid, ...]) -> tuple[Alike, ...]:
    """Each kind of sheet once, in the order of the sheets."""
    found: dict[object, list[int]] = {}
    for at, sheet in enumerate(sheets):
        pieces = tuple((piece.name, _rounded(piece), piece.turned) for piece in sheet.pieces)
        found.setdefault((sheet.width_mm, sheet.length_mm, pieces), []).append(at)
    return tuple(Alike(sheets[places[0]], places[0] + 1, len(places)) for places in found.values())


def _rounded(piece: PieceOnSheet) -> tuple[float, ...]:
    box = piece.box
    return tuple(round(side, 3) for side in (box.left_mm, box.top_mm, box.width_mm, box.height_mm))


def placed_sheets(
    on: OnStock, width_px: float, kinds: tuple[Alike, ...] | None = None
) -> tuple[tuple[PlacedSheet, ...], float]:
    """All kinds of sheets in rows as wide as there is room, and how high that is; `kinds` where they are known."""
    kinds = alike_sheets(on.sheets) if kinds is None else kinds
    if not kinds:
        return (), 0.0
    lies = on.is_roll and max(kind.sheet.length_mm for kind in kinds) > on.stock.width_mm
    sizes = [(kind.sheet.length_mm, kind.sheet.width_mm)[:: 1 if lies else -1] for kind in kinds]
    longest_px = _ONE_PX if len(kinds) == 1 else _SEVERAL_PX
    room_px = max(width_px - _GRAIN_PX - 2, 40.0)
    by = min(longest_px / max(max(size) for size in sizes), room_px / max(size[0] for size in sizes))
    if lies:
        by = room_px / max(size[0] for size in sizes)
        by = min(by, _SEVERAL_PX / max(size[1] for size in sizes))
    placed: list[PlacedSheet] = []
    x = y = high = 0.0
    for kind, (across_mm, down_mm) in zip(kinds, sizes, strict=True):
        wide, tall = across_mm * by, down_mm * by
        if x and x + _GRAIN_PX + wide > width_px:
            x, y, high = 0.0, y + high, 0.0
        placed.append(PlacedSheet(kind, QRectF(x + _GRAIN_PX, y + _GRAIN_PX, wide, tall), by, lies))
        x += _GRAIN_PX + wide + _GAP_PX
        high = max(high, _GRAIN_PX + tall + _WORDS_PX)
    return tuple(placed), y + high


def apart(boxes: tuple[Box, ...]) -> tuple[Box, ...]:
    """Those of the boxes, in their order, that lie over none before them: what can be cut off together."""
    kept: list[Box] = []
    for box in boxes:
        if not any(_overlap(box, other) for other in kept):
            kept.append(box)
    return tuple(kept)


def _overlap(one: Box, other: Box) -> bool:
    return (
        min(one.right_mm, other.right_mm) - max(one.left_mm, other.left_mm) > 0.0
        and min(one.bottom_mm, other.bottom_mm) - max(one.top_mm, other.top_mm) > 0.0
    )
