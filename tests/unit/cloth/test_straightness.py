"""Skew and bow by their definitions. Source of the figures: ASTM D3882, by a laboratory's summary of it."""

from __future__ import annotations

import math

import pytest

from coverlayout.cloth.straightness import bow_mm, bow_percent, bow_remark, skew_deg, skew_mm, skew_percent
from coverlayout.errors import BadInput
from coverlayout.motif.prints import LaidPrint


def test_three_percent_over_two_hundred_millimetres_is_six():
    assert skew_percent(6.0, 200.0) == pytest.approx(3.0)
    assert skew_mm(3.0, 200.0) == pytest.approx(6.0)
    assert skew_deg(3.0) == pytest.approx(1.7184, abs=5e-5)


def test_two_percent_of_eleven_hundred_bows_by_twenty_two():
    assert bow_mm(2.0, 1100.0) == pytest.approx(22.0)
    assert bow_percent(22.0, 1100.0) == pytest.approx(2.0)


def test_the_skew_of_a_laid_print_is_that_offset():
    # Over 200 mm across the print a line comes to lie 6 mm lower, and the angle is that of the definition.
    x, y = LaidPrint("p", skew_percent=skew_percent(6.0, 200.0)).print_to_cloth().at((200.0, 0.0))
    assert (x, y) == pytest.approx((200.0, 6.0))
    assert math.degrees(math.atan2(y, x)) == pytest.approx(skew_deg(3.0))


def test_bow_is_told_and_not_laid():
    words = bow_remark(-22.0, 1100.0).text()
    assert "22 mm over 1100 mm (2.0 %)" in words
    assert "drawn straight" in words


@pytest.mark.parametrize(
    ("off_mm", "width_mm"), [(1.0, 0.0), (1.0, -5.0), (math.nan, 10.0), (math.inf, 10.0), (11.0, 10.0), (1.0, math.nan)]
)
def test_figures_that_cannot_be_are_refused(off_mm, width_mm):
    for share in (skew_percent, bow_percent):
        with pytest.raises(BadInput) as caught:
            share(off_mm, width_mm)
        assert caught.value.code == "skew-out-of-range"
        assert str(caught.value)
