"""Measuring a cloth again gives a change in size per direction. Source of the sign: ISO 5077, AATCC 135."""

from __future__ import annotations

import math

import pytest

from coverlayout.cloth.cloth import Change, Cloth
from coverlayout.cloth.remeasuring import Remeasured, measured_again, reading_remark
from coverlayout.cloth.usable import size_now_mm
from coverlayout.errors import BadInput


def refused(across: Remeasured | None, along: Remeasured | None) -> str:
    with pytest.raises(BadInput) as caught:
        measured_again(across, along)
    assert str(caught.value)
    return caught.value.code


def test_percent_is_the_difference_over_the_length_before():
    change = measured_again(Remeasured(304.8, 295.656), Remeasured(200.0, 203.0))
    assert change.name == "measured again"
    assert change.across_percent == pytest.approx(-3.0)
    assert change.along_percent == pytest.approx(1.5)


def test_the_cloth_then_has_the_length_that_was_measured_whatever_it_went_through_before():
    cloth = Cloth("c", "Swatch", 304.8, 304.8, changes=(Change("washing", -3.0, -1.5),))
    width_mm, length_mm = size_now_mm(cloth)
    change = measured_again(Remeasured(width_mm, 290.0), Remeasured(length_mm / 2, 149.0))
    now = Cloth("c", "Swatch", 304.8, 304.8, changes=(*cloth.changes, change))
    assert size_now_mm(now) == pytest.approx((290.0, 298.0))


def test_a_direction_that_was_not_measured_stays():
    assert measured_again(None, Remeasured(100.0, 99.0)) == Change("measured again", 0.0, pytest.approx(-1.0))
    assert measured_again(Remeasured(100.0, 99.0), None, "bonding").name == "bonding"


def test_what_says_nothing_or_cannot_be_is_refused():
    assert refused(None, None) == "remeasure-nothing"
    assert refused(Remeasured(100.0, 100.004), Remeasured(50.0, 50.0)) == "remeasure-same"
    assert refused(Remeasured(0.0, 100.0), None) == "remeasure-not-positive"
    assert refused(None, Remeasured(100.0, -1.0)) == "remeasure-not-positive"
    assert refused(None, Remeasured(100.0, math.nan)) == "remeasure-not-positive"
    assert refused(Remeasured(100.0, 49.0), None) == "remeasure-too-much"
    assert refused(Remeasured(100.0, 151.0), None) == "remeasure-too-much"


def test_one_direction_alone_may_be_unchanged():
    assert measured_again(Remeasured(100.0, 100.0), Remeasured(100.0, 98.0)).across_percent == 0.0


def test_a_short_length_is_no_sure_measure():
    # Half a millimetre is 0.5 percent of 100 mm.
    assert reading_remark(Remeasured(100.0, 97.0), "across") is None
    remark = reading_remark(Remeasured(60.0, 58.0), "along")
    assert remark is not None
    assert "along" in remark.text()
