"""What the book step shows: a book with its figures by the rules, and words for them in the maker's unit."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from coverlayout.book.book import Book, Volume
from coverlayout.book.measures import Measures, measures
from coverlayout.book.rules.belonging import RULED, rule_of
from coverlayout.document.project import Project
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.geometry.frames import Point
from coverlayout.ui.fields.figures import exact_length
from coverlayout.units import LengthStyle

__all__ = ["Shown", "measures_or_none", "size_words", "worded"]

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


@dataclass(frozen=True)
class Shown:
    """What the book step shows: a book (one still without a size where there is none), and how lengths are shown.

    `number` is that of the volume whose figures are shown; the first where there is none of that number.
    """

    project: Project
    book: Book
    style: LengthStyle
    number: int = 0

    @property
    def volume(self) -> Volume:
        """The volume shown: its figures stand in the fields and in the pictures."""
        return next((each for each in self.book.volumes if each.number == self.number), self.book.volumes[0])

    @property
    def measured(self) -> Measures | None:
        """Its figures, None while it cannot be measured."""
        return measures_or_none(self.book, self.volume)

    def by_rule_mm(self, field: str) -> float | None:
        """What a figure of the book is while it is not given; None when that cannot be told yet."""
        if field == "spine_allowance_mm":
            return rule_of(self.book, field).figure()
        given: dict[str, Any] = {field: None}
        left = measures_or_none(replace(self.book, **given), self.volume)
        if left is not None:
            figure: float | None = getattr(left, _MEASURED[field])
            return figure
        found = rule_of(self.book, field) if field in RULED else None
        return None if found is None or found.times is not None else found.figure()


def measures_or_none(book: Book, volume: Volume) -> Measures | None:
    """The measures of a volume, None while something is missing or cannot be."""
    try:
        return measures(book, volume)
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
