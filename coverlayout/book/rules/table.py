"""The table of rules: what a figure is where the maker gives none, its range, what is usual, and the source."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from coverlayout.book.book import SpinePiece, Structure
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.units import Unit, check_length, parse_length

__all__ = ["Rule", "all_rules", "rule"]

_KEYS_OF_LENGTHS = ("value", "inch", "least", "most", "usual_least", "usual_most")


@dataclass(frozen=True)
class Rule:
    """One row: a length in mm, a plain number (a count, a bulk), or `times` another figure.

    `inch_mm_mm` is the nice number of the inch table, in mm. An empty tuple of structures or spine pieces means all.
    """

    name: str
    value: float
    inch_mm: float
    times: float | None
    of: str
    least: float
    most: float
    usual_least: float
    usual_most: float
    hint: str
    source: str
    is_length: bool
    structures: tuple[str, ...] = ()
    spine_pieces: tuple[str, ...] = ()

    def figure(self, of_mm: float = 0.0) -> float:
        """The figure itself; for a rule that multiplies, so many times `of_mm`.

        >>> rule("mitre distance", "flat-case").figure(2.0)
        3.0
        """
        return self.value if self.times is None else self.times * of_mm

    def nice_mm(self, unit: Unit, of_mm: float = 0.0) -> float:
        """The default for those who think in that unit: 5/8 in for a turn-in of 15 mm.

        >>> rule("turn-in", "flat-case").nice_mm("in"), rule("turn-in", "flat-case").nice_mm("mm")
        (15.875, 15.0)
        """
        return self.inch_mm if unit == "in" and self.times is None else self.figure(of_mm)

    def accepts(self, figure: float) -> bool:
        """True within the range that can be used at all."""
        return self.least - SAME_LENGTH_MM <= figure <= self.most + SAME_LENGTH_MM

    def unusual(self, figure: float) -> bool:
        """True for a figure that is worth a remark, and refused by nobody.

        >>> rule("turn-in", "flat-case").unusual(4.0), rule("turn-in", "flat-case").unusual(15.0)
        (True, False)
        """
        return not self.usual_least - SAME_LENGTH_MM <= figure <= self.usual_most + SAME_LENGTH_MM

    def check(self, length_mm: float, *, where: str) -> float:
        """The length as it came; BadInput naming `where`: no length, or out of the range that can be used at all.

        >>> rule("turn-in", "flat-case").check(15.0, where="Ledger: turn-in")
        15.0
        """
        check_length(length_mm, where=where, like=f"{self.figure(2.0):g}mm", least="any")
        if self.accepts(length_mm):
            return length_mm
        raise BadInput(
            "figure-range",
            where=where,
            found_exact_mm=length_mm,
            least_exact_mm=self.least,
            most_exact_mm=self.most,
        )

    def unusual_said(self, length_mm: float, *, book: str, figure: str = "") -> Remark:
        """What is said of an unusual length of that book; `figure` is what it is called, if not by the rule's name."""
        return Remark.of(
            "figure-unusual",
            book=book,
            figure=figure or self.name,
            found_exact_mm=length_mm,
            least_exact_mm=self.usual_least,
            most_exact_mm=self.usual_most,
        )


@cache
def rule(name: str, structure: Structure, spine_piece: SpinePiece | None = None) -> Rule:
    """The first row of that name for this structure and spine piece. KeyError: no such row (a fault of the program).

    >>> rule("square", "separate-boards").value, rule("square", "flat-case").value
    (0.0, 3.0)
    """
    for row in all_rules():
        of_structure = not row.structures or structure in row.structures
        of_spine = not row.spine_pieces or spine_piece in row.spine_pieces
        if row.name == name and of_structure and of_spine:
            return row
    raise KeyError(name)


@cache
def all_rules() -> tuple[Rule, ...]:
    """Every row, in the order of the table."""
    text = files("coverlayout.resources").joinpath("tables/rules.toml").read_text(encoding="utf-8")
    return tuple(_rule(row) for row in tomllib.loads(text)["rule"])


def _rule(row: dict[str, Any]) -> Rule:
    is_length = "unit" not in row
    figures = {key: _figure(row, key, is_length) for key in _KEYS_OF_LENGTHS if key in row}
    return Rule(
        name=row["name"],
        value=figures.get("value", 0.0),
        inch_mm=figures.get("inch", figures.get("value", 0.0)),
        times=row.get("times"),
        of=row.get("of", ""),
        least=figures["least"],
        most=figures["most"],
        usual_least=figures["usual_least"],
        usual_most=figures["usual_most"],
        hint=row["hint"],
        source=row["source"],
        is_length=is_length,
        structures=tuple(row.get("structures", ())),
        spine_pieces=tuple(row.get("spine", ())),
    )


def _figure(row: dict[str, Any], key: str, is_length: bool) -> float:
    text = row[key]
    return (
        parse_length(text, where=f"rules.toml, {row['name']}", like="3 mm", least="any") if is_length else float(text)
    )
