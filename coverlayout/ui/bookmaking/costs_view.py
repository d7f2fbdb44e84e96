"""What the books cost, line by line: by area alone, with what is lost, for each copy; and what is in no sum."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QScrollArea, QVBoxLayout, QWidget

from coverlayout.document.edits.job import change_preferences
from coverlayout.document.making.costs import BookCost, Costs, costs
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, Remark, sentence
from coverlayout.ui.fields.entry import Entry, label
from coverlayout.ui.stock.asking import StockAsking
from coverlayout.ui.stock.needed import State
from coverlayout.ui.stock.words import price_words, sentences_of
from coverlayout.ui.theme import figures_font

__all__ = ["CostsView"]

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LONGEST_CURRENCY = 8
# Figures stand near enough to their words to be read along.
_WIDEST_PX = 720


class CostsView(QWidget):
    """Every book with its lines, all together, and below what has no price yet. The currency is typed here."""

    def __init__(self, session: Session, asking: StockAsking) -> None:
        super().__init__()
        self._session, self._asking = session, asking
        self._shown: object = None
        self.state = State(asking)
        self.currency = Entry(
            "Currency",
            lambda text: text.strip()[:_LONGEST_CURRENCY],
            str,
            self._give_currency,
            tip="A word or a sign that stands after every price, such as EUR.",
        )
        self.currency.setFixedWidth(120)
        self.inside = QWidget()
        self.inside.setMaximumWidth(_WIDEST_PX)
        self._column = QVBoxLayout(self.inside)
        self._column.setContentsMargins(0, 0, 12, 0)
        self._column.setSpacing(12)
        self._column.addStretch(1)
        self.parts: list[QWidget] = []
        self.area = QScrollArea()
        self.area.setWidget(self.inside)
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setAccessibleName("What the books cost")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(label(sentence("costs-how", {}), "hint"))
        column.addWidget(self.state)
        column.addWidget(self.area, 1)
        column.addWidget(self.currency)

    def _give_currency(self, text: str) -> None:
        self._session.do(change_preferences(currency=text))

    def show_project(self, project: Project) -> None:
        """Show what everything costs as it is known now."""
        self.currency.show_value(project.preferences.currency)
        now = (project, self._asking.laid, self._asking.is_known)
        if now == self._shown:
            return
        self._shown = now
        for part in self.parts:
            self._column.removeWidget(part)
            part.hide()
            part.deleteLater()
        self.parts = self._made(project)
        for at, part in enumerate(self.parts):
            self._column.insertWidget(at, part)

    def _made(self, project: Project) -> list[QWidget]:
        style = project.preferences.length_style
        try:
            found = costs(project, self._asking.laid or () if self._asking.is_known else ())
        except CoverlayoutError as fault:
            return [label(sentences_of((fault.remark,), style))]
        currency = project.preferences.currency
        made: list[QWidget] = [_BookTable(book, currency) for book in found.books if book.lines]
        if not made:
            made = [label(sentence("cost-none", {}), "hint")]
        if sum(bool(book.lines) for book in found.books) > 1:
            made.append(_all_together(found, currency))
        if found.missing:
            lines = [sentences_of((remark,), style) for remark in found.missing]
            made.append(_missing(lines))
        return made


def _missing(lines: Sequence[str]) -> QWidget:
    made = QWidget()
    column = QVBoxLayout(made)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(2)
    column.addWidget(label(sentence("costs-missing", {}), "title"))
    for line in lines:
        column.addWidget(label(f"–  {line}"))
    return made


def _all_together(found: Costs, currency: str) -> QWidget:
    figures = {
        "whole": price_words(found.whole_price, currency),
        "share": price_words(found.share_price, currency),
    }
    return label(Remark.of("costs-together", **figures).text(), "title")


class _BookTable(QWidget):
    """A book: its name, a row for each material, the sum, and the sum for one copy."""

    def __init__(self, book: BookCost, currency: str) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(24)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnStretch(0, 1)
        name = book.name or sentence("cost-of-own", {})
        if book.copies > 1:
            name = Remark.of("costs-copies", name=name, copies=book.copies).text()
        self._add((name, "by area alone", "with what is lost"), ("title", "muted", "muted"))
        for line in book.lines:
            words = line.name if line.name.startswith(line.material) else f"{line.name} ({line.material})"
            self._add((words, price_words(line.share_price, ""), price_words(line.whole_price, "")))
        self._rule()
        both = price_words(book.share_price, currency), price_words(book.whole_price, currency)
        self._add(("Together", *both), ("title",) * 3)
        if book.copies > 1:
            share = price_words(book.share_price / book.copies, currency)
            self._add(("For each", share, price_words(book.whole_price_each, currency)))

    def _add(self, cells: Sequence[str], roles: Sequence[str] = ("", "", "")) -> None:
        row = self._grid.rowCount()
        for column, (words, role) in enumerate(zip(cells, roles, strict=True)):
            cell = label(words, role)
            if column:
                cell.setWordWrap(False)
                cell.setAlignment(_RIGHT)
                if not role:
                    cell.setFont(figures_font())
            self._grid.addWidget(cell, row, column)

    def _rule(self) -> None:
        line = QWidget()
        line.setProperty("role", "line")
        line.setFixedHeight(1)
        self._grid.addWidget(line, self._grid.rowCount(), 0, 1, 3)
