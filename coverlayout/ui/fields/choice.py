"""A field with a few words to choose from."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QPointF, QSignalBlocker, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPaintEvent, QPalette, QPen, QPixmap, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QComboBox, QStyle, QStyleOptionComboBox

from coverlayout.ui.fields.entry import Field

__all__ = ["PICTURE_PX", "Choice"]

# Frame and padding of the open list and of its rows, both sides, and a little air.
_BESIDE_WORDS_PX = 32
PICTURE_PX = QSize(56, 42)


class _Words(QComboBox):
    """A box of words with a plain sign that it opens; the wheel turns the panel, not the choice."""

    picture_of: Callable[[int], QPixmap] | None = None
    """Makes the picture of a row, where the rows have pictures."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """The box, and a small angle at its right end."""
        super().paintEvent(event)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            role = QPalette.ColorRole.Text if self.isEnabled() else QPalette.ColorRole.PlaceholderText
            painter.setPen(QPen(self.palette().color(role), 1.5))
            x, y = self.width() - 15.0, self.height() / 2
            painter.drawPolyline(QPolygonF([QPointF(x - 4, y - 2), QPointF(x, y + 2), QPointF(x + 4, y - 2)]))

    def initStyleOption(self, option: QStyleOptionComboBox) -> None:
        """What has no room ends in dots."""
        super().initStyleOption(option)
        inside = QStyle.SubControl.SC_ComboBoxEditField
        room = self.style().subControlRect(QStyle.ComplexControl.CC_ComboBox, option, inside, self).width()
        option.currentText = self.fontMetrics().elidedText(self.currentText(), Qt.TextElideMode.ElideRight, room)

    def showPopup(self) -> None:
        """The list opens as wide as its longest row, however narrow the box is; only there are pictures."""
        if self.picture_of is not None:
            self.view().setIconSize(PICTURE_PX)
            for at in range(self.count()):
                self.setItemIcon(at, QIcon(self.picture_of(at)))
        self.fit_list()
        super().showPopup()

    def hidePopup(self) -> None:
        """Closed, the box has words only and keeps its height."""
        super().hidePopup()
        if self.picture_of is not None:
            for at in range(self.count()):
                self.setItemIcon(at, QIcon())

    def fit_list(self) -> None:
        """Make the list that opens wide enough for every row."""
        view = self.view()
        view.ensurePolished()
        beside = _BESIDE_WORDS_PX + (PICTURE_PX.width() + 8 if self.picture_of is not None else 0)
        if self.count() > self.maxVisibleItems():
            beside += view.verticalScrollBar().sizeHint().width()
        longest = max(
            (view.fontMetrics().horizontalAdvance(self.itemText(at)) for at in range(self.count())), default=0
        )
        view.setMinimumWidth(longest + beside)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """A choice is never changed by scrolling past it."""
        event.ignore()


class Choice(Field):
    """One of a few words. `choices` are (value, words); `give` takes the chosen value."""

    def __init__(
        self, title: str, choices: tuple[tuple[Any, str], ...], give: Callable[[Any], None], *, tip: str
    ) -> None:
        self.box = _Words()
        # Nor does scrolling past it take the keys from where something is being typed.
        self.box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        super().__init__(title, self.box, tip)
        self._give = give
        self._values: list[Any] = []
        self.set_choices(choices)
        self.box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.box.setMinimumContentsLength(6)
        self.box.activated.connect(self._chosen)

    def set_pictures(self, picture_of: Callable[[Any, int], QPixmap]) -> None:
        """Pictures in the list that opens: `picture_of` makes that of a value, so many pixels wide."""
        self.box.picture_of = lambda at: picture_of(self._values[at], PICTURE_PX.width())

    def set_choices(self, choices: tuple[tuple[Any, str], ...]) -> None:
        """Other words to choose from; nothing happens when they are the same."""
        values = [value for value, _ in choices]
        words = [word for _, word in choices]
        if values == self._values and words == [self.box.itemText(at) for at in range(self.box.count())]:
            return
        with QSignalBlocker(self.box):
            self.box.clear()
            self._values = values
            self.box.addItems(words)

    @property
    def value(self) -> Any:
        """The chosen value, None when nothing is chosen."""
        at = self.box.currentIndex()
        return self._values[at] if 0 <= at < len(self._values) else None

    def show_value(self, value: Any) -> None:
        """Show a value of the project; one that is not among the choices shows nothing chosen."""
        self.box.setCurrentIndex(self._values.index(value) if value in self._values else -1)
        self.show_trouble("")

    def _chosen(self, at: int) -> None:
        self.attempt(lambda: self._give(self._values[at]))
