"""The cover laid flat and seen from outside: every piece of cloth as it is cut, with the boards that go under it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from coverlayout.book.book import Book, Volume
from coverlayout.book.measures import measures
from coverlayout.book.pieces import Mark, MarkKind, Piece, PieceKind
from coverlayout.book.picturing.plan_measures import Plan, measure_plan
from coverlayout.book.picturing.shapes import Picture, Role
from coverlayout.book.picturing.sketch import Sketch
from coverlayout.book.sewing.holes import holes, on_outside_mm
from coverlayout.book.structures import pieces
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import IDENTITY, Affine, Point, Ring, scale, shift
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["flat_plan"]

_ROLES: dict[PieceKind, Role] = {
    "cover": "cloth",
    "spine piece": "cloth",
    "side": "side",
    "corner": "corner",
    "label": "label",
}
# The strip goes on first, then the corners; the sides lie over both, a label over all.
_LAID: tuple[PieceKind, ...] = ("cover", "spine piece", "corner", "side", "label")
_MARKS: dict[MarkKind, Role] = {
    "turn-in": "turn-in",
    "liner": "liner",
    "mitre": "mitre",
    "joint": "joint",
    "lap": "lap",
    "window": "window",
    "fold": "fold",
}
_HOLE_MM = 1.4
# Between two covers that are cut each for itself, as a share of their width.
_APART = 0.08
_TITLES = {"slipcase": "The slipcase laid flat, seen from outside"}
_TITLE = "The cover laid flat, seen from outside"


@lru_cache(maxsize=64)
def flat_plan(book: Book, volume: Volume) -> Picture:
    """The cover of a volume laid open flat, in the book frame: y 0 at the head of the boards, x 0 in the spine's middle.

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
    laid = _apart([(piece, piece.faces[0].piece_to_book.then(over)) for piece in made])
    sketch = Sketch(book, figures)
    plan = Plan(sketch, _boards(laid), bounds([point for piece, to in laid for point in to.ring(piece.outline_mm)]))
    _draw_boards(plan)
    _draw_cloth(sketch, laid)
    _draw_holes(plan, volume)
    measure_plan(plan, tuple((piece.kind, bounds(to.ring(piece.outline_mm))) for piece, to in laid))
    return sketch.picture(_TITLES.get(book.structure, _TITLE))


def _apart(laid: list[tuple[Piece, Affine]]) -> list[tuple[Piece, Affine]]:
    """Covers of their own, drawn so far apart that their turn-ins do not lie on each other."""
    covers = [(bounds(to.ring(piece.outline_mm)), piece) for piece, to in laid if piece.kind == "cover"]
    if len(covers) < 2:
        return laid
    (left, _back), (right, _front) = sorted(covers, key=lambda each: each[0].left_mm)[:: len(covers) - 1]
    by_mm = max(left.right_mm + _APART * left.width_mm - right.left_mm, 0.0) / 2
    return [
        (piece, to.then(shift(by_mm if bounds(to.ring(piece.outline_mm)).middle[0] > 0 else -by_mm, 0.0)))
        for piece, to in laid
    ]


def _boards(laid: list[tuple[Piece, Affine]]) -> tuple[Box, ...]:
    """Every board that some piece covers, each once, from the back's fore-edge to the front's."""
    found: list[Box] = []
    for piece, to in laid:
        for mark in _marks(piece, "board"):
            box = bounds(to.ring(mark.points_mm))
            if not any(_same(box, other) for other in found):
                found.append(box)
    return tuple(sorted(found, key=lambda box: (box.left_mm, box.top_mm)))


def _same(first: Box, second: Box) -> bool:
    corners = zip(first.ring(), second.ring(), strict=True)
    return all(math.dist(one, other) <= SAME_LENGTH_MM for one, other in corners)


def _marks(piece: Piece, *kinds: MarkKind) -> Iterator[Mark]:
    return (mark for mark in piece.marks if mark.kind in kinds)


def _draw_boards(plan: Plan) -> None:
    for k, board in enumerate(plan.boards):
        plan.sketch.area("board", board.ring(), f"board {k + 1}")
    if plan.page is not None:
        plan.sketch.area("hidden", plan.page.ring(), "page")


def _draw_cloth(sketch: Sketch, laid: list[tuple[Piece, Affine]]) -> None:
    """First the cloth, then what is marked on it, last the lines the knife follows."""
    for piece, to in laid:
        sketch.area(_ROLES[piece.kind], to.ring(piece.outline_mm), piece.id)
    for piece, to in laid:
        for mark in _marks(piece, *_MARKS):
            points: Ring = to.ring(mark.points_mm)
            closing = (*points, points[0]) if mark.closed else points
            sketch.line(_MARKS[mark.kind], closing, piece.id)
    for piece, to in laid:
        outline = to.ring(piece.outline_mm)
        sketch.line("cut", (*outline, outline[0]), piece.id)


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
