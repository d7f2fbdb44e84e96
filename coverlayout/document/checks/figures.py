"""Every figure of a record in its range: one row a figure that is not free."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, is_dataclass

from coverlayout.book.book import Book, Label, OwnPiece, Paper, PartOfBook, Sewing, ThreadColour, TurnIns, Volume
from coverlayout.book.checks import MOST_COPIES
from coverlayout.cloth.cloth import Change, Cloth, Flaw
from coverlayout.document.project import JobRules, Price, Project, Stock
from coverlayout.errors import BadInput
from coverlayout.motif.prints import LaidPrint, PictureRef, Print
from coverlayout.units import LONGEST_MM, LengthStyle

__all__ = ["check_figures", "free_name", "name_of"]

_LONGEST_NAME = 2000
_LONGEST_SHOWN = 60
_LARGEST_FIGURE = 1e9
# More sheets or pages than a bench could ever bind.
_MOST_SHEETS = 1_000_000


@dataclass(frozen=True)
class _Range:
    """What a figure may be; `above` excludes its own value."""

    least: float = -math.inf
    most: float = math.inf
    above: float = -math.inf

    def holds(self, number: float) -> bool:
        return self.least <= number <= self.most and number > self.above


_ABOVE_0, _FROM_0 = _Range(above=0.0), _Range(least=0.0)
_PERCENT = _Range(above=-100.0, most=1000.0)
_COUNT = _Range(least=1, most=MOST_COPIES)
# One row a figure that is not free; free ones need only be finite and no longer than LONGEST_MM.
_RANGES: dict[type, dict[str, _Range]] = {
    Cloth: {
        "width_mm": _ABOVE_0,
        "length_mm": _ABOVE_0,
        "trim_mm": _FROM_0,
        "selvedge_left_mm": _FROM_0,
        "selvedge_right_mm": _FROM_0,
        "web_short_mm": _FROM_0,
        "doubt_percent": _Range(least=0.0, most=99.0),
        "price": _FROM_0,
    },
    Change: {"across_percent": _PERCENT, "along_percent": _PERCENT},
    Flaw: {"line_width_mm": _FROM_0},
    LaidPrint: {
        "stretch_across_percent": _PERCENT,
        "stretch_along_percent": _PERCENT,
        "skew_percent": _Range(least=-100.0, most=100.0),
    },
    Print: {"tile_mm": _ABOVE_0, "drop_parts": _Range(least=2, most=100)},
    PictureRef: {"width_px": _Range(least=1), "height_px": _Range(least=1)},
    Book: {
        "page_mm": _ABOVE_0,
        "board_mm": _ABOVE_0,
        "block_mm": _ABOVE_0,
        "board_ratio": _ABOVE_0,
        "board_thickness_mm": _ABOVE_0,
        "board_setback_mm": _FROM_0,
        "square_mm": _FROM_0,
        "tail_square_mm": _FROM_0,
        "joint_mm": _FROM_0,
        "spine_width_mm": _ABOVE_0,
        "spine_rise_mm": _FROM_0,
        "spine_on_board_mm": _ABOVE_0,
        "corner_leg_mm": _ABOVE_0,
        "side_lap_mm": _FROM_0,
        "hinge_mm": _ABOVE_0,
        "fore_edge_flap_mm": _FROM_0,
        "turned_in_flap_mm": _FROM_0,
        "slipcase_clearance_mm": _FROM_0,
        "liner_inset_mm": _FROM_0,
    },
    Paper: {
        "sheet_mm": _ABOVE_0,
        "thickness_mm": _ABOVE_0,
        "gsm": _Range(above=0.0, most=5000.0),
        "bulk": _Range(above=0.0, most=20.0),
        "sheets": _Range(least=0, most=_MOST_SHEETS),
        "pages": _Range(least=0, most=_MOST_SHEETS),
        "cut": _Range(least=1, most=100),
        "folds": _Range(least=0, most=6),
        "per_section": _Range(least=1, most=1000),
        "trim_head_mm": _FROM_0,
        "trim_tail_mm": _FROM_0,
        "trim_fore_edge_mm": _FROM_0,
        "swell_mm": _FROM_0,
        "price": _FROM_0,
    },
    Label: {
        "width_mm": _ABOVE_0,
        "height_mm": _ABOVE_0,
        "from_head_mm": _FROM_0,
        "from_spine_mm": _FROM_0,
        "margin_mm": _FROM_0,
    },
    Sewing: {
        "count": _Range(least=1, most=200),
        "end_mm": _FROM_0,
        "pair_mm": _ABOVE_0,
        "own_mm": _FROM_0,
        "hole_from_spine_mm": _FROM_0,
        "tail_mm": _FROM_0,
    },
    ThreadColour: {"sections": _Range(least=1, most=_MOST_SHEETS), "price": _FROM_0},
    Stock: {"width_mm": _FROM_0, "length_mm": _ABOVE_0, "thickness_mm": _ABOVE_0, "price": _FROM_0},
    TurnIns: dict.fromkeys(("head_mm", "tail_mm", "spine_mm", "fore_edge_mm"), _FROM_0),
    Volume: {"number": _Range(least=1), "thickness_mm": _ABOVE_0},
    PartOfBook: {"count": _COUNT, "width_mm": _ABOVE_0},
    OwnPiece: {"count": _COUNT, "width_mm": _FROM_0, "height_mm": _FROM_0},
    JobRules: {"gap_mm": _FROM_0, "spare_wish_mm": _FROM_0},
    Price: {"amount": _FROM_0},
    LengthStyle: {"mm_step": _ABOVE_0, "inch_parts": _Range(least=0, most=64)},
    Project: {"next_number": _Range(least=1), "next_volume_number": _Range(least=1)},
}


def free_name(name: str, taken: Iterable[str]) -> str:
    """The name itself while nothing bears it, else with the next number behind it that is free.

    >>> free_name("crease", []), free_name("crease", ["crease"]), free_name("zone 1", ["zone 1", "zone 2"])
    ('crease', 'crease 2', 'zone 3')
    """
    names = set(taken)
    if name not in names:
        return name
    stem, _, end = name.rpartition(" ")
    counted = bool(stem) and end.isascii() and end.isdigit() and len(end) < 6
    stem, number = (stem, int(end)) if counted else (name, 1)
    return next(found for k in range(number + 1, number + len(names) + 2) if (found := f"{stem} {k}") not in names)


def name_of(part: object) -> str:
    """What to call a record in a sentence: its name, on one line and not too long."""
    for name in ("name", "id", "piece", "cut_name"):
        found = getattr(part, name, None)
        if found:
            shown = "".join(letter if letter.isprintable() else "?" for letter in str(found))
            return shown if len(shown) <= _LONGEST_SHOWN else shown[: _LONGEST_SHOWN - 3] + "..."
    return type(part).__name__.lower()


def check_figures(part: object, where: str, *, deep: bool = True) -> None:
    """Every number of the record, and of the records in it, is finite and in its range; every text is short enough."""
    ranges = _RANGES.get(type(part), {})
    for field in fields(part):  # type: ignore[arg-type]  # only dataclasses come here
        value = getattr(part, field.name)
        for number in _leaves(value):
            _check_leaf(number, field.name, ranges.get(field.name, _Range()), where)
        if deep and field.name != "unknown":
            for inner in value if isinstance(value, tuple) else (value,):
                if is_dataclass(inner):
                    check_figures(inner, where)


def _leaves(value: object) -> Iterator[object]:
    """Every number and text in nested tuples; records inside are left out."""
    if isinstance(value, tuple):
        for inner in value:
            yield from _leaves(inner)
    elif isinstance(value, (int, float, str)):
        yield value


def _check_leaf(value: object, field: str, allowed: _Range, where: str) -> None:
    label = field.replace("_mm", "").replace("_percent", "").replace("_", " ")
    if isinstance(value, str):
        # Half a letter, as the name of a file from elsewhere may hold it, cannot be written down; a sign that steers a
        # terminal or breaks a line has no place in a name.
        if field != "unknown" and any(unicodedata.category(letter) in ("Cc", "Cs") for letter in value):
            raise BadInput("text-odd", where=where, what=label)
        if field not in ("unknown", "sentence") and len(value) > _LONGEST_NAME:
            raise BadInput("text-too-long", where=where, what=label, limit=_LONGEST_NAME)
        return
    assert isinstance(value, (int, float)), value
    number = value
    if isinstance(number, float) and not math.isfinite(number):
        raise BadInput("figure-not-finite", where=where, what=label)
    if abs(number) > (LONGEST_MM if field.endswith("_mm") else _LARGEST_FIGURE):
        raise BadInput("figure-absurd", where=where, what=label)
    if not allowed.holds(number):
        raise BadInput("figure-out-of-range", where=where, what=label, found=f"{number:g}", wanted=_wanted(allowed))


def _wanted(allowed: _Range) -> str:
    """The range in words."""
    if allowed.above == 0.0:
        return "above 0"
    least = f"above {allowed.above:g}" if math.isfinite(allowed.above) else f"{allowed.least:g} or more"
    return least if math.isinf(allowed.most) else f"{least}, at most {allowed.most:g}"
