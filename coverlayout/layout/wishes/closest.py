"""The closest a wish that cannot be met can come: the least distance it must be moved by so that everything fits."""

from __future__ import annotations

import math

from coverlayout.geometry.frames import Point
from coverlayout.layout.question import Placed, Question
from coverlayout.layout.wishes.wish import (
    Decide,
    Wish,
    as_must,
    fits,
    grounds_for,
    missed_mm,
    moved,
    pieces_of,
    with_wishes,
)

__all__ = ["closest_mm"]

# Looked for along these directions of the cloth, the straight ones first: edges and flaws mostly lie straight.
_DIRECTIONS: tuple[Point, ...] = tuple(
    (math.cos(math.radians(deg)), math.sin(math.radians(deg))) for deg in (0, 90, 180, 270, 45, 135, 225, 315)
)
# The first distance tried; it doubles until something fits. Then the least is narrowed down to the last figure.
_FIRST_MM, _NARROW_MM = 0.25, 0.05


def closest_mm(question: Question, wish: Wish, decide: Decide, placed: tuple[Placed, ...]) -> float:
    """How far off at the closest, in mm on the cloth, the wish can be held with everything else of the question.

    `question` holds every other wish; `placed` is a layout of it. The answer is what a layout was found for: never less
    than can be had, and more than the very least only where that lies in none of eight directions. 0 where it holds.
    """
    best_mm = missed_mm(question, wish, placed)
    farthest_mm = _farthest_mm(question, wish)
    if farthest_mm > 0.0:
        best_mm = min(best_mm, farthest_mm) if best_mm > 0.0 else 0.0
    for direction in _DIRECTIONS:
        if best_mm <= 2 * _NARROW_MM:
            break
        best_mm = _least_along(question, wish, decide, direction, best_mm)
    return best_mm


def _farthest_mm(question: Question, wish: Wish) -> float:
    """The most anything can be off its place in the repeat; 0 without a repeat."""
    grounds = (ground for piece in pieces_of(wish) for _, ground in grounds_for(question, piece))
    return max((ground.lattice_mm.farthest_off_mm for ground in grounds if ground.lattice_mm), default=0.0)


def _least_along(question: Question, wish: Wish, decide: Decide, direction: Point, below_mm: float) -> float:
    """The least distance along a direction that fits and is below what is known; else what is known."""

    def holds(distance_mm: float) -> bool:
        by_mm = direction[0] * distance_mm, direction[1] * distance_mm
        there = as_must(moved(question, wish, by_mm))
        return fits(decide(with_wishes(question, [*question.locks, *question.links, there])))

    most_mm = below_mm - _NARROW_MM
    low_mm, high_mm = 0.0, min(_FIRST_MM, most_mm)
    while not holds(high_mm):
        if high_mm >= most_mm:
            return below_mm
        low_mm, high_mm = high_mm, min(2 * high_mm, most_mm)
    while high_mm - low_mm > _NARROW_MM:
        middle_mm = (low_mm + high_mm) / 2
        low_mm, high_mm = (low_mm, middle_mm) if holds(middle_mm) else (middle_mm, high_mm)
    return high_mm
