"""`placement.pdf`: a page a cloth with its drawing to a stated scale, the measures, the verdict and the cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from coverlayout.book.pieces import MarkKind
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import laid_to_cloth, outline_region
from coverlayout.document.project import Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import Remark
from coverlayout.exporting.measures import Measure, measures
from coverlayout.exporting.measuring.by_line import Side
from coverlayout.exporting.measuring.notes import place_notes
from coverlayout.exporting.paper import A4_MM, LETTER_MM, MUTED, PENS, Paper, Pen, printable
from coverlayout.exporting.placement.drawing import PaperPrint, draw_cloth, scale_for
from coverlayout.exporting.placement.pieces import shown_off_mm
from coverlayout.exporting.placement.print_fill import PrintFill
from coverlayout.geometry.shapes import Box, Region
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Report
from coverlayout.motif.drawn import drawn_tile, plain_tile
from coverlayout.motif.pixels import pixels
from coverlayout.motif.prints import LaidPrint
from coverlayout.units import LengthStyle

__all__ = ["CAUTIONS", "placement_pdf", "verdict_remark"]

# The usual cautions for blades, awls, irons, glues and presses; local rules and trained practice come first.
# Sources: safe-work pages on blades (CCOHS), hand tools (OSHA 3080), art materials (US CPSC 5015), guillotines
# (UK HSE); the line on irons is from memory.
CAUTIONS = (
    Remark.of("caution-blades"),
    Remark.of("caution-heat-and-glue"),
    Remark.of("caution-presses"),
    Remark.of("caution-rules"),
)

_MARGIN_MM = 12.0
_ROW_MM = 3.7
_TILE_PX = 900  # fine enough on paper at the scales drawn, and small as a file
# Room at the page's edges for the drawing: what a printer can reach.
_DRAWING_MARGIN_MM = 10.0
# More of the page than this the table may not take from the drawing.
_MOST_TABLE = 0.3
_COLUMNS: tuple[tuple[str, float], ...] = (
    ("column-number", 0.0),
    ("column-piece", 6.0),
    ("column-width", 44.0),
    ("column-height", 58.0),
    ("column-turn", 73.0),
    ("column-left", 85.0),
    ("column-top", 101.0),
    ("column-left-gap", 118.0),
    ("column-top-gap", 135.0),
    ("column-repeat", 153.0),
)
# What the columns of place are called where the base line is measured from.
_BY_LINE = {"column-left": "column-along", "column-top": "column-across"}
# Lines that only some bindings have: what they mean is said where they are drawn.
_KEYED: tuple[MarkKind, ...] = ("joint", "fold", "lap", "window")
_Rows = tuple[tuple[int, Measure], ...]


@dataclass(frozen=True)
class _Page:
    """What one page tells: a cloth from one side, what lies on it, and the verdict."""

    project: Project
    cloth: Cloth
    side: Side
    verdict: Remark
    rows: tuple[Measure, ...]

    @property
    def style(self) -> LengthStyle:
        return self.project.preferences.length_style

    @property
    def words(self) -> str:
        """The verdict in the maker's unit, no room shown larger than it is."""
        return self.verdict.text(lambda length_mm: self.style.show(length_mm, "down"))

    @property
    def notes(self) -> str:
        """What the lines mean, and what must be known of the figures on this page."""
        drawn = {mark.kind for row in self.rows for mark in row.marks}
        said = [Remark.of("paper-lines"), *(Remark.of(f"paper-key-{kind}") for kind in _KEYED if kind in drawn)]
        if any(row.edge == "mouth" for row in self.rows):
            said.append(Remark.of("paper-key-mouth"))
        if self.cloth.zones:
            said.append(Remark.of("paper-areas"))
        off_mm = shown_off_mm(self.rows, self.style)
        if off_mm > SAME_LENGTH_MM:
            said.append(Remark.of("paper-rounded", most=f"{off_mm:.2f} mm"))
        said += place_notes(self.cloth, self.side, self.rows)
        lying = [zone.laid for zone in self.cloth.zones] if self.cloth.zones else [self.cloth.laid]
        if any(laid is not None and not laid.origin_known for laid in lying):
            said.append(Remark.of("paper-origin-unknown"))
        names = (self.project.name, self.cloth.name, *(row.name for row in self.rows))
        if any(printable(name).count("?") > name.count("?") for name in names):
            said.append(Remark.of("paper-letters"))
        return " ".join(remark.text() for remark in said)


@dataclass(frozen=True)
class _Parts:
    """Where the parts of a page lie, as heights from its top, and the room of the drawing."""

    head_mm: float
    room: Box
    notes_mm: float
    table_mm: float
    foot_mm: float


def verdict_remark(report: Report, waiting: Sequence[str]) -> Remark:
    """The check in one sentence for the head of a paper; `waiting` is what to call the pieces that wait."""
    room_mm = report.clearance_mm if report.clearance_mm is not None else 0.0
    if report.waiting:
        return Remark.of("paper-incomplete", waiting=", ".join(waiting), room_mm=room_mm)
    return Remark.of("paper-tight" if report.verdict == "valid, tight" else "paper-valid", room_mm=room_mm)


def placement_pdf(project: Project, pictures: Pictures, side: Side, verdict: Remark) -> bytes:
    """One page a cloth with pieces on it (the first cloth alone when nothing is placed); more where the table is long.

    The page is A4, or Letter when the maker works in inches; it lies down where that lets the cloth be drawn larger.
    """
    every = [_Page(project, cloth, side, verdict, measures(project, cloth.id, side)) for cloth in project.cloths]
    pages = [page for page in every if page.rows] or every[:1]
    size = LETTER_MM if project.preferences.length_style.unit == "in" else A4_MM
    title = Remark.of("paper-title", name=project.name).text()
    paper = min((Paper(*way, title) for way in (size, size[::-1])), key=lambda paper: _likeness(paper, pages))
    fills = _fills(paper, project, pictures)
    for number, page in enumerate(pages):
        if number:
            paper.next_page()
        _draw(paper, page, fills)
    return paper.finished()


def _likeness(paper: Paper, pages: list[_Page]) -> tuple[float, bool]:
    """The smallest scale that the pages come to on this paper; an upright paper goes before a lying one."""
    boxes = [outline_region(page.cloth).bounds for page in pages]
    ratios = [
        scale_for(box.width_mm, box.height_mm, _parts(paper, page).room) for box, page in zip(boxes, pages, strict=True)
    ]
    return max(ratios, default=1.0), paper.width_mm > paper.height_mm


def _fills(paper: Paper, project: Project, pictures: Pictures) -> dict[str, PrintFill]:
    """Every print as a form of this paper, by its id."""
    fills = {}
    for number, a_print in enumerate(project.prints):
        data = pictures.get(a_print.picture.sha256) if a_print.picture else None
        tile = drawn_tile(a_print, pixels(data, longest_px=_TILE_PX)) if data else plain_tile(a_print)
        fills[a_print.id] = PrintFill(paper, f"print-{number}", tile)
    return fills


def _prints_on(cloth: Cloth, fills: dict[str, PrintFill]) -> tuple[PaperPrint, ...]:
    """What is printed where on the cloth: each zone's print in the zone, else the cloth's own everywhere."""
    outline = outline_region(cloth)
    parts: list[tuple[LaidPrint | None, Region]] = [(cloth.laid, outline)]
    if cloth.zones:
        rings = [cloth.change_after(zone.changes_in).ring(zone.outline_mm) for zone in cloth.zones]
        parts = [(zone.laid, Region.of(ring).meet(outline)) for zone, ring in zip(cloth.zones, rings, strict=True)]
    return tuple(
        PaperPrint(fills[laid.print_id], region, laid_to_cloth(cloth, laid))
        for laid, region in parts
        if laid is not None
    )


def _parts(paper: Paper, page: _Page) -> _Parts:
    """Where the drawing and the table go; a table that takes too much of the page goes overleaf as a whole."""
    wide_mm = paper.width_mm - 2 * _MARGIN_MM
    verdict_mm = paper.paragraph_mm(wide_mm, page.words, 9)
    notes_mm = paper.paragraph_mm(wide_mm, page.notes, 6)
    foot_mm = 4.0 + sum(paper.paragraph_mm(wide_mm, caution.text(), 6.5) for caution in CAUTIONS)
    table_mm = _ROW_MM * (len(page.rows) + 1.6)
    if table_mm > paper.height_mm * _MOST_TABLE:
        table_mm = _ROW_MM
    top_mm = 32.0 + verdict_mm
    foot_top = paper.height_mm - _MARGIN_MM - foot_mm
    table_top = foot_top - table_mm
    notes_top = table_top - notes_mm - 2.0
    room = Box(_DRAWING_MARGIN_MM, top_mm + 8.0, paper.width_mm - 2 * _DRAWING_MARGIN_MM, notes_top - top_mm - 12.0)
    return _Parts(top_mm, room, notes_top, table_top, foot_top + 3.0)


def _draw(paper: Paper, page: _Page, fills: dict[str, PrintFill]) -> None:
    """Head, drawing, table of measures, cautions."""
    parts, wide_mm = _parts(paper, page), paper.width_mm - 2 * _MARGIN_MM
    _head(paper, page)
    prints = _prints_on(page.cloth, fills)
    ratio = draw_cloth(
        paper, parts.room, page.cloth, side=page.side, measures=page.rows, prints=prints, style=page.style
    )
    _scale_line(paper, parts.head_mm, ratio)
    paper.paragraph((_MARGIN_MM, parts.notes_mm), wide_mm, page.notes, 6)
    _foot(paper, wide_mm, parts.foot_mm)
    rest = tuple(enumerate(page.rows, 1))
    if _ROW_MM * (len(rest) + 1.6) <= paper.height_mm * _MOST_TABLE:
        rest = _table(paper, rest, parts.table_mm, parts.foot_mm - 3.0)
    else:
        paper.text((_MARGIN_MM, parts.table_mm), Remark.of("paper-overleaf").text(), 6.5, bold=True)
    while rest:
        paper.next_page()
        rest = _table(paper, rest, _MARGIN_MM + 4.0, paper.height_mm - _MARGIN_MM)


def _head(paper: Paper, page: _Page) -> None:
    """Name, side, cloth and verdict."""
    box, style = outline_region(page.cloth).bounds, page.style
    right = paper.width_mm - _MARGIN_MM
    size = f"{style.number(box.width_mm, 'down')} x {style.show(box.height_mm, 'down')}"
    of_cloth = f"{paper.shortened(page.cloth.name, 70.0, 9)}, {size}"
    paper.text((right, 17.0), of_cloth, 9, align="right")
    name_mm = right - _MARGIN_MM - paper.text_width_mm(of_cloth, 9) - 6.0
    paper.text((_MARGIN_MM, 17.0), paper.shortened(page.project.name, name_mm, 15, bold=True), 15, bold=True)
    side_words = Remark.of("paper-print-side" if page.side == "print" else "paper-back-side").text()
    paper.fill(Box(_MARGIN_MM, 20.5, paper.text_width_mm(side_words, 9, bold=True) + 4, 6.0).ring(), (0.13, 0.15, 0.17))
    paper.text((_MARGIN_MM + 2, 24.7), side_words, 9, bold=True, colour=(1.0, 1.0, 1.0))
    paper.paragraph((_MARGIN_MM, 32.0), right - _MARGIN_MM, page.words, 9)


def _scale_line(paper: Paper, y_mm: float, ratio: float) -> None:
    """The scale in words, and a bar of 50 mm to hold a ruler to."""
    paper.text((_MARGIN_MM, y_mm + 1.5), Remark.of("paper-scale", ratio=f"{ratio:g}").text(), 8, bold=True)
    right = paper.width_mm - _MARGIN_MM
    paper.line(((right - 50.0, y_mm + 1.0), (right, y_mm + 1.0)), Pen(0.3))
    for x in (right - 50.0, right):
        paper.line(((x, y_mm - 0.5), (x, y_mm + 2.5)), Pen(0.3))
    paper.text((right - 52.0, y_mm + 1.9), Remark.of("paper-bar", length_mm=50.0).text(), 6.5, align="right")


def _foot(paper: Paper, wide_mm: float, y_mm: float) -> None:
    paper.line(((_MARGIN_MM, y_mm - 3.0), (_MARGIN_MM + wide_mm, y_mm - 3.0)), PENS["turn-in"])
    for caution in CAUTIONS:
        y_mm = paper.paragraph((_MARGIN_MM, y_mm), wide_mm, caution.text(), 6.5)


def _table(paper: Paper, rows: _Rows, top_mm: float, bottom_mm: float) -> _Rows:
    """The measures in mm to 0.01; returns the rows that found no place."""
    fitting = max(int((bottom_mm - top_mm) / _ROW_MM - 0.6), 0)
    by_line = any(measure.from_line for _, measure in rows)
    for code, x in _COLUMNS:
        words = Remark.of(_BY_LINE.get(code, code) if by_line else code).text()
        paper.text((_MARGIN_MM + x, top_mm), words, 6, bold=True, colour=MUTED)
    for line, (number, measure) in enumerate(rows[:fitting], 1):
        y = top_mm + _ROW_MM * line
        for cell, (_, x) in zip(_cells(paper, number, measure), _COLUMNS, strict=True):
            paper.text((_MARGIN_MM + x, y), cell, 6.5)
    return rows[fitting:]


def _cells(paper: Paper, number: int, measure: Measure) -> tuple[str, ...]:
    box, repeat, by = measure.box, measure.in_repeat_mm, measure.from_line
    width_mm, height_mm = measure.size_shown_mm
    first_mm, second_mm = (box.left_mm, box.top_mm) if by is None else by.left_mm
    return (
        str(number),
        paper.shortened(measure.name, 36.0, 6.5),
        f"{width_mm:.2f}",
        f"{height_mm:.2f}",
        f"{round(measure.shown_turn_deg, 2) + 0.0:.2f}".rstrip("0").rstrip("."),
        f"{round(first_mm, 2) + 0.0:.2f}",
        f"{round(second_mm, 2) + 0.0:.2f}",
        f"{measure.to_left.distance_mm:.2f}",
        f"{measure.to_top.distance_mm:.2f}",
        "-" if repeat is None else f"{repeat[0]:.2f}, {repeat[1]:.2f}",
    )
