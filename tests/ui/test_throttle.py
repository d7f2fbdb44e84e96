"""The first call goes through at once, the last is never lost."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from coverlayout.ui.throttle import Throttle


def test_the_first_call_goes_through_at_once_and_the_last_is_not_lost(qtbot: QtBot) -> None:
    calls: list[int] = []
    newest = [0]
    throttle = Throttle(lambda: calls.append(newest[0]), 30)
    for number in range(10):
        newest[0] = number
        throttle()
    assert calls == [0]
    assert throttle.waiting
    qtbot.waitUntil(lambda: len(calls) == 2)
    assert calls == [0, 9]
    qtbot.waitUntil(lambda: not throttle._timer.isActive())
    throttle()
    assert len(calls) == 3


def test_a_quiet_throttle_waits_even_with_the_first_call(qtbot: QtBot) -> None:
    calls: list[str] = []
    throttle = Throttle(lambda: calls.append("now"), 20, at_once=False)
    throttle()
    throttle()
    assert calls == []
    qtbot.waitUntil(lambda: calls == ["now"])
    assert not throttle.waiting


def test_flush_does_it_now_and_cancel_forgets_it(qtbot: QtBot) -> None:
    calls: list[str] = []
    throttle = Throttle(lambda: calls.append("now"), 60_000)
    throttle()
    throttle()
    throttle.flush()
    assert calls == ["now", "now"]
    throttle.flush()
    assert calls == ["now", "now"]
    throttle()
    throttle.cancel()
    assert not throttle.waiting
    throttle.flush()
    assert len(calls) == 2
