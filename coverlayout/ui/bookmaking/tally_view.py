"""What is made: of every volume what is laid, waits, was cut and was spoiled, and what the books cost."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from coverlayout.document.making.costs import Costs, costs
from coverlayout.document.making.tally import VolumeTally, tally, totals
from coverlayout.document.project import Project
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.ui.binding.part import Part
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import button, side_by_side
from coverlayout.ui.ruled.shown import Shown, worded
from coverlayout.units import LengthStyle

__all__ = ["TallyPart", "cost_lines"]

_HEADINGS = ("", "Laid", "Waits", "Cut", "Spoiled")
# A class or an edition has dozens of volumes: from here on only their sum is shown with those that are begun.
_MOST_ROWS = 24
_ROW_PX = 22


class TallyPart(Part):
    """How far the work is."""

    def make(self) -> None:
        """A table of volumes, and the costs in sentences."""
        self.table = QTableWidget(0, len(_HEADINGS))
        self.table.setAccessibleName("What is made")
        self.table.setProperty("role", "small")
        self.table.setHorizontalHeaderLabels(list(_HEADINGS))
        self.table.verticalHeader().setDefaultSectionSize(_ROW_PX)
        self.table.verticalHeader().hide()
        self.table.setShowGrid(False)
        self.table.setTabKeyNavigation(False)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self._rows: tuple[VolumeTally, ...] | None = None
        self.costs = label()
        self.body.addWidget(self.table)
        self.body.addWidget(self.costs)
        self.more = button(
            "What the books cost …",
            lambda: self.owner.ask_act("book-costs"),
            tip="Line by line, with what is lost of each sheet.",
            role="more",
        )
        self.body.addWidget(side_by_side(self.more))

    def summed_up(self, shown: Shown) -> str:
        """How many of all pieces are cut."""
        rows = _rows_or_none(shown.project)
        if not rows:
            return ""
        together = totals(rows)
        return f"{together.cut} of {together.planned} cut"

    def show_book(self, shown: Shown) -> None:
        """Show the rows, all books together, and the costs."""
        rows = _rows_or_none(shown.project)
        if rows != self._rows:
            self._rows = rows
            self._show_rows(rows)
        self.costs.setText("\n".join(_costs_or_why(shown)))

    def _show_rows(self, rows: tuple[VolumeTally, ...]) -> None:
        shown_rows = rows if len(rows) <= _MOST_ROWS else tuple(row for row in rows if row.cut or row.spoiled)
        self.table.setRowCount(len(shown_rows) + 1)
        for at, row in enumerate(shown_rows):
            self._fill(at, _name(row), row)
        together = totals(rows)
        self._set(len(shown_rows), "together", (together.laid, together.waiting, together.cut, together.spoiled))
        high = self.table.horizontalHeader().sizeHint().height()
        high += sum(self.table.rowHeight(at) for at in range(self.table.rowCount()))
        self.table.setFixedHeight(high + 4)
        self.table.setVisible(bool(rows))

    def _fill(self, at: int, name: str, row: VolumeTally) -> None:
        counted = row.totals
        self._set(at, name, (counted.laid, counted.waiting, counted.cut, counted.spoiled))

    def _set(self, at: int, name: str, figures: tuple[int, ...]) -> None:
        self.table.setItem(at, 0, QTableWidgetItem(name))
        for column, figure in enumerate(figures, start=1):
            item = QTableWidgetItem(str(figure) if figure else "·")
            item.setTextAlignment(Qt.AlignmentFlag.AlignCenter)
            self.table.setItem(at, column, item)


def _rows_or_none(project: Project) -> tuple[VolumeTally, ...]:
    try:
        return tally(project)
    except CoverlayoutError:
        return ()


def _name(row: VolumeTally) -> str:
    return sentence("tally-gone", {}) if row.kind == "gone" else row.name


def _costs_or_why(shown: Shown) -> list[str]:
    try:
        return cost_lines(costs(shown.project), shown.style, shown.project.preferences.currency)
    except CoverlayoutError as fault:
        return [shown.style.said(fault.remark)]


def cost_lines(found: Costs, style: LengthStyle, currency: str) -> list[str]:
    """What each book costs by the prices there are, then what has no price; only that while nothing has one."""
    lines = [
        worded(
            "cost-of-book",
            style,
            name=book.name or sentence("cost-of-own", {}),
            price=_price(book.whole_price, currency),
            each=_price(book.whole_price_each, currency),
            share=_price(book.share_price / max(book.copies, 1), currency),
        )
        for book in found.books
        if book.lines
    ]
    if not lines:
        return [worded("cost-none", style)]
    return [*lines, *(style.said(remark) for remark in found.missing)]


def _price(amount: float, currency: str) -> str:
    return f"{amount:.2f} {currency}".strip()
