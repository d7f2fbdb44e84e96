"""Differences on one axis: what follows from them, what they rule out, and copies that go their own way."""

from __future__ import annotations

import random

from coverlayout.layout.rechecks.differences import Differences


def test_what_follows_from_two_differences() -> None:
    apart = Differences(4)
    assert apart.add(0, 1, 5)
    assert apart.add(1, 2, 4)
    assert apart.least(0, 2) == 9
    assert apart.may(2, 0, -9)
    assert not apart.may(2, 0, -8)
    assert not apart.add(2, 0, -8)
    # A weaker difference changes nothing.
    assert apart.add(0, 2, 3)
    assert apart.least(0, 2) == 9
    assert apart.least(0, 3) < -1_000_000


def test_a_copy_goes_its_own_way() -> None:
    first = Differences(2)
    first.add(0, 1, 5)
    other = first.copy()
    other.add(0, 1, 8)
    assert (first.least(0, 1), other.least(0, 1)) == (5, 8)


def test_against_longest_ways_worked_out_from_scratch() -> None:
    rng = random.Random(5)
    for _ in range(200):
        apart, arcs = Differences(5), list[tuple[int, int, int]]()
        for _ in range(12):
            u, v = rng.sample(range(5), 2)
            least = rng.randint(-20, 9)
            held = apart.add(u, v, least)
            assert held == (longest([*arcs, (u, v, least)]) is not None)
            arcs += [(u, v, least)] if held else []
        ways = longest(arcs)
        assert ways is not None
        assert all(apart.least(u, v) == ways[u, v] for u, v in ways)


def longest(arcs: list[tuple[int, int, int]]) -> dict[tuple[int, int], int] | None:
    """The longest way between every two of five places, round after round; None when a circle grows for ever."""
    found: dict[tuple[int, int], int] = {(u, u): 0 for u in range(5)}
    for _ in range(6):
        grown = dict(found)
        for (start, end), far in found.items():
            for u, v, least in arcs:
                if u == end and far + least > grown.get((start, v), far + least - 1):
                    grown[start, v] = far + least
        if grown == found:
            return found
        found = grown
    return None
