"""Outlines and lines changed point by point, as a hand draws them; each answer is an outline or line that can be."""

from __future__ import annotations

import math
from collections.abc import Iterable

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Region, checked_line, checked_ring
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["checked_points", "cut_in_two", "insert_point", "move_point", "remove_point"]


def checked_points(points: Iterable[Point], *, closed: bool, where: str) -> Ring:
    """An outline (`closed`) or a line that can be; BadInput as `checked_ring` and `checked_line` say."""
    return checked_ring(points, where=where) if closed else checked_line(points, where=where)


def move_point(points: Ring, at: int, to: Point, *, closed: bool, where: str) -> Ring:
    """The points with point number `at` (from 0) at `to`. BadInput when it would cross itself or shrink to nothing.

    >>> move_point(((0.0, 0.0), (9.0, 0.0), (0.0, 9.0)), 1, (7.0, 1.0), closed=True, where="stain")
    ((0.0, 0.0), (7.0, 1.0), (0.0, 9.0))
    """
    return checked_points((*points[:at], to, *points[at + 1 :]), closed=closed, where=where)


def insert_point(points: Ring, after: int, at: Point, *, closed: bool, where: str) -> Ring:
    """The points with one more at `at`, behind point number `after` (from 0). BadInput as `move_point`."""
    return checked_points((*points[: after + 1], at, *points[after + 1 :]), closed=closed, where=where)


def remove_point(points: Ring, at: int, *, closed: bool, where: str) -> Ring:
    """The points without point number `at` (from 0).

    BadInput when too few would be left (an outline keeps three, a line two), or as `move_point`.
    """
    least = 3 if closed else 2
    if len(points) <= least:
        raise BadInput("points-too-few", where=where, least=least)
    return checked_points((*points[:at], *points[at + 1 :]), closed=closed, where=where)


def cut_in_two(ring: Ring, start: Point, end: Point, *, where: str) -> tuple[Ring, Ring]:
    """The two parts of an outline on the two sides of the straight line through both points, drawn out both ways.

    The first part lies to the left of the way from `start` to `end` as the cloth is seen (y down). BadInput, naming
    `where`: both points in one place; a line that does not leave exactly one part on each side.

    >>> cut_in_two(((0.0, 0.0), (9.0, 0.0), (9.0, 4.0), (0.0, 4.0)), (3.0, 4.0), (3.0, 0.0), where="zone")
    (((3.0, 4.0), (3.0, 0.0), (0.0, 0.0), (0.0, 4.0)), ((9.0, 4.0), (9.0, 0.0), (3.0, 0.0), (3.0, 4.0)))
    """
    length_mm = math.dist(start, end)
    if not SAME_LENGTH_MM < length_mm < math.inf:
        raise BadInput("line-no-length", where=where)
    # Far beyond the outline, so that the half planes end nowhere in it.
    far_mm = 2 * (max(math.dist(start, point) for point in ring) + 1.0)
    ux, uy = (end[0] - start[0]) / length_mm, (end[1] - start[1]) / length_mm
    back = start[0] - far_mm * ux, start[1] - far_mm * uy
    ahead = start[0] + far_mm * ux, start[1] + far_mm * uy
    whole = Region.of(ring)
    sides = []
    for way in (1.0, -1.0):
        dx, dy = way * far_mm * uy, -way * far_mm * ux
        half = Region.of((back, ahead, (ahead[0] + dx, ahead[1] + dy), (back[0] + dx, back[1] + dy)))
        sides.append([outer for outer, _ in whole.meet(half).parts()])
    if [len(parts) for parts in sides] != [1, 1]:
        raise BadInput("line-cuts-not-in-two", where=where)
    return checked_ring(sides[0][0], where=where), checked_ring(sides[1][0], where=where)
