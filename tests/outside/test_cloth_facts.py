"""Cloth against figures from outside: cuts as they are sold, and changes in size as they are measured.

Sources: half a yard by half the width for a fat quarter, a quarter yard by half the width for a fat eighth (craft
encyclopedia and glossaries, several agree); cuts by the yard (sewing table and arithmetic); change in percent as in
ISO 5077:2007, 100 x (after - before) / before, minus for shrinkage (a textile laboratory's summary).
"""

import pytest

from coverlayout.cloth.cloth import Change, Cloth
from coverlayout.cloth.cuts import cut_named, ladder
from coverlayout.cloth.usable import outline_region, size_now_mm


@pytest.mark.parametrize(
    ("name", "width_in", "length_in"),
    [
        ("fat quarter, 42 in", 21, 18),
        ("fat quarter, 44 in", 22, 18),
        ("fat quarter, 54 in", 27, 18),
        ("fat quarter, 60 in", 30, 18),
        ("fat eighth, 44 in", 22, 9),
        ("long quarter, 44 in", 44, 9),
        ("half yard, 44 in", 44, 18),
        ("yard, 44 in", 44, 36),
        ("2 yards, 60 in", 60, 72),
        ("swatch, 12 in", 12, 12),
    ],
)
def test_cuts_are_as_large_as_they_are_sold(name: str, width_in: float, length_in: float) -> None:
    cut = cut_named(name, ladder())
    assert (cut.width_mm, cut.length_mm) == pytest.approx((width_in * 25.4, length_in * 25.4), abs=1e-9)


def test_a_fat_quarter_of_44_in_cloth_in_millimetres() -> None:
    cut = cut_named("fat quarter, 44 in", ladder())
    assert (cut.width_mm, cut.length_mm) == pytest.approx((558.8, 457.2), abs=1e-9)


def test_a_fat_quarter_has_the_area_of_a_long_one() -> None:
    fat, long = cut_named("fat quarter, 44 in", ladder()), cut_named("long quarter, 44 in", ladder())
    assert fat.area_mm2 == pytest.approx(long.area_mm2) == pytest.approx(396 * 25.4 * 25.4)


def test_a_metric_fat_quarter_is_half_a_metre_by_half_the_width() -> None:
    """The metric trade: 50 x about 55 cm (dictionary and craft glossaries)."""
    cut = cut_named("fat quarter, 110 cm", ladder())
    assert (cut.width_mm, cut.length_mm) == (550.0, 500.0)


def test_shrinkage_is_minus_and_counts_from_before() -> None:
    """500 mm that measure 485 mm after washing have changed by -3.0 %."""
    cloth = Cloth("c", "sample", 500.0, 500.0, changes=(Change("washing", -3.0, 0.0),))
    assert size_now_mm(cloth) == pytest.approx((485.0, 500.0), abs=1e-9)


def test_cut_larger_to_finish_at_size() -> None:
    """A finished 300 mm at -3 % is cut 309.278351 mm (the inverse of the formula above)."""
    cloth = Cloth("c", "sample", 309.278351, 100.0, changes=(Change("washing", -3.0, -3.0),))
    assert size_now_mm(cloth)[0] == pytest.approx(300.0, abs=1e-6)


def test_a_washed_and_bonded_swatch() -> None:
    """12 in after -3 % and -1.5 % both ways: 304.8 x 0.97 x 0.985 = 291.221 mm (arithmetic)."""
    changes = (Change("washing", -3.0, -3.0), Change("bonding", -1.5, -1.5))
    box = outline_region(Cloth("c", "swatch", 304.8, 304.8, changes=changes)).bounds
    assert (box.width_mm, box.height_mm) == pytest.approx((291.2212, 291.2212), abs=1e-4)
