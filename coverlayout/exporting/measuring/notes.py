"""What the figures of place, size and turn mean, beside the table on paper, and in fewer words on screen."""

from __future__ import annotations

from collections.abc import Sequence

from coverlayout.cloth.base_line import is_lengthwise
from coverlayout.cloth.cloth import Cloth
from coverlayout.errors import Remark
from coverlayout.exporting.measures import Measure
from coverlayout.exporting.measuring.by_line import Side, line_seen
from coverlayout.geometry.shapes import is_rectangle

__all__ = ["place_notes", "table_notes"]


def table_notes(cloth: Cloth, side: Side, rows: Sequence[Measure]) -> list[Remark]:
    """Whose size and which place a table without gaps and drawing tells: only what these rows need."""
    line = line_seen(cloth, side)
    if line is not None:
        said = [Remark.of("table-by-line-right" if is_lengthwise(*line) else "table-by-line-below")]
        zeros = {row.zero for row in rows if row.shown_turn_deg}
        return said + [Remark.of(f"table-zero-{zero}") for zero in ("print", "line") if zero in zeros]
    said = [] if is_rectangle(cloth.outline_now_mm()) else [Remark.of("paper-crooked")]
    return said + ([Remark.of("table-askew")] if any(row.askew for row in rows) else [])


def place_notes(cloth: Cloth, side: Side, rows: Sequence[Measure]) -> list[Remark]:
    """Where places are counted from, whose size is told, what a turn and a gap are: only what these rows need."""
    line = line_seen(cloth, side)
    said = []
    if line is not None:
        said.append(Remark.of("paper-from-line-right" if is_lengthwise(*line) else "paper-from-line-below"))
        zeros = {row.zero for row in rows}
        said += [Remark.of(f"paper-zero-{zero}") for zero in ("print", "line") if zero in zeros]
    elif not is_rectangle(cloth.outline_now_mm()):
        said.append(Remark.of("paper-crooked"))
    if any(row.askew for row in rows):
        if line is None:
            said.append(Remark.of("paper-askew"))
        said.append(Remark.of("paper-gaps"))
    return said
