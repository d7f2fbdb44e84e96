"""The repeating tile against the layout's own rule at many points, with pictures that have no symmetry."""

from __future__ import annotations

import math

import numpy as np
import pytest
from picture_samples import corners, lopsided

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import turn
from coverlayout.motif import drawn
from coverlayout.motif.drawn import colour_at, drawn_tile, plain_tile
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import Print
from coverlayout.motif.repeat import lattice_of

TILE_MM = (64.0, 96.0)


def a_print(layout="straight", parts=2, vectors=None, tile_mm=TILE_MM, up="one-way"):
    return Print("p", "wader", lattice_of(layout, tile_mm, parts, vectors), layout, parts, up, tile_mm=tile_mm)


def repeated(tile, point_mm):
    """The colour a plain rectangular repetition of the tile shows at a point of the print."""
    column, row = tile.to_print.inverse().at(point_mm)
    height_px, width_px = tile.rgb.shape[:2]
    return tuple(int(v) for v in tile.rgb[math.floor(row) % height_px, math.floor(column) % width_px])


def points(count=400, reach_mm=600.0):
    return [tuple(point) for point in np.random.default_rng(3).uniform(-reach_mm, reach_mm, (count, 2))]


def smooth(width_px, height_px, lattice, tile_mm=TILE_MM):
    """A picture of waves that fit the lattice, so that it is the print wherever it is cut out; no symmetry left."""
    x = (np.arange(width_px) + 0.5) / width_px * tile_mm[0]
    y = (np.arange(height_px) + 0.5) / height_px * tile_mm[1]
    return np.round(np.array([[waves(lattice, (px, py)) for px in x] for py in y])).astype(np.uint8)


def waves(lattice, point_mm):
    i, k = lattice.coordinates(point_mm)
    angles = (2 * math.pi * (i + 0.1), 2 * math.pi * (k + 0.3), 2 * math.pi * (i + 2 * k))
    red, green, blue = (128 + 90 * math.sin(angle) for angle in angles)
    return red, green + 20 * math.sin(angles[2]), blue


EXACT = [("straight", 2), ("half-drop", 2), ("half-drop", 3), ("drop", 3), ("drop", 4), ("brick", 2), ("mirrored", 2)]


@pytest.mark.parametrize(("layout", "parts"), EXACT)
def test_the_repeated_tile_is_the_print_at_every_point(layout, parts):
    print_, rgb = a_print(layout, parts), lopsided(32, 48)
    tile = drawn_tile(print_, rgb)
    assert all(repeated(tile, point) == colour_at(print_, rgb, point) for point in points())


@pytest.mark.parametrize(("layout", "parts"), EXACT)
def test_the_print_repeats_by_its_lattice(layout, parts):
    print_, rgb = a_print(layout, parts), lopsided(32, 48)
    steps = [print_.lattice.point(i, k) for i, k in ((1, 0), (0, 1), (-2, 3))]
    for x, y in points(60):
        assert {colour_at(print_, rgb, (x + dx, y + dy)) for dx, dy in steps} == {colour_at(print_, rgb, (x, y))}


def test_half_drop_by_hand():
    # One column to the right everything lies half a height (48 mm) lower: what is at (10, 20) is at (74, 68).
    print_, rgb = a_print("half-drop"), corners(64, 96)
    rgb[20, 10] = (1, 2, 3)
    tile = drawn_tile(print_, rgb)
    assert tile.rgb.shape == (96, 128, 3)
    assert repeated(tile, (10.5, 20.5)) == repeated(tile, (74.5, 68.5)) == (1, 2, 3)
    assert repeated(tile, (74.5, 20.5)) != (1, 2, 3)
    assert colour_at(print_, rgb, (-53.5, -27.5)) == (1, 2, 3)


def test_third_drop_and_brick_by_hand():
    rgb = corners(64, 96)
    rgb[20, 10] = (1, 2, 3)
    tile = drawn_tile(a_print("drop", 3), rgb)
    assert tile.rgb.shape == (96, 192, 3)
    assert repeated(tile, (74.5, 52.5)) == repeated(tile, (138.5, 84.5)) == (1, 2, 3)
    tile = drawn_tile(a_print("brick"), rgb)
    assert tile.rgb.shape == (192, 64, 3)
    assert repeated(tile, (42.5, 116.5)) == (1, 2, 3)


def test_mirrored_by_hand():
    rgb = corners(64, 96)
    rgb[20, 10] = (1, 2, 3)
    tile = drawn_tile(a_print("mirrored"), rgb)
    # Reflected in the right edge: 64 + (64 - 10.5); in the bottom edge: 96 + (96 - 20.5).
    for point in ((10.5, 20.5), (117.5, 20.5), (10.5, 171.5), (117.5, 171.5)):
        assert repeated(tile, point) == (1, 2, 3)


@pytest.mark.parametrize(
    ("layout", "parts", "size_px"), [("half-drop", 2, (64, 97)), ("drop", 3, (64, 95)), ("brick", 2, (63, 96))]
)
def test_a_shift_by_less_than_a_pixel_is_blended(layout, parts, size_px):
    print_ = a_print(layout, parts)
    rgb = smooth(*size_px, Lattice((64.0, 0.0), (0.0, 96.0)))
    tile = drawn_tile(print_, rgb)
    differences = [np.subtract(repeated(tile, point), colour_at(print_, rgb, point)) for point in points()]
    # Half a pixel of the steepest wave, 2 pi * 130 / 64 levels a pixel, and as much for the nearest pixel itself.
    assert np.abs(differences).max() <= 2 * math.pi * 130 / 63


@pytest.mark.parametrize(
    "vectors",
    [
        ((64.0, 48.0), (0.0, 96.0)),
        ((64.0, 0.0), (32.0, 96.0)),
        ((31.0, 9.0), (-7.0, 41.0)),
        ((0.0, 41.0), (31.0, 4.0)),
        ((60.0, 3.0), (-5.0, 90.0)),
    ],
)
def test_vectors_give_the_print_they_span(vectors):
    print_ = a_print("vectors", vectors=vectors)
    rgb = smooth(256, 384, print_.lattice)
    tile = drawn_tile(print_, rgb)
    assert tile.to_print.determinant > 0
    for point in points(200):
        wanted = waves(print_.lattice, point)
        # The steepest wave changes 2 pi * 130 * 3 levels over the shorter vector; a pixel is 0.25 mm.
        assert np.abs(np.subtract(repeated(tile, point), wanted)).max() <= 24
        assert np.abs(np.subtract(colour_at(print_, rgb, point), wanted)).max() <= 24


def test_vectors_over_a_picture_smaller_than_the_cell_wrap_round():
    print_ = a_print("vectors", vectors=((200.0, 0.0), (0.0, 300.0)))
    rgb = corners(64, 96)
    assert repeated(drawn_tile(print_, rgb), (130.0, 200.0)) == colour_at(print_, rgb, (130.0, 200.0))


def test_one_vector_makes_stripes_across_it():
    print_ = a_print("vectors", vectors=((24.0, 10.0),))
    # Levels that depend only on the share of the step, 26 mm along (12, 5) / 13.
    x, y = np.meshgrid((np.arange(256) + 0.5) / 4, (np.arange(384) + 0.5) / 4)
    level = 128 + 100 * np.sin(2 * np.pi * (x * 12 + y * 5) / 13 / 26)
    rgb = np.round(np.repeat(level[..., None], 3, axis=2)).astype(np.uint8)
    tile = drawn_tile(print_, rgb)
    assert tile.rgb.shape[0] == tile.rgb.shape[1]
    for px, py in points(200):
        wanted = 128 + 100 * math.sin(2 * math.pi * (px * 12 + py * 5) / 13 / 26)
        assert abs(repeated(tile, (px, py))[0] - wanted) <= 6
        assert abs(colour_at(print_, rgb, (px, py))[0] - wanted) <= 12


def test_a_picture_without_a_printed_size_is_refused():
    print_ = Print("p", "wave.png", Lattice((10.0, 0.0), (0.0, 10.0)))
    for ask in (lambda: drawn_tile(print_, corners()), lambda: colour_at(print_, corners(), (0.0, 0.0))):
        with pytest.raises(BadInput, match=r"wave\.png: the picture of this print has no printed size"):
            ask()


def test_a_tile_that_would_grow_too_large_is_drawn_from_a_halved_picture(monkeypatch):
    monkeypatch.setattr(drawn, "_MOST_PX", 4000)
    tile = drawn_tile(a_print("half-drop"), corners(64, 96))
    assert tile.rgb.shape == (48, 64, 3)
    assert tile.to_print.at((64.0, 48.0)) == (128.0, 96.0)


SHEARED = Lattice((50.0, 12.0), (-7.0, 41.0))
GROUND, MARK = (244, 240, 232), (188, 178, 160)


@pytest.mark.parametrize("up", ["one-way", "two-way", "any"])
def test_a_print_without_a_picture_shows_one_mark_a_cell(up):
    print_ = Print("p", "plain", SHEARED, "vectors", up=up)
    tile = plain_tile(print_)
    middle = (50.0 - 7.0) / 2, (12.0 + 41.0) / 2
    for i, k in ((0, 0), (3, -2), (-1, 5)):
        step_x, step_y = SHEARED.point(i, k)
        assert repeated(tile, (middle[0] + step_x, middle[1] + step_y)) == MARK
        assert repeated(tile, (step_x + 0.5, step_y + 0.5)) == GROUND
    share = (tile.rgb[..., 0] < 220).mean()
    assert 0.01 < share < 0.1


def _marked(up, turn_deg):
    """Which points about the mark's middle are inked, after turning the print about it."""
    tile = plain_tile(Print("p", "plain", SHEARED, "vectors", up=up))
    offsets = [turn(turn_deg).at((x, y)) for x in np.arange(-7.9, 8) for y in np.arange(-7.9, 8)]
    return [repeated(tile, (21.5 + x, 26.5 + y))[0] < 216 for x, y in offsets]


def test_the_mark_shows_which_ways_the_print_may_stand():
    def alike(up, turn_deg):
        return np.mean(np.array(_marked(up, 0)) == np.array(_marked(up, turn_deg)))

    assert alike("one-way", 180) < 0.9
    assert alike("two-way", 180) > 0.97
    assert alike("two-way", 90) < 0.95
    assert alike("any", 90) > 0.97


def test_stripes_without_a_picture_show_a_band_a_step():
    tile = plain_tile(Print("p", "plain", Lattice((12.0, 5.0)), "vectors"))
    for along in (0.0, 2.5, -31.0):
        # The band lies half a step from the origin, along (-5, 12) / 13.
        point = (6.0 - 5.0 * along, 2.5 + 12.0 * along)
        assert repeated(tile, point) == repeated(tile, (point[0] + 24.0, point[1] + 10.0)) == MARK
        assert repeated(tile, (-5.0 * along, 12.0 * along)) == GROUND
