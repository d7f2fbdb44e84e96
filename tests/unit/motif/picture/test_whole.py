"""Files that end early or claim more than they hold, told without decoding them."""

from __future__ import annotations

import struct
import zlib

import pytest
from picture_samples import corners, encoded, exif_with, hand_png, hand_tiff, lopsided

from coverlayout.errors import BadInput
from coverlayout.motif.picture.decoder import decoding, open_image
from coverlayout.motif.picture.whole import is_whole

KINDS = {"PNG": "png", "JPEG": "jpg", "TIFF": "tif", "WEBP": "webp", "BMP": "bmp", "GIF": "gif"}


def whole(data, kind):
    return is_whole(open_image(data, "x"), data, kind)


@pytest.mark.parametrize("pillow", KINDS)
def test_whole_files_pass_and_so_do_bytes_after_the_end(pillow):
    data = encoded(lopsided(50, 40), pillow)
    assert whole(data, KINDS[pillow])
    assert whole(data + b"more", KINDS[pillow])


@pytest.mark.parametrize("pillow", KINDS)
@pytest.mark.parametrize("share", [0.4, 0.7, 0.97])
def test_files_cut_short_are_found(pillow, share):
    data = encoded(lopsided(50, 40), pillow)
    cut = data[: int(len(data) * share)]
    try:
        with decoding("x"):
            found = whole(cut, KINDS[pillow])
    except BadInput:
        return
    assert not found


def test_a_progressive_jpeg_and_one_with_a_small_picture_in_its_tags():
    assert whole(encoded(lopsided(50, 40), "JPEG", progressive=True), "jpg")
    small = encoded(corners(8, 8), "JPEG")
    data = encoded(lopsided(50, 40), "JPEG", exif=b"Exif\0\0II*\0\x08\0\0\0\0\0\0\0\0\0" + small)
    assert whole(data, "jpg")
    # The small picture's own end mark must not stand for that of the large one.
    assert not whole(data[:-2], "jpg")


def test_filling_bytes_between_jpeg_segments_are_passed_over():
    data = encoded(corners(), "JPEG")
    at = data.index(b"\xff\xdb")
    assert whole(data[:at] + b"\xff\xff\xff" + data[at:], "jpg")


def test_a_jpeg_without_a_scan_is_not_whole():
    data = encoded(corners(), "JPEG")
    at = data.index(b"\xff\xda")
    image = open_image(data, "x")
    assert not is_whole(image, data[:at], "jpg")
    assert not is_whole(image, data[:at] + b"\x00\x00\x00\x00", "jpg")


def test_one_wrong_bit_in_a_png_is_found():
    data = bytearray(encoded(lopsided(50, 40), "PNG"))
    data[len(data) // 2] ^= 1
    assert not is_whole(open_image(encoded(corners(), "PNG"), "x"), bytes(data), "png")


def test_a_png_that_claims_more_than_its_bytes_can_hold():
    packed = zlib.compress(bytes(5000))
    assert not whole(hand_png(20_000, 15_000, body=packed), "png")
    assert whole(hand_png(100, 100), "png")


def test_a_packed_or_old_bmp_is_left_to_the_decoder():
    data = bytearray(encoded(corners(), "BMP"))
    image = open_image(bytes(data), "x")
    data[30] = 1
    assert is_whole(image, bytes(data[:200]), "bmp")
    data[14] = 12
    assert is_whole(image, bytes(data[:200]), "bmp")


def test_a_tiff_with_its_strips_beyond_the_end_is_not_whole():
    data = hand_tiff(16, 8)
    assert whole(data, "tif")
    at = data.index(struct.pack("<HHI", 273, 4, 1)) + 8
    assert not whole(data[:at] + struct.pack("<I", 10_000) + data[at + 4 :], "tif")


def test_a_tiff_of_several_strips():
    assert whole(encoded(lopsided(300, 400), "TIFF", exif=exif_with(orientation=6)), "tif")
    assert whole(encoded(lopsided(300, 400), "TIFF", strip_size=3000), "tif")


def test_a_png_without_its_end_is_not_whole():
    data = encoded(corners(), "PNG")
    assert not whole(data[: data.index(b"IEND") - 4], "png")
