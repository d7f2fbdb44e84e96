"""A layout pushed up: every piece as far towards the upper edge as those above it leave room."""

from __future__ import annotations

from collections.abc import Sequence

from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import EXACT_MM

__all__ = ["pushed_up"]


def pushed_up(boxes: Sequence[Box], top_mm: float, gap_mm: float) -> list[float]:
    """By how much each box may rise (mm, 0 or more), all keeping their order and `gap_mm` below each other.

    Boxes that lie beside each other, closer than the gap across or overlapping in x, stand in each other's way.

    >>> pushed_up([Box(0.0, 5.0, 10.0, 10.0), Box(2.0, 30.0, 10.0, 10.0)], top_mm=0.0, gap_mm=1.0)
    [5.0, 19.0]
    """
    order = sorted(range(len(boxes)), key=lambda k: (boxes[k].top_mm, boxes[k].left_mm))
    rises = [0.0] * len(boxes)
    for number, k in enumerate(order):
        box = boxes[k]
        above = [top_mm]
        for other in order[:number]:
            higher = boxes[other]
            apart = max(higher.left_mm - box.right_mm, box.left_mm - higher.right_mm)
            if apart < gap_mm - EXACT_MM and higher.bottom_mm <= box.top_mm + EXACT_MM:
                above.append(higher.bottom_mm - rises[other] + gap_mm)
        rises[k] = max(box.top_mm - max(above), 0.0)
    return rises
