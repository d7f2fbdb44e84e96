"""A place given by number while a task is under way on the canvas."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.ui.fields.entry import set_state, set_tip
from coverlayout.ui.theme import figures_font
from coverlayout.units import LengthStyle, parse_length

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["TypedPlace", "read_place"]

_WIDTH_PX = 132


def read_place(text: str, style: LengthStyle) -> Point:
    """Two lengths with a comma (or a semicolon) between, or two plain numbers with a space; mm.

    >>> read_place("120, 45", LengthStyle()), read_place("4 1/2; 3", LengthStyle("in"))
    ((120.0, 45.0), (114.3, 76.2))
    >>> read_place("120 45", LengthStyle())
    (120.0, 45.0)
    """
    for sign in (";", ",", None):
        parts = [part for part in text.split(sign) if part.strip()]
        if len(parts) == 2:
            x, y = (
                parse_length(part, style.unit, where="Place", like=f"120, 45 {style.unit}", least="any")
                for part in parts
            )
            return x, y
    raise BadInput("place-unreadable", found=text[:40])


class TypedPlace(QLineEdit):
    """Opens when a digit is typed on the canvas, counts from the top left of the cloth as seen, and closes by Enter."""

    def __init__(self, canvas: Canvas, parent: QWidget) -> None:
        super().__init__(parent)
        self._canvas = canvas
        self.setAccessibleName("Place of the point, across, down")
        set_tip(self, "From the left and from the top of the cloth as you see it: 120, 45.")
        self.setPlaceholderText("across, down")
        self.setFont(figures_font())
        self.setFixedWidth(_WIDTH_PX)
        self.returnPressed.connect(self._give)
        self.textEdited.connect(lambda _text: set_state(self, ""))
        canvas.work.typed.connect(self.open)
        canvas.work.changed.connect(self._follow)
        self.hide()

    def open(self, text: str) -> None:
        """Begin with what was typed on the canvas."""
        self.setText(text)
        set_state(self, "")
        self.show()
        self.setFocus()
        self.setCursorPosition(len(text))

    def _follow(self) -> None:
        if self._canvas.work.task is None:
            self.hide()

    def _give(self) -> None:
        task = self._canvas.work.task
        style = self._canvas.shown.project.preferences.length_style
        if task is None or not self.text().strip():
            self._close()
            return
        try:
            x, y = read_place(self.text(), style)
        except BadInput as refused:
            set_state(self, "no")
            self._canvas.hint.emit(style.said(refused.remark))
            return
        left, top = task.zero()
        self._close()
        self._canvas.work.at_mm = left + x, top + y
        # As if Ctrl were held: what is typed is meant so, and catches at nothing near it.
        self._canvas.work.set_by_key(self._canvas.work.at_mm, Qt.KeyboardModifier.ControlModifier)

    def _close(self) -> None:
        self.hide()
        self._canvas.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape closes the field; the task goes on."""
        if event.key() == Qt.Key.Key_Escape:
            self._close()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A field that is left is closed."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.hide()
