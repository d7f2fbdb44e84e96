"""Whether the figures of a book or an own piece can be made at all: one sentence for the first that cannot."""

from __future__ import annotations

import math

from coverlayout.book.book import Book, OwnPiece
from coverlayout.book.measures import board_size_mm
from coverlayout.book.turn_ins import least_mitre_distance_mm
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import checked_ring
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.units import check_length

__all__ = ["MOST_COPIES", "check_book", "check_own_piece"]

# Beyond a bench's whole output of years; more is a slip of typing and would only make the program stand still.
MOST_COPIES = 500


def check_book(book: Book) -> None:
    """Nothing, or BadInput naming the book and the figure that cannot be used."""
    _check_volumes(book)
    if book.structure == "parts":
        _check_parts(book)
    else:
        _check_sizes(book)
        _check_covers(book)


def _check_volumes(book: Book) -> None:
    if not 1 <= len(book.volumes) <= MOST_COPIES:
        raise BadInput("copies-count", where=f"{book.name}: books", found=len(book.volumes), most=MOST_COPIES)
    numbers = [volume.number for volume in book.volumes]
    if len(set(numbers)) < len(numbers):
        raise BadInput("volume-number-twice", book=book.name)
    for volume in book.volumes:
        if volume.thickness_mm is not None:
            check_length(volume.thickness_mm, where=f"{book.name}: thickness of volume {volume.number}", like="12mm")


def _check_sizes(book: Book) -> None:
    given = [size for size in (book.page_mm, book.board_mm, book.block_mm) if size is not None]
    if len(given) != 1:
        raise BadInput("book-one-size", book=book.name)
    kind = "page" if book.page_mm else "board" if book.board_mm else "block"
    for name, length in zip(("width", "height", "thickness"), given[0], strict=False):
        check_length(length, where=f"{book.name}: {kind} {name}", like="114.3mm")
    check_length(book.board_thickness_mm, where=f"{book.name}: board thickness", like="2mm")
    for name, optional in (
        ("square", book.square_mm),
        ("board setback", book.board_setback_mm),
        ("joint", book.joint_mm),
        ("liner inset", book.liner_inset_mm),
    ):
        if optional is not None:
            check_length(optional, where=f"{book.name}: {name}", like="3mm", least="0")


def _check_covers(book: Book) -> None:
    turn_ins = book.turn_ins
    for edge, turn_in in (
        ("head", turn_ins.head_mm),
        ("tail", turn_ins.tail_mm),
        ("spine", turn_ins.spine_mm),
        ("fore-edge", turn_ins.fore_edge_mm),
    ):
        check_length(turn_in, where=f"{book.name}: turn-in at the {edge}", like="15mm", least="0")
    width, height = board_size_mm(book)
    check_length(width, where=f"{book.name}: board width", like="114.3mm")
    if book.liners != "none" and min(width, height) - 2 * book.liner_inset_mm <= SAME_LENGTH_MM:
        raise BadInput("liner-nothing-left", book=book.name, inset_mm=book.liner_inset_mm)
    if book.mitre_distance_mm is not None:
        check_length(book.mitre_distance_mm, where=f"{book.name}: mitre distance", like="3mm")
        least = least_mitre_distance_mm(book.board_thickness_mm)
        if book.mitre_distance_mm < least - SAME_LENGTH_MM:
            raise BadInput("mitre-gapes", book=book.name, distance_mm=book.mitre_distance_mm, least_mm=least)


def _check_parts(book: Book) -> None:
    for kind, size in (("board", book.board_mm), ("proportion", book.board_ratio)):
        for name, length in zip(("width", "height"), size or (), strict=False):
            check_length(length, where=f"{book.name}: {kind} {name}", like="114.3mm")
    if (book.board_mm is None) == (book.board_ratio is None) or not book.parts:
        raise BadInput("parts-board", book=book.name)
    for part in book.parts:
        where = f"{book.name}: {part.name}"
        if not 1 <= part.count <= MOST_COPIES:
            raise BadInput("copies-count", where=where, found=part.count, most=MOST_COPIES)
        check_length(part.grow_mm, where=f"{where}, larger than the board by", like="15mm", least="any")
        if part.width_mm is not None:
            check_length(part.width_mm, where=f"{where}, width", like="40mm")
        if book.board_mm and min(book.board_mm) + 2 * part.grow_mm <= SAME_LENGTH_MM:
            raise BadInput("part-nothing-left", part=where, grow_mm=part.grow_mm)


def check_own_piece(own: OwnPiece) -> None:
    """Nothing, or BadInput naming the piece and the figure that cannot be used."""
    if not own.name.strip():
        raise BadInput("piece-without-name")
    if not 1 <= own.count <= MOST_COPIES:
        raise BadInput("copies-count", where=own.name, found=own.count, most=MOST_COPIES)
    if own.ids and len(own.ids) != own.count:
        raise BadInput("piece-ids-count", piece=own.name, ids=len(own.ids), count=own.count)
    if own.outline_mm is None:
        check_length(own.width_mm, where=f"{own.name}: width", like="60mm")
        check_length(own.height_mm, where=f"{own.name}: height", like="90mm")
    for name, ring in (("outline", own.outline_mm), ("part that is seen", own.seen_mm)):
        if ring is not None:
            checked_ring(ring, where=f"{own.name}: {name}")
            for length in (number for point in ring for number in point):
                check_length(length, where=f"{own.name}: {name}", least="any")
    if own.reference_mm is not None and not all(math.isfinite(number) for number in own.reference_mm):
        raise BadInput("outline-not-finite", where=f"{own.name}: reference point")
