"""Which pieces lie near another: found by their boxes, so that hundreds on one cloth are judged at once."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from coverlayout.geometry.distance import Shape
from coverlayout.layout.placing import Laid

__all__ = ["Nearby"]

# Fewer pieces than this are looked at one by one sooner than their boxes all together.
_FEW = 24


class Nearby:
    """Pieces on one cloth in the order they were added."""

    def __init__(self, laid: Iterable[Laid] = ()) -> None:
        """Start with some pieces."""
        self._laid: list[Laid] = []
        # One row each for left, top, right and bottom: whole rows are compared fastest.
        self._boxes = np.empty((4, 2 * _FEW))
        for one in laid:
            self.add(one)

    def add(self, laid: Laid) -> None:
        """One more piece."""
        if len(self._laid) == self._boxes.shape[1]:
            self._boxes = np.concatenate([self._boxes, np.empty_like(self._boxes)], axis=1)
        shape = laid.shape
        self._boxes[:, len(self._laid)] = shape.left_mm, shape.top_mm, shape.right_mm, shape.bottom_mm
        self._laid.append(laid)

    def within(self, shape: Shape, reach_mm: float) -> list[Laid]:
        """The pieces that may be no farther than `reach_mm` from a shape: all that are, and some more."""
        if len(self._laid) < _FEW or reach_mm == math.inf:
            return self._laid
        left, top, right, bottom = self._boxes[:, : len(self._laid)]
        near = (top <= shape.bottom_mm + reach_mm) & (bottom >= shape.top_mm - reach_mm)
        near &= left <= shape.right_mm + reach_mm
        near &= right >= shape.left_mm - reach_mm
        return [self._laid[k] for k in np.flatnonzero(near).tolist()]
