"""One piece on the drawing: its cut line and marks, its name and measures, how far it is from what lies beside it."""

from __future__ import annotations

from math import hypot
from typing import Literal

from coverlayout.errors import Remark
from coverlayout.exporting.measures import Measure
from coverlayout.exporting.measuring.beside import Neighbour
from coverlayout.exporting.paper import PENS, Paper, Pen
from coverlayout.exporting.placement.labels import draw_face_words, draw_label, is_crowded, is_upright
from coverlayout.geometry.frames import Affine, Point, Ring, shift, turn
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.units import LengthStyle

__all__ = ["draw_lines", "draw_words", "faces_of", "hatch", "shown_off_mm"]

_WHITE = (1.0, 1.0, 1.0)
# A figure wider than the gap it stands in may cover cut lines, but only of pieces that are this large on the page.
_ROOMY_MM = 25.0


def draw_lines(paper: Paper, measure: Measure, to_page: Affine) -> None:
    """The cut line, the marks, and the words along the edges."""
    outline = to_page.ring(measure.outline_mm)
    if measure.state == "spoiled":
        hatch(paper, outline)
    paper.line(outline, PENS["cut"], closed=True, halo=True)
    for mark in measure.marks:
        paper.line(to_page.ring(mark.points_mm), PENS[mark.kind], closed=mark.closed, halo=mark.kind == "board")
    for mark in measure.marks:
        if mark.kind not in ("head", "spine edge"):
            continue
        edge, piece = to_page.ring(mark.points_mm), bounds(outline)
        if not is_crowded(measure, to_page):
            _edge_word(paper, edge, piece, "head" if mark.kind == "head" else measure.edge)
        if mark.kind == "head":
            _head_arrow(paper, edge, piece)
    draw_face_words(paper, measure, to_page)


def draw_words(paper: Paper, measure: Measure, to_page: Affine, style: LengthStyle, number: int) -> None:
    """Distances, corner measured to, name and measures, once all lines are drawn.

    `number` is the piece's row in the table; it stands for the name where there is no room for that.
    """
    _draw_distances(paper, measure, to_page, style)
    if measure.from_line is not None:
        _draw_corner(paper, to_page.at(measure.from_line.corner_mm))
    draw_label(paper, measure, to_page, style, number)


def faces_of(measure: Measure) -> list[Ring]:
    """The outlines of what the piece shows of the book, seen from the side; none for the maker's own pieces."""
    return [face.outline_mm for face in measure.faces]


def hatch(paper: Paper, ring: Ring) -> None:
    """Slanted lines inside an outline (page mm), so that what to keep clear of is told by more than its colour."""
    canvas, box = paper.canvas, bounds(ring)
    canvas.saveState()
    paper.clip((ring,))
    reach = box.width_mm + box.height_mm
    for step in range(int(reach / 1.5) + 1):
        x = box.left_mm + 1.5 * step
        paper.line(((x, box.top_mm), (x - box.height_mm, box.bottom_mm)), Pen(0.12, (), PENS["flaw"].colour))
    canvas.restoreState()


def shown_off_mm(measures: tuple[Measure, ...], style: LengthStyle) -> float:
    """How far the figures on the drawing are rounded from the true ones, at most, in mm; 0 without pieces."""
    offs = [0.0]
    for measure in measures:
        width_mm, height_mm = measure.size_shown_mm
        offs += [style.rounded_mm(length_mm, "up") - length_mm for length_mm in (width_mm, height_mm)]
        places = ((measure.to_left, measure.box.left_mm), (measure.to_top, measure.box.top_mm))
        shown = [length_mm for _, length_mm in places] if measure.from_line is None else measure.from_line.left_mm
        offs += [abs(style.rounded_mm(length_mm) - length_mm) for length_mm in shown]
        offs += [
            near.distance_mm - style.rounded_mm(near.distance_mm, "down")
            for near, length_mm in places
            if not _is_place(near, length_mm)
        ]
    return max(offs)


def _edge_word(paper: Paper, edge: Ring, piece: Box, kind: Literal["head", "spine", "mouth"]) -> None:
    """The word "head", "spine" or "mouth" just inside the edge it names, reading along it."""
    word = Remark.of(f"paper-{kind}").text()
    x, y = bounds(edge).middle
    inward = _inward(edge, piece)
    upright = is_upright(edge)
    off_mm = 4.2 if kind == "head" else 1.9
    at = (x + off_mm * inward[0], y + off_mm * inward[1])
    long_mm = paper.text_width_mm(word, 5.5) + 0.8
    wide, high = (2.2, long_mm) if upright else (long_mm, 2.2)
    paper.fill(Box(at[0] - wide / 2, at[1] - high / 2, wide, high).ring(), _WHITE, 0.82)
    at = (at[0] + 0.7, at[1]) if upright else (at[0], at[1] + 0.7)
    paper.text(at, word, 5.5, align="middle", turned=upright)


def _head_arrow(paper: Paper, edge: Ring, piece: Box) -> None:
    """A small triangle within the piece that points at its head."""
    (x, y), inward = bounds(edge).middle, _inward(edge, piece)
    across = (-inward[1], inward[0])
    tip = (x + 0.3 * inward[0], y + 0.3 * inward[1])
    foot = (tip[0] + 2.2 * inward[0], tip[1] + 2.2 * inward[1])
    wings = tuple((foot[0] + reach * across[0], foot[1] + reach * across[1]) for reach in (-1.1, 1.1))
    paper.fill((tip, *wings), PENS["head"].colour)
    paper.line((tip, *wings), Pen(0.2, (), _WHITE), closed=True)


def _inward(edge: Ring, piece: Box) -> Point:
    """The direction, 1 long, from an edge straight into the piece; towards its middle where the edge is but a point."""
    (x, y), (to_x, to_y) = bounds(edge).middle, piece.middle
    to_middle = (to_x - x, to_y - y)
    along = (edge[1][0] - edge[0][0], edge[1][1] - edge[0][1])
    square = (-along[1], along[0]) if hypot(*along) > SAME_LENGTH_MM else to_middle
    towards = 1.0 if square[0] * to_middle[0] + square[1] * to_middle[1] >= 0 else -1.0
    long = max(hypot(*square), SAME_LENGTH_MM)
    return towards * square[0] / long, towards * square[1] / long


def _draw_distances(paper: Paper, measure: Measure, to_page: Affine, style: LengthStyle) -> None:
    """A line with its figure to what lies left and above, drawn where it is nearest; no line without its figure."""
    piece = bounds(to_page.ring(measure.outline_mm))
    roomy = min(piece.width_mm, piece.height_mm) >= _ROOMY_MM
    for near, in_all_mm in ((measure.to_left, measure.box.left_mm), (measure.to_top, measure.box.top_mm)):
        if near.distance_mm < style.mm_step or (near.name == "edge" and measure.from_line is not None):
            continue
        line, text = to_page.ring((near.to_mm, near.from_mm)), _distance_text(near, in_all_mm, style)
        way = _figure_way(paper, bounds(line), text, roomy=roomy)
        if way is not None:
            paper.line(line, PENS["measure"], halo=True)
            _draw_figure(paper, bounds(line).middle, text, way)


def _figure_way(paper: Paper, gap: Box, text: str, *, roomy: bool) -> tuple[float, bool] | None:
    """In which size a figure stands in a gap, and whether it is turned upright there; None where it would cover lines.

    Beside pieces that are `roomy` it may.
    """
    for size_pt, upright in ((5.5, False), (4.5, False), (5.5, True)):
        wide, high = _figure_mm(paper, text, size_pt)
        long_mm, thick_mm = (high, wide) if upright else (wide, high)
        # Along an upright line the figure's height is what the gap must hold.
        if gap.width_mm > long_mm or gap.height_mm > thick_mm:
            return size_pt, upright
    return (5.5, False) if roomy else None


def _figure_mm(paper: Paper, text: str, size_pt: float) -> tuple[float, float]:
    return paper.text_width_mm(text, size_pt) + 0.22 * size_pt, 0.47 * size_pt


def _draw_figure(paper: Paper, at_mm: Point, text: str, way: tuple[float, bool]) -> None:
    (x, y), (size_pt, upright) = at_mm, way
    wide, high = _figure_mm(paper, text, size_pt)
    long_mm, thick_mm = (high, wide) if upright else (wide, high)
    paper.fill(Box(x - long_mm / 2, y - thick_mm / 2, long_mm, thick_mm).ring(), PENS["measure"].colour)
    drop_mm = 0.127 * size_pt
    at = (x + drop_mm, y) if upright else (x, y + drop_mm)
    paper.text(at, text, size_pt, align="middle", colour=_WHITE, turned=upright)


def _draw_corner(paper: Paper, at: Point) -> None:
    """A small ring, with a dot in it, round the corner whose place along and across the base line is given."""
    ring, dot = (
        tuple(turn(30.0 * step).then(shift(*at)).at((reach, 0.0)) for step in range(12)) for reach in (1.3, 0.4)
    )
    paper.fill(ring, _WHITE)
    paper.line(ring, PENS["measure"], closed=True, halo=True)
    paper.fill(dot, PENS["measure"].colour)


def _distance_text(near: Neighbour, in_all_mm: float, style: LengthStyle) -> str:
    """A gap never shown larger than it is; the way from a straight edge as the piece's own place says it."""
    return style.number(near.distance_mm, "nearest" if _is_place(near, in_all_mm) else "down")


def _is_place(near: Neighbour, in_all_mm: float) -> bool:
    """True when the gap is the way from the cloth's own left or top end, and so the piece's place."""
    return near.name == "edge" and abs(near.distance_mm - in_all_mm) <= SAME_LENGTH_MM
