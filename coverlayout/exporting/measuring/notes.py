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

_TABLE = ("table-triangle", "table-outline")
_PAPER = ("paper-triangle", "paper-outline")


def table_notes(cloth: Cloth, side: Side, rows: Sequence[Measure]) -> list[Remark]:
    """Whose size and which place a table without gaps and drawing tells: only what these rows need."""
    line = line_seen(cloth, side)
    if line is not None:
        said = [Remark.of("table-by-line-right" if is_lengthwise(*line) else "table-by-line-below")]
        zeros = {row.zero for row in rows if row.shown_turn_deg}
        said += [Remark.of(f"table-zero-{zero}") for zero in ("print", "line") if zero in zeros]
        return said + _of_shapes(_TABLE, rows)
    said = [] if is_rectangle(cloth.outline_now_mm()) else [Remark.of("paper-crooked")]
    said += [Remark.of("table-askew")] if any(row.askew for row in rows) else []
    return said + _of_shapes(_TABLE, rows)


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
    return said + _of_shapes(_PAPER, rows)


def _of_shapes(codes: tuple[str, str], rows: Sequence[Measure]) -> list[Remark]:
    """What width, height and place are of triangles and of other pieces that are no rectangles."""
    shapes = {row.shape for row in rows}
    return [
        Remark.of(code) for code, shape in zip(codes, ("right triangle", "outline"), strict=True) if shape in shapes
    ]
