"""Fields whose figure follows a rule until it is typed: muted while it follows, cleared it follows again."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from coverlayout.book.rules.belonging import RULED, rule_of
from coverlayout.book.rules.table import Rule, rule
from coverlayout.errors import BadInput
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.ui.cloths.owner import Owner
from coverlayout.ui.fields.entry import Entry
from coverlayout.ui.fields.figures import Least, exact_length, exact_number, read_length
from coverlayout.ui.ruled.owner import BookOwner
from coverlayout.ui.ruled.shown import Shown, worded
from coverlayout.units import LengthStyle

__all__ = ["FigureOfBook", "Ruled", "read_number", "rule_tip", "ruled", "ruled_number", "tip_of"]


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
