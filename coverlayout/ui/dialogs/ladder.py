"""All cuts of the ladder with their verdict, least first; one of them can be taken for the job."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
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

from coverlayout.errors import sentence
from coverlayout.ui.fields.entry import label, set_tip
from coverlayout.ui.theme import figures_font
from coverlayout.ui.verdict.rungs import rung_words, size_words
from coverlayout.units import LengthStyle

if TYPE_CHECKING:
    from coverlayout.layout.ladder import Ladder, Rung

__all__ = ["LadderDialog"]

_SIGNS = {"tick": "✓", "half ring": "◐", "cross": "✕", "dots": "…"}


class LadderDialog(QDialog):
    """A table of cuts; `use` is called with the name of the cut the maker takes. `old`: the job has changed since.

    `refused` gives the reason why a cut of that name cannot be taken at one go, empty when it can.
    """

    def __init__(
        self,
        ladder: Ladder,
        style: LengthStyle,
        use: Callable[[str], None],
        parent: QWidget,
        *,
        refused: Callable[[str], str],
        old: bool = False,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Cuts, least first")
        self.resize(620, 520)
        self._ladder = ladder
        self._use, self._refused = use, refused
        self.table = QTableWidget(len(ladder.rungs), 5)
        self.table.setAccessibleName("Cuts")
        self.table.setFont(figures_font())
        self.table.setHorizontalHeaderLabels(["Cut", f"Width × length, {style.unit}", "Verdict", "To spare", "Price"])
        self.table.verticalHeader().hide()
        self.table.setShowGrid(False)
        self.table.setTabKeyNavigation(False)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for row, rung in enumerate(ladder.rungs):
            self._show(row, rung, style)
        buttons = QDialogButtonBox()
        self.take = buttons.addButton("Use this cut", QDialogButtonBox.ButtonRole.AcceptRole)
        self.take.setProperty("role", "first")
        buttons.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(self._take)
        buttons.rejected.connect(self.reject)
        self.why_not = label("", "hint")
        column = QVBoxLayout(self)
        column.addWidget(label(_words(ladder, old=old), "hint"))
        column.addWidget(self.table)
        column.addWidget(self.why_not)
        column.addWidget(buttons)
        self.table.itemSelectionChanged.connect(self._show_whether)
        self._show_whether()

    def choose(self, name: str) -> None:
        """Mark the row of a cut."""
        for row, rung in enumerate(self._ladder.rungs):
            if rung.name == name:
                self.table.setCurrentCell(row, 0)

    def _show_whether(self) -> None:
        """Whether the marked cut can be taken, and if not, why."""
        row = self.table.currentRow()
        why = sentence("cuts-mark-one", {}) if row < 0 else self._refused(self._ladder.rungs[row].name)
        self.why_not.setText(why)
        self.why_not.setVisible(bool(why))
        self.take.setEnabled(not why)
        set_tip(self.take, why or sentence("cuts-use-tip", {}))

    def _show(self, row: int, rung: Rung, style: LengthStyle) -> None:
        word, _, symbol = rung_words(rung)
        proved = "" if rung.proved else ", not proved"
        cells = (
            rung.name,
            size_words(rung, style),
            f"{_SIGNS[symbol]} {word}{proved}",
            "" if rung.spare_mm is None else style.show(rung.spare_mm, "down"),
            "" if rung.price is None else f"{rung.price:.2f}",
        )
        for column, words in enumerate(cells):
            item = QTableWidgetItem(words)
            if column in (1, 3, 4):
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            font = item.font()
            font.setBold(rung.name == self._ladder.least)
            item.setFont(font)
            self.table.setItem(row, column, item)

    def _take(self) -> None:
        row = self.table.currentRow()
        if row >= 0:
            self._use(self._ladder.rungs[row].name)
        self.accept()


def _words(ladder: Ladder, *, old: bool) -> str:
    """The least cut, the least with room, and that all this is of before when the job has changed since."""
    figures = {"name": ladder.least or "", "roomy": ladder.least_with_room or ""}
    roomy = ladder.least_with_room not in (None, ladder.least)
    words = [sentence("window-cuts-none" if ladder.least is None else "window-cuts-least", figures)]
    words += [sentence("window-cuts-roomy", figures)] if roomy else []
    words += [sentence("window-cuts-old", {})] if old else []
    return " ".join(words)
