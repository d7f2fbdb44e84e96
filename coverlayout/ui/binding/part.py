"""A fold of the book step, whose fields are made when it is first opened."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtWidgets import QWidget

from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.rows import Fold, area_around
from coverlayout.ui.ruled.owner import BookOwner
from coverlayout.ui.ruled.shown import Shown

__all__ = ["Part"]


def _place_in(inside: QWidget, field: QWidget) -> tuple[int, int]:
    at = field.mapTo(inside, QPoint(0, 0))
    return at.y(), at.x()


class Part(Fold):
    """A fold of the book step. Its fields are made when it is first opened; closed, only its heading is kept up."""

    def __init__(self, owner: BookOwner, words: str, *, tip: str) -> None:
        self._is_made = False
        self._in_order = 0
        self._comes_into_view = True
        self._shown: Shown | None = None
        self.owner = owner
        self.tip = tip
        super().__init__(words, tip=tip)

    def make(self) -> None:
        """Make the fields; called once."""
        raise NotImplementedError

    def show_book(self, shown: Shown) -> None:
        """Show the book in the fields; called only while the part is open."""
        raise NotImplementedError

    def summed_up(self, shown: Shown) -> str:
        """A few words for the heading."""
        del shown
        return ""

    def look_at(self, shown: Shown) -> None:
        """Another book, or the same changed."""
        self._shown = shown
        self.set_note(self.summed_up(shown))
        if self.head.isChecked():
            self._bring_up()

    def open(self, *, in_view: bool = True) -> None:
        """Open the fold, scrolled up unless `in_view` is False: what is above it should stay where it is."""
        self._comes_into_view = in_view
        self.head.setChecked(True)
        self._comes_into_view = True

    @property
    def first(self) -> QWidget:
        """The field at its top that can be entered, its heading when there is none."""
        fields = (each for each in self.inside.findChildren(QWidget) if each.focusPolicy() & Qt.FocusPolicy.TabFocus)
        awake = (each for each in fields if each.isVisible() and each.isEnabled() and each.window() is self.window())
        return min(awake, key=lambda each: _place_in(self.inside, each), default=self.head)

    def _turn(self, is_open: bool) -> None:
        if is_open:
            self._bring_up()
        super()._turn(is_open)
        if is_open and self._comes_into_view and self.isVisible():
            # Once it is laid out.
            QTimer.singleShot(0, self, self._come_into_view)

    def _come_into_view(self) -> None:
        """What was opened at the foot of the panel is scrolled up, its heading never out of sight."""
        area = area_around(self)
        if area is not None:
            area.ensureWidgetVisible(self.inside, 0, 8)
            area.ensureWidgetVisible(self.head, 0, 8)

    def _bring_up(self) -> None:
        if not self._is_made:
            self._is_made = True
            self.make()
        if self._shown is not None:
            self.show_book(self._shown)
        self._keep_order()

    def _keep_order(self) -> None:
        """Tab goes from the heading through the fields from top to bottom, though they were made after all others."""
        # The list that a choice opens is a window of its own.
        inside = [each for each in self.inside.findChildren(QWidget) if each.window() is self.window()]
        fields = [each for each in inside if each.focusPolicy() & Qt.FocusPolicy.TabFocus]
        if len(fields) != self._in_order:
            self._in_order = len(fields)
            for before, after in pairwise([self.head, *fields]):
                QWidget.setTabOrder(before, after)

    def choose(self, title: str, field: str, choices: Sequence[tuple[Any, str]], *, tip: str) -> Choice:
        """A choice of words for a field of the book."""
        return Choice(title, tuple(choices), lambda value: self.owner.change(**{field: value}), tip=tip)
