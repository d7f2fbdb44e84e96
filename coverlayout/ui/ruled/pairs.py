"""Fields two to a row, of which only some are shown."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

__all__ = ["Pairs"]


class Pairs(QWidget):
    """Fields two to a row, of which only some may be shown; those keep the order they were given in."""

    def __init__(self, fields: Sequence[QWidget]) -> None:
        super().__init__()
        self._fields = tuple(fields)
        self._now: tuple[QWidget, ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(12)
        self._grid.setVerticalSpacing(8)
        self._grid.setColumnStretch(0, 1)
        self._grid.setColumnStretch(1, 1)
        for field in self._fields:
            field.setParent(self)
            field.hide()
        self.show_only(self._fields)

    def show_only(self, fields: Sequence[QWidget]) -> None:
        """Show these and hide the others."""
        wanted = tuple(field for field in self._fields if field in fields)
        if wanted == self._now:
            return
        for field in self._now:
            self._grid.removeWidget(field)
            if field not in wanted:
                field.hide()
        for at, field in enumerate(wanted):
            row, column = divmod(at, 2)
            self._grid.addWidget(field, row, column, Qt.AlignmentFlag.AlignTop)
            field.show()
        self._now = wanted
