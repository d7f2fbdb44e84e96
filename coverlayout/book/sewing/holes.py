"""Holes in boards, and in the wrap of a single section: at the height of the stations, seen from the boards' head."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.book.book import Book, Volume
from coverlayout.book.measures import measures
from coverlayout.book.sewing.stations import sewing_figure, stations_mm
from coverlayout.geometry.frames import Point

__all__ = ["Hole", "HoleBoard", "hole_from_spine_mm", "holes", "on_outside_mm"]

HoleBoard = Literal["front", "back", "spine"]

# Boards that the sewing itself goes through; the others are glued on.
_SEWN_THROUGH = ("separate-boards", "exposed-spine-wrap", "side-sewn")


@dataclass(frozen=True)
class Hole:
    """A hole in a board (and in the cloth on it), in mm.

    `x_mm` runs from the board's own spine edge towards its fore-edge, `y_mm` from the board's head towards its tail: a
    frame of each board for itself, in which front and back are alike. For `spine` (a limp wrap) `x_mm` runs from the
    line where the front begins.
    """

    board: HoleBoard
    x_mm: float
    y_mm: float


def holes(book: Book, volume: Volume) -> tuple[Hole, ...]:
    """The holes of a volume, front board first, from head to tail.

    A board that stands out over the page carries its holes one square lower. The wrap of a single section is pierced in
    the middle of its spine. () for boards that are not sewn through. BadInput: stations or a distance that cannot be.

    >>> from coverlayout.book.book import Sewing
    >>> sewing = Sewing("own", own_mm=(20.0, 130.0), hole_from_spine_mm=7.0)
    >>> squared = Book("b", "Ledger", page_mm=(100.0, 150.0), square_mm=3.0, sewing=sewing)
    >>> [(hole.board, hole.x_mm, hole.y_mm) for hole in holes(squared, squared.volumes[0])][:3]
    [('front', 7.0, 23.0), ('front', 7.0, 133.0), ('back', 7.0, 23.0)]
    """
    made = measures(book, volume)
    heights = [station + made.square_mm for station in stations_mm(book, volume)]
    if book.structure == "limp-wrap":
        return tuple(Hole("spine", made.gap_mm / 2, y) for y in heights)
    if book.structure not in _SEWN_THROUGH:
        return ()
    from_spine_mm = hole_from_spine_mm(book)
    boards: tuple[HoleBoard, ...] = ("front", "back")
    return tuple(Hole(board, from_spine_mm, y) for board in boards for y in heights)


def hole_from_spine_mm(book: Book) -> float:
    """How far the holes lie from the spine edge of the board, as given or by the rule; BadInput when out of range."""
    return sewing_figure(book, "hole from spine", book.sewing.hole_from_spine_mm)


def on_outside_mm(hole: Hole, board_width_mm: float, opens: Literal["left", "right"]) -> Point:
    """A hole of the front or back board as you look at the board's outside, head up: from its left edge and its head.

    There the spine edge of a front that opens left is at the left, that of its back at the right; a book that opens
    right has it the other way about. So front and back are mirror images of each other.

    >>> on_outside_mm(Hole("front", 7.0, 20.0), 100.0, "left"), on_outside_mm(Hole("back", 7.0, 20.0), 100.0, "left")
    ((7.0, 20.0), (93.0, 20.0))
    """
    spine_at_left = hole.board == "spine" or (hole.board == "front") == (opens == "left")
    return (hole.x_mm if spine_at_left else board_width_mm - hole.x_mm), hole.y_mm
