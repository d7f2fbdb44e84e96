"""A book as its fields are filled in: what a change makes of it, and the one edit that takes it into the project."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from coverlayout.book.book import Book, Paper, Volume
from coverlayout.book.measures import as_measured_mm
from coverlayout.book.paper.sheets import sheet_named
from coverlayout.book.rules.belonging import RULED, belongs, loosened, suited, with_nice_figures
from coverlayout.book.rules.table import rule
from coverlayout.book.structures import pieces
from coverlayout.document.edits.books import change_book, set_structure
from coverlayout.document.history import Edit
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.geometry.frames import Point
from coverlayout.ui.binding.knowing import Known
from coverlayout.ui.ruled.shown import measures_or_none
from coverlayout.units import Unit

__all__ = ["STILL_TO_COME", "changed", "edit_of", "sized_by", "what_it_lacks"]

# What a book may still lack while its fields are filled in one after the other, and how that is asked for: it then
# waits, and nothing is refused.
STILL_TO_COME = {
    "book-thickness-needed": "waits-thickness",
    "book-one-size": "waits-size",
    "no-sheets-no-pages": "waits-count",
}


def changed(before: Book, unit: Unit, **given: Any) -> Book:
    """The book with these fields changed.

    Bound another way, or with another spine piece, it keeps what also belongs to that, and what it left to the rules
    follows those of the new way, in inches as their nice numbers. So does a figure that is cleared.

    >>> case = changed(Book("b", "Ledger", page_mm=(114.3, 152.4)), "in", structure="flat-case")
    >>> case.structure, case.square_mm, changed(case, "in", square_mm=None).square_mm
    ('flat-case', 3.175, 3.175)
    """
    structure = given.pop("structure", before.structure)
    is_other_way = structure != before.structure or "spine_piece" in given
    after = suited(loosened(before, unit), structure) if is_other_way else before
    if belongs("board_thickness_mm", structure) and not belongs("board_thickness_mm", before.structure):
        after = replace(after, board_thickness_mm=rule("board thickness", structure).nice_mm(unit))
    after = replace(after, **given)
    nice = with_nice_figures(after, unit)
    if is_other_way:
        return nice
    cleared = {field: getattr(nice, field) for field in RULED if field in given}
    return replace(after, **cleared)


def edit_of(book: Book, wanted: Book) -> Edit | None:
    """The edit that makes one of the other, None when they are alike."""
    if wanted.structure != book.structure:
        return set_structure(book.id, wanted.structure, **_differing(suited(book, wanted.structure), wanted))
    other = _differing(book, wanted)
    return change_book(book.id, **other) if other else None


def what_it_lacks(draft: Book) -> str:
    """What a book still lacks before anything can be cut for it, as a sentence; empty for nothing."""
    try:
        pieces(draft)
    except CoverlayoutError as fault:
        code = STILL_TO_COME.get(fault.remark.code, "waits-size")
        if code == "waits-thickness" and draft.paper is not None:
            code = "waits-paper"
        elif code == "waits-thickness" and draft.structure == "exposed-spine-wrap":
            code = "waits-thickness-boards"
        return sentence(code, {})
    return ""


def _differing(before: Book, after: Book) -> dict[str, Any]:
    names = (field.name for field in fields(Book))
    return {name: getattr(after, name) for name in names if getattr(after, name) != getattr(before, name)}


def sized_by(book: Book, known: Known, unit: Unit, like: Book | None = None) -> dict[str, Any]:
    """The fields that say the size of a book that way, with what is known of it, or of `like`, carried over.

    >>> sized_by(Book("b", "Ledger", block_mm=(148.0, 210.0, 10.0)), "page", "mm")["page_mm"]
    (148.0, 210.0)
    """
    page_mm, thickness_mm, board_mm = _size_of(book)
    if page_mm is None and board_mm is None and like is not None:
        page_mm, thickness_mm, board_mm = _size_of(like)
    made: dict[str, Any] = {"page_mm": None, "board_mm": None, "block_mm": None}
    if known == "paper":
        if book.block_mm is not None:
            # What a ruler said goes before what the paper makes.
            made["volumes"] = _as_thick(book, None, book.block_mm[2])
        return made | {"paper": book.paper or _first_paper(unit)}
    if known == "block":
        face_mm = page_mm or board_mm
        if face_mm is not None and thickness_mm:
            made |= {"block_mm": (*face_mm, thickness_mm), "volumes": _as_thick(book, thickness_mm, None)}
        return made | {"paper": None}
    if known == "board":
        made["board_mm"] = board_mm or page_mm
    else:
        made |= {"page_mm": page_mm or board_mm, "paper": None}
    if thickness_mm and (book.paper is None or known == "page"):
        made["volumes"] = _as_thick(book, None, thickness_mm)
    return made


def _size_of(book: Book) -> tuple[Point | None, float, Point | None]:
    """Page, thickness as it would be measured (of a wrap with its boards) and board, as far as they are known."""
    figures = measures_or_none(book, book.volumes[0])
    if figures is not None:
        return figures.page_mm, as_measured_mm(book, book.volumes[0]) or 0.0, figures.board_mm
    if book.block_mm is not None:
        return book.block_mm[:2], book.block_mm[2], None
    return book.page_mm, book.volumes[0].thickness_mm or 0.0, book.board_mm


def _as_thick(book: Book, only_of_mm: float | None, thickness_mm: float | None) -> tuple[Volume, ...]:
    """The volumes of that thickness where they have none of their own, or only that of the block."""
    return tuple(
        replace(volume, thickness_mm=thickness_mm) if volume.thickness_mm in (None, only_of_mm) else volume
        for volume in book.volumes
    )


def _first_paper(unit: Unit) -> Paper:
    """The sheet to begin with, folded once."""
    found = sheet_named("letter" if unit == "in" else "A4")
    return Paper(found.size_mm, found.name)
