"""The measurements as a table for a spreadsheet: `placement.csv`."""

from __future__ import annotations

import csv
import io

from coverlayout.exporting.measures import Measure
from coverlayout.exporting.measuring.shape import points_text
from coverlayout.geometry.shapes import bounds

__all__ = ["COLUMNS", "harmless", "placement_csv"]

COLUMNS = (
    "piece",
    "side",
    "width_mm",
    "height_mm",
    "turn_deg",
    "left_mm",
    "top_mm",
    "left_neighbour",
    "left_gap_mm",
    "top_neighbour",
    "top_gap_mm",
    "repeat_x_mm",
    "repeat_y_mm",
    "cloth",
    "state",
    "own_width_mm",
    "own_height_mm",
    "measured_from",
    "line_along_mm",
    "line_across_mm",
    "line_along_right_mm",
    "line_across_right_mm",
    "line_turn_deg",
    "line_turn_from",
    "name",
    "shape",
    "points_mm",
)


def harmless(text: str) -> str:
    """A text cell that a spreadsheet will not run as a formula: an apostrophe goes before the signs that start one.

    >>> harmless("=1+1"), harmless("front-1")
    ("'=1+1", 'front-1')
    """
    # Common practice, no source: these signs at the start make a spreadsheet read a formula.
    return "'" + text if text[:1] in ("=", "+", "-", "@", "\t", "\r", "\n") else text


def placement_csv(measures: tuple[Measure, ...]) -> bytes:
    """One header row and one row a piece, UTF-8, decimal point, lengths to 0.01 mm; the header alone for no pieces."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(COLUMNS)
    writer.writerows(_row(measure) for measure in measures)
    return text.getvalue().encode("utf-8")


def _row(measure: Measure) -> list[str]:
    box = measure.box
    repeat = (
        ("", "")
        if measure.in_repeat_mm is None
        else (_figure(measure.in_repeat_mm[0]), _figure(measure.in_repeat_mm[1]))
    )
    return [
        harmless(measure.piece),
        measure.side,
        _figure(box.width_mm),
        _figure(box.height_mm),
        _figure(measure.turn_deg),
        _figure(box.left_mm),
        _figure(box.top_mm),
        harmless(measure.to_left.name),
        _figure(measure.to_left.distance_mm),
        harmless(measure.to_top.name),
        _figure(measure.to_top.distance_mm),
        *repeat,
        harmless(measure.cloth),
        measure.state,
        _figure(measure.width_mm),
        _figure(measure.height_mm),
        *_by_line(measure),
        harmless(measure.name),
        measure.shape,
        _points(measure),
    ]


def _points(measure: Measure) -> str:
    """The corners of the cut from the cloth's left and top edges, of what is no upright rectangle as it lies."""
    if measure.shape == "rectangle" and not measure.askew:
        return ""
    lying = bounds(measure.outline_mm)
    origin_mm = lying.left_mm - measure.box.left_mm, lying.top_mm - measure.box.top_mm
    return points_text(measure.outline_mm, origin_mm)


def _by_line(measure: Measure) -> list[str]:
    """Where the two top corners lie along and across the base line, and the turn shown with what it is counted from.

    Empty where the edges are measured from.
    """
    by = measure.from_line
    if by is None:
        return ["edges", "", "", "", "", "", ""]
    figures = (*by.left_mm, *by.right_mm, measure.shown_turn_deg)
    return ["base line", *(_figure(number) for number in figures), measure.zero]


def _figure(number: float) -> str:
    """To 0.01 without a minus before a nought."""
    return f"{round(number, 2) + 0.0:.2f}"
