"""Prints ready for drawing: tiles with ever halved copies for far views; large pictures are decoded in a thread."""

from __future__ import annotations

import math
import threading
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QBrush, QImage, QTransform

from coverlayout.errors import CoverlayoutError
from coverlayout.geometry.frames import Affine, scale
from coverlayout.motif.drawn import drawn_tile, plain_tile
from coverlayout.motif.pixels import Rgb, halved, pixels
from coverlayout.motif.prints import Print

__all__ = ["Prints", "Tile", "transform_of"]

# A picture above this many pixels is decoded beside the window; below it the eye does not see the wait.
_QUICK_PX = 1_500_000
_WORKING_PX = 6000
_FIRST_LOOK_PX = 1200
_SMALLEST_HALF_PX = 24


def transform_of(by: Affine) -> QTransform:
    """The same map for Qt."""
    return QTransform(by.xx, by.yx, by.xy, by.yy, by.dx, by.dy)


@dataclass(frozen=True)
class Tile:
    """A tile ready for drawing: it repeats as a plain grid under `to_print`; `levels` are ever halved copies."""

    levels: tuple[QImage, ...]
    to_print: Affine

    @classmethod
    def of(cls, rgb: Rgb, to_print: Affine) -> Tile:
        """From pixels (height, width, 3)."""
        levels = [_image(rgb)]
        while min(rgb.shape[:2]) > 2 * _SMALLEST_HALF_PX:
            rgb = halved(rgb)
            levels.append(_image(rgb))
        return cls(tuple(levels), to_print)

    def brush(self, print_to_screen: Affine, pixel_ratio: float) -> QBrush:
        """The brush that fills the screen with the print; drawn from the copy next larger than what is seen."""
        whole = self.to_print.then(print_to_screen)
        seen = max(math.hypot(whole.xx, whole.yx), math.hypot(whole.xy, whole.yy)) * pixel_ratio
        level = min(max(math.floor(-math.log2(seen)), 0), len(self.levels) - 1) if seen > 0 else 0
        image, first = self.levels[level], self.levels[0]
        # The copy covers the same tile: its odd sides were rounded up, so each direction has a factor of its own.
        grown = scale(first.width() / image.width(), first.height() / image.height())
        brush = QBrush(image)
        brush.setTransform(transform_of(grown.then(whole)))
        return brush


def _image(rgb: Rgb) -> QImage:
    height, width = rgb.shape[:2]
    data = rgb.tobytes()
    return QImage(data, width, height, 3 * width, QImage.Format.Format_RGB888).convertToFormat(
        QImage.Format.Format_RGB32
    )


class _Bridge(QObject):
    """Carries a tile made in a thread over to the window's thread."""

    made = Signal(object, object)


class Prints(QObject):
    """Tiles of the prints, made once each; large pictures are decoded in a thread, and `arrived` tells of one.

    Until then, and where a picture is missing or damaged, the print's plain tile is shown.
    """

    arrived = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._tiles: dict[Print, Tile] = {}
        self._asked: set[Print] = set()
        self._lacking: set[Print] = set()
        self._bridge = _Bridge()
        self._bridge.made.connect(self._take)

    @property
    def waiting(self) -> bool:
        """True while a picture is being decoded."""
        return bool(self._asked)

    def tile(self, a_print: Print, pictures: Mapping[str, bytes]) -> Tile:
        """The tile to draw now: the print's own, or a plain one while its picture is not there (yet)."""
        key = _key(a_print)
        picture = key.picture
        there = picture is not None and picture.sha256 in pictures
        if key not in self._tiles or (there and key in self._lacking):
            self._lacking.discard(key)
            own = None
            if picture is not None and not there:
                self._lacking.add(key)
            elif picture is not None:
                own = self._decode(key, pictures[picture.sha256], picture.width_px * picture.height_px)
            self._tiles[key] = own or _plain(key)
        return self._tiles[key]

    def forget_all_but(self, prints: Iterable[Print]) -> None:
        """Let go of the tiles of prints that are no longer so: a large picture's tile takes 200 MB."""
        kept = {_key(each) for each in prints}
        self._tiles = {key: tile for key, tile in self._tiles.items() if key in kept}
        self._lacking &= kept

    def _decode(self, key: Print, data: bytes, size_px: int) -> Tile | None:
        """The print's own tile; None while it is being decoded, and where it cannot be."""
        if size_px > _QUICK_PX:
            self._decode_beside(key, data)
            return None
        return _decoded(key, data, _WORKING_PX)

    def _decode_beside(self, key: Print, data: bytes) -> None:
        self._asked.add(key)
        bridge = self._bridge

        def work() -> None:
            # RuntimeError: the window has closed meanwhile, and nobody is left to tell.
            with suppress(RuntimeError):
                for longest_px, last in ((_FIRST_LOOK_PX, False), (_WORKING_PX, True)):
                    bridge.made.emit(key, (_decoded(key, data, longest_px, quick=not last), last))

        threading.Thread(target=work, name="decode picture", daemon=True).start()

    def _take(self, key: Print, made: tuple[Tile | None, bool]) -> None:
        tile, last = made
        if last:
            self._asked.discard(key)
        if tile is not None and key in self._tiles:
            self._tiles[key] = tile
            self.arrived.emit()


def _key(a_print: Print) -> Print:
    """What of a print its tile depends on."""
    return replace(a_print, id="", name="", unknown=())


def _decoded(a_print: Print, data: bytes, longest_px: int, *, quick: bool = False) -> Tile | None:
    """The tile of a picture, None when it cannot be read (the panel of the print says why)."""
    try:
        drawn = drawn_tile(a_print, pixels(data, longest_px=longest_px, quick=quick))
    except CoverlayoutError:
        return None
    return Tile.of(drawn.rgb, drawn.to_print)


def _plain(a_print: Print) -> Tile:
    drawn = plain_tile(a_print)
    return Tile.of(drawn.rgb, drawn.to_print)
