"""What could be cut from a rectangle that is left: how many of each piece, and what to do with it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from coverlayout.document.cutting.left_over import LeftOver
from coverlayout.document.cutting.rows import Rows, rows_in
from coverlayout.document.project import Project
from coverlayout.errors import Remark
from coverlayout.geometry.frames import same_turn
from coverlayout.ui.fields.entry import label, set_tip
from coverlayout.ui.fields.rows import button
from coverlayout.ui.layouts.left_list import place_words
from coverlayout.ui.layouts.marks import size_of
from coverlayout.ui.theme import figures_font

__all__ = ["RowsDialog", "count_words", "way_words"]

# Sizes and numbers line up by their last figure; the count stands clear of the size before it.
_RIGHT, _MIDDLE = Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignHCenter
_ALIGNED = {1: _RIGHT, 2: _MIDDLE, 4: _RIGHT}


class RowsDialog(QDialog):
    """A table of the kinds of pieces with their counts.

    `lay` carries the kind whose waiting piece is to be laid there; `own_cloth` and `own_piece` ask for the rectangle as
    a cloth, and as a piece, of its own.
    """

    lay = Signal(object)
    own_cloth = Signal()
    own_piece = Signal()

    def __init__(self, project: Project, left: LeftOver, parent: QWidget) -> None:
        super().__init__(parent)
        style = project.preferences.length_style
        self.setWindowTitle("What could I cut from this?")
        self.resize(720, 420)
        self.kinds = rows_in(project, left)
        self.table = _table(self.kinds, style.unit)
        for row, kind in enumerate(self.kinds):
            cells = (
                kind.name[:1].upper() + kind.name[1:],
                f"{style.number(kind.width_mm, 'up')} × {style.number(kind.height_mm, 'up')}",
                count_words(kind),
                way_words(kind, left),
                str(len(kind.waiting) or ""),
            )
            for column, words in enumerate(cells):
                self.table.setItem(row, column, _cell(words, _ALIGNED.get(column), bold=column == 2 and kind.count > 0))
        self.lay_button = button("Lay a waiting piece here", self._lay, tip=Remark("left-lay-tip").text(), role="first")
        self.why_not = label("", "hint")
        self._arrange(
            label(size_of(left, style), "title"), label(place_words(project, left), "hint"), self._how(project)
        )
        self.table.itemSelectionChanged.connect(self._show_whether)
        first = next((row for row, kind in enumerate(self.kinds) if kind.count and kind.waiting), 0)
        self.table.setCurrentCell(first, 0)
        self._show_whether()

    def _how(self, project: Project) -> str:
        """How was counted."""
        gap_mm, said = project.rules.gap_mm, project.preferences.length_style.said
        words = said(Remark.of("left-rows", gap_mm=gap_mm)) if gap_mm else Remark("left-rows-shared").text()
        if any(kind.at_least for kind in self.kinds):
            words += " " + Remark("left-at-least").text()
        return words

    def _arrange(self, size: QWidget, place: QWidget, how: str) -> None:
        cloth = button("Make it a cloth of its own", self._own_cloth, tip=Remark("left-cloth-tip").text())
        piece = button("Add a piece of this size", self._own_piece, tip=Remark("left-piece-tip").text())
        more = QHBoxLayout()
        more.addWidget(cloth)
        more.addWidget(piece)
        more.addStretch(1)
        buttons = QDialogButtonBox()
        buttons.addButton(self.lay_button, QDialogButtonBox.ButtonRole.ActionRole)
        buttons.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setSpacing(8)
        for widget in (size, place, self.table, label(how, "hint"), self.why_not):
            column.addWidget(widget)
        column.addLayout(more)
        column.addWidget(buttons)

    @property
    def _kind(self) -> Rows | None:
        row = self.table.currentRow()
        return self.kinds[row] if 0 <= row < len(self.kinds) else None

    def _show_whether(self) -> None:
        kind = self._kind
        why = ""
        if kind is None:
            why = Remark("left-no-kinds").text()
        elif not kind.waiting:
            why = Remark.of("left-none-waits", piece=kind.name).text()
        elif not kind.from_here:
            why = Remark.of("left-other-source", piece=kind.name).text()
        elif not kind.count:
            why = Remark.of("left-too-small", piece=kind.name).text()
        self.lay_button.setEnabled(not why)
        self.why_not.setText(why[:1].upper() + why[1:])
        self.why_not.setVisible(bool(why))
        set_tip(self.lay_button, why or Remark("left-lay-tip").text())

    def _lay(self) -> None:
        self.lay.emit(self._kind)
        self.accept()

    def _own_cloth(self) -> None:
        self.own_cloth.emit()
        self.accept()

    def _own_piece(self) -> None:
        self.own_piece.emit()
        self.accept()


def _table(kinds: Sequence[Rows], unit: str) -> QTableWidget:
    table = QTableWidget(len(kinds), 5)
    table.setAccessibleName("Pieces that could be cut")
    table.setFont(figures_font())
    table.setHorizontalHeaderLabels(["Piece", f"Width × height, {unit}", "How many", "In rows", "Waiting"])
    table.verticalHeader().hide()
    table.setShowGrid(False)
    table.setTabKeyNavigation(False)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    # The names are never cut off; how the rows lie may be, before that.
    table.horizontalHeader().setSectionResizeMode(3, QHeaderView.ResizeMode.Stretch)
    return table


def _cell(words: str, aligned: Qt.AlignmentFlag | None, *, bold: bool) -> QTableWidgetItem:
    item = QTableWidgetItem(words)
    if aligned is not None:
        item.setTextAlignment(aligned | Qt.AlignmentFlag.AlignVCenter)
    font = item.font()
    font.setBold(bold)
    item.setFont(font)
    return item


def count_words(kind: Rows) -> str:
    """How many go in, and whether turning some might bring more."""
    if not kind.count:
        return "none"
    return f"at least {kind.count}" if kind.at_least else str(kind.count)


def way_words(kind: Rows, left: LeftOver) -> str:
    """How the rows lie: so many across and along the cloth, and how the pieces are turned against the print."""
    if not kind.from_here:
        return Remark("left-not-from-here").text()
    if not kind.count:
        return ""
    words = f"{kind.across} across, {kind.along} along"
    for turned_deg, said in ((90.0, "turned a quarter"), (180.0, "head down"), (270.0, "turned a quarter")):
        if same_turn(kind.turn_deg - left.up_deg, turned_deg, 0.01):
            words += f", {said}"
    return words
