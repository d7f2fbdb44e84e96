"""How heavy paper is and how thick that makes it: grammage, basis weight, ounces, bulk, pages in an inch."""

from __future__ import annotations

import re

from coverlayout.book.paper.sheets import paper_table
from coverlayout.book.rules.table import rule
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.units import MM_PER_INCH, MM_PER_YARD, Unit, parse_length, parse_size

__all__ = [
    "basis_weight",
    "check_bulk",
    "check_gsm",
    "gsm_of_basis_weight",
    "gsm_of_ounces",
    "thickness_of",
    "thickness_of_pages_per_inch",
    "thickness_said",
    "weight_said",
]

# International pound of 1959, exactly; sixteen ounces to it.
_GRAMS_PER_POUND = 453.59237
_GRAMS_PER_OUNCE = _GRAMS_PER_POUND / 16
_SHEETS_A_REAM = 500
# Thinner than any tissue and heavier than any board: beyond them it is a slip of typing.
_LEAST_GSM, _MOST_GSM = 5.0, 2000.0
_MOST_POUNDS = 1000.0
_MOST_OUNCES = 60.0
_LEAST_PAGES_PER_INCH, _MOST_PAGES_PER_INCH = 10.0, 3000.0
_LONGEST_TEXT = 80
_BASIS_WEIGHT = re.compile(r"(?P<before>[a-z ]*?)\s*(?P<pounds>\d+(?:\.\d+)?)\s*(?:lbs?|#|pounds?)\.?\s*(?P<after>.*)")


def gsm_of_basis_weight(pounds_per_ream: float, basic_size_in: Point) -> float:
    """Grammage in g/m2 of paper of which 500 sheets of the basic size (in inches) weigh so many pounds.

    Pounds x 453.59237 g / (500 x width x height x 0.0254^2 m2): exact units. BadInput: pounds not above 0 or beyond
    1000, or a size that is none.

    >>> round(gsm_of_basis_weight(20, (17, 22)), 3), round(gsm_of_basis_weight(70, (25, 38)), 3)
    (75.195, 103.61)
    """
    width_in, height_in = basic_size_in
    _within(pounds_per_ream, 0.0, _MOST_POUNDS, "pounds a ream", "lb", above=True)
    for side_in in basic_size_in:
        _within(side_in, 0.0, 200.0, "basic size", "in", above=True)
    square_metres = _SHEETS_A_REAM * width_in * height_in * (MM_PER_INCH / 1000) ** 2
    return pounds_per_ream * _GRAMS_PER_POUND / square_metres


def weight_said(text: str, *, where: str = "--gsm") -> float:
    """Grammage in g/m2 of a weight as it is said: `80`, `80 gsm`, `4.4 oz`, or a basis weight like `20 lb bond`.

    BadInput naming `where`: none of these, or out of range.

    >>> [round(weight_said(said), 1) for said in ("80", "80,5 g/m2", "4.4 oz/yd2", "20 lb bond")]
    [80.0, 80.5, 149.2, 75.2]
    """
    plain = " ".join(text.casefold().split()).replace(",", ".")[:_LONGEST_TEXT]
    if (grams := re.fullmatch(r"(\d+(?:\.\d+)?) ?(?:g|gsm|g/m2|g/m²)?", plain)) is not None:
        return float(grams[1])
    if (ounces := re.fullmatch(r"(\d+(?:\.\d+)?) ?oz(?:/yd2|/yd²)?", plain)) is not None:
        return gsm_of_ounces(float(ounces[1]), where=where)
    return basis_weight(text, where=where)


def thickness_said(text: str, unit: Unit = "mm", *, where: str = "--sheet-thickness") -> float:
    """Thickness of a sheet in mm as a length, or from the pages in an inch: `0.1mm`, `500 ppi`.

    BadInput naming `where`.

    >>> thickness_said("0.12mm"), round(thickness_said("500 ppi"), 4)
    (0.12, 0.1016)
    """
    pages = re.fullmatch(r"(\d+(?:\.\d+)?) ?(?:ppi|pages (?:an|per|to the) inch)", " ".join(text.casefold().split()))
    if pages is not None:
        return thickness_of_pages_per_inch(float(pages[1]), where=where)
    return parse_length(text, unit, where=where, like="0.12mm", least="above 0")


def basis_weight(text: str, *, where: str = "--basis-weight") -> float:
    """Grammage in g/m2 of a basis weight as it is said: pounds with the kind of paper, or with its basic size.

    BadInput naming `where`: no weight, no kind, a kind whose basic size differs from mill to mill (bristol) and is not
    given, a kind that is not known.

    >>> [round(basis_weight(said), 1) for said in ("20 lb bond", "80# cover", "67 lb bristol 22.5x28.5in")]
    [75.2, 216.3, 146.9]
    """
    shown = " ".join(text.split())[:40]
    match = _BASIS_WEIGHT.fullmatch(" ".join(text.casefold().split())) if len(text) <= _LONGEST_TEXT else None
    if match is None:
        raise BadInput("basis-weight-unreadable", where=where, found=shown)
    pounds = float(match["pounds"])
    _within(pounds, 0.0, _MOST_POUNDS, where, "lb", above=True)
    return gsm_of_basis_weight(pounds, _basic_size_in(f"{match['before']} {match['after']}".strip(), where, shown))


def _basic_size_in(kind: str, where: str, shown: str) -> Point:
    """The basic size in inches: as given after the kind, else that of the kind."""
    size = re.search(r"\d.*", kind)
    if size:
        width_mm, height_mm = parse_size(size[0], "in", where=where, like="22.5x28.5in")
        return width_mm / MM_PER_INCH, height_mm / MM_PER_INCH
    if any(name in kind.split() for name in paper_table()["without_basic_size"]):
        raise BadInput("basis-weight-needs-size", where=where, found=shown, kind=kind)
    for row in paper_table()["basic_size"]:
        if kind in (row["name"], *row.get("also", ())):
            width_mm, height_mm = parse_size(row["size"], where="papers.toml", like="17x22in")
            return width_mm / MM_PER_INCH, height_mm / MM_PER_INCH
    known = ", ".join(row["name"] for row in paper_table()["basic_size"])
    raise BadInput("basis-weight-kind", where=where, found=shown, known=known)


def gsm_of_ounces(ounces_per_yd2: float, *, where: str = "weight") -> float:
    """Grammage in g/m2 of a cloth or paper that weighs so many ounces a square yard (exact units).

    BadInput: not above 0, or beyond 60.

    >>> round(gsm_of_ounces(4.4), 4)
    149.1853
    """
    _within(ounces_per_yd2, 0.0, _MOST_OUNCES, where, "oz/yd2", above=True)
    return ounces_per_yd2 * _GRAMS_PER_OUNCE / (MM_PER_YARD / 1000) ** 2


def thickness_of(gsm: float, bulk: float) -> float:
    """Thickness of one sheet in mm from its grammage in g/m2 and its bulk in cm3/g: their product / 1000.

    ISO 534 names the bulk (specific volume). BadInput for figures out of their ranges.

    >>> round(thickness_of(80, 1.5), 6), round(thickness_of(80, 1.25), 6)
    (0.12, 0.1)
    """
    check_gsm(gsm)
    check_bulk(bulk)
    return gsm * bulk / 1000


def thickness_of_pages_per_inch(pages_per_inch: float, *, where: str = "pages in an inch") -> float:
    """Thickness of one sheet in mm when so many pages (two a leaf) make an inch; BadInput out of 10 to 3000.

    >>> round(thickness_of_pages_per_inch(500), 4)
    0.1016
    """
    _within(pages_per_inch, _LEAST_PAGES_PER_INCH, _MOST_PAGES_PER_INCH, where, "")
    return 2 * MM_PER_INCH / pages_per_inch


def check_gsm(gsm: float, *, where: str = "weight of the paper") -> None:
    """Nothing, or BadInput naming `where`: from 5 to 2000 g/m2."""
    _within(gsm, _LEAST_GSM, _MOST_GSM, where, "g/m2")


def check_bulk(bulk: float, *, where: str = "bulk of the paper") -> None:
    """Nothing, or BadInput naming `where` and the range in cm3/g that the table of rules accepts."""
    row = rule("bulk", "separate-boards")
    _within(bulk, row.least, row.most, where, "cm3/g")


def _within(number: float, least: float, most: float, where: str, unit: str, *, above: bool = False) -> None:
    """Nothing, or BadInput: not from `least` to `most` (NaN never is), or not above `least`."""
    if not least <= number <= most or (above and number <= least):
        code = "paper-figure-above" if above else "paper-figure-range"
        shown = {"least": f"{least:g}", "most": f"{most:g} {unit}".rstrip()}
        raise BadInput(code, where=where, found=f"{number:g}", **shown)
