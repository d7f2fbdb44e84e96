"""Which resolution can be trusted, and what two fields that disagree are worth."""

from __future__ import annotations

import math

import pytest
from picture_samples import corners, encoded, exif_with, hand_jpeg_density, hand_png, hand_tiff

from coverlayout.motif.picture.decoder import open_image
from coverlayout.motif.picture.resolution import Resolution, resolution_of, usable_dpi


def resolution(data, kind, *, sideways=False):
    return resolution_of(open_image(data, "x"), kind, sideways=sideways)


@pytest.mark.parametrize("dpi", [0.0, 1.0, 0.5, -300.0, 72.0, 72.009, 96.0, 96.01, 96.012, math.nan, math.inf])
def test_fillers_are_not_usable(dpi):
    assert not usable_dpi(dpi)


@pytest.mark.parametrize("dpi", [299.9994, 300.0, 150.0124, 98.0, 71.12, 204.0, 5.0])
def test_real_figures_are_usable(dpi):
    assert usable_dpi(dpi)


def test_size_in_mm_needs_a_known_resolution():
    assert Resolution(300.0, 150.0, known=True).size_mm(300, 300) == (25.4, 50.8)
    assert Resolution(300.0, 150.0).size_mm(300, 300) is None
    assert Resolution(known=True).size_mm(300, 300) is None


def test_across_and_along_are_kept_apart_and_swapped_when_sideways():
    data = hand_jpeg_density(encoded(corners(), "JPEG"), 1, 204, 98)
    assert resolution(data, "jpg") == Resolution(204.0, 98.0, known=True)
    assert resolution(data, "jpg", sideways=True) == Resolution(98.0, 204.0, known=True)


def test_one_filler_of_the_two_spoils_both():
    assert not resolution(hand_jpeg_density(encoded(corners(), "JPEG"), 1, 300, 72), "jpg").known


@pytest.mark.parametrize("unit", [0, 3])
def test_jpeg_density_without_a_unit_says_nothing(unit):
    assert resolution(hand_jpeg_density(encoded(corners(), "JPEG"), unit, 300, 300), "jpg") == Resolution()


def test_jpeg_density_in_centimetres():
    found = resolution(hand_jpeg_density(encoded(corners(), "JPEG"), 2, 120, 118), "jpg")
    assert (found.x_dpi, found.y_dpi) == pytest.approx((304.8, 299.72))
    assert found.known


def _jpeg(jfif, exif):
    data = encoded(corners(), "JPEG", exif=exif_with(**exif))
    return resolution(hand_jpeg_density(data, *jfif), "jpg")


def test_jfif_and_exif_that_agree_are_believed():
    assert _jpeg((1, 300, 300), {"x_dpi": 300.0, "y_dpi": 300.0, "unit": 2}).known
    # Whole dots per centimetre: 118 a cm are 299.72 dpi.
    assert _jpeg((2, 118, 118), {"x_dpi": 300.0, "y_dpi": 300.0, "unit": 2}).known


@pytest.mark.parametrize("jfif", [(1, 300, 300), (1, 72, 72)])
def test_jfif_and_exif_that_disagree_are_not(jfif):
    found = _jpeg(jfif, {"x_dpi": 240.0, "y_dpi": 240.0, "unit": 2})
    assert found.disagree
    assert not found.known


def test_exif_alone_is_believed_where_it_is_no_filler():
    assert _jpeg((0, 1, 1), {"x_dpi": 240.0, "y_dpi": 240.0, "unit": 2}) == Resolution(240.0, 240.0, known=True)
    assert _jpeg((0, 1, 1), {"x_dpi": 100.0, "y_dpi": 50.0, "unit": 3}) == Resolution(254.0, 127.0, known=True)
    assert not _jpeg((0, 1, 1), {"x_dpi": 72.0, "y_dpi": 72.0, "unit": 2}).known
    assert _jpeg((0, 1, 1), {"x_dpi": 240.0, "y_dpi": 240.0, "unit": 1}) == Resolution()
    assert _jpeg((0, 1, 1), {"x_dpi": 240.0}) == Resolution()


def test_exif_is_the_only_word_of_webp():
    data = encoded(corners(), "WEBP", exif=exif_with(x_dpi=300.0, y_dpi=200.0, unit=2))
    assert resolution(data, "webp") == Resolution(300.0, 200.0, known=True)
    assert resolution(encoded(corners(), "WEBP"), "webp") == Resolution()
    assert resolution(encoded(corners(), "GIF"), "gif") == Resolution()


def test_png_without_a_unit_says_nothing():
    assert resolution(hand_png(4, 4, phys=(2, 1, 0)), "png") == Resolution()
    assert resolution(hand_png(4, 4), "png") == Resolution()


@pytest.mark.parametrize(
    ("x", "unit", "expected"),
    [
        ((300, 1), 2, Resolution(300.0, 300.0, known=True)),
        ((300, 1), None, Resolution(300.0, 300.0, known=True)),
        ((300, 1), 1, Resolution()),
        ((300, 1), 7, Resolution()),
        ((0, 0), 2, Resolution()),
        ((300, 0), 2, Resolution()),
        ((1, 1), 2, Resolution()),
        (None, 2, Resolution()),
    ],
)
def test_tiff_fields(x, unit, expected):
    assert resolution(hand_tiff(4, 4, x=x, y=x, unit=unit), "tif") == expected


def test_tiff_fields_that_are_text_say_nothing():
    data = hand_tiff(4, 4, x=(300, 1), y=(300, 1), unit=2)
    # Field type 2 is text: four bytes of it stand in the place of the fraction's address.
    at = data.rindex((282).to_bytes(2, "little") + (5).to_bytes(2, "little"))
    spoiled = data[: at + 2] + (2).to_bytes(2, "little") + (4).to_bytes(4, "little") + b"abc\0" + data[at + 12 :]
    assert resolution(spoiled, "tif") == Resolution()
