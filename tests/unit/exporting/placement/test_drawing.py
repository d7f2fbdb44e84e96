from __future__ import annotations

import pytest

from coverlayout.exporting.placement.drawing import scale_for
from coverlayout.geometry.shapes import Box

ROOM = Box(12.0, 40.0, 186.0, 160.0)


@pytest.mark.parametrize(
    ("width_mm", "height_mm", "ratio"),
    [(186.0, 160.0, 1.0), (100.0, 50.0, 1.0), (304.8, 304.8, 2.0), (1120.0, 914.4, 8.0), (1500.0, 50_000.0, 400.0)],
)
def test_the_scale_is_the_largest_usual_one_that_fits(width_mm, height_mm, ratio):
    assert scale_for(width_mm, height_mm, ROOM) == ratio
