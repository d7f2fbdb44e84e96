"""The two pictures behind the canvas: cloths with their print, and the same with all pieces at rest.

Both are larger than the canvas by a margin. A pan only blits them from another place; what comes into sight is painted
ahead in broad strips. A drag blits from both and touches only the moving piece.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import reduce

from PySide6.QtCore import QMargins, QPoint, QPointF, QRect, QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPixmap

from coverlayout.geometry.frames import IDENTITY, Affine, shift
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.layout.question import Placed
from coverlayout.ui.painting.captions import paint_captions, paint_tags
from coverlayout.ui.painting.cloths import Drawing, paint_cloths, paint_flaws_on, paint_veil, polygon
from coverlayout.ui.painting.names import Label, PieceLook, Seen, labels_of, paint_label
from coverlayout.ui.painting.pieces import board_of, paint_chosen, paint_faces, paint_ground, paint_lines
from coverlayout.ui.painting.tiles import transform_of
from coverlayout.ui.table.bench import WAITING, Lying

__all__ = ["Layers", "Over", "Scene"]

# Corners of a chosen piece and halos reach this far beyond its outline.
_REACH_PX = 8
# The pictures are this much larger than the canvas on every side; a strip painted ahead is this broad. Device pixels.
_MARGIN_PX = 256
_AHEAD_PX = 96
# To begin with another area takes as long as painting so many more pixels.
_BEGUN_PX = 40_000.0
# A piece seen larger than this (device pixels) is drawn straight away: most of its picture would lie out of sight.
_LARGEST_SPRITE_PX = 4_000_000


@dataclass(frozen=True)
class Scene:
    """What the layers show: the cloths, how each piece looks, which are lifted off, which were raised (last on top)."""

    drawing: Drawing
    looks: Mapping[str, PieceLook] = field(default_factory=dict)
    lifted: frozenset[str] = frozenset()
    raised: tuple[str, ...] = ()

    def resting(self) -> list[Lying]:
        """The pieces that are not lifted, from the lowest to the topmost."""
        return [each for each in self.drawing.bench.stacked(self.raised) if each.piece.id not in self.lifted]

    def look_of(self, lying: Lying) -> PieceLook:
        """How a piece at rest looks."""
        return self.looks.get(lying.piece.id, PieceLook())

    def is_bare(self, placed: Placed, look: PieceLook) -> bool:
        """True for a piece that shows no more than its faces: only covers are seen, and nothing is wrong with it."""
        return self.drawing.covers_only and placed.cloth != WAITING and not look.breaches

    def map_of(self, placed: Placed) -> Affine:
        """Piece frame to screen for a piece that lies there."""
        return self.drawing.bench.to_table(placed).then(self.drawing.to_screen)

    def area_of(self, placed: Placed) -> QRectF:
        """The pixels a piece touches where it lies."""
        return self.area_on_table(bounds(self.drawing.bench.outline(placed)))

    def area_on_table(self, box: Box) -> QRectF:
        """The pixels touched by a piece that lies in this box on the table."""
        # The table is seen larger or smaller and from elsewhere, never turned: a box stays one.
        by = self.drawing.to_screen
        left, top = by.at((box.left_mm, box.top_mm))
        width, height = box.width_mm * by.xx, box.height_mm * by.yy
        return QRectF(left - _REACH_PX, top - _REACH_PX, width + 2 * _REACH_PX, height + 2 * _REACH_PX)

    def touched(self, areas: Iterable[QRectF], pieces: Iterable[str]) -> list[str]:
        """Those of the pieces on the bench that reach into one of the areas."""
        around, boxes = list(areas), self.drawing.bench.outlines
        seen = ((each, self.area_on_table(boxes[each][1])) for each in pieces if each in boxes)
        return [each for each, place in seen if any(area.intersects(place) for area in around)]

    def with_tags(self, area: QRectF) -> QRectF:
        """An area together with the names of flaws or zones that reach into it: such a name is shown whole or not."""
        for flaw in self.drawing.tagged:
            if flaw.tag.intersects(area):
                area = area.united(flaw.tag.adjusted(-1, -1, 1, 1))
        return area


Over = Callable[[QPainter, Scene], None]
"""Paints something over the pieces at rest, in canvas pixels; within what is painted anew only."""


class Layers:
    """The pictures; `bright` has the print in full colour, `rest` the veil and the pieces over it.

    All places are device pixels of the pictures, but for those of painters and areas, which are the canvas's own.
    `lines` are painted over the pieces at rest and below all words, `over` above them; both become others only when
    all is painted anew.
    """

    def __init__(self, over: list[Over] | None = None, lines: list[Over] | None = None) -> None:
        self.over: list[Over] = [] if over is None else over
        self.lines: list[Over] = [] if lines is None else lines
        self.bright = QPixmap()
        self.rest = QPixmap()
        self._ratio = 1.0
        # Where the canvas lies in the pictures, and which part of them is painted.
        self._seen = QRect()
        self._painted = QRect()
        self._to_screen = IDENTITY
        self._sprites: dict[tuple[object, ...], QPixmap] = {}

    def fit(self, size: QSize, pixel_ratio: float) -> bool:
        """Make the pictures as large as the canvas needs; True when they are new and must be painted."""
        seen = QSize(round(size.width() * pixel_ratio), round(size.height() * pixel_ratio))
        if self._seen.size() == seen and self._ratio == pixel_ratio:
            return False
        self._ratio = pixel_ratio
        self._seen = QRect(QPoint(_MARGIN_PX, _MARGIN_PX), seen)
        whole = seen.grownBy(_margins())
        self.bright, self.rest = QPixmap(whole), QPixmap(whole)
        for layer in (self.bright, self.rest):
            layer.setDevicePixelRatio(pixel_ratio)
        return True

    @property
    def origin(self) -> QPointF:
        """Where the pictures' top left lies on the canvas."""
        return QPointF(-self._seen.x() / self._ratio, -self._seen.y() / self._ratio)

    def paint_zoomed(self, painter: QPainter, to_screen: Affine, *, bright: bool = False) -> None:
        """All that is painted of the pieces at rest (or of the `bright` cloths), stretched to the view of now."""
        painter.save()
        painter.setTransform(transform_of(self._to_screen.inverse().then(to_screen)), combine=True)
        painter.drawPixmap(self._on_canvas(self._painted), self.bright if bright else self.rest, QRectF(self._painted))
        painter.restore()

    def _on_canvas(self, rect: QRect) -> QRectF:
        ratio = self._ratio
        at = QRectF(rect.x() / ratio, rect.y() / ratio, rect.width() / ratio, rect.height() / ratio)
        return at.translated(self.origin)

    def paint(self, scene: Scene) -> None:
        """Paint what is seen anew; the margins follow when they are needed."""
        self._sprites.clear()
        self._seen.moveTo(_MARGIN_PX, _MARGIN_PX)
        self._painted = QRect(self._seen)
        self._to_screen = scene.drawing.to_screen
        self._paint_both(scene, [self._seen])

    def _painter(self, layer: QPixmap) -> QPainter:
        painter = QPainter(layer)
        painter.translate(-self.origin)
        return painter

    def _paint_both(self, scene: Scene, parts: Iterable[QRect]) -> None:
        areas = [self._on_canvas(part) for part in parts if not part.isEmpty()]
        painter = self._painter(self.bright)
        for area in areas:
            painter.setClipRect(area)
            paint_cloths(painter, scene.drawing, area)
        painter.end()
        self._paint_rest(scene, areas)

    def paint_rest(self, scene: Scene, areas: Iterable[QRectF]) -> None:
        """Paint these parts of the pieces at rest anew, over the cloths as they are."""
        painted = self._on_canvas(self._painted)
        # On whole device pixels, so that a part painted again meets what is beside it without a seam.
        on_grid = [self._on_canvas(self._on_picture(area)).intersected(painted) for area in areas]
        self._paint_rest(scene, _fewest([area for area in on_grid if not area.isEmpty()]))

    def _on_picture(self, area: QRectF) -> QRect:
        at, ratio = area.translated(-self.origin), self._ratio
        return QRectF(at.x() * ratio, at.y() * ratio, at.width() * ratio, at.height() * ratio).toAlignedRect()

    def _paint_rest(self, scene: Scene, areas: Iterable[QRectF]) -> None:
        """Pieces from the lowest to the topmost; then all words, so that none is covered, warnings last."""
        painter = self._painter(self.rest)
        outlines = scene.drawing.bench.outlines
        resting = [(lying, scene.area_on_table(outlines[lying.piece.id][1])) for lying in scene.resting()]
        for area in areas:
            painter.setClipRect(area)
            painter.drawPixmap(self.origin, self.bright)
            paint_veil(painter, scene.drawing, area)
            there = [(lying, place) for lying, place in resting if place.intersects(area)]
            for lying, _ in there:
                by, look = scene.map_of(lying.placed), scene.look_of(lying)
                if scene.is_bare(lying.placed, look):
                    self._paint_bare(painter, scene, lying, by, look)
                    continue
                self._paint_ground(painter, scene, lying, lying.placed, by)
                paint_lines(painter, lying, by, scene.drawing.theme, look)
            for lines in self.lines:
                lines(painter, scene)
            paint_captions(painter, scene.drawing)
            # What lies under a name that is partly here decides whether that name is shown.
            around = scene.with_tags(area)
            labels = self._labels(scene, resting, [each for each in resting if each[1].intersects(around)])
            paint_tags(painter, scene.drawing, area, [label.box for label in labels])
            for label in labels:
                paint_label(painter, label)
            for over in self.over:
                over(painter, scene)
        painter.end()

    def _labels(
        self, scene: Scene, resting: list[tuple[Lying, QRectF]], there: list[tuple[Lying, QRectF]]
    ) -> list[Label]:
        """The words on these pieces, warnings last.

        Pieces that overlap are arranged together even where only one of them is painted, so that all parts agree.
        """
        tags = [flaw.tag for flaw in scene.drawing.tagged]
        there = [each for each in there if not scene.is_bare(each[0].placed, scene.look_of(each[0]))]
        alone = [each for each in there if "overlap" not in scene.look_of(each[0]).rules]
        heap = (
            [each for each in resting if "overlap" in scene.look_of(each[0]).rules] if len(alone) < len(there) else []
        )
        labels = [label for each in alone for label in labels_of([_seen(scene, *each)], tags)]
        labels += labels_of([_seen(scene, *each) for each in reversed(heap)], tags)
        return sorted(labels, key=lambda label: label.warns)

    def _paint_bare(self, painter: QPainter, scene: Scene, lying: Lying, by: Affine, look: PieceLook) -> None:
        paint_faces(painter, lying.piece, by, self.bright, self.origin, theme=scene.drawing.theme)
        if look.chosen:
            paint_chosen(painter, polygon(lying.piece.outline_mm, by), scene.drawing.theme)

    def _paint_ground(self, painter: QPainter, scene: Scene, lying: Lying, placed: Placed, by: Affine) -> None:
        bright = None if placed.cloth == WAITING else self.bright
        paint_ground(painter, lying.piece, by, bright, self.origin)
        paint_flaws_on(painter, scene.drawing, placed.cloth, polygon(lying.piece.outline_mm, by))

    def shift(self, scene: Scene, by_device_px: QPoint) -> None:
        """Follow a pan by so many device pixels; `scene` has the new view."""
        self._to_screen = scene.drawing.to_screen
        self._seen.translate(-by_device_px)
        whole = self.rest.rect()
        if not whole.contains(self._seen):
            self._recentre()
        while not self._painted.contains(self._seen):
            strip = self._strip_ahead(whole)
            if strip.isEmpty():
                self._painted = QRect(self._seen)
                strip = self._seen
            self._paint_both(scene, [strip])
            self._painted = self._painted.united(strip)

    def _recentre(self) -> None:
        """Bring what is seen back to the middle of the pictures, with what is painted already."""
        by = QPoint(_MARGIN_PX, _MARGIN_PX) - self._seen.topLeft()
        for layer in (self.bright, self.rest):
            layer.scroll(by.x(), by.y(), layer.rect())
        self._seen.translate(by)
        self._painted = self._painted.translated(by).intersected(self.rest.rect())

    def _strip_ahead(self, whole: QRect) -> QRect:
        """The next strip to paint, along one side of what is painted; empty when the two have nothing in common."""
        seen, painted = self._seen, self._painted
        if not painted.intersects(seen):
            return QRect()
        left, right = min(painted.left(), seen.left()), max(painted.right(), seen.right())
        top, bottom = min(painted.top(), seen.top()), max(painted.bottom(), seen.bottom())
        strip = QRect(painted)
        if left < painted.left():
            strip.setLeft(left - _AHEAD_PX)
            strip.setRight(painted.left() - 1)
        elif right > painted.right():
            strip.setLeft(painted.right() + 1)
            strip.setRight(right + _AHEAD_PX)
        elif top < painted.top():
            strip.setTop(top - _AHEAD_PX)
            strip.setBottom(painted.top() - 1)
        else:
            strip.setTop(painted.bottom() + 1)
            strip.setBottom(bottom + _AHEAD_PX)
        return strip.intersected(whole)

    def paint_moving(self, painter: QPainter, scene: Scene, lying: Lying, placed: Placed, look: PieceLook) -> None:
        """Paint a piece on its way: the print bright under it, its lines from a picture made once for this look."""
        by, area = scene.map_of(placed), scene.area_of(placed)
        if scene.is_bare(placed, look):
            self._paint_bare(painter, scene, lying, by, look)
            return
        self._paint_ground(painter, scene, lying, placed, by)
        if area.width() * area.height() * self._ratio**2 > _LARGEST_SPRITE_PX:
            paint_lines(painter, lying, by, scene.drawing.theme, look)
        else:
            sprite, ratio = (
                self._sprite(scene, lying, by.then(shift(-area.left(), -area.top())), area, look),
                self._ratio,
            )
            painter.drawPixmap(QPointF(round(area.left() * ratio) / ratio, round(area.top() * ratio) / ratio), sprite)
        tags = [flaw.tag for flaw in scene.drawing.tagged if flaw.tag.intersects(area)]
        labels = labels_of([Seen(lying, *_boxes(lying, by, area), look)], tags)
        paint_tags(painter, scene.drawing, area, [label.box for label in labels])
        for label in labels:
            paint_label(painter, label)

    def _sprite(self, scene: Scene, lying: Lying, by: Affine, area: QRectF, look: PieceLook) -> QPixmap:
        key = (lying.piece.id, round(by.xx, 9), round(by.xy, 9), by.determinant > 0, look.rules, look.chosen)
        if key not in self._sprites:
            sprite = QPixmap(round(area.width() * self._ratio) + 2, round(area.height() * self._ratio) + 2)
            sprite.setDevicePixelRatio(self._ratio)
            sprite.fill(QColor(0, 0, 0, 0))
            painter = QPainter(sprite)
            paint_lines(painter, lying, by, scene.drawing.theme, look)
            painter.end()
            self._sprites[key] = sprite
        return self._sprites[key]


def _fewest(areas: Iterable[QRectF]) -> list[QRectF]:
    """Boxes that hold all the areas; those that lie near each other share one where that is less to paint."""
    kept: list[QRectF] = []
    for area in sorted(areas, key=lambda each: (each.left(), each.top())):
        joined, at = area, 0
        while at < len(kept):
            both = joined.united(kept[at])
            if _size(both) <= _size(joined) + _size(kept[at]) + _BEGUN_PX:
                joined, at = both, 0
                kept = [each for each in kept if not both.contains(each)]
            else:
                at += 1
        kept.append(joined)
    whole = reduce(QRectF.united, kept, QRectF())
    return [whole] if kept and _size(whole) <= sum(_size(each) + _BEGUN_PX for each in kept) else kept


def _size(area: QRectF) -> float:
    return area.width() * area.height()


def _margins() -> QMargins:
    return QMargins(_MARGIN_PX, _MARGIN_PX, _MARGIN_PX, _MARGIN_PX)


def _seen(scene: Scene, lying: Lying, area: QRectF) -> Seen:
    return Seen(lying, *_boxes(lying, scene.map_of(lying.placed), area), scene.look_of(lying))


def _boxes(lying: Lying, by: Affine, area: QRectF) -> tuple[QRectF, QRectF]:
    """The boxes of a piece's board and of its outline on the canvas, of which `area` is the part it touches."""
    outline = area.adjusted(_REACH_PX, _REACH_PX, -_REACH_PX, -_REACH_PX)
    return (outline if lying.piece.board is None else board_of(lying.piece, by).boundingRect()), outline
