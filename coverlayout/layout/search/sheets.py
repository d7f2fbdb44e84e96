"""The rectangular job: upright pieces on upright grounds, as plain numbers for the fast searches.

A *pose* is one way a piece may lie: its turn with the width and height it then has. A *sheet* is one rectangular ground
with what is in the way. `rectangular_job` answers None when a question is not of this kind.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from coverlayout.geometry.frames import Point, turn
from coverlayout.geometry.shapes import Box, Region, bounds, is_rectangle
from coverlayout.geometry.tolerance import SAME_TURN_DEG
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Question

__all__ = [
    "Block",
    "Item",
    "Pose",
    "RectangularJob",
    "Sheet",
    "allowed_on",
    "like",
    "poses_on",
    "rectangular_job",
    "upright_rectangles",
]


@dataclass(frozen=True)
class Block:
    """A rectangle in the way. `neighbour`: it counts for the gap and the clearance; `seen_only`: only what is seen.

    `edge`: it is the edge of the ground, from which the room is kept but not the gap.
    """

    box: Box
    neighbour: bool
    seen_only: bool = False
    edge: bool = False


@dataclass(frozen=True)
class Sheet:
    """A rectangular ground of a cloth with its blocks; all numbers in the cloth frame."""

    cloth_id: str
    ground_id: str
    box: Box
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Pose:
    """A turn of a piece with the box it fills: `anchor_mm` and `seen` count from the box's top left."""

    turn_deg: float
    width_mm: float
    height_mm: float
    anchor_mm: Point
    seen: Box

    def shape_key(self) -> tuple[object, ...]:
        """Equal for poses that fill the same box and must keep the same part of it clear, wherever the anchor is."""
        return self.width_mm, self.height_mm, self.seen


@dataclass(frozen=True)
class Item:
    """A piece to lay: its poses by sheet (an empty tuple: not on that sheet)."""

    id: str
    poses: tuple[tuple[Pose, ...], ...]

    def shape_key(self) -> tuple[object, ...]:
        """Equal for pieces that can change places without any difference."""
        return tuple(tuple(pose.shape_key() for pose in poses) for poses in self.poses)


@dataclass(frozen=True)
class RectangularJob:
    """Sheets and items of a question that has only upright rectangles.

    Not `exact`: something slanted is in the way and counts as its whole box, so what is not found here is not refused.
    """

    sheets: tuple[Sheet, ...]
    items: tuple[Item, ...]
    gap_mm: float
    exact: bool = True


def allowed_on(piece: PieceAsked, cloth: ClothAsked, ground: Ground) -> bool:
    """True when the piece may come from this ground: its print, its cloths and its grounds agree."""
    return piece.may_come_from(cloth.id, ground)


def rectangular_job(question: Question, look: Callable[[], None] | None = None) -> RectangularJob | None:
    """The question as a rectangular job, or None: a slanted ground or piece, a crooked print or a lock is in it.

    `look` is called now and then while there are many kinds of piece, and may raise to end it.
    """
    if any(lock.must for lock in question.locks) or any(link.must for link in question.links):
        return None
    pairs = [(cloth, ground) for cloth in question.cloths for ground in cloth.grounds]
    sheets = [_sheet(cloth, ground) for cloth, ground in pairs]
    if not upright_rectangles(question):
        return None
    # Pieces that are alike have the same poses, and there may be thousands of them.
    alike: dict[object, tuple[tuple[Pose, ...], ...] | None] = {}
    items: list[Item] = []
    for piece in question.pieces:
        kind = like(piece)
        if kind not in alike:
            alike[kind] = poses_on(piece, pairs)
            if look is not None:
                look()
        poses = alike[kind]
        if poses is None:
            return None
        items.append(Item(piece.id, poses))
    if any(sheet is None for sheet in sheets):
        return None
    return RectangularJob(
        tuple(sheet for sheet in sheets if sheet),
        tuple(items),
        question.gap_mm,
        exact=not any(_is_anything_slanted(cloth) for cloth in question.cloths),
    )


def _sheet(cloth: ClothAsked, ground: Ground) -> Sheet | None:
    if not _is_box(ground.usable):
        return None
    box = ground.usable.bounds
    blocks = [Block(k.region.bounds, k.spoiled, k.seen_only) for k in cloth.keep_outs if not k.region.is_empty]
    blocks += [Block(bounds(outline_on_cloth(*fixed)), neighbour=True) for fixed in cloth.fixed]
    within = [block for block in blocks if block.neighbour or _meet(block.box, box)]
    return Sheet(cloth.id, ground.id, box, tuple(within))


def _meet(one: Box, other: Box) -> bool:
    across = min(one.right_mm, other.right_mm) - max(one.left_mm, other.left_mm)
    return across > 0.0 and min(one.bottom_mm, other.bottom_mm) > max(one.top_mm, other.top_mm)


def _is_box(region: Region) -> bool:
    parts = region.parts()
    return len(parts) == 1 and not parts[0][1] and is_rectangle(parts[0][0])


def _is_anything_slanted(cloth: ClothAsked) -> bool:
    """True when a flaw, a hole or a cut piece is no upright rectangle."""
    flaws = any(not (keep_out.region.is_empty or _is_box(keep_out.region)) for keep_out in cloth.keep_outs)
    return flaws or not all(is_rectangle(outline_on_cloth(*fixed)) for fixed in cloth.fixed)


def poses_on(
    piece: PieceAsked, pairs: list[tuple[ClothAsked, Ground]], *, all_turns: bool = False
) -> tuple[tuple[Pose, ...], ...] | None:
    """The poses of an upright piece by ground, one a shape unless `all_turns` count; None for a turn that leans."""
    poses: list[tuple[Pose, ...]] = []
    for cloth, ground in pairs:
        if not allowed_on(piece, cloth, ground):
            poses.append(())
            continue
        turns = _quarter_turns(piece, ground)
        if turns is None:
            return None
        seen_matters = any(keep_out.seen_only for keep_out in cloth.keep_outs)
        own = [_pose_of(piece, deg, seen_matters) for deg in turns]
        poses.append(tuple(own) if all_turns else _distinct(own))
    return tuple(poses)


def upright_rectangles(question: Question) -> bool:
    """True when every piece is an upright rectangle that may not lie at any angle."""
    outlines = {piece.outline_mm for piece in question.pieces}
    return all(map(is_rectangle, outlines)) and all(piece.turns_deg is not None for piece in question.pieces)


def like(piece: PieceAsked) -> object:
    """Equal for pieces that differ in nothing but their id."""
    where = piece.print_id, piece.cloth_ids, piece.ground_ids
    return piece.outline_mm, piece.anchor_mm, piece.turns_deg, piece.seen_mm, *where


def _quarter_turns(piece: PieceAsked, ground: Ground) -> list[float] | None:
    """The turns the piece allows on this ground, in the cloth frame; None when one of them is no whole quarter."""
    turns = [(ground.up_deg + deg) % 360.0 for deg in piece.turns_deg or ()]
    slanted = any(abs(deg / 90.0 - round(deg / 90.0)) * 90.0 > SAME_TURN_DEG for deg in turns)
    return None if slanted else turns


def _pose_of(piece: PieceAsked, turn_deg: float, seen_matters: bool) -> Pose:
    """The box an upright piece fills at a turn; what is seen is looked at only where that matters."""
    map_to = turn(turn_deg)
    box = bounds(map_to.ring(piece.outline_mm))
    ax, ay = map_to.at(piece.anchor_mm)
    seen = Box(0.0, 0.0, box.width_mm, box.height_mm)
    if seen_matters and piece.seen_mm is not None:
        part = bounds(map_to.ring(piece.seen_mm))
        seen = Box(part.left_mm - box.left_mm, part.top_mm - box.top_mm, part.width_mm, part.height_mm)
    return Pose(turn_deg, box.width_mm, box.height_mm, (ax - box.left_mm, ay - box.top_mm), seen)


def _distinct(poses: list[Pose]) -> tuple[Pose, ...]:
    """The first pose of each shape: a half turn changes nothing unless the seen part lies off the middle."""
    kept: dict[tuple[float, ...], Pose] = {}
    for pose in poses:
        shape = (pose.width_mm, pose.height_mm, pose.seen.left_mm, pose.seen.top_mm)
        kept.setdefault(tuple(round(number, 6) for number in shape), pose)
    return tuple(kept.values())
