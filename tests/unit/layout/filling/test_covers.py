"""Boxes that cover regions: exactly where they are upright, closely where slanted, never leaving any of it bare."""

from __future__ import annotations

import pytest
from shapely import unary_union
from shapely.geometry import box as shapely_box

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.layout.filling.covers import boxes_around, covering_boxes

STAIN = ((50.0, 40.0), (90.0, 60.0), (60.0, 80.0))


def united(boxes: tuple[Box, ...]) -> Region:
    return Region(unary_union([shapely_box(b.left_mm, b.top_mm, b.right_mm, b.bottom_mm) for b in boxes]))


@pytest.mark.parametrize(
    "ring", [STAIN, ((0.0, 0.0), (200.0, 20.0), (200.0, 22.0), (0.0, 2.0)), rectangle(10, 1, 3, 4)]
)
def test_all_of_a_region_is_covered_and_not_much_more(ring: Ring) -> None:
    region = Region.of(ring)
    cover = united(covering_boxes(region))
    assert region.minus(cover).area_mm2 < 1e-3
    assert cover.area_mm2 < 1.35 * region.area_mm2 + 20 * 22


def test_upright_regions_with_holes_are_covered_exactly() -> None:
    frame = Region.of(rectangle(100, 60), [rectangle(20, 10, 30, 20)])
    boxes = covering_boxes(frame)
    assert united(boxes).area_mm2 == pytest.approx(100 * 60 - 20 * 10)
    assert len(boxes) == 4
    assert covering_boxes(Region.nothing()) == ()


def test_what_lies_around_a_crooked_ground_is_covered() -> None:
    assert boxes_around(Region.of(rectangle(100, 60))) == ()
    assert boxes_around(Region.nothing()) == ()
    kite = Region.of(((60.0, 0.0), (120.0, 60.0), (60.0, 120.0), (0.0, 60.0)))
    around = united(boxes_around(kite))
    assert around.meet(kite).area_mm2 < 0.2 * kite.area_mm2
    assert Region.of(rectangle(120, 120)).minus(around).minus(kite).area_mm2 < 1e-3
