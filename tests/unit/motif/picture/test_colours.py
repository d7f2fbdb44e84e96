"""Every kind of pixel as sRGB: profiles, inks, see-through parts, sixteen bits."""

from __future__ import annotations

import io
import struct
import zlib

import numpy as np
import pytest
from picture_samples import corners, encoded, lopsided, ramp16
from PIL import Image, ImageCms

from coverlayout.errors import BadInput
from coverlayout.motif.pixels import halved, pixels

SRGB = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
LAB = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()


def gamma_profile(name: bytes, space: bytes, gamma: float) -> bytes:
    """A profile by the specification (ICC.1:2001-04): grey, or RGB with red and blue exchanged."""

    def curve() -> bytes:
        return b"curv" + bytes(4) + (1).to_bytes(4, "big") + round(gamma * 256).to_bytes(2, "big") + bytes(2)

    def xyz(*values: float) -> bytes:
        return b"XYZ " + bytes(4) + b"".join(round(v * 65536).to_bytes(4, "big", signed=True) for v in values)

    text = name + b"\0"
    description = b"desc" + bytes(4) + len(text).to_bytes(4, "big") + text + bytes(78)
    tags = {b"desc": description, b"cprt": b"text" + bytes(4) + b"none\0\0\0\0", b"wtpt": xyz(0.9642, 1.0, 0.8249)}
    if space == b"GRAY":
        tags[b"kTRC"] = curve()
    else:
        tags |= {b"rTRC": curve(), b"gTRC": curve(), b"bTRC": curve()}
        # The primaries of sRGB adapted to D50, red and blue exchanged: a mistake nobody could overlook.
        tags |= {
            b"bXYZ": xyz(0.4361, 0.2225, 0.0139),
            b"gXYZ": xyz(0.3851, 0.7169, 0.0971),
            b"rXYZ": xyz(0.1431, 0.0606, 0.7141),
        }
    table, body, at = len(tags).to_bytes(4, "big"), b"", 128 + 4 + 12 * len(tags)
    for tag, value in tags.items():
        table += tag + (at + len(body)).to_bytes(4, "big") + len(value).to_bytes(4, "big")
        body += value + bytes(-len(value) % 4)
    size = 128 + len(table) + len(body)
    head = (
        size.to_bytes(4, "big")
        + bytes(4)
        + b"\x02\x40\0\0"
        + b"mntr"
        + space
        + b"XYZ "
        + bytes(12)
        + b"acsp"
        + bytes(28)
    )
    head += b"".join(round(v * 65536).to_bytes(4, "big") for v in (0.9642, 1.0, 0.8249))
    return head.ljust(128, b"\0") + table + body


SWAPPED = gamma_profile(b"swapped", b"RGB ", 2.2)
GREY_18 = gamma_profile(b"grey", b"GRAY", 1.8)


def test_see_through_pixels_show_the_ground_and_not_the_hidden_colour():
    rgba = np.zeros((4, 4, 4), np.uint8)
    rgba[:2] = (200, 20, 20, 255)
    rgba[2] = (200, 20, 20, 51)
    data = encoded(Image.fromarray(rgba), "PNG")
    over_white = pixels(data)
    assert over_white[0, 0].tolist() == [200, 20, 20]
    # One fifth of the colour, four fifths of white: 0.2 * 200 + 0.8 * 255 = 244, 0.2 * 20 + 204 = 208.
    assert over_white[2, 0].tolist() == [244, 208, 208]
    assert over_white[3, 0].tolist() == [255, 255, 255]
    assert pixels(data, ground=(240, 230, 210))[3, 0].tolist() == [240, 230, 210]


def test_grey_with_alpha():
    data = encoded(Image.fromarray(np.array([[[100, 255], [100, 0]]], np.uint8)), "PNG")
    assert pixels(data).tolist() == [[[100] * 3, [255] * 3]]


@pytest.mark.parametrize("transparency", [0, b"\x00\xff"])
def test_a_palette_with_a_see_through_entry(transparency):
    image = Image.fromarray(np.array([[0, 1], [1, 0]], np.uint8))
    image.putpalette([10, 20, 30, 200, 100, 50])
    data = encoded(image, "PNG", transparency=transparency)
    assert pixels(data).tolist() == [[[255] * 3, [200, 100, 50]], [[200, 100, 50], [255] * 3]]


def test_one_colour_named_see_through():
    data = encoded(corners(), "PNG", transparency=(200, 20, 20))
    rgb = pixels(data)
    assert (rgb[0, 0] == 255).all()
    assert rgb[0, -1].tolist() == [20, 160, 40]


def test_black_and_white():
    image = Image.fromarray(np.array([[0, 255], [255, 255]], np.uint8)).convert("1", dither=Image.Dither.NONE)
    assert pixels(encoded(image, "PNG"))[..., 0].tolist() == [[0, 255], [255, 255]]


@pytest.mark.parametrize("pillow", ["PNG", "TIFF"])
def test_sixteen_bit_grey_is_scaled_and_not_clipped(pillow):
    rgb = pixels(encoded(ramp16(), pillow))
    assert rgb[0, :, 0].tolist() == list(range(256))
    assert rgb.mean() == pytest.approx(127.5)


def test_sixteen_bit_grey_with_one_level_see_through():
    data = encoded(ramp16(), "PNG")
    at = data.index(b"IDAT") - 4
    body = b"tRNS" + struct.pack(">H", 257 * 9)
    clear = data[:at] + struct.pack(">I", 2) + body + struct.pack(">I", zlib.crc32(body)) + data[at:]
    assert pixels(clear)[0, 8:11, 0].tolist() == [8, 255, 10]


@pytest.mark.parametrize("mode", ["F", "I"])
def test_more_than_sixteen_bits_are_refused(mode):
    image = Image.new(mode, (4, 4), 70_000)
    with pytest.raises(BadInput, match="8 or 16 bits"):
        pixels(encoded(image, "TIFF"), name="deep.tif")


def test_inks_without_a_profile():
    image = Image.new("CMYK", (4, 4), (0, 255, 255, 0))
    assert pixels(encoded(image, "TIFF"))[0, 0].tolist() == [255, 0, 0]


def test_the_profile_of_srgb_changes_nothing_that_shows():
    rgb = lopsided(30, 20)
    back = pixels(encoded(rgb, "PNG", icc_profile=SRGB)).astype(int)
    assert np.abs(back - rgb).max() <= 1


def test_an_embedded_profile_is_applied():
    rgb = corners()
    back = pixels(encoded(rgb, "PNG", icc_profile=SWAPPED)).astype(int)
    # Red and blue exchanged; gamma 2.2 and the curve of sRGB differ by at most a few levels from 20 up.
    assert np.abs(back - rgb[..., ::-1]).max() <= 8


def test_the_profile_of_a_large_picture_is_applied_after_halving():
    rgb = lopsided(300, 201)
    late = pixels(encoded(rgb, "PNG", icc_profile=SWAPPED), longest_px=150).astype(int)
    assert np.abs(late - halved(rgb)[..., ::-1]).max() <= 8


def test_a_profile_with_see_through_parts():
    rgba = np.dstack([corners(), np.full((24, 40), 255, np.uint8)])
    rgba[:, :5, 3] = 0
    back = pixels(encoded(Image.fromarray(rgba), "PNG", icc_profile=SWAPPED)).astype(int)
    assert (back[:, :5] == 255).all()
    assert np.abs(back[:, 5:] - corners()[:, 5:, ::-1]).max() <= 8


def test_a_grey_profile():
    grey = Image.fromarray(np.full((4, 4), 100, np.uint8))
    level = pixels(encoded(grey, "PNG", icc_profile=GREY_18))[0, 0]
    # (100 / 255) ** 1.8 is a light of 0.1854, which sRGB writes as 119.5.
    assert level.tolist() == pytest.approx([119.5] * 3, abs=1.1)
    assert pixels(encoded(ramp16(), "PNG", icc_profile=GREY_18))[0, 100].tolist() == pytest.approx([119.5] * 3, abs=1.1)


@pytest.mark.parametrize("profile", [b"no profile", SRGB[:200], LAB, GREY_18])
def test_profiles_that_do_not_fit_are_passed_over(profile):
    assert np.array_equal(pixels(encoded(corners(), "PNG", icc_profile=profile)), corners())


def test_a_profile_for_rgb_does_not_touch_inks():
    image = Image.new("CMYK", (4, 4), (0, 255, 255, 0))
    assert pixels(encoded(image, "TIFF", icc_profile=SWAPPED))[0, 0].tolist() == [255, 0, 0]


def test_the_reader_of_profiles_is_there():
    assert ImageCms.getProfileName(io.BytesIO(SWAPPED)).startswith("swapped")
