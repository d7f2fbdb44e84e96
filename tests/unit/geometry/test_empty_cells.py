"""Cells between lines: which are empty, and the boxes of them that cannot grow."""

from __future__ import annotations

import numpy as np
import pytest
from samples import L_SHAPE

from coverlayout.geometry.empty.cells import Edges, edges_of, maximal_boxes, without
from coverlayout.geometry.shapes import Region, rectangle


def rows(boxes: np.ndarray) -> list[list[float]]:
    return sorted(boxes.tolist())


def test_edges_of_a_region_are_those_of_its_outlines_and_holes() -> None:
    edges = edges_of(Region.of(rectangle(20.0, 10.0), [((5.0, 5.0), (8.0, 5.0), (8.0, 7.0))]))
    assert len(edges.start) == 7
    assert edges.slanted.sum() == 1
    assert len(edges.with_box(1.0, 2.0, 3.0, 4.0).start) == 11
    assert edges.with_box(1.0, 2.0, 3.0, 4.0).end[-1].tolist() == [1.0, 2.0]
    assert not len(edges_of(Region.nothing()).start)
    assert not len(Edges.of_rings([((0.0, 0.0), (1.0, 1.0))]).start)


def test_upright_boxes_are_exact() -> None:
    boxes, off_mm = maximal_boxes(edges_of(Region.of(L_SHAPE)), 10.0)
    assert off_mm == 0.0
    assert rows(boxes) == [[0.0, 0.0, 20.0, 100.0], [0.0, 75.0, 60.0, 100.0]]


def test_no_edges_no_boxes() -> None:
    boxes, off_mm = maximal_boxes(edges_of(Region.nothing()), 10.0)
    assert (boxes.shape, off_mm) == ((0, 4), 0.0)


def test_no_box_reaches_over_a_slanted_edge_and_the_step_says_how_far_it_may_stop_short() -> None:
    boxes, step_mm = maximal_boxes(edges_of(Region.of(((0.0, 0.0), (90.0, 0.0), (0.0, 30.0)))), 5.0)
    assert step_mm > 0
    # On the slope x / 90 + y / 30 = 1; the lower right corner must be on the near side, and not far from it.
    reach = boxes[:, 2] / 90 + boxes[:, 3] / 30
    assert len(boxes) > 5
    assert (reach <= 1 + 1e-9).all()
    assert (boxes[:, :2] == 0).all()
    grown = (boxes[:, 2] + step_mm) / 90 + (boxes[:, 3] + step_mm) / 30
    assert (grown >= 1 - 1e-9).all()


@pytest.mark.parametrize("size_mm", [50.0, 900.0, 90_000.0])
def test_the_grid_stays_small_however_long_the_slanted_edges_are(size_mm: float) -> None:
    triangle = Region.of(((0.0, 0.0), (size_mm, 0.0), (0.0, size_mm / 2)))
    _, step_mm = maximal_boxes(edges_of(triangle), 5.0)
    assert size_mm / step_mm <= 110


def test_taking_a_box_leaves_up_to_four_parts_of_those_it_meets() -> None:
    boxes = np.array([[0.0, 0.0, 100.0, 60.0], [200.0, 0.0, 230.0, 60.0]])
    left = without(boxes, np.array([30.0, 20.0, 70.0, 45.0]), 10.0)
    assert rows(left) == [
        [0.0, 0.0, 30.0, 60.0],
        [0.0, 0.0, 100.0, 20.0],
        [0.0, 45.0, 100.0, 60.0],
        [70.0, 0.0, 100.0, 60.0],
        [200.0, 0.0, 230.0, 60.0],
    ]


def test_taking_a_box_that_touches_changes_nothing_and_slim_parts_go() -> None:
    boxes = np.array([[0.0, 0.0, 100.0, 60.0]])
    assert rows(without(boxes, np.array([100.0, 0.0, 120.0, 60.0]), 10.0)) == boxes.tolist()
    assert rows(without(boxes, np.array([0.0, 0.0, 95.0, 60.0]), 10.0)) == []
