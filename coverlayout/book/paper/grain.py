"""Does the grain run along the spine, and how to cut and fold so that it does."""

from __future__ import annotations

import math
from dataclasses import replace

from coverlayout.book.book import Paper, Structure
from coverlayout.book.paper.folding import Folded, folded
from coverlayout.book.paper.sheets import paper_table
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["cut_with_grain", "grain_notes"]

# Cuts into more parts than this along a side are not offered: nobody cuts so many by hand.
_MOST_PARTS = 8
# A page of half or twice the size either way is another book.
_MOST_UNLIKE = math.log(2)


def grain_notes(paper: Paper, structure: Structure = "separate-boards") -> tuple[Remark, ...]:
    """What to say of the grain: nothing when it runs along the spine, how to find it when it is not known.

    When it runs across the pages: that it does, and each way to cut that puts it along the spine. BadInput: a paper
    that cannot be folded (see folding).

    >>> [note.code for note in grain_notes(Paper((228.6, 304.8), cut=(2, 1), grain="short"))]
    ['grain-across-pages', 'grain-other-page', 'grain-turned-pieces', 'grain-other-sheets']
    """
    made = folded(paper, structure)
    if made.grain_of_page == "unknown":
        return (Remark.of("grain-not-known"),)
    if made.grain_of_page == "head to tail":
        return ()
    right = "shorter" if paper.grain == "long" else "longer"
    return (
        Remark.of("grain-across-pages"),
        *_other_cut(paper, structure, made),
        *_turned_pieces(paper, made),
        Remark.of("grain-other-sheets", side=right),
    )


def _other_cut(paper: Paper, structure: Structure, made: Folded) -> tuple[Remark, ...]:
    cut = cut_with_grain(paper, structure)
    if cut is None:
        return ()
    page_mm = folded(replace(paper, cut=cut), structure).page_mm
    near = _apart(page_mm, made.page_mm) <= math.log1p(paper_table()["usual"]["nearly_same_percent"]["value"] / 100)
    code = "grain-other-cut" if near else "grain-other-page"
    return (Remark.of(code, cut=f"{cut[0]}x{cut[1]}", width_mm=page_mm[0], height_mm=page_mm[1]),)


def _apart(one: tuple[float, float], other: tuple[float, float]) -> float:
    """How unlike two pages are: the larger of the two sides' ratios, as its logarithm."""
    return max(abs(math.log(a / b)) for a, b in zip(one, other, strict=True))


def cut_with_grain(paper: Paper, structure: Structure = "separate-boards") -> tuple[int, int] | None:
    """The cut, folded as often, whose pages have the grain along the spine and are most like those of the paper.

    Up to eight parts along each side are tried. None when no page has it that the trims leave, and that is above half
    and below twice the size either way.

    >>> cut_with_grain(Paper((609.6, 914.4), cut=(3, 4), grain="long"))
    (6, 2)
    """
    wanted_mm = folded(paper, structure).page_mm
    found: list[tuple[float, tuple[int, int]]] = []
    for parts_long in range(1, _MOST_PARTS + 1):
        for parts_short in range(1, _MOST_PARTS + 1):
            cut = parts_long, parts_short
            try:
                made = folded(replace(paper, cut=cut), structure)
            except BadInput:
                # Trims can leave nothing of a small piece; it is no way to cut then.
                continue
            apart = round(_apart(made.page_mm, wanted_mm), 9)
            if made.grain_of_page == "head to tail" and apart < _MOST_UNLIKE:
                found.append((apart, cut))
    return min(found)[1] if found else None


def _turned_pieces(paper: Paper, made: Folded) -> tuple[Remark, ...]:
    """The same pieces laid on the sheet the other way round: how many there are, and the rest is waste."""
    long_mm, short_mm = max(paper.sheet_mm), min(paper.sheet_mm)
    along_mm, across_mm = long_mm / paper.cut[0], short_mm / paper.cut[1]
    count = int((long_mm + SAME_LENGTH_MM) // across_mm) * int((short_mm + SAME_LENGTH_MM) // along_mm)
    if count == 0 or abs(along_mm - across_mm) <= SAME_LENGTH_MM:
        return ()
    return (Remark.of("grain-turned-pieces", count=count, instead=made.pieces_per_sheet),)
