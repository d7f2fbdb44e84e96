"""Round spines: arcs against plain geometry, there and back."""

import math
from itertools import pairwise

import pytest

from coverlayout.book.round_spine import arc_mm, radius_mm, rise_of_arc_mm, third_of_circle_rise_mm
from coverlayout.errors import BadInput


def test_a_flat_spine_is_as_long_as_the_block_is_thick() -> None:
    assert arc_mm(24.0, 0.0) == 24.0
    assert radius_mm(24.0, 0.0) == math.inf


def test_half_a_circle_is_the_roundest() -> None:
    assert arc_mm(20.0, 10.0) == pytest.approx(math.pi * 10)
    with pytest.raises(BadInput) as told:
        arc_mm(20.0, 10.5)
    assert told.value.code == "spine-too-round"


@pytest.mark.parametrize("rise", [0.4, 2.0, 5.0, 9.9])
def test_an_arc_measured_in_small_steps(rise: float) -> None:
    """The same arc as a chain of 4,000 chords, by the equation of the circle."""
    radius = radius_mm(20.0, rise)
    middle = rise - radius
    xs = [-10 + 20 * k / 4000 for k in range(4001)]
    points = [(x, middle + math.sqrt(max(radius**2 - x**2, 0.0))) for x in xs]
    chain = sum(math.dist(one, next_one) for one, next_one in pairwise(points))
    assert arc_mm(20.0, rise) == pytest.approx(chain, rel=2e-4)


@pytest.mark.parametrize("rise", [0.5, 3.0, 8.0])
def test_there_and_back(rise: float) -> None:
    assert rise_of_arc_mm(20.0, arc_mm(20.0, rise)) == pytest.approx(rise, abs=1e-4)


def test_a_length_no_round_reaches() -> None:
    assert rise_of_arc_mm(20.0, 19.0) == 0.0
    assert rise_of_arc_mm(20.0, 60.0) == pytest.approx(10.0)


def test_a_third_of_a_circle_spans_120_degrees() -> None:
    rise = third_of_circle_rise_mm(30.0)
    assert 2 * math.degrees(math.asin(15.0 / radius_mm(30.0, rise))) == pytest.approx(120.0)
