"""The drawing for the bench: one page a cloth, to a stated scale, with every piece, its measures and its marks."""

from __future__ import annotations

from dataclasses import dataclass

from coverlayout.cloth.base_line import line_turn_deg
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import keep_out_regions, outline_region, usable
from coverlayout.errors import Remark
from coverlayout.exporting.measures import Measure
from coverlayout.exporting.measuring.by_line import Side, cloth_to_side, line_seen
from coverlayout.exporting.paper import MUTED, PENS, Paper
from coverlayout.exporting.placement.pieces import draw_lines, draw_words, faces_of, hatch
from coverlayout.exporting.placement.print_fill import PrintFill
from coverlayout.geometry.frames import Affine, Ring, scale, shift, turn
from coverlayout.geometry.shapes import Box, Region, bounds
from coverlayout.units import LengthStyle

__all__ = ["PaperPrint", "draw_cloth", "scale_for"]

# Scales a maker can work back from with a ruler.
_SCALES = (
    1.0,
    1.5,
    2.0,
    2.5,
    3.0,
    4.0,
    5.0,
    6.0,
    8.0,
    10.0,
    12.0,
    15.0,
    20.0,
    25.0,
    30.0,
    40.0,
    50.0,
    75.0,
    100.0,
    200.0,
)
_VEIL = (1.0, 1.0, 1.0)
_VEIL_REST, _VEIL_TURN_IN, _VEIL_BOARD = 0.72, 0.45, 0.12


@dataclass(frozen=True)
class PaperPrint:
    """A print ready for the page, where it may be seen (cloth frame), and how its frame lies on the cloth."""

    fill: PrintFill
    region: Region
    print_to_cloth: Affine


def scale_for(width_mm: float, height_mm: float, room: Box) -> float:
    """The largest usual scale at which a cloth fits the room, as n of 1 : n; a very large cloth gets a whole n.

    >>> scale_for(304.8, 304.8, Box(12.0, 40.0, 186.0, 160.0))
    2.0
    """
    least = max(width_mm / room.width_mm, height_mm / room.height_mm)
    return next((usual for usual in _SCALES if usual >= least), float(-(-least // 100) * 100))


def draw_cloth(
    paper: Paper,
    room: Box,
    cloth: Cloth,
    *,
    side: Side,
    measures: tuple[Measure, ...],
    prints: tuple[PaperPrint, ...],
    style: LengthStyle,
) -> float:
    """Draw the cloth with what lies on it into `room` (page mm); returns n of the scale 1 : n it is drawn to."""
    side_box = bounds(cloth_to_side(cloth, side).ring(_edge(cloth)))
    ratio = scale_for(side_box.width_mm, side_box.height_mm, room)
    left_mm = room.left_mm + (room.width_mm - side_box.width_mm / ratio) / 2
    to_page = shift(-side_box.left_mm, -side_box.top_mm).then(scale(1 / ratio)).then(shift(left_mm, room.top_mm))
    cloth_to_page = cloth_to_side(cloth, side).then(to_page)
    _draw_prints(paper, prints, measures, cloth_to_page, to_page)
    areas = [
        (zone.name, cloth_to_page.ring(cloth.change_after(zone.changes_in).ring(zone.outline_mm)))
        for zone in cloth.zones
    ]
    for _, ring in areas:
        paper.line(ring, PENS["area"], closed=True, halo=True)
    # Over the areas' edges, which run along the cloth's own.
    _draw_ground(paper, cloth, cloth_to_page)
    for measure in measures:
        draw_lines(paper, measure, to_page)
    line = line_seen(cloth, side)
    if line is not None:
        _draw_base_line(paper, to_page.ring(line))
    taken = [bounds(to_page.ring(measure.outline_mm)) for measure in measures]
    for name, ring in areas:
        _name_area(paper, name, bounds(ring), taken)
    for number, measure in enumerate(measures, 1):
        draw_words(paper, measure, to_page, style, number)
    for flaw, region in keep_out_regions(cloth):
        _name_flaw(paper, flaw.name, bounds(cloth_to_page.ring(region.bounds.ring())))
    return ratio


def _edge(cloth: Cloth) -> Ring:
    return outline_region(cloth).parts()[0][0]


def _draw_prints(
    paper: Paper, prints: tuple[PaperPrint, ...], measures: tuple[Measure, ...], cloth_to_page: Affine, to_page: Affine
) -> None:
    """The print: veiled on the cloth, clearer in turn-ins, clearest inside boards."""
    for print_ in prints:
        rings = tuple(cloth_to_page.ring(ring) for outer, holes in print_.region.parts() for ring in (outer, *holes))
        if rings:
            print_.fill.fill(rings, print_.print_to_cloth.then(cloth_to_page))
            veiled = Region.of(rings[0]).minus(_union(to_page, [m.outline_mm for m in measures]))
            _veil(paper, veiled, _VEIL_REST)
    for measure in measures:
        cut, faces = Region.of(to_page.ring(measure.outline_mm)), _union(to_page, faces_of(measure))
        shown = cut if faces.is_empty else faces.meet(cut)
        _veil(paper, cut.minus(shown), _VEIL_TURN_IN)
        _veil(paper, shown, _VEIL_BOARD)


def _union(to_page: Affine, rings: list[Ring]) -> Region:
    return Region.union(Region.of(to_page.ring(ring)) for ring in rings)


def _veil(paper: Paper, region: Region, share: float) -> None:
    canvas = paper.canvas
    for outer, holes in region.parts():
        canvas.saveState()
        paper.clip((outer, *holes))
        paper.fill(bounds(outer).ring(), _VEIL, share)
        canvas.restoreState()


def _draw_ground(paper: Paper, cloth: Cloth, cloth_to_page: Affine) -> None:
    """The cloth's edge, the usable ground and the flaws with their names."""
    paper.line(cloth_to_page.ring(_edge(cloth)), PENS["cloth"], closed=True)
    inner = usable(cloth)
    if inner.area_mm2 < outline_region(cloth).area_mm2 - 1:
        for outer, _ in inner.parts():
            paper.line(cloth_to_page.ring(outer), PENS["usable"], closed=True)
    for _flaw, region in keep_out_regions(cloth):
        for outer, _ in region.parts():
            ring = cloth_to_page.ring(outer)
            hatch(paper, ring)
            paper.line(ring, PENS["flaw"], closed=True, halo=True)


def _draw_base_line(paper: Paper, line: Ring) -> None:
    """The line that is measured from: a dot at its start, an arrow at its end, its name beside it (page mm)."""
    (x, y), end = line[0], line[1]
    paper.line(line, PENS["base line"], halo=True)
    dot = tuple(turn(30.0 * step).then(shift(x, y)).at((1.1, 0.0)) for step in range(12))
    paper.fill(dot, PENS["base line"].colour)
    pointing = turn(line_turn_deg(line[0], end)).then(shift(*end))
    paper.fill(pointing.ring(((0.0, 0.0), (-3.2, -1.4), (-3.2, 1.4))), PENS["base line"].colour)
    words = Remark.of("base-line").text()
    wide = paper.text_width_mm(words, 6) + 1.2
    left = x + 1.8 if end[0] >= x else x - 1.8 - wide
    paper.fill(Box(left, y - 3.4, wide, 2.8).ring(), (1.0, 1.0, 1.0), 0.9)
    paper.text((left + 0.6, y - 1.3), words, 6, colour=PENS["base line"].colour)


def _name_flaw(paper: Paper, name: str, box: Box) -> None:
    """The flaw's name on a white ground just above it."""
    wide = paper.text_width_mm(name, 6) + 1.2
    paper.fill(Box(box.left_mm - 0.6, box.top_mm - 3.2, wide, 2.8).ring(), (1.0, 1.0, 1.0), 0.9)
    paper.text((box.left_mm, box.top_mm - 1.1), name, 6, colour=PENS["flaw"].colour)


def _name_area(paper: Paper, name: str, box: Box, taken: list[Box]) -> None:
    """An area's name in the first of its corners that no piece covers; in its top left one when they cover all."""
    name = paper.shortened(name, box.width_mm - 2.0, 6)
    wide, high = paper.text_width_mm(name, 6) + 1.2, 2.8
    left, right = box.left_mm + 0.6, box.right_mm - wide - 0.6
    top, bottom = box.top_mm + 0.6, box.bottom_mm - high - 0.6
    corners = [Box(x, y, wide, high) for y in (top, bottom) for x in (left, right)]
    free = (corner for corner in corners if not any(_meet(corner, other) for other in taken))
    at = next(free, corners[0])
    paper.fill(at.ring(), (1.0, 1.0, 1.0), 0.9)
    paper.text((at.left_mm + 0.6, at.top_mm + 2.1), name, 6, colour=MUTED)


def _meet(one: Box, other: Box) -> bool:
    across = one.left_mm < other.right_mm and other.left_mm < one.right_mm
    return across and one.top_mm < other.bottom_mm and other.top_mm < one.bottom_mm
