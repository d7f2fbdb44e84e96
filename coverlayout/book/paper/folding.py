"""From the sheet to the page: cut, folded and trimmed; which way the grain lies and which edges stay closed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.book.book import Paper, Structure
from coverlayout.book.paper.ranges import check_paper
from coverlayout.book.paper.sheets import paper_table
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.geometry.tolerance import EXACT_MM, SAME_LENGTH_MM

__all__ = ["ClosedEdge", "Folded", "PageGrain", "folded", "pieces_in_section", "pieces_there", "usual_in_section"]

PageGrain = Literal["head to tail", "across", "unknown"]
ClosedEdge = Literal["head", "tail", "fore-edge"]


@dataclass(frozen=True)
class Folded:
    """A sheet cut and folded, in mm.

    `leaf_mm` is the cut piece before it is folded, its longer side first. `page_mm` is the page's width and height
    after the trims, `untrimmed_mm` before. `leaves_per_piece` are its leaves (of an accordion: the panels of a strip).
    `closed_edges` are those where folds stay closed unless they are trimmed or slit.
    """

    leaf_mm: Point
    page_mm: Point
    untrimmed_mm: Point
    leaves_per_piece: int
    pages_per_section: int
    pieces_per_sheet: int
    grain_of_page: PageGrain
    closed_edges: tuple[ClosedEdge, ...] = ()

    @property
    def pages_per_piece(self) -> int:
        """Two pages a leaf."""
        return 2 * self.leaves_per_piece


@dataclass(frozen=True)
class _Side:
    """A side of what is being folded: its length, whether the grain runs along it, how often it was halved."""

    length_mm: float
    has_grain: bool
    halved: int = 0

    def half(self) -> _Side:
        return _Side(self.length_mm / 2, self.has_grain, self.halved + 1)


def folded(paper: Paper, structure: Structure = "separate-boards", *, where: str = "paper") -> Folded:
    """The sheet cut and folded: page, pages in a section, grain of the page.

    Each fold halves the longer side of what is left and the last one is the spine: the side halved last is the page's
    width. Of two equal sides the one is halved that lets the grain run along the spine. Without folds a page is a
    single leaf, upright. `Paper.spine_along` turns the last fold, or the leaf, the other way. The folds of an accordion
    all lie across the strip's longer side. BadInput naming `where` for a paper that cannot be used (see ranges) and for
    trims that leave nothing of the page.

    >>> pad = Paper((228.6, 304.8), cut=(2, 1), sheets=16, grain="long")
    >>> made = folded(pad)
    >>> made.leaf_mm, made.page_mm, made.pages_per_section, made.grain_of_page
    ((228.6, 152.4), (114.3, 152.4), 16, 'head to tail')
    """
    check_paper(paper, structure, where=where)
    along, across = _piece(paper)
    width, height = _fold(paper, structure, along, across)
    page_mm = (
        width.length_mm - paper.trim_fore_edge_mm,
        height.length_mm - paper.trim_head_mm - paper.trim_tail_mm,
    )
    for name, left_mm, whole_mm in zip(("width", "height"), page_mm, (width, height), strict=True):
        if left_mm <= SAME_LENGTH_MM:
            raise BadInput("trim-leaves-nothing", where=where, side=name, folded_mm=whole_mm.length_mm)
    leaves = _leaves(paper)
    return Folded(
        leaf_mm=_longer_first(along.length_mm, across.length_mm),
        page_mm=page_mm,
        untrimmed_mm=(width.length_mm, height.length_mm),
        leaves_per_piece=leaves,
        pages_per_section=2 * leaves * pieces_in_section(paper, structure),
        pieces_per_sheet=paper.cut[0] * paper.cut[1],
        grain_of_page=_grain_of_page(paper, height),
        closed_edges=() if structure == "accordion" else _closed(width.halved, height.halved),
    )


def _leaves(paper: Paper) -> int:
    return 1 << paper.folds


def _longer_first(one_mm: float, other_mm: float) -> Point:
    return max(one_mm, other_mm), min(one_mm, other_mm)


def _piece(paper: Paper) -> tuple[_Side, _Side]:
    """The sides of a cut piece: that along the sheet's longer side, that along its shorter."""
    long_mm, short_mm = _longer_first(*paper.sheet_mm)
    parts_long, parts_short = paper.cut
    return _Side(long_mm / parts_long, paper.grain == "long"), _Side(short_mm / parts_short, paper.grain == "short")


def _fold(paper: Paper, structure: Structure, one: _Side, other: _Side) -> tuple[_Side, _Side]:
    """Width and height of the page before it is trimmed."""
    if paper.folds == 0:
        longer, shorter = (one, other) if _goes_first(one, other, grain_first=True) else (other, one)
        return (longer, shorter) if paper.spine_along == "shorter" else (shorter, longer)
    if structure == "accordion":
        strip, height = (one, other) if _goes_first(one, other, grain_first=False) else (other, one)
        if paper.spine_along == "longer":
            strip, height = height, strip
        for _ in range(paper.folds):
            strip = strip.half()
        return strip, height
    width, height = one, other
    for left in range(paper.folds, 0, -1):
        # Of two equal sides the other is halved by the next fold, so with an even number left the grain's goes now.
        if not _goes_first(width, height, grain_first=left % 2 == 0):
            width, height = height, width
        if left == 1 and paper.spine_along == "longer":
            width, height = height, width
        width = width.half()
    return width, height


def _goes_first(one: _Side, other: _Side, *, grain_first: bool) -> bool:
    """True when `one` is the longer; of equal sides, when it is the one with the grain (or without it).

    With the grain unknown the side that was halved less often goes first: the sheet is turned between two folds.
    """
    if abs(one.length_mm - other.length_mm) > EXACT_MM:
        return one.length_mm > other.length_mm
    if one.has_grain == other.has_grain:
        return one.halved <= other.halved
    return one.has_grain == grain_first


def _grain_of_page(paper: Paper, height: _Side) -> PageGrain:
    if paper.grain == "unknown":
        return "unknown"
    return "head to tail" if height.has_grain else "across"


def _closed(width_folds: int, height_folds: int) -> tuple[ClosedEdge, ...]:
    """Where folds lie besides the spine: one across the spine closes the head, a second the tail too."""
    found: list[ClosedEdge] = []
    if height_folds >= 1:
        found.append("head")
    if height_folds >= 2:
        found.append("tail")
    if width_folds >= 2:
        found.append("fore-edge")
    return tuple(found)


def pieces_there(paper: Paper) -> int | None:
    """Cut pieces in hand, or as many as the pages wanted need; None when neither sheets nor pages are given."""
    if paper.sheets is not None:
        return paper.sheets * paper.cut[0] * paper.cut[1]
    if paper.pages is not None:
        return -(-paper.pages // (2 * _leaves(paper)))
    return None


def pieces_in_section(paper: Paper, structure: Structure = "separate-boards") -> int:
    """Cut pieces folded into each other in one section.

    As given; else by the rule for so many folds, and never more than there are. Single leaves make one pile and a limp
    wrap holds one section, so all pieces are in it; a strip of an accordion stands alone.

    >>> pieces_in_section(Paper((420.0, 297.0), sheets=40, folds=2)), pieces_in_section(Paper((420.0, 297.0), sheets=3))
    (2, 3)
    """
    if structure == "accordion":
        return 1
    there = pieces_there(paper)
    if paper.folds == 0:
        return there or 1
    if paper.per_section is not None:
        return paper.per_section
    if structure == "limp-wrap" and there is not None:
        return there
    by_rule = usual_in_section(paper.folds)
    return by_rule if there is None else min(by_rule, there)


def usual_in_section(folds: int) -> int:
    """Cut pieces in a section by the table, for pieces that are folded so often.

    >>> usual_in_section(1), usual_in_section(2), usual_in_section(5)
    (4, 2, 1)
    """
    rows = paper_table()["section"]
    pieces: int = next((row["pieces"] for row in rows if row["folds"] >= folds), rows[-1]["pieces"])
    return pieces
