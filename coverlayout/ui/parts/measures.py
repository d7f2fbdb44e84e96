"""The table of measurements: one row a piece, its name in full, its figures as the table on disk has them."""

from __future__ import annotations

import re
from collections.abc import Sequence

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from coverlayout.errors import sentence
from coverlayout.exporting.measures import Measure
from coverlayout.ui.fields.entry import set_tip
from coverlayout.ui.fields.figures import table_figure
from coverlayout.units import LengthStyle, turn_words

__all__ = ["MeasureTable", "in_lines"]

# What a cell has beside its text, both sides.
_BESIDE_TEXT_PX = 12
_NARROWEST_NAME_PX = 60
_LEFT, _RIGHT = Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignRight

_BY_EDGES_TIP = (
    "Size as the piece lies (its own, head up, where it lies askew), and how far its left and upper ends are from "
    "those of the cloth."
)
_BY_LINE_TIP = (
    "The piece's own size, head up, and where its top left corner lies as seen here: along the base line from its dot "
    "towards its arrow, and straight across it, above 0 to the right of a line that runs up and down, below one that "
    "runs from side to side."
)


class MeasureTable(QTableWidget):
    """Piece, size, left and top. A name too long for its column takes more lines, so that its number stays in sight.

    `piece_chosen` carries the id of the piece whose row the maker chose.
    """

    piece_chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__(0, 4)
        self._names: tuple[tuple[str, str], ...] = ()
        self._pieces: tuple[str, ...] = ()
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setProperty("role", "small")
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(20)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setMinimumSectionSize(20)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Measurements")
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.itemSelectionChanged.connect(self._tell_chosen)
        set_tip(self, _BY_EDGES_TIP)

    def show_measures(self, rows: Sequence[tuple[Measure, str]], style: LengthStyle) -> None:
        """Show these measures, each with what to call its piece."""
        by_line = any(measure.from_line for measure, _ in rows)
        places = ("Along", "Across") if by_line else ("Left", "Top")
        set_tip(self, _BY_LINE_TIP if by_line else _BY_EDGES_TIP)
        for column, words in enumerate(("Piece", f"W × H {style.unit}", *places)):
            self.setHorizontalHeaderItem(column, _at(_RIGHT if column else _LEFT, words))
        self._pieces = tuple(measure.piece for measure, _ in rows)
        with QSignalBlocker(self):
            self.setRowCount(len(rows))
        self._names = tuple((name, _turned(measure)) for measure, name in rows)
        for row, (measure, _name) in enumerate(rows):
            box, by = measure.box, measure.from_line
            place = (box.left_mm, box.top_mm) if by is None else by.left_mm
            left, top, width, height = (
                table_figure(length_mm, style) for length_mm in (*place, *measure.size_shown_mm)
            )
            for column, words in enumerate((f"{width}\u2009×\u2009{height}", left, top), start=1):
                self.setItem(row, column, _at(_RIGHT, words))
        self._fit()

    def show_chosen(self, piece_id: str) -> None:
        """Mark the row of a piece; none where it has no row."""
        with QSignalBlocker(self):
            if piece_id in self._pieces:
                self.selectRow(self._pieces.index(piece_id))
            else:
                self.clearSelection()

    def _tell_chosen(self) -> None:
        rows = self.selectionModel().selectedRows()
        if rows:
            self.piece_chosen.emit(self._pieces[rows[0].row()])

    def _fit(self) -> None:
        """Figures get the width they need, names what is left; rows get the height of their name."""
        self.ensurePolished()
        metrics = self.fontMetrics()
        for column in range(1, 4):
            words = [self.horizontalHeaderItem(column), *(self.item(row, column) for row in range(self.rowCount()))]
            widest = max((metrics.horizontalAdvance(item.text()) for item in words if item is not None), default=0)
            self.setColumnWidth(column, widest + _BESIDE_TEXT_PX)
        figures = sum(self.columnWidth(column) for column in range(1, 4))
        self.setColumnWidth(0, max(self.viewport().width() - figures, _NARROWEST_NAME_PX))
        for row, (name, turned) in enumerate(self._names):
            width_px = self.columnWidth(0) - _BESIDE_TEXT_PX
            lines = [*in_lines(name, metrics, width_px), *(in_lines(turned, metrics, width_px) if turned else [])]
            item = QTableWidgetItem("\n".join(lines))
            item.setToolTip(f"{name}, {turned}" if turned else name)
            with QSignalBlocker(self):
                self.setItem(row, 0, item)
            self.setRowHeight(row, metrics.lineSpacing() * len(lines) + 10)
        rows = sum(self.rowHeight(row) for row in range(self.rowCount()))
        self.setFixedHeight(rows + self.horizontalHeader().sizeHint().height() + 8)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Names take the new width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit()


def in_lines(name: str, metrics: QFontMetrics, width_px: int) -> list[str]:
    """The name in lines that fit, broken at spaces and behind hyphens.

    A word wider than a line loses letters in its middle, never its end.
    """
    lines: list[str] = []
    for before, word in re.findall(r"(\s*)([^\s-]*-|[^\s-]+)", name.strip()):
        longer = f"{lines[-1]}{' ' if before else ''}{word}" if lines else word
        if lines and metrics.horizontalAdvance(longer) <= width_px:
            lines[-1] = longer
        else:
            lines.append(metrics.elidedText(word, Qt.TextElideMode.ElideMiddle, width_px))
    return lines or [""]


def _turned(measure: Measure) -> str:
    words = turn_words(measure.shown_turn_deg)
    return "" if words == turn_words(0.0) else sentence("table-turned", {"turn": words})


def _at(side: Qt.AlignmentFlag, words: str) -> QTableWidgetItem:
    item = QTableWidgetItem(words)
    item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
    return item
