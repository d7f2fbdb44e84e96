"""Which cloths are larger than their backing: either way turned, less the strip; none where none is in the stock."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.paneling.needing import cloths_too_large
from coverlayout.document.project import Project, Stock

WEB = Stock("stock-1", "web", "web", 430.0, 300.0)
CLOTH = Cloth("cloth-1", "Yard", 430.0, 300.0, backing="web")


def too_large(*cloths: Cloth, stocks: tuple[Stock, ...] = (WEB,)) -> list[str]:
    return [cloth.id for cloth in cloths_too_large(Project(cloths=cloths, stocks=stocks))]


def test_a_cloth_as_large_as_a_sheet_is_covered_either_way_turned() -> None:
    assert too_large(CLOTH) == []
    assert too_large(replace(CLOTH, width_mm=300.0, length_mm=430.0)) == []


def test_a_little_more_is_too_large_and_the_strip_gives_it_back() -> None:
    assert too_large(replace(CLOTH, width_mm=436.0)) == ["cloth-1"]
    assert too_large(replace(CLOTH, width_mm=436.0, web_short_mm=3.0)) == []


def test_only_those_that_are_too_large_are_told_in_their_order() -> None:
    large = [Cloth(f"cloth-{k}", "Yard", 900.0, 600.0, backing="web") for k in (2, 4)]
    assert too_large(CLOTH, large[0], replace(CLOTH, id="cloth-3"), large[1]) == ["cloth-2", "cloth-4"]


def test_without_backing_or_without_stock_of_it_none_is() -> None:
    large = Cloth("cloth-2", "Yard", 900.0, 600.0, backing="web")
    assert too_large(replace(large, backing="none")) == []
    assert too_large(large, stocks=()) == []
    assert too_large(replace(large, backing="web and tissue")) == []


def test_off_a_roll_only_the_width_counts() -> None:
    roll = replace(WEB, length_mm=None)
    assert too_large(Cloth("cloth-2", "Strip", 430.0, 5000.0, backing="web"), stocks=(roll,)) == []
    assert too_large(Cloth("cloth-2", "Wide", 431.0, 5000.0, backing="web"), stocks=(roll,)) == ["cloth-2"]
