"""Rectangular jobs on one sheet for tests of strips, published tables of pieces, and a check of seats by arithmetic."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from coverlayout.geometry.shapes import Box
from coverlayout.layout.search.filling import Filled
from coverlayout.layout.search.sheets import Block, Item, Pose, RectangularJob, Sheet

Size = tuple[float, float]

# Hopper and Turton 2001, European Journal of Operational Research 128(1), 34-57, first problem of the first class: the
# pieces tile 20 x 20 and may turn.
TWENTY: tuple[Size, ...] = (
    (12, 2), (12, 7), (6, 8), (6, 3), (5, 3), (5, 5), (12, 3), (7, 3),
    (7, 5), (6, 2), (2, 3), (2, 4), (4, 3), (4, 4), (2, 9), (2, 11),
)  # fmt: skip
# Burke, Kendall and Whitwell 2004, Operations Research 52(4), 655-671, first problem: the pieces tile 40 x 40.
FORTY: tuple[Size, ...] = (
    (7, 6), (7, 6), (40, 16), (5, 20), (24, 24), (7, 4), (4, 4), (7, 8), (4, 20), (5, 4),
)  # fmt: skip
# Our own, by construction: the pieces tile 305 x 380 as they lie.
TILES: tuple[Size, ...] = (
    (159, 61), (118, 84), (128, 148), (128, 53), (49, 26), (60, 51), (76, 24),
    (110, 50), (59, 320), (89, 60), (246, 68), (118, 117), (30, 60), (27, 87),
)  # fmt: skip
# Duijvestijn 1978, Journal of Combinatorial Theory B 25, 240-243; sides from memory, their squares sum to 112 x 112.
SQUARES: tuple[Size, ...] = tuple(
    (side, side) for side in (2, 4, 6, 7, 8, 9, 11, 15, 16, 17, 18, 19, 24, 25, 27, 29, 33, 35, 37, 42, 50)
)


def strip_job(
    width_mm: float,
    length_mm: float,
    sizes: Sequence[Size],
    *,
    turning: bool = False,
    gap_mm: float = 0.0,
    at: tuple[float, float] = (0.0, 0.0),
    blocks: tuple[Block, ...] = (),
) -> RectangularJob:
    """Pieces of these sizes on one sheet whose upper left corner is at a place; turning: a quarter turn is allowed."""
    sheet = Sheet("c", "g", Box(at[0], at[1], width_mm, length_mm), blocks)
    return RectangularJob((sheet,), tuple(_item(k, size, turning) for k, size in enumerate(sizes)), gap_mm)


def _item(number: int, size: Size, turning: bool) -> Item:
    lying = [(0.0, size)] + ([(90.0, size[::-1])] if turning and size[0] != size[1] else [])
    return Item(f"p{number}", (tuple(_pose(deg, *each) for deg, each in lying),))


def _pose(turn_deg: float, width_mm: float, height_mm: float) -> Pose:
    return Pose(turn_deg, width_mm, height_mm, (0.0, 0.0), Box(0.0, 0.0, width_mm, height_mm))


def wrong(job: RectangularJob, filled: Filled, *, room_mm: float = 0.0, within_mm: float = 1e-6) -> list[str]:
    """What is wrong with the seats, in words; empty when every piece lies inside and clear of the others."""
    inside, apart_mm = job.sheets[0].box, max(job.gap_mm, room_mm)
    said = [] if len(filled) == len(job.items) else ["not every item has a seat"]
    boxes = []
    for item, seat in zip(job.items, filled, strict=True):
        if seat.pose not in item.poses[0]:
            said.append(f"{item.id} lies as it may not")
        boxes.append(Box(seat.left_mm, seat.top_mm, seat.pose.width_mm, seat.pose.height_mm))
    for item, box in zip(job.items, boxes, strict=True):
        margins = box.left_mm - inside.left_mm, box.top_mm - inside.top_mm
        margins += inside.right_mm - box.right_mm, inside.bottom_mm - box.bottom_mm
        if min(margins) < room_mm - within_mm:
            said.append(f"{item.id} is {min(margins)} from the edge")
    for (one, a), (two, b) in itertools.combinations(zip(job.items, boxes, strict=True), 2):
        across = max(b.left_mm - a.right_mm, a.left_mm - b.right_mm)
        along = max(b.top_mm - a.bottom_mm, a.top_mm - b.bottom_mm)
        if max(across, along) < apart_mm - within_mm:
            said.append(f"{one.id} and {two.id} are {max(across, along)} apart")
    return said
