"""What to cut: everything a book is made of with sizes, counts and the grain; larger in a window, and as text."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QGuiApplication
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QDialogButtonBox,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from coverlayout.book.materials.cut_item import CutItem
from coverlayout.book.materials.cut_list import cut_list
from coverlayout.document.stocking.backing import backing_items
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.ui.binding.part import Part
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import button, side_by_side
from coverlayout.ui.ruled.shown import Shown
from coverlayout.units import LengthStyle

__all__ = ["CutListDialog", "CutListPart", "CutRow", "cut_rows", "rows_as_text"]

_GRAINS = {"head to tail": ("↕", "grain from head to tail"), "across": ("↔", "grain across"), "any": ("", "any way")}
# Columns of figures line up at the right; rows in the panel are close together.
_FIGURES = (1, 2)
_ROW_PX = 22
# The window of its own: its size, and the column of the notes.
_WIDEST_PX, _HIGHEST_PX, _NOTES = 1040, 700, 5
# Working out more volumes than this takes longer than a heading is worth.
_MOST_COUNTED = 60
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


@dataclass(frozen=True)
class CutRow:
    """A row as it is shown: in words, lengths in the maker's unit without it. A heading has only its material."""

    material: str
    name: str = ""
    size: str = ""
    count: int = 0
    grain: str = ""
    grain_words: str = ""
    volumes: str = ""
    note: str = ""

    @property
    def is_heading(self) -> bool:
        """True for the line above all of one material."""
        return not self.name


def cut_rows(items: Sequence[CutItem], style: LengthStyle) -> list[CutRow]:
    """The rows of a cut list, a heading above each material; sizes are never shown smaller than they are.

    >>> rows = cut_rows([CutItem("cover board", "board", 144.3, 216.0, 2, "head to tail", 2.0)], LengthStyle())
    >>> [(row.material, row.name, row.size, row.count, row.grain) for row in rows]
    [('Board, 2.0 mm', '', '', 0, ''), ('Board, 2.0 mm', 'cover board', '144.5 × 216.0', 2, '↕')]
    """
    rows: list[CutRow] = []
    for item in items:
        material = _material_words(item, style)
        if not rows or rows[-1].material != material:
            rows.append(CutRow(material))
        sign, words = _GRAINS[item.grain]
        volumes = ", ".join(map(str, item.volumes))
        note = sentence(item.note, {}) if item.note else ""
        rows.append(CutRow(material, item.name, _size_words(item, style), item.count, sign, words, volumes, note))
    return rows


def _material_words(item: CutItem, style: LengthStyle) -> str:
    words = item.material.capitalize()
    return (
        words if item.thickness_mm is None or item.material == "paper" else f"{words}, {style.show(item.thickness_mm)}"
    )


def _size_words(item: CutItem, style: LengthStyle) -> str:
    if item.material == "thread":
        return style.number(item.height_mm, "up")
    return f"{style.number(item.width_mm, 'up')} × {style.number(item.height_mm, 'up')}"


def rows_as_text(rows: Sequence[CutRow], unit: str) -> str:
    r"""The list as plain text, tabs between the columns, to be pasted anywhere.

    >>> rows_as_text([CutRow("Board"), CutRow("Board", "cover board", "144.5 × 216.0", 2, "↕", "grain across")], "mm")
    'Board\n\tcover board\t144.5 × 216.0 mm\t2\tgrain across'
    """
    return "\n".join(_line(row, unit) for row in rows)


def _line(row: CutRow, unit: str) -> str:
    if row.is_heading:
        return row.material
    words = ("", row.name, f"{row.size} {unit}", str(row.count), row.grain_words, row.note)
    return "\t".join(words).rstrip("\t")


class CutListPart(Part):
    """The cut list in the book step."""

    def make(self) -> None:
        """The table, then what can be done with it."""
        self.table = _made_table(("Piece", "Size", "", ""), "What to cut")
        self.table.setProperty("role", "small")
        self.table.verticalHeader().setDefaultSectionSize(_ROW_PX)
        self.table.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.trouble = label(role="muted")
        self.larger = button("Larger …", self._open_larger, tip="The list in a window of its own.", role="more")
        self.copy = button("Copy as text", self._copy, tip="To be pasted into a letter or a table.", role="more")
        self.sheets = button(
            "Sheets and rolls …",
            lambda: self.owner.ask_act("stock"),
            tip="What board, web, tissue and paper come as, and how many sheets are needed.",
            role="more",
        )
        self.rows: list[CutRow] = []
        for widget in (self.table, self.trouble, side_by_side(self.larger, self.copy), side_by_side(self.sheets)):
            self.body.addWidget(widget)

    def summed_up(self, shown: Shown) -> str:
        """How many pieces in all; of an edition only once it is opened."""
        if len(shown.book.volumes) > _MOST_COUNTED and not self.head.isChecked():
            return ""
        try:
            count = sum(item.count for item in cut_list(shown.book) if item.material not in ("thread",))
        except CoverlayoutError:
            return ""
        return f"{count} piece{'' if count == 1 else 's'}"

    def show_book(self, shown: Shown) -> None:
        """Show the list; what stands in its way is said in its place."""
        why = ""
        try:
            items = (*cut_list(shown.book), *backing_items(shown.project))
            self.rows = cut_rows(items, shown.style)
        except CoverlayoutError as fault:
            self.rows, why = [], shown.style.said(fault.remark)
        self.trouble.setText(why)
        self.trouble.setVisible(bool(why))
        self.table.setVisible(not why)
        self.table.setHorizontalHeaderItem(1, _cell(f"Size, {shown.style.unit}", right=True))
        _fill(self.table, self.rows, lambda row: (row.name, row.size, str(row.count), row.grain))
        _as_high_as_its_rows(self.table)

    def _copy(self) -> None:
        if self._shown is not None:
            QGuiApplication.clipboard().setText(rows_as_text(self.rows, self._shown.style.unit))

    def _open_larger(self) -> None:
        if self._shown is not None:
            CutListDialog(self._shown.book.name, self.rows, self._shown.style.unit, self.window()).open()


class CutListDialog(QDialog):
    """The cut list with every column."""

    def __init__(self, name: str, rows: Sequence[CutRow], unit: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(f"What to cut for {name}")
        self.resize(min(_WIDEST_PX, parent.width() - 80), min(_HIGHEST_PX, parent.height() - 80))
        self.table = _made_table(
            ("Piece", f"Width × height, {unit}", "How many", "Grain", "Volumes", "To mind"), "What to cut"
        )
        _fill(
            self.table,
            rows,
            lambda row: (row.name, row.size, str(row.count), f"{row.grain} {row.grain_words}", row.volumes, row.note),
        )
        # Names are never shortened here; what is to be minded takes the rest, in as many lines as it needs.
        self.table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        self.table.horizontalHeader().setSectionResizeMode(_NOTES, QHeaderView.ResizeMode.Stretch)
        self.table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.setWordWrap(True)
        buttons = QDialogButtonBox()
        copy = button(
            "Copy as text",
            lambda: QGuiApplication.clipboard().setText(rows_as_text(rows, unit)),
            tip="To be pasted into a letter or a table.",
        )
        buttons.addButton(copy, QDialogButtonBox.ButtonRole.ActionRole)
        buttons.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 12)
        column.setSpacing(10)
        column.addWidget(label(f"What to cut for {name}", "title"))
        column.addWidget(self.table, 1)
        column.addWidget(buttons)


def _made_table(headings: Sequence[str], name: str) -> QTableWidget:
    table = QTableWidget(0, len(headings))
    table.setAccessibleName(name)
    for column, words in enumerate(headings):
        table.setHorizontalHeaderItem(column, _cell(words, right=column in _FIGURES))
    table.verticalHeader().hide()
    table.setShowGrid(False)
    table.setTabKeyNavigation(False)
    table.setWordWrap(False)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    table.horizontalHeader().setHighlightSections(False)
    table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    table.horizontalHeader().setMinimumSectionSize(20)
    table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
    return table


def _fill(table: QTableWidget, rows: Sequence[CutRow], cells: Callable[[CutRow], Sequence[str]]) -> None:
    table.clearSpans()
    table.setRowCount(len(rows))
    for at, row in enumerate(rows):
        if row.is_heading:
            table.setSpan(at, 0, 1, table.columnCount())
            heading = _cell(row.material, bold=True)
            heading.setFlags(Qt.ItemFlag.ItemIsEnabled)
            table.setItem(at, 0, heading)
            continue
        for column, words in enumerate(cells(row)):
            item = _cell(words, right=column in _FIGURES)
            item.setToolTip(". ".join(part for part in (row.name, row.grain_words, row.note) if part))
            table.setItem(at, column, item)


def _cell(words: str, *, bold: bool = False, right: bool = False) -> QTableWidgetItem:
    item = QTableWidgetItem(words)
    if right:
        item.setTextAlignment(_RIGHT)
    if bold:
        font = QFont()
        font.setBold(True)
        item.setFont(font)
    return item


def _as_high_as_its_rows(table: QTableWidget) -> None:
    rows = range(table.rowCount())
    high = table.horizontalHeader().sizeHint().height() + sum(table.rowHeight(row) for row in rows) + 4
    table.setFixedHeight(max(high, 40))
