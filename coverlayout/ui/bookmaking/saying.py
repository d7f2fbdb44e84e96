"""The book step in a few words: the line of the closed step, what is to be cut, what is worth knowing."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import Book
from coverlayout.book.materials.plan import plan
from coverlayout.book.structures import notes
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces
from coverlayout.errors import CoverlayoutError
from coverlayout.geometry.frames import Point
from coverlayout.ui.binding.knowing import known_of, structure_words
from coverlayout.ui.binding.paper import block_or_none, counted_words
from coverlayout.ui.ruled.shown import size_words, worded
from coverlayout.units import LengthStyle

__all__ = ["cut_words", "notes_of", "summed_up"]

# A space at which no line is broken.
_FIRM = "\N{NO-BREAK SPACE}"


def summed_up(book: Book, style: LengthStyle) -> str:
    """The structure, then sections and pages where the paper is known, else the size that was given."""
    words = structure_words(book.structure).split(",")[0]
    made = block_or_none(book)
    if made is not None:
        return worded("book-summed", style, structure=words, **counted_words(made, book))
    known = known_of(book)
    what = "book" if book.structure == "slipcase" else known
    size = book.board_mm or (book.block_mm[:2] if book.block_mm else book.page_mm)
    return f"{words}, {what} {size_words(size, style)}" if size else words


def cut_words(project: Project, style: LengthStyle) -> str:
    """The cut size of each kind of piece: covers 144.5 x 182.5, or the least and the largest where they differ."""
    try:
        planned = planned_pieces(project)
    except CoverlayoutError:
        return ""
    sizes: dict[str, list[Point]] = {}
    for piece in planned:
        sizes.setdefault(piece.kind, []).append((piece.width_mm, piece.height_mm))
    words = {
        "cover": "covers",
        "spine piece": "spine strips",
        "side": "sides",
        "corner": "corners",
        "liner": "liners",
        "label": "labels",
    }
    told = ", ".join(
        f"{words[kind]} {_least_to_largest(found, style)}" for kind, found in sizes.items() if kind in words
    )
    return f"To be cut: {told}{_FIRM}{style.unit}" if told else ""


def _least_to_largest(sizes_mm: list[Point], style: LengthStyle) -> str:
    """One size, or the least and the largest by their area; a size is never broken over two lines."""
    ordered = sorted(sizes_mm, key=lambda size: (size[0] * size[1], size))
    words = [
        f"{style.number(width, 'up')} × {style.number(height, 'up')}".replace(" ", _FIRM) for width, height in ordered
    ]
    return words[0] if words[0] == words[-1] else f"from {words[0]} to {words[-1]}"


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
