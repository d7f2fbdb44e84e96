"""The closed book as every structure has it: where things lie in the cut, boards, liners, what is measured."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from coverlayout.book.book import Book, Volume
from coverlayout.book.measures import Measures, measures
from coverlayout.book.picturing.lines import Shortened, rounded, shortened
from coverlayout.book.picturing.sketch import Sketch
from coverlayout.geometry.frames import Point, Ring

__all__ = ["Closed", "closed_book"]

# A page longer than this is drawn no longer, so that its ends can be drawn large; thick blocks leave it more.
_LONGEST_MM, _LONGEST_FOR_THICKNESS = 22.0, 0.9
# A block of unknown thickness is drawn like this; a thin one is opened out to it, so that its leaves can be told apart.
_UNKNOWN_MM, _THINNEST_MM = 12.0, 6.0
# The air between things that touch grows with the picture: at this width it is 1 mm.
_AIR_PER_MM = 1 / 62


@dataclass(frozen=True)
class Closed:
    """Places in the cut. x runs from the back of the block (0) to the fore-edge, y from its front leaf (0) to its back.

    Everything is drawn for the front cover and turned over for the back. `xs` leads from real to drawn x; y is true to
    scale but for `air_mm` between block, turn-ins and boards. `board_from_mm` is the real x of the board's spine edge.
    """

    book: Book
    figures: Measures
    xs: Shortened
    thick_mm: float
    board_from_mm: float
    page_mm: float
    air_mm: float

    @cached_property
    def sketch(self) -> Sketch:
        """What has been drawn so far."""
        return Sketch(self.book, self.figures)

    @property
    def board_to_mm(self) -> float:
        """The real x of the board's fore-edge."""
        return self.board_from_mm + self.figures.board_mm[0]

    @property
    def board_mm(self) -> float:
        """How thick a board is drawn: as it is, but never so thin that it cannot be seen."""
        return max(self.figures.board_thickness_mm, 0.8 * self.air_mm)

    @property
    def has_upright_piece(self) -> bool:
        """True when the spine piece is a board that stands straight behind the block, its edges beside the boards'."""
        return self.figures.spine_piece == "board" and self.figures.rise_mm <= 0

    @property
    def inner_y(self) -> float:
        """The inside of the front board."""
        return -1.6 * self.air_mm

    @property
    def outer_y(self) -> float:
        """The outside of the front board, under its cloth."""
        return self.inner_y - self.board_mm

    @property
    def off_mm(self) -> float:
        """How far the line of the cloth lies off what it covers."""
        return 0.45 * self.air_mm

    def over(self, points: Iterable[Point]) -> Ring:
        """Points of the front half for the back half."""
        return tuple((x, self.thick_mm - y) for x, y in points)

    def smooth(self, points: Iterable[Point]) -> Ring:
        """A line of cloth with its bends rounded."""
        return rounded(tuple(points), 1.1 * self.air_mm)

    def round_the_spine(self, half: Iterable[Point]) -> Ring:
        """One line from the front to the back: the half as given, and the same turned over and backwards."""
        front = tuple(half)
        return self.smooth((*front, *reversed(self.over(front))))

    def turned_in(self) -> Ring:
        """The cloth at the fore-edge of the front board: from where it ends inside, round the edge, to the outside."""
        end = self.xs.at(self.board_to_mm - self.turned_in_mm(self.book.turn_ins.fore_edge_mm))
        edge = self.xs.at(self.board_to_mm) + self.off_mm
        inside = self.inner_y + self.off_mm
        return (end, inside), (edge, inside), (edge, self.outer_y - self.off_mm)

    def turned_in_mm(self, turn_in_mm: float) -> float:
        """What of a turn-in lies on the inside: it goes up the board's edge first."""
        return max(turn_in_mm - self.figures.board_thickness_mm, 0.0)

    def boards(self, from_mm: float | None = None, to_mm: float | None = None) -> None:
        """Both boards, or those parts of them that lie between two real x."""
        left = self.xs.at(self.board_from_mm if from_mm is None else from_mm)
        right = self.xs.at(self.board_to_mm if to_mm is None else to_mm)
        self.sketch.box("board", (left, self.outer_y), (right, self.inner_y), "front board")
        low = self.over(((left, self.outer_y), (right, self.inner_y)))
        self.sketch.box("board", low[0], low[1], "back board")

    def liners(self, inset_at_spine_mm: float) -> None:
        """Both liners over the turn-ins; none where the book has none."""
        if self.book.liners == "none":
            return
        y = self.inner_y + 2.2 * self.off_mm
        inset_mm = self.book.liner_inset_mm
        left, right = self.xs.at(self.board_from_mm + inset_at_spine_mm), self.xs.at(self.board_to_mm - inset_mm)
        line = ((left, y), (right, y))
        self.sketch.line("liner", line, "front liner")
        self.sketch.line("liner", self.over(line), "back liner")
        edge = self.xs.at(self.board_to_mm)
        self.sketch.measure("inset", ((right, y), (edge, self.inner_y)), inset_mm, "above")

    def both(self, line: Ring, name: str) -> None:
        """The cloth of the front cover, and the same for the back."""
        self.sketch.line("cloth", line, f"front {name}")
        self.sketch.line("cloth", self.over(line), f"back {name}")

    def edge_measures(self, square: str) -> None:
        """The measures that every covered board has at its fore-edge: thickness, turn-in, and how far it stands out."""
        figures, sketch = self.figures, self.sketch
        edge, page = self.xs.at(self.board_to_mm), self.xs.at(self.page_mm)
        low_inner, low_outer = self.thick_mm - self.inner_y, self.thick_mm - self.outer_y
        thickness = ((edge, self.outer_y), (edge, self.inner_y))
        sketch.measure("board thickness", thickness, figures.board_thickness_mm, "right")
        self.measure_turn_in(low_inner, low_outer)
        stands_out_mm = figures.square_mm if square == "square" else figures.fore_edge_square_mm
        if stands_out_mm is not None:
            sketch.measure(square, ((page, self.thick_mm), (edge, low_inner)), stands_out_mm, "below")
        self.measure_block()

    def measure_turn_in(self, inside_mm: float, outside_mm: float) -> None:
        """The turn-in at the fore-edge of the back: along the inside, and round the edge by the board's thickness.

        Both are the y of the board there.
        """
        turn_in_mm = self.book.turn_ins.fore_edge_mm
        lies_in_mm = self.turned_in_mm(turn_in_mm)
        ends = (self.xs.at(self.board_to_mm - lies_in_mm), inside_mm), (self.xs.at(self.board_to_mm), outside_mm)
        self.sketch.measure("turn-in", ends, turn_in_mm, "below", round_mm=turn_in_mm - lies_in_mm)

    def measure_block(self) -> None:
        """How thick the block is, where that is known."""
        if self.figures.thickness_mm > 0:
            page = self.xs.at(self.page_mm)
            ends = ((page, 0.0), (page, self.thick_mm))
            self.sketch.measure("block thickness", ends, self.figures.thickness_mm, "right")

    def finish(self) -> Sketch:
        """Cut by waves where it was drawn shortened."""
        self.sketch.breaks(self.xs.breaks, 2.2 * self.air_mm)
        return self.sketch


def closed_book(book: Book, volume: Volume) -> Closed:
    """Where things lie in the cut through a volume. BadInput: a book that cannot be measured."""
    figures = measures(book, volume)
    known = figures.thickness_mm
    thick = max(known, _THINNEST_MM) if known > 0 else _UNKNOWN_MM
    start = figures.board_from_mm
    end = start + figures.board_mm[0]
    page = end - figures.square_mm if figures.page_mm is None else figures.page_mm[0]
    longest = max(_LONGEST_MM, _LONGEST_FOR_THICKNESS * thick)
    xs = shortened(_places(book, figures, start, page), longest / (1.5 if figures.spine_on_board_mm > 0 else 1))
    wide = xs.at(end) - xs.at(min(start, -figures.rise_mm, 0.0))
    return Closed(book, figures, xs, thick, start, page, _AIR_PER_MM * max(wide, 1.6 * thick))


def _places(book: Book, figures: Measures, start: float, page: float) -> list[float]:
    """Every real x at which something begins or ends: only what lies between two of them may be shortened."""
    end, thick = start + figures.board_mm[0], figures.board_thickness_mm
    turned_in = max(book.turn_ins.fore_edge_mm - thick, book.liner_inset_mm)
    places = [-figures.rise_mm, 0.0, start, page - figures.rise_mm, page, end - turned_in, end]
    if book.structure in ("separate-boards", "side-sewn", "accordion"):
        places.append(start + max(book.turn_ins.spine_mm - thick, book.liner_inset_mm))
    if book.structure == "side-sewn":
        places += [start + figures.hinge_mm, start + figures.hinge_mm + figures.joint_mm]
    if figures.spine_on_board_mm > 0:
        places += [start + figures.spine_on_board_mm - figures.lap_mm, start + figures.spine_on_board_mm]
    if book.fore_edge_flap_mm > 0:
        places.append(end - book.fore_edge_flap_mm)
    if book.turned_in_flap_mm > 0:
        places.append(end - book.turned_in_flap_mm)
    return places
