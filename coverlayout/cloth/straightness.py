"""Skew and bow: a print that runs off square, or bends, across the cloth, in percent of the width it was measured over.

Source: ASTM D3882 (skew and bow of cloth and of lines printed on it), by a laboratory's summary of it.
"""

from __future__ import annotations

import math

from coverlayout.errors import BadInput, Remark

__all__ = ["bow_mm", "bow_percent", "bow_remark", "skew_deg", "skew_mm", "skew_percent"]


def skew_percent(offset_mm: float, width_mm: float) -> float:
    """Skew: 100 x offset / width. Above 0 the print runs down towards the right, as you look at the print side.

    BadInput when the width is not above 0 or the offset is larger than it.

    >>> skew_percent(6.0, 200.0)
    3.0
    """
    return _share_percent(offset_mm, width_mm)


def skew_mm(percent: float, width_mm: float) -> float:
    """How far a line is off square at the far end of that width."""
    return percent * width_mm / 100


def skew_deg(percent: float) -> float:
    """The angle that a line runs off square by.

    >>> round(skew_deg(3.0), 4)
    1.7184
    """
    return math.degrees(math.atan(percent / 100))


def bow_percent(depth_mm: float, width_mm: float) -> float:
    """Bow: 100 x depth / width, the depth measured from the straight line between the ends of a curved one.

    BadInput when the width is not above 0 or the depth is larger than it.
    """
    return _share_percent(depth_mm, width_mm)


def bow_mm(percent: float, width_mm: float) -> float:
    """How deep a line bows over that width.

    >>> bow_mm(2.0, 1100.0)
    22.0
    """
    return percent * width_mm / 100


def bow_remark(depth_mm: float, width_mm: float) -> Remark:
    """What to know of a bowed print: it cannot be laid bowed here, so motifs lie off by up to that depth."""
    percent = bow_percent(depth_mm, width_mm)
    return Remark.of("print-bowed", depth_mm=abs(depth_mm), width_mm=width_mm, percent=f"{abs(percent):.1f}")


def _share_percent(off_mm: float, width_mm: float) -> float:
    if not (math.isfinite(off_mm) and math.isfinite(width_mm) and width_mm > 0 and abs(off_mm) <= width_mm):
        raise BadInput("skew-out-of-range", off_mm=off_mm, width_mm=width_mm)
    return 100 * off_mm / width_mm
