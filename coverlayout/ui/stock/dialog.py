"""Sheets and rolls in a window: at the left what there is, at the right what is needed; beside it what books cost."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QStackedWidget,
    QTabBar,
    QVBoxLayout,
    QWidget,
)

from coverlayout.ui.bookmaking.costs_view import CostsView
from coverlayout.ui.fields.entry import set_tip
from coverlayout.ui.stock.needed import Needed
from coverlayout.ui.stock.shelf import Shelf

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["StockDialog", "StockPart", "open_stock"]

StockPart = Literal["sheets", "costs"]
_PARTS: tuple[tuple[StockPart, str], ...] = (("sheets", "Sheets and rolls"), ("costs", "What the books cost"))
_SHELF_PX = 340


def open_stock(window: Window, part: StockPart = "sheets", material: str = "") -> StockDialog:
    """Open it over a window, or turn to a part of it; `material`: with the fields of a new stock of that."""
    # One that was closed just now may still be there.
    dialog = next((each for each in window.findChildren(StockDialog) if each.isVisible()), None) or StockDialog(window)
    dialog.show_part(part)
    if material:
        dialog.shelf.begin(material)
    dialog.show()
    return dialog


class StockDialog(QDialog):
    """Follows the project while it is open; what it asks is given up when it closes.

    Undo and Redo work here as in the window.
    """

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window, self._session, self._asking = window, window.session, window.stock
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowModality(Qt.WindowModality.WindowModal)
        self.setWindowTitle("Sheets and rolls")
        self.tabs = QTabBar()
        self.tabs.setAccessibleName("Parts")
        self.tabs.setDrawBase(False)
        self.tabs.setExpanding(False)
        for _, words in _PARTS:
            self.tabs.addTab(words)
        set_tip(self.tabs, "What materials come as and how many are needed; what the books cost by their prices.")
        self.shelf = Shelf(self._session)
        self.needed = Needed(self._asking, self._begin, self._ask_panels)
        self.costs = CostsView(self._session, self._asking)
        self._arrange()
        self.tabs.currentChanged.connect(self._turn)
        self._make_shortcuts()
        self._stop_listening = self._session.listen(lambda _old, _new: self._show_all())
        self._asking.changed.connect(self._show_told)
        self.finished.connect(self._leave)
        self._show_all()
        self._asking.begin()
        (self.shelf.list if self._session.project.stocks else self.shelf.add).setFocus()

    def _arrange(self) -> None:
        self.shelf.setFixedWidth(_SHELF_PX)
        sheets = QWidget()
        row = QHBoxLayout(sheets)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(24)
        row.addWidget(self.shelf)
        row.addWidget(self.needed, 1)
        self.pages = QStackedWidget()
        self.pages.addWidget(sheets)
        self.pages.addWidget(self.costs)
        buttons = QDialogButtonBox()
        buttons.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 12, 20, 12)
        column.setSpacing(12)
        column.addWidget(self.tabs)
        column.addWidget(self.pages, 1)
        column.addWidget(buttons)
        room = self.screen().availableGeometry()
        self.resize(min(1120, room.width() - 80), min(740, room.height() - 60))

    def _make_shortcuts(self) -> None:
        standard = QKeySequence.StandardKey
        for which, act in ((standard.Undo, self._session.undo), (standard.Redo, self._session.redo)):
            for keys in QKeySequence.keyBindings(which):
                QShortcut(keys, self).activated.connect(act)

    @property
    def part(self) -> StockPart:
        """Which part is shown."""
        return _PARTS[self.tabs.currentIndex()][0]

    def show_part(self, part: StockPart) -> None:
        """Show that part."""
        self.tabs.setCurrentIndex([name for name, _ in _PARTS].index(part))

    def _turn(self, at: int) -> None:
        self.pages.setCurrentIndex(at)
        self._show_told()

    def _begin(self, material: str, thickness_mm: float | None) -> None:
        self.shelf.begin(material, thickness_mm)

    def _ask_panels(self) -> None:
        """The question is asked, and shown on the cloth, in the window behind."""
        self.accept()
        self._window.asides.ask("panels")

    def _show_all(self) -> None:
        self.shelf.show_project(self._session.project)
        self._show_told()

    def _show_told(self) -> None:
        """What is needed and what it costs; only the part that is seen."""
        seen = self.needed if self.part == "sheets" else self.costs
        seen.show_project(self._session.project)

    def _leave(self) -> None:
        self._stop_listening()
        self._asking.changed.disconnect(self._show_told)
        self._asking.end()

    # Qt's own

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Return ends the typing in a field and presses no button that stands elsewhere."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.accept()
            return
        super().keyPressEvent(event)
