"""A piece to be cut: its outline, what is seen of it, its marks, turns and source, and how it lies on the book."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.book.book import Book, Source, Turns
from coverlayout.book.materials.cut_item import GrainArrow
from coverlayout.geometry.frames import IDENTITY, Affine, Point, Ring, shift
from coverlayout.geometry.shapes import Box, bounds

__all__ = [
    "Cover",
    "Face",
    "Mark",
    "MarkKind",
    "Piece",
    "PieceKind",
    "Side",
    "head_mark",
    "onto_book",
    "other_side",
    "signs",
    "spine_side",
]

PieceKind = Literal["cover", "liner", "spine piece", "side", "corner", "label", "own"]
MarkKind = Literal["board", "turn-in", "liner", "mitre", "spine edge", "head", "joint", "lap", "window", "fold"]
Cover = Literal["front", "back"]
Side = Literal["left", "right"]


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
    counted from the print's up on the cloth; None: as the print's up allows. `matches` are the ids of those pieces of
    the same volume whose print a maker expects to see alike.
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
    matches: tuple[str, ...] = ()

    @property
    def grain(self) -> GrainArrow:
        """How the lengthwise thread is to run on the book: with the spine, unless the piece may be turned a quarter."""
        return "any" if self.turns in ("quarter", "free") else "head to tail"

    @property
    def width_mm(self) -> float:
        """Width of the cut outline, unturned."""
        return bounds(self.outline_mm).width_mm

    @property
    def height_mm(self) -> float:
        """Height of the cut outline, unturned."""
        return bounds(self.outline_mm).height_mm


def spine_side(book: Book, cover: Cover) -> Side:
    """Where the spine lies as you look at the outside of a cover, head up: at the left of a front that opens left.

    >>> spine_side(Book("b", "Ledger"), "back"), spine_side(Book("b", "Ledger", opens="right"), "back")
    ('right', 'left')
    """
    return "left" if (book.opens == "left") == (cover == "front") else "right"


def other_side(side: Side) -> Side:
    """The other hand."""
    return "right" if side == "left" else "left"


def _edge_mm(box: Box, side: Side) -> float:
    return box.left_mm if side == "left" else box.right_mm


def signs(box: Box, spine: Side) -> tuple[Mark, Mark]:
    """The two marks of a piece that lies on one side of the book: its spine edge and its head, along `box`."""
    x = _edge_mm(box, spine)
    return Mark("spine edge", ((x, box.top_mm), (x, box.bottom_mm))), head_mark(box)


def head_mark(box: Box) -> Mark:
    """The mark of the head, along the upper edge of `box`."""
    return Mark("head", ((box.left_mm, box.top_mm), (box.right_mm, box.top_mm)))


def onto_book(board: Box, spine: Side, from_middle_mm: float) -> Affine:
    """The outside of a cover to the book frame, `board` being the board in the piece frame, the spine at that hand.

    Book frame: the book laid open flat, seen from outside, x 0 in the middle of the spine, y 0 at the boards' head.
    `from_middle_mm` lies between the middle of the spine and the board's spine edge.

    >>> onto_book(Box(15.0, 12.0, 100.0, 150.0), "right", 8.0).at((115.0, 12.0))
    (-8.0, 0.0)
    """
    start_mm = from_middle_mm if spine == "left" else -from_middle_mm
    return shift(start_mm - _edge_mm(board, spine), -board.top_mm)
