"""Is a picture file whole? Told from its structure in a blink, before the long work of decoding it."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable

from PIL import ExifTags
from PIL.ImageFile import ImageFile
from PIL.TiffImagePlugin import TiffImageFile

__all__ = ["is_whole"]

# Packed data grow at most this much; a file that claims more pixels cannot hold them. zlib's own figure is 1032.
_MOST_PACKED = 1040
_PNG_CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}


def is_whole(image: ImageFile, data: bytes, kind: str) -> bool:
    """False when an opened picture's data end early or cannot hold what the header claims.

    PNG: every chunk present with its check sum, pixels not more than their packed bytes can hold; JPEG: an end mark
    after the picture starts; WebP and BMP: as long as the header says; TIFF: every strip or tile inside the file;
    GIF: the first frame decodes. Sources: the formats' own specifications.
    """
    if isinstance(image, TiffImageFile):
        return _tiff_whole(image, len(data))
    if kind == "gif":
        image.load()
        return True
    return _CHECKS[kind](data)


def _png_whole(data: bytes) -> bool:
    at, packed = 8, 0
    while at + 12 <= len(data):
        length, name = struct.unpack_from(">I4s", data, at)
        end = at + 8 + length
        if end + 4 > len(data) or zlib.crc32(data[at + 4 : end]) != struct.unpack_from(">I", data, end)[0]:
            return False
        packed += length if name == b"IDAT" else 0
        if name == b"IEND":
            return _png_pixel_bytes(data) <= packed * _MOST_PACKED
        at = end + 4
    return False


def _png_pixel_bytes(data: bytes) -> float:
    width_px, height_px, bits, colour = struct.unpack_from(">IIBB", data, 16)
    return float(width_px * height_px * bits * _PNG_CHANNELS.get(colour, 1) / 8)


def _jpeg_whole(data: bytes) -> bool:
    """Walk the segments up to the start of the scan; small pictures inside the tags end with the same mark."""
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        mark = data[at + 1]
        if mark == 0xDA:
            return data.find(b"\xff\xd9", at) > 0
        at += 1 if mark == 0xFF else 2 + int(struct.unpack_from(">H", data, at + 2)[0])
    return False


def _webp_whole(data: bytes) -> bool:
    return 8 + int(struct.unpack_from("<I", data, 4)[0]) <= len(data)


def _bmp_whole(data: bytes) -> bool:
    """Rows of an unpacked picture must all be there; packed ones tell by decoding."""
    offset, header, width_px, height_px, _planes, bits, packing = struct.unpack_from("<IIiiHHI", data, 10)
    if header == 12 or packing not in (0, 3):
        return True
    row_bytes = (width_px * bits + 31) // 32 * 4
    return bool(offset + row_bytes * abs(height_px) <= len(data))


def _tiff_whole(image: TiffImageFile, size_bytes: int) -> bool:
    tags = image.tag_v2
    for offsets, counts in (
        (ExifTags.Base.StripOffsets, ExifTags.Base.StripByteCounts),
        (ExifTags.Base.TileOffsets, ExifTags.Base.TileByteCounts),
    ):
        if any(
            at + size > size_bytes for at, size in zip(_all(tags.get(offsets)), _all(tags.get(counts)), strict=False)
        ):
            return False
    return True


def _all(value: object) -> tuple[int, ...]:
    """A tag's numbers, be it none, one or many."""
    if value is None:
        return ()
    return value if isinstance(value, tuple) else (int(str(value)),)


_CHECKS: dict[str, Callable[[bytes], bool]] = {
    "png": _png_whole,
    "jpg": _jpeg_whole,
    "webp": _webp_whole,
    "bmp": _bmp_whole,
}
