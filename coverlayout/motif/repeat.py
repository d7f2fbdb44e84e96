"""How a print repeats: from the words of the trade and the printed size of one picture to its lattice."""

from __future__ import annotations

import math
import re
from typing import Literal

from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import Point
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.picture.resolution import Resolution
from coverlayout.motif.prints import PictureRef, RepeatLayout, Up
from coverlayout.units import check_length, parse_points

__all__ = [
    "PrintTurns",
    "lattice_of",
    "parse_layout",
    "parse_up",
    "parse_vectors",
    "size_of_tile_mm",
    "stretch_note",
    "turns_for_up",
]

PrintTurns = Literal["none", "half", "quarter"]

_LAYOUT_WORDS: dict[str, RepeatLayout] = {
    "straight": "straight",
    "half-drop": "half-drop",
    "brick": "brick",
    "mirrored": "mirrored",
}
_TURNS: dict[Up, PrintTurns] = {"one-way": "none", "two-way": "half", "any": "quarter"}
# A 1/12 drop is finer than any met; beyond it a slip of the key is more likely than a print.
_MOST_DROP_PARTS = 12
# Smaller than a thirtieth or larger than thirty times the file's own size is a slip: 0.94 typed for 94 %.
_PERCENT_RANGE = (3.0, 3000.0)
# A tape read to the millimetre on a repeat of 5 cm is off by as much.
_STRETCH_PERCENT = 2.0


def lattice_of(
    layout: RepeatLayout,
    tile_mm: Point,
    drop_parts: int = 2,
    vectors: tuple[Point, ...] | None = None,
    *,
    where: str = "--repeat",
) -> Lattice:
    """The repeat vectors of a picture printed `tile_mm` large and laid out as the word says.

    A 1/n drop lowers each column by the n-th part of the height (`drop_parts` = n, 2 to 12); "vectors" takes one
    (plain stripes) or two given vectors instead. Raises BadInput naming `where` for a size that is not above 0, a
    drop out of range, or vectors that are missing, short or parallel. Source: the layouts as textile design names them;
    the vectors follow by arithmetic.

    >>> lattice_of("half-drop", (64.0, 96.0))
    Lattice(a_mm=(64.0, 48.0), b_mm=(0.0, 96.0))
    >>> lattice_of("vectors", (64.0, 96.0), vectors=((12.0, 5.0),))
    Lattice(a_mm=(12.0, 5.0), b_mm=None)
    """
    width_mm, height_mm = (check_length(side_mm, where=where, like="64x96mm") for side_mm in tile_mm)
    if layout == "vectors":
        return _given(vectors or (), where)
    if layout == "drop" and not 2 <= drop_parts <= _MOST_DROP_PARTS:
        raise BadInput("drop-out-of-range", where=where, found=str(drop_parts), most=_MOST_DROP_PARTS)
    vectors_of: dict[RepeatLayout, tuple[Point, Point]] = {
        "straight": ((width_mm, 0.0), (0.0, height_mm)),
        "half-drop": ((width_mm, height_mm / 2), (0.0, height_mm)),
        "drop": ((width_mm, height_mm / drop_parts), (0.0, height_mm)),
        "brick": ((width_mm, 0.0), (width_mm / 2, height_mm)),
        "mirrored": ((2 * width_mm, 0.0), (0.0, 2 * height_mm)),
    }
    return Lattice(*vectors_of[layout]).checked(where=where)


def _given(vectors: tuple[Point, ...], where: str) -> Lattice:
    if not 1 <= len(vectors) <= 2:
        raise BadInput("vectors-not-two", where=where, found=len(vectors))
    return Lattice(*vectors).checked(where=where)


def parse_layout(text: str, *, where: str = "--layout") -> tuple[RepeatLayout, int]:
    """The layout a word names, with the n of a 1/n drop (2 where it says nothing); BadInput for any other word.

    >>> parse_layout("half-drop"), parse_layout("drop:1/3")
    (('half-drop', 2), ('drop', 3))
    """
    word = text.strip().lower()
    if word in _LAYOUT_WORDS:
        return _LAYOUT_WORDS[word], 2
    drop = re.fullmatch(r"drop:1/(\d{1,3})", word)
    if drop is None:
        raise BadInput("layout-unknown", where=where, found=text.strip()[:40])
    parts = int(drop[1])
    if not 2 <= parts <= _MOST_DROP_PARTS:
        raise BadInput("drop-out-of-range", where=where, found=f"1/{parts}", most=_MOST_DROP_PARTS)
    return "drop", parts


def parse_vectors(text: str, *, where: str = "--vectors") -> tuple[Point, ...]:
    """One or two repeat vectors in mm, the print's own frame (x right, y down); BadInput for anything else.

    >>> parse_vectors("64,48 0,96 mm")
    ((64.0, 48.0), (0.0, 96.0))
    """
    vectors = parse_points(text, where=where, like="64,48 0,96 mm")
    _given(vectors, where)
    return vectors


def parse_up(text: str, *, where: str = "--up") -> Up:
    """Which ways the print may stand: one-way, two-way or any; BadInput for any other word."""
    for word in _TURNS:
        if text.strip().lower() == word:
            return word
    raise BadInput("up-unknown", where=where, found=text.strip()[:40])


def turns_for_up(up: Up) -> PrintTurns:
    """The turns a piece may take when only the print decides: a one-way print allows none.

    >>> turns_for_up("one-way"), turns_for_up("two-way"), turns_for_up("any")
    ('none', 'half', 'quarter')
    """
    return _TURNS[up]


def size_of_tile_mm(
    file_mm: Point | None,
    *,
    typed_mm: Point | None = None,
    percent: float | None = None,
    where: str = "--repeat",
) -> tuple[Point, Literal["file", "typed", "percent"]]:
    """The printed width and height of the picture, and which figure decided.

    `file_mm` is what the file's resolution gives (None where it cannot be trusted), `typed_mm` the printed size of one
    repeat as the maker measured it, `percent` a scale of the file's own size. Raises BadInput when both are typed, when
    nothing tells the size, when a scale is asked of a file without a size, or when a figure is out of range.

    >>> size_of_tile_mm((64.0, 96.0), percent=94)
    ((60.16, 90.24), 'percent')
    """
    if typed_mm is not None and percent is not None:
        raise BadInput("size-and-scale", where=where)
    if typed_mm is not None:
        checked = tuple(check_length(side_mm, where=where, like="64x96mm") for side_mm in typed_mm)
        return (checked[0], checked[1]), "typed"
    if file_mm is None:
        raise BadInput("scale-of-unknown-size" if percent is not None else "size-unknown", where=where)
    if percent is None:
        return file_mm, "file"
    if not math.isfinite(percent) or not _PERCENT_RANGE[0] <= percent <= _PERCENT_RANGE[1]:
        least, most = _PERCENT_RANGE
        raise BadInput("scale-out-of-range", where=where, found=f"{percent:g}", least=f"{least:g}", most=f"{most:g}")
    return (file_mm[0] * percent / 100, file_mm[1] * percent / 100), "percent"


def stretch_note(picture: PictureRef, resolution: Resolution, tile_mm: Point) -> Remark | None:
    """A remark when the printed size would draw the picture out of shape by more than 2 %: width and height exchanged.

    Pixels count as square unless the file's resolution, across and along, is known to differ. None when all is well.
    """
    across, along = tile_mm[0] / picture.width_px, tile_mm[1] / picture.height_px
    if resolution.known and resolution.x_dpi and resolution.y_dpi:
        across, along = across * resolution.x_dpi, along * resolution.y_dpi
    percent = (across / along - 1) * 100
    if abs(percent) <= _STRETCH_PERCENT:
        return None
    code = "picture-drawn-wide" if percent > 0 else "picture-drawn-high"
    width_mm, height_mm = tile_mm
    return Remark.of(code, name=picture.name, width_mm=width_mm, height_mm=height_mm, percent=f"{abs(percent):.0f}")
