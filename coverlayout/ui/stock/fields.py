"""The fields of one stock: material, what it comes as, size, thickness, grain and price."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.document.project import Preferences, Stock
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.ui.binding.knowing import read_sheet
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry, Field, warning
from coverlayout.ui.fields.figures import exact_length, read_length
from coverlayout.ui.fields.rows import side_by_side
from coverlayout.ui.ruled.entries import read_number
from coverlayout.ui.ruled.shown import size_words
from coverlayout.ui.stock.words import MATERIALS, is_roll
from coverlayout.units import LengthStyle

__all__ = ["StockFields"]

_GRAINS = (("unknown", "not known"), ("long", "along its longer side"), ("short", "along its shorter side"))
_ROLL_GRAINS = (("unknown", "not known"), ("long", "along the roll"), ("short", "across the roll"))
_WAYS = (("sheets", "sheets"), ("roll", "a roll"))
# What is never sold off a roll here, and what has a thickness that counts.
_ONLY_SHEETS, _THICK = ("board", "card"), ("board", "card", "paper", "lining")
_PRICES = {
    "sheet": "Price of a sheet",
    "roll": "Price of a metre off the roll",
    "thread": "Price of a metre",
}


class StockFields(QWidget):
    """Shows a stock; `give` takes it as a field changed it, and may refuse in one sentence.

    `way` is how it is asked for just now: the first size of a roll or of a sheet may still be to come.
    """

    def __init__(self, give: Callable[[Stock], None]) -> None:
        super().__init__()
        self._give = give
        self._stock = Stock("", "", "board")
        self._way = "sheets"
        self._preferences = Preferences()
        self._make()
        self.waits = warning()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(side_by_side(self.material, self.comes_as))
        for widget in (self.sheet, self.width_entry, self.waits, side_by_side(self.thickness, self.price)):
            column.addWidget(widget)
        column.addWidget(self.grain)
        column.addWidget(self.name)

    def _make(self) -> None:
        self.material = Choice(
            "Material",
            MATERIALS,
            lambda value: self._change(material=value),
            tip="Board and card are stiff, web and tissue go on the back of the cloth.",
        )
        self.comes_as = Choice("Comes as", _WAYS, self._choose_way, tip="Sheets of one size, or cut off a roll.")
        self.sheet = Entry(
            "Width × length of a sheet",
            lambda text: read_sheet(text, self.style_of_lengths)[1],
            lambda size: size_words(size, self.style_of_lengths).rpartition(" ")[0],
            lambda size: self._change(width_mm=size[0], length_mm=size[1]),
            tip="Width and length, 700 x 1000 mm, or the name of a paper size: A2.",
            unit="mm",
        )
        self.width_entry = self._length("Width of the roll", "width_mm", "As wide as it comes off the roll.")
        self.thickness = self._thickness()
        self.price = Entry(
            "Price",
            lambda text: read_number(text) if text.strip() else None,
            lambda value: f"{value:.2f}",
            lambda value: self._change(price=value),
            tip="In your own currency, for what a book costs. Empty: not known.",
        )
        self.grain = Choice(
            "Grain runs",
            _GRAINS,
            lambda value: self._change(grain=value),
            tip="Pieces are laid with their grain along it. Bend a sheet both ways: it gives more readily along its "
            "grain.",
        )
        self.name = Entry(
            "Name",
            str.strip,
            str,
            lambda text: self._change(name=text),
            tip="As you call it; it stands in the answers and in what a book costs.",
        )

    def _length(self, title: str, field: str, tip: str) -> Entry:
        return Entry(
            title,
            read_length(title, "430mm", lambda: self.style_of_lengths),
            lambda value: exact_length(value, self.style_of_lengths),
            lambda value: self._change(**{field: value}),
            tip=tip,
            unit="mm",
        )

    def _thickness(self) -> Entry:
        read = read_length("Thickness", "2mm", lambda: self.style_of_lengths)
        return Entry(
            "Thickness",
            lambda text: read(text) if text.strip() else None,
            lambda value: exact_length(value, self.style_of_lengths),
            lambda value: self._change(thickness_mm=value),
            tip="Only pieces of this thickness are laid on it. Empty: pieces of every thickness.",
            unit="mm",
        )

    @property
    def style_of_lengths(self) -> LengthStyle:
        """How the maker wants lengths shown."""
        return self._preferences.length_style

    @property
    def first(self) -> QWidget:
        """The field that is to be filled in first."""
        shown: tuple[Field, ...] = (self.sheet, self.width_entry, self.price)
        return next((each.field for each in shown if not each.isHidden()), self.name.field)

    def _change(self, **fields: Any) -> None:
        wanted = replace(self._stock, **fields)
        if wanted.material == "thread":
            wanted = replace(wanted, width_mm=0.0, length_mm=None, thickness_mm=None, grain="unknown")
        elif wanted.material not in _THICK:
            wanted = replace(wanted, thickness_mm=None)
        if self._way == "roll" and wanted.material not in _ONLY_SHEETS:
            wanted = replace(wanted, length_mm=None)
        self._give(wanted)

    def _choose_way(self, way: str) -> None:
        """Off a roll its width stays; for sheets their length is still to come."""
        self._way = way
        if way == "roll" and self._stock.width_mm > 0.0:
            try:
                self._change(length_mm=None)
            except CoverlayoutError:
                self._way = "sheets"
                raise
        else:
            self._show_which()

    def show_stock(self, stock: Stock, preferences: Preferences, *, waits: bool) -> None:
        """Show this one. `waits`: it is not in the project yet, its size is still to come."""
        if stock.id != self._stock.id or not waits or stock.material != self._stock.material:
            self._way = "roll" if is_roll(stock) and stock.width_mm > 0.0 else "sheets"
        self._stock, self._preferences = stock, preferences
        unit = self.style_of_lengths.unit
        self.material.show_value(stock.material)
        has_size = stock.width_mm > 0.0 and stock.length_mm is not None
        self.sheet.show_value((stock.width_mm, stock.length_mm) if has_size else None, unit)
        self.width_entry.show_value(stock.width_mm if stock.width_mm > 0.0 else None, unit)
        self.thickness.show_value(stock.thickness_mm, unit)
        self.price.show_value(stock.price, preferences.currency)
        self.name.show_value(stock.name)
        self.waits.setText(sentence("stock-waits", {}) if waits else "")
        self.waits.setVisible(waits)
        self._show_which()

    def _show_which(self) -> None:
        """Only the fields that the material and what it comes as have."""
        material, way = self._stock.material, self._way
        if material in _ONLY_SHEETS:
            way = "sheets"
        is_thread = material == "thread"
        self.price.rename(_PRICES["thread" if is_thread else "roll" if way == "roll" else "sheet"])
        self.comes_as.show_value(way)
        self.comes_as.setVisible(not is_thread and material not in _ONLY_SHEETS)
        self.sheet.setVisible(not is_thread and way == "sheets")
        self.width_entry.setVisible(not is_thread and way == "roll")
        self.thickness.setVisible(material in _THICK)
        self.grain.setVisible(not is_thread)
        self.grain.set_choices(_ROLL_GRAINS if way == "roll" else _GRAINS)
        self.grain.show_value(self._stock.grain)
