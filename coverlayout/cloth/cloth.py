"""A cloth as the maker knows it: size, outline, what is wrong with it, what it went through, what is printed on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.geometry.frames import Affine, Point, Ring, scale
from coverlayout.geometry.shapes import rectangle
from coverlayout.motif.prints import LaidPrint

__all__ = ["Backing", "BaseLine", "Change", "Cloth", "ClothState", "Flaw", "Zone"]

ClothState = Literal["measured", "to-buy", "to-order"]
Backing = Literal["none", "web", "web and tissue", "paste and paper"]


@dataclass(frozen=True)
class Change:
    """One change in size, percent across and along; minus is shrinkage. Source of the sign: ISO 5077, AATCC 135."""

    name: str
    across_percent: float
    along_percent: float
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Flaw:
    """Ground to keep clear of: an outline, or with `line_width_mm` above 0 a line (two points or more) of that width.

    `fine_where_hidden`: only the seen part of a piece must stay clear. `changes_in`: how many of the cloth's changes in
    size the figures already contain. `gone`: no cloth is left there, what was there is a cloth of its own now.
    """

    id: str
    name: str
    points_mm: Ring
    line_width_mm: float = 0.0
    fine_where_hidden: bool = False
    changes_in: int = 0
    gone: bool = False
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Zone:
    """A part of a cloth with a print of its own; pieces of that print lie within it."""

    id: str
    name: str
    outline_mm: Ring
    laid: LaidPrint | None = None
    changes_in: int = 0
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class BaseLine:
    """Two places on a cloth where the same motif falls, chosen by hand: a truer line than a crooked edge.

    `repeats` is the way from one to the other in whole repeat vectors (steps along a, steps along b), (0, 0) where no
    print is known. `measured_from`: measures are given along and across this line instead of the cloth's edges.
    """

    start_mm: Point
    end_mm: Point
    repeats: tuple[int, int] = (0, 0)
    measured_from: bool = False
    changes_in: int = 0
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Cloth:
    """One cloth, written width x length (selvedge to selvedge x off the bolt), as it was before its `changes`.

    `outline_mm` None means the full rectangle; it contains `outline_changes_in` of the changes. `trim_mm` and
    `web_short_mm` are strips all round, `selvedge_left_mm` and `selvedge_right_mm` strips along the two sides, all
    measured on the changed cloth; where they meet the widest counts. `doubt_percent` None means by state: 0 measured,
    else 1. `laid` is the print of the whole cloth; with zones, each zone's own. `cut_name` is the ladder's name it was
    bought as. `backing` is what is bonded on: None means web where `web_short_mm` is above 0, else none. `base_line` is
    the line of the print by which pieces are marked where no edge can be trusted.
    """

    id: str
    name: str
    width_mm: float
    length_mm: float
    state: ClothState = "measured"
    outline_mm: Ring | None = None
    outline_changes_in: int = 0
    trim_mm: float = 0.0
    selvedge_left_mm: float = 0.0
    selvedge_right_mm: float = 0.0
    web_short_mm: float = 0.0
    backing: Backing | None = None
    doubt_percent: float | None = None
    changes: tuple[Change, ...] = ()
    flaws: tuple[Flaw, ...] = ()
    zones: tuple[Zone, ...] = ()
    laid: LaidPrint | None = None
    cut_name: str | None = None
    price: float | None = None
    base_line: BaseLine | None = None
    unknown: tuple[tuple[str, str], ...] = ()

    @property
    def doubt(self) -> float:
        """How much smaller the cloth may turn out, in percent."""
        if self.doubt_percent is not None:
            return self.doubt_percent
        return 0.0 if self.state == "measured" else 1.0

    def change_after(self, changes_in: int) -> Affine:
        """The map that applies the changes from number `changes_in` on: several multiply.

        >>> wash, bond = Change("washing", -3.0, -3.0), Change("bonding", -1.5, -1.5)
        >>> round(Cloth("c", "swatch", 304.8, 304.8, changes=(wash, bond)).change_after(0).at((304.8, 0.0))[0], 1)
        291.2
        """
        across = along = 1.0
        for change in self.changes[changes_in:]:
            across *= 1 + change.across_percent / 100
            along *= 1 + change.along_percent / 100
        return scale(across, along)

    def outline_now_mm(self) -> Ring:
        """The outline after all changes, in the cloth frame as the cloth now is."""
        ring = self.outline_mm or rectangle(self.width_mm, self.length_mm)
        return self.change_after(self.outline_changes_in).ring(ring)
