"""One typed field with its label above, its unit inside and, when something is wrong, one sentence below."""

from __future__ import annotations

from collections.abc import Callable
from textwrap import fill
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QVBoxLayout, QWidget

from coverlayout.errors import CoverlayoutError
from coverlayout.ui.theme import figures_font
from coverlayout.units import LengthStyle

__all__ = ["Entry", "Field", "label", "set_state", "set_tip", "warning"]


def label(text: str = "", role: str = "") -> QLabel:
    """A line of words that wraps; `role` picks its type from the look (muted, hint, title)."""
    made = QLabel(text)
    made.setWordWrap(True)
    made.setTextFormat(Qt.TextFormat.PlainText)
    if role:
        made.setProperty("role", role)
    return made


def warning() -> QLabel:
    """A line for what must not be overlooked; hidden until it has something to say."""
    made = label(role="hint")
    made.setProperty("state", "tight")
    made.hide()
    return made


def set_tip(widget: QWidget, tip: str) -> None:
    """A tooltip that keeps to a readable width, and the same words for those who hear the screen."""
    widget.setToolTip(fill(tip, 64))
    widget.setAccessibleDescription(tip)


def set_state(widget: QWidget, state: str) -> None:
    """Set the `state` the style sheet looks at, and draw the widget anew when it changed."""
    if (widget.property("state") or "") != state:
        widget.setProperty("state", state)
        widget.style().unpolish(widget)
        widget.style().polish(widget)


class Field(QWidget):
    """Label, field, sentence of trouble: what every field has."""

    entered = Signal()
    left = Signal()

    def __init__(self, title: str, field: QWidget, tip: str) -> None:
        super().__init__()
        self.field = field
        self._tip = tip
        self.title = label(title, "muted")
        self.title.setBuddy(field)
        self.trouble = label(role="muted")
        self.trouble.setProperty("state", "no")
        self.trouble.hide()
        for part in (self, field):
            set_tip(part, tip)
        field.setAccessibleName(title)
        field.installEventFilter(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.title)
        column.addWidget(field)
        column.addWidget(self.trouble)

    def rename(self, title: str) -> None:
        """Another title: the same field asks for something else now."""
        self.title.setText(title)
        self.field.setAccessibleName(title)

    def explain(self, tip: str) -> None:
        """Another tooltip: what the field means now, or why it sleeps."""
        if tip != self._tip:
            self._tip = tip
            for part in (self, self.field):
                set_tip(part, tip)

    def attempt(self, act: Callable[[], None]) -> bool:
        """Do something that may refuse in one sentence; the sentence then stands under the field."""
        try:
            act()
        except CoverlayoutError as fault:
            self.show_trouble(self._said(fault))
            return False
        self.show_trouble("")
        return True

    def _said(self, fault: CoverlayoutError) -> str:
        """The sentence, its lengths in the unit of the panel the field stands in."""
        above: object = self.parentWidget()
        while isinstance(above, QWidget):
            style = getattr(above, "style_of_lengths", None)
            if isinstance(style, LengthStyle):
                return style.said(fault.remark)
            above = above.parentWidget()
        return str(fault)

    def show_trouble(self, sentence: str) -> None:
        """The sentence under the field; empty takes it away."""
        self.trouble.setText(sentence)
        self.trouble.setVisible(bool(sentence))
        set_state(self.field, "no" if sentence else "")
        self.field.setAccessibleDescription(sentence or self._tip)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Tell when the field is entered and left: the drawing beside it points at what it means for so long."""
        if event.type() == QEvent.Type.FocusIn:
            self.entered.emit()
        elif event.type() == QEvent.Type.FocusOut:
            self.left.emit()
        return super().eventFilter(watched, event)


class _Line(QLineEdit):
    """A line that shows its unit at the right end and goes back to the last good figure on Escape."""

    escaped = Signal()

    def __init__(self, unit: str) -> None:
        super().__init__()
        self.setFont(figures_font())
        self._unit = QLabel(unit, self)
        self._unit.setProperty("role", "hint")
        self._unit.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.set_unit(unit)

    def set_unit(self, unit: str) -> None:
        """The unit a bare number is read in."""
        self._unit.setText(unit)
        self._unit.adjustSize()
        self.setTextMargins(0, 0, self._unit.width() + 2 if unit else 0, 0)
        self._place()

    def _place(self) -> None:
        at = self._unit.sizeHint()
        self._unit.setGeometry(
            self.width() - at.width() - 8, (self.height() - at.height()) // 2, at.width(), at.height()
        )

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the unit at the right end."""
        super().resizeEvent(event)
        self._place()

    def event(self, event: QEvent) -> bool:
        """Undo and Redo are the project's as long as nothing is being typed here."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride and not self.isModified():
            standard = QKeySequence.StandardKey
            if event.matches(standard.Undo) or event.matches(standard.Redo):
                event.ignore()
                return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape gives the figure up."""
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self.escaped.emit()
            return
        super().keyPressEvent(event)


class Entry(Field):
    """A typed value. `read` makes the value of the text, `show` the text of the value, `give` takes it to the project.

    `read` and `give` may raise CoverlayoutError; the field then keeps the text and says why. Nothing is given when the
    text was not touched, so walking through the fields changes nothing.
    """

    def __init__(
        self,
        title: str,
        read: Callable[[str], Any],
        show: Callable[[Any], str],
        give: Callable[[Any], None],
        *,
        tip: str,
        unit: str = "",
    ) -> None:
        self.line = _Line(unit)
        super().__init__(title, self.line, tip)
        self._read = read
        self._show = show
        self._give = give
        self._value: Any = None
        self.line.editingFinished.connect(self._finish)
        self.line.escaped.connect(self._restore)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Left again, the field shows the beginning of its figure."""
        if event.type() == QEvent.Type.FocusOut:
            self.line.setCursorPosition(0)
        return super().eventFilter(watched, event)

    def words(self, value: Any) -> str:
        """The text this field has for a value."""
        return self._show(value)

    def show_value(self, value: Any, unit: str = "") -> None:
        """Show a value of the project, unless the maker is typing here just now."""
        self._value = value
        if unit:
            self.line.set_unit(unit)
        if not (self.line.isModified() and (self.line.hasFocus() or self.trouble.isVisibleTo(self))):
            self._restore()

    def give_up(self) -> None:
        """Forget what was typed but not taken, as Escape does."""
        self._restore()

    def _restore(self) -> None:
        text = "" if self._value is None else self._show(self._value)
        self.show_trouble("")
        if text != self.line.text():
            self.line.setText(text)
        self.line.setModified(False)
        if not self.line.hasFocus():
            # A figure longer than the field is read from its beginning.
            self.line.setCursorPosition(0)

    def _finish(self) -> None:
        if not self.line.isModified():
            return
        shown = "" if self._value is None else self._show(self._value)
        if self.line.text().strip() == shown:
            self._restore()
            return

        def act() -> None:
            value = self._read(self.line.text())
            self.line.setModified(False)
            try:
                self._give(value)
            except CoverlayoutError:
                self.line.setModified(True)
                raise

        if self.attempt(act):
            self._restore()
