"""A field for a list of points."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QPlainTextEdit

from coverlayout.ui.fields.entry import Field
from coverlayout.ui.theme import figures_font

__all__ = ["PointsEntry"]


class PointsEntry(Field):
    """A list of points, one `x,y` a line. `read` gives None for an empty list; given when the field is left.

    `offer` gives points to start from: they are put into an empty field when it is entered, and go again when it is
    left as they were. Points may be shown less exactly than they are: those left as shown stay as exact as they were.
    """

    def __init__(
        self,
        title: str,
        read: Callable[[str], Any],
        show: Callable[[Any], str],
        give: Callable[[Any], None],
        *,
        tip: str,
        lines: int = 4,
        offer: Callable[[], Any] = lambda: None,
    ) -> None:
        self.text = QPlainTextEdit()
        super().__init__(title, self.text, tip)
        self.text.setFont(figures_font())
        self.text.setTabChangesFocus(True)
        self.text.setFixedHeight(self.text.fontMetrics().lineSpacing() * lines + 18)
        self._read = read
        self._show = show
        self._give = give
        self._offer = offer
        self._shown = ""
        self._value: Any = None
        self._offered = ""

    def show_value(self, value: Any) -> None:
        """Show the points of the project, unless the maker is typing here just now."""
        shown = "" if value is None else self._show(value)
        touched = self.text.hasFocus() and self.text.toPlainText() != self._shown
        self._shown, self._value = shown, value
        if not touched and not self.trouble.isVisibleTo(self):
            self.text.setPlainText(shown)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Entering an empty field offers points to start from; leaving the field gives the points."""
        if event.type() == QEvent.Type.FocusIn and not self.text.toPlainText().strip():
            start = self._offer()
            self._offered = "" if start is None else self._show(start)
            self.text.setPlainText(self._offered)
        if event.type() == QEvent.Type.FocusOut:
            self.finish()
        return super().eventFilter(watched, event)

    def finish(self) -> None:
        """Give the points now when they were touched."""
        typed = self.text.toPlainText().strip()
        if self._offered and typed == self._offered.strip():
            typed = self._shown.strip()
        self._offered = ""
        if typed == self._shown.strip():
            self.show_trouble("")
            self.text.setPlainText(self._shown)
        elif self.attempt(lambda: self._give(self._kept(self._read(typed)))):
            self.text.setPlainText(self._shown)

    def _kept(self, typed: Any) -> Any:
        """The points typed; one that reads as it was shown is the very point it was."""
        if typed is None or self._value is None:
            return typed
        exact: dict[str, list[Any]] = {}
        for point in self._value:
            exact.setdefault(self._show((point,)), []).append(point)
        return tuple(found.pop(0) if (found := exact.get(self._show((point,)))) else point for point in typed)
