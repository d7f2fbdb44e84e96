"""`placement.pdf`: a page a cloth with its drawing to a stated scale, the measures, the verdict and the cautions."""

from __future__ import annotations

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import laid_to_cloth, outline_region
from coverlayout.document.project import Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import Remark
from coverlayout.exporting.drawing import PaperPrint, draw_cloth
from coverlayout.exporting.measures import Measure, Side, measures
from coverlayout.exporting.paper import A4_MM, LETTER_MM, MUTED, PENS, Paper, Pen
from coverlayout.exporting.print_fill import PrintFill
from coverlayout.geometry.shapes import Box, Region
from coverlayout.layout.answer import Report
from coverlayout.motif.drawn import drawn_tile, plain_tile
from coverlayout.motif.pixels import pixels
from coverlayout.motif.prints import LaidPrint

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
_COLUMNS: tuple[tuple[str, float], ...] = (
    ("column-piece", 0.0),
    ("column-width", 44.0),
    ("column-height", 58.0),
    ("column-turn", 69.0),
    ("column-left", 84.0),
    ("column-top", 99.0),
    ("column-left-gap", 117.0),
    ("column-top-gap", 135.0),
    ("column-repeat", 156.0),
)


def verdict_remark(report: Report) -> Remark:
    """The check in one sentence for the head of a paper."""
    room_mm = report.clearance_mm if report.clearance_mm is not None else 0.0
    if report.waiting:
        return Remark.of("paper-incomplete", waiting=", ".join(report.waiting), room_mm=room_mm)
    return Remark.of("paper-tight" if report.verdict == "valid, tight" else "paper-valid", room_mm=room_mm)


def placement_pdf(project: Project, pictures: Pictures, side: Side, verdict: Remark) -> bytes:
    """One page a cloth with pieces on it (the first cloth alone when nothing is placed); more where the table is long.

    The page is A4, or Letter when the maker works in inches; it lies down for a cloth wider than long.
    """
    shown = [cloth for cloth in project.cloths if measures(project, cloth.id, side)] or list(project.cloths[:1])
    size = LETTER_MM if project.preferences.length_style.unit == "in" else A4_MM
    lying = any(_proportion(cloth) > 1.25 for cloth in shown)
    paper = Paper(*(size[::-1] if lying else size), title=Remark.of("paper-title", name=project.name).text())
    fills = _fills(paper, project, pictures)
    for number, cloth in enumerate(shown):
        if number:
            paper.next_page()
        _page(paper, project, cloth, side=side, verdict=verdict, fills=fills)
    return paper.finished()


def _proportion(cloth: Cloth) -> float:
    box = outline_region(cloth).bounds
    return box.width_mm / box.height_mm


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


def _page(
    paper: Paper, project: Project, cloth: Cloth, *, side: Side, verdict: Remark, fills: dict[str, PrintFill]
) -> None:
    """Head, drawing, table of measures, cautions."""
    rows, style = measures(project, cloth.id, side), project.preferences.length_style
    wide_mm = paper.width_mm - 2 * _MARGIN_MM
    top_mm = _head(paper, project, cloth, side, verdict)
    foot_mm = _foot_height(paper, wide_mm)
    table_mm = min(_ROW_MM * (len(rows) + 1.6), paper.height_mm * 0.3)
    table_top = paper.height_mm - _MARGIN_MM - foot_mm - table_mm
    room = Box(_MARGIN_MM, top_mm + 8.0, wide_mm, table_top - top_mm - 20.0)
    ratio = draw_cloth(paper, room, cloth, side=side, measures=rows, prints=_prints_on(cloth, fills), style=style)
    _scale_line(paper, top_mm, ratio)
    paper.paragraph((_MARGIN_MM, table_top - 8.0), wide_mm, Remark.of("paper-lines").text(), 6)
    _foot(paper, wide_mm, paper.height_mm - _MARGIN_MM - foot_mm + 3.0)
    rest = _table(paper, rows, table_top, table_top + table_mm)
    while rest:
        paper.next_page()
        rest = _table(paper, rest, _MARGIN_MM + 4.0, paper.height_mm - _MARGIN_MM)


def _head(paper: Paper, project: Project, cloth: Cloth, side: Side, verdict: Remark) -> float:
    """Name, side, cloth and verdict; returns the y below them."""
    style = project.preferences.length_style
    box = outline_region(cloth).bounds
    paper.text((_MARGIN_MM, 17.0), project.name, 15, bold=True)
    right = paper.width_mm - _MARGIN_MM
    size = f"{style.number(box.width_mm, 'down')} x {style.show(box.height_mm, 'down')}"
    paper.text((right, 17.0), f"{cloth.name}, {size}", 9, align="right")
    side_words = Remark.of("paper-print-side" if side == "print" else "paper-back-side").text()
    paper.fill(Box(_MARGIN_MM, 20.5, paper.text_width_mm(side_words, 9, bold=True) + 4, 6.0).ring(), (0.13, 0.15, 0.17))
    paper.text((_MARGIN_MM + 2, 24.7), side_words, 9, bold=True, colour=(1.0, 1.0, 1.0))
    words = verdict.text(lambda length_mm: style.show(length_mm, "down"))
    return paper.paragraph((_MARGIN_MM, 32.0), right - _MARGIN_MM, words, 9)


def _scale_line(paper: Paper, y_mm: float, ratio: float) -> None:
    """The scale in words, and a bar of 50 mm to hold a ruler to."""
    paper.text((_MARGIN_MM, y_mm + 1.5), Remark.of("paper-scale", ratio=f"{ratio:g}").text(), 8, bold=True)
    right = paper.width_mm - _MARGIN_MM
    paper.line(((right - 50.0, y_mm + 1.0), (right, y_mm + 1.0)), Pen(0.3))
    for x in (right - 50.0, right):
        paper.line(((x, y_mm - 0.5), (x, y_mm + 2.5)), Pen(0.3))
    paper.text((right - 52.0, y_mm + 1.9), Remark.of("paper-bar", length_mm=50.0).text(), 6.5, align="right")


def _foot_height(paper: Paper, wide_mm: float) -> float:
    lines = sum(paper.text_width_mm(caution.text(), 6.5) // wide_mm + 1 for caution in CAUTIONS)
    return 4.0 + 3.3 * lines


def _foot(paper: Paper, wide_mm: float, y_mm: float) -> None:
    paper.line(((_MARGIN_MM, y_mm - 3.0), (_MARGIN_MM + wide_mm, y_mm - 3.0)), PENS["turn-in"])
    for caution in CAUTIONS:
        y_mm = paper.paragraph((_MARGIN_MM, y_mm), wide_mm, caution.text(), 6.5)


def _table(paper: Paper, rows: tuple[Measure, ...], top_mm: float, bottom_mm: float) -> tuple[Measure, ...]:
    """The measures in mm to 0.01; returns the rows that found no place."""
    fitting = max(int((bottom_mm - top_mm) / _ROW_MM - 1.2), 0)
    for code, x in _COLUMNS:
        paper.text((_MARGIN_MM + x, top_mm), Remark.of(code).text(), 6, bold=True, colour=MUTED)
    for row, measure in enumerate(rows[:fitting]):
        y = top_mm + _ROW_MM * (row + 1)
        for cell, (_, x) in zip(_cells(measure), _COLUMNS, strict=True):
            paper.text((_MARGIN_MM + x, y), cell, 6.5)
    return rows[fitting:]


def _cells(measure: Measure) -> tuple[str, ...]:
    box, repeat = measure.box, measure.in_repeat_mm
    return (
        measure.piece,
        f"{box.width_mm:.2f}",
        f"{box.height_mm:.2f}",
        f"{measure.turn_deg:g}",
        f"{box.left_mm:.2f}",
        f"{box.top_mm:.2f}",
        f"{measure.to_left.distance_mm:.2f}",
        f"{measure.to_top.distance_mm:.2f}",
        "-" if repeat is None else f"{repeat[0]:.2f}, {repeat[1]:.2f}",
    )
