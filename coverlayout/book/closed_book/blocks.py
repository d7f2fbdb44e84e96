"""The block in the cut: its sections, or a pile of single leaves, on the round where there is one."""

from __future__ import annotations

from contextlib import suppress

from coverlayout.book.book import Book
from coverlayout.book.closed_book.places import Closed
from coverlayout.book.paper.block import block_of
from coverlayout.book.picturing.lines import arc
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point, Ring

__all__ = ["draw_block", "is_pile"]

_FEWEST_SECTIONS, _MOST_SECTIONS, _LIKELY_SECTION_MM = 3, 24, 2.4
# A leaf of a pile and the air to the next are drawn so many times as thick as the air between things.
_LEAF_IN_AIR, _FEWEST_LEAVES = 2.2, 4


def is_pile(book: Book) -> bool:
    """True where the block is a pile of single leaves: nothing is folded, or a side-sewn book does not say so.

    >>> is_pile(Book("b", "Notes", "side-sewn")), is_pile(Book("b", "Ledger"))
    (True, False)
    """
    return book.structure == "side-sewn" if book.paper is None else book.paper.folds == 0


def draw_block(at: Closed, rise_mm: float = 0.0) -> None:
    """Draw the block as it is sewn, its back `rise_mm` round."""
    if is_pile(at.book):
        _draw_leaves(at, rise_mm)
    else:
        _draw_sections(at, rise_mm)


def _draw_leaves(at: Closed, rise_mm: float) -> None:
    """Single leaves, as many as can be told apart: nothing is folded at the spine."""
    count = min(max(round(at.thick_mm / (_LEAF_IN_AIR * at.air_mm)), _FEWEST_LEAVES), _MOST_SECTIONS)
    each = at.thick_mm / count
    for k in range(count):
        sag = _sag_mm(at.thick_mm, rise_mm, (k + 0.5) * each)
        left, right = at.xs.at(0.0) - sag, at.xs.at(at.page_mm) - sag
        at.sketch.box("section", (left, (k + 0.2) * each), (right, (k + 0.8) * each), f"leaf {k + 1}")


def _draw_sections(at: Closed, rise_mm: float) -> None:
    """Folded leaves with their folds at the spine."""
    count, thick = _sections(at), at.thick_mm
    each = thick / count
    back, fore = at.xs.at(0.0), at.xs.at(at.page_mm)
    for k in range(count):
        sag = _sag_mm(thick, rise_mm, (k + 0.5) * each)
        gap = min(0.12 * each, 0.25 * at.air_mm)
        top, bottom = k * each + gap, (k + 1) * each - gap
        at.sketch.area("section", _folded((back - sag, fore - sag), top, bottom), f"section {k + 1}")
        # The fold of the inner leaves, where there is room to see it.
        if each > 2.2 * at.air_mm:
            nearer = (back - sag + 0.3 * each, fore - sag)
            at.sketch.line("section", _folded(nearer, top + 0.3 * each, bottom - 0.3 * each), f"section {k + 1}")


def _sections(at: Closed) -> int:
    """As many sections as the paper makes; without paper, as many as such a block is likely to have."""
    count = max(round(at.thick_mm / _LIKELY_SECTION_MM), _FEWEST_SECTIONS)
    if at.book.paper is not None:
        with suppress(BadInput):
            count = block_of(at.book.paper, at.book.structure).sections
    return min(max(count, 1), _MOST_SECTIONS)


def _sag_mm(thick: float, rise_mm: float, y: float) -> float:
    """How far the round stands out at a height of the block."""
    line = arc(thick, rise_mm)
    nearest = min(line, key=lambda point: abs(point[1] - y))
    return -nearest[0]


def _folded(x: Point, top: float, bottom: float) -> Ring:
    """A folded leaf: two edges at the fore-edge, one fold at the spine."""
    back, fore = x
    high = bottom - top
    fold = tuple((back + high / 2 + dx, top + dy) for dx, dy in arc(high, high / 2))
    return (fore, top), *fold, (fore, bottom)
