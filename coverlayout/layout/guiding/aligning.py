"""Pieces lined up, spread evenly or given one turn: pure functions from where they lie to where they would lie.

Everything is done along the directions of the pieces' own sides where all share them (a print laid two degrees crooked,
its pieces after it), else along the cloth. Pieces that must stay (pinned, cut) do not move; the others go by them.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import turn, turns_apart_deg
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import EXACT_MM, SAME_TURN_DEG
from coverlayout.layout.guiding.body import Body, along_same, box_around
from coverlayout.layout.question import Placed

__all__ = ["Alignment", "align", "distribute", "same_turn"]

Alignment = Literal["left", "middle", "right", "top", "centre", "bottom"]
"""`left`, `middle` and `right` move pieces across, `top`, `centre` and `bottom` along."""

Way = Literal["across", "along"]

_MIRRORED: dict[Alignment, Alignment] = {"left": "right", "right": "left"}
# Which part of a box an alignment speaks of: 0 its near edge, 1 its far one.
_SHARE: dict[Alignment, float] = {"left": 0.0, "middle": 0.5, "right": 1.0, "top": 0.0, "centre": 0.5, "bottom": 1.0}


def align(
    bodies: Sequence[Body], to: Alignment, *, back: bool = False, staying: Collection[str] = ()
) -> tuple[Placed, ...]:
    """The placements that change when pieces are brought to one line; left and right as seen, `back` from the back.

    The line is that of the pieces that stay, where there are any, else of the box around all.

    BadInput: fewer than two pieces, pieces on different cloths or beside the cloth, or none that may move.

    >>> square = ((0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0))
    >>> lower = Body(Placed("a-1", "c", 30.0, 50.0), "A", square, (20.0, 20.0))
    >>> upper = Body(Placed("b-1", "c", 90.0, 45.0), "B", square, (20.0, 20.0))
    >>> align((lower, upper), "top")
    (Placed(piece='a-1', cloth='c', x_mm=30.0, y_mm=45.0, turn_deg=0.0, unknown=()),)
    """
    _refuse(bodies, staying, least=2)
    seen = _MIRRORED.get(to, to) if back else to
    way: Way = "across" if to in ("left", "middle", "right") else "along"
    spans = _spans(bodies, way)
    kept = [span for span in spans if span.body.placed.piece in staying] or spans
    low_mm, high_mm = min(span.low_mm for span in kept), max(span.high_mm for span in kept)
    share = _SHARE[seen]
    line_mm = low_mm + share * (high_mm - low_mm)
    by_mm = [line_mm - (span.low_mm + share * (span.high_mm - span.low_mm)) for span in spans]
    return _moved(spans, by_mm, way, staying)


def distribute(
    bodies: Sequence[Body], way: Way, by: Literal["gaps", "middles"], *, staying: Collection[str] = ()
) -> tuple[Placed, ...]:
    """The placements that change when the gaps between pieces, or the steps between their middles, become equal.

    The first and the last piece stay; a piece that must stay ends one row and begins the next. Pieces that take more
    room than there is between the ends overlap evenly.

    BadInput: fewer than three pieces, pieces on different cloths or beside the cloth, or none that may move.
    """
    _refuse(bodies, staying, least=3)
    spans = sorted(_spans(bodies, way), key=lambda span: span.low_mm + span.high_mm)
    fixed = [
        number
        for number, span in enumerate(spans)
        if number in (0, len(spans) - 1) or span.body.placed.piece in staying
    ]
    by_mm = [0.0] * len(spans)
    for first, last in pairwise(fixed):
        by_mm[first + 1 : last] = _spread(spans[first : last + 1], by)
    return _moved(spans, by_mm, way, staying)


def same_turn(bodies: Sequence[Body], like: str, *, staying: Collection[str] = ()) -> tuple[Placed, ...]:
    """The placements that change when all pieces take the turn of the piece `like`, each about its anchor.

    Turns are counted from the print's up under each piece. BadInput: fewer than two pieces, pieces beside the cloth, a
    piece that may not lie that way, none that may move, or `like` not among them.
    """
    _refuse(bodies, staying, least=2, one_cloth=False)
    leading = next((body for body in bodies if body.placed.piece == like), None)
    if leading is None:
        raise BadInput("align-nothing-like", piece=like)
    own_deg = (leading.placed.turn_deg - leading.up_deg) % 360.0
    turned = []
    for body in bodies:
        turn_deg = (body.up_deg + own_deg) % 360.0
        if body.placed.piece in staying or turns_apart_deg(turn_deg, body.placed.turn_deg) <= SAME_TURN_DEG:
            continue
        if body.turns_deg is not None and all(
            turns_apart_deg(own_deg, each) > SAME_TURN_DEG for each in body.turns_deg
        ):
            raise BadInput("align-turn-not-allowed", piece=body.name, like=leading.name)
        turned.append(replace(body.placed, turn_deg=turn_deg))
    return tuple(turned)


@dataclass(frozen=True)
class _Span:
    """What a piece takes up in one direction."""

    body: Body
    low_mm: float
    high_mm: float


def _refuse(bodies: Sequence[Body], staying: Collection[str], *, least: int, one_cloth: bool = True) -> None:
    if len(bodies) < least:
        raise BadInput("align-too-few", least=least, found=len(bodies))
    waiting = next((body for body in bodies if not body.placed.cloth), None)
    if waiting is not None:
        raise BadInput("align-waiting", piece=waiting.name)
    if one_cloth and len({body.placed.cloth for body in bodies}) > 1:
        raise BadInput("align-cloths")
    if all(body.placed.piece in staying for body in bodies):
        raise BadInput("align-all-stay")


def _shared_axes_deg(bodies: Sequence[Body]) -> float:
    first = bodies[0].placed.turn_deg
    return bodies[0].axes_deg if all(along_same(first, body.placed.turn_deg) for body in bodies) else 0.0


def _spans(bodies: Sequence[Body], way: Way) -> list[_Span]:
    turn_deg = _shared_axes_deg(bodies)
    return [_Span(body, *_ends(box_around([body], turn_deg), way)) for body in bodies]


def _ends(box: Box, way: Way) -> tuple[float, float]:
    return (box.left_mm, box.right_mm) if way == "across" else (box.top_mm, box.bottom_mm)


def _spread(row: Sequence[_Span], by: Literal["gaps", "middles"]) -> list[float]:
    """How far each piece between the first and the last of a row has to go."""
    first, inner, last = row[0], row[1:-1], row[-1]
    middles = [(span.low_mm + span.high_mm) / 2 for span in row]
    if by == "middles":
        step_mm = (middles[-1] - middles[0]) / (len(row) - 1)
        return [middles[0] + step_mm * number - middles[number] for number in range(1, len(row) - 1)]
    taken_mm = sum(span.high_mm - span.low_mm for span in inner)
    gap_mm = (last.low_mm - first.high_mm - taken_mm) / (len(row) - 1)
    moves, at_mm = [], first.high_mm + gap_mm
    for span in inner:
        moves.append(at_mm - span.low_mm)
        at_mm += span.high_mm - span.low_mm + gap_mm
    return moves


def _moved(spans: Sequence[_Span], by_mm: Sequence[float], way: Way, staying: Collection[str]) -> tuple[Placed, ...]:
    from_axes = turn(_shared_axes_deg([span.body for span in spans]))
    moved = []
    for span, length_mm in zip(spans, by_mm, strict=True):
        placed = span.body.placed
        if abs(length_mm) <= EXACT_MM or placed.piece in staying:
            continue
        dx, dy = from_axes.vector((length_mm, 0.0) if way == "across" else (0.0, length_mm))
        moved.append(replace(placed, x_mm=placed.x_mm + dx, y_mm=placed.y_mm + dy))
    return tuple(moved)
