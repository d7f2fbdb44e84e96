"""The most room at corners, against the circle equation solved by hand and against trying angles."""

from __future__ import annotations

import math

import numpy as np
import pytest

from coverlayout.layout.positions.axes import Arc
from coverlayout.layout.positions.corners import Arcs, Corner, most_room_at_corners


def two_squares(width: float, height: float, size: float) -> Arcs:
    """Two squares and a ground, the room at its edges: the first at the left and top, the second beyond it."""
    along_both = [(Arc(0, 1, 0.0, 1.0), Arc(2, 0, size - length, 1.0)) for length in (width, height)]
    return list(along_both[0]), list(along_both[1])


def test_two_squares_corner_to_corner_share_what_is_left() -> None:
    # (18 - 2 g)^2 + (24 - 2 g)^2 = g^2, the smaller root.
    corner = Corner((50.0, 1, 2), (50.0, 1, 2), 0.0)
    places = np.array([0.0, 3.0, 56.0]), np.array([0.0, 3.0, 57.0])
    room, x, y = most_room_at_corners(two_squares(118, 124, 50), [corner], places, 100.0)
    exact = (168 - math.sqrt(168**2 - 4 * 7 * 900)) / 14
    assert room == pytest.approx(exact, abs=1e-3)
    assert math.hypot(x[2] - x[1] - 50.0, y[2] - y[1] - 50.0) >= room - 1e-6
    assert (x[1], y[1]) == pytest.approx((room, room), abs=1e-4)


def test_the_gap_holds_whatever_the_room() -> None:
    corner = Corner((50.0, 1, 2), (50.0, 1, 2), 5.0)
    places = np.array([0.0, 0.0, 53.0]), np.array([0.0, 0.0, 54.0])
    room, x, y = most_room_at_corners(two_squares(103.5, 104.5, 50), [corner], places, 100.0)
    assert 0.0 < room < 0.5
    assert math.hypot(x[2] - x[1] - 50.0, y[2] - y[1] - 50.0) >= 5.0 - 1e-6


def test_room_is_at_most_what_is_said() -> None:
    corner = Corner((50.0, 1, 2), (50.0, 1, 2), 0.0)
    places = np.array([0.0, 3.0, 56.0]), np.array([0.0, 3.0, 57.0])
    room, _, _ = most_room_at_corners(two_squares(118, 124, 50), [corner], places, 4.0)
    assert room == pytest.approx(4.0, abs=1e-5)


def test_places_are_kept_where_nothing_is_allowed() -> None:
    corner = Corner((50.0, 1, 2), (50.0, 1, 2), 60.0)
    places = np.array([0.0, 3.0, 56.0]), np.array([0.0, 3.0, 57.0])
    room, x, _ = most_room_at_corners(two_squares(118, 124, 50), [corner], places, 100.0)
    assert room == -math.inf
    assert x is places[0]
