"""Pieces rise as far as those above them leave room, and no farther."""

from __future__ import annotations

import pytest

from coverlayout.geometry.shapes import Box
from coverlayout.layout.strips.pushing import pushed_up


def test_each_rises_to_the_one_above_it_or_to_the_edge() -> None:
    # b below a, c below nothing but the edge, d below both a and c: it stops at the lower of them.
    a, b = Box(0.0, 12.0, 30.0, 20.0), Box(5.0, 50.0, 10.0, 10.0)
    c, d = Box(40.0, 3.0, 10.0, 35.0), Box(20.0, 90.0, 25.0, 5.0)
    assert pushed_up([a, b, c, d], top_mm=2.0, gap_mm=0.0) == pytest.approx([10.0, 28.0, 1.0, 53.0])


def test_the_gap_is_kept_below_and_counts_for_what_stands_beside() -> None:
    above, below = Box(0.0, 0.0, 30.0, 20.0), Box(31.5, 60.0, 10.0, 10.0)
    assert pushed_up([above, below], top_mm=0.0, gap_mm=0.0) == [0.0, 60.0]
    # 1.5 mm aside is nearer than a gap of 2 mm: it must stay as far below.
    assert pushed_up([above, below], top_mm=0.0, gap_mm=2.0) == [0.0, 38.0]


def test_nothing_sinks_and_nothing_is_no_trouble() -> None:
    assert pushed_up([], top_mm=0.0, gap_mm=1.0) == []
    # Nearer to each other than the gap already: they stay.
    assert pushed_up([Box(0, 0, 10, 10), Box(0, 10.5, 10, 10)], top_mm=0.0, gap_mm=1.0) == [0.0, 0.0]
