"""A round spine as an arc of a circle over the block: its length, its rise, its radius."""

from __future__ import annotations

import math

from coverlayout.errors import BadInput
from coverlayout.geometry.tolerance import SNAP_MM

__all__ = ["arc_mm", "radius_mm", "rise_of_arc_mm", "third_of_circle_rise_mm"]


def third_of_circle_rise_mm(thickness_mm: float) -> float:
    """How far a spine stands out that is a third of a circle: T / (2 sqrt 3), since its radius is T / sqrt 3.

    A third of a circle: a conservation dictionary of 1982 and a binder's manual of 1890; the rest is geometry.

    >>> round(third_of_circle_rise_mm(30.0), 5)
    8.66025
    """
    return thickness_mm / (2 * math.sqrt(3))


def radius_mm(thickness_mm: float, rise_mm: float) -> float:
    """The radius of the circle through both edges of the block and the height of the round; infinite for a flat one.

    >>> round(radius_mm(30.0, third_of_circle_rise_mm(30.0)), 5)
    17.32051
    """
    return math.inf if rise_mm <= 0 else (thickness_mm**2 / 4 + rise_mm**2) / (2 * rise_mm)


def arc_mm(thickness_mm: float, rise_mm: float) -> float:
    """The way over the round from edge to edge, in mm; the thickness itself for a flat spine.

    BadInput for a spine rounder than half a circle. Circle through the chord (the thickness) and the rise.

    >>> round(arc_mm(30.0, third_of_circle_rise_mm(30.0)), 5)
    36.27599
    """
    if rise_mm > thickness_mm / 2 + SNAP_MM:
        raise BadInput("spine-too-round", rise_mm=rise_mm, most_mm=thickness_mm / 2)
    if rise_mm <= 0:
        return thickness_mm
    return radius_mm(thickness_mm, rise_mm) * 4 * math.atan(2 * rise_mm / thickness_mm)


def rise_of_arc_mm(thickness_mm: float, over_mm: float) -> float:
    """How far a spine stands out that measures `over_mm` over the round, found by halving.

    0 when it is no longer than the thickness; half the thickness when it is longer than half a circle.

    >>> round(rise_of_arc_mm(30.0, 36.27599), 3)
    8.66
    """
    low, high = 0.0, thickness_mm / 2
    if over_mm <= thickness_mm:
        return low
    while high - low > SNAP_MM:
        middle = (low + high) / 2
        low, high = (middle, high) if arc_mm(thickness_mm, middle) < over_mm else (low, middle)
    return high
