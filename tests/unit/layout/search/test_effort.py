"""Steps bound a search the same everywhere; the clock and the watch only cut it short."""

from __future__ import annotations

import pytest

from coverlayout.layout.search import effort as effort_module
from coverlayout.layout.search.effort import CutShort, Effort, OutOfSteps


class Clock:
    def __init__(self) -> None:
        self.now_s = 100.0

    def __call__(self) -> float:
        return self.now_s


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    clock = Clock()
    monkeypatch.setattr(effort_module.time, "monotonic", clock)
    return clock


def test_steps_are_counted_and_run_out() -> None:
    effort = Effort(10)
    effort.spend(10)
    assert effort.left == 0
    with pytest.raises(OutOfSteps):
        effort.spend()


def test_a_part_ends_quietly_and_what_is_left_can_still_be_spent() -> None:
    effort = Effort(100)
    reached = []
    with effort.part(30):
        effort.spend(30)
        reached.append("full")
        effort.spend(1)
        reached.append("beyond")
    assert reached == ["full"]
    assert effort.left == 69
    with effort.part(1000):
        assert effort.left == 69


def test_parts_within_parts_keep_to_the_outer_one() -> None:
    effort = Effort(100)
    with effort.part(20), effort.part(50):
        effort.spend(21)
        raise AssertionError("not reached")
    assert effort.left == 79


def test_no_steps_still_allow_one() -> None:
    effort = Effort(0)
    effort.spend()
    with pytest.raises(OutOfSteps):
        effort.spend()


def test_seconds_cut_short_and_a_part_does_not_hide_it(clock: Clock) -> None:
    effort = Effort(10**6, seconds=2.0)
    clock.now_s += 1.9
    effort.spend()
    clock.now_s += 0.2
    with pytest.raises(CutShort), effort.part(10):
        effort.spend()


def test_the_watch_is_asked_often_enough_with_the_share_done(clock: Clock) -> None:
    shares: list[float] = []
    effort = Effort(100, watch=lambda share: shares.append(share) or len(shares) == 4)  # type: ignore[func-returns-value]  # append gives None on purpose
    for _ in range(4):
        clock.now_s += 0.004
        effort.spend(5)
    assert shares == [0.1, 0.2]
    clock.now_s += 0.015
    effort.spend(5)
    clock.now_s += 0.02
    with pytest.raises(CutShort):
        effort.spend(200)
    assert shares == [0.1, 0.2, 0.25, 1.0]
