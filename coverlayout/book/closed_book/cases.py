"""Cuts through covers that go round the spine in one: cases with their joints, quarter and half, wraps, limp wraps."""

from __future__ import annotations

from coverlayout.book.closed_book.blocks import draw_block
from coverlayout.book.closed_book.places import Closed
from coverlayout.book.picturing.lines import arc, rounded
from coverlayout.book.picturing.shapes import Role
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["draw_case", "draw_limp", "draw_wrap"]

_STIFF = {"board": "piece", "card": "strip"}


def draw_case(at: Closed) -> None:
    """A case: two boards and a spine piece, joined by cloth that dips into the joints."""
    figures, sketch = at.figures, at.sketch
    draw_block(at, figures.rise_mm)
    at.boards()
    spine = _spine(at)
    if figures.spine_on_board_mm > 0:
        _quarter(at, spine)
    else:
        sketch.line("cloth", at.round_the_spine((*at.turned_in(), *_joint(at), *spine)), "cover")
    at.liners(0.0)
    _measure_case(at)
    at.edge_measures("fore-edge square")


def _spine(at: Closed) -> Ring:
    """The spine piece is drawn; returned is the upper half of the cloth over it, from the joint to the middle."""
    figures, hollow = at.figures, 0.7 * at.air_mm
    if at.has_upright_piece:
        top = _spine_top(at)
        outside = -hollow - at.board_mm
        at.sketch.box("board", (outside, top), (-hollow, at.thick_mm - top), "spine piece")
        corner = (outside - at.off_mm, top - at.off_mm)
        # Clear of its inner edge too, also where the bend is rounded.
        return (-hollow + at.off_mm, top - at.off_mm), corner, (corner[0], at.thick_mm / 2)
    stiff = {"board": at.board_mm, "strip": 0.6 * at.air_mm, "none": 0.0}[figures.spine_piece]
    if stiff:
        inside, outside_line = (arc(at.thick_mm, figures.rise_mm, out) for out in (hollow, hollow + stiff))
        role: Role = "board" if figures.spine_piece == "board" else "card"
        at.sketch.area(role, (*inside, *reversed(outside_line)), f"spine {_STIFF[role]}")
    line = arc(at.thick_mm, figures.rise_mm, hollow + stiff + at.off_mm)
    half = line[: len(line) // 2 + 1] if figures.rise_mm > 0 else (line[0], (line[0][0], at.thick_mm / 2))
    return tuple(half)


def _spine_top(at: Closed) -> float:
    """Where a spine piece of board begins: it is as high as block and boards, and what the maker allows more."""
    more = (at.figures.spine_mm or 0.0) - at.figures.thickness_mm
    return at.inner_y - max(more, 0.0) / 2 + (at.figures.board_thickness_mm - at.board_mm)


def _joint(at: Closed) -> Ring:
    """The cloth from the spine edge of the front board down into the joint; the spine goes on from there."""
    edge = at.xs.at(at.board_from_mm)
    spine = -0.25 * at.air_mm if at.has_upright_piece else 0.0
    slope = min(0.9 * at.air_mm, max(edge - spine, 0.0) / 3)
    top, low = at.outer_y - at.off_mm, -at.off_mm
    groove = ((edge - 0.2 * at.air_mm, top), (edge - slope, low), (spine + slope, low))
    return groove if at.has_upright_piece else groove[:-1]


def _quarter(at: Closed, spine: Ring) -> None:
    """The cloth of the spine ends on the boards; the sides lie over its edge and go round the fore-edge."""
    figures, sketch = at.figures, at.sketch
    top = at.outer_y - at.off_mm
    reach = at.board_from_mm + figures.spine_on_board_mm
    end, begin = at.xs.at(reach), at.xs.at(reach - figures.lap_mm)
    sketch.line("cloth", at.round_the_spine(((end, top), *_joint(at), *spine)), "spine")
    above = top - 1.6 * at.off_mm
    side = at.smooth((*at.turned_in(), (end + 1.5 * at.air_mm, top), (end, above), (begin, above)))
    sketch.line("side", side, "front side")
    sketch.line("side", at.over(side), "back side")
    edge = at.xs.at(at.board_from_mm)
    sketch.measure("spine on board", ((edge, at.outer_y), (end, top)), figures.spine_on_board_mm, "above")
    sketch.measure("lap", ((begin, at.thick_mm - above), (end, at.thick_mm - above)), figures.lap_mm, "below")


def _measure_case(at: Closed) -> None:
    figures, sketch = at.figures, at.sketch
    hollow, edge = 0.7 * at.air_mm, at.xs.at(at.board_from_mm)
    thick = at.thick_mm
    if at.has_upright_piece:
        left, top = -hollow - at.board_mm, _spine_top(at)
    else:
        left, top = -hollow, 0.0
    joint = ((left if at.has_upright_piece else 0.0, top), (edge, at.outer_y))
    sketch.measure("joint", joint, figures.joint_mm, "above")
    sketch.measure("spine", ((left, top), (left, thick - top)), figures.over_spine_mm, "left")
    if figures.rise_mm > 0:
        sketch.measure("rise", ((-figures.rise_mm, thick / 2), (0.0, thick)), figures.rise_mm, "below")


def draw_wrap(at: Closed) -> None:
    """Two boards and one cloth over both, that goes straight round the open spine."""
    sketch, figures = at.sketch, at.figures
    draw_block(at)
    at.boards()
    edge, out = at.xs.at(at.board_from_mm), -0.9 * at.air_mm
    top = at.outer_y - at.off_mm
    half: list[Point] = [*at.turned_in(), (edge, top), (out, top), (out, at.thick_mm / 2)]
    sketch.line("cloth", at.round_the_spine(half), "cover")
    at.liners(at.book.liner_inset_mm)
    sketch.measure("setback", ((0.0, 0.0), (edge, at.inner_y)), figures.setback_mm, "above")
    # Over both boards, as the cloth passes them.
    ends = ((out, at.outer_y), (out, at.thick_mm - at.outer_y))
    sketch.measure("spine", ends, figures.over_spine_mm, "left")
    at.edge_measures("square")


def draw_limp(at: Closed) -> None:
    """A soft wrap round one section: turned in at its fore-edges, or with a flap that closes over the front."""
    sketch, book = at.sketch, at.book
    _section(at)
    level, edge = -1.2 * at.air_mm, at.xs.at(at.board_to_mm) + at.off_mm
    inside = level + 1.7 * at.off_mm
    turned_mm = book.turned_in_flap_mm or book.turn_ins.fore_edge_mm
    end = at.xs.at(at.board_to_mm - turned_mm)
    front: Ring = ((end, inside), (edge, inside), (edge, level), (-1.3 * at.air_mm, level))
    back = tuple(reversed(at.over(front)))
    if book.fore_edge_flap_mm > 0:
        flap_to, over = at.xs.at(at.board_to_mm - book.fore_edge_flap_mm), level - 2 * at.off_mm
        around = edge + 2.5 * at.off_mm
        low = at.thick_mm - level
        back = (back[0], (around, low), (around, over), (flap_to, over))
        ends = ((flap_to, over), (around, over))
        sketch.measure("flap", ends, book.fore_edge_flap_mm, "above")
    sketch.line("cloth", rounded((*front, *back), 1.2 * at.air_mm), "wrap")
    _limp_liners(at, inside + at.off_mm)
    _measure_limp(at, (end, inside), level)


def _section(at: Closed) -> None:
    """One section: leaves folded into each other, thread through the fold."""
    back, fore, thick = at.xs.at(0.0), at.xs.at(at.page_mm), at.thick_mm
    count = 5
    for k in range(count):
        step = k * thick / (2 * count)
        top, low, left = step + 0.04 * thick, thick - step - 0.04 * thick, back + step
        leaf = rounded(((fore, top), (left, top), (left, low), (fore, low)), (low - top) / 2)
        if k == 0:
            at.sketch.area("section", leaf, "section 1")
        else:
            at.sketch.line("section", leaf, "section 1")
    middle = thick / 2
    at.sketch.line("thread", ((-2.1 * at.air_mm, middle), (back + thick / 2, middle)), "thread")


def _limp_liners(at: Closed, y: float) -> None:
    """The lining of a wrap, where it has one, stays back from its edges."""
    if at.book.liners == "none":
        return
    inset_mm = at.book.liner_inset_mm
    right = at.xs.at(at.board_to_mm - inset_mm)
    line = ((at.xs.at(inset_mm), y), (right, y))
    at.sketch.line("liner", line, "front liner")
    at.sketch.line("liner", at.over(line), "back liner")
    at.sketch.measure("inset", ((right, y), (at.xs.at(at.board_to_mm), y)), inset_mm, "above")


def _measure_limp(at: Closed, end: Point, level: float) -> None:
    sketch, book, figures = at.sketch, at.book, at.figures
    edge, low = at.xs.at(at.board_to_mm), at.thick_mm - level
    turned = ((end[0], at.thick_mm - end[1]), (edge, low))
    if book.turned_in_flap_mm > 0:
        sketch.measure("turned-in flap", turned, book.turned_in_flap_mm, "below")
    elif book.fore_edge_flap_mm <= 0:
        sketch.measure("turn-in", turned, book.turn_ins.fore_edge_mm, "below")
    sketch.measure("square", ((at.xs.at(at.page_mm), at.thick_mm), (edge, low)), figures.square_mm, "below")
    out = -1.3 * at.air_mm
    # Where nothing is allowed for, the spine is the block: one measure says it.
    name = "block thickness" if abs(figures.over_spine_mm - figures.thickness_mm) <= SAME_LENGTH_MM else "spine"
    sketch.measure(name, ((out, 0.0), (out, at.thick_mm)), figures.over_spine_mm, "left")
    if name == "spine":
        at.measure_block()
