"""Cuts through books whose boards are covered each for itself, and through the slipcase with a book in it."""

from __future__ import annotations

from itertools import pairwise

from coverlayout.book.closed_book.blocks import draw_block, is_pile
from coverlayout.book.closed_book.places import Closed
from coverlayout.book.picturing.lines import arc, rounded
from coverlayout.book.sewing.holes import hole_from_spine_mm
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Ring

__all__ = ["draw_accordion", "draw_separate", "draw_side_sewn", "draw_slipcase"]

_MOST_PANELS, _LIKELY_PANELS = 12, 8


def _covered(at: Closed) -> Ring:
    """The cloth of the front cover: from inside the fore-edge over the outside to inside the spine edge."""
    inside, top = at.inner_y + at.off_mm, at.outer_y - at.off_mm
    edge = at.xs.at(at.board_from_mm) - at.off_mm
    end = at.xs.at(at.board_from_mm + at.turned_in_mm(at.book.turn_ins.spine_mm))
    return at.smooth((*at.turned_in(), (edge, top), (edge, inside), (end, inside)))


def draw_separate(at: Closed) -> None:
    """Two boards, each covered for itself and sewn on; the folds and the thread stay in sight."""
    draw_block(at)
    at.boards()
    at.both(_covered(at), "cover")
    at.liners(at.book.liner_inset_mm)
    _sewn_on(at)
    setback = ((0.0, 0.0), (at.xs.at(at.board_from_mm), at.inner_y))
    at.sketch.measure("setback", setback, at.figures.setback_mm, "above")
    at.edge_measures("square")


def _hole_mm(at: Closed) -> float | None:
    """How far the holes lie from the board's spine edge; None while the sewing cannot be worked out."""
    try:
        return hole_from_spine_mm(at.book)
    except BadInput:
        return None


def _sewn_on(at: Closed) -> None:
    """The thread: round the spine edge of each board into its hole, and from fold to fold."""
    hole_mm = _hole_mm(at)
    left, loop = -0.9 * at.air_mm, -0.2 * at.air_mm
    if hole_mm is not None:
        hole = at.xs.at(at.board_from_mm + hole_mm)
        edge = min(at.xs.at(at.board_from_mm), 0.0) - 1.5 * at.air_mm
        above = at.outer_y - 2 * at.off_mm
        down = at.inner_y + 3 * at.off_mm
        line = rounded(((hole, down), (hole, above), (edge, above), (edge, 0.0), (loop, 1.2 * at.air_mm)), at.air_mm)
        at.sketch.line("thread", line, "thread")
        at.sketch.line("thread", at.over(line), "thread")
        ends = ((at.xs.at(at.board_from_mm), at.outer_y), (hole, above))
        at.sketch.measure("hole from spine", ends, hole_mm, "above")
    folds = [shape for shape in at.sketch.shapes if shape.role == "section" and shape.closed and not is_pile(at.book)]
    middles = [(shape.points_mm[0][1] + shape.points_mm[-1][1]) / 2 for shape in folds]
    for top, low in pairwise(middles):
        stitch = tuple((left / 2 + dx, top + dy) for dx, dy in arc(low - top, min(0.5 * at.air_mm, (low - top) / 2)))
        at.sketch.line("thread", stitch, "thread")


def draw_side_sewn(at: Closed) -> None:
    """Boards with a strip of their own along the spine: the thread goes through, the cover turns beside it."""
    figures, sketch = at.figures, at.sketch
    strip, board = at.board_from_mm + figures.hinge_mm, at.board_from_mm + figures.hinge_mm + figures.joint_mm
    draw_block(at)
    at.boards(None, strip)
    at.boards(board, None)
    at.both(_dipping(at, strip, board), "cover")
    at.liners(at.book.liner_inset_mm)
    start, low = at.xs.at(at.board_from_mm), at.thick_mm - at.outer_y
    if (hole_mm := _hole_mm(at)) is not None:
        hole, above = at.xs.at(at.board_from_mm + hole_mm), at.outer_y - 2 * at.off_mm
        edge = -1.6 * at.air_mm
        line = ((hole, at.thick_mm / 2), (hole, above), (edge, above), (edge, at.thick_mm / 2))
        sketch.line("thread", at.smooth((*line, *reversed(at.over(line)))), "thread")
        sketch.measure("hole from spine", ((start, low), (hole, low)), hole_mm, "below")
    hinge = ((start, at.outer_y), (at.xs.at(strip), at.outer_y))
    sketch.measure("hinge", hinge, figures.hinge_mm, "above")
    joint = ((at.xs.at(strip), at.outer_y), (at.xs.at(board), at.outer_y))
    sketch.measure("joint", joint, figures.joint_mm, "above")
    sketch.measure("setback", ((0.0, at.thick_mm), (start, at.thick_mm)), figures.setback_mm, "below")
    at.edge_measures("square")


def _dipping(at: Closed, strip: float, board: float) -> Ring:
    """The cloth of a side-sewn cover: as round any board, but it dips between board and strip."""
    inside, top = at.inner_y + at.off_mm, at.outer_y - at.off_mm
    edge = at.xs.at(at.board_from_mm) - at.off_mm
    end = at.xs.at(at.board_from_mm + at.turned_in_mm(at.book.turn_ins.spine_mm))
    near, far = at.xs.at(strip), at.xs.at(board)
    slope = (far - near) / 3
    dip = ((far, top), (far - slope, at.inner_y - at.off_mm), (near + slope, at.inner_y - at.off_mm), (near, top))
    return at.smooth((*at.turned_in(), *dip, (edge, top), (edge, inside), (end, inside)))


def draw_accordion(at: Closed) -> None:
    """A folded strip between two boards that stand out all round; there is no spine."""
    sketch, figures = at.sketch, at.figures
    count, thick = _panels(at), at.thick_mm
    back, fore = at.xs.at(0.0), at.xs.at(at.page_mm)
    at.boards()
    turns = tuple((back if k % 2 else fore, thick * k / count) for k in range(count + 1))
    sketch.line("section", rounded(turns, 0.9 * at.air_mm), "strip")
    at.both(_covered(at), "cover")
    at.liners(at.book.liner_inset_mm)
    edge = at.xs.at(at.board_from_mm)
    sketch.measure("square", ((edge, at.inner_y), (back, 0.0)), figures.square_mm, "above")
    at.edge_measures("square")


def _panels(at: Closed) -> int:
    """An even number of panels, so that both ends of the strip lie at the fore-edge side of their boards."""
    each = at.thick_mm / (1.5 * at.air_mm)
    count = min(max(round(each), _LIKELY_PANELS), _MOST_PANELS)
    return count - count % 2


def draw_slipcase(at: Closed) -> None:
    """The case with the book in it: walls on both sides and at the book's fore-edge, open where the spine shows."""
    sketch, figures = at.sketch, at.figures
    room, board, thick = figures.clearance_mm, at.board_mm, at.thick_mm
    scored = at.book.slipcase_of == "one scored board"
    if scored:
        # All its room is in the height; here there is but the air that tells case and book apart.
        room = 0.6 * at.air_mm
    mouth = at.xs.at(at.board_to_mm)
    inner, outer = -room, -room - board
    sketch.box("board", (-board, outer), (mouth, inner), "front wall")
    sketch.box("board", (-board, thick - inner), (mouth, thick - outer), "back wall")
    sketch.box("board", (-board, inner), (0.0, thick - inner), "wall at the fore-edge")
    _book_inside(at, room, mouth)
    end = at.xs.at(at.board_to_mm - at.turned_in_mm(at.book.turn_ins.fore_edge_mm))
    off = at.off_mm
    half: Ring = ((end, inner + off), (mouth + off, inner + off), (mouth + off, outer - off))
    half = (*half, (-board - off, outer - off), (-board - off, thick / 2))
    sketch.line("cloth", at.round_the_spine(half), "wrap")
    low = thick - inner
    if not scored:
        sketch.measure("clearance", ((mouth, inner), (mouth, 0.0)), figures.clearance_mm, "right")
    sketch.measure("board thickness", ((mouth, low), (mouth, low + board)), figures.board_thickness_mm, "right")
    at.measure_turn_in(low, low + board)
    sketch.measure("book thickness", ((mouth, 0.0), (mouth, thick)), figures.thickness_mm, "right")


def _book_inside(at: Closed, left: float, spine: float) -> None:
    """The finished book, its spine at the mouth: a cover with boards in it, round its sections."""
    sketch, thick = at.sketch, at.thick_mm
    cover = min(max(0.09 * thick, 1.2 * at.air_mm), 2.0 * at.air_mm)
    outside = ((left, 0.0), (spine, 0.0), (spine, thick), (left, thick))
    inside = ((left, thick - cover), (spine - cover, thick - cover), (spine - cover, cover), (left, cover))
    sketch.area("lining", rounded((*outside, *inside), 0.5 * cover), "book")
    edge = 0.28 * cover
    for k, top in enumerate((edge, thick - cover + edge)):
        name = f"board {k + 1} of the book"
        sketch.box("board", (left + edge, top), (spine - 1.5 * cover, top + cover - 2 * edge), name)
    fore, count = left + 1.2 * at.air_mm, 6
    each = (thick - 2 * cover) / count
    for k in range(count):
        top = cover + k * each
        back = spine - cover - 0.3 * at.air_mm - each / 2
        fold = tuple((back - dx, top + dy) for dx, dy in arc(each, each / 2))
        sketch.area("section", ((fore, top), *fold, (fore, top + each)), f"section {k + 1}")
