"""The limit of seconds, and names told in place of ids."""

from __future__ import annotations

import time

import pytest

from coverlayout.app.flags import Given
from coverlayout.app.sizing.limits import renamed, watch_of
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.question import never


def test_without_seconds_nothing_ends_a_search() -> None:
    assert watch_of(Given("a.coverlayout")) is never


def test_seconds_end_it() -> None:
    watch = watch_of(Given("a.coverlayout", {"--seconds": ("0.02",)}))
    assert not watch(0.5)
    time.sleep(0.03)
    assert watch(0.5)


def test_seconds_that_are_none_are_refused() -> None:
    with pytest.raises(BadInput, match="--seconds"):
        watch_of(Given("a.coverlayout", {"--seconds": ("soon",)}))


def test_every_piece_a_remark_names_is_called_anew() -> None:
    remark = Remark.of("lay-head-down", pieces="front-1, label", count=2)
    told = renamed(remark, {"front-1": "front-1-1"})
    assert told == Remark.of("lay-head-down", pieces="front-1-1, label", count=2)
