"""The core book on a swatch whose print lies crooked: the roomiest place of its four pieces by a linear program.

It shares nothing with the program's own search. Covers and liners are rectangles that all lie turned with the print, so
in the print's frame they stand upright on a square of cloth that is turned the other way: every distance is linear.
"""

from __future__ import annotations

import itertools
import math

import highspy

from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Layout, Project
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

__all__ = ["CORNERS", "SIDE_MM", "crooked_core", "roomiest"]

SIDE_MM = 304.8  # 12 in
# Pages 4.5 x 6 in (114.3 x 152.4 mm), separate boards as large, turn-in 15 mm: covers 144.3 x 182.4 mm. Liners inset by
# 3 mm: 108.3 x 146.4 mm, here lying a quarter turned. Turn-in and inset are common practice, no source.
_SIZES = {
    "front-1": (144.3, 182.4),
    "back-1": (144.3, 182.4),
    "liner-front-1": (146.4, 108.3),
    "liner-back-1": (146.4, 108.3),
}
_NAMES = tuple(_SIZES)
CORNERS = dict[str, tuple[tuple[float, float], ...]]


def _solved(turn_deg: float, ways: tuple[int, ...]) -> tuple[float, list[tuple[float, float]]]:
    """The most room and the upper left corners in the print's frame, each pair apart in its given way.

    Way 0: the first left of the second, 1: right of it, 2: above it, 3: below it.
    """
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    program = highspy.Highs()
    program.setOptionValue("output_flag", False)
    # All programs of one process share their threads: with another number here those of the search would fail.
    program.setOptionValue("threads", 1)
    places = [(program.addVariable(-1e4, 1e4), program.addVariable(-1e4, 1e4)) for _ in _NAMES]
    room = program.addVariable(-200.0, 200.0)
    for (x, y), (width, height) in zip(places, _SIZES.values(), strict=True):
        # The corner nearest to each edge of the cloth, whose points are (cos x - sin y, sin x + cos y).
        program.addConstr(cos * x - sin * y - room >= sin * height)
        program.addConstr(cos * x - sin * y + room <= SIDE_MM - cos * width)
        program.addConstr(sin * x + cos * y - room >= 0.0)
        program.addConstr(sin * x + cos * y + room <= SIDE_MM - sin * width - cos * height)
    sizes = list(_SIZES.values())
    for (one, other), way in zip(itertools.combinations(range(4), 2), ways, strict=True):
        first, second = (one, other) if way in (0, 2) else (other, one)
        axis = 0 if way < 2 else 1
        program.addConstr(places[second][axis] - places[first][axis] - room >= sizes[first][axis])
    program.maximize(room)
    values = list(program.getSolution().col_value)
    return values[-1], [(values[2 * k], values[2 * k + 1]) for k in range(4)]


def roomiest(turn_deg: float) -> tuple[float, tuple[Placed, ...], CORNERS]:
    """The most room with the print turned by that much, where the pieces then lie, and their corners on the cloth.

    The two covers stand side by side and so do the two liners; every way of a cover to a liner is tried.
    """
    ways = [(0, *way, 0) for way in itertools.product(range(4), repeat=4)]
    room_mm, corners = max((_solved(turn_deg, way) for way in ways), key=lambda solved: solved[0])
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    placed, outlines = [], {}
    for name, (x, y), (width, height) in zip(_NAMES, corners, _SIZES.values(), strict=True):
        box = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        outlines[name] = tuple((cos * u - sin * v, sin * u + cos * v) for u, v in box)
        u, v = x + width / 2, y + height / 2
        turned = turn_deg + (90.0 if name.startswith("liner") else 0.0)
        placed.append(Placed(name, "cloth-1", cos * u - sin * v, sin * u + cos * v, turned))
    return room_mm, tuple(placed), outlines


def crooked_core(turn_deg: float, placed: tuple[Placed, ...]) -> Project:
    """The book, the swatch with a one-way print that lies turned, and the layout."""
    return Project(
        prints=(Print("print-1", "Leaf", Lattice((64.0, 48.0), (0.0, 96.0)), "half-drop"),),
        cloths=(Cloth("cloth-1", "Swatch", SIDE_MM, SIDE_MM, laid=LaidPrint("print-1", (20.0, 10.0), turn_deg)),),
        books=(Book("book-1", "Ledger", page_mm=(114.3, 152.4), liner_turns="quarter"),),
        layouts=(Layout("layout-1", "By program", placed),),
    )
