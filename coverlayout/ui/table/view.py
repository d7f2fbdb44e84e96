"""Where the table is seen: the one map from millimetres on the table to pixels of the canvas. No widgets.

Table frame: cloths side by side as they are seen, x right, y down, mm. Screen frame: logical pixels of the canvas,
origin at its top left.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from coverlayout.geometry.frames import Affine, Point, scale, shift
from coverlayout.geometry.shapes import Box

__all__ = ["LEAST_PX_PER_MM", "MOST_PX_PER_MM", "View", "fitted"]

# The longest cloth (200 m) still shows whole on a small screen; a millimetre as wide as a thumb is near enough.
LEAST_PX_PER_MM = 0.004
MOST_PX_PER_MM = 60.0


@dataclass(frozen=True)
class View:
    """How large the table is seen (logical pixels a millimetre) and where its origin lies on the screen.

    >>> View(2.0, 10.0, 5.0).to_screen.at((3.0, 4.0))
    (16.0, 13.0)
    """

    px_per_mm: float = 1.0
    x_px: float = 0.0
    y_px: float = 0.0

    @property
    def to_screen(self) -> Affine:
        """Table mm to screen pixels."""
        return scale(self.px_per_mm).then(shift(self.x_px, self.y_px))

    def mm_at(self, at_px: Point) -> Point:
        """The place on the table under a pixel."""
        return (at_px[0] - self.x_px) / self.px_per_mm, (at_px[1] - self.y_px) / self.px_per_mm

    def box_px(self, box_mm: Box) -> Box:
        """A box on the table as a box on the screen."""
        left, top = self.to_screen.at((box_mm.left_mm, box_mm.top_mm))
        return Box(left, top, box_mm.width_mm * self.px_per_mm, box_mm.height_mm * self.px_per_mm)

    def panned(self, by_px: Point) -> View:
        """The table moved over the screen."""
        return replace(self, x_px=self.x_px + by_px[0], y_px=self.y_px + by_px[1])

    def zoomed(self, factor: float, at_px: Point) -> View:
        """Larger (above 1) or smaller; what lies under `at_px` stays there. Stops at the limits.

        >>> View(2.0, 10.0, 5.0).zoomed(2.0, (16.0, 13.0)).mm_at((16.0, 13.0))
        (3.0, 4.0)
        """
        return self.at_size(self.px_per_mm * factor, at_px)

    def at_size(self, px_per_mm: float, at_px: Point) -> View:
        """Seen at so many pixels a millimetre, within the limits; what lies under `at_px` stays there."""
        size = min(max(px_per_mm, LEAST_PX_PER_MM), MOST_PX_PER_MM)
        x_mm, y_mm = self.mm_at(at_px)
        return View(size, at_px[0] - x_mm * size, at_px[1] - y_mm * size)

    def on_whole_pixels(self, pixel_ratio: float) -> View:
        """The origin on a whole device pixel, so that a pan moves the picture without drawing it anew."""
        return replace(
            self, x_px=round(self.x_px * pixel_ratio) / pixel_ratio, y_px=round(self.y_px * pixel_ratio) / pixel_ratio
        )

    def showing(self, box_mm: Box, room_px: Box, margin_px: float = 16.0) -> View:
        """Moved no farther than it takes to see the whole of a box, `margin_px` clear; the same view when it is seen.

        >>> View(1.0, 0.0, 0.0).showing(Box(120.0, 10.0, 30.0, 20.0), Box(0.0, 0.0, 100.0, 100.0), 5.0)
        View(px_per_mm=1.0, x_px=-55.0, y_px=0.0)
        """
        seen = self.box_px(box_mm)
        return self.panned(
            (
                _into(seen.left_mm, seen.right_mm, room_px.left_mm, room_px.right_mm, margin_px),
                _into(seen.top_mm, seen.bottom_mm, room_px.top_mm, room_px.bottom_mm, margin_px),
            )
        )

    def fits(self, box_mm: Box, room_px: Box, margin_px: float = 16.0) -> bool:
        """True when a box could be seen whole at this size."""
        seen = self.box_px(box_mm)
        return max(seen.width_mm - room_px.width_mm, seen.height_mm - room_px.height_mm) <= -2 * margin_px

    def bringing(self, new_mm: Box, all_mm: Box, room_px: Box) -> View:
        """The same view when `new_mm` is in sight; else one that has all of `all_mm` in it, farther off if need be."""
        if self.showing(new_mm, room_px) == self:
            return self
        return (self if self.fits(all_mm, room_px) else fitted(all_mm, room_px)).showing(all_mm, room_px)

    def kept_in_sight(self, content_mm: Box, room_px: Box, least_px: float = 48.0) -> View:
        """Moved back so far that at least `least_px` of the content stay inside the room."""
        seen = self.box_px(content_mm)
        return self.panned(
            (
                _back(seen.left_mm, seen.right_mm, room_px.left_mm, room_px.right_mm, least_px),
                _back(seen.top_mm, seen.bottom_mm, room_px.top_mm, room_px.bottom_mm, least_px),
            )
        )


def _into(low: float, high: float, room_low: float, room_high: float, margin: float) -> float:
    """How far a stretch must move to lie in the room; nothing when it does, even where the margin is not kept."""
    if low >= room_low and high <= room_high:
        return 0.0
    return room_low + margin - low if low < room_low + margin else room_high - margin - high


def _back(low: float, high: float, room_low: float, room_high: float, least: float) -> float:
    """How far a stretch must move so that `least` of it (or all, when shorter) lies in the room."""
    least = min(least, high - low, room_high - room_low)
    if high < room_low + least:
        return room_low + least - high
    if low > room_high - least:
        return room_high - least - low
    return 0.0


def fitted(content_mm: Box, room_px: Box, margin_px: float = 32.0) -> View:
    """The view in which all of the content stands in the middle of the room, `margin_px` clear all round.

    Content without size, or a room smaller than its margins, gives the nearest view within the limits.

    >>> fitted(Box(0, 0, 100, 50), Box(20, 20, 264, 200), 32.0)
    View(px_per_mm=2.0, x_px=52.0, y_px=70.0)
    """
    across = max(room_px.width_mm - 2 * margin_px, 1.0) / max(content_mm.width_mm, 1.0)
    along = max(room_px.height_mm - 2 * margin_px, 1.0) / max(content_mm.height_mm, 1.0)
    size = min(max(min(across, along), LEAST_PX_PER_MM), MOST_PX_PER_MM)
    (x_mm, y_mm), (x_px, y_px) = content_mm.middle, room_px.middle
    return View(size, x_px - x_mm * size, y_px - y_mm * size)
