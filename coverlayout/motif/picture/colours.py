"""From a picture's own colours to sRGB: profiles, inks, see-through parts, sixteen bits."""

from __future__ import annotations

import io
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageCms

from coverlayout.errors import BadInput

__all__ = ["Colour", "Colours", "Rgb"]

Rgb = npt.NDArray[np.uint8]
Colour = tuple[int, int, int]

_MODE_OF_SPACE = {"RGB": "RGB", "GRAY": "L", "CMYK": "CMYK"}
_SEE_THROUGH = ("RGBA", "LA", "PA", "RGBa", "La")
_GREY = ("1", "L", "LA", "La", "I", "I;16", "I;16L", "I;16B", "I;16N")
_FULL_16 = 65535


@dataclass(frozen=True)
class Colours:
    """How the decoded parts of one picture become sRGB: its profile's transform if it has one, and the ground.

    `late` is True where the profile may as well be applied after the picture was halved: plain RGB.
    """

    ground: Colour
    name: str
    mode: str = "RGB"
    transform: ImageCms.ImageCmsTransform | None = None
    late: bool = False

    @classmethod
    def of(cls, image: Image.Image, ground: Colour, name: str) -> Colours:
        """What a loaded picture needs; a profile that is damaged or of another kind than the picture is passed over."""
        if image.mode == "F":
            raise BadInput("picture-bits", name=name)
        mode, transform = _transform(image)
        late = transform is not None and image.mode == "RGB" and "transparency" not in image.info
        return cls(ground, name, mode, transform, late)

    def without_profile(self) -> Colours:
        """The same with the profile left out."""
        return replace(self, transform=None)

    def profiled(self, rgb: Rgb) -> Rgb:
        """Pixels of a plain RGB picture with the profile applied."""
        assert self.transform is not None
        return np.asarray(ImageCms.applyTransform(Image.fromarray(rgb), self.transform))

    def srgb(self, part: Image.Image) -> Rgb:
        """A decoded part of the picture as sRGB (height, width, 3), see-through pixels over the ground."""
        clear = None
        if part.mode.startswith("I"):
            part, clear = _eight_bits(part, self.name)
        elif part.mode in _SEE_THROUGH or "transparency" in part.info:
            part = part.convert("RGBA")
            clear = np.asarray(part.getchannel("A"))
            part = part.convert("RGB")
        if self.transform is not None:
            part = part if part.mode == self.mode else part.convert(self.mode)
            part = ImageCms.applyTransform(part, self.transform) or part
        rgb = np.asarray(part if part.mode == "RGB" else part.convert("RGB"))
        return rgb if clear is None else _over(rgb, clear, self.ground)


def _transform(image: Image.Image) -> tuple[str, ImageCms.ImageCmsTransform | None]:
    """The picture's profile as a transform to sRGB, and the mode it takes."""
    embedded = image.info.get("icc_profile")
    if not embedded:
        return "RGB", None
    try:
        profile = ImageCms.ImageCmsProfile(io.BytesIO(embedded))
        mode = _MODE_OF_SPACE.get(profile.profile.xcolor_space.strip(), "")
        fits = mode == "CMYK" if image.mode == "CMYK" else mode == "RGB" or (mode == "L" and image.mode in _GREY)
        if fits:
            return mode, ImageCms.buildTransform(profile, ImageCms.createProfile("sRGB"), mode, "RGB")
    except (ImageCms.PyCMSError, OSError, TypeError, ValueError):
        pass
    return "RGB", None


def _eight_bits(part: Image.Image, name: str) -> tuple[Image.Image, Rgb | None]:
    """Sixteen-bit grey scaled to 8 bits, with what its see-through level leaves clear."""
    level = np.asarray(part).astype(np.int64)
    if level.size and (np.min(level) < 0 or np.max(level) > _FULL_16):
        raise BadInput("picture-bits", name=name)
    see_through = part.info.get("transparency")
    clear = None if see_through is None else np.where(level == see_through, 0, 255).astype(np.uint8)
    return Image.fromarray(((level * 255 + _FULL_16 // 2) // _FULL_16).astype(np.uint8)), clear


def _over(rgb: Rgb, clear: Rgb, ground: Colour) -> Rgb:
    """The picture laid over the ground, `clear` being 0 where the ground shows and 255 where it does not."""
    share = clear[..., np.newaxis].astype(np.uint32)
    mixed = rgb * share + np.array(ground, np.uint32) * (255 - share)
    return ((mixed + 127) // 255).astype(np.uint8)
