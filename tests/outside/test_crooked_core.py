"""The crooked core case: covers and liners that follow a print turned on a 12 x 12 in swatch.

Source of the figures 2.75 and 2.11: a linear program outside the project; crooked_core.py is another one.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from crooked_core import crooked_core, roomiest

from coverlayout.document.questions import judge_for, placed_now


@pytest.mark.parametrize(("turn_deg", "room_mm"), [(2.0, 2.75), (3.0, 2.11)])
def test_the_room_of_the_crooked_core_is_judged_as_worked_out_outside(turn_deg, room_mm):
    found_mm, placed, _ = roomiest(turn_deg)
    assert found_mm == pytest.approx(room_mm, abs=0.005)
    project = crooked_core(turn_deg, placed)
    report = judge_for(project).report(placed_now(project))
    assert report.verdict == "valid, tight"
    assert report.waiting == ()
    assert report.clearance_mm == pytest.approx(found_mm, abs=0.01)
    assert report.clearance_mm == pytest.approx(room_mm, abs=0.01)


@pytest.mark.parametrize("turn_deg", [2.0, 3.0, -2.0])
def test_it_is_valid_only_while_it_follows_the_print(turn_deg):
    _, placed, _ = roomiest(abs(turn_deg))
    project = crooked_core(turn_deg, placed)
    verdict = judge_for(project).report(placed).verdict
    assert verdict == ("valid, tight" if turn_deg > 0 else "not valid")
    upright = tuple(replace(each, turn_deg=each.turn_deg - turn_deg) for each in placed)
    rules = {breach.rule for breach in judge_for(project).report(upright).breaches}
    assert "turn" in rules


def test_more_room_than_that_is_not_to_be_had_by_moving_one_piece():
    found_mm, placed, _ = roomiest(2.0)
    judge = judge_for(crooked_core(2.0, placed))
    for at, each in enumerate(placed):
        for dx, dy in ((0.3, 0.0), (-0.3, 0.0), (0.0, 0.3), (0.0, -0.3)):
            moved = replace(each, x_mm=each.x_mm + dx, y_mm=each.y_mm + dy)
            report = judge.report((*placed[:at], moved, *placed[at + 1 :]))
            assert report.clearance_mm is not None
            assert report.clearance_mm <= found_mm + 0.01


def test_with_the_print_straight_the_room_is_the_known_four_millimetres():
    # 182.4 + 108.3 leave 14.1 of 304.8, in three gaps 4.7; 2 x 146.4 leave 12, in three gaps 4.
    found_mm, placed, _ = roomiest(0.0)
    assert found_mm == pytest.approx(4.0)
    project = crooked_core(0.0, placed)
    assert judge_for(project).report(placed).clearance_mm == pytest.approx(4.0)
