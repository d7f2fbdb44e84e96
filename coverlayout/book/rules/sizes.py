"""Sizes, thicknesses and measured spines that are worth a second look: mostly a slip of typing, or the wrong unit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from coverlayout.book.book import Book
from coverlayout.book.measures import Measures, measured_thickness_mm, measures
from coverlayout.book.rules.table import Rule, rule
from coverlayout.errors import Remark
from coverlayout.geometry.frames import Point

__all__ = ["is_spine_far_off", "size_notes", "spine_by_block_mm"]

_MM_PER_CM = 10.0


def size_notes(book: Book) -> Iterator[Remark]:
    """Remarks on an unusual page, board or block as it was typed; what the paper makes is not remarked on here.

    >>> [note.code for note in size_notes(Book("b", "Ledger", page_mm=(3700.0, 152.4)))]
    ['figure-unusual']
    """
    name, size_mm = _typed(book)
    if size_mm is not None:
        yield from _face_notes(book, name, size_mm)
    yield from _thickness_notes(book)


def _typed(book: Book) -> tuple[str, Point | None]:
    """What was typed as the size, and it; a slipcase is made for a finished book."""
    if book.board_mm is not None:
        return "board", book.board_mm
    size_mm = book.page_mm if book.block_mm is None else book.block_mm[:2]
    return "book" if book.structure == "slipcase" else "page", size_mm


def _face_notes(book: Book, name: str, size_mm: Point) -> Iterator[Remark]:
    rows = rule("page width", book.structure), rule("page height", book.structure)
    pairs = tuple(zip(rows, size_mm, strict=True))
    if all(_may_be_cm(row, length_mm) for row, length_mm in pairs):
        yield Remark.of(
            "size-in-centimetres",
            book=book.name,
            what=name,
            width_exact_mm=size_mm[0],
            height_exact_mm=size_mm[1],
            meant_width_exact_mm=_MM_PER_CM * size_mm[0],
            meant_height_exact_mm=_MM_PER_CM * size_mm[1],
        )
        return
    for side, (row, length_mm) in zip(("width", "height"), pairs, strict=True):
        if row.unusual(length_mm):
            yield row.unusual_said(length_mm, book=book.name, figure=f"{name} {side}")


def _may_be_cm(row: Rule, length_mm: float) -> bool:
    """True for a length too small to be usual that would be usual if it had been typed in centimetres."""
    return row.unusual(length_mm) and not row.unusual(_MM_PER_CM * length_mm)


def _thickness_notes(book: Book) -> Iterator[Remark]:
    """The thinnest and the thickest volume that was measured, where that is unusual."""
    row, name = rule("block thickness", book.structure), "block thickness"
    if book.structure == "exposed-spine-wrap":
        # It was measured over both boards.
        boards_mm, name = 2 * book.board_thickness_mm, "thickness with its boards"
        row = replace(row, usual_least=row.usual_least + boards_mm, usual_most=row.usual_most + boards_mm)
    elif book.structure == "slipcase":
        name = "book thickness"
    given = {measured_thickness_mm(book, volume) for volume in book.volumes} - {None}
    unusual = sorted(mm for mm in given if mm is not None and row.unusual(mm))
    for thickness_mm in dict.fromkeys((*unusual[:1], *unusual[-1:])):
        yield row.unusual_said(thickness_mm, book=book.name, figure=name)


def spine_by_block_mm(book: Book) -> float:
    """How wide the spine of the first volume would be by its block, had nobody measured it; in mm.

    >>> spine_by_block_mm(Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0), spine_width_mm=100.0))
    13.5
    """
    return measures(replace(book, spine_width_mm=None, spine_rise_mm=None), book.volumes[0]).over_spine_mm


def is_spine_far_off(book: Book, figures: Measures) -> bool:
    """True for a measured spine, no narrower than its block, that is nowhere near what that block makes.

    >>> far = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0), spine_width_mm=100.0)
    >>> is_spine_far_off(far, measures(far, far.volumes[0]))
    True
    """
    if book.spine_width_mm is None or figures.over_spine_mm < figures.thickness_mm:
        return False
    made_mm = spine_by_block_mm(book)
    return made_mm <= 0 or rule("measured spine", book.structure).unusual(figures.over_spine_mm / made_mm)
