"""Small pictures for tests: written by Pillow, or byte by byte where no writer would make such a file."""

from __future__ import annotations

import io
import struct
import zlib
from typing import Any

import numpy as np
import numpy.typing as npt
from PIL import Image

__all__ = [
    "corners",
    "encoded",
    "exif_with",
    "hand_jpeg_density",
    "hand_png",
    "hand_tiff",
    "lopsided",
    "ramp16",
]

Pixels = npt.NDArray[np.uint8]

# Four colours that no turn or mirroring of the picture maps onto each other.
RED, GREEN, BLUE, GOLD = (200, 20, 20), (20, 160, 40), (30, 40, 200), (220, 180, 20)


def corners(width_px: int = 40, height_px: int = 24) -> Pixels:
    """A picture whose four quarters are red, green (top), blue, gold (bottom)."""
    rgb = np.empty((height_px, width_px, 3), np.uint8)
    middle_x, middle_y = width_px // 2, height_px // 2
    rgb[:middle_y, :middle_x], rgb[:middle_y, middle_x:] = RED, GREEN
    rgb[middle_y:, :middle_x], rgb[middle_y:, middle_x:] = BLUE, GOLD
    return rgb


def lopsided(width_px: int, height_px: int, seed: int = 7) -> Pixels:
    """A picture without any symmetry: every pixel has a colour of its own."""
    return np.random.default_rng(seed).integers(0, 256, (height_px, width_px, 3)).astype(np.uint8)


def encoded(pixels: Pixels | Image.Image, kind: str, **options: Any) -> bytes:
    """The picture written by Pillow as PNG, JPEG, TIFF, WEBP, BMP or GIF."""
    image = pixels if isinstance(pixels, Image.Image) else Image.fromarray(pixels)
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def exif_with(**tags: Any) -> Image.Exif:
    """EXIF data with the tags given by name: orientation, x_dpi, y_dpi, unit (1 none, 2 inch, 3 cm)."""
    exif = Image.Exif()
    numbers = {"orientation": 0x0112, "x_dpi": 282, "y_dpi": 283, "unit": 296}
    for name, value in tags.items():
        exif[numbers[name]] = value
    return exif


def ramp16(width_px: int = 256, height_px: int = 2) -> Image.Image:
    """Sixteen-bit grey from 0 to 65535 in even steps across."""
    levels = np.round(np.linspace(0, 65535, width_px)).astype(np.uint16)
    return Image.fromarray(np.tile(levels, (height_px, 1)))


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def hand_png(
    width_px: int, height_px: int, *, phys: tuple[int, int, int] | None = None, body: bytes | None = None
) -> bytes:
    """An 8-bit grey PNG by the specification: header, pHYs (x, y per unit, unit 0 none or 1 metre), pixels, end."""
    rows = body if body is not None else zlib.compress(b"".join(b"\0" + bytes(width_px) for _ in range(height_px)))
    parts = [_chunk(b"IHDR", struct.pack(">IIBBBBB", width_px, height_px, 8, 0, 0, 0, 0))]
    if phys is not None:
        parts.append(_chunk(b"pHYs", struct.pack(">IIB", *phys)))
    return b"\x89PNG\r\n\x1a\n" + b"".join([*parts, _chunk(b"IDAT", rows), _chunk(b"IEND", b"")])


def hand_tiff(
    width_px: int,
    height_px: int,
    *,
    x: tuple[int, int] | None = None,
    y: tuple[int, int] | None = None,
    unit: int | None = None,
) -> bytes:
    """A little-endian 8-bit grey TIFF by the specification, with resolution fractions and unit only where given."""
    fields: list[tuple[int, int, int, int]] = [
        (256, 4, 1, width_px),
        (257, 4, 1, height_px),
        (258, 3, 1, 8),
        (259, 3, 1, 1),
    ]
    fields += [
        (262, 3, 1, 1),
        (273, 4, 1, 8),
        (277, 3, 1, 1),
        (278, 4, 1, height_px),
        (279, 4, 1, width_px * height_px),
    ]
    pixels = bytes(width_px * height_px)
    fractions = b""
    for tag, fraction in ((282, x), (283, y)):
        if fraction is not None:
            fields.append((tag, 5, 1, 8 + len(pixels) + len(fractions)))
            fractions += struct.pack("<II", *fraction)
    if unit is not None:
        fields.append((296, 3, 1, unit))
    table = (
        struct.pack("<H", len(fields)) + b"".join(struct.pack("<HHII", *field) for field in sorted(fields)) + bytes(4)
    )
    return b"II*\0" + struct.pack("<I", 8 + len(pixels) + len(fractions)) + pixels + fractions + table


def hand_jpeg_density(data: bytes, unit: int, x: int, y: int) -> bytes:
    """The JPEG with the density of its JFIF header written over: unit 0 none, 1 per inch, 2 per centimetre."""
    at = data.index(b"JFIF\0") + 7
    return data[:at] + struct.pack(">BHH", unit, x, y) + data[at + 5 :]
