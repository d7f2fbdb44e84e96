"""Opening a picture: what is kept of it, its upright size, and what is said about it."""

from __future__ import annotations

import hashlib

import pytest
from picture_samples import corners, encoded, exif_with, hand_jpeg_density, hand_png, lopsided
from PIL import Image

from coverlayout.errors import BadInput
from coverlayout.motif.tile import open_picture


@pytest.mark.parametrize(
    ("pillow", "extension"),
    [("PNG", "png"), ("JPEG", "jpg"), ("TIFF", "tif"), ("WEBP", "webp"), ("BMP", "bmp"), ("GIF", "gif")],
)
def test_the_reference_names_the_bytes_the_kind_and_the_size(pillow, extension):
    data = encoded(corners(40, 24), pillow)
    opened = open_picture(data, "wave.PICTURE")
    assert opened.ref.sha256 == hashlib.sha256(data).hexdigest()
    assert (opened.ref.extension, opened.ref.name) == (extension, "wave.PICTURE")
    assert (opened.ref.width_px, opened.ref.height_px) == (40, 24)
    assert opened.notes == ()


def test_the_size_comes_from_a_resolution_that_can_be_trusted():
    opened = open_picture(encoded(corners(300, 150), "TIFF", dpi=(300, 100)), "a.tif")
    assert opened.size_from_file_mm == pytest.approx((25.4, 38.1))
    assert open_picture(encoded(corners(), "JPEG", dpi=(72, 72)), "a.jpg").size_from_file_mm is None


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize(("pillow", "kind"), [("JPEG", "jpg"), ("TIFF", "tif"), ("PNG", "png"), ("WEBP", "webp")])
def test_size_and_resolution_are_those_of_the_upright_picture(pillow, kind, orientation):
    tags = {"orientation": orientation, "x_dpi": 300.0, "y_dpi": 150.0, "unit": 2}
    options = {} if pillow == "WEBP" else {"dpi": (300, 150)}
    opened = open_picture(encoded(corners(60, 30), pillow, exif=exif_with(**tags), **options), f"a.{kind}")
    sideways = orientation >= 5
    assert (opened.ref.width_px, opened.ref.height_px) == ((30, 60) if sideways else (60, 30))
    # 60 px at 300 dpi are 5.08 mm, 30 px at 150 dpi as well.
    assert opened.size_from_file_mm == pytest.approx((5.08, 5.08), rel=1e-4)
    assert opened.resolution.x_dpi == pytest.approx(150.0 if sideways else 300.0, rel=1e-4)


def test_two_resolutions_that_disagree_are_said():
    data = encoded(corners(), "JPEG", exif=exif_with(x_dpi=240.0, y_dpi=240.0, unit=2))
    opened = open_picture(hand_jpeg_density(data, 1, 300, 300), "scan.jpg")
    assert [note.code for note in opened.notes] == ["picture-resolution-disagrees"]
    assert opened.notes[0].text().startswith("scan.jpg gives two resolutions")
    assert opened.size_from_file_mm is None


@pytest.mark.parametrize("pillow", ["GIF", "PNG", "WEBP", "TIFF"])
def test_of_several_pictures_the_first_is_used_and_that_is_said(pillow):
    frames = [Image.fromarray(lopsided(20, 10, seed)) for seed in (1, 2, 3)]
    opened = open_picture(encoded(frames[0], pillow, save_all=True, append_images=frames[1:]), "moving")
    assert [note.code for note in opened.notes] == ["picture-several-frames"]
    assert opened.notes[0].text() == "moving holds several pictures; the first one is used"


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "picture-empty"),
        (b"ledger of the salt works", "picture-unknown-kind"),
        (encoded(lopsided(60, 60), "JPEG")[:-900], "picture-cut-short"),
        (encoded(lopsided(60, 60), "PNG")[:-900], "picture-cut-short"),
        (hand_png(40_000, 30, body=b""), "picture-too-large"),
        (hand_png(0, 30), "picture-no-pixels"),
        (encoded(lopsided(60, 60), "GIF")[:-900], "picture-damaged"),
    ],
)
def test_each_spoiled_picture_gets_one_sentence(data, code):
    with pytest.raises(BadInput) as fault:
        open_picture(data, "swatch")
    assert fault.value.code == code
    sentence = str(fault.value)
    assert sentence.startswith("swatch:")
    assert "\n" not in sentence
