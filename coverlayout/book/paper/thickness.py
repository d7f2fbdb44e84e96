"""How thick one sheet of the paper is, and what the thread adds: typed, worked out, or assumed and said so."""

from __future__ import annotations

from coverlayout.book.book import Paper, Structure
from coverlayout.book.paper.sheets import paper_table
from coverlayout.book.paper.weight import thickness_of
from coverlayout.book.rules.table import rule
from coverlayout.errors import Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.units import parse_length

__all__ = ["paper_thickness_mm", "swell_notes", "swell_of_section_mm", "thickness_notes"]

# The thread goes through the whole pile, or there is none: nothing lies between the sections.
_NO_THREAD_IN_FOLDS = ("side-sewn", "accordion")


def paper_thickness_mm(paper: Paper, structure: Structure = "separate-boards") -> float | None:
    """Thickness of one sheet in mm: as typed, else grammage x bulk / 1000 with the usual bulk where none is given.

    None when neither a thickness nor a grammage is given. BadInput for a weight or bulk out of its range.

    >>> paper_thickness_mm(Paper((210.0, 297.0), gsm=80.0, bulk=1.5)), paper_thickness_mm(Paper((210.0, 297.0)))
    (0.12, None)
    """
    if paper.thickness_mm is not None:
        return paper.thickness_mm
    return _by_weight_mm(paper, structure)


def _by_weight_mm(paper: Paper, structure: Structure) -> float | None:
    return None if paper.gsm is None else thickness_of(paper.gsm, _bulk(paper, structure))


def _bulk(paper: Paper, structure: Structure) -> float:
    """Bulk in cm3/g, as given or as the table of rules has it."""
    return rule("bulk", structure).figure() if paper.bulk is None else paper.bulk


def thickness_notes(paper: Paper, structure: Structure = "separate-boards") -> tuple[Remark, ...]:
    """What is assumed, missing, odd or said twice about the thickness of a sheet."""
    sheet_mm = paper_thickness_mm(paper, structure)
    if sheet_mm is None:
        alone = () if paper.bulk is None else (Remark.of("bulk-alone", bulk=f"{paper.bulk:g}"),)
        return (*alone, Remark.of("thickness-not-known"))
    return (*_weight_notes(paper, structure, sheet_mm), *_heavy_notes(sheet_mm))


def _weight_notes(paper: Paper, structure: Structure, sheet_mm: float) -> tuple[Remark, ...]:
    by_weight_mm = _by_weight_mm(paper, structure)
    if paper.gsm is None or by_weight_mm is None:
        return ()
    bulk, weight = f"{_bulk(paper, structure):g}", f"{paper.gsm:.4g}"
    if paper.thickness_mm is None:
        assumed = Remark.of("bulk-assumed", thick_fine_mm=sheet_mm, bulk=bulk, gsm=weight)
        return (assumed,) if paper.bulk is None else ()
    if paper.bulk is not None and abs(by_weight_mm - sheet_mm) > SAME_LENGTH_MM:
        return (Remark.of("thickness-two-ways", typed_fine_mm=sheet_mm, thick_fine_mm=by_weight_mm),)
    return ()


def _heavy_notes(sheet_mm: float) -> tuple[Remark, ...]:
    usual = paper_table()["usual"]
    board_mm = parse_length(usual["board_from"]["value"])
    if sheet_mm >= board_mm:
        return (Remark.of("paper-is-board", thick_fine_mm=sheet_mm, board_fine_mm=board_mm),)
    if sheet_mm >= parse_length(usual["paper_below"]["value"]):
        return (Remark.of("paper-heavy", thick_fine_mm=sheet_mm),)
    return ()


def swell_of_section_mm(paper: Paper, structure: Structure = "separate-boards") -> float:
    """What the thread adds for each section at the spine, in mm: as given, else by the table of rules.

    By the rule nothing for single leaves, a side-sewn pile and an accordion: no thread lies between their folds.

    >>> swell_of_section_mm(Paper((210.0, 297.0), swell_mm=0.3)), swell_of_section_mm(Paper((210.0, 297.0), folds=0))
    (0.3, 0.0)
    """
    if paper.swell_mm is not None:
        return paper.swell_mm
    if paper.folds == 0 or structure in _NO_THREAD_IN_FOLDS:
        return 0.0
    return rule("swell", structure).figure()


def swell_notes(paper: Paper, structure: Structure, sections: int) -> tuple[Remark, ...]:
    """What is assumed about the swell, or that a given one is unusual; nothing where there is none."""
    each_mm, row = swell_of_section_mm(paper, structure), rule("swell", structure)
    if paper.swell_mm is None:
        assumed = Remark.of("swell-assumed", each_exact_mm=each_mm, total_exact_mm=sections * each_mm)
        return (assumed,) if each_mm > 0 else ()
    if each_mm == 0 or not row.unusual(each_mm):
        return ()
    return (
        Remark.of(
            "swell-unusual",
            each_exact_mm=each_mm,
            usual_least_exact_mm=row.usual_least,
            usual_most_exact_mm=row.usual_most,
        ),
    )
