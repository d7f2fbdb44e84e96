"""What step 1 does to the project: edits of a print and how it lies, and what to say of its file."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

from coverlayout.document.edits.cloths import lay_print
from coverlayout.document.edits.prints import add_print, change_print
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import BadInput, FileTrouble
from coverlayout.geometry.frames import Point
from coverlayout.motif.prints import LaidPrint, Print, RepeatLayout
from coverlayout.motif.repeat import lattice_of, size_of_tile_mm, stretch_note
from coverlayout.motif.tile import OpenedPicture, open_picture
from coverlayout.ui.panels.panel import then
from coverlayout.units import LengthStyle

__all__ = [
    "PICTURE_ENDINGS",
    "file_words",
    "layout_edit",
    "opened_picture",
    "percent_edit",
    "picture_edit",
    "read_picture",
    "repeat_edit",
    "size_doubt",
    "size_edit",
    "vectors_edit",
]

PICTURE_ENDINGS = (".png", ".jpg", ".jpeg", ".tif", ".tiff", ".webp", ".bmp", ".gif")
# Larger than any picture that can be opened; more is refused before it is read.
_LARGEST_FILE_BYTES = 1_000_000_000
# Until the maker says how large a picture prints it is shown at 100 dots to the inch; the panel asks for the size.
_GUESS_MM_PER_PX = 25.4 / 100


def read_picture(path: Path) -> tuple[bytes, OpenedPicture]:
    """The bytes of a picture file and what they are. BadInput or FileTrouble in one sentence."""
    try:
        if path.stat().st_size > _LARGEST_FILE_BYTES:
            raise BadInput("picture-file-too-large", name=path.name)
        data = path.read_bytes()
    except OSError as trouble:
        raise FileTrouble("picture-file-unreadable", name=path.name, why=trouble.strerror or "") from trouble
    return data, opened_picture(data, path.name)


@lru_cache(maxsize=4)
def opened_picture(data: bytes, name: str) -> OpenedPicture:
    """What a picture is, remembered: finding it out reads the whole file. BadInput when it cannot be read."""
    return open_picture(data, name)


def picture_edit(before: Print | None, opened: OpenedPicture) -> Edit:
    """A new print from an opened picture, laid on every plain cloth; or another picture for a print there is.

    Its printed size is what the file says, else what the print had, else a guess that counts as not known.
    """
    ref, from_file = opened.ref, opened.size_from_file_mm
    guess = (ref.width_px * _GUESS_MM_PER_PX, ref.height_px * _GUESS_MM_PER_PX)
    known = before.tile_mm if before is not None and before.size_from != "guess" else None
    source: Literal["file", "typed", "guess"] = "file" if from_file else "typed" if known else "guess"
    if before is None:
        size = from_file or guess
        name = Path(ref.name).stem.replace("_", " ").strip()[:60] or "Print"
        made = Print("", name, _lattice("straight", size), picture=ref, tile_mm=size, size_from=source)
        return then(add_print(made), _on_plain_cloths)
    size = from_file or known or guess
    layout: RepeatLayout = "straight" if before.layout == "vectors" else before.layout
    lattice = _lattice(layout, size, before.drop_parts)
    return change_print(before.id, picture=ref, tile_mm=size, layout=layout, lattice=lattice, size_from=source)


def size_edit(before: Print | None, size_mm: Point) -> Edit:
    """The printed size as the maker measured it; without a print, a print that has no picture yet."""
    if before is None:
        made = Print("", "Print", _lattice("straight", size_mm), tile_mm=size_mm)
        return then(add_print(made), _on_plain_cloths)
    return repeat_edit(before, tile_mm=size_mm, size_from="typed")


def percent_edit(before: Print | None, from_file_mm: Point | None, percent: float) -> Edit:
    """A scale in percent of the size the file states. BadInput when the file states none."""
    size, source = size_of_tile_mm(from_file_mm, percent=percent, where="Scale")
    return repeat_edit(before, tile_mm=size, size_from=source)


def layout_edit(before: Print | None, layout: RepeatLayout) -> Edit:
    """Another way to repeat; two vectors start as the ones the print has."""
    if layout == "vectors" and before is not None:
        return vectors_edit(before, tuple(step for step in (before.lattice.a_mm, before.lattice.b_mm) if step))
    return repeat_edit(before, layout=layout)


def vectors_edit(before: Print | None, vectors_mm: tuple[Point, ...] | None) -> Edit:
    """The repeat as one or two vectors of its own."""
    tile = before.tile_mm if before and before.tile_mm else (1.0, 1.0)
    lattice = lattice_of("vectors", tile, vectors=vectors_mm, where="The repeat")
    return change_print(_there(before).id, layout="vectors", lattice=lattice)


def repeat_edit(before: Print | None, **fields: Any) -> Edit:
    """A change of size, layout or drop with the lattice that follows from it."""
    new: Print = replace(_there(before), **fields)
    if new.layout != "vectors" and new.tile_mm is not None:
        fields["lattice"] = _lattice(new.layout, new.tile_mm, new.drop_parts)
    return change_print(new.id, **fields)


def file_words(opened: OpenedPicture, style: LengthStyle) -> str:
    """What the file says of its size, or why that is not trusted."""
    pixels = f"{opened.ref.name}, {opened.ref.width_px} × {opened.ref.height_px} px. "
    resolution, from_file = opened.resolution, opened.size_from_file_mm
    x_dpi, y_dpi = resolution.x_dpi, resolution.y_dpi
    if from_file is not None and x_dpi and y_dpi:
        dpi = f"{x_dpi:.0f}" if abs(x_dpi - y_dpi) < 0.5 else f"{x_dpi:.0f} × {y_dpi:.0f}"
        return f"{pixels}{dpi} dpi in the file: {' × '.join(map(style.number, from_file))} {style.unit}."
    if resolution.disagree:
        return f"{pixels}The file contradicts itself about its size: measure one repeat and type it."
    if x_dpi and x_dpi > 1:
        return f"{pixels}{x_dpi:.0f} dpi is what programs write when they do not know: type the printed size."
    return f"{pixels}The file does not say how large it prints: type the printed size."


def size_doubt(a_print: Print, opened: OpenedPicture | None, style: LengthStyle) -> str:
    """What is wrong with the printed size: nobody knows it yet, or it draws the picture out of shape; else empty."""
    if a_print.tile_mm is None:
        return ""
    if a_print.size_from == "guess":
        shown = " × ".join(map(style.number, a_print.tile_mm))
        return f"Size not known. Measure one repeat and type it; until then it is drawn {shown} {style.unit}."
    note = stretch_note(opened.ref, opened.resolution, a_print.tile_mm) if opened is not None else None
    return style.said(note) if note is not None else ""


def _lattice(layout: RepeatLayout, size_mm: Point, drop_parts: int = 2) -> Any:
    return lattice_of(layout, size_mm, drop_parts, where="The printed size")


def _there(a_print: Print | None) -> Print:
    if a_print is None:
        raise BadInput("print-first")
    return a_print


def _on_plain_cloths(new: Project) -> Edit | None:
    """Lay the print that was just added on every cloth that has none."""
    edit: Edit | None = None
    for cloth in new.cloths:
        if cloth.laid is None and not cloth.zones:
            lay = lay_print(cloth.id, LaidPrint(new.prints[-1].id, origin_known=cloth.state != "to-buy"))
            edit = lay if edit is None else _both(edit, lay)
    return edit


def _both(first: Edit, second: Edit) -> Edit:
    return then(first, lambda _new: second)
