"""A picture as upright sRGB pixels over the cloth's white: whole, halved in linear light, or as a quick first look."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import nullcontext

import numpy as np
import numpy.typing as npt
from PIL.ImageFile import ImageFile
from PIL.JpegImagePlugin import JpegImageFile
from PIL.TiffImagePlugin import TiffImageFile

from coverlayout.motif.picture.colours import Colour, Colours, Rgb
from coverlayout.motif.picture.decoder import decoding, open_image, orientation_of
from coverlayout.motif.picture.quiet import hushed

__all__ = ["Rgb", "halved", "pixels"]

Light = npt.NDArray[np.float32]
# Rows taken from the decoded picture at a time: few enough that the copies stay small beside the picture itself.
_STRIP_ROWS = 96
# Linear light as whole numbers of which four add up to less than 2 to the 16th.
_FULL_LIGHT = 16383


def _to_light() -> npt.NDArray[np.uint16]:
    """Linear light of each sRGB level. Source: IEC 61966-2-1."""
    level = np.arange(256) / 255
    light = np.where(level <= 0.04045, level / 12.92, ((level + 0.055) / 1.055) ** 2.4)
    return np.round(light * _FULL_LIGHT).astype(np.uint16)


def _to_level() -> Rgb:
    """The sRGB level of each sum of four linear lights."""
    light = np.arange(4 * _FULL_LIGHT + 1) / (4 * _FULL_LIGHT)
    level = np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.round(level * 255).astype(np.uint8)


_LIGHT = _to_light()
_LEVEL = _to_level()


def pixels(
    data: bytes,
    *,
    longest_px: int | None = None,
    ground: Colour = (255, 255, 255),
    quick: bool = False,
    name: str = "picture",
) -> Rgb:
    """The picture's pixels, upright, in sRGB, see-through parts over `ground`; an array (height, width, 3).

    With `longest_px` the picture is halved in linear light until no side is longer (so it may come out down to half
    as large). `quick` lets JPEG decode at a fraction of its size: a first look in a tenth of the time, too dark where
    the picture has lines one pixel wide. Sixteen-bit grey is scaled to 8 bits. An embedded profile is applied, after
    halving where the picture is plain RGB. Raises BadInput as `open_picture` does, and for damage met in decoding.
    """
    image = open_image(data, name)
    with decoding(name):
        if quick and longest_px is not None and isinstance(image, JpegImageFile):
            _draft(image, longest_px)
        with hushed() if isinstance(image, TiffImageFile) else nullcontext():
            image.load()
        return _upright(_reduced(image, longest_px, ground, name), orientation_of(image))


def _draft(image: JpegImageFile, longest_px: int) -> None:
    """Ask the JPEG reader for the smallest of its eighths that is not below the wanted size."""
    longest = max(image.size)
    if longest > longest_px:
        width_px, height_px = (max(1, -(-side * longest_px // longest)) for side in image.size)
        image.draft(None, (width_px, height_px))


def _reduced(image: ImageFile, longest_px: int | None, ground: Colour, name: str) -> Rgb:
    colours = Colours.of(image, ground, name)
    # Plain RGB is halved first and its profile applied to the small picture: a quarter of the work.
    rows = _rows_of_image(image, colours.without_profile() if colours.late else colours)
    width_px, height_px = image.size
    if longest_px is not None and max(image.size) > longest_px:
        rgb = _halved_by_rows(height_px, width_px, rows)
    else:
        rgb = _whole_by_rows(height_px, width_px, rows)
    image.close()
    while longest_px is not None and max(rgb.shape[:2]) > max(1, longest_px):
        rgb = halved(rgb)
    if colours.late:
        for first in range(0, len(rgb), _STRIP_ROWS):
            rgb[first : first + _STRIP_ROWS] = colours.profiled(rgb[first : first + _STRIP_ROWS])
    return rgb


def halved(rgb: Rgb) -> Rgb:
    """The picture at half its width and height (rounded up), averaged in linear light.

    An odd side is averaged over its exact share, so that the small picture still covers the whole tile and no repeat
    creeps. A side of one pixel stays. A fine black and white check turns 188, as light does, not 127.

    >>> halved(np.array([[[0] * 3, [255] * 3], [[255] * 3, [0] * 3]], np.uint8)).tolist()
    [[[188, 188, 188]]]
    """
    height_px, width_px = rgb.shape[:2]
    return _halved_by_rows(height_px, width_px, lambda first, last: _padded(rgb, first, last))


def _padded(rgb: Rgb, first: int, last: int) -> Rgb:
    """Rows first to last, black where they lie outside the picture."""
    inside = rgb[max(first, 0) : last]
    above, below = max(-first, 0), max(last - len(rgb), 0)
    return np.pad(inside, ((above, below), (0, 0), (0, 0))) if above or below else inside


def _rows_of_image(image: ImageFile, colours: Colours) -> Callable[[int, int], Rgb]:
    width_px = image.size[0]
    return lambda first, last: colours.srgb(image.crop((0, first, width_px, last)))


def _whole_by_rows(height_px: int, width_px: int, rows: Callable[[int, int], Rgb]) -> Rgb:
    rgb = np.empty((height_px, width_px, 3), np.uint8)
    for first in range(0, height_px, _STRIP_ROWS):
        last = min(first + _STRIP_ROWS, height_px)
        rgb[first:last] = rows(first, last)
    return rgb


def _halved_by_rows(height_px: int, width_px: int, rows: Callable[[int, int], Rgb]) -> Rgb:
    """Half the picture, strip by strip; `rows` gives source rows and anything for those outside."""
    kept_px = (height_px + 1) // 2
    odd = height_px % 2
    half = np.empty((kept_px, (width_px + 1) // 2, 3), np.uint8)
    for first in range(0, kept_px, _STRIP_ROWS // 2):
        last = min(first + _STRIP_ROWS // 2, kept_px)
        strip = rows(2 * first - odd, 2 * last)
        half[first:last] = _half_strip(strip, first, kept_px if odd else None)
    return half


def _half_strip(strip: Rgb, first: int, odd_kept: int | None) -> Rgb:
    """A strip at half its size; `odd_kept` is the height of the whole half where the whole height is odd."""
    light = _LIGHT.take(strip)
    if odd_kept is None and strip.shape[1] % 2 == 0:
        pairs = light[0::2] + light[1::2]
        return _LEVEL.take(pairs[:, 0::2] + pairs[:, 1::2])
    exact = light.astype(np.float32)
    exact = _half_pairs(exact) if odd_kept is None else _half_odd(exact, first, odd_kept)
    across = exact.swapaxes(0, 1)
    if len(across) % 2:
        across = _half_odd(np.pad(across, ((1, 1), (0, 0), (0, 0))), 0, (len(across) + 1) // 2)
    else:
        across = _half_pairs(across)
    return _LEVEL.take(np.round(across.swapaxes(0, 1) * 4).astype(np.uint16))


def _half_pairs(light: Light) -> Light:
    return (light[0::2] + light[1::2]) * np.float32(0.5)


def _half_odd(light: Light, first: int, kept: int) -> Light:
    """Means over stretches of n / kept rows, n = 2 kept - 1 being odd; `light` begins one row before row 2 `first`.

    Stretch j reaches from 2j - j/kept to 2j + 2 - (j+1)/kept: row 2j whole, its neighbours in part.
    """
    count = (len(light) - 1) // 2
    before: Light = (np.arange(first, first + count).reshape(-1, 1, 1) / kept).astype(np.float32)
    after: Light = np.float32(1 - 1 / kept) - before
    total: Light = light[0:-1:2] * before + light[1::2] + light[2::2] * after
    return total * np.float32(kept / (2 * kept - 1))


def _upright(rgb: Rgb, orientation: int) -> Rgb:
    """The stored picture turned and mirrored as its orientation tag (1 to 8) says. Source: EXIF 2.32, tag 274."""
    if orientation in (5, 6, 7, 8):
        rgb = rgb.swapaxes(0, 1)
    if orientation in (3, 4, 7, 8):
        rgb = rgb[::-1]
    if orientation in (2, 3, 6, 7):
        rgb = rgb[:, ::-1]
    return np.ascontiguousarray(rgb)
