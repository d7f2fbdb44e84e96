"""Whether a paper can be cut and folded at all: one sentence for the first figure that cannot be used."""

from __future__ import annotations

import math

from coverlayout.book.book import Paper, Structure
from coverlayout.book.paper.weight import check_bulk, check_gsm
from coverlayout.book.rules.table import rule
from coverlayout.errors import BadInput
from coverlayout.units import check_length

__all__ = ["MOST_FOLDS", "MOST_PARTS", "MOST_PER_SECTION", "MOST_SHEETS", "check_paper"]

# Paper cannot be folded more often by hand; the other bounds only catch a slip of typing.
MOST_FOLDS = 6
MOST_PARTS = 50
MOST_PER_SECTION = 200
MOST_SHEETS = 100_000
_LEAST_SIDE_MM, _MOST_SIDE_MM = 20.0, 10_000.0
_LEAST_THICKNESS_MM, _MOST_THICKNESS_MM = 0.01, 5.0


def check_paper(paper: Paper, structure: Structure = "separate-boards", *, where: str = "paper") -> None:
    """Nothing, or BadInput naming `where` and the figure that cannot be used.

    Sides from 20 mm to 10 m; 1 to 50 parts along each side; 0 to 6 folds; 1 to 200 pieces a section; 1 to 100 000
    sheets or pages, not both; a thickness from 0.01 to 5 mm; weight and bulk as in weight; trims of 0 or more (none at
    the fore-edge of an accordion, where they would cut its folds); what a thread adds as the table of rules says.
    """
    for name, side_mm in zip(("width", "height"), paper.sheet_mm, strict=True):
        _check_range(side_mm, _LEAST_SIDE_MM, _MOST_SIDE_MM, f"{where}: {name} of the sheet", "297mm")
    for found in paper.cut:
        _check_count(found, 1, MOST_PARTS, f"{where}: cut")
    _check_count(paper.folds, 0, MOST_FOLDS, f"{where}: folds")
    if paper.per_section is not None:
        _check_count(paper.per_section, 1, MOST_PER_SECTION, f"{where}: pieces in a section")
    _check_amount(paper, where)
    _check_thickness(paper, where)
    _check_trims(paper, structure, where)
    if paper.swell_mm is not None:
        row = rule("swell", structure)
        _check_range(paper.swell_mm, row.least, row.most, f"{where}: swell of a section", "0.2mm")
    if paper.price is not None and not (math.isfinite(paper.price) and paper.price >= 0):
        raise BadInput("paper-price", where=where, found=f"{paper.price:g}")


def _check_amount(paper: Paper, where: str) -> None:
    if paper.sheets is not None and paper.pages is not None:
        raise BadInput("sheets-and-pages", where=where, sheets=paper.sheets, pages=paper.pages)
    if paper.sheets == 0:
        raise BadInput("no-sheets", where=where)
    if paper.pages == 0:
        raise BadInput("no-pages", where=where)
    for name, found in (("sheets", paper.sheets), ("pages", paper.pages)):
        if found is not None:
            _check_count(found, 1, MOST_SHEETS, f"{where}: {name}")


def _check_thickness(paper: Paper, where: str) -> None:
    if paper.thickness_mm is not None:
        what = f"{where}: thickness of a sheet"
        _check_range(paper.thickness_mm, _LEAST_THICKNESS_MM, _MOST_THICKNESS_MM, what, "0.12mm")
    if paper.gsm is not None:
        check_gsm(paper.gsm, where=f"{where}: weight")
    if paper.bulk is not None:
        check_bulk(paper.bulk, where=f"{where}: bulk")


def _check_trims(paper: Paper, structure: Structure, where: str) -> None:
    for edge, trim_mm in (
        ("head", paper.trim_head_mm),
        ("tail", paper.trim_tail_mm),
        ("fore-edge", paper.trim_fore_edge_mm),
    ):
        check_length(trim_mm, where=f"{where}: trim at the {edge}", like="3mm", least="0")
    if structure == "accordion" and paper.folds > 0 and paper.trim_fore_edge_mm > 0:
        raise BadInput("trim-cuts-folds", where=where)


def _check_count(found: int, least: int, most: int, where: str) -> None:
    if not least <= found <= most:
        raise BadInput("count-out-of-range", where=where, found=found, least=least, most=most)


def _check_range(length_mm: float, least_mm: float, most_mm: float, where: str, like: str) -> None:
    check_length(length_mm, where=where, like=like, least="any")
    if not least_mm <= length_mm <= most_mm:
        raise BadInput(
            "paper-length-range",
            where=where,
            found=f"{length_mm:g}mm",
            least=f"{least_mm:g}mm",
            most=f"{most_mm:g}mm",
        )
