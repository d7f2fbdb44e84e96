"""The list of all actions: a field to say in words what is wanted, and below it every action with its keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QItemSelectionModel, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHeaderView,
    QLineEdit,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
)

from coverlayout.errors import sentence
from coverlayout.ui.actions.act import Act
from coverlayout.ui.fields.entry import label, set_tip
from coverlayout.ui.keyboard.search import Sought, found

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["Finder", "find_action", "show_keys"]

_SIZE_PX = (700, 520)
_ROW_PX, _CELL_PX = 26, 20
_STEPS = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_PageDown: 10, Qt.Key.Key_PageUp: -10}
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class Finder(QDialog):
    """Finds an action and does it. `only_keys` shows those that have keys, and says what hands and keys do besides.

    The field keeps the focus: letters search, arrows choose, Return does it, Escape gives the keys back to the cloth.
    """

    def __init__(self, window: Window, *, only_keys: bool = False) -> None:
        super().__init__(window)
        self._window = window
        self._acts = [each for each in window.menus.every() if each[1].keys_told or not only_keys]
        self._sought = [_sought(menu, act) for menu, act in self._acts]
        self._why_not = [act.why_not() if act.why_not else "" for _, act in self._acts]
        self._shown: tuple[int, ...] = ()
        self.setWindowTitle("All keys" if only_keys else "Find an action")
        self.field = QLineEdit()
        self.field.setPlaceholderText("What would you do?")
        self.field.setAccessibleName("Words of the action")
        set_tip(self.field, "A few words in any order. Arrows choose from the list, Return does it.")
        self.field.installEventFilter(self)
        self.table = self._made_table()
        self.count = label(role="muted")
        self.foot = label()
        self.foot.setMinimumHeight(2 * self.foot.fontMetrics().lineSpacing())
        self.foot.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._arrange(only_keys=only_keys)
        self.field.textChanged.connect(self._show)
        self.table.currentCellChanged.connect(self._tell)
        self.table.cellClicked.connect(self._do_row)
        self.finished.connect(self._give_keys_back)
        self._show("")

    def _made_table(self) -> QTableWidget:
        table = QTableWidget(0, 3)
        table.setAccessibleName("Actions")
        table.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        table.setShowGrid(False)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        table.setMouseTracking(True)
        table.horizontalHeader().hide()
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(_ROW_PX)
        table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        # As wide as the longest of all in the font it is shown in, so that nothing shifts while the maker types.
        table.setParent(self)
        table.ensurePolished()
        for column, texts in ((1, [each.menu for each in self._sought]), (2, [each.keys for each in self._sought])):
            table.setColumnWidth(column, max(table.fontMetrics().horizontalAdvance(text) for text in texts) + _CELL_PX)
        return table

    def _arrange(self, *, only_keys: bool) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 16, 16, 12)
        column.setSpacing(8)
        column.addWidget(self.field)
        column.addWidget(self.count)
        column.addWidget(self.table, 1)
        column.addWidget(self.foot)
        if only_keys:
            column.addWidget(label(sentence("keys-by-hand", {}), "muted"))
            column.addWidget(label(sentence("keys-in-a-task", {}), "muted"))
        self.resize(*_SIZE_PX)
        self.field.setFocus()

    # What is shown

    def _show(self, query: str) -> None:
        """Show what the words lead to, the best first and chosen."""
        self._shown = found(query, self._sought)
        self.table.setRowCount(len(self._shown))
        for row, at in enumerate(self._shown):
            for column, item in enumerate(self._cells(at)):
                self.table.setItem(row, column, item)
        number = len(self._shown)
        code = "finder-none" if not number else "finder-one" if number == 1 else "finder-many"
        self.count.setText(sentence(code, {"count": number}))
        self._choose(0)
        self.table.scrollToTop()
        self._tell()

    def _cells(self, at: int) -> list[QTableWidgetItem]:
        """Words, menu, keys; slanted and muted when it cannot be done now."""
        sought, why_not = self._sought[at], self._why_not[at]
        theme = self._window.look.theme
        cells = [QTableWidgetItem(text) for text in (sought.words, sought.menu, sought.keys)]
        cells[2].setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        for number, cell in enumerate(cells):
            if number or why_not:
                cell.setForeground(theme.color("muted"))
            if why_not:
                slanted = cell.font()
                slanted.setItalic(True)
                cell.setFont(slanted)
        told = ", ".join(part for part in (sought.words, f"menu {sought.menu}", sought.keys) if part)
        not_now = sentence("finder-not-now", {"why": why_not}) if why_not else ""
        cells[0].setData(Qt.ItemDataRole.AccessibleTextRole, f"{told}. {not_now}".strip())
        return cells

    @property
    def chosen(self) -> int | None:
        """Where in the list of all the chosen action lies, None when nothing is found."""
        row = self.table.currentRow()
        return self._shown[row] if 0 <= row < len(self._shown) else None

    def _choose(self, row: int) -> None:
        if self._shown:
            within = min(max(row, 0), len(self._shown) - 1)
            self.table.setCurrentCell(within, 0, QItemSelectionModel.SelectionFlag.ClearAndSelect | _ROWS)

    def _tell(self, *_cells: int) -> None:
        """At the foot: what the chosen action does, or why it cannot be done now."""
        at = self.chosen
        if at is None:
            self.foot.setText("")
            return
        why_not = self._why_not[at]
        self.foot.setText(sentence("finder-not-now", {"why": why_not}) if why_not else self._sought[at].tip)
        spoken = self.table.item(self.table.currentRow(), 0)
        self.field.setAccessibleDescription(spoken.data(_SPOKEN) if spoken else "")

    # What is done

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The field's own keys, but for those that choose from the list and do it."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            step = _STEPS.get(Qt.Key(event.key()))
            if step is not None:
                self._choose(self.table.currentRow() + step)
                return True
            if event.key() in _ENTER:
                self._do_row(self.table.currentRow())
                return True
        return super().eventFilter(watched, event)

    def _do_row(self, row: int, _column: int = 0) -> None:
        """Do the action of a row and close; what cannot be done now stays in sight with its reason."""
        self._choose(row)
        at = self.chosen
        if at is not None and not self._why_not[at]:
            self.accept()
            self._window.menus.do(self._acts[at][1])

    def _give_keys_back(self) -> None:
        self._window.activateWindow()
        self._window.canvas.setFocus(Qt.FocusReason.OtherFocusReason)


_ROWS = QItemSelectionModel.SelectionFlag.Rows
_SPOKEN = Qt.ItemDataRole.AccessibleTextRole


def _sought(menu: str, act: Act) -> Sought:
    words = act.words_now() if act.words_now else act.words
    return Sought(words.replace("&", ""), menu.replace("&", ""), act.tip, act.keys_told)


def find_action(window: Window) -> None:
    """Open the list of all actions."""
    _open(Finder(window))


def show_keys(window: Window) -> None:
    """Open the list of all actions that have keys."""
    _open(Finder(window, only_keys=True))


def _open(finder: Finder) -> None:
    finder.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    finder.setWindowModality(Qt.WindowModality.WindowModal)
    finder.show()
