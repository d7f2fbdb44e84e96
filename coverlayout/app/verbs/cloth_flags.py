"""From the flags of the print and the cloth to one print and one cloth."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path
from typing import get_args

from coverlayout.app.flags import Flag, Given, one_length, one_word
from coverlayout.cloth.cloth import Change, Cloth, ClothState, Flaw
from coverlayout.cloth.cuts import cut_named
from coverlayout.document.storage.writing import disk_trouble
from coverlayout.errors import BadInput, FileTrouble, Remark
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Region, bounds, checked_ring
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print
from coverlayout.motif.repeat import lattice_of, parse_layout, parse_up, parse_vectors, size_of_tile_mm, stretch_note
from coverlayout.motif.tile import OpenedPicture, open_picture
from coverlayout.units import (
    parse_angle_deg,
    parse_percent,
    parse_percent_pair,
    parse_points,
    parse_size,
)

__all__ = ["CLOTH_FLAGS", "PRINT_FLAGS", "PrintMade", "cloth_of", "print_of"]

PRINT_FLAGS = (
    Flag("--print", "the picture of one repeat", "birds.png"),
    Flag("--repeat", "the printed size of the picture", "64x96mm"),
    Flag("--layout", "straight, half-drop, brick, drop:1/3 or mirrored", "half-drop"),
    Flag("--vectors", "two repeat vectors instead of --layout; one for plain stripes", "64,48 0,96 mm"),
    Flag("--up", "which ways the print may stand: one-way, two-way or any", "one-way"),
    Flag("--alike-about", "a place in the print about which it looks the same when turned as --up says", "32,48mm"),
    Flag("--print-origin", "where the print's origin lies on the cloth", "12,5mm"),
    Flag("--print-turn", "how the print is turned on the cloth, clockwise", "2deg"),
)
CLOTH_FLAGS = (
    Flag("--cloth", "width x length as measured, or the name of a cut to buy", "12x12in"),
    Flag("--state", "measured, to-buy or to-order", "measured"),
    Flag("--trim", "a strip all round that is not used", "3mm"),
    Flag("--selvedge", "a strip along both sides that is not used", "10mm"),
    Flag("--web-short", "how far the backing stops short of the edge", "3mm"),
    Flag("--outline", "the cloth's outline where it is no rectangle", "0,0 300,0 280,200 mm"),
    Flag("--change", "a change in size, across x along; minus is shrinkage", "-3%x-1.5%", repeats=True),
    Flag("--doubt", "how much smaller the cloth may turn out", "1%"),
    Flag("--flaw", "the corners of an area to keep clear of", "70,30 95,36 80,55 mm", repeats=True),
    Flag("--flaw-if-seen", "the same, but fine where it is hidden", "70,30 95,36 80,55 mm", repeats=True),
)
_PRINT_MAKERS = ("--print", "--repeat", "--vectors")
# No picture of a repeat is larger than this; a film or an archive given by mistake is refused before it is read.
_MOST_PICTURE_BYTES = 1 << 30


@dataclass(frozen=True)
class PrintMade:
    """A print with the bytes of its picture (None without one) and what is worth saying about it."""

    print: Print
    picture: bytes | None = None
    notes: tuple[Remark, ...] = ()


def print_of(given: Given) -> PrintMade | None:
    """The print the flags make; None when they speak of none. BadInput naming the flag that is wrong or disagrees."""
    if given.first_of(_PRINT_MAKERS) is None:
        if (flag := given.first_of([flag.name for flag in PRINT_FLAGS])) is not None:
            raise BadInput("flag-without", flag=flag, other="--print FILE or --repeat 64x96mm")
        return None
    if given.has("--layout") and given.has("--vectors"):
        raise BadInput("flags-disagree", first="--layout", second="--vectors")
    opened = None if (path := given.one("--print")) is None else _picture(path)
    picture, data = opened if opened is not None else (None, None)
    repeat = given.one("--repeat")
    typed_mm = None if repeat is None else parse_size(repeat, where="--repeat", like="64x96mm")
    made = Print(
        id="print-1",
        name=Path(path).stem if path is not None else "Print",
        lattice=Lattice((1.0, 0.0)),
        up=parse_up(given.one("--up") or "one-way"),
        picture=None if picture is None else picture.ref,
        alike_about_mm=_alike_about(given),
    )
    repeating = _repeating(given, made, picture, typed_mm)
    return PrintMade(repeating, data, () if picture is None else _notes(picture, repeating))


def _alike_about(given: Given) -> Point | None:
    """The place about which the print looks the same when turned; only for a print that may stand more than one way."""
    text = given.one("--alike-about")
    if text is None:
        return None
    if parse_up(given.one("--up") or "one-way") == "one-way":
        raise BadInput("flag-without", flag="--alike-about", other="--up two-way or any")
    return _point(text, "--alike-about", "32,48mm")


def _point(text: str, flag: str, like: str) -> Point:
    points = parse_points(text, where=flag, like=like)
    if len(points) != 1:
        raise BadInput("points-unreadable", where=flag, found=text[:40], like=like)
    return points[0]


def _notes(picture: OpenedPicture, made: Print) -> tuple[Remark, ...]:
    """What is worth saying about a picture, and about the size it is printed at."""
    stretched = None if made.tile_mm is None else stretch_note(picture.ref, picture.resolution, made.tile_mm)
    return picture.notes if stretched is None else (*picture.notes, stretched)


def _repeating(given: Given, made: Print, picture: OpenedPicture | None, typed_mm: Point | None) -> Print:
    """The print with its size and repeat vectors."""
    text = given.one("--vectors")
    vectors = None if text is None else parse_vectors(text)
    layout, drop_parts = parse_layout(given.one("--layout") or "straight")
    if picture is None and typed_mm is None:
        return replace(made, lattice=Lattice(*(vectors or ())), layout="vectors")
    file_mm = None if picture is None else picture.size_from_file_mm
    tile_mm, size_from = size_of_tile_mm(file_mm, typed_mm=typed_mm, where="--repeat")
    kind = "vectors" if vectors is not None else layout
    lattice = lattice_of(kind, tile_mm, drop_parts, vectors, where="--vectors" if vectors else "--repeat")
    return replace(made, lattice=lattice, layout=kind, drop_parts=drop_parts, tile_mm=tile_mm, size_from=size_from)


def _picture(path: str) -> tuple[OpenedPicture, bytes]:
    file = Path(path)
    with disk_trouble(file, reading=True):
        if not file.is_file():
            raise FileTrouble("picture-not-there", file=path[:200])
        if file.stat().st_size > _MOST_PICTURE_BYTES:
            raise BadInput("picture-file-too-large", name=file.name)
        data = file.read_bytes()
    return open_picture(data, file.name), data


def cloth_of(given: Given, made: PrintMade | None) -> Cloth | None:
    """The cloth the flags make with the print laid on it; None when they speak of no cloth.

    BadInput naming the flag that is wrong, disagrees, or says something of a cloth or print that is not given.
    """
    text = given.one("--cloth")
    if text is None:
        names = [flag.name for flag in CLOTH_FLAGS] + ["--print-origin", "--print-turn"]
        if (flag := given.first_of(names)) is not None:
            raise BadInput("flag-without", flag=flag, other="--cloth 12x12in")
        return None
    cloth = _sized(text)
    state = one_word(given, "--state", get_args(ClothState), cloth.state)
    selvedge_mm = one_length(given, "--selvedge", 0.0)
    doubt = given.one("--doubt")
    cloth = replace(
        cloth,
        state=state,
        outline_mm=_outline(given, cloth),
        trim_mm=one_length(given, "--trim", 0.0),
        selvedge_left_mm=selvedge_mm,
        selvedge_right_mm=selvedge_mm,
        web_short_mm=one_length(given, "--web-short", 0.0),
        doubt_percent=None
        if doubt is None
        else _percent(parse_percent(doubt, where="--doubt", like="1%"), "--doubt", 0),
        changes=tuple(_change(text, number) for number, text in enumerate(given.all("--change"), 1)),
        laid=None if made is None else _laid(given, made.print, state),
    )
    return replace(cloth, flaws=_flaws(given, cloth))


def _sized(text: str) -> Cloth:
    """A measured cloth for a size, a cut to buy for a name of the ladder."""
    if re.match(r"\s*[-+−.\d¼½¾⅛⅜⅝⅞⅓⅔]", text) and re.search(r"[x×*]", text.lower()):
        width_mm, length_mm = parse_size(text, where="--cloth", like="12x12in")
        return Cloth("cloth-1", "Cloth", width_mm, length_mm)
    cut = cut_named(text, where="--cloth")
    return Cloth("cloth-1", cut.name, cut.width_mm, cut.length_mm, state="to-buy", cut_name=cut.name, price=cut.price)


def _outline(given: Given, cloth: Cloth) -> Ring | None:
    """The outline, which must lie within the size given for the cloth."""
    text = given.one("--outline")
    if text is None:
        return None
    ring = checked_ring(parse_points(text, where="--outline", like="0,0 300,0 280,200 mm"), where="--outline")
    box = bounds(ring)
    far = SAME_LENGTH_MM
    if box.right_mm > cloth.width_mm + far or box.bottom_mm > cloth.length_mm + far:
        raise BadInput("outline-beyond-cloth", width_mm=cloth.width_mm, length_mm=cloth.length_mm)
    if max(abs(box.left_mm), abs(box.top_mm)) > far:
        raise BadInput("outline-off-corner", where="--outline", left_mm=box.left_mm, top_mm=box.top_mm)
    return ring


def _change(text: str, number: int) -> Change:
    across, along = parse_percent_pair(text, where="--change", like="-3%x-1.5%")
    return Change(f"Change {number}", _percent(across, "--change", -99), _percent(along, "--change", -99))


def _percent(percent: float, flag: str, least: float) -> float:
    if not least <= percent <= 99:
        raise BadInput("percent-range", where=flag, found=f"{percent:g}%", least=f"{least:g}%", most="99%")
    return percent


def _laid(given: Given, a_print: Print, state: ClothState) -> LaidPrint:
    """How the print lies: known on cloth in hand, unknown on a cut still to be bought unless its origin is given."""
    text = given.one("--print-origin")
    origin_mm = (0.0, 0.0) if text is None else _point(text, "--print-origin", "12,5mm")
    turn = given.one("--print-turn")
    turn_deg = 0.0 if turn is None else parse_angle_deg(turn, where="--print-turn", like="2deg")
    if abs(turn_deg) > 360:
        raise BadInput("angle-range", where="--print-turn", found=turn or "", like="2deg")
    return LaidPrint(a_print.id, origin_mm, turn_deg, origin_known=text is not None or state != "to-buy")


def _flaws(given: Given, cloth: Cloth) -> tuple[Flaw, ...]:
    """Flaws in the order given, those that are fine where hidden after the others."""
    texts = [(text, "--flaw") for text in given.all("--flaw")]
    texts += [(text, "--flaw-if-seen") for text in given.all("--flaw-if-seen")]
    return tuple(_flaw(text, flag, number, cloth) for number, (text, flag) in enumerate(texts, 1))


def _flaw(text: str, flag: str, number: int, cloth: Cloth) -> Flaw:
    ring = checked_ring(parse_points(text, where=flag, like="70,30 95,36 80,55 mm"), where=flag)
    if Region.of(ring).meet(Region.of(replace(cloth, changes=()).outline_now_mm())).is_empty:
        raise BadInput("flaw-beyond-cloth", where=flag, width_mm=cloth.width_mm, length_mm=cloth.length_mm)
    return Flaw(f"flaw-{number}", f"Flaw {number}", ring, fine_where_hidden=flag == "--flaw-if-seen")
