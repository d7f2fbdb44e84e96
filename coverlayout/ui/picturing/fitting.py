"""A drawn book fitted into a size: its scale, where its measures stand, what stays away where there is no room."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF

from coverlayout.book.picturing.shapes import Picture
from coverlayout.geometry.frames import Affine, scale, shift
from coverlayout.ui.picturing.labels import Labelled, PlacedMeasure, placed_measures

__all__ = ["Fitted", "Fitting"]

# A drawing smaller than this share of what its room would take without any words is not worth looking at.
_LEAST_SHARE = 0.56
# Scales are tried in steps, each so much smaller than the one before.
_SMALLER = 0.94
_SMALLEST_PX_PER_MM, _STRIP_PX, _DUST = 1e-6, 32.0, 1e-9


@dataclass(frozen=True)
class Fitted:
    """A picture in a size: its map to px, its scale, its placed measures, the box around all of it."""

    to_px: Affine
    px_per_mm: float
    placed: tuple[PlacedMeasure, ...]
    around: QRectF

    def moved(self, x_px: float, y_px: float) -> Fitted:
        """The same elsewhere."""
        placed = tuple(each.moved(x_px, y_px) for each in self.placed)
        around = self.around.translated(x_px, y_px)
        return Fitted(self.to_px.then(shift(x_px, y_px)), self.px_per_mm, placed, around)


class Fitting:
    """One drawing fitted into any size; what was tried at a scale is kept, as sizes that differ little try the same."""

    def __init__(self, picture: Picture, metrics: QFontMetricsF) -> None:
        self._picture = picture
        self._metrics = metrics
        self._tried: dict[tuple[int, int, tuple[Labelled, ...]], Fitted] = {}

    def within(self, inside: QRectF, texts: tuple[Labelled, ...]) -> Fitted:
        """The largest scale, nearly, at which the drawing with all that stands around it lies inside, in its middle.

        Where only a drawing too small to look at would leave room for every measure, the last ones stay away.
        """
        box = self._picture.box
        room = min(inside.width() / max(box.width_mm, 0.1), inside.height() / max(box.height_mm, 0.1))
        most = max(room, _SMALLEST_PX_PER_MM)
        best = self._largest(most, inside, texts) or self._with_some(most, inside, texts)
        around = best.around
        # Sideways the book itself, not what stands around it, is in the middle where there is room for that.
        x = inside.left() + (inside.width() - box.width_mm * best.px_per_mm) / 2
        x = min(max(x, inside.left() - around.left()), inside.right() - around.right())
        return best.moved(x, inside.top() + (inside.height() - around.height()) / 2 - around.top())

    def _largest(
        self, most: float, inside: QRectF, texts: tuple[Labelled, ...], *, start: float | None = None
    ) -> Fitted | None:
        """The largest scale that fits, at least a good half of `most`; None when none does.

        Words change sides as the scale changes, so a smaller one need not fit where a larger one does: tried from
        `start` (else from `most`) down.
        """
        step = _step_below(most if start is None else start)
        while _SMALLER**step >= _LEAST_SHARE * most:
            laid = self._at_step(step, texts, inside.width())
            if laid.around.width() <= inside.width() and laid.around.height() <= inside.height():
                return laid
            step += 1
        return None

    def _with_some(self, most: float, inside: QRectF, texts: tuple[Labelled, ...]) -> Fitted:
        """As many measures as leave a drawing worth looking at, in their order of weight; the others stay away."""
        kept: tuple[Labelled, ...] = ()
        best = self._at_step(_step_below(most), (), inside.width())
        for each in texts:
            tried = self._largest(most, inside, (*kept, each), start=best.px_per_mm)
            if tried is not None:
                best, kept = tried, (*kept, each)
        return best

    def _at_step(self, step: int, texts: tuple[Labelled, ...], width_px: float) -> Fitted:
        """The drawing at the scale of that step; the room beside it counts in whole strips, so that others share it."""
        px_per_mm = _SMALLER**step
        beside_px = max((width_px - self._picture.box.width_mm * px_per_mm) / 2, 0.0)
        strips = int(beside_px // _STRIP_PX)
        if (step, strips, texts) not in self._tried:
            made = _at_scale(self._picture, px_per_mm, texts, self._metrics, strips * _STRIP_PX)
            self._tried[step, strips, texts] = made
        return self._tried[step, strips, texts]


def _step_below(px_per_mm: float) -> int:
    """The first step of the scales that are tried, each so much smaller than the one before, that is not above this."""
    return math.ceil(math.log(px_per_mm) / math.log(_SMALLER) - _DUST)


def _at_scale(
    picture: Picture, px_per_mm: float, texts: tuple[Labelled, ...], metrics: QFontMetricsF, beside_px: float
) -> Fitted:
    """The drawing with its top-left corner at (0, 0), its measures around it; `beside_px` is free at either side."""
    box = picture.box
    to_px = shift(-box.left_mm, -box.top_mm).then(scale(px_per_mm))
    book = QRectF(0, 0, box.width_mm * px_per_mm, box.height_mm * px_per_mm)
    placed = placed_measures(texts, to_px, book, metrics, beside_px)
    around = book.adjusted(-2, -2, 2, 2)
    for each in placed:
        around = around.united(each.area)
    return Fitted(to_px, px_per_mm, placed, around)
