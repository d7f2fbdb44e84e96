"""A drawn book fitted into a size: its scale, where its measures stand, what stays away where there is no room."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF

from coverlayout.book.picturing.shapes import Picture
from coverlayout.geometry.frames import Affine, scale, shift
from coverlayout.ui.picturing.labels import Labelled, PlacedMeasure, placed_measures

__all__ = ["Fitted", "fitted"]

# A drawing smaller than this share of what its room would take without any words is not worth looking at.
_LEAST_SHARE, _SMALLER, _COARSE = 0.56, 0.94, 0.88


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


def fitted(picture: Picture, inside: QRectF, texts: tuple[Labelled, ...], metrics: QFontMetricsF) -> Fitted:
    """The largest scale, nearly, at which the drawing with all that stands around it lies inside, in its middle.

    Where only a drawing too small to look at would leave room for every measure, the last ones stay away.
    """
    box = picture.box
    most = min(inside.width() / max(box.width_mm, 0.1), inside.height() / max(box.height_mm, 0.1))
    best = _largest(picture, most, inside, texts, metrics) or _with_some(picture, most, inside, texts, metrics)
    around = best.around
    # Sideways the book itself, not what stands around it, is in the middle where there is room for that.
    x = inside.left() + (inside.width() - box.width_mm * best.px_per_mm) / 2
    x = min(max(x, inside.left() - around.left()), inside.right() - around.right())
    return best.moved(x, inside.top() + (inside.height() - around.height()) / 2 - around.top())


def _largest(
    picture: Picture,
    most: float,
    inside: QRectF,
    texts: tuple[Labelled, ...],
    metrics: QFontMetricsF,
    *,
    smaller: float = _SMALLER,
) -> Fitted | None:
    """The largest scale that fits, at least a good half of `most`; None when none does.

    Words change sides as the scale changes, so a smaller one need not fit where a larger one does: tried from above.
    """
    tried = most
    while tried >= _LEAST_SHARE * most:
        laid = _at_scale(picture, tried, texts, metrics, inside.width())
        if laid.around.width() <= inside.width() and laid.around.height() <= inside.height():
            return laid
        tried *= smaller
    return None


def _with_some(
    picture: Picture, most: float, inside: QRectF, texts: tuple[Labelled, ...], metrics: QFontMetricsF
) -> Fitted:
    """As many measures as leave a drawing worth looking at, in their order of weight; what is too wide stays away."""
    kept: tuple[Labelled, ...] = ()
    best = _at_scale(picture, most, (), metrics, inside.width())
    for each in texts:
        tried = _largest(picture, most, inside, (*kept, each), metrics, smaller=_COARSE)
        if tried is not None:
            best, kept = tried, (*kept, each)
    return best


def _at_scale(
    picture: Picture, px_per_mm: float, texts: tuple[Labelled, ...], metrics: QFontMetricsF, width_px: float
) -> Fitted:
    """The drawing with its top-left corner at (0, 0), its measures around it; `width_px` is there for all of it."""
    box = picture.box
    to_px = shift(-box.left_mm, -box.top_mm).then(scale(px_per_mm))
    book = QRectF(0, 0, box.width_mm * px_per_mm, box.height_mm * px_per_mm)
    placed = placed_measures(texts, to_px, book, metrics, max((width_px - book.width()) / 2, 0.0))
    around = book.adjusted(-2, -2, 2, 2)
    for each in placed:
        around = around.united(each.area)
    return Fitted(to_px, px_per_mm, placed, around)
