"""Where pieces come to lie when they are carried, without a pointer, to the cloth beside theirs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.layout.question import Placed
from coverlayout.layout.rules import Judge
from coverlayout.ui.table.bench import WAITING, Bench, Sheet
from coverlayout.ui.table.free_ground import free_ground

__all__ = ["neighbour", "to_neighbour"]


def neighbour(bench: Bench, sheet_id: str, step: int) -> Sheet | None:
    """The cloth `step` places further on in the row (below 0: back); None when there is none, or for what waits."""
    ids = [sheet.id for sheet in bench.sheets]
    if sheet_id == WAITING or sheet_id not in ids:
        return None
    at = ids.index(sheet_id) + step
    return bench.sheets[at] if 0 <= at < len(ids) else None


def to_neighbour(bench: Bench, pieces: Sequence[Placed], step: int, judge: Judge | None = None) -> tuple[Placed, ...]:
    """The pieces on the cloth beside theirs, as far from its top left as seen, drawn in where they would stick out.

    Pieces of one cloth keep their places among each other as long as they fit on the other together. They turn along
    with the print, as in a drag. Those without such a cloth are left out. With a `judge`, pieces that would break a
    rule there lie on free ground of that cloth instead, where all of them find some.
    """
    moved: list[Placed] = []
    for sheet_id in dict.fromkeys(placed.cloth for placed in pieces):
        there = neighbour(bench, sheet_id, step)
        if there is None:
            continue
        here = bench.sheet(sheet_id)
        group = [placed for placed in pieces if placed.cloth == sheet_id]
        boxes = [bounds(bench.outline(placed)) for placed in group]
        whole = bounds([corner for box in boxes for corner in box.ring()])
        together = whole.width_mm <= there.box.width_mm and whole.height_mm <= there.box.height_mm
        carried = [
            bench.moved(placed, _carry(whole if together else box, here.box, there.box))
            for placed, box in zip(group, boxes, strict=True)
        ]
        moved += carried if judge is None else _clear(bench, there, carried, moved, judge)
    return tuple(moved)


def _clear(
    bench: Bench, sheet: Sheet, carried: Sequence[Placed], moved: Sequence[Placed], judge: Judge
) -> Sequence[Placed]:
    """The carried pieces where they break no rule: there already, or on free ground; else where they were carried."""
    moving = {placed.piece for placed in (*carried, *moved)}
    still = (lying.placed for lying in bench.lying if lying.state == "planned" and lying.placed.cloth != WAITING)
    resting = (*(placed for placed in still if placed.piece not in moving), *moved)
    rest = judge.rest(resting)
    if rest.judge(carried).breaches == rest.judge(()).breaches:
        return carried
    asked = [
        replace(judge.pieces[placed.piece], turns_deg=(placed.turn_deg - sheet.up_deg((placed.x_mm, placed.y_mm)),))
        for placed in carried
    ]
    return free_ground(judge, asked, resting, sheet.id) or carried


def _carry(box: Box, here: Box, there: Box) -> Point:
    """How far a box is carried over the table to lie on the other cloth as it lay on this one."""
    return (
        _along_one_axis(box.left_mm, box.width_mm, here.left_mm, there.left_mm, there.width_mm),
        _along_one_axis(box.top_mm, box.height_mm, here.top_mm, there.top_mm, there.height_mm),
    )


def _along_one_axis(at_mm: float, size_mm: float, here_mm: float, there_mm: float, room_mm: float) -> float:
    """What is longer than the cloth lies over its middle, so that it belongs to it."""
    if size_mm >= room_mm:
        return there_mm + (room_mm - size_mm) / 2 - at_mm
    wanted_mm = at_mm - here_mm + there_mm
    return min(max(wanted_mm, there_mm), there_mm + room_mm - size_mm) - at_mm
