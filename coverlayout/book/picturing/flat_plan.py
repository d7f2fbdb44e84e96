"""The cover laid flat and seen from outside: every piece of cloth as it is cut, with the boards that go under it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from coverlayout.book.book import Book, Volume
from coverlayout.book.measures import Measures, measures
from coverlayout.book.picturing.plan_measures import measure_plan
from coverlayout.book.picturing.shapes import Picture, Role
from coverlayout.book.picturing.sketch import Plan, Sketch
from coverlayout.book.picturing.slipcase_plan import draw_heads
from coverlayout.book.pieces import Mark, MarkKind, Piece, PieceKind
from coverlayout.book.rules.belonging import CASES
from coverlayout.book.sewing.holes import holes, on_outside_mm
from coverlayout.book.structures import pieces
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import IDENTITY, Affine, Point, Ring, scale, shift, turn
from coverlayout.geometry.shapes import Box, bounds

__all__ = ["flat_plan"]

_ROLES: dict[PieceKind, Role] = {
    "cover": "cloth",
    "spine piece": "cloth",
    "side": "side",
    "corner": "corner",
    "label": "label",
}
# Corners are drawn last of what covers the boards: the sides are trimmed to show them.
_LAID: tuple[PieceKind, ...] = ("cover", "spine piece", "side", "corner", "label")
_MARKS: dict[MarkKind, Role] = {
    "turn-in": "turn-in",
    "liner": "liner edge",
    "mitre": "mitre",
    "joint": "joint",
    "lap": "lap",
    "window": "window",
    "fold": "fold",
}
_HOLE_MM = 1.4
# Where every piece is cut for itself; between two of them, as a share of their height.
_CUT_APART = ("separate-boards", "side-sewn", "accordion")
_APART = 0.06
_Laid = list[tuple[Piece, Affine]]
_TITLES = {"slipcase": "The slipcase laid flat, seen from outside"}
_TITLE = "The cover laid flat, seen from outside"


@lru_cache(maxsize=64)
def flat_plan(book: Book, volume: Volume) -> Picture:
    """The cover of a volume laid open flat: y 0 at the head of the boards, x 0 in the middle of the spine.

    It is put together from the pieces themselves, so what is drawn is what is cut. BadInput: a book without pieces, or
    one that cannot be measured or bound.

    >>> plan = flat_plan(Book("b", "Ledger", page_mm=(114.3, 152.4)), Volume(1, thickness_mm=16.0))
    >>> [(each.name, each.length_mm) for each in plan.measures if each.name.startswith("cut")]
    [('cut width', 144.3), ('cut height', 182.4)]
    """
    if book.structure == "parts":
        raise BadInput("picture-no-book", book=book.name)
    figures = measures(book, volume)
    made = [each for each in pieces(replace(book, volumes=(volume,))) if each.kind in _ROLES and each.faces]
    made.sort(key=lambda piece: _LAID.index(piece.kind))
    # Drawn as a book that opens left; the picture is mirrored for one that opens right.
    over = IDENTITY if book.opens == "left" else scale(-1.0, 1.0)
    laid = [(piece, piece.faces[0].piece_to_book.then(over)) for piece in made]
    if book.structure in _CUT_APART:
        laid = _side_by_side(laid)
    elif book.structure == "slipcase":
        laid = _wrap_below(laid)
    sketch = Sketch(book, figures)
    cloth = tuple((piece.kind, _box((piece, to))) for piece, to in laid)
    plan = Plan(sketch, _face(laid, figures, "front"), _face(laid, figures, "back"), cloth)
    _draw_cloth(sketch, laid)
    _draw_boards(plan, laid)
    _draw_cuts(sketch, laid)
    if book.structure == "slipcase":
        draw_heads(plan, laid)
    _draw_holes(plan, volume)
    measure_plan(plan)
    return sketch.picture(_TITLES.get(book.structure, _TITLE))


def _side_by_side(laid: _Laid) -> _Laid:
    """Pieces that are cut each for itself, drawn so far apart that their turn-ins do not lie on each other.

    A label goes where the front goes.
    """
    moved: _Laid = []
    at_mm: float | None = None
    by_mm = 0.0
    for piece, to in sorted(laid, key=lambda each: (each[0].kind == "label", _box(each).left_mm)):
        if piece.kind != "label":
            box = _box((piece, to))
            by_mm = 0.0 if at_mm is None else at_mm - box.left_mm
            at_mm = box.right_mm + by_mm + _APART * box.height_mm
        moved.append((piece, to.then(shift(by_mm, 0.0))))
    return moved


def _wrap_below(laid: _Laid) -> _Laid:
    """The wrap of a slipcase, which is long and narrow, laid across under its walls."""
    walls = _side_by_side([(piece, to) for piece, to in laid if piece.kind == "side"])
    if not walls:
        return laid
    around = bounds([corner for each in walls for corner in _box(each).ring()])
    made = list(walls)
    for piece, to in laid:
        if piece.kind != "side":
            across = to.then(turn(90.0))
            box = _box((piece, across))
            down_mm = around.bottom_mm + _APART * around.height_mm - box.top_mm
            made.append((piece, across.then(shift(around.middle[0] - box.middle[0], down_mm))))
    return made


def _box(placed: tuple[Piece, Affine]) -> Box:
    piece, to = placed
    return bounds(to.ring(piece.outline_mm))


def _face(laid: _Laid, figures: Measures, name: str) -> Box:
    """Where the front or the back lies, whole; a cover that several pieces make up is where the measures put it."""
    parts = [
        point
        for piece, to in laid
        for face in piece.faces
        if face.name in (name, f"{name} hinge") and piece.kind == "cover"
        for point in to.ring(face.outline_mm)
    ]
    if parts:
        return bounds(parts)
    width, height = figures.board_mm
    left = figures.gap_mm / 2
    return Box(left if name == "front" else -left - width, 0.0, width, height)


def _marks(piece: Piece, *kinds: MarkKind) -> Iterator[Mark]:
    return (mark for mark in piece.marks if mark.kind in kinds)


def _draw_boards(plan: Plan, laid: _Laid) -> None:
    """Every board once: those of cases as the measures have them, of which a piece may know but a part."""
    sketch, figures = plan.sketch, plan.sketch.figures
    boards = [bounds(to.ring(mark.points_mm)) for piece, to in laid for mark in _marks(piece, "board")]
    if sketch.book.structure in CASES:
        boards = [plan.back, plan.front]
        if figures.spine_mm is not None:
            spine = Box(-figures.spine_mm / 2, plan.front.top_mm, figures.spine_mm, plan.front.height_mm)
            boards.insert(1, spine)
    for k, board in enumerate(sorted(boards, key=lambda box: (box.left_mm, box.top_mm))):
        sketch.line("board", _closed(board.ring()), f"board {k + 1}")
    if plan.page is not None:
        sketch.line("hidden", _closed(plan.page.ring()), "page")


def _draw_cloth(sketch: Sketch, laid: _Laid) -> None:
    """The cloth, what stays seen of it stronger; then what is marked on it.

    The one fold marked on a side-sewn cover is the line of its holes, which are drawn themselves.
    """
    told = [kind for kind in _MARKS if not (kind == "fold" and sketch.book.structure == "side-sewn")]
    for piece, to in laid:
        sketch.area("unseen", to.ring(piece.outline_mm), piece.id)
        sketch.area(_ROLES[piece.kind], to.ring(piece.seen_mm or piece.outline_mm), piece.id)
    for piece, to in laid:
        for mark in _marks(piece, *told):
            points = to.ring(mark.points_mm)
            sketch.line(_MARKS[mark.kind], _closed(points) if mark.closed else points, piece.id)


def _draw_cuts(sketch: Sketch, laid: _Laid) -> None:
    """The lines the knife follows, over everything."""
    for piece, to in laid:
        sketch.line("cut", _closed(to.ring(piece.outline_mm)), piece.id)


def _closed(ring: Ring) -> Ring:
    """The line all round: it is not filled, so that what lies under it keeps its colour."""
    return (*ring, ring[0])


def _draw_holes(plan: Plan, volume: Volume) -> None:
    """Where boards and cloth are pierced, a little larger than an awl's hole so that they can be seen."""
    sketch = plan.sketch
    try:
        pierced = holes(replace(sketch.book, opens="left"), volume)
    except BadInput:
        return
    boards = {"front": plan.front, "back": plan.back}
    for hole in pierced:
        if hole.board == "spine":
            at: Point = (hole.x_mm - sketch.figures.gap_mm / 2, hole.y_mm)
        else:
            board = boards[hole.board]
            x, y = on_outside_mm(hole, board.width_mm, "left")
            at = (board.left_mm + x, board.top_mm + y)
        sketch.area("hole", _ring_around(at), f"hole {hole.board}")


def _ring_around(at: Point) -> Ring:
    turns = (math.pi * k / 6 for k in range(12))
    return tuple((at[0] + _HOLE_MM * math.cos(turn), at[1] + _HOLE_MM * math.sin(turn)) for turn in turns)
