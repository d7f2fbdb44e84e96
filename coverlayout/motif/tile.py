"""Opening the picture of a repeat: what it is, how large it prints, what the maker should know about it."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from PIL import ExifTags
from PIL.ImageFile import ImageFile
from PIL.TiffImagePlugin import TiffImageFile

from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import Point
from coverlayout.motif.picture.decoder import decoding, kind_of, open_image, orientation_of
from coverlayout.motif.picture.resolution import Resolution, resolution_of
from coverlayout.motif.picture.whole import is_whole
from coverlayout.motif.prints import PictureRef

__all__ = ["OpenedPicture", "open_picture"]

# Orientations that lay the stored picture on its side (EXIF 2.32, tag 274).
_SIDEWAYS = (5, 6, 7, 8)


@dataclass(frozen=True)
class OpenedPicture:
    """A picture that can be used: its reference, its resolution, and what is worth saying about it."""

    ref: PictureRef
    resolution: Resolution
    notes: tuple[Remark, ...] = ()

    @property
    def size_from_file_mm(self) -> Point | None:
        """Printed width and height by the file's own resolution in mm, None where that cannot be trusted."""
        return self.resolution.size_mm(self.ref.width_px, self.ref.height_px)


def open_picture(data: bytes, name: str) -> OpenedPicture:
    """Read a picture's header and check that the file is whole, without decoding it.

    PNG, JPEG, TIFF, WebP, BMP and GIF, told by their first bytes. `name` is the file's name, used in sentences. The
    size is that of the upright picture. Raises BadInput in one sentence when the data are no picture, cut short,
    0 or more than 30,000 pixels on a side, over 400 megapixels, or claim more than they hold.
    """
    kind = kind_of(data, name)
    image = open_image(data, name)
    with decoding(name):
        sideways = orientation_of(image) in _SIDEWAYS
        width_px, height_px = _stored_px(image)
        resolution = resolution_of(image, kind, sideways=sideways)
        notes = _notes(image, resolution, name)
        whole = is_whole(image, data, kind)
    if not whole:
        raise BadInput("picture-cut-short", name=name)
    upright_px = (height_px, width_px) if sideways else (width_px, height_px)
    return OpenedPicture(PictureRef(hashlib.sha256(data).hexdigest(), kind, name, *upright_px), resolution, notes)


def _stored_px(image: ImageFile) -> tuple[int, int]:
    """Width and height as stored: Pillow already swaps them for TIFF, and for TIFF only."""
    if isinstance(image, TiffImageFile):
        return image.tag_v2[ExifTags.Base.ImageWidth], image.tag_v2[ExifTags.Base.ImageLength]
    return image.size


def _notes(image: ImageFile, resolution: Resolution, name: str) -> tuple[Remark, ...]:
    notes = []
    if resolution.disagree:
        notes.append(Remark.of("picture-resolution-disagrees", name=name))
    if getattr(image, "is_animated", False):
        notes.append(Remark.of("picture-several-frames", name=name))
    return tuple(notes)
