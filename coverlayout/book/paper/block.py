"""From the paper to the block: sections, pages, sheets to buy, what is left over, and how thick it all is."""

from __future__ import annotations

from dataclasses import dataclass, replace

from coverlayout.book.book import Paper, Structure
from coverlayout.book.paper.folding import Folded, folded, pieces_in_section, pieces_there, usual_in_section
from coverlayout.book.paper.sheets import paper_table
from coverlayout.book.paper.thickness import paper_thickness_mm, swell_notes, swell_of_section_mm, thickness_notes
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["BlockMade", "block_of", "counted_block"]

# Nothing is sewn through a fold here, so single leaves are as good as folded ones.
_NO_FOLD_NEEDED = ("side-sewn", "accordion", "slipcase", "parts")
# These hold a single section, or are not sewn section to section.
_ONE_SECTION_IS_FINE = (*_NO_FOLD_NEEDED, "limp-wrap")


@dataclass(frozen=True)
class BlockMade:
    """What the paper makes; thicknesses in mm, None where nothing tells how thick the paper is.

    `pages` counts the blank ones. `leftover_sheets` were not cut at all, `leftover_pieces` are cut pieces beside them
    that fill no section. `swell_mm` is of the whole block, at the spine. For an accordion `sections` are its strips and
    `leaves` its panels.
    """

    sections: int
    pages: int
    blank_pages: int
    sheets_needed: int
    leftover_sheets: int
    leftover_pieces: int
    pieces_per_section: int
    leaves: int
    paper_thickness_mm: float | None = None
    swell_mm: float = 0.0
    thickness_mm: float | None = None
    notes: tuple[Remark, ...] = ()


def block_of(paper: Paper, structure: Structure = "separate-boards", *, where: str = "paper") -> BlockMade:
    """The block that the sheets in hand make, or that the pages wanted need; only full sections are bound.

    Thickness = leaves x thickness of a sheet + sections x swell of a section. The notes tell what is odd and what was
    assumed; those on grain are in `grain.grain_notes`. BadInput naming `where`: a paper that cannot be used (see
    ranges), neither sheets nor pages, too few sheets for one section of the size that was asked for.

    >>> made = block_of(Paper((228.6, 304.8), sheets=16, cut=(2, 1), thickness_mm=0.12, swell_mm=0.0))
    >>> made.sections, made.pages, made.leaves, made.leftover_sheets, round(made.thickness_mm or 0.0, 6)
    (8, 128, 64, 0, 7.68)
    """
    made = folded(paper, structure, where=where)
    there = pieces_there(paper)
    if there is None:
        raise BadInput("no-sheets-no-pages", where=where)
    per = pieces_in_section(paper, structure)
    if paper.sheets is not None and there < per:
        least = -(-per // made.pieces_per_sheet)
        raise BadInput("section-not-filled", where=where, pieces=there, per=per, least=least)
    block = _counted(paper, made, there, per)
    sheet_mm = paper_thickness_mm(paper, structure)
    swell_mm = block.sections * swell_of_section_mm(paper, structure)
    block = replace(
        block,
        paper_thickness_mm=sheet_mm,
        swell_mm=swell_mm,
        thickness_mm=None if sheet_mm is None else block.leaves * sheet_mm + swell_mm,
    )
    return replace(
        block,
        notes=(
            *_count_notes(block),
            *_structure_notes(paper, structure, block),
            *thickness_notes(paper, structure),
            *(swell_notes(paper, structure, block.sections) if sheet_mm is not None else ()),
            *_closed_notes(paper, made),
        ),
    )


def counted_block(
    paper: Paper | None, structure: Structure = "separate-boards", *, where: str = "paper"
) -> BlockMade | None:
    """The block as by `block_of`; None without paper, and while neither sheets nor pages are given.

    >>> counted_block(None), counted_block(Paper((210.0, 297.0)))
    (None, None)
    """
    if paper is None or pieces_there(paper) is None:
        return None
    return block_of(paper, structure, where=where)


def _counted(paper: Paper, made: Folded, there: int, per: int) -> BlockMade:
    """Everything that is counted: the last section is filled up for pages wanted, and left out of sheets in hand."""
    sections = there // per if paper.sheets is not None else -(-there // per)
    bound = sections * per
    needed = -(-bound // made.pieces_per_sheet)
    sheets = needed if paper.sheets is None else paper.sheets
    pages = bound * made.pages_per_piece
    return BlockMade(
        sections=sections,
        pages=pages,
        blank_pages=0 if paper.pages is None else pages - paper.pages,
        sheets_needed=needed,
        leftover_sheets=sheets - needed,
        leftover_pieces=needed * made.pieces_per_sheet - bound,
        pieces_per_section=per,
        leaves=bound * made.leaves_per_piece,
    )


def _count_notes(block: BlockMade) -> tuple[Remark, ...]:
    """What is left over, and the blank pages at the end."""
    found: list[Remark] = []
    if block.blank_pages:
        wanted = block.pages - block.blank_pages
        found.append(Remark.of("pages-left-blank", wanted=wanted, total=block.pages, blank=block.blank_pages))
    if block.leftover_sheets or block.leftover_pieces:
        sheets, pieces = block.leftover_sheets, block.leftover_pieces
        found.append(Remark.of("paper-left-over", sheets=sheets, pieces=pieces, per=block.pieces_per_section))
    return tuple(found)


def _structure_notes(paper: Paper, structure: Structure, block: BlockMade) -> tuple[Remark, ...]:
    """What does not go with the way it is bound."""
    if structure == "accordion":
        return _strip_notes(paper, block)
    if paper.folds == 0:
        return _leaf_notes(paper, structure)
    return _section_notes(paper, structure, block)


def _strip_notes(paper: Paper, block: BlockMade) -> tuple[Remark, ...]:
    found: list[Remark] = []
    if block.sections > 1:
        found.append(Remark.of("accordion-joins", strips=block.sections, panels=block.leaves))
    if paper.per_section is not None and paper.per_section != 1:
        found.append(Remark.of("accordion-no-sections", per=paper.per_section))
    return tuple(found)


def _leaf_notes(paper: Paper, structure: Structure) -> tuple[Remark, ...]:
    found: list[Remark] = []
    if structure not in _NO_FOLD_NEEDED:
        found.append(Remark.of("leaves-without-fold"))
    if paper.per_section is not None:
        found.append(Remark.of("pile-no-sections", per=paper.per_section))
    return tuple(found)


def _section_notes(paper: Paper, structure: Structure, block: BlockMade) -> tuple[Remark, ...]:
    found: list[Remark] = []
    per, by_rule = block.pieces_per_section, usual_in_section(paper.folds)
    if paper.per_section is None and per < by_rule and structure != "limp-wrap":
        found.append(Remark.of("section-shortened", pieces=per, per=by_rule))
    if block.sections == 1 and structure not in _ONE_SECTION_IS_FINE:
        found.append(Remark.of("one-section"))
    if block.sections > 1 and structure == "limp-wrap":
        found.append(Remark.of("limp-many-sections", sections=block.sections))
    layers, usual = per * (1 << (paper.folds - 1)), paper_table()["usual"]["layers_in_fold"]["value"]
    if layers > usual:
        found.append(Remark.of("section-thick", layers=layers, usual=usual))
    return tuple(found)


def _closed_notes(paper: Paper, made: Folded) -> tuple[Remark, ...]:
    """The edges where folds stay closed because nothing is trimmed off them."""
    trims_mm = {"head": paper.trim_head_mm, "tail": paper.trim_tail_mm, "fore-edge": paper.trim_fore_edge_mm}
    closed = [edge for edge in made.closed_edges if trims_mm[edge] <= SAME_LENGTH_MM]
    if not closed:
        return ()
    *most, last = closed
    return (Remark.of("folds-closed", edges=f"{', '.join(most)} and {last}" if most else last),)
