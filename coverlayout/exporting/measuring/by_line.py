"""The cloth as seen from one side, and places measured along and across its base line, as seen from there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.cloth.base_line import base_line_now, cloth_to_line, is_lengthwise, line_turn_deg
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import outline_region
from coverlayout.geometry.frames import IDENTITY, Affine, Point, Ring, cloth_to_back, lean_deg, signed_deg, turn
from coverlayout.geometry.shapes import bounds

__all__ = ["FromLine", "Side", "cloth_to_side", "from_line", "line_seen", "line_zero_deg", "seen_deg", "step_on_cloth"]

Side = Literal["print", "back"]


@dataclass(frozen=True)
class FromLine:
    """Where a piece lies by the cloth's base line, as seen from the side: (along, across) of two of its corners, in mm.

    Along is counted from the line's start towards its end; across is above 0 to the right of a line that runs up and
    down, below one that runs from side to side. The corners are the top left and the top right one of the cut outline's
    own box as it lies, seen from the side; `corner_mm` is the top left one in the side's view. `lengthwise`: the line
    runs up and down.
    """

    left_mm: Point
    right_mm: Point
    corner_mm: Point
    lengthwise: bool = True


def cloth_to_side(cloth: Cloth, side: Side) -> Affine:
    """Cloth frame to what one sees from that side: the same for the print side, mirrored for the back."""
    return cloth_to_back(outline_region(cloth).bounds.right_mm) if side == "back" else IDENTITY


def seen_deg(turn_deg: float, side: Side) -> float:
    """A turn clockwise as seen from the side, 0 up to 360: clockwise in front is the other way round behind."""
    return (-turn_deg if side == "back" else turn_deg) % 360.0


def line_seen(cloth: Cloth, side: Side) -> tuple[Point, Point] | None:
    """Start and end of the base line as one sees it from that side; None unless the cloth is measured from it."""
    line = base_line_now(cloth)
    if line is None or cloth.base_line is None or not cloth.base_line.measured_from:
        return None
    to_side = cloth_to_side(cloth, side)
    return to_side.at(line[0]), to_side.at(line[1])


def step_on_cloth(cloth: Cloth, side: Side, step_mm: Point) -> Point:
    """A step as it is measured on that side (to the right and down, or along and across the base line) on the cloth."""
    line = line_seen(cloth, side)
    on_side = step_mm if line is None else cloth_to_line(*line).inverse().vector(step_mm)
    return cloth_to_side(cloth, side).inverse().vector(on_side)


def from_line(outline_mm: Ring, turned_deg: float, line: tuple[Point, Point]) -> FromLine:
    """Where an outline lies by the line, both as seen from one side, where the outline lies turned by `turned_deg`."""
    lean = lean_deg(turned_deg)
    box, upright = bounds(turn(-lean).ring(outline_mm)), turn(lean)
    left, right = upright.at((box.left_mm, box.top_mm)), upright.at((box.right_mm, box.top_mm))
    to_line = cloth_to_line(*line)
    return FromLine(to_line.at(left), to_line.at(right), left, is_lengthwise(*line))


def line_zero_deg(line: tuple[Point, Point]) -> float:
    """How far what lies straight by the line is turned, as seen: at most 45 degrees either way."""
    return signed_deg(lean_deg(line_turn_deg(*line)))
