"""What a guide is: a line or a place that a carried piece was caught at, with its name and where to draw it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.errors import Remark
from coverlayout.geometry.frames import Point

__all__ = ["RANK", "Caught", "Guide", "GuideKind", "Line", "said"]

GuideKind = Literal[
    "edge",
    "zone",
    "touch",
    "gap",
    "room",
    "room-edge",
    "between",
    "like",
    "middle-cloth",
    "middle-ground",
    "level",
    "middle",
    "boards",
    "anchor",
    "wish",
    "runs-on",
    "repeat",
]
"""`edge` to `like` are about ground and gaps, `middle-cloth` to `anchor` about a common line, the rest about the print.

`room` and `room-edge` keep the room the maker wishes, `gap` the least gap that was set; `between` halves what is free
between two neighbours, `like` repeats the gap of two others; `boards` and `anchor` speak of the board under the cloth.
"""

# Of guides that ask for the very same place the first is named: what the knife follows before what is only in line.
_ORDER: tuple[GuideKind, ...] = (
    *("edge", "zone", "touch", "gap", "between", "like", "room", "room-edge", "middle-cloth", "middle-ground"),
    *("level", "middle", "boards", "anchor", "wish", "runs-on", "repeat"),
)
RANK: dict[GuideKind, int] = {kind: rank for rank, kind in enumerate(_ORDER)}

_FIGURES = ("piece", "other")

Line = tuple[Point, Point]


@dataclass(frozen=True)
class Guide:
    """One guide that caught: `says` names it, `lines_mm` and `marks_mm` (places to mark) are in the cloth frame.

    `offset_mm` is how far it moves what is carried from where the hand holds it; a guide for one direction only asks
    for nothing in the other.
    """

    kind: GuideKind
    says: Remark
    lines_mm: tuple[Line, ...]
    offset_mm: Point
    marks_mm: tuple[Point, ...] = ()


@dataclass(frozen=True)
class Caught:
    """Where what is carried comes to lie: `by_mm` in the cloth frame from where the hand holds it, and what caught it.

    One guide for both directions, or at most one across and one along; none when nothing was near enough.
    """

    by_mm: Point = (0.0, 0.0)
    guides: tuple[Guide, ...] = ()


def said(kind: GuideKind, names: tuple[str, ...] = (), length_mm: float | None = None) -> Remark:
    """The name of a guide: its kind, the pieces it goes by, and its length where it is about one.

    >>> said("gap", ("Back cover",), 6.0).text()
    '6 mm gap to Back cover'
    """
    figures: list[tuple[str, str | int | float]] = list(zip(_FIGURES, names, strict=False))
    if length_mm is not None:
        figures.append(("length_mm", length_mm))
    return Remark(f"guide-{kind}", tuple(figures))
