"""The door for pictures: kinds by their first bytes, size limits from the header, damage in one sentence."""

from __future__ import annotations

import struct

import pytest
from picture_samples import corners, encoded, exif_with, hand_png
from PIL import Image

from coverlayout.errors import BadInput
from coverlayout.motif.picture.decoder import decoding, exif_of, kind_of, open_image, orientation_of


@pytest.mark.parametrize(
    ("pillow", "kind"),
    [("PNG", "png"), ("JPEG", "jpg"), ("TIFF", "tif"), ("WEBP", "webp"), ("BMP", "bmp"), ("GIF", "gif")],
)
def test_kinds_are_told_by_their_first_bytes(pillow, kind):
    data = encoded(corners(), pillow)
    assert kind_of(data, "x.txt") == kind
    assert open_image(data, "x.txt").size == (40, 24)


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "picture-empty"),
        (b"%!PS-Adobe-3.0 EPSF", "picture-unknown-kind"),
        (b"RIFF\0\0\0\0WAVE", "picture-unknown-kind"),
    ],
)
def test_what_is_no_picture_is_refused(data, code):
    with pytest.raises(BadInput) as fault:
        open_image(data, "note.txt")
    assert fault.value.code == code
    assert "note.txt" in str(fault.value)


@pytest.mark.parametrize(
    "data",
    [
        hand_png(0, 10),
        b"GIF89a" + struct.pack("<HH", 5, 0) + bytes(20),
        b"BM" + bytes(12) + struct.pack("<Iii", 40, 0, 7) + bytes(28),
    ],
)
def test_no_pixels_at_all_are_refused(data):
    with pytest.raises(BadInput, match="both must be above 0"):
        open_image(data, "thin")


@pytest.mark.parametrize(("width_px", "height_px"), [(40_000, 10), (10, 30_001), (20_001, 20_000)])
def test_pictures_beyond_the_limits_are_refused_by_their_header(width_px, height_px):
    with pytest.raises(BadInput, match=f"{width_px} x {height_px} pixels; at most 30000 on a side and 400 million"):
        open_image(hand_png(width_px, height_px, body=b""), "wide.png")


def test_a_jpeg_beyond_the_limits_is_refused_after_its_header():
    data = encoded(corners(), "JPEG")
    at = data.index(b"\xff\xc0") + 5
    with pytest.raises(BadInput, match="65500 x 24"):
        open_image(data[:at] + struct.pack(">HH", 24, 65500) + data[at + 4 :], "wide.jpg")


def test_pillows_own_limit_is_left_alone():
    before = Image.MAX_IMAGE_PIXELS
    assert open_image(hand_png(20_000, 10_000, body=b""), "big.png").size == (20_000, 10_000)
    assert before == Image.MAX_IMAGE_PIXELS


def test_a_broken_header_is_damage():
    with pytest.raises(BadInput, match="damaged"):
        open_image(encoded(corners(), "TIFF")[:40], "cut.tif")
    with pytest.raises(BadInput, match="damaged"):
        open_image(b"BM\0\0", "cut.bmp")


@pytest.mark.parametrize(
    ("raised", "code"),
    [
        (MemoryError(), "picture-no-memory"),
        (Image.DecompressionBombError(), "picture-too-large-kind"),
        (IndexError(), "picture-damaged"),
        (struct.error(), "picture-damaged"),
    ],
)
def test_what_the_reader_raises_becomes_a_sentence(raised, code):
    with pytest.raises(BadInput) as fault, decoding("x.png"):
        raise raised
    assert fault.value.code == code
    assert str(fault.value).startswith("x.png")


def test_orientation_is_read_and_nonsense_is_upright():
    for said, meant in ((6, 6), (0, 1), (9, 1), (3, 3)):
        image = open_image(encoded(corners(), "JPEG", exif=exif_with(orientation=said)), "x")
        assert orientation_of(image) == meant
    assert orientation_of(open_image(encoded(corners(), "GIF"), "x")) == 1


def test_damaged_tags_count_as_none():
    image = open_image(encoded(corners(), "JPEG", exif=b"Exif\0\0II*\0\xff\xff\xff\x7f"), "x")
    assert dict(exif_of(image)) == {}
    image = open_image(encoded(corners(), "JPEG", exif=b"Exif\0\0nonsense"), "x")
    assert dict(exif_of(image)) == {}


def test_tags_behind_the_pixels_of_a_png_are_found():
    tag = encoded(corners(), "PNG", exif=exif_with(orientation=6))
    at, end = tag.index(b"eXIf") - 4, tag.index(b"IDAT") - 4
    moved = tag[:at] + tag[end:-12] + tag[at:end] + tag[-12:]
    assert orientation_of(open_image(moved, "x")) == 6


def test_tags_of_a_png_without_any_are_read_without_decoding_it():
    image = open_image(encoded(corners(), "PNG"), "x")
    assert dict(exif_of(image)) == {}
    assert image.tile
