"""The list of all pieces of the job, each with a sign of how it lies."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QItemSelectionModel, QPoint, QRectF, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QColor, QContextMenuEvent, QIcon, QKeyEvent, QPainter, QPixmap
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QListWidgetItem

from coverlayout.ui.fields.entry import set_tip
from coverlayout.ui.theme import Theme
from coverlayout.ui.verdict.chips import Symbol, draw_symbol

__all__ = ["PieceList"]

_PIECE_ROLE = Qt.ItemDataRole.UserRole


class PieceList(QListWidget):
    """Rows are (id, words, sign). `entered`: the maker pressed Enter, so the chosen piece is to be laid.

    `menu_asked` carries the place on the screen where the menu of the chosen pieces is wanted.
    """

    entered = Signal()
    menu_asked = Signal(QPoint)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._icons: dict[Symbol, QIcon] = {}
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setIconSize(QSize(16, 16))
        self.setUniformItemSizes(True)
        self.setFixedHeight(156)
        self.setAccessibleName("Pieces")
        set_tip(
            self,
            "All pieces of the job, and how each lies: a tick is planned and lies well, a ring waits beside the cloth, "
            "a cross breaks a rule, a filled ring is pinned, solid corners are cut, a struck ring was spoiled. Enter "
            "lays a piece that waits; the right button has more.",
        )

    @property
    def chosen_ids(self) -> tuple[str, ...]:
        """The pieces chosen in the list."""
        return tuple(item.data(_PIECE_ROLE) for item in self.selectedItems())

    def choose(self, piece_ids: Sequence[str]) -> None:
        """Mark these pieces; nobody is told."""
        with QSignalBlocker(self):
            for at in range(self.count()):
                item = self.item(at)
                item.setSelected(item.data(_PIECE_ROLE) in piece_ids)
                if piece_ids and item.data(_PIECE_ROLE) == piece_ids[-1]:
                    self.setCurrentItem(item, QItemSelectionModel.SelectionFlag.NoUpdate)
                    self.scrollToItem(item)

    def show_rows(self, rows: Sequence[tuple[str, str, Symbol]]) -> None:
        """Rows that stay keep their item, so that nothing flickers and the choice holds."""
        with QSignalBlocker(self):
            if [row[0] for row in rows] != [self.item(at).data(_PIECE_ROLE) for at in range(self.count())]:
                chosen = self.chosen_ids
                self.clear()
                for piece_id, _, _ in rows:
                    item = QListWidgetItem()
                    item.setData(_PIECE_ROLE, piece_id)
                    self.addItem(item)
                    item.setSelected(piece_id in chosen)
            for at, (_, words, symbol) in enumerate(rows):
                self.item(at).setText(words)
                self.item(at).setIcon(self._icon(symbol))

    def dress(self, theme: Theme) -> None:
        """Another look; the signs follow when the rows are shown again."""
        self._theme = theme
        self._icons = {}

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter lays the chosen piece, as it does on the cloth."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
            return
        super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """What can be done with the chosen pieces; a press on another row chooses that first."""
        item = self.itemAt(event.pos())
        if event.reason() == QContextMenuEvent.Reason.Mouse and item is not None and not item.isSelected():
            self.setCurrentItem(item, QItemSelectionModel.SelectionFlag.ClearAndSelect)
        self.menu_asked.emit(event.globalPos())

    def _icon(self, symbol: Symbol) -> QIcon:
        if symbol not in self._icons:
            state = {"tick": "fits", "corner": "fits", "cross": "no", "struck": "no"}.get(symbol, "muted")
            icon = QIcon(_sign(symbol, self._theme.color(state)))
            icon.addPixmap(_sign(symbol, self._theme.color("on_accent")), QIcon.Mode.Selected)
            self._icons[symbol] = icon
        return self._icons[symbol]


def _sign(symbol: Symbol, color: QColor) -> QPixmap:
    """A verdict's sign, 16 pixels at 1x, drawn for sharp screens."""
    picture = QPixmap(QSize(32, 32))
    picture.fill(Qt.GlobalColor.transparent)
    with QPainter(picture) as painter:
        painter.scale(2, 2)
        draw_symbol(painter, symbol, QRectF(0, 0, 16, 16), color)
    picture.setDevicePixelRatio(2)
    return picture
