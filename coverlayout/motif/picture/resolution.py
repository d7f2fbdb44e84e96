"""What a picture file says about its resolution, and whether that can be trusted."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from PIL import ExifTags
from PIL.ImageFile import ImageFile
from PIL.TiffImagePlugin import TiffImageFile

from coverlayout.geometry.frames import Point
from coverlayout.motif.picture.decoder import exif_of
from coverlayout.units import MM_PER_INCH

__all__ = ["Resolution", "resolution_of", "usable_dpi"]

# Written by cameras, screens and programs that know nothing of the print's size.
_FILLERS_DPI = (0.0, 1.0, 72.0, 96.0)
# Whole pixels per metre turn 72 into 72.009 and 96 into 96.012.
_FILLER_WITHIN_DPI = 0.05
# Two fields agree when rounding to whole dots per centimetre can explain the difference: half of 2.54.
_AGREE_WITHIN_DPI = 1.3
_CM_PER_INCH = MM_PER_INCH / 10


@dataclass(frozen=True)
class Resolution:
    """Dots per inch across and along the upright picture; `known` False where the figures cannot be trusted.

    The figures are kept as the file says them even when they are not trusted; None where it says nothing.
    `disagree` is True when two fields of the file contradict each other.
    """

    x_dpi: float | None = None
    y_dpi: float | None = None
    known: bool = False
    disagree: bool = False

    def size_mm(self, width_px: int, height_px: int) -> Point | None:
        """Printed size of a picture of so many upright pixels, in mm; None when the resolution is not known.

        >>> Resolution(300.0, 150.0, known=True).size_mm(600, 600)
        (50.8, 101.6)
        """
        if not self.known or self.x_dpi is None or self.y_dpi is None:
            return None
        return width_px * MM_PER_INCH / self.x_dpi, height_px * MM_PER_INCH / self.y_dpi


def usable_dpi(dpi: float) -> bool:
    """False for what stands for "not known": no finite figure, 1 or less, 72 and 96 within rounding.

    >>> usable_dpi(299.9994), usable_dpi(72.009), usable_dpi(96.012), usable_dpi(1.0)
    (True, False, False, False)
    """
    return math.isfinite(dpi) and dpi > 1 and all(abs(dpi - filler) > _FILLER_WITHIN_DPI for filler in _FILLERS_DPI)


def resolution_of(image: ImageFile, kind: str, *, sideways: bool) -> Resolution:
    """The resolution of an opened picture; `sideways` when its orientation tag swaps width and height.

    PNG: pixels per metre; JPEG: the density of its JFIF header; TIFF: its own tags; BMP: pixels per metre; the EXIF
    tags of all but TIFF are read as well. Fields that say nothing (unit "none", 1 or less) are passed over; two
    that contradict each other make the resolution unknown.
    """
    said = [stated for stated in (_own(image, kind), None if kind == "tif" else _tagged(exif_of(image))) if stated]
    if not said:
        return Resolution()
    x_dpi, y_dpi = (said[0][1], said[0][0]) if sideways else said[0]
    disagree = len(said) == 2 and any(abs(a - b) > _AGREE_WITHIN_DPI for a, b in zip(*said, strict=True))
    return Resolution(x_dpi, y_dpi, not disagree and usable_dpi(x_dpi) and usable_dpi(y_dpi), disagree)


def _own(image: ImageFile, kind: str) -> Point | None:
    """Resolution as the format's own fields say it, x and y as stored."""
    if isinstance(image, TiffImageFile):
        return _tagged(image.tag_v2)
    if kind == "jpg":
        factor = {1: 1.0, 2: _CM_PER_INCH}.get(image.info.get("jfif_unit", 0))
        x, y = image.info.get("jfif_density", (0, 0))
        return _stated(x * factor, y * factor) if factor else None
    if kind in ("png", "bmp") and "dpi" in image.info:
        return _stated(*image.info["dpi"])
    return None


def _tagged(tags: Mapping[int, Any]) -> Point | None:
    """Resolution from TIFF tags (282, 283 and the unit 296: 1 none, 2 inch, 3 cm; inch when missing)."""
    x, y = tags.get(ExifTags.Base.XResolution), tags.get(ExifTags.Base.YResolution)
    factor = {2: 1.0, 3: _CM_PER_INCH}.get(tags.get(ExifTags.Base.ResolutionUnit, 2))
    if x is None or y is None or factor is None:
        return None
    return _stated(_number(x) * factor, _number(y) * factor)


def _number(value: Any) -> float:
    """A tag's value as a number; not a number for a fraction over 0 or anything else."""
    try:
        return float(value)
    except (TypeError, ValueError, ZeroDivisionError):
        return math.nan


def _stated(x_dpi: float, y_dpi: float) -> Point | None:
    """The pair, unless it stands for nothing at all."""
    if not (math.isfinite(x_dpi) and math.isfinite(y_dpi)) or (x_dpi <= 1 and y_dpi <= 1):
        return None
    return float(x_dpi), float(y_dpi)
