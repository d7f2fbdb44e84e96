"""What the parts of the book step share: folds made when first opened, and figures that follow a rule until typed."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any, Protocol

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from coverlayout.book.book import Book, Volume
from coverlayout.book.measures import Measures, measures
from coverlayout.book.rules.belonging import RULED, rule_of
from coverlayout.book.rules.table import Rule, rule
from coverlayout.document.project import Project
from coverlayout.errors import BadInput, CoverlayoutError, Remark
from coverlayout.geometry.frames import Point
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.ui.cloths.owner import Owner
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry, Field
from coverlayout.ui.fields.figures import Least, exact_length, exact_number, read_length
from coverlayout.ui.fields.rows import Fold
from coverlayout.units import LengthStyle

__all__ = ["BookOwner", "Pairs", "Part", "Ruled", "Shown", "measures_or_none", "ruled", "size_words", "worded"]

# Where the measures tell what a figure is while it is left to the rule.
_MEASURED = {
    "square_mm": "square_mm",
    "tail_square_mm": "tail_square_mm",
    "board_setback_mm": "setback_mm",
    "joint_mm": "joint_mm",
    "mitre_distance_mm": "mitre_mm",
    "spine_on_board_mm": "spine_on_board_mm",
    "corner_leg_mm": "corner_leg_mm",
    "side_lap_mm": "lap_mm",
    "hinge_mm": "hinge_mm",
    "slipcase_clearance_mm": "clearance_mm",
    "spine_rise_mm": "rise_mm",
    "spine_width_mm": "spine_mm",
}


class BookOwner(Owner, Protocol):
    """The book step: it takes what was given to the book shown."""

    def change(self, **fields: Any) -> None:
        """Change the book shown by the field names of Book, as one step; BadInput goes through."""

    def change_part(self, part: str, **fields: Any) -> None:
        """Change its `paper`, `sewing` or `label` by the field names of that record, as one step."""

    def trying(self, act: Callable[[], None]) -> None:
        """Do something from a button; what is wrong is said above the cloth."""

    def points_at(self, entry: Field, name: str) -> None:
        """The picture picks `name` out as long as the field has the keys."""


@dataclass(frozen=True)
class Shown:
    """What the book step shows: a book (one still without a size where there is none), and how lengths are shown."""

    project: Project
    book: Book
    style: LengthStyle

    @property
    def volume(self) -> Volume:
        """The first volume: its figures stand in the fields."""
        return self.book.volumes[0]

    @property
    def measured(self) -> Measures | None:
        """Its figures, None while it cannot be measured."""
        return measures_or_none(self.book)

    def by_rule_mm(self, field: str) -> float | None:
        """What a figure of the book is while it is not given; None when that cannot be told yet."""
        if field == "spine_allowance_mm":
            return rule_of(self.book, field).figure()
        given: dict[str, Any] = {field: None}
        left = measures_or_none(replace(self.book, **given))
        if left is not None:
            figure: float | None = getattr(left, _MEASURED[field])
            return figure
        found = rule_of(self.book, field) if field in RULED else None
        return None if found is None or found.times is not None else found.figure()


def measures_or_none(book: Book) -> Measures | None:
    """The measures of the first volume, None while something is missing or cannot be."""
    try:
        return measures(book, book.volumes[0])
    except CoverlayoutError:
        return None


def size_words(size_mm: Point, style: LengthStyle) -> str:
    """Width and height with the unit once, never rounded where the unit can say them.

    >>> size_words((114.3, 152.4), LengthStyle()), size_words((114.3, 152.4), LengthStyle("in", inch_parts=16))
    ('114.3 × 152.4 mm', '4 1/2 × 6 in')
    """
    return " × ".join(exact_length(side, style) for side in size_mm) + f" {style.unit}"


def worded(code: str, style: LengthStyle, **figures: str | float) -> str:
    """A sentence of the book step, its lengths in the maker's unit."""
    return style.said(Remark.of(code, **figures))


class Ruled(Entry):
    """A figure that follows a rule until it is typed; cleared, it follows the rule again.

    While it follows, the rule's figure stands in the field, muted. `give` takes None for a cleared field.
    """

    def show_ruled(self, value: Any, by_rule: Any, unit: str = "") -> None:
        """Show a figure of the project; None, or what the rule says anyway, shows the rule's figure."""
        self.line.setPlaceholderText("" if by_rule is None else self.words(by_rule))
        follows = value is None or (
            isinstance(value, float) and by_rule is not None and abs(value - by_rule) <= SAME_LENGTH_MM
        )
        self.show_value(None if follows else value, unit)


def ruled(owner: Owner, title: str, give: Callable[[float | None], None], *, like: str, least: Least = "0") -> Ruled:
    """A field for a length that a rule knows."""
    read = read_length(title, like, lambda: owner.style_of_lengths, least)
    return Ruled(
        title,
        lambda text: read(text) if text.strip() else None,
        lambda value: exact_length(value, owner.style_of_lengths),
        give,
        tip=title,
        unit=owner.style_of_lengths.unit,
    )


def ruled_number(title: str, read: Callable[[str], Any], give: Callable[[Any], None], *, tip: str) -> Ruled:
    """A field for a plain number that a rule knows."""
    return Ruled(
        title,
        lambda text: read(text) if text.strip() else None,
        lambda value: str(value) if isinstance(value, int) else exact_number(value),
        give,
        tip=tip,
    )


def read_number(text: str) -> float:
    """A plain number of 0 or more, a comma or a point before its decimals.

    >>> read_number("1.25"), read_number("1,25")
    (1.25, 1.25)
    """
    plain = text.strip()
    if not re.fullmatch(r"\d{1,6}(?:[.,]\d{1,6})?", plain):
        raise BadInput("number-unreadable", found=plain[:40])
    return float(plain.replace(",", "."))


class FigureOfBook(Ruled):
    """One of the figures of a book that a rule knows, by the name of its field.

    `hint` explains it where the table of rules has no row for it.
    """

    def __init__(self, owner: BookOwner, field: str, title: str, *, like: str, hint: str = "", **more: Any) -> None:
        least: Least = more.get("least", "0")
        read = read_length(title, like, lambda: owner.style_of_lengths, least)
        super().__init__(
            title,
            lambda text: read(text) if text.strip() else None,
            lambda value: exact_length(value, owner.style_of_lengths),
            lambda value: owner.change(**{field: value}),
            tip=hint or title,
            unit=owner.style_of_lengths.unit,
        )
        self.of = field
        self._hint = hint
        owner.points_at(self, more.get("points_at", RULED.get(field, "")))

    def show_figure(self, shown: Shown) -> None:
        """The figure given, else the rule's; the tooltip says where that comes from."""
        unit = shown.style.unit
        by_rule = shown.by_rule_mm(self.of)
        given = getattr(shown.book, self.of)
        if self.of in RULED:
            found = rule_of(shown.book, self.of)
            nice = found.nice_mm(unit) if found.times is None else None
            if nice is not None and given is not None and abs(given - nice) <= SAME_LENGTH_MM:
                by_rule = nice
            self.explain(tip_of(found, by_rule, shown.style))
        self.show_ruled(given, by_rule, unit)


def tip_of(found: Rule, by_rule_mm: float | None, style: LengthStyle) -> str:
    """What a figure means, what the rule says and who says so."""
    figure = (
        "" if by_rule_mm is None else worded("by-rule", style, figure=exact_length(by_rule_mm, style), unit=style.unit)
    )
    return " ".join(part for part in (found.hint, figure, worded("rule-source", style, source=found.source)) if part)


def rule_tip(name: str, shown: Shown) -> str:
    """The same for a rule by its name, at the figure it has in the maker's unit."""
    found = rule(name, shown.book.structure)
    return tip_of(found, found.nice_mm(shown.style.unit) if found.times is None else None, shown.style)


class Pairs(QWidget):
    """Fields two to a row, of which only some may be shown; those keep the order they were given in."""

    def __init__(self, fields: Sequence[QWidget]) -> None:
        super().__init__()
        self._fields = tuple(fields)
        self._now: tuple[QWidget, ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(12)
        self._grid.setVerticalSpacing(8)
        self._grid.setColumnStretch(0, 1)
        self._grid.setColumnStretch(1, 1)
        for field in self._fields:
            field.setParent(self)
            field.hide()
        self.show_only(self._fields)

    def show_only(self, fields: Sequence[QWidget]) -> None:
        """Show these and hide the others."""
        wanted = tuple(field for field in self._fields if field in fields)
        if wanted == self._now:
            return
        for field in self._now:
            self._grid.removeWidget(field)
            if field not in wanted:
                field.hide()
        for at, field in enumerate(wanted):
            row, column = divmod(at, 2)
            self._grid.addWidget(field, row, column, Qt.AlignmentFlag.AlignTop)
            field.show()
        self._now = wanted


def _place_in(inside: QWidget, field: QWidget) -> tuple[int, int]:
    at = field.mapTo(inside, QPoint(0, 0))
    return at.y(), at.x()


class Part(Fold):
    """A fold of the book step. Its fields are made when it is first opened; closed, only its heading is kept up."""

    def __init__(self, owner: BookOwner, words: str, *, tip: str) -> None:
        self._is_made = False
        self._in_order = 0
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

    def open(self) -> None:
        """Open the fold."""
        self.head.setChecked(True)

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
