"""The usable cloth: strips along edges, flaws and zones after changes, the print's map, the cloth in doubt."""

import math
from dataclasses import replace

import pytest

from coverlayout.cloth.cloth import Change, Cloth, Flaw, Zone
from coverlayout.cloth.usable import (
    flaw_region,
    keep_out_regions,
    laid_to_cloth,
    outline_region,
    shrunk,
    size_now_mm,
    usable,
    zone_region,
)
from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.motif.prints import LaidPrint

SWATCH = Cloth("c", "swatch", 300.0, 200.0)
# A corner cut out at the lower right: 300 x 200 less 100 x 80.
L_SHAPE = ((0.0, 0.0), (300.0, 0.0), (300.0, 120.0), (200.0, 120.0), (200.0, 200.0), (0.0, 200.0))
HALVED_ACROSS = Change("washing", -50.0, 0.0)


def box_of(region: Region) -> tuple[float, float, float, float]:
    box = region.bounds
    return box.left_mm, box.top_mm, box.right_mm, box.bottom_mm


def test_with_no_strips_the_whole_cloth_is_usable() -> None:
    assert usable(SWATCH).shape.equals(outline_region(SWATCH).shape)


@pytest.mark.parametrize(
    ("trim", "web", "left", "right", "expected"),
    [
        (3.0, 0.0, 0.0, 0.0, (3, 3, 297, 197)),
        (0.0, 4.0, 0.0, 0.0, (4, 4, 296, 196)),
        (3.0, 4.0, 0.0, 0.0, (4, 4, 296, 196)),
        (3.0, 4.0, 10.0, 0.0, (10, 4, 296, 196)),
        (3.0, 0.0, 2.0, 25.0, (3, 3, 275, 197)),
        (0.0, 0.0, 7.0, 9.0, (7, 0, 291, 200)),
    ],
)
def test_where_strips_meet_the_widest_counts(
    trim: float, web: float, left: float, right: float, expected: tuple[float, ...]
) -> None:
    cloth = replace(SWATCH, trim_mm=trim, web_short_mm=web, selvedge_left_mm=left, selvedge_right_mm=right)
    assert box_of(usable(cloth)) == pytest.approx(expected)


def test_strips_are_measured_on_the_changed_cloth() -> None:
    cloth = replace(SWATCH, trim_mm=5.0, selvedge_right_mm=20.0, changes=(HALVED_ACROSS,))
    assert box_of(usable(cloth)) == pytest.approx((5, 5, 130, 195))


def test_a_trim_keeps_its_distance_from_an_inward_corner_all_round() -> None:
    region = usable(replace(SWATCH, outline_mm=L_SHAPE, trim_mm=10.0))
    corner = Region.of(rectangle(1e-3, 1e-3, 200.0, 120.0))
    assert region.distance_mm(corner) == pytest.approx(10.0, abs=1e-3)
    # Straight strips of 10 mm, the rounded inward corner giving back a square less a quarter circle.
    straight = 280 * 100 + 180 * 80
    assert region.area_mm2 == pytest.approx(straight + 100 - math.pi * 100 / 4, abs=0.2)


def test_selvedges_lie_along_the_sides_of_a_crooked_outline() -> None:
    slanted = ((40.0, 0.0), (300.0, 0.0), (260.0, 200.0), (0.0, 200.0))
    region = usable(replace(SWATCH, outline_mm=slanted, selvedge_left_mm=50.0))
    assert not region.contains((45.0, 30.0))
    assert region.contains((51.0, 30.0))
    assert region.bounds.right_mm == 300.0


@pytest.mark.parametrize("strips", [{"trim_mm": 100.0}, {"selvedge_left_mm": 300.0}, {"web_short_mm": 1000.0}])
def test_strips_that_meet_leave_nothing(strips: dict[str, float]) -> None:
    region = usable(replace(SWATCH, **strips, selvedge_right_mm=10.0))  # type: ignore[arg-type]  # only floats
    assert region.is_empty
    assert region.bounds == Box(0.0, 0.0, 0.0, 0.0)


def test_a_stain_shrinks_with_the_changes_it_does_not_contain() -> None:
    stain = Flaw("f", "stain", ((100.0, 20.0), (160.0, 30.0), (120.0, 80.0)))
    cloth = replace(SWATCH, changes=(HALVED_ACROSS,), flaws=(stain, replace(stain, id="g", changes_in=1)))
    (_, before), (_, after) = keep_out_regions(cloth)
    assert box_of(before) == pytest.approx((50, 20, 80, 80))
    assert box_of(after) == pytest.approx((100, 20, 160, 80))


def test_a_crease_has_its_width_and_gets_narrower_only_across() -> None:
    along = Flaw("f", "crease", ((100.0, 0.0), (100.0, 200.0)), line_width_mm=6.0)
    across = Flaw("g", "fold", ((0.0, 50.0), (300.0, 50.0)), line_width_mm=6.0)
    cloth = replace(SWATCH, changes=(HALVED_ACROSS,))
    assert box_of(flaw_region(SWATCH, along)) == pytest.approx((97, 0, 103, 200))
    assert box_of(flaw_region(cloth, along)) == pytest.approx((48.5, 0, 51.5, 200))
    assert box_of(flaw_region(cloth, across)) == pytest.approx((0, 47, 150, 53))


def test_a_zone_is_cut_to_the_usable_cloth() -> None:
    zone = Zone("z", "waves", rectangle(200.0, 300.0, 150.0, -20.0))
    assert box_of(zone_region(replace(SWATCH, trim_mm=5.0), zone)) == pytest.approx((150, 5, 295, 195))
    washed = replace(SWATCH, changes=(HALVED_ACROSS,))
    assert box_of(zone_region(washed, zone)) == pytest.approx((75, 0, 150, 200))
    assert box_of(zone_region(washed, replace(zone, changes_in=1))) == (0, 0, 0, 0)


def test_the_size_is_that_of_the_outline_there_is() -> None:
    leftover = replace(SWATCH, outline_mm=((0.0, 5.0), (250.0, 0.0), (240.0, 190.0)), changes=(HALVED_ACROSS,))
    assert size_now_mm(leftover) == (125.0, 190.0)
    assert size_now_mm(replace(leftover, outline_changes_in=1)) == (250.0, 190.0)
    assert size_now_mm(replace(SWATCH, changes=(HALVED_ACROSS,))) == (150.0, 200.0)


def test_a_zone_beside_the_cloth_is_empty() -> None:
    assert zone_region(SWATCH, Zone("z", "waves", rectangle(10.0, 10.0, 400.0, 0.0))).is_empty


def test_a_print_lies_as_laid_then_changes_with_the_cloth() -> None:
    laid = LaidPrint("p", origin_mm=(30.0, 8.0), turn_deg=90.0)
    cloth = replace(SWATCH, changes=(HALVED_ACROSS, Change("bonding", 0.0, -10.0)))
    # A quarter turn sends (10, 4) to (-4, 10); washing halves x, bonding takes a tenth off y.
    assert laid_to_cloth(cloth, laid).at((10.0, 4.0)) == pytest.approx(((30 - 4) * 0.5, (8 + 10) * 0.9))
    assert laid_to_cloth(cloth, replace(laid, changes_in=2)).at((10.0, 4.0)) == (26.0, 18.0)


def test_a_cloth_in_doubt_loses_at_its_right_and_lower_edge_only() -> None:
    flaw = Flaw("f", "stain", rectangle(10.0, 10.0, 100.0, 100.0))
    laid = LaidPrint("p", origin_mm=(12.0, 5.0))
    cloth = replace(SWATCH, outline_mm=L_SHAPE, flaws=(flaw,), laid=laid, changes=(HALVED_ACROSS,))
    smaller = shrunk(cloth, 10.0)
    # The outline holds no change: halved across by washing, a tenth smaller both ways.
    assert size_now_mm(smaller) == pytest.approx((135.0, 180.0))
    assert smaller.outline_now_mm()[3] == pytest.approx((90.0, 108.0))
    assert (smaller.flaws, smaller.laid) == (cloth.flaws, cloth.laid)
    assert shrunk(SWATCH, 1.0).outline_mm is None
