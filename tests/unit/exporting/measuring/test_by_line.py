"""Which corner is told by the base line, and in which directions, for pieces that lie in every way."""

from __future__ import annotations

import math

import pytest

from coverlayout.cloth.cloth import BaseLine, Cloth
from coverlayout.exporting.measuring.by_line import from_line, line_seen, line_zero_deg, seen_deg, step_on_cloth
from coverlayout.geometry.frames import turn
from coverlayout.geometry.shapes import rectangle

DOWN = ((30.0, 20.0), (30.0, 300.0))


@pytest.mark.parametrize("turn_deg", [0.0, 90.0, 180.0, 270.0])
def test_the_corner_is_the_top_left_one_as_it_lies_whichever_way_up_the_piece_is(turn_deg):
    # 40 x 60 about (100, 150): turned a quarter it is 60 x 40.
    outline = [(100 + x, 150 + y) for x, y in turn(turn_deg).ring(rectangle(40.0, 60.0, -20.0, -30.0))]
    wide, high = (60.0, 40.0) if turn_deg in (90.0, 270.0) else (40.0, 60.0)
    found = from_line(tuple(outline), turn_deg, DOWN)
    assert found.corner_mm == pytest.approx((100 - wide / 2, 150 - high / 2))
    assert found.left_mm == pytest.approx((130 - high / 2, 70 - wide / 2))
    assert found.right_mm == pytest.approx((130 - high / 2, 70 + wide / 2))


def test_a_piece_askew_is_told_by_its_own_corner_not_by_a_box_round_it():
    cos, sin = math.cos(math.radians(-0.96)), math.sin(math.radians(-0.96))
    outline = tuple((100 + x * cos - y * sin, 150 + x * sin + y * cos) for x, y in rectangle(144.3, 182.4))
    found = from_line(outline, 359.04, DOWN)
    assert found.corner_mm == pytest.approx((100.0, 150.0))
    assert found.left_mm == pytest.approx((130.0, 70.0))
    assert found.right_mm == pytest.approx((130.0 + 144.3 * sin, 70.0 + 144.3 * cos))


def test_turns_are_as_seen_and_a_line_tells_what_lies_straight():
    assert (seen_deg(359.04, "print"), seen_deg(359.04, "back")) == (359.04, pytest.approx(0.96))
    assert line_zero_deg(((0.0, 0.0), (0.0, 50.0))) == 0.0
    assert line_zero_deg(((0.0, 0.0), (2.0, 100.0))) == pytest.approx(-math.degrees(math.atan2(2, 100)))
    assert line_zero_deg(((100.0, 2.0), (0.0, 0.0))) == pytest.approx(math.degrees(math.atan2(2, 100)))


def test_a_step_to_the_right_of_a_line_that_runs_up_goes_right_on_either_side():
    cloth = Cloth("c", "s", 400.0, 300.0, base_line=BaseLine((30.0, 250.0), (30.0, 20.0), measured_from=True))
    # Along is upward; to the right as seen from behind is to the left on the cloth.
    assert step_on_cloth(cloth, "print", (10.0, 4.0)) == pytest.approx((4.0, -10.0))
    assert step_on_cloth(cloth, "back", (10.0, 4.0)) == pytest.approx((-4.0, -10.0))
    assert line_seen(cloth, "back") == ((370.0, 250.0), (370.0, 20.0))
