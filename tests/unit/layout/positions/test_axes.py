"""Systems of differences: longest paths, contradictions, and the exact largest room."""

from __future__ import annotations

import math

import numpy as np
import pytest

from coverlayout.layout.positions.axes import Arc, add_arc, largest_room, longest_paths


def row(widths: list[float], length: float) -> list[Arc]:
    """Pieces in a row between two edges, the room between all: n + 1 rooms."""
    arcs = [Arc(0, 1, 0.0, 1.0)]
    arcs += [Arc(k, k + 1, width, 1.0) for k, width in enumerate(widths[:-1], start=1)]
    return [*arcs, Arc(len(widths), 0, widths[-1] - length, 1.0)]


def test_places_follow_from_the_paths() -> None:
    paths = longest_paths(4, row([10.0, 20.0, 30.0], 100.0), 4.0)
    assert paths is not None
    assert paths[0].tolist() == [0.0, 4.0, 18.0, 42.0]
    # The latest: from the far edge back.
    assert (-paths[:, 0]).tolist() == [0.0, 28.0, 42.0, 66.0]


def test_arcs_that_contradict_each_other_have_no_paths() -> None:
    assert longest_paths(4, row([10.0, 20.0, 30.0], 100.0), 10.1) is None
    assert longest_paths(4, row([10.0, 20.0, 30.0], 100.0), 10.0) is not None


def test_an_arc_that_is_met_already_changes_nothing() -> None:
    paths = longest_paths(3, [Arc(0, 1, 5.0), Arc(1, 2, 5.0)], 0.0)
    assert paths is not None
    before = paths.copy()
    assert add_arc(paths, 0, 2, 10.0)
    assert np.array_equal(paths, before)
    assert add_arc(paths, 0, 2, 12.0)
    assert paths[0, 2] == 12.0
    assert not add_arc(paths, 2, 0, -11.0)


def test_the_largest_room_is_exact() -> None:
    assert largest_room(4, row([10.0, 20.0, 30.0], 100.0), 1e6) == 10.0
    # Whole multiples of the room: 2 rooms across one piece, and half a room where a corner leans.
    leaning = [Arc(0, 1, 0.0, 1.0), Arc(1, 2, 10.0, 0.5), Arc(2, 0, -30.0, 1.0)]
    assert largest_room(3, leaning, 1e6) == pytest.approx(8.0)


def test_the_tightest_of_several_circles_decides() -> None:
    arcs = [*row([10.0, 20.0, 30.0], 100.0), Arc(1, 3, 50.0, 3.0), Arc(3, 1, -59.0)]
    assert largest_room(4, arcs, 1e6) == pytest.approx(3.0)


def test_room_is_at_most_what_is_said() -> None:
    assert largest_room(4, row([10.0, 20.0, 30.0], 100.0), 7.5) == 7.5


def test_no_room_at_all_where_the_arcs_never_agree() -> None:
    assert largest_room(2, [Arc(0, 1, 5.0), Arc(1, 0, -4.0)], 10.0) == -math.inf


def test_room_may_be_negative_where_pieces_are_too_wide() -> None:
    assert largest_room(4, row([40.0, 40.0, 40.0], 100.0), 10.0) == pytest.approx(-5.0)
