"""From the flags of the paper to the paper a block is folded from."""

from __future__ import annotations

import re
from collections.abc import Sequence

from coverlayout.app.flags import Flag, Given, as_number, one_length, one_word, shared_lengths
from coverlayout.book.book import Grain, Paper
from coverlayout.book.paper.sheets import sheet_named
from coverlayout.book.paper.weight import basis_weight
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.units import parse_size, split_parts

__all__ = ["PAPER_FLAGS", "paper_of"]

PAPER_FLAGS = (
    Flag("--paper", "the sheet of paper: its size, or a name like A3, letter", "9x12in"),
    Flag("--sheets", "how many sheets are in hand", "16"),
    Flag("--pages", "how many pages are wanted, instead of --sheets", "120"),
    Flag("--cut", "parts along the sheet's longer side x parts along its shorter (1x1)", "2x1"),
    Flag("--folds", "how often a cut piece is folded (1)", "1"),
    Flag("--per-section", "cut pieces folded into each other to a section", "4"),
    Flag("--sheet-thickness", "thickness of the paper", "0.12mm"),
    Flag("--gsm", "weight of the paper in g/m2, instead of its thickness", "80"),
    Flag("--basis-weight", "weight of the paper in pounds with its kind or basic size", "70 lb book"),
    Flag("--bulk", "how thick the paper is for its weight, in cm3/g", "1.5"),
    Flag("--grain", "along the sheet's longer or shorter side: long, short or unknown (unknown)", "long"),
    Flag("--page-trim", "what is trimmed off: one figure, or head x tail x fore-edge", "3x3x5mm"),
    Flag("--swell", "what the thread adds for each section at the spine", "0.2mm"),
)
_GRAINS: tuple[Grain, ...] = ("long", "short", "unknown")
# More than any bench could bind; beyond it a slip of typing is certain.
_MOST_SHEETS = 1_000_000


def paper_of(given: Given, page_mm: Point | None) -> Paper | None:
    """The paper the flags speak of; None when they speak of none.

    Without --paper, pages and sheets are counted on paper that opens to twice the page's width. BadInput naming the
    flag: what cannot be read, two flags that disagree, or a flag that needs another.
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
    name, sheet_mm = _sheet(given, page_mm)
    head_mm, tail_mm, fore_edge_mm = _trims(given.one("--page-trim"))
    return Paper(
        sheet_mm=sheet_mm,
        sheet_name=name,
        grain=one_word(given, "--grain", _GRAINS, "unknown"),
        thickness_mm=one_length(given, "--sheet-thickness", 0.0, "above 0") if given.has("--sheet-thickness") else None,
        gsm=_gsm(given),
        bulk=_number(given, "--bulk", "1.5", 20.0),
        sheets=_count(given, "--sheets", "16"),
        pages=_count(given, "--pages", "120"),
        cut=_cut(given.one("--cut")),
        folds=_folds(given),
        per_section=_count(given, "--per-section", "4"),
        trim_head_mm=head_mm,
        trim_tail_mm=tail_mm,
        trim_fore_edge_mm=fore_edge_mm,
        swell_mm=one_length(given, "--swell", 0.0) if given.has("--swell") else None,
    )


def _only_one(given: Given, first: str, second: str) -> None:
    if given.has(first) and given.has(second):
        raise BadInput("flags-disagree", first=first, second=second)


def _sheet(given: Given, page_mm: Point | None) -> tuple[str, Point]:
    text = given.one("--paper")
    if text is None:
        assert page_mm is not None
        folds = _folds(given)
        # So large that the cut and folded piece is the page: each cut and fold doubles back one side of it.
        along, across = _cut(given.one("--cut"))
        return "", _unfolded(page_mm, folds, along, across)
    if re.match(r"\s*[\d.½¼¾⅛⅜⅝⅞⅓⅔]+", text):
        return "", parse_size(text, where="--paper", like="9x12in")
    sheet = sheet_named(text, where="--paper")
    return sheet.name, sheet.size_mm


def _unfolded(page_mm: Point, folds: int, along: int, across: int) -> Point:
    width, height = page_mm
    for _ in range(folds):
        width, height = height, width * 2
    longer, shorter = max(width, height), min(width, height)
    return longer * along, shorter * across


def _gsm(given: Given) -> float | None:
    text = given.one("--basis-weight")
    return _number(given, "--gsm", "80", 5000.0) if text is None else basis_weight(text, where="--basis-weight")


def _number(given: Given, flag: str, like: str, most: float) -> float | None:
    text = given.one(flag)
    return None if text is None else as_number(text, flag=flag, like=like, most=most)


def _count(given: Given, flag: str, like: str) -> int | None:
    text = given.one(flag)
    return None if text is None else int(as_number(text, flag=flag, like=like, most=_MOST_SHEETS, whole=True))


def _folds(given: Given) -> int:
    text = given.one("--folds")
    if text is None:
        return 1
    return 0 if text.strip() == "0" else int(as_number(text, flag="--folds", like="1", most=6, whole=True))


def _cut(text: str | None) -> tuple[int, int]:
    if text is None:
        return 1, 1
    parts: Sequence[str] = split_parts(text, 2, where="--cut", like="2x1")
    along, across = (int(as_number(part, flag="--cut", like="2x1", most=100, whole=True)) for part in parts)
    return along, across


def _trims(text: str | None) -> tuple[float, float, float]:
    if text is None:
        return 0.0, 0.0, 0.0
    like = "3x3x5mm"
    if not re.search(r"[x×]", text.lower()):
        (each,) = shared_lengths([text], "--page-trim", "3mm")
        return each, each, each
    head, tail, fore_edge = shared_lengths(split_parts(text, 3, where="--page-trim", like=like), "--page-trim", like)
    return head, tail, fore_edge
