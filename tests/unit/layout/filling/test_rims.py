"""How much of a rim touches: counted by hand on a square of cloth."""

from __future__ import annotations

import numpy as np
import pytest

from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.filling.contact import oriented
from coverlayout.layout.filling.rims import Cells, rim_of

SQUARE = rectangle(40, 40)


def shares(cells: Cells, *places: tuple[float, float]) -> list[float]:
    return [float(share) for share in cells.touching(rim_of(SQUARE, cells.cell_mm), np.array(places))]


def test_a_square_touches_with_one_side_for_each_edge_it_lies_at() -> None:
    cells = Cells(Region.of(rectangle(256, 256)))
    assert cells.cell_mm == 1.0
    assert shares(cells, (0.0, 0.0), (0.0, 100.0), (100.0, 100.0), (216.0, 216.0)) == [0.5, 0.25, 0.0, 0.5]


def test_what_lies_there_is_touched_and_the_cells_before_stay_as_they_were() -> None:
    cells = Cells(Region.of(rectangle(256, 256)))
    after = cells.with_parts((oriented(SQUARE),), np.array([0.0, 100.0]))
    assert shares(after, (0.0, 60.0), (40.0, 100.0)) == [0.5, 0.25]
    assert shares(cells, (0.0, 60.0), (40.0, 100.0)) == [0.25, 0.0]


def test_ground_beyond_a_slanted_edge_is_taken() -> None:
    cells = Cells(Region.of(((0.0, 0.0), (256.0, 0.0), (0.0, 256.0))))
    assert shares(cells, (150.0, 150.0)) == [1.0]
    assert shares(cells, (20.0, 20.0)) == [0.0]


@pytest.mark.parametrize("turned", [False, True])
def test_rim_points_lie_outside_at_one_distance(turned: bool) -> None:
    ring = ((0.0, 0.0), (110.0, 0.0), (110.0, 38.0), (40.0, 38.0), (40.0, 90.0), (0.0, 90.0))
    region = Region.of(ring)
    rim = rim_of(ring[::-1] if turned else ring, 2.0)
    assert len(rim) == 48
    apart = [region.distance_mm(Region.of(rectangle(1e-3, 1e-3, x, y))) for x, y in rim.tolist()]
    assert apart == pytest.approx([2.4] * 48, abs=0.02)
