"""What shape a piece is cut in, and the parts of the book it shows, for words beside and on the drawing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.book.pieces import Face
from coverlayout.geometry.frames import Affine, Point, Ring
from coverlayout.geometry.shapes import area_mm2, bounds, is_rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["CutShape", "FaceSeen", "face_seen", "points_text", "shape_of"]

CutShape = Literal["rectangle", "right triangle", "outline"]


@dataclass(frozen=True)
class FaceSeen:
    """A part of the book that a piece shows, as seen from the side: its outline, the middles of its head and tail."""

    name: str
    outline_mm: Ring
    head_mm: Point
    tail_mm: Point


def face_seen(face: Face, seen: Affine) -> FaceSeen:
    """A face by the map from the piece's frame, head up, to what one sees."""
    box = bounds(face.outline_mm)
    middle = box.middle[0]
    head, tail = seen.ring(((middle, box.top_mm), (middle, box.bottom_mm)))
    return FaceSeen(face.name, seen.ring(face.outline_mm), head, tail)


def shape_of(outline_mm: Ring) -> CutShape:
    """The shape of a piece's own outline, head up.

    A triangle whose width and height are its legs has its three corners in corners of its box.

    >>> shape_of(((0.0, 0.0), (70.0, 0.0), (70.0, 50.0))), shape_of(((0.0, 0.0), (70.0, 0.0), (40.0, 50.0)))
    ('right triangle', 'outline')
    """
    if is_rectangle(outline_mm):
        return "rectangle"
    box = bounds(outline_mm)
    corners = sum(
        min(abs(x - box.left_mm), abs(x - box.right_mm)) <= SAME_LENGTH_MM
        and min(abs(y - box.top_mm), abs(y - box.bottom_mm)) <= SAME_LENGTH_MM
        for x, y in outline_mm
    )
    half = abs(area_mm2(outline_mm) - box.width_mm * box.height_mm / 2) <= SAME_LENGTH_MM * SAME_LENGTH_MM
    return "right triangle" if len(outline_mm) == corners == 3 and half else "outline"


def points_text(outline_mm: Ring, origin_mm: Point) -> str:
    """The corners of an outline from an origin, to 0.01 mm, as one cell of a table.

    >>> points_text(((15.0, 20.0), (25.5, 20.0), (15.0, 32.004)), (15.0, 10.0))
    '0.00,10.00 10.50,10.00 0.00,22.00'
    """
    left, top = origin_mm
    return " ".join(f"{round(x - left, 2) + 0.0:.2f},{round(y - top, 2) + 0.0:.2f}" for x, y in outline_mm)
