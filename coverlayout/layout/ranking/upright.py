"""Of the layouts with enough room, one with few pieces turned: upright before half turned before a quarter turned.

A turn nobody needs is not taken: a motif on its head or a board across the grain is found out only at the bench.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from coverlayout.geometry.frames import turns_apart_deg
from coverlayout.geometry.shapes import bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SAME_TURN_DEG
from coverlayout.layout.placing import Laid, outline_on_cloth
from coverlayout.layout.question import PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.sheets import like

__all__ = ["fewer_turned", "heads_up", "turned"]

# How a piece lies: upright, half turned, or a quarter or any other angle.
_UPRIGHT, _HALF, _ACROSS = 0, 1, 2
_LEVEL_TURNS_DEG: tuple[tuple[float, ...] | None, ...] = ((0.0,), (0.0, 180.0), None)

Layout = tuple[Placed, ...]
LayoutOf = Callable[[tuple[PieceAsked, ...]], Layout | None]


def turned(judge: Judge, layout: Layout) -> tuple[int, int]:
    """How many pieces lie a quarter (or at any other angle), and how many half turned, though they may lie better."""
    levels = [(_level(judge, placed), _least_level(judge.pieces[placed.piece])) for placed in layout]
    return (
        sum(level == _ACROSS and least < _ACROSS for level, least in levels),
        sum(level == _HALF and least < _HALF for level, least in levels),
    )


def heads_up(judge: Judge, layout: Layout, room_mm: float) -> Layout:
    """The layout with the half turned pieces set upright in the ground they fill, where the judge finds `room_mm` kept.

    Nothing changes for a piece whose outline, lock or link does not allow that there.
    """
    down = [k for k, placed in enumerate(layout) if _level(judge, placed) == _HALF]
    down = [k for k in down if _least_level(judge.pieces[layout[k].piece]) == _UPRIGHT]
    if not down:
        return layout
    righted = tuple(_set_up(judge, placed) if k in down else placed for k, placed in enumerate(layout))
    if _keeps(judge, righted, room_mm):
        return righted
    for k in down:
        one = (*layout[:k], righted[k], *layout[k + 1 :])
        layout = one if _keeps(judge, one, room_mm) else layout
    return layout


def fewer_turned(judge: Judge, layout: Layout, room_mm: float, layout_of: LayoutOf) -> Iterator[Layout]:
    """Layouts with ever fewer pieces turned and at least `room_mm`, the best last; nothing when none is found.

    `layout_of` searches a layout for the pieces it is given, which allow fewer turns, None when it finds none. All
    upright is tried first, then one piece after another: a kind of piece refused once is not tried again beside more.
    """
    best = heads_up(judge, layout, room_mm)
    if best != layout:
        yield best
    if not any(turned(judge, best)):
        return
    wholly = layout_of(tuple(_within(piece, _least_level(piece)) for piece in judge.question.pieces))
    if wholly is not None and _keeps(judge, wholly, room_mm):
        yield wholly
        return
    refused: set[object] = set()
    while (better := _one_fewer(judge, best, room_mm, layout_of, refused)) is not None:
        best = better
        yield best


def _one_fewer(
    judge: Judge, layout: Layout, room_mm: float, layout_of: LayoutOf, refused: set[object]
) -> Layout | None:
    """A layout with one of the turned pieces less turned and no other more; what cannot be is added to `refused`."""
    levels = {placed.piece: _level(judge, placed) for placed in layout}
    for piece in judge.question.pieces:
        for level in range(_least_level(piece), levels[piece.id]):
            key = _kind(judge.question, piece), level
            if key in refused:
                continue
            most = {**levels, piece.id: level}
            found = layout_of(tuple(_within(each, most[each.id]) for each in judge.question.pieces))
            if found is not None:
                found = heads_up(judge, found, room_mm)
            if found is not None and _keeps(judge, found, room_mm) and turned(judge, found) < turned(judge, layout):
                return found
            refused.add(key)
    return None


def _kind(question: Question, piece: PieceAsked) -> object:
    """What a piece is like, whatever it is called; one with a lock or a link is like no other."""
    wished = {lock.piece for lock in question.locks} | {each for link in question.links for each in link.pieces}
    return piece.id if piece.id in wished else like(piece)


def _level(judge: Judge, placed: Placed) -> int:
    laid = judge.laid(placed, ())
    ground = laid.nearest_ground if isinstance(laid, Laid) else None
    return _level_of(placed.turn_deg - (0.0 if ground is None else ground.ground.up_deg))


def _level_of(turn_deg: float) -> int:
    """How far from upright a turn is that counts from the print's up.

    >>> [_level_of(turn_deg) for turn_deg in (360.0, 180.0, 90.0, 15.0)]
    [0, 1, 2, 2]
    """
    off_deg = turns_apart_deg(turn_deg, 0.0)
    return _UPRIGHT if off_deg <= SAME_TURN_DEG else _HALF if off_deg >= 180.0 - SAME_TURN_DEG else _ACROSS


def _least_level(piece: PieceAsked) -> int:
    """The level a piece has in the best of the turns it allows."""
    return _UPRIGHT if piece.turns_deg is None else min(map(_level_of, piece.turns_deg), default=_ACROSS)


def _within(piece: PieceAsked, level: int) -> PieceAsked:
    """The piece allowing only turns up to a level, the better ones first."""
    if piece.turns_deg is None:
        return replace(piece, turns_deg=_LEVEL_TURNS_DEG[level])
    turns = sorted((deg for deg in piece.turns_deg if _level_of(deg) <= level), key=_level_of)
    return replace(piece, turns_deg=tuple(turns))


def _set_up(judge: Judge, placed: Placed) -> Placed:
    """The piece turned by a half where it lies, so that its box stays where it is."""
    x, y = bounds(outline_on_cloth(judge.pieces[placed.piece], placed)).middle
    turn_deg = (placed.turn_deg + 180.0) % 360.0
    return replace(placed, x_mm=2 * x - placed.x_mm, y_mm=2 * y - placed.y_mm, turn_deg=turn_deg)


def _keeps(judge: Judge, layout: Layout, room_mm: float) -> bool:
    report = judge.report(layout)
    return not report.breaches and not report.waiting and (report.clearance_mm or 0.0) >= room_mm - SAME_LENGTH_MM
