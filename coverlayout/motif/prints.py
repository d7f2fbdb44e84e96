"""A print and how it lies on one cloth: the values every other part reads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.geometry.frames import Affine, Point, scale, shift, turn
from coverlayout.motif.lattice import Lattice

__all__ = ["LaidPrint", "PictureRef", "Print", "RepeatLayout", "Up"]

RepeatLayout = Literal["straight", "half-drop", "brick", "drop", "mirrored", "vectors"]
Up = Literal["one-way", "two-way", "any"]


@dataclass(frozen=True)
class PictureRef:
    """A picture kept in the project file by its hash, byte for byte as given; size in pixels of the upright picture."""

    sha256: str
    extension: str
    name: str
    width_px: int
    height_px: int
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Print:
    """A repeating print in its own frame (x right, y down, as drawn).

    `tile_mm` is the printed width and height of the picture, None without a picture. `lattice` holds the repeat vectors
    (from `layout` and `tile_mm`, see motif.repeat), one vector only for plain stripes. `drop_parts` is n of a 1/n drop.
    `size_from` tells where the size came from: the file's resolution, typed, a scale in percent, or a guess that stands
    until somebody measures. `alike_about_mm` is a place about which the print looks the same when turned as its up
    allows, by a half where it is two-way and by quarters where it is any; None: no such place is known.
    """

    id: str
    name: str
    lattice: Lattice
    layout: RepeatLayout = "straight"
    drop_parts: int = 2
    up: Up = "one-way"
    picture: PictureRef | None = None
    tile_mm: Point | None = None
    size_from: Literal["file", "typed", "percent", "guess"] = "typed"
    alike_about_mm: Point | None = None
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class LaidPrint:
    """One print on one cloth or zone: where its origin lies, its turn, its stretch.

    `origin_mm` in the cloth frame; `origin_known` False for cloth not yet bought. Stretch in percent across and
    along the print, skew in percent (offset along over the width), all in the print's own frame before the turn.
    `changes_in` counts how many of the cloth's changes in size these figures already contain.
    """

    print_id: str
    origin_mm: Point = (0.0, 0.0)
    turn_deg: float = 0.0
    stretch_across_percent: float = 0.0
    stretch_along_percent: float = 0.0
    skew_percent: float = 0.0
    origin_known: bool = True
    changes_in: int = 0
    unknown: tuple[tuple[str, str], ...] = ()

    def print_to_cloth(self) -> Affine:
        """Print frame to cloth frame, changes in size not yet applied.

        >>> LaidPrint("p", origin_mm=(10.0, 5.0), turn_deg=90.0).print_to_cloth().at((3.0, 0.0))
        (10.0, 8.0)
        """
        stretch = scale(1 + self.stretch_across_percent / 100, 1 + self.stretch_along_percent / 100)
        skew = Affine(yx=self.skew_percent / 100)
        return stretch.then(skew).then(turn(self.turn_deg)).then(shift(*self.origin_mm))
