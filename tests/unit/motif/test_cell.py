"""One cell of a lattice: its shortest vectors, the places its colours come from."""

from __future__ import annotations

import math

import numpy as np
import pytest

from coverlayout.geometry.frames import Affine
from coverlayout.motif.cell import between, into_picture, middles_mm, two_vectors
from coverlayout.motif.lattice import Lattice


def test_two_short_vectors_clockwise():
    a, b = two_vectors(Lattice((50.0, 12.0), (43.0, 53.0)))
    assert a[0] * b[1] - a[1] * b[0] == pytest.approx(50 * 53 - 12 * 43)
    assert sorted((math.hypot(*a), math.hypot(*b))) == pytest.approx([math.hypot(7, 41), math.hypot(50, 12)])


def test_stripes_get_a_square():
    assert two_vectors(Lattice((12.0, 5.0))) == ((12.0, 5.0), (-5.0, 12.0))


def test_middles_of_pixels():
    x, y = middles_mm(Affine(2.0, 0.5, 0.0, 3.0, 10.0, 20.0), 2, 1)
    assert x.tolist() == [[10.0 + 1.0 + 0.25, 10.0 + 3.0 + 0.25]]
    assert y.tolist() == [[20.0 + 1.5, 20.0 + 1.5]]


def test_places_are_the_same_up_to_the_lattice_and_lie_in_the_picture():
    lattice, random = Lattice((31.0, 9.0), (-7.0, 41.0)), np.random.default_rng(5)
    x, y = random.uniform(-500, 500, (2, 300))
    at_x, at_y = into_picture(lattice, (64.0, 96.0), x, y)
    assert ((at_x >= 0) & (at_x <= 64) & (at_y >= 0) & (at_y <= 96)).all()
    assert max(lattice.off_mm((dx, dy)) for dx, dy in zip(at_x - x, at_y - y, strict=True)) < 1e-9


def test_places_of_stripes_move_only_along_them_and_by_whole_steps():
    x, y = np.random.default_rng(6).uniform(-200, 200, (2, 100))
    at_x, at_y = into_picture(Lattice((12.0, 5.0)), (64.0, 96.0), x, y)
    steps = ((at_x - x) * 12 + (at_y - y) * 5) / 169
    assert np.abs(steps - np.round(steps)).max() < 1e-9


def test_colours_between_pixels():
    rgb = np.array([[[0] * 3, [100] * 3], [[40] * 3, [140] * 3]], np.uint8)
    column, row = np.array([0.5, 1.0, 1.5, 0.0, 9.0, 1.0]), np.array([0.5, 0.5, 1.5, 0.0, 9.0, 1.0])
    assert between(rgb, column, row)[:, 0].tolist() == [0, 50, 140, 0, 140, 70]
