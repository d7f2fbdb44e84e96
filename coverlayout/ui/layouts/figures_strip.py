"""The figures of one layout under its canvas, while two are compared."""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QSizePolicy, QSpacerItem, QVBoxLayout, QWidget

from coverlayout.document.layouts.comparing import LayoutFigures
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
        # A long name never keeps the strip from being made narrower.
        self.name.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.name.setProperty("role", "title")
        self.check = label()
        self.used = FigureView(theme, "of the cloth used", ("100 %", "of the cloth used"))
        self.room = FigureView(theme, "at the tightest place", ("1234.5 mm", "at the tightest place"))
        self.left = FigureView(
            theme, Remark("left-over-name").text(), ("1234.5 × 1234.5 mm", "largest piece left over")
        )
        head = QHBoxLayout()
        head.setSpacing(12)
        head.addWidget(self.name, 1)
        self.switch = button(
            "Work on this one", self.wanted.emit, tip="Switch to this layout; the other stays as it is."
        )
        self.switch.setHidden(in_hand)
        # Both strips are as high, so that both canvases are.
        head.addSpacerItem(QSpacerItem(0, self.switch.sizeHint().height()))
        head.addWidget(self.switch)
        self._figures = QGridLayout()
        self._figures.setHorizontalSpacing(16)
        self._figures.setVerticalSpacing(0)
        self._figures.setColumnStretch(3, 1)
        for column_at, figure in enumerate((self.used, self.room, self.left)):
            self._figures.addWidget(figure, 0, column_at)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 8, 16, 4)
        column.setSpacing(0)
        column.addLayout(head)
        column.addWidget(self.check)
        column.addLayout(self._figures)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the largest piece left over stands below the others."""
        super().resizeEvent(event)
        room = self.width() - self.used.width() - self.room.width() - 64
        place = (0, 2, 1, 1) if room >= self.left.width() else (1, 0, 1, 2)
        if self._figures.getItemPosition(self._figures.indexOf(self.left)) != place:
            self._figures.removeWidget(self.left)
            self._figures.addWidget(self.left, *place)

    def minimumSizeHint(self) -> QSize:
        """Narrow enough for half of the narrowest window."""
        return QSize(self.used.width() + self.room.width() + 48, super().minimumSizeHint().height())

    def dress(self, theme: Theme) -> None:
        """Another look."""
        for figure in (self.used, self.room, self.left):
            figure.dress(theme)

    def show_figures(self, figures: LayoutFigures, style: LengthStyle) -> None:
        """Show the figures of a layout."""
        self.name.setText(figures.name)
        self.name.setToolTip(figures.name)
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
