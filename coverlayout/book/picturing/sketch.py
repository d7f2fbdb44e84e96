"""A picture in the making: shapes and measures are put down one by one, each with the rule of its figure."""

from __future__ import annotations

from dataclasses import dataclass

from coverlayout.book.book import Book
from coverlayout.book.measures import Measures
from coverlayout.book.picturing.lines import wave
from coverlayout.book.picturing.shapes import MeasureLine, Picture, Role, Shape, Side, Words
from coverlayout.book.pieces import PieceKind
from coverlayout.book.rules.table import Rule, rule
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Box, bounds

__all__ = ["Plan", "Sketch"]

# What a measure is called in a picture where its rule has another name.
_RULE_OF = {
    "setback": "board setback",
    "inset": "liner inset",
    "lap": "side lap",
    "mitre": "mitre distance",
    "flap": "fore-edge flap",
    "tail square": "square",
    "turn-in at the head": "turn-in",
    "turn-in at the tail": "turn-in",
    "turn-in at the spine": "turn-in",
    "turn-in at the mouth": "turn-in",
}
# Figures that are worked out or measured: no rule speaks of them. The spine cloth of a half case follows a share.
_WITHOUT_RULE = ("spine", "block thickness", "book thickness", "rise", "fore-edge square", "cut width", "cut height")
# What the eye can spare first: they stay away where there is no room for all.
_LEAST = ("lap", "setback", "mitre", "board thickness", "fore-edge square")


class Sketch:
    """Collects what a picture of one volume shows."""

    def __init__(self, book: Book, figures: Measures) -> None:
        self.book, self.figures = book, figures
        self.shapes: list[Shape] = []
        self.measures: list[MeasureLine] = []
        self.words: list[Words] = []

    def area(self, role: Role, points: Ring, name: str = "") -> None:
        """Put an area down."""
        self.shapes.append(Shape(points, True, role, name))

    def line(self, role: Role, points: Ring, name: str = "") -> None:
        """Put a line down."""
        self.shapes.append(Shape(points, False, role, name))

    def box(self, role: Role, left: Point, right: Point, name: str = "") -> None:
        """Put a rectangle down, given by two opposite corners."""
        (x0, y0), (x1, y1) = left, right
        self.area(role, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)), name)

    def measure(
        self, name: str, ends: tuple[Point, Point], length_mm: float, side: Side, *, round_mm: float = 0.0
    ) -> None:
        """Measure between two places, by the rule of that name for this structure; `round_mm` of it round an edge."""
        self.measures.append(MeasureLine(name, self._rule(name), *ends, length_mm, side, round_mm))

    def word(self, text: str, within: Box) -> None:
        """Put a word down in the middle of a box."""
        self.words.append(Words(text, within.middle, within.width_mm))

    def breaks(self, places: tuple[float, ...], wide_mm: float) -> None:
        """Cut everything there is by a wavy band at each place: here it is drawn shortened."""
        box = bounds([point for shape in self.shapes for point in shape.points_mm])
        top, bottom = box.top_mm - wide_mm, box.bottom_mm + wide_mm
        for x in places:
            left = wave(x - wide_mm / 2, top, bottom, wide_mm / 3)
            right = wave(x + wide_mm / 2, top, bottom, wide_mm / 3)
            self.area("break", (*left, *reversed(right)))
            self.line("wave", left)
            self.line("wave", right)

    def picture(self, title: str) -> Picture:
        """All of it as one value; mirrored when the book opens right."""
        by_weight = sorted(self.measures, key=lambda each: each.name in _LEAST)
        made = Picture(title, tuple(self.shapes), tuple(by_weight), tuple(self.words))
        return made if self.book.opens == "left" else made.mirrored()

    def _rule(self, name: str) -> Rule | None:
        structure = self.book.structure
        if name in _WITHOUT_RULE or (name, structure) == ("spine on board", "half-case"):
            return None
        row = _RULE_OF.get(name, name)
        if name == "clearance":
            row = "slipcase clearance" if self.book.slipcase_of == "five boards" else "scored slipcase room"
        return rule(row, structure, self.figures.spine_piece)


@dataclass(frozen=True)
class Plan:
    """What a flat plan is drawn from, as a book that opens left lies: front, back, the box of every piece."""

    sketch: Sketch
    front: Box
    back: Box
    pieces: tuple[tuple[PieceKind, Box], ...]

    @property
    def cloth(self) -> Box:
        """Around all that is cut to cover the boards."""
        return bounds([corner for kind, box in self.pieces if kind != "label" for corner in box.ring()])

    @property
    def page(self) -> Box | None:
        """A page behind the front board, as far from its fore-edge as in the closed book."""
        figures = self.sketch.figures
        stands_out_mm = figures.fore_edge_square_mm
        if figures.page_mm is None or stands_out_mm is None or self.sketch.book.structure == "slipcase":
            return None
        width, height = figures.page_mm
        right = self.front.right_mm - stands_out_mm
        return Box(right - width, self.front.top_mm + figures.square_mm, width, height)
