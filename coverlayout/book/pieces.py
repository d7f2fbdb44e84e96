"""A piece to be cut: its outline, what will be seen of it, its marks, its turns and where it may come from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.book.book import Source, Turns
from coverlayout.geometry.frames import IDENTITY, Affine, Point, Ring
from coverlayout.geometry.shapes import Box, bounds

__all__ = ["Face", "Mark", "MarkKind", "Piece", "PieceKind"]

PieceKind = Literal["cover", "liner", "spine piece", "side", "corner", "label", "own"]
MarkKind = Literal["board", "turn-in", "liner", "mitre", "spine edge", "head", "joint", "lap", "window", "fold"]


@dataclass(frozen=True)
class Mark:
    """A line on a piece, in the piece frame; `closed` when the last point joins the first."""

    kind: MarkKind
    points_mm: Ring
    closed: bool = False


@dataclass(frozen=True)
class Face:
    """One side of the finished book that a piece shows: its outline in the piece frame, its map into the book frame."""

    name: str
    outline_mm: Ring
    piece_to_book: Affine = IDENTITY


@dataclass(frozen=True)
class Piece:
    """One piece of cloth, derived from a book or the maker's own, in its piece frame (head up, origin top-left).

    `anchor_mm` is the point a placement speaks of: the centre of the board's face, else the reference point given,
    else the middle of the bounding box. `seen_mm` stays visible on the finished book; None means all of it. `turns` is
    counted from the print's up on the cloth; None: as the print's up allows.
    """

    id: str
    name: str
    kind: PieceKind
    outline_mm: Ring
    anchor_mm: Point
    turns: Turns | None = None
    board: Box | None = None
    seen_mm: Ring | None = None
    marks: tuple[Mark, ...] = ()
    faces: tuple[Face, ...] = ()
    source: Source = Source()
    book_id: str | None = None
    volume: int | None = None

    @property
    def width_mm(self) -> float:
        """Width of the cut outline, unturned."""
        return bounds(self.outline_mm).width_mm

    @property
    def height_mm(self) -> float:
        """Height of the cut outline, unturned."""
        return bounds(self.outline_mm).height_mm
