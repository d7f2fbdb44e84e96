"""Quarter and half cases: a strip of cloth over the spine, sides of another print, and corners on a half case."""

from __future__ import annotations

import math
from dataclasses import replace

from coverlayout.book.book import Book, Volume
from coverlayout.book.covering.laid_flat import FlatPiece, from_flat, on_back
from coverlayout.book.covering.partly import PartlyCovered
from coverlayout.book.covering.sides import side_of_front
from coverlayout.book.covering.spine_strip import spine_strip
from coverlayout.book.lining.liners import liners_of
from coverlayout.book.measures import Measures, measures
from coverlayout.book.pieces import Piece
from coverlayout.errors import BadInput
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["check_laps", "pieces_of_quarter"]


def pieces_of_quarter(book: Book, volume: Volume) -> tuple[Piece, ...]:
    """The pieces of a volume: `spine-1`, `side-front-1`, `side-back-1`, a half case's four corners, liners of cloth.

    Sides of paper, and liners of paper, make no pieces of cloth.

    >>> case = Book("b", "Ledger", "half-case", block_mm=(148.0, 210.0, 10.0), spine_on_board_mm=40.0, sides="paper")
    >>> [(piece.id, piece.width_mm, piece.height_mm) for piece in pieces_of_quarter(case, case.volumes[0])][:2]
    [('spine-1', 113.5, 246.0), ('corner-front-head-1', 70.0, 70.0)]
    """
    plan = PartlyCovered(book, measures(book, volume))
    fronts: list[FlatPiece] = [] if book.sides == "paper" else [side_of_front(plan)]
    fronts += [replace(corner.piece(), turns=book.cover_turns, source=book.cover_source) for corner in plan.corners]
    both = (made for front in fronts for made in (front, on_back(front)))
    flat = (spine_strip(plan), *both)
    liners = liners_of(book, volume, from_middle_mm=plan.gap_edge_mm)
    return (*(from_flat(book, volume, piece) for piece in flat), *liners)


def check_laps(book: Book, figures: Measures) -> None:
    """Nothing, or BadInput: sides lying so far over the cloth of the spine, or a corner, that none of it shows."""
    if book.structure not in ("quarter-case", "half-case"):
        return
    if figures.spine_on_board_mm <= figures.lap_mm + SAME_LENGTH_MM:
        raise BadInput("lap-hides-spine", book=book.name, found_mm=figures.spine_on_board_mm, lap_mm=figures.lap_mm)
    least_mm = math.sqrt(2) * figures.lap_mm
    if book.structure == "half-case" and figures.corner_leg_mm <= least_mm + SAME_LENGTH_MM:
        raise BadInput(
            "lap-hides-corner", book=book.name, found_exact_mm=figures.corner_leg_mm, least_exact_mm=least_mm
        )
