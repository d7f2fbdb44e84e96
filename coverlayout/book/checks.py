"""Whether the figures of a book or an own piece can be made at all: one sentence for the first that cannot."""

from __future__ import annotations

import math

from coverlayout.book.book import Book, OwnPiece, Paper
from coverlayout.book.lining.label import check_label
from coverlayout.book.measures import measures
from coverlayout.book.paper.block import block_of
from coverlayout.book.paper.folding import folded, pieces_there
from coverlayout.book.paper.sheets import page_off_mm
from coverlayout.book.rules.combinations import check_combinations
from coverlayout.book.rules.ranges import check_ranges
from coverlayout.book.rules.volumes import of_each_thickness
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import checked_ring
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SAME_PAGE_MM
from coverlayout.units import check_length

__all__ = ["MOST_COPIES", "check_book", "check_own_piece"]

# Beyond a bench's whole output of years; more is a slip of typing and would only make the program stand still.
MOST_COPIES = 500


def check_book(book: Book) -> None:
    """Nothing, or BadInput naming the book and the figure that cannot be used."""
    _check_volumes(book)
    if book.structure == "parts":
        _check_parts(book)
        return
    _check_sizes(book)
    check_ranges(book)
    if book.paper is not None:
        _check_paper(book, book.paper)
    for each in of_each_thickness(book):
        check_combinations(each, measures(each, each.volumes[0]))
        check_label(each, each.volumes[0])


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
    """One size, or none where the paper makes it."""
    given = [(kind, size) for kind, size in _sizes(book) if size is not None]
    if len(given) > 1 or (not given and book.paper is None):
        raise BadInput("book-one-size", book=book.name)
    for kind, size in given:
        for name, length in zip(("width", "height", "thickness"), size, strict=False):
            check_length(length, where=f"{book.name}: {kind} {name}", like="114.3mm")


def _sizes(book: Book) -> tuple[tuple[str, tuple[float, ...] | None], ...]:
    return ("page", book.page_mm), ("board", book.board_mm), ("block", book.block_mm)


def _check_paper(book: Book, paper: Paper) -> None:
    """The paper makes a page, and the page that was given, if one was, is that one, as closely as sheets are cut."""
    made_mm = folded(paper, book.structure).page_mm
    if pieces_there(paper) is not None:
        block_of(paper, book.structure)
    given_mm = book.page_mm or (book.block_mm[:2] if book.block_mm else None)
    if given_mm and not all(
        abs(given - made) <= max(SAME_PAGE_MM, page_off_mm(paper.sheet_mm, given))
        for given, made in zip(given_mm, made_mm, strict=True)
    ):
        raise BadInput(
            "page-not-of-paper",
            book=book.name,
            width_exact_mm=given_mm[0],
            height_exact_mm=given_mm[1],
            paper_width_exact_mm=made_mm[0],
            paper_height_exact_mm=made_mm[1],
        )


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
