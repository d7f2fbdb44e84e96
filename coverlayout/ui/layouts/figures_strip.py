"""The figures of one layout under its canvas, while two are compared."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from coverlayout.document.comparing import LayoutFigures
from coverlayout.errors import Remark
from coverlayout.ui.fields.entry import label, set_state
from coverlayout.ui.fields.rows import button
from coverlayout.ui.layouts.marks import size_of
from coverlayout.ui.theme import Theme
from coverlayout.ui.verdict.bar import FigureView
from coverlayout.units import LengthStyle

__all__ = ["FiguresStrip"]

_STATES = {"valid": "fits", "valid, tight": "tight", "not valid": "no", "incomplete": ""}
_WORDS = {"valid": "Valid", "valid, tight": "Valid, tight", "not valid": "Not valid", "incomplete": "Incomplete"}


class FiguresStrip(QWidget):
    """Name and check above, figures below. `wanted`: the maker wants to work on this layout."""

    wanted = Signal()

    def __init__(self, theme: Theme, *, in_hand: bool) -> None:
        super().__init__()
        self.name = QLabel()
        self.name.setProperty("role", "title")
        self.check = label()
        self.used = FigureView(theme, "of the cloth used", ("100 %", "of the cloth used"))
        self.room = FigureView(theme, "at the tightest place", ("1234.5 mm", "at the tightest place"))
        self.left = FigureView(theme, Remark("left-over-name").text(), ("1234.5 × 123.5 mm", "largest piece left over"))
        head = QHBoxLayout()
        head.setSpacing(12)
        head.addWidget(self.name)
        head.addWidget(self.check, 1)
        if not in_hand:
            head.addWidget(
                button("Work on this one", self.wanted.emit, tip="Switch to this layout; the other stays as it is.")
            )
        row = QHBoxLayout()
        row.setSpacing(16)
        for figure in (self.used, self.room, self.left):
            row.addWidget(figure)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 8, 16, 4)
        column.setSpacing(0)
        column.addLayout(head)
        column.addLayout(row)

    def dress(self, theme: Theme) -> None:
        """Another look."""
        for figure in (self.used, self.room, self.left):
            figure.dress(theme)

    def show_figures(self, figures: LayoutFigures, style: LengthStyle) -> None:
        """Show the figures of a layout."""
        self.name.setText(figures.name)
        words = [_WORDS[figures.verdict]]
        if figures.breaches:
            words.append(_many(len(figures.breaches), "rule broken", "rules broken"))
        if figures.waiting:
            words.append(_many(len(figures.waiting), "piece waits", "pieces wait"))
        self.check.setText(", ".join(words))
        set_state(self.check, _STATES[figures.verdict])
        self.used.show_figure(f"{figures.used_percent:.0f} %")
        clearance_mm = figures.clearance_mm
        self.room.show_figure("–" if clearance_mm is None else style.show(clearance_mm, "down"))
        self.left.show_figure("–" if figures.largest is None else size_of(figures.largest, style))


def _many(count: int, one: str, several: str) -> str:
    return f"{count} {one if count == 1 else several}"
