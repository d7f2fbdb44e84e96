"""What the verbs say: figures in the project's unit for people, unrounded figures as one JSON object for programs."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from coverlayout.app.flags import tell
from coverlayout.cloth.cuts import ladder
from coverlayout.document.asking.remarks import job_remarks
from coverlayout.document.file import load
from coverlayout.document.project import Project
from coverlayout.document.questions import asked_piece, planned_pieces
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.geometry.shapes import bounds
from coverlayout.layout.question import Placed
from coverlayout.layout.rules import outline_on_cloth
from coverlayout.units import Rounding

__all__ = ["NO", "YES", "Opened", "Where", "opened", "print_json", "print_lines", "remarks_on", "table"]

YES = 0
NO = 3


@dataclass(frozen=True)
class Where:
    """A piece as it lies: the corner and size of its upright box on the cloth, in mm, and its turn."""

    piece: str
    cloth: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    turn_deg: float

    def as_record(self) -> dict[str, Any]:
        """The fields by name, as JSON has them."""
        return dict(vars(self))


@dataclass(frozen=True)
class Opened:
    """A project that a verb works on."""

    project: Project
    pictures: Pictures
    notes: tuple[Remark, ...]

    def show(self, length_mm: float, rounding: Rounding = "nearest") -> str:
        """A length in the project's unit."""
        return self.project.preferences.length_style.show(length_mm, rounding)

    def said(self, remark: Remark) -> str:
        """A remark as a sentence in the project's unit."""
        return self.project.preferences.length_style.said(remark)

    def room(self, room_mm: float | None) -> str:
        """A room, never shown larger than it is."""
        return "-" if room_mm is None else self.show(room_mm, "down")

    def texts(self, remarks: Iterable[Remark]) -> list[str]:
        """Remarks as sentences in the project's unit, each once."""
        return list(dict.fromkeys(self.said(remark) for remark in remarks))

    def where(self, placed: Iterable[Placed]) -> list[Where]:
        """Where pieces lie, in the order of the job."""
        asked = {piece.id: asked_piece(self.project, piece) for piece in planned_pieces(self.project)}
        order = {piece_id: number for number, piece_id in enumerate(asked)}
        found = []
        for one in sorted((one for one in placed if one.piece in asked), key=lambda one: order[one.piece]):
            box = bounds(outline_on_cloth(asked[one.piece], one))
            found.append(
                Where(one.piece, one.cloth, box.left_mm, box.top_mm, box.width_mm, box.height_mm, one.turn_deg)
            )
        return found

    def where_lines(self, placed: Iterable[Placed]) -> list[str]:
        """A table of where pieces lie, in the project's unit."""
        rows = [
            (
                *(w.piece, self.show(w.x_mm), self.show(w.y_mm)),
                *(self.show(w.width_mm, "up"), self.show(w.height_mm, "up"), f"{w.turn_deg:g}°"),
            )
            for w in self.where(placed)
        ]
        return table(("piece", "from left", "from top", "width", "height", "turned"), rows) if rows else []


def opened(path: str) -> Opened:
    """The project of a file with what is worth saying about it. BadInput or FileTrouble when it cannot be opened."""
    loaded = load(Path(path))
    return Opened(loaded.project, loaded.pictures, (*loaded.notes, *remarks_on(loaded.project)))


def remarks_on(project: Project) -> tuple[Remark, ...]:
    """What is worth saying about the job. A table of cuts that cannot be read is said too, and stops nothing here."""
    try:
        return job_remarks(project)
    except CoverlayoutError as fault:
        return (fault.remark, *job_remarks(project, ladder()))


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Lines with the columns one below the other, the first to the left, the others to the right.

    >>> table(("cut", "room"), [("yard", "5 mm"), ("fat quarter", "12 mm")])
    ['cut           room', 'yard          5 mm', 'fat quarter  12 mm']
    """
    widths = [max(len(row[column]) for row in (head, *rows)) for column in range(len(head))]
    return [
        "  ".join(
            cell.ljust(width) if column == 0 else cell.rjust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in (head, *rows)
    ]


def print_lines(lines: Iterable[str]) -> None:
    """Lines for people."""
    tell("\n".join(lines))


def print_json(record: dict[str, Any]) -> None:
    """One JSON object; NaN and infinity are never written (ValueError: a fault of the program)."""
    tell(json.dumps(record, allow_nan=False, ensure_ascii=False))
