"""A cut through a closed book, drawn from its measures: what lies over what, and what each measure is of."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from coverlayout.book.book import Book, Volume
from coverlayout.book.closed_book.bindings import draw_accordion, draw_separate, draw_side_sewn, draw_slipcase
from coverlayout.book.closed_book.cases import draw_case, draw_limp, draw_wrap
from coverlayout.book.closed_book.places import Closed, closed_book
from coverlayout.book.picturing.shapes import Picture
from coverlayout.errors import BadInput

__all__ = ["cut_through"]

_DRAWN: dict[str, Callable[[Closed], None]] = {
    "separate-boards": draw_separate,
    "exposed-spine-wrap": draw_wrap,
    "flat-case": draw_case,
    "rounded-case": draw_case,
    "quarter-case": draw_case,
    "half-case": draw_case,
    "limp-wrap": draw_limp,
    "side-sewn": draw_side_sewn,
    "accordion": draw_accordion,
    "slipcase": draw_slipcase,
}
_TITLES = {"slipcase": "The slipcase cut across, from the tail"}
_TITLE = "The closed book cut across, from the tail"


@lru_cache(maxsize=64)
def cut_through(book: Book, volume: Volume) -> Picture:
    """A cut across the closed volume, front uppermost: y runs from the front to the back, x away from the spine.

    A long page is drawn shortened between two waves, and what touches is drawn with air between; every figure stands on
    its measure line as it is. A book that opens right has its spine at the right. BadInput: a book that cannot be
    measured, or one that is a plain list of parts.

    >>> cut = cut_through(Book("b", "Ledger", page_mm=(114.3, 152.4)), Volume(1, thickness_mm=16.0))
    >>> [(each.name, each.length_mm) for each in cut.measures if each.name in ("block thickness", "turn-in")]
    [('turn-in', 15.0), ('block thickness', 16.0)]
    """
    if book.structure not in _DRAWN:
        raise BadInput("picture-no-book", book=book.name)
    at = closed_book(book, volume)
    _DRAWN[book.structure](at)
    return at.finish().picture(_TITLES.get(book.structure, _TITLE))
