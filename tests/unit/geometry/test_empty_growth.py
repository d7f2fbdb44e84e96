"""The largest box round a point, against figures worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

from coverlayout.geometry.empty.cells import Edges, edges_of
from coverlayout.geometry.empty.growth import largest_round
from coverlayout.geometry.shapes import Region, rectangle


def test_upright_edges_are_met_exactly() -> None:
    region = Region.of(rectangle(100.0, 80.0)).minus(Region.of(rectangle(70.0, 50.0)))
    assert largest_round((85.0, 65.0), edges_of(region)).tolist() == [0.0, 50.0, 100.0, 80.0]
    # From a point beside the piece only the stem can be had, from top to bottom.
    assert largest_round((85.0, 20.0), edges_of(region)).tolist() == [70.0, 0.0, 100.0, 80.0]


@pytest.mark.parametrize(("width_mm", "height_mm"), [(100.0, 60.0), (31.0, 220.0)])
def test_a_diamond_holds_half_its_width_and_height(width_mm: float, height_mm: float) -> None:
    """The largest rectangle in a rhombus along its diagonals is half as wide and half as high (plane geometry)."""
    w, h = width_mm / 2, height_mm / 2
    diamond = Edges.of_rings([((0.0, -h), (w, 0.0), (0.0, h), (-w, 0.0))])
    left, top, right, bottom = largest_round((width_mm / 50, height_mm / 60), diamond)
    # The ground is almost the same when one side grows as the other shrinks, so the sides are less sure than the area.
    assert (left, right) == (pytest.approx(-w / 2, rel=0.02), pytest.approx(w / 2, rel=0.02))
    assert w * h * 0.9995 <= (right - left) * (bottom - top) <= w * h


def test_a_spike_from_below_stops_the_box_at_its_tip() -> None:
    """A spike 2 wide at 40 reaches up to 30 in ground of 100 x 80: above it all 100 x 30, or 59 x 80 right of it."""
    region = Region.of(rectangle(100.0, 80.0)).minus(Region.of(((39.0, 80.0), (40.0, 30.0), (41.0, 80.0))))
    assert largest_round((50.0, 10.0), edges_of(region)) == pytest.approx(np.array([41.0, 0.0, 100.0, 80.0]), abs=0.01)
    assert largest_round((20.0, 10.0), edges_of(region)) == pytest.approx(np.array([0.0, 0.0, 39.0, 80.0]), abs=0.01)


def test_a_box_too_narrow_is_only_taken_where_there_is_no_wider_one() -> None:
    """An arm of 100 x 8 off ground of 20 x 30: the arm with 120 x 8 is larger, but narrower than 10."""
    region = Region.of(
        ((0.0, 0.0), (20.0, 0.0), (20.0, 11.0), (120.0, 11.0), (120.0, 19.0), (20.0, 19.0), (20.0, 30.0), (0.0, 30.0))
    )
    assert largest_round((10.0, 15.0), edges_of(region)).tolist() == [0.0, 11.0, 120.0, 19.0]
    assert largest_round((10.0, 15.0), edges_of(region), 10.0).tolist() == [0.0, 0.0, 20.0, 30.0]
    assert largest_round((60.0, 15.0), edges_of(region), 10.0).tolist() == [0.0, 11.0, 120.0, 19.0]


def test_a_point_outside_has_no_box() -> None:
    found = largest_round((200.0, 10.0), edges_of(Region.of(rectangle(100.0, 80.0))))
    assert found.tolist() == [200.0, 10.0, 200.0, 10.0]
