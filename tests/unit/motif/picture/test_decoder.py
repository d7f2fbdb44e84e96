"""The door for pictures: kinds by their first bytes, size limits from the header, quiet and thread-safe."""

from __future__ import annotations

import logging
import os
import struct
import sys
import threading
import warnings

import pytest
from picture_samples import corners, encoded, exif_with, hand_png, lopsided
from PIL import Image

from coverlayout.errors import BadInput
from coverlayout.motif.picture import decoder
from coverlayout.motif.picture.decoder import decoding, exif_of, hushed, kind_of, open_image, orientation_of
from coverlayout.motif.pixels import pixels


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


def _warn_like_pillow():
    warnings.warn_explicit("noise", UserWarning, "PngImagePlugin.py", 1, module="PIL.PngImagePlugin")


def test_pillows_warnings_stay_inside_and_others_come_through():
    with warnings.catch_warnings(record=True) as heard:
        warnings.simplefilter("always")
        with decoding("x"):
            _warn_like_pillow()
            warnings.warn("ours", UserWarning, stacklevel=1)
        _warn_like_pillow()
    assert [str(one.message) for one in heard] == ["ours", "noise"]


def test_overlapping_threads_put_the_filters_back():
    before = list(warnings.filters)
    inside, leave = threading.Event(), threading.Event()

    def work() -> None:
        with decoding("x"):
            inside.set()
            leave.wait(10)
            _warn_like_pillow()

    thread = threading.Thread(target=work)
    with decoding("y"):
        thread.start()
        assert inside.wait(10)
    leave.set()
    thread.join()
    assert warnings.filters == before
    assert decoder._quiet_count == 0
    assert "PIL" in sys.modules


def test_what_a_c_library_says_stays_off_the_terminal(capfd):
    with hushed():
        os.write(2, b"LZWDecode: noise\n")
    os.write(2, b"after\n")
    assert capfd.readouterr().err == "after\n"


def test_without_a_standard_error_there_is_nothing_to_hush(monkeypatch):
    def gone(_number: int) -> int:
        raise OSError

    monkeypatch.setattr(os, "dup", gone)
    with hushed():
        assert not decoder._hush_lock.acquire(blocking=False)


def test_a_damaged_packed_tiff_says_one_sentence_and_nothing_else(capfd):
    data = bytearray(encoded(lopsided(60, 60), "TIFF", compression="tiff_lzw"))
    data[100:400] = b"\xff" * 300
    with pytest.raises(BadInput, match="damaged"):
        pixels(bytes(data), name="scan.tif")
    assert capfd.readouterr() == ("", "")


def test_what_pillow_logs_has_a_handler():
    assert any(isinstance(handler, logging.NullHandler) for handler in logging.getLogger("PIL").handlers)
