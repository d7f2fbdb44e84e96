"""A cloth counted from another corner: each figure against arithmetic by hand, changes in size in between."""

from __future__ import annotations

from dataclasses import replace

import pytest
from full_project import CLOTH

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.reframing import reframed
from coverlayout.cloth.usable import flaw_region, laid_to_cloth, outline_region

# The sample cloth was washed (-3, -2 %), then bonded (-1.5, -1 %).
BOTH = (0.97 * 0.985, 0.98 * 0.99)
BOND = (0.985, 0.99)
BY = (-7.0, 4.0)


def moved(point: tuple[float, float], factors: tuple[float, float]) -> tuple[float, float]:
    return point[0] + BY[0] / factors[0], point[1] + BY[1] / factors[1]


def test_each_figure_moves_by_the_way_as_it_was_when_it_was_measured() -> None:
    after = reframed(CLOTH, BY)
    assert after.flaws[0].points_mm[1] == pytest.approx(moved((95.0, 36.0), BOTH))
    assert after.flaws[1].points_mm[0] == pytest.approx(moved((0.0, 200.0), BOND))
    assert after.zones[0].outline_mm[0] == pytest.approx(BY)
    assert after.zones[0].laid is not None
    assert after.zones[0].laid.origin_mm == pytest.approx(moved((12.0, 5.5), BOND))
    assert after.laid is not None
    assert after.laid.origin_mm == pytest.approx(moved((0.0, 0.0), BOTH))
    assert after.base_line is not None
    assert after.base_line.end_mm == pytest.approx(moved((350.0, 52.0), BOND))
    assert after.outline_mm is not None
    assert after.outline_mm[2] == pytest.approx(moved((405.0, 380.0), BOND))


def test_on_the_cloth_as_it_now_is_all_moves_alike() -> None:
    after = reframed(CLOTH, BY)
    for before, now in (
        (flaw_region(CLOTH, CLOTH.flaws[0]), flaw_region(after, after.flaws[0])),
        (flaw_region(CLOTH, CLOTH.flaws[1]), flaw_region(after, after.flaws[1])),
        (outline_region(CLOTH), outline_region(after)),
    ):
        assert now.bounds.left_mm - before.bounds.left_mm == pytest.approx(BY[0], abs=1e-5)
        assert now.bounds.bottom_mm - before.bounds.bottom_mm == pytest.approx(BY[1], abs=1e-5)
    assert CLOTH.laid is not None
    assert after.laid is not None
    spot = laid_to_cloth(CLOTH, CLOTH.laid).at((31.0, 17.0))
    assert laid_to_cloth(after, after.laid).at((31.0, 17.0)) == pytest.approx((spot[0] + BY[0], spot[1] + BY[1]))


def test_what_is_no_place_stays() -> None:
    after = reframed(CLOTH, BY)
    assert (after.width_mm, after.trim_mm, after.changes) == (CLOTH.width_mm, CLOTH.trim_mm, CLOTH.changes)
    assert reframed(CLOTH, (0.0, 0.0)) == CLOTH
    plain = Cloth("c", "plain", 300.0, 200.0)
    assert reframed(plain, BY) == plain
    assert reframed(replace(CLOTH, base_line=None, laid=None), BY).laid is None
