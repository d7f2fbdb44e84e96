"""Rectangular jobs with locks, links, crooked grounds and slanted flaws, as plain numbers for quick filling."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Box, Region
from coverlayout.layout.filling.covers import boxes_around, covering_boxes
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Ground, Placed, Question
from coverlayout.layout.search.repeats import Holds, lying_for_good
from coverlayout.layout.search.sheets import (
    Block,
    Item,
    Pose,
    RectangularJob,
    Sheet,
    like,
    poses_on,
    upright_rectangles,
)

__all__ = ["HeldJob", "held_job"]


@dataclass(frozen=True, eq=False)
class HeldJob:
    """A rectangular job of which some items are held to a repeat.

    `grounds` are the sheets' grounds, `held` the numbers of the items that a lock or a link speaks of, `groups` for
    every item the numbers of those it is linked with, itself included, `lying` the linked pieces that lie for good.
    """

    job: RectangularJob
    question: Question
    grounds: tuple[Ground, ...]
    holds: Holds
    held: frozenset[int]
    groups: tuple[tuple[int, ...], ...]
    lying: dict[str, tuple[Placed, Ground]]


def held_job(question: Question, look: Callable[[], None] | None = None) -> HeldJob | None:
    """The question as a job of upright rectangles, or None: a piece is no rectangle or may lie slanted.

    Grounds and flaws may have any outline: what is slanted is covered by small boxes, so that a layout is valid but
    one that is not found may still exist. `look` is called now and then, and may raise to end it.
    """
    if not upright_rectangles(question):
        return None
    pairs = [(cloth, ground) for cloth in question.cloths for ground in cloth.grounds]
    holds = Holds(question)
    known: dict[object, tuple[tuple[Pose, ...], ...] | None] = {}
    items: list[Item] = []
    for piece in question.pieces:
        held = holds.holds(piece.id)
        key = like(piece), held
        if key not in known:
            known[key] = poses_on(piece, pairs, all_turns=held)
            if look is not None:
                look()
        poses = known[key]
        if poses is None:
            return None
        items.append(Item(piece.id, poses))
    sheets = tuple(_sheet(cloth, ground) for cloth, ground in pairs)
    job = RectangularJob(sheets, tuple(items), question.gap_mm, exact=False)
    held_items = frozenset(k for k, piece in enumerate(question.pieces) if holds.holds(piece.id))
    grounds = tuple(ground for _, ground in pairs)
    return HeldJob(job, question, grounds, holds, held_items, _groups(question, holds), lying_for_good(question))


def _groups(question: Question, holds: Holds) -> tuple[tuple[int, ...], ...]:
    numbers = {piece.id: k for k, piece in enumerate(question.pieces)}
    groups: list[tuple[int, ...]] = []
    for k, piece in enumerate(question.pieces):
        linked = {other for link in holds.links.get(piece.id, ()) for other in link.pieces}
        groups.append(tuple(sorted({k, *(numbers[other] for other in linked if other in numbers)})))
    return tuple(groups)


def _sheet(cloth: ClothAsked, ground: Ground) -> Sheet:
    box = ground.usable.bounds
    blocks = [Block(part, neighbour=False, edge=True) for part in boxes_around(ground.usable)]
    for keep_out in cloth.keep_outs:
        for part in covering_boxes(keep_out.region):
            blocks.append(Block(part, keep_out.spoiled, keep_out.seen_only))
    for fixed in cloth.fixed:
        blocks += [Block(part, neighbour=True) for part in _boxes_of(outline_on_cloth(*fixed))]
    return Sheet(cloth.id, ground.id, box, tuple(blocks))


def _boxes_of(ring: Ring) -> tuple[Box, ...]:
    return covering_boxes(Region.of(ring))
