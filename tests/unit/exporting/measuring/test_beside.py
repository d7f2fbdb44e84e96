"""What lies beside a piece, against arithmetic with corners written here; pieces that lie askew above all."""

from __future__ import annotations

import math

import pytest

from coverlayout.exporting.measuring.beside import Beside
from coverlayout.geometry.shapes import Region, rectangle

GROUND = Region.of(rectangle(420.0, 380.0))


def askew(lean_deg, *boxes):
    """Outlines of boxes (left, top, width, height) in a frame turned clockwise about (0, 0), and moved by (40, 60)."""
    cos, sin = math.cos(math.radians(lean_deg)), math.sin(math.radians(lean_deg))
    return [
        tuple((40 + x * cos - y * sin, 60 + x * sin + y * cos) for x, y in rectangle(w, h, left, top))
        for left, top, w, h in boxes
    ]


def test_between_pieces_that_lean_alike_the_way_is_square_to_their_sides():
    # Upright the cover begins 2.25 to the right of the back cover and lies 3 below the liner; their boxes overlap.
    outlines = askew(-0.96, (0, 70, 144.3, 182.4), (146.55, 0, 108.3, 146.4), (146.55, 149.4, 144.3, 182.4))
    beside = Beside(GROUND, list(zip(("back-1", "liner-1", "front-1"), outlines, strict=True)))
    left, above = beside.nearest(2, -0.96, "left"), beside.nearest(2, -0.96, "above")
    assert (left.name, left.distance_mm) == ("back-1", pytest.approx(2.25))
    assert (above.name, above.distance_mm) == ("liner-1", pytest.approx(3.0))
    for near in (left, above):
        assert math.dist(near.from_mm, near.to_mm) == pytest.approx(near.distance_mm)
    # The line to the back cover lies a third of the way down what both share: 149.4 to 252.4.
    (wanted,) = (
        point
        for point in askew(-0.96, (146.55, 149.4 + 103.0 / 3, 1, 1))[0]
        if point[0] == pytest.approx(left.from_mm[0])
    )
    assert left.from_mm == pytest.approx(wanted)


def test_what_touches_is_nought_away_and_told_on_the_side_it_lies_on():
    outlines = askew(3.0, (0, 0, 50, 40), (50, 0, 30, 40), (0, 40, 50, 30))
    beside = Beside(GROUND, list(zip("abc", outlines, strict=True)))
    assert beside.nearest(1, 3.0, "left").name == "a"
    assert beside.nearest(1, 3.0, "left").distance_mm == pytest.approx(0.0, abs=1e-9)
    assert beside.nearest(2, 3.0, "above").name == "a"
    # Left of the lower piece there is nothing but the cloth's edge, straight out along its own upper edge.
    corner = askew(3.0, (0, 70, 1, 1))[0][0]
    edge = beside.nearest(2, 3.0, "left")
    assert edge.name == "edge"
    assert edge.distance_mm == pytest.approx(corner[0] / math.cos(math.radians(3.0)))


def test_a_piece_askew_beside_an_upright_one_is_measured_from_its_own_sides():
    # Turned back by 10 degrees the upright one leans, and its nearest corner is the one at (100, 120).
    outlines = [rectangle(60.0, 60.0, 40.0, 60.0), *askew(10.0, (120.0, 0.0, 50.0, 40.0))]
    near = Beside(GROUND, list(zip("ab", outlines, strict=True))).nearest(1, 10.0, "left")
    cos, sin = math.cos(math.radians(10.0)), math.sin(math.radians(10.0))
    # Both run on along the turned axis: x' = x cos + y sin about (40, 60); the shared stretch of y' is 0 to 40.
    x_at = max((x - 40) * cos + (y - 60) * sin for x, y in ((100.0, 60.0), (100.0, (40 + 60 * sin) / cos + 60)))
    assert near.name == "a"
    assert near.distance_mm == pytest.approx(120.0 - x_at, abs=1e-4)


def test_pieces_over_each_other_have_no_way_between_them_and_over_the_edge_it_is_nought():
    lying = [("a", rectangle(50.0, 50.0, 100.0, 100.0)), ("b", rectangle(50.0, 50.0, 120.0, 110.0))]
    beside = Beside(GROUND, [*lying, ("out", rectangle(50.0, 20.0, -10.0, 300.0))])
    assert (beside.nearest(1, 0.0, "left").name, beside.nearest(1, 0.0, "left").distance_mm) == ("edge", 120.0)
    out = beside.nearest(2, 0.0, "left")
    assert (out.name, out.distance_mm, out.from_mm) == ("edge", 0.0, (-10.0, 300.0))


def test_beside_a_bent_edge_the_way_is_drawn_a_third_along_where_that_is_as_near():
    # The left edge is straight down to 200 and slants away below; the upper edge slants all along.
    bent = Region.of(((0.0, 0.0), (420.0, 30.0), (420.0, 380.0), (-40.0, 380.0), (0.0, 200.0)))
    beside = Beside(bent, [("a", rectangle(60.0, 90.0, 50.0, 100.0)), ("b", rectangle(60.0, 90.0, 50.0, 230.0))])
    straight = beside.nearest(0, 0.0, "left")
    assert (straight.distance_mm, straight.from_mm, straight.to_mm) == (50.0, (50.0, 130.0), (0.0, 130.0))
    slanted = beside.nearest(0, 0.0, "above")
    assert slanted.from_mm == (pytest.approx(110.0, abs=1e-4), 100.0)
    assert slanted.distance_mm == pytest.approx(100.0 - 30.0 * 110.0 / 420.0, abs=1e-4)
    # Beside the slant the nearest place is the upper end.
    assert beside.nearest(1, 0.0, "left").from_mm == (50.0, pytest.approx(230.0, abs=1e-4))
