"""From the flags of the paper to the paper a block is folded from."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal

from coverlayout.app.flags import Flag, Given, as_number, one_length, one_word
from coverlayout.book.book import Grain, Paper, Structure
from coverlayout.book.paper.ranges import MOST_FOLDS, MOST_PARTS, MOST_SHEETS
from coverlayout.book.paper.sheets import sheet_named
from coverlayout.book.paper.weight import basis_weight, thickness_said
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.units import parse_length, parse_lengths, split_parts

__all__ = ["PAPER_FLAGS", "paper_of"]

PAPER_FLAGS = (
    Flag("--paper", "the sheet of paper: its size, or a name like A3, letter", "9x12in"),
    Flag("--sheets", "how many sheets are in hand", "16"),
    Flag("--pages", "how many pages are wanted, instead of --sheets", "120"),
    Flag("--cut", "parts along the sheet's longer side x parts along its shorter (1x1)", "2x1"),
    Flag("--folds", "how often a cut piece is folded (1)", "1"),
    Flag("--spine-along", "the side of the last folded piece, or of a leaf, that the spine lies along", "longer"),
    Flag("--per-section", "cut pieces folded into each other to a section", "4"),
    Flag("--sheet-thickness", "thickness of the paper, or the pages in an inch, 500 ppi", "0.12mm"),
    Flag("--gsm", "weight of the paper in g/m2, instead of its thickness", "80"),
    Flag("--basis-weight", "weight of the paper in pounds with its kind or basic size", "70 lb book"),
    Flag("--bulk", "how thick the paper is for its weight, in cm3/g", "1.5"),
    Flag("--grain", "along the sheet's longer or shorter side: long, short or unknown (unknown)", "long"),
    Flag("--page-trim", "what is trimmed off: one figure, or head x tail x fore-edge", "3x3x5mm"),
    Flag("--swell", "what the thread adds for each section at the spine", "0.2mm"),
)
_Along = Literal["longer", "shorter"]
_SIDES: tuple[_Along, ...] = ("longer", "shorter")
_GRAINS: tuple[Grain, ...] = ("long", "short", "unknown")


def paper_of(given: Given, page_mm: Point | None, structure: Structure = "separate-boards") -> Paper | None:
    """The paper the flags speak of; None when they speak of none.

    Without --paper, pages and sheets are counted on paper just large enough for the page and its trims. BadInput naming
    the flag: what cannot be read, two flags that disagree, or a flag that needs another.
    """
    found = given.first_of([flag.name for flag in PAPER_FLAGS])
    if found is None:
        return None
    if not given.has("--paper") and page_mm is None:
        raise BadInput("flag-without", flag=found, other="--paper 9x12in")
    for first, second in (("--sheets", "--pages"), ("--sheet-thickness", "--gsm"), ("--sheet-thickness", "--bulk")):
        _only_one(given, first, second)
    for other in ("--gsm", "--sheet-thickness"):
        _only_one(given, other, "--basis-weight")
    head_mm, tail_mm, fore_edge_mm = _trims(given.one("--page-trim"))
    folds, cut = _folds(given), _cut(given.one("--cut"))
    along = one_word(given, "--spine-along", _SIDES, "longer") if given.has("--spine-along") else None
    if page_mm is None or given.has("--paper"):
        name, sheet_mm = _sheet(given.one("--paper") or "")
    else:
        untrimmed_mm = page_mm[0] + fore_edge_mm, page_mm[1] + head_mm + tail_mm
        along = along or _spine_along(untrimmed_mm, folds, structure)
        long_mm, short_mm = _unfolded(untrimmed_mm, folds, along, structure, found)
        name, sheet_mm = "", (long_mm * cut[0], short_mm * cut[1])
    return Paper(
        sheet_mm=sheet_mm,
        sheet_name=name,
        grain=one_word(given, "--grain", _GRAINS, "unknown"),
        thickness_mm=None if (thick := given.one("--sheet-thickness")) is None else thickness_said(thick),
        gsm=_gsm(given),
        bulk=_number(given, "--bulk", "1.5", 20.0),
        sheets=_count(given, "--sheets", "16"),
        pages=_count(given, "--pages", "120"),
        cut=cut,
        folds=folds,
        spine_along=along,
        per_section=_count(given, "--per-section", "4"),
        trim_head_mm=head_mm,
        trim_tail_mm=tail_mm,
        trim_fore_edge_mm=fore_edge_mm,
        swell_mm=one_length(given, "--swell", 0.0) if given.has("--swell") else None,
    )


def _only_one(given: Given, first: str, second: str) -> None:
    if given.has(first) and given.has(second):
        raise BadInput("flags-disagree", first=first, second=second)


def _sheet(text: str) -> tuple[str, Point]:
    sheet = sheet_named(text, where="--paper")
    return sheet.name, sheet.size_mm


def _spine_along(page_mm: Point, folds: int, structure: Structure) -> _Along | None:
    """The side the spine lies along where such a page does not come the usual way, as a leaf that lies sideways."""
    width, height = page_mm
    if structure == "accordion" and folds:
        return "longer" if width * 2**folds < height else None
    if folds == 0:
        return "shorter" if width > height else None
    return "longer" if 2 * width < height else None


def _unfolded(page_mm: Point, folds: int, along: _Along | None, structure: Structure, flag: str) -> Point:
    """The piece that gives this page, longer side first: each fold doubles its width back. BadInput: none ever does."""
    width, height = page_mm
    if structure == "accordion" and folds:
        width *= 2**folds
        comes = (width >= height) == (along != "longer")
    elif folds == 0:
        comes = (height >= width) == (along != "shorter")
    else:
        comes = (2 * width >= height) == (along != "longer")
        for fold in range(folds):
            comes = comes and (fold == 0 or 2 * width >= height)
            width, height = height, width * 2
    if not comes:
        raise BadInput("page-not-folded", flag=flag, width_mm=page_mm[0], height_mm=page_mm[1])
    return max(width, height), min(width, height)


def _gsm(given: Given) -> float | None:
    text = given.one("--basis-weight")
    return _number(given, "--gsm", "80", 5000.0) if text is None else basis_weight(text, where="--basis-weight")


def _number(given: Given, flag: str, like: str, most: float) -> float | None:
    text = given.one(flag)
    return None if text is None else as_number(text, flag=flag, like=like, most=most)


def _count(given: Given, flag: str, like: str) -> int | None:
    text = given.one(flag)
    return None if text is None else int(as_number(text, flag=flag, like=like, most=MOST_SHEETS, whole=True))


def _folds(given: Given) -> int:
    text = given.one("--folds")
    if text is None:
        return 1
    plain = text.strip()
    if not (plain.isdecimal() and plain.isascii() and len(plain) < 3 and int(plain) <= MOST_FOLDS):
        raise BadInput("count-out-of-range", where="--folds", found=plain[:20], least=0, most=MOST_FOLDS)
    return int(plain)


def _cut(text: str | None) -> tuple[int, int]:
    if text is None:
        return 1, 1
    parts: Sequence[str] = split_parts(text, 2, where="--cut", like="2x1")
    along, across = (int(as_number(part, flag="--cut", like="2x1", most=MOST_PARTS, whole=True)) for part in parts)
    return along, across


def _trims(text: str | None) -> tuple[float, float, float]:
    if text is None:
        return 0.0, 0.0, 0.0
    like = "3x3x5mm"
    if not re.search(r"[x×]", text.lower()):
        each = parse_length(text, where="--page-trim", like="3mm", least="0")
        return each, each, each
    parts = split_parts(text, 3, where="--page-trim", like=like)
    head, tail, fore_edge = parse_lengths(parts, where="--page-trim", like=like)
    return head, tail, fore_edge
