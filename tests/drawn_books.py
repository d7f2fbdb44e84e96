"""Books of every structure to draw, with figures that all differ, and ways to look at what was drawn."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import get_args

from coverlayout.book.book import Book, Structure, TurnIns, Volume
from coverlayout.book.picturing.shapes import Picture
from coverlayout.geometry.frames import Point

STRUCTURES: tuple[Structure, ...] = tuple(word for word in get_args(Structure) if word != "parts")
CASES = ("flat-case", "rounded-case", "quarter-case", "half-case")


def drawn_book(structure: Structure = "flat-case", **more: object) -> tuple[Book, Volume]:
    """A book of that structure and its volume; figures that its structure has not are left to the rules."""
    given: dict[str, object] = {
        "block_mm": (114.3, 152.4, 16.0),
        "square_mm": 3.25,
        "board_thickness_mm": 2.2,
        "turn_ins": TurnIns.all_round(15.5),
        "liner_inset_mm": 3.75,
    }
    if structure in CASES or structure == "side-sewn":
        given["joint_mm"] = 7.5
    book = Book("b", "Ledger", structure, **(given | more))  # type: ignore[arg-type]  # fields by name
    return book, book.volumes[0]


def points_of(picture: Picture) -> Iterator[Point]:
    """Every point there is."""
    for shape in picture.shapes:
        yield from shape.points_mm
    for measure in picture.measures:
        yield from (measure.start_mm, measure.end_mm)


def length_mm(picture: Picture, name: str) -> float:
    """The figure of a measure that must be there."""
    found = picture.measured(name)
    assert found is not None, f"{name} is not among {[each.name for each in picture.measures]}"
    return found.length_mm


def drawn_mm(picture: Picture, name: str) -> float:
    """How long a measure is drawn."""
    found = picture.measured(name)
    assert found is not None
    return math.dist(found.start_mm, found.end_mm)


def names_of(picture: Picture) -> set[str]:
    """What is measured."""
    return {measure.name for measure in picture.measures}
