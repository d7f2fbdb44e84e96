"""Parts that panels are put together from: rows of fields, headings, buttons, and lists that grow and shrink."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QCheckBox,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QStyle,
    QStyleOptionButton,
    QVBoxLayout,
    QWidget,
)

from coverlayout.ui.fields.entry import label, set_tip

__all__ = ["Fold", "RowList", "area_around", "button", "set_role", "side_by_side", "tick"]


def button(words: str, act: Callable[[], None], *, tip: str, role: str = "") -> QPushButton:
    """A button with words on it."""
    made = QPushButton(words)
    set_tip(made, tip)
    if role:
        made.setProperty("role", role)
    made.clicked.connect(lambda _checked=False: act())
    return made


def area_around(widget: QWidget) -> QScrollArea | None:
    """The area that scrolls a widget, None where nothing does."""
    above: object = widget.parentWidget()
    while isinstance(above, QWidget) and not isinstance(above, QScrollArea):
        above = above.parentWidget()
    return above if isinstance(above, QScrollArea) else None


def set_role(widget: QWidget, role: str) -> None:
    """Set the `role` the style sheet looks at, and draw the widget anew when it changed."""
    if (widget.property("role") or "") != role:
        widget.setProperty("role", role)
        widget.style().unpolish(widget)
        widget.style().polish(widget)


def tick(words: str, give: Callable[[bool], None], *, tip: str) -> QCheckBox:
    """A box to tick; `give` hears only of the maker's own clicks and keys."""
    made = QCheckBox(words)
    set_tip(made, tip)
    made.clicked.connect(lambda checked=False: give(checked))
    return made


def side_by_side(*widgets: QWidget, shares: tuple[int, ...] = ()) -> QWidget:
    """Fields in one row, their labels on one line; all of the same width unless `shares` says otherwise."""
    made = QWidget()
    row = QHBoxLayout(made)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(12)
    for widget, share in zip(widgets, shares or (1,) * len(widgets), strict=True):
        is_button = isinstance(widget, QAbstractButton)
        row.addWidget(widget, share, Qt.AlignmentFlag.AlignBottom if is_button else Qt.AlignmentFlag.AlignTop)
    return made


class _FoldHead(QPushButton):
    """The line that opens a fold; what has no room in it is cut short with dots and never widens the panel."""

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def minimumSizeHint(self) -> QSize:
        """Any width will do."""
        return QSize(80, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """The button with as much of its words as there is room for."""
        del event
        option = QStyleOptionButton()
        self.initStyleOption(option)
        room = self.style().subElementRect(QStyle.SubElement.SE_PushButtonContents, option, self).width()
        option.text = self.fontMetrics().elidedText(option.text, Qt.TextElideMode.ElideRight, room)
        with QPainter(self) as painter:
            self.style().drawControl(QStyle.ControlElement.CE_PushButton, option, painter, self)


class Fold(QWidget):
    """A part of a panel that is seldom needed: a line that opens and closes it."""

    def __init__(self, words: str, *, tip: str) -> None:
        super().__init__()
        self._words = words
        self.head = _FoldHead()
        self.head.setProperty("role", "fold")
        self.head.setCheckable(True)
        self.head.setAccessibleName(words)
        set_tip(self.head, tip)
        self.inside = QWidget()
        self.body = QVBoxLayout(self.inside)
        self.body.setContentsMargins(0, 4, 0, 4)
        self.body.setSpacing(8)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self.inside)
        self._note = ""
        self.head.toggled.connect(self._turn)
        self._turn(False)

    def set_note(self, note: str) -> None:
        """A few words after the heading that sum up what lies inside."""
        if note != self._note:
            self._note = note
            self._show_words()

    def _turn(self, is_open: bool) -> None:
        self.inside.setVisible(is_open)
        self._show_words()

    def _show_words(self) -> None:
        note = f": {self._note}" if self._note else ""
        self.head.setText(f"{'−' if self.head.isChecked() else '+'}  {self._words}{note}")


class RowList(QWidget):
    """A list of things with a row of fields each, and a button to add one where `add_words` says so.

    `make_row(key)` makes the widget of one thing, with a method `show_value(value)`; a row stays while its key does.
    """

    def __init__(
        self,
        make_row: Callable[[Any], Any],
        add_words: str = "",
        add: Callable[[], None] = lambda: None,
        *,
        tip: str = "",
    ) -> None:
        super().__init__()
        self._make_row = make_row
        self._rows: dict[Any, Any] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        self.none = label("none", "muted")
        self._column.addWidget(self.none)
        self.add_button = button(add_words, add, tip=tip, role="more")
        self._column.addWidget(self.add_button, 0, Qt.AlignmentFlag.AlignLeft)
        self.add_button.setVisible(bool(add_words))

    def show_values(self, values: dict[Any, Any]) -> None:
        """Show these things, in this order."""
        for key in [key for key in self._rows if key not in values]:
            row = self._rows.pop(key)
            self._column.removeWidget(row)
            row.hide()
            row.deleteLater()
        for at, (key, value) in enumerate(values.items()):
            if key not in self._rows:
                self._rows[key] = self._make_row(key)
                self._column.insertWidget(at, self._rows[key])
            self._rows[key].show_value(value)
        self.none.setVisible(not values)

    def row(self, key: Any) -> Any:
        """The row of one thing, KeyError when it is not shown."""
        return self._rows[key]
