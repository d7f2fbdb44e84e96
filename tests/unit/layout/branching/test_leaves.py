"""Places that keep slanted lines: found where there are any, and none where there are not."""

from __future__ import annotations

import numpy as np
from laying import cloth, flaw, piece
from searching import root_of

from coverlayout.layout.branching.leaves import slanted_places
from coverlayout.layout.branching.nodes import Nodes
from coverlayout.layout.branching.settling import settle
from coverlayout.layout.question import Question

ROOF = ((0.0, 0.0), (60.0, 0.0), (0.0, 60.0))


def sloping(width_mm: float, length_mm: float) -> tuple[Nodes, int, np.ndarray]:
    """A piece of 10 x 10 under a roof x + y >= 60, the slanted normal and the bounds."""
    nodes = root_of(Question((piece("a", 10, 10),), (cloth(width_mm, length_mm, keep_outs=(flaw(ROOF),)),)))
    nodes, seen = settle(nodes)
    (normal,) = (k for k, (x, y) in enumerate(nodes.tables.apart.normals.tolist()) if x > 0.1 and y > 0.1)
    return nodes, normal, seen.bounds


def test_the_places_keep_the_line_and_the_ranges() -> None:
    nodes, normal, bounds = sloping(80, 80)
    places = slanted_places(nodes, 0, np.array([0]), np.array([normal]), bounds[[normal], 0, 0])
    assert places is not None
    assert places[0].tolist() == [0.0, 0.0]
    x, y = places[1].tolist()
    assert x + y >= 60 - 1e-5
    assert min(x, y) >= -1e-6
    assert max(x, y) <= 70 + 1e-6


def test_a_line_out_of_reach_has_no_places() -> None:
    # 70 x 70 less the piece leaves x + y <= 120; asked for are 121.
    nodes, normal, _ = sloping(70, 70)
    for least, found in ((119.9, True), (121.0, False)):
        places = slanted_places(nodes, 0, np.array([0]), np.array([normal]), np.array([least]) / np.sqrt(2))
        assert (places is not None) is found


def test_a_line_is_kept_by_half_a_millimetre_where_there_is_room() -> None:
    nodes, normal, bounds = sloping(80, 80)
    nodes.add(0, np.array([0]), 1, 0, -20.0)
    nodes.add(1, np.array([0]), 1, 0, -41.0)
    places = slanted_places(nodes, 0, np.array([0]), np.array([normal]), bounds[[normal], 0, 0])
    assert places is not None
    assert 60 + 0.5 * np.sqrt(2) - 1e-4 <= places[1].sum() <= 61 + 1e-6
