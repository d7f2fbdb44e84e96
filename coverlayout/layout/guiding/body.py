"""A piece as guides and alignments see it where it lies, and the directions it is lined up along."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from coverlayout.geometry.frames import Affine, Point, Ring, piece_to_cloth, turn
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.geometry.tolerance import SAME_TURN_DEG
from coverlayout.layout.question import Placed

__all__ = ["Body", "along_same", "axes_deg", "box_around"]


@dataclass(frozen=True)
class Body:
    """A piece where it lies. `outline_mm`, `anchor_mm` and `board` (its board's face, if any) are in the piece frame.

    `turns_deg` are the turns it may have, counted from the print's up, None for any; `up_deg` is the turn of the up of
    the print under it.
    """

    placed: Placed
    name: str
    outline_mm: Ring
    anchor_mm: Point
    board: Box | None = None
    turns_deg: tuple[float, ...] | None = (0.0,)
    up_deg: float = 0.0

    @cached_property
    def to_cloth(self) -> Affine:
        """Piece frame to cloth frame."""
        return piece_to_cloth(self.anchor_mm, (self.placed.x_mm, self.placed.y_mm), self.placed.turn_deg)

    @cached_property
    def ring_mm(self) -> Ring:
        """The cut outline in the cloth frame."""
        return self.to_cloth.ring(self.outline_mm)

    @cached_property
    def board_ring_mm(self) -> Ring | None:
        """The board's face in the cloth frame, None where the piece covers no board."""
        return None if self.board is None else self.to_cloth.ring(self.board.ring())

    @property
    def at_mm(self) -> Point:
        """The anchor in the cloth frame."""
        return self.placed.x_mm, self.placed.y_mm

    @cached_property
    def axes_deg(self) -> float:
        """The small angle its sides are turned by, quarter turns aside."""
        return axes_deg(self.placed.turn_deg)


def axes_deg(turn_deg: float) -> float:
    """A turn without its quarter turns, above -45 up to 45 degrees: the directions that things are lined up along.

    >>> axes_deg(92.0), axes_deg(359.0), axes_deg(180.0)
    (2.0, -1.0, 0.0)
    """
    rest = (turn_deg + 45.0) % 90.0 - 45.0
    # A hair more or less than half a right angle must not exchange across and along.
    return rest + 90.0 if rest <= SAME_TURN_DEG - 45.0 else rest


def along_same(first_deg: float, other_deg: float) -> bool:
    """True when two pieces with these turns have parallel sides, within SAME_TURN_DEG."""
    return abs(axes_deg(first_deg - other_deg)) <= SAME_TURN_DEG


def box_around(bodies: Iterable[Body], turn_deg: float) -> Box:
    """The smallest box around pieces, along axes turned by `turn_deg`, in the frame of those axes.

    ValueError for no pieces.
    """
    to_axes = turn(-turn_deg)
    return bounds([to_axes.at(point) for body in bodies for point in body.ring_mm])
