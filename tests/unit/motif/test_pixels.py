"""Pixels: upright, sRGB, over the ground; halving in linear light against sums written here."""

from __future__ import annotations

import io

import numpy as np
import pytest
from picture_samples import BLUE, GOLD, GREEN, RED, corners, encoded, exif_with, lopsided
from PIL import Image, ImageOps

from coverlayout.errors import BadInput
from coverlayout.motif.pixels import halved, pixels


def _light(level):
    """Linear light of sRGB levels, 0 to 1 (IEC 61966-2-1, written out again on purpose)."""
    share = np.asarray(level, float) / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def _level(light):
    light = np.asarray(light, float)
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055) * 255


@pytest.mark.parametrize("pillow", ["PNG", "TIFF", "BMP", "GIF"])
def test_pixels_come_back_as_they_were_drawn(pillow):
    assert np.array_equal(pixels(encoded(corners(), pillow)), corners())


@pytest.mark.parametrize(("pillow", "options"), [("JPEG", {"quality": 95}), ("WEBP", {"lossless": True})])
def test_pixels_of_packed_kinds_come_back_nearly(pillow, options):
    back = pixels(encoded(corners(), pillow, **options)).astype(int)
    assert np.abs(back[4:8, 4:16] - RED).max() <= 3
    assert np.abs(back[16:20, 24:36] - GOLD).max() <= 3


def _upright(orientation):
    """The four quarter colours of the upright picture, row by row. Source: EXIF 2.32, tag 274."""
    return {
        1: (RED, GREEN, BLUE, GOLD),
        2: (GREEN, RED, GOLD, BLUE),
        3: (GOLD, BLUE, GREEN, RED),
        4: (BLUE, GOLD, RED, GREEN),
        5: (RED, BLUE, GREEN, GOLD),
        6: (BLUE, RED, GOLD, GREEN),
        7: (GOLD, GREEN, BLUE, RED),
        8: (GREEN, GOLD, RED, BLUE),
    }[orientation]


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("pillow", ["PNG", "TIFF", "JPEG", "WEBP"])
def test_all_orientations_come_out_upright(pillow, orientation):
    options = {"JPEG": {"quality": 95}, "WEBP": {"lossless": True}}.get(pillow, {})
    rgb = pixels(encoded(corners(48, 32), pillow, exif=exif_with(orientation=orientation), **options)).astype(int)
    height_px, width_px = rgb.shape[:2]
    assert (width_px, height_px) == ((32, 48) if orientation >= 5 else (48, 32))
    rows, columns = (height_px // 4, height_px * 3 // 4), (width_px // 4, width_px * 3 // 4)
    found = [rgb[row, column] for row in rows for column in columns]
    assert np.abs(np.array(found) - np.array(_upright(orientation))).max() <= 4


@pytest.mark.parametrize("orientation", range(1, 9))
def test_orientations_agree_with_an_independent_reader(orientation):
    data = encoded(lopsided(13, 7), "PNG", exif=exif_with(orientation=orientation))
    image = Image.open(io.BytesIO(data))
    assert np.array_equal(pixels(data), np.asarray(ImageOps.exif_transpose(image)))


@pytest.mark.parametrize(("width_px", "height_px"), [(8, 6), (200, 250), (2, 2)])
def test_halving_even_sides_is_the_mean_of_four_lights(width_px, height_px):
    rgb = lopsided(width_px, height_px)
    light = _light(rgb)
    mean = (light[0::2, 0::2] + light[0::2, 1::2] + light[1::2, 0::2] + light[1::2, 1::2]) / 4
    assert np.abs(halved(rgb) - _level(mean)).max() <= 1.0


def _shares(count):
    """Row j: how much of each of `count` pixels lies in the j-th of (count + 1) // 2 equal stretches."""
    kept = (count + 1) // 2
    edges = np.arange(kept + 1) * count / kept
    starts = np.arange(count)
    overlap = np.minimum(edges[1:, None], starts + 1) - np.maximum(edges[:-1, None], starts)
    return np.clip(overlap, 0, None) * kept / count


@pytest.mark.parametrize(("width_px", "height_px"), [(7, 5), (301, 203), (300, 203), (301, 200), (1, 9), (9, 1)])
def test_halving_odd_sides_is_the_mean_over_equal_stretches(width_px, height_px):
    rgb = lopsided(width_px, height_px)
    rows = np.einsum("jr,rcx->jcx", _shares(height_px), _light(rgb))
    exact = np.einsum("kc,jcx->jkx", _shares(width_px), rows)
    small = halved(rgb)
    assert small.shape == ((height_px + 1) // 2, (width_px + 1) // 2, 3)
    assert np.abs(small - _level(exact)).max() <= 1.0


def test_one_pixel_stays():
    assert halved(np.full((1, 1, 3), 77, np.uint8)).tolist() == [[[77, 77, 77]]]


def test_flat_colours_stay_what_they_are():
    for level in range(256):
        assert (halved(np.full((3, 4, 3), level, np.uint8)) == level).all()
        assert (halved(np.full((2, 2, 3), level, np.uint8)) == level).all()


@pytest.mark.parametrize(("width_px", "height_px"), [(300, 200), (301, 203)])
def test_a_reduced_picture_is_the_whole_one_halved(width_px, height_px):
    rgb = lopsided(width_px, height_px)
    data = encoded(rgb, "PNG")
    assert np.array_equal(pixels(data, longest_px=160), halved(rgb))
    assert np.array_equal(pixels(data, longest_px=100), halved(halved(rgb)))
    assert np.array_equal(pixels(data, longest_px=1000), rgb)
    assert pixels(data, longest_px=1).shape == (1, 1, 3)


def test_a_quick_look_lets_jpeg_decode_small():
    check = np.indices((640, 960)).sum(0) % 2 * 255
    data = encoded(np.repeat(check[..., None], 3, axis=2).astype(np.uint8), "JPEG", quality=95)
    quick = pixels(data, longest_px=120, quick=True)
    assert quick.shape == (80, 120, 3)
    # Encoded levels averaged: 127 where light says 188.
    assert quick.mean() == pytest.approx(127, abs=3)
    assert pixels(data, longest_px=120).mean() == pytest.approx(188, abs=4)


def test_a_quick_look_of_other_sizes_and_kinds_is_like_any_other():
    rgb = corners(640, 400)
    assert np.array_equal(
        pixels(encoded(rgb, "PNG"), longest_px=200, quick=True), pixels(encoded(rgb, "PNG"), longest_px=200)
    )
    assert pixels(encoded(rgb, "JPEG"), longest_px=800, quick=True).shape == (400, 640, 3)
    assert pixels(encoded(rgb, "JPEG"), quick=True).shape == (400, 640, 3)
    assert pixels(encoded(rgb, "JPEG"), longest_px=159, quick=True).shape[1] <= 159


def test_damage_met_in_decoding_is_one_sentence():
    data = bytearray(encoded(lopsided(60, 60), "PNG"))
    middle = data.index(b"IDAT") + 40
    data[middle : middle + 60] = bytes(60)
    with pytest.raises(BadInput) as fault:
        pixels(bytes(data), name="wave.png")
    assert fault.value.code == "picture-damaged"
    with pytest.raises(BadInput, match=r"wave\.gif"):
        pixels(b"GIF89a", name="wave.gif")
