"""The list of what there is: every stock with its size and price, the fields of the one chosen, add and remove."""

from __future__ import annotations

from dataclasses import fields as record_fields
from dataclasses import replace
from typing import cast

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from coverlayout.document.checks.figures import free_name
from coverlayout.document.edits.stocks import add_stock, change_stock, remove_stock
from coverlayout.document.project import Project, Stock, StockMaterial
from coverlayout.document.session import Session
from coverlayout.errors import BadInput, sentence
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import button, side_by_side
from coverlayout.ui.stock.fields import StockFields
from coverlayout.ui.stock.words import stock_figures, usual_name

__all__ = ["Shelf"]

# What a stock may still lack while its fields are filled in: it then waits, and nothing is refused.
_STILL_TO_COME = ("stock-sheet-size", "stock-width")
_LEAST_ROWS_PX = 110


class Shelf(QWidget):
    """Chooses, adds, changes and removes stock: each is one step.

    A stock that still lacks its size is kept here as a draft; the project takes it once it can be.
    """

    changed = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._id = ""
        self._draft: Stock | None = None
        self._draft_of: Stock | None = None
        self.list = QListWidget()
        self.list.setAccessibleName("Sheets and rolls there are")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setWordWrap(True)
        self.list.setMinimumHeight(_LEAST_ROWS_PX)
        self.list.currentRowChanged.connect(self._choose)
        self.none = label(sentence("stock-none-yet", {}), "hint")
        self.add = button(
            "Add",
            lambda: self.begin(self._next_material()),
            tip="Another sheet or roll: say what it is, then its size.",
        )
        self.remove = button(
            "Remove", self._remove, tip="The one chosen in the list; Undo brings it back. Delete does the same."
        )
        self.fields = StockFields(self._take)
        delete = QShortcut(QKeySequence(QKeySequence.StandardKey.Delete), self.list)
        delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        delete.activated.connect(self._remove)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.list, 1)
        column.addWidget(self.none, 1, Qt.AlignmentFlag.AlignTop)
        column.addWidget(side_by_side(self.add, self.remove))
        column.addSpacing(4)
        column.addWidget(self.fields)

    @property
    def stock(self) -> Stock | None:
        """The one chosen: a draft that waits, else one of the project."""
        return self._draft or self._of_project

    @property
    def _of_project(self) -> Stock | None:
        return next((each for each in self._session.project.stocks if each.id == self._id), None)

    def begin(self, material: str, thickness_mm: float | None = None) -> None:
        """Begin a new stock of that material; it waits for its size."""
        new = Stock("", "", cast(StockMaterial, material), thickness_mm=thickness_mm)
        self._id, self._draft_of = "", None
        if material == "thread":
            # All that a thread has is its price and its name.
            self._draft = None
            self._take(new)
        else:
            self._draft = new
            self.show_project(self._session.project)
        self.fields.first.setFocus()

    def _next_material(self) -> StockMaterial:
        """The same as the one chosen, boards at first."""
        return self.stock.material if self.stock is not None else "board"

    def _take(self, wanted: Stock) -> None:
        """Make the stock this one, as one step; a draft while its size is still to come."""
        session = self._session
        before = self._of_project
        wanted = self._named(before, wanted)
        try:
            if before is None:
                session.do(add_stock(wanted))
                self._id = session.project.stocks[-1].id
            elif changes := _changes(before, wanted):
                session.do(change_stock(before.id, **changes))
        except BadInput as fault:
            if fault.remark.code not in _STILL_TO_COME:
                raise
            self._draft, self._draft_of = wanted, before
        else:
            self._draft = None
        self.show_project(session.project)

    def _named(self, before: Stock | None, wanted: Stock) -> Stock:
        """With its usual name while it has none of its own: a draft is called once it has a size."""
        project = self._session.project
        style = project.preferences.length_style
        is_usual = before is not None and before.name == wanted.name == usual_name(before, style)
        if (wanted.name and not is_usual) or not _has_size(wanted):
            return wanted
        taken = [each.name for each in project.stocks if each.id != wanted.id]
        return replace(wanted, name=free_name(usual_name(wanted, style), taken))

    def _remove(self) -> None:
        before, at = self._of_project, self.list.currentRow()
        self._draft = None
        if before is not None and self._id:
            self._session.do(remove_stock(before.id))
        left = self._session.project.stocks
        self._id = left[min(max(at, 0), len(left) - 1)].id if left else ""
        self.show_project(self._session.project)
        (self.list if left else self.add).setFocus()

    def _choose(self, row: int) -> None:
        stocks = self._session.project.stocks
        if 0 <= row < len(stocks):
            self._id, self._draft = stocks[row].id, None
            self.show_project(self._session.project)

    def show_project(self, project: Project) -> None:
        """Show what there is; a draft of a stock that changed meanwhile is given up."""
        if self._draft is not None and self._draft_of is not self._of_project:
            self._draft = None
        if self._draft is None and self._of_project is None:
            self._id = project.stocks[0].id if project.stocks else ""
        rows = [_row(each, project) for each in project.stocks]
        if self._draft is not None and not self._id:
            rows.append(f"{_capital(usual_name(self._draft, project.preferences.length_style))}\nnew")
        at = next((at for at, each in enumerate(project.stocks) if each.id == self._id), len(rows) - 1)
        with QSignalBlocker(self.list):
            if [self.list.item(k).text() for k in range(self.list.count())] != rows:
                self.list.clear()
                for words in rows:
                    QListWidgetItem(words, self.list)
            self.list.setCurrentRow(at)
        shown = self.stock
        self.list.setVisible(bool(rows))
        self.none.setVisible(not rows)
        self.remove.setEnabled(bool(rows))
        self.fields.setVisible(shown is not None)
        if shown is not None:
            self.fields.show_stock(shown, project.preferences, waits=self._draft is not None)
        self.changed.emit()


def _has_size(stock: Stock) -> bool:
    return stock.material == "thread" or stock.width_mm > 0.0


def _changes(before: Stock, wanted: Stock) -> dict[str, object]:
    """The fields that differ, by their names."""
    names = [each.name for each in record_fields(Stock)]
    return {each: getattr(wanted, each) for each in names if getattr(wanted, each) != getattr(before, each)}


def _row(stock: Stock, project: Project) -> str:
    figures = stock_figures(stock, project.preferences.length_style, project.preferences.currency)
    return f"{_capital(stock.name)}\n{figures or 'no price yet'}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
