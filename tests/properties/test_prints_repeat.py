"""Whatever the layout and the picture: the repeated tile is the print, and the print repeats by its lattice."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from picture_samples import lopsided

from coverlayout.motif.drawn import colour_at, drawn_tile
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.pixels import halved
from coverlayout.motif.prints import Print
from coverlayout.motif.repeat import lattice_of

layouts = st.sampled_from(["straight", "half-drop", "brick", "drop", "mirrored"])
vectors = st.tuples(st.floats(-300, 300), st.floats(-300, 300))


@given(layouts, st.integers(2, 6), st.integers(1, 4), st.integers(1, 5), st.data())
def test_the_repeated_tile_is_the_print(layout, parts, wide, high, data):
    # Sizes that divide by 2 and by n are drawn without blending; a pixel is 2 mm across and 3 mm along.
    width_px, height_px = 2 * wide, 2 * parts * high
    tile_mm = (2.0 * width_px, 3.0 * height_px)
    print_ = Print("p", "p", lattice_of(layout, tile_mm, parts), layout, parts, tile_mm=tile_mm)
    rgb = lopsided(width_px, height_px)
    tile = drawn_tile(print_, rgb)
    column, row = data.draw(st.tuples(st.integers(-200, 200), st.integers(-200, 200)))
    point_mm = (2.0 * column + 0.9, 3.0 * row + 1.3)
    i, k = (math.floor(v) for v in reversed(tile.to_print.inverse().at(point_mm)))
    shown = tuple(tile.rgb[i % tile.rgb.shape[0], k % tile.rgb.shape[1]])
    assert shown == colour_at(print_, rgb, point_mm)
    step = print_.lattice.point(*data.draw(st.tuples(st.integers(-5, 5), st.integers(-5, 5))))
    assert shown == colour_at(print_, rgb, (point_mm[0] + step[0], point_mm[1] + step[1]))


@given(vectors, vectors, st.integers(-4, 4))
def test_reduction_keeps_the_cell_and_never_lengthens(a, b, times):
    lattice = Lattice(a, (b[0] + times * a[0], b[1] + times * a[1]))
    if lattice.cell_area_mm2 < 1:
        return
    short = lattice.reduced()
    assert math.isclose(short.cell_area_mm2, lattice.cell_area_mm2, rel_tol=1e-6)
    assert math.hypot(*short.a_mm) <= math.hypot(*short.b_mm) * (1 + 1e-9)
    assert math.hypot(*short.a_mm) <= min(math.hypot(*lattice.a_mm), math.hypot(*lattice.b_mm)) * (1 + 1e-9)


@given(st.integers(1, 40), st.integers(1, 40), st.integers(0, 2**16))
def test_halving_stays_between_the_darkest_and_the_lightest(width_px, height_px, seed):
    rgb = lopsided(width_px, height_px, seed)
    small = halved(rgb)
    assert small.shape == ((height_px + 1) // 2, (width_px + 1) // 2, 3)
    assert (small.min((0, 1)) >= rgb.min((0, 1))).all()
    assert (small.max((0, 1)) <= rgb.max((0, 1))).all()
    assert small.dtype == np.uint8
