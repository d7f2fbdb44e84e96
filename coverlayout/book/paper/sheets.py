"""Sheets of paper as they are sold: by name, by the halving rule of ISO 216, or of a size of one's own."""

from __future__ import annotations

import difflib
import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.geometry.tolerance import EXACT_MM, SAME_LENGTH_MM
from coverlayout.units import check_length, parse_length, parse_size

__all__ = ["NamedSheet", "halved_mm", "known_sheets", "page_off_mm", "paper_table", "sheet_named", "tolerance_mm"]


@dataclass(frozen=True)
class NamedSheet:
    """A sheet as it is sold: its name ("" for one's own size), width and height in mm, and the source of the size."""

    name: str
    size_mm: Point
    source: str = ""


@cache
def paper_table() -> dict[str, Any]:
    """The table of papers as it is written: series, sheets, basic sizes, and what is usual."""
    text = files("coverlayout.resources").joinpath("tables/papers.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def halved_mm(size_mm: Point, halvings: int) -> Point:
    """The sheet cut in half across its longer side so many times, the half millimetre dropped each time (ISO 216).

    The shorter side comes first. For sizes in whole millimetres; 0 halvings give the sheet itself.

    >>> halved_mm((841.0, 1189.0), 4)
    (210.0, 297.0)
    """
    short, long = sorted(size_mm)
    for _ in range(halvings):
        short, long = sorted((float(long // 2), short))
    return short, long


@cache
def known_sheets() -> tuple[NamedSheet, ...]:
    """Every sheet with a name: A0 to A10, B0 to B10, then the rows of the table in their order.

    >>> [sheet.name for sheet in known_sheets()][:3], known_sheets()[15]
    (['A0', 'A1', 'A2'], NamedSheet(name='B4', size_mm=(250.0, 353.0), source='ISO 216:2007'))
    """
    series = tuple(
        NamedSheet(f"{row['name']}{number}", halved_mm(_size(row), number), row["source"])
        for row in paper_table()["series"]
        for number in range(row["halvings"] + 1)
    )
    return series + tuple(NamedSheet(row["name"], _size(row), row["source"]) for row in paper_table()["sheet"])


def _size(row: dict[str, Any]) -> Point:
    return parse_size(row["size"], where=f"papers.toml, {row['name']}", like="9x12in")


def sheet_named(text: str, *, where: str = "--paper") -> NamedSheet:
    """The sheet a maker calls by name or by its size; case and spaces are free.

    A size, width x height, that no sheet has is a sheet without a name. BadInput naming `where`: neither a name that
    is known (near ones are offered) nor a size above 0.

    >>> sheet_named("a4").size_mm, sheet_named("9x12in").name, sheet_named("200 x 300 mm")
    ((210.0, 297.0), '9 x 12 in', NamedSheet(name='', size_mm=(200.0, 300.0), source=''))
    """
    wanted = _key(text)
    if wanted in _by_key():
        return _by_key()[wanted]
    if re.search(r"\d\D*[x×*]", text.casefold()):
        return _of_size(parse_size(text, where=where, like="9x12in"))
    near = difflib.get_close_matches(wanted, list(_by_key()), n=3, cutoff=0.5)
    offered = dict.fromkeys(_by_key()[key].name for key in near) or ("A4", "letter", "9 x 12 in")
    raise BadInput("sheet-unknown", where=where, found=" ".join(text.split())[:40], near="; ".join(offered))


def _of_size(size_mm: Point) -> NamedSheet:
    """The first sheet of that size, else one without a name."""
    for sheet in known_sheets():
        if all(abs(ours - theirs) <= SAME_LENGTH_MM for ours, theirs in zip(size_mm, sheet.size_mm, strict=True)):
            return sheet
    return NamedSheet("", size_mm)


def _key(name: str) -> str:
    """A name with case, spaces and the spelling of inches and of the standard ironed out."""
    plain = re.sub(r"\s+", "", name.casefold()).replace("×", "x")
    plain = re.sub(r"(?<=\d)(inches|inch|\"|”|″)", "in", plain)
    plain = re.sub(r"^(\d+(?:\.\d+)?)(in|cm|mm)x(\d+(?:\.\d+)?)\2$", r"\1x\3\2", plain)
    return re.sub(r"^iso(?=[ab]\d)", "", plain)


@cache
def _by_key() -> dict[str, NamedSheet]:
    """Every spelling of a name; the first sheet of a name has it."""
    spelt = {row["name"]: row.get("also", []) for row in paper_table()["sheet"]}
    found: dict[str, NamedSheet] = {}
    for sheet in known_sheets():
        for name in (sheet.name, *spelt.get(sheet.name, ())):
            found.setdefault(_key(name), sheet)
    return found


def page_off_mm(sheet_mm: Point, side_mm: float) -> float:
    """How far a side of a page may be from what the sheet's size gives: for an ISO sheet as far as the standard allows.

    0 for sheets of other sizes, which are what they are called.

    >>> page_off_mm((210.0, 297.0), 148.0), page_off_mm((228.6, 304.8), 114.3)
    (1.5, 0.0)
    """
    sheet = _of_size((min(sheet_mm), max(sheet_mm)))
    series = tuple(row["name"] for row in paper_table()["series"])
    is_iso = sheet.name.startswith(series) and sheet.name[1:].isdecimal()
    return tolerance_mm(side_mm) if is_iso else 0.0


def tolerance_mm(length_mm: float) -> float:
    """How far a side of that length of an ISO sheet may be off, in mm (ISO 216: 1.5, 2 or 3 mm by its length).

    BadInput: no length above 0.

    >>> tolerance_mm(150.0), tolerance_mm(297.0), tolerance_mm(841.0)
    (1.5, 2.0, 3.0)
    """
    check_length(length_mm, where="side of the sheet", like="297mm")
    *rows, last = paper_table()["iso_tolerance"]
    for row in rows:
        if length_mm <= parse_length(row["up_to"]) + EXACT_MM:
            return parse_length(row["off"])
    return parse_length(last["off"])
