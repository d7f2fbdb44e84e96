"""Pieces of one material laid on what it comes as: which lies where on each sheet, how many there are, what is left."""

from __future__ import annotations

from dataclasses import dataclass

from coverlayout.book.materials.cut_item import CutItem, Material
from coverlayout.document.project import Stock
from coverlayout.errors import Remark
from coverlayout.geometry.shapes import Box

__all__ = ["OnStock", "PieceOnSheet", "SheetLaid"]

_MM_IN_METRE = 1000.0


@dataclass(frozen=True)
class PieceOnSheet:
    """One piece on a sheet: the item's name, which of its count (from 1), the volume it belongs to where that is known.

    `box` lies in the sheet's frame, mm: x across its width from the left, y along its length from above. `turned`: the
    piece lies a quarter turned, its height across the sheet.
    """

    name: str
    number: int
    volume: int | None
    box: Box
    turned: bool = False


@dataclass(frozen=True)
class SheetLaid:
    """One sheet (or the length off a roll) with its pieces, and the largest rectangles left over, largest first."""

    width_mm: float
    length_mm: float
    pieces: tuple[PieceOnSheet, ...]
    offcuts: tuple[Box, ...] = ()

    @property
    def used_percent(self) -> float:
        """How much of the sheet is in pieces.

        >>> SheetLaid(200.0, 100.0, (PieceOnSheet("board", 1, None, Box(0.0, 0.0, 50.0, 100.0)),)).used_percent
        25.0
        """
        covered = sum(piece.box.width_mm * piece.box.height_mm for piece in self.pieces)
        return 100.0 * covered / (self.width_mm * self.length_mm)


@dataclass(frozen=True)
class OnStock:
    """All pieces of one material and thickness on one stock.

    `sheets` are as many as are needed, the fullest first; off a roll one, as long as what is to be cut off. None were
    found only when the search was cut short at its very start. `least` and `least_mm` (off a roll): fewer sheets, or
    less length, are impossible; `proved` says that what was found is no more than that (off a roll within 0.25 mm).
    `why` is the reason why fewer cannot be, None while that is open or where one sheet is enough.
    """

    stock: Stock
    material: Material
    thickness_mm: float | None
    items: tuple[CutItem, ...]
    sheets: tuple[SheetLaid, ...]
    least: int
    proved: bool
    least_mm: float | None = None
    why: Remark | None = None
    notes: tuple[Remark, ...] = ()
    cut_short: bool = False

    @property
    def is_roll(self) -> bool:
        """True when the stock comes off a roll."""
        return self.stock.length_mm is None

    @property
    def count(self) -> int:
        """How many sheets are needed; off a roll 1."""
        return len(self.sheets)

    @property
    def length_mm(self) -> float | None:
        """What is to be cut off a roll; None for sheets."""
        return self.sheets[0].length_mm if self.is_roll and self.sheets else None

    @property
    def bought_mm2(self) -> float:
        """The area of all that has to be bought."""
        return sum(sheet.width_mm * sheet.length_mm for sheet in self.sheets)

    @property
    def price(self) -> float | None:
        """What all of it costs, None where the stock has no price: sheets in whole, a roll by its length."""
        if self.stock.price is None or not self.sheets:
            return None
        if self.length_mm is not None:
            return self.stock.price * self.length_mm / _MM_IN_METRE
        return self.stock.price * self.count

    @property
    def said(self) -> tuple[Remark, ...]:
        """How much is needed, whether less could do, why not, and what else is worth saying."""
        if not self.sheets:
            return (Remark.of("stock-not-found", name=self.stock.name), *self.notes)
        if self.length_mm is not None:
            need = Remark.of("stock-length", name=self.stock.name, need_mm=self.length_mm)
        else:
            code = "stock-one-sheet" if self.count == 1 else "stock-sheets"
            need = Remark.of(code, name=self.stock.name, count=self.count)
        return (need, *self._why_not_less(), *self.notes)

    def _why_not_less(self) -> tuple[Remark, ...]:
        """What is left open, else the reason."""
        if self.proved:
            return () if self.why is None else (self.why,)
        if self.is_roll:
            return (Remark.of("stock-open-length", least_mm=self.least_mm or 0.0),)
        return (Remark.of("stock-open", least=self.least),)
