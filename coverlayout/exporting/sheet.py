"""The papers for the bench: `placement.csv` and `placement.pdf` for one side of the cloth."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from pathlib import Path
from typing import Literal

from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now, planned_pieces
from coverlayout.document.storage.pictures import Pictures
from coverlayout.document.storage.writing import write_safely
from coverlayout.errors import BadInput, FileTrouble
from coverlayout.exporting.measures import measures
from coverlayout.exporting.measuring.by_line import Side
from coverlayout.exporting.names import called
from coverlayout.exporting.placement.pages import placement_pdf, verdict_remark
from coverlayout.exporting.table import placement_csv
from coverlayout.layout.answer import Report

__all__ = ["checked_for_papers", "side_of_papers", "write_papers"]


def write_papers(project: Project, pictures: Pictures, folder: Path, side: Side) -> tuple[Path, ...]:
    """Write the measurements of every cloth with pieces on it; the answer is where they lie.

    The folder is made when it is not there. The drawing, which takes most room, is written first, so that a disk that
    refuses leaves both papers as they were and not one of each kind. BadInput when a rule is broken (a cut cannot be
    undone, so nothing is written) or nothing is placed; FileTrouble when the disk refuses.
    """
    report = checked_for_papers(project)
    rows = tuple(row for cloth in project.cloths for row in measures(project, cloth.id, side))
    drawing = placement_pdf(project, pictures, side, verdict_remark(report, _called(project, report.waiting)))
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise FileTrouble("papers-folder", folder=str(folder), why=fault.strerror or "") from fault
    table_path, drawing_path = folder / "placement.csv", folder / "placement.pdf"
    write_safely(drawing_path, drawing)
    write_safely(table_path, placement_csv(rows))
    return table_path, drawing_path


def side_of_papers(folder: Path) -> Side | Literal["unknown"] | None:
    """Which side the papers that lie in a folder are for; None when there are none, so that nothing is replaced.

    "unknown" for a table without rows, for one that is not ours, and for a drawing alone.
    """
    table = folder / "placement.csv"
    if not table.exists():
        return "unknown" if (folder / "placement.pdf").exists() else None
    try:
        with table.open(encoding="utf-8-sig", newline="") as file:
            said = next(csv.DictReader(file), {}).get("side")
    except (OSError, UnicodeDecodeError, csv.Error):
        return "unknown"
    sides: dict[str | None, Side] = {"print": "print", "back": "back"}
    return sides.get(said, "unknown")


def checked_for_papers(project: Project) -> Report:
    """The check of what lies on the cloths, when papers may be made from it; BadInput otherwise."""
    report = judge_for(project).report(placed_now(project))
    if report.breaches:
        worst = max(report.breaches, key=lambda breach: breach.amount_mm)
        raise BadInput("papers-not-valid", pieces=" and ".join(_called(project, worst.pieces)), rule=worst.rule)
    if not placed_now(project) and not project.cut_pieces:
        raise BadInput("papers-nothing-placed")
    return report


def _called(project: Project, piece_ids: Iterable[str]) -> tuple[str, ...]:
    """What to call those pieces."""
    names = called(planned_pieces(project), project.cut_pieces)
    return tuple(names.get(each, each) for each in piece_ids)
