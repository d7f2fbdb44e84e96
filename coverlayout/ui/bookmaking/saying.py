"""The book step in a few words: the line of the closed step, what is to be cut, what is worth knowing."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import Book
from coverlayout.book.materials.plan import plan
from coverlayout.book.structures import notes
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces
from coverlayout.errors import CoverlayoutError
from coverlayout.ui.binding.knowing import known_of, structure_words
from coverlayout.ui.binding.paper import block_or_none
from coverlayout.ui.ruled.shown import size_words, worded
from coverlayout.units import LengthStyle

__all__ = ["cut_words", "notes_of", "summed_up"]


def summed_up(book: Book, style: LengthStyle) -> str:
    """The structure, then sections and pages where the paper is known, else the size that was given."""
    words = structure_words(book.structure).split(",")[0]
    made = block_or_none(book)
    if made is not None:
        return worded("book-summed", style, structure=words, sections=made.sections, pages=made.pages)
    known = known_of(book)
    size = book.board_mm or (book.block_mm[:2] if book.block_mm else book.page_mm)
    return f"{words}, {known} {size_words(size, style)}" if size else words


def cut_words(project: Project, style: LengthStyle) -> str:
    """The cut size of each kind of piece once: covers 144.5 x 182.5."""
    try:
        planned = planned_pieces(project)
    except CoverlayoutError:
        return ""
    sizes: dict[str, str] = {}
    for piece in planned:
        if piece.kind not in sizes:
            sizes[piece.kind] = f"{style.number(piece.width_mm, 'up')} × {style.number(piece.height_mm, 'up')}"
    words = {
        "cover": "covers",
        "spine piece": "spine strips",
        "side": "sides",
        "corner": "corners",
        "liner": "liners",
        "label": "labels",
    }
    told = ", ".join(f"{words[kind]} {size}" for kind, size in sizes.items() if kind in words)
    return f"To be cut: {told} {style.unit}" if told else ""


def notes_of(book: Book | None, style: LengthStyle) -> list[str]:
    """What is unusual or against the grain, said once; what the paper assumes stands with the paper."""
    if book is None:
        return []
    try:
        made = plan(_one_of_each(book))
    except CoverlayoutError:
        return _notes_alone(book, style)
    of_paper = made.block.notes if made.block is not None else ()
    said = (note for note in made.notes if note not in of_paper and note.code != "grain-not-known")
    return [style.said(note) for note in said]


def _one_of_each(book: Book) -> Book:
    """The book with one volume of each thickness: all others say the same."""
    by_thickness = {volume.thickness_mm: volume for volume in reversed(book.volumes)}
    return replace(book, volumes=tuple(reversed(by_thickness.values())))


def _notes_alone(book: Book, style: LengthStyle) -> list[str]:
    """Those of the structure, where something else stands in the way of the whole."""
    try:
        return [style.said(note) for note in notes(_one_of_each(book))]
    except CoverlayoutError:
        return []
