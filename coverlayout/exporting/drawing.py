"""The drawing for the bench: one page a cloth, to a stated scale, with every piece, its measures and its marks."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import Literal

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import keep_out_regions, outline_region, usable
from coverlayout.errors import Remark, sentence
from coverlayout.exporting.measures import Measure, Side, cloth_to_side
from coverlayout.exporting.paper import PENS, Paper, Pen
from coverlayout.exporting.print_fill import PrintFill
from coverlayout.geometry.frames import Affine, Ring, scale, shift
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
_SMALLEST_TEXT_PT, _LARGEST_TEXT_PT = 4.5, 8.0


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
    _draw_ground(paper, cloth, cloth_to_page)
    for measure in measures:
        _draw_piece(paper, measure, to_page, style)
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
        face = _face(measure)
        if face is None:
            _veil(paper, Region.of(to_page.ring(measure.outline_mm)), _VEIL_BOARD)
            continue
        _veil(paper, Region.of(to_page.ring(measure.outline_mm)).minus(_union(to_page, [face])), _VEIL_TURN_IN)
        _veil(paper, _union(to_page, [face]), _VEIL_BOARD)


def _union(to_page: Affine, rings: list[Ring]) -> Region:
    return Region.union(Region.of(to_page.ring(ring)) for ring in rings)


def _face(measure: Measure) -> Ring | None:
    return next((mark.points_mm for mark in measure.marks if mark.kind == "board"), None)


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
            _hatch(paper, ring)
            paper.line(ring, PENS["flaw"], closed=True, halo=True)


def _name_flaw(paper: Paper, name: str, box: Box) -> None:
    """The flaw's name on a white ground just above it."""
    wide = paper.text_width_mm(name, 6) + 1.2
    paper.fill(Box(box.left_mm - 0.6, box.top_mm - 3.2, wide, 2.8).ring(), (1.0, 1.0, 1.0), 0.9)
    paper.text((box.left_mm, box.top_mm - 1.1), name, 6, colour=PENS["flaw"].colour)


def _hatch(paper: Paper, ring: Ring) -> None:
    """Slanted lines inside an outline, so that a flaw is told by more than its colour."""
    canvas, box = paper.canvas, bounds(ring)
    canvas.saveState()
    paper.clip((ring,))
    reach = box.width_mm + box.height_mm
    for step in range(int(reach / 1.5) + 1):
        x = box.left_mm + 1.5 * step
        paper.line(((x, box.top_mm), (x - box.height_mm, box.bottom_mm)), Pen(0.12, (), PENS["flaw"].colour))
    canvas.restoreState()


def _draw_piece(paper: Paper, measure: Measure, to_page: Affine, style: LengthStyle) -> None:
    """One piece: cut line, marks, its name and sizes, and the distances to what lies left of and above it."""
    if measure.state == "spoiled":
        _hatch(paper, to_page.ring(measure.outline_mm))
    paper.line(to_page.ring(measure.outline_mm), PENS["cut"], closed=True, halo=True)
    for mark in measure.marks:
        paper.line(to_page.ring(mark.points_mm), PENS[mark.kind], closed=mark.closed, halo=mark.kind == "board")
        if mark.kind in ("head", "spine edge"):
            _edge_word(paper, to_page.ring(mark.points_mm), bounds(to_page.ring(measure.outline_mm)), mark.kind)
    _draw_distances(paper, measure, to_page, style)
    _label(paper, measure, to_page, style)


def _edge_word(paper: Paper, edge: Ring, piece: Box, kind: Literal["head", "spine edge"]) -> None:
    """The word "head" or "spine" just inside the edge it names, reading along it, with a small arrow for the head."""
    word = Remark.of("paper-head" if kind == "head" else "paper-spine").text()
    (x, y), (to_x, to_y) = bounds(edge).middle, piece.middle
    far_mm = max(hypot(to_x - x, to_y - y), 1e-3)
    inward = ((to_x - x) / far_mm, (to_y - y) / far_mm)
    upright = bounds(edge).height_mm > bounds(edge).width_mm
    if kind == "head":
        across = (-inward[1], inward[0])
        tip = (x + 0.3 * inward[0], y + 0.3 * inward[1])
        foot = (tip[0] + 2.2 * inward[0], tip[1] + 2.2 * inward[1])
        wings = [(foot[0] + reach * across[0], foot[1] + reach * across[1]) for reach in (-1.1, 1.1)]
        paper.fill((tip, *wings), PENS["head"].colour)
    off_mm = 4.2 if kind == "head" else 1.9
    at = (x + off_mm * inward[0], y + off_mm * inward[1])
    at = (at[0] + 0.7, at[1]) if upright else (at[0], at[1] + 0.7)
    paper.text(at, word, 5.5, align="middle", turned=upright)


def _draw_distances(paper: Paper, measure: Measure, to_page: Affine, style: LengthStyle) -> None:
    box = measure.box
    for near, start, end in (
        (measure.to_left, (box.left_mm - measure.to_left.distance_mm, box.middle[1]), (box.left_mm, box.middle[1])),
        (measure.to_top, (box.middle[0], box.top_mm - measure.to_top.distance_mm), (box.middle[0], box.top_mm)),
    ):
        if near.distance_mm < style.mm_step:
            continue
        line = to_page.ring((start, end))
        paper.line(line, PENS["measure"], halo=True)
        middle = bounds(line).middle
        text = style.number(near.distance_mm, "down")
        width = paper.text_width_mm(text, 5.5) + 1.2
        paper.fill(Box(middle[0] - width / 2, middle[1] - 1.3, width, 2.6).ring(), PENS["measure"].colour)
        paper.text((middle[0], middle[1] + 0.7), text, 5.5, align="middle", colour=(1.0, 1.0, 1.0))


def _label(paper: Paper, measure: Measure, to_page: Affine, style: LengthStyle) -> None:
    """Name and measures in the middle of the piece, as large as it allows; the name alone where it is very small."""
    box = measure.box
    size = sentence(
        "paper-size", {"width": style.number(box.width_mm, "up"), "height": style.show(box.height_mm, "up")}
    )
    place = sentence("paper-place", {"left": style.show(box.left_mm), "top": style.show(box.top_mm)})
    name = sentence("paper-piece", {"piece": measure.piece, "name": measure.name})
    lines = [name, size, place, *_state_words(measure)]
    room = bounds(to_page.ring(_face(measure) or measure.outline_mm))
    size_pt = min(_LARGEST_TEXT_PT, *(_fitting_pt(paper, line, room.width_mm - 1.5) for line in lines))
    if size_pt < _SMALLEST_TEXT_PT or len(lines) * size_pt * 0.45 > room.height_mm:
        lines, size_pt = [measure.piece], _SMALLEST_TEXT_PT
    x, y = room.middle
    high = len(lines) * size_pt * 0.45
    wide = max(paper.text_width_mm(line, size_pt, bold=line is lines[0]) for line in lines) + 1.5
    paper.fill(Box(x - wide / 2, y - high / 2 - 0.6, wide, high + 1.2).ring(), (1.0, 1.0, 1.0), 0.82)
    for row, line in enumerate(lines):
        at = (x, y - high / 2 + (row + 0.75) * size_pt * 0.45)
        paper.text(at, line, size_pt, bold=row == 0, align="middle")


def _fitting_pt(paper: Paper, line: str, width_mm: float) -> float:
    return _LARGEST_TEXT_PT * width_mm / max(paper.text_width_mm(line, _LARGEST_TEXT_PT, bold=True), 0.1)


def _state_words(measure: Measure) -> list[str]:
    if measure.state == "planned":
        return []
    return [Remark.of("paper-piece-cut" if measure.state == "cut" else "paper-piece-spoiled").text()]
