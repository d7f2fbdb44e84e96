"""A question made easier for proofs: only rectangles, on the upright box around each ground, nothing in the way.

Locks, links, flaws and pieces that stay are left out, and so are pieces of other outlines and those that may lie at a
slant. Whatever cannot be done even so cannot be done at all.
"""

from __future__ import annotations

from collections.abc import Sequence

from coverlayout.geometry.frames import turn
from coverlayout.geometry.shapes import Box, bounds, is_rectangle
from coverlayout.geometry.tolerance import SAME_TURN_DEG
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Question
from coverlayout.layout.search.sheets import Item, Pose, RectangularJob, Sheet, allowed_on

__all__ = ["confined", "is_whole_quarter", "lean_of", "relaxed"]


def relaxed(question: Question) -> RectangularJob:
    """The easier job. On a crooked print a sheet stands in the print's frame, turned back by the lean of its up."""
    pairs = [(cloth, ground) for cloth in question.cloths for ground in cloth.grounds]
    sheets = tuple(Sheet(cloth.id, ground.id, _box(ground), ()) for cloth, ground in pairs)
    # Pieces of one shape and the same freedom have the same poses, worked out once.
    known: dict[object, tuple[tuple[Pose, ...], ...]] = {}
    items = []
    for piece in question.pieces:
        if not _is_upright(piece):
            continue
        key = piece.outline_mm, piece.turns_deg, piece.print_id, piece.cloth_ids, piece.ground_ids
        if key not in known:
            known[key] = tuple(_poses(piece, cloth, ground) for cloth, ground in pairs)
        items.append(Item(piece.id, known[key]))
    return RectangularJob(sheets, tuple(items), question.gap_mm, exact=False)


def confined(items: Sequence[Item]) -> list[tuple[tuple[int, ...], list[Item]]]:
    """For every list of sheets that some item needs: the items that may lie on those sheets only; fewest sheets first.

    Items without any sheet are left out: they fit nowhere.
    """
    homes: dict[tuple[int, ...], list[Item]] = {}
    for item in items:
        homes.setdefault(tuple(number for number, poses in enumerate(item.poses) if poses), []).append(item)
    homes.pop((), None)
    return [
        (sheets, [item for home, own in homes.items() if set(home) <= set(sheets) for item in own])
        for sheets in sorted(homes, key=lambda home: (len(home), home))
    ]


def lean_of(ground: Ground) -> float:
    """How far (deg, at most 45 either way) the print's up leans from the cloth's edges."""
    return ground.up_deg - 90.0 * round(ground.up_deg / 90.0)


def is_whole_quarter(turn_deg: float) -> bool:
    """True for a multiple of a quarter turn.

    >>> is_whole_quarter(-270.0), is_whole_quarter(45.0)
    (True, False)
    """
    return abs(turn_deg - 90.0 * round(turn_deg / 90.0)) <= SAME_TURN_DEG


def _is_upright(piece: PieceAsked) -> bool:
    turns = piece.turns_deg
    return turns is not None and all(map(is_whole_quarter, turns)) and is_rectangle(piece.outline_mm)


def _box(ground: Ground) -> Box:
    return ground.usable.mapped(turn(-lean_of(ground))).bounds


def _poses(piece: PieceAsked, cloth: ClothAsked, ground: Ground) -> tuple[Pose, ...]:
    """One pose for every way the piece's box may lie; where its anchor is matters to no proof."""
    if not allowed_on(piece, cloth, ground) or ground.usable.is_empty:
        return ()
    sizes: dict[tuple[float, float], Pose] = {}
    for turn_deg in piece.turns_deg or ():
        own_deg = 90.0 * round((ground.up_deg - lean_of(ground) + turn_deg) / 90.0)
        box = bounds(turn(own_deg).ring(piece.outline_mm))
        size = round(box.width_mm, 6), round(box.height_mm, 6)
        sizes.setdefault(size, Pose(own_deg, *size, (0.0, 0.0), Box(0.0, 0.0, *size)))
    return tuple(sizes.values())
