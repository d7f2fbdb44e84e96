"""The ladder of cuts that cloth is sold in: read from a table, with each fault told by its row, and found by name."""

from __future__ import annotations

import difflib
import math
import re
import tomllib
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files

from coverlayout.errors import BadInput, Remark
from coverlayout.settings import cut_table_path, own_cut_table
from coverlayout.units import parse_length

__all__ = ["Cut", "cut_named", "ladder", "ladder_in_use", "swapped_note"]

_KEYS = {"name", "width", "length", "of", "source", "price"}
_NEEDED = ("name", "width", "length")
_MOST_ROWS = 1000
_LONGEST_NAME = 60
# A hand-measured cut is called by its ladder's name within this: half an eighth of an inch.
_NEAR_MM = 1.6


@dataclass(frozen=True)
class Cut:
    """A cut as it is sold: width (selvedge to selvedge, or to the centre) x length in mm.

    `name` tells it from all others and ends in the cloth's width where that matters; `of` is that width as written,
    empty for none. `price` in the maker's currency, None when not known.
    """

    name: str
    width_mm: float
    length_mm: float
    of: str = ""
    source: str = ""
    price: float | None = None

    @property
    def area_mm2(self) -> float:
        """Width times length, in square millimetres."""
        return self.width_mm * self.length_mm


def ladder(text: str | None = None, *, where: str = "cuts.toml") -> tuple[Cut, ...]:
    """The cuts of a table in TOML, in its order; without a text those that come with the program.

    BadInput, naming `where` and the row: no TOML, no rows or too many, a field that is missing, unknown or of the wrong
    kind, a size that is no length above 0, a price below 0, a name that stands twice.

    >>> [(cut.name, cut.width_mm, cut.length_mm) for cut in ladder() if cut.name == "fat quarter, 44 in"]
    [('fat quarter, 44 in', 558.8, 457.2)]
    """
    return _built_in() if text is None else _read(text, where)


def ladder_in_use() -> tuple[Cut, ...]:
    """The maker's own ladder where there is one (see settings), else the one that comes with the program."""
    text = own_cut_table()
    return _built_in() if text is None else _read(text, str(cut_table_path()))


@cache
def _built_in() -> tuple[Cut, ...]:
    text = files("coverlayout.resources").joinpath("tables/cuts.toml").read_text(encoding="utf-8")
    return _read(text, "cuts.toml")


@lru_cache(maxsize=8)
def _read(text: str, where: str) -> tuple[Cut, ...]:
    try:
        table = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as fault:
        raise BadInput("cuts-no-toml", where=where, why=str(fault).splitlines()[0][:120]) from fault
    rows = table.get("cut")
    if not isinstance(rows, list) or not 1 <= len(rows) <= _MOST_ROWS:
        raise BadInput("cuts-no-rows", where=where, most=_MOST_ROWS)
    cuts = tuple(_cut(row, f"{where}, row {number}") for number, row in enumerate(rows, start=1))
    seen: set[str] = set()
    for number, cut in enumerate(cuts, start=1):
        if cut.name.casefold() in seen:
            raise BadInput("cut-twice", where=f"{where}, row {number}", name=cut.name)
        seen.add(cut.name.casefold())
    return cuts


def _cut(row: object, where: str) -> Cut:
    if not isinstance(row, dict):
        raise BadInput("cut-no-row", where=where)
    for field in row:
        if field not in _KEYS:
            raise BadInput("cut-field-unknown", where=where, field=field[:40], known=", ".join(sorted(_KEYS)))
    for field in _NEEDED:
        if field not in row:
            raise BadInput("cut-field-missing", where=where, field=field)
    words = {field: _word(row.get(field, ""), f"{where}: {field}") for field in _KEYS - {"price"}}
    name, of = words["name"], words["of"]
    if not name or len(name) > _LONGEST_NAME:
        raise BadInput("cut-name", where=where, most=_LONGEST_NAME)
    if of:
        parse_length(of, "in", where=f"{where} ({name}): of", like="44 in", least="above 0")
    return Cut(
        name=f"{name}, {of}" if of else name,
        width_mm=parse_length(words["width"], "in", where=f"{where} ({name}): width", like="22 in", least="above 0"),
        length_mm=parse_length(words["length"], "in", where=f"{where} ({name}): length", like="18 in", least="above 0"),
        of=of,
        source=words["source"],
        price=_price(row.get("price"), f"{where} ({name})"),
    )


def _word(value: object, where: str) -> str:
    if not isinstance(value, str):
        raise BadInput("cut-field-no-text", where=where)
    return " ".join(value.split())


def _price(value: object, where: str) -> float | None:
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value) or value < 0:
        raise BadInput("cut-price", where=where, found=str(value)[:40])
    return float(value)


def cut_named(text: str, cuts: tuple[Cut, ...] | None = None, *, where: str = "--cloth") -> Cut:
    """The cut a maker calls by name, like `fat quarter, 44in`; spaces, case and the way the width is written are free.

    Looks in `cuts`, else in the ladder in use. BadInput naming `where`: no such cut (near names are offered), or a name
    that needs the cloth's width.

    >>> cut_named("Fat Quarter, 44in", ladder()).name
    'fat quarter, 44 in'
    """
    known = ladder_in_use() if cuts is None else cuts
    wanted = _key(text)
    for cut in known:
        if _key(cut.name) == wanted:
            return cut
    widths = [cut.of for cut in known if cut.of and _key(cut.name.removesuffix(f", {cut.of}")) == wanted]
    if widths:
        like = f"{' '.join(text.split())}, {widths[0]}"
        raise BadInput("cut-needs-width", where=where, found=text.strip()[:60], widths=", ".join(widths), like=like)
    near = difflib.get_close_matches(wanted, [_key(cut.name) for cut in known], n=3, cutoff=0.5)
    offered = [cut.name for key in near for cut in known if _key(cut.name) == key] or [cut.name for cut in known[:3]]
    raise BadInput("cut-unknown", where=where, found=text.strip()[:60], near="; ".join(offered))


def _key(name: str) -> str:
    """A name with case, spaces and the spelling of inches ironed out."""
    plain = re.sub(r"[\s,]+", "", name.casefold())
    return re.sub(r"(?<=\d)(inches|inch|\"|”|″)$", "in", plain)


def swapped_note(width_mm: float, length_mm: float, cuts: tuple[Cut, ...] | None = None) -> Remark | None:
    """A note when a typed size is a cut of the ladder with warp and weft swapped: 18 x 22 in for a fat quarter.

    None when the size is on the ladder as typed, is square, or is on no rung either way.

    >>> swapped_note(457.2, 558.8, ladder()).code, swapped_note(558.8, 457.2, ladder())
    ('cloth-swapped', None)
    """
    known = ladder_in_use() if cuts is None else cuts
    if _rung(known, width_mm, length_mm) is not None:
        return None
    turned = _rung(known, length_mm, width_mm)
    if turned is None:
        return None
    return Remark.of("cloth-swapped", name=turned.name, room_width_mm=turned.width_mm, room_length_mm=turned.length_mm)


def _rung(cuts: tuple[Cut, ...], width_mm: float, length_mm: float) -> Cut | None:
    for cut in cuts:
        if abs(cut.width_mm - width_mm) <= _NEAR_MM and abs(cut.length_mm - length_mm) <= _NEAR_MM:
            return cut
    return None
