"""The one door pictures come in by: six formats, told by their first bytes, opened without Pillow's global limits."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from PIL import ExifTags, Image
from PIL.BmpImagePlugin import BmpImageFile
from PIL.GifImagePlugin import GifImageFile
from PIL.ImageFile import ImageFile
from PIL.JpegImagePlugin import JpegImageFile
from PIL.PngImagePlugin import PngImageFile
from PIL.TiffImagePlugin import TiffImageFile
from PIL.WebPImagePlugin import WebPImageFile

from coverlayout.errors import BadInput
from coverlayout.motif.picture.quiet import quiet

__all__ = [
    "LONGEST_SIDE_PX",
    "MOST_MEGAPIXELS",
    "decoding",
    "exif_of",
    "kind_of",
    "open_image",
    "orientation_of",
]

# A yard of 60 in cloth scanned at 300 dpi is 18000 x 10800 px; beyond this a slip or a trick is more likely.
LONGEST_SIDE_PX = 30_000
MOST_MEGAPIXELS = 400

# Opening a format's own class leaves Pillow's limit on pixels alone: that limit is one for the whole process.
_OPENERS: dict[str, type[ImageFile]] = {
    "png": PngImageFile,
    "jpg": JpegImageFile,
    "tif": TiffImageFile,
    "webp": WebPImageFile,
    "bmp": BmpImageFile,
    "gif": GifImageFile,
}
_FIRST_BYTES = {
    b"\x89PNG\r\n\x1a\n": "png",
    b"\xff\xd8\xff": "jpg",
    b"II*\0": "tif",
    b"MM\0*": "tif",
    b"II+\0": "tif",
    b"MM\0+": "tif",
    b"BM": "bmp",
    b"GIF87a": "gif",
    b"GIF89a": "gif",
}
# What the readers raise on damaged data, seen by spoiling files byte by byte.
_DAMAGE = (
    OSError,
    SyntaxError,
    ValueError,
    LookupError,
    TypeError,
    AttributeError,
    ArithmeticError,
    EOFError,
    RuntimeError,
    NotImplementedError,
    struct.error,
    zlib.error,
)


@contextmanager
def decoding(name: str) -> Iterator[None]:
    """Work on picture data inside: Pillow stays quiet, damage becomes one plain sentence naming the picture."""
    try:
        with quiet():
            yield
    except Image.DecompressionBombError as fault:
        raise BadInput("picture-too-large-kind", name=name) from fault
    except MemoryError as fault:
        raise BadInput("picture-no-memory", name=name) from fault
    except _DAMAGE as fault:
        raise BadInput("picture-damaged", name=name) from fault


def kind_of(data: bytes, name: str) -> str:
    """The kind of picture by its first bytes, as a file ending without a dot; BadInput when it is none of the six.

    >>> kind_of(b"GIF89a...", "wave.gif")
    'gif'
    """
    if not data:
        raise BadInput("picture-empty", name=name)
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "webp"
    for first, kind in _FIRST_BYTES.items():
        if data.startswith(first):
            return kind
    raise BadInput("picture-unknown-kind", name=name)


def open_image(data: bytes, name: str) -> ImageFile:
    """The picture with its header read and nothing decoded, its size within the limits.

    Raises BadInput when it is no picture, 0 pixels wide or high, beyond LONGEST_SIDE_PX or MOST_MEGAPIXELS, or damaged.
    """
    kind = kind_of(data, name)
    claimed = _claimed_px(data, kind)
    if claimed is not None:
        _check_size(claimed, name)
    with decoding(name):
        image = _OPENERS[kind](io.BytesIO(data))
    _check_size(image.size, name)
    return image


def exif_of(image: ImageFile) -> Mapping[int, Any]:
    """The EXIF tags of an opened picture; none when they are damaged, for the picture itself may be whole."""
    try:
        with quiet():
            # Tags are read on first use: all now, while warnings are kept in.
            return dict(Image.Image.getexif(image) if _is_png_without_exif(image) else image.getexif())
    except _DAMAGE:
        return {}


def _is_png_without_exif(image: ImageFile) -> bool:
    """True for a PNG not yet decoded that has no EXIF chunk: Pillow would decode it all to look behind the pixels."""
    if not isinstance(image, PngImageFile) or "exif" in image.info or not isinstance(image.fp, io.BytesIO):
        return False
    return b"eXIf" not in image.fp.getvalue()


def orientation_of(image: ImageFile) -> int:
    """The orientation tag, 1 (upright) to 8; 1 when there is none or it makes no sense.

    Source: EXIF 2.32, tag 274: 5 to 8 swap width and height.
    """
    orientation = exif_of(image).get(ExifTags.Base.Orientation, 1)
    return orientation if isinstance(orientation, int) and 1 <= orientation <= 8 else 1


def _claimed_px(data: bytes, kind: str) -> tuple[int, int] | None:
    """The size as the header gives it, for kinds that keep it in one place; None for the others and for short files."""
    places = {"png": (">II", 16), "gif": ("<HH", 6), "bmp": ("<ii", 18)}
    if kind not in places:
        return None
    form, offset = places[kind]
    if len(data) < offset + struct.calcsize(form) or (kind == "bmp" and data[14:18] == b"\x0c\0\0\0"):
        return None
    width_px, height_px = struct.unpack_from(form, data, offset)
    return width_px, abs(height_px)


def _check_size(size_px: tuple[int, int], name: str) -> None:
    width_px, height_px = size_px
    if min(size_px) <= 0:
        raise BadInput("picture-no-pixels", name=name, width=width_px, height=height_px)
    if max(size_px) > LONGEST_SIDE_PX or width_px * height_px > MOST_MEGAPIXELS * 1_000_000:
        figures = {"width": width_px, "height": height_px, "most": LONGEST_SIDE_PX, "megapixels": MOST_MEGAPIXELS}
        raise BadInput("picture-too-large", name=name, **figures)
