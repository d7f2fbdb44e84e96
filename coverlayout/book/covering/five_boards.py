"""The cloth of a slipcase of five boards: a wrap over head, closed side and tail, and one piece on each wall."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coverlayout.book.book import Book
from coverlayout.book.covering.laid_flat import FlatFace, FlatPiece, clockwise, closed_mark, line_mark
from coverlayout.book.measures import Measures
from coverlayout.book.pieces import Cover, Mark, head_mark
from coverlayout.geometry.frames import IDENTITY, Affine, shift
from coverlayout.geometry.shapes import Box

__all__ = ["FiveBoards"]


@dataclass(frozen=True)
class FiveBoards:
    """A slipcase laid open as its book is, seen from outside, for a book that opens left; all in mm.

    x = 0 is the middle of the mouth, out of which the book's spine looks; y = 0 its head. The front wall lies at x > 0
    with its mouth edge nearest, the back wall at x < 0. The closed side comes after the front wall, where the book's
    fore-edge goes in; head and tail fold off its ends. The turn-in at the fore-edge is what is turned in at the mouth,
    the one at the head how far the wrap laps onto the walls, all along; the liners' inset is how far a wall's cloth
    stays short of head, tail and closed side. Cloth is taken to have no thickness.
    """

    book: Book
    figures: Measures

    @property
    def inside_mm(self) -> float:
        """From wall to wall: the book and its room on both sides."""
        return self.figures.thickness_mm + 2 * self.figures.clearance_mm

    @property
    def outside_mm(self) -> float:
        """Over both walls."""
        return self.inside_mm + 2 * self.figures.board_thickness_mm

    @property
    def front_wall(self) -> Box:
        """The front wall, over the edges of the three boards between the walls."""
        return Box(self.outside_mm / 2, 0.0, *self.figures.board_mm)

    @property
    def closed_side(self) -> Box:
        """The outside of the closed side, the walls' edges with it."""
        return Box(self.front_wall.right_mm, 0.0, self.outside_mm, self.front_wall.height_mm)

    @property
    def head(self) -> Box:
        """The outside of the head, folded up from the closed side; its upper end is at the mouth."""
        depth_mm = self.front_wall.width_mm
        return Box(self.closed_side.left_mm, -depth_mm, self.outside_mm, depth_mm)

    @property
    def tail(self) -> Box:
        """The outside of the tail, folded down from the closed side; its lower end is at the mouth."""
        return Box(self.closed_side.left_mm, self.closed_side.bottom_mm, self.outside_mm, self.front_wall.width_mm)

    @property
    def mouth_mm(self) -> float:
        """What is turned in at the mouth, measured from the board's edge."""
        return self.book.turn_ins.fore_edge_mm

    @property
    def lap_mm(self) -> float:
        """How far the wrap comes over onto each wall."""
        return self.book.turn_ins.head_mm

    @property
    def inset_mm(self) -> float:
        """How far the cloth of a wall stays short of three of its edges."""
        return self.book.liner_inset_mm

    def wrap(self) -> FlatPiece:
        """The strip over head, closed side and tail; anchored in the middle of the closed side."""
        side, lap_mm, inset_mm = self.closed_side, self.lap_mm, self.inset_mm
        top_mm, bottom_mm = self.head.top_mm, self.tail.bottom_mm
        faces = (("head", self.head), ("closed side", side), ("tail", self.tail))

        def strip(beside_mm: float, beyond_mm: float) -> Box:
            """All three, and so far over onto the walls and into the mouth."""
            height_mm = bottom_mm - top_mm + 2 * beyond_mm
            return Box(side.left_mm - beside_mm, top_mm - beyond_mm, side.width_mm + 2 * beside_mm, height_mm)

        return FlatPiece(
            id="wrap",
            name="slipcase wrap",
            kind="cover",
            outline_mm=strip(lap_mm, self.mouth_mm).ring(),
            anchor_mm=side.middle,
            faces=(*(FlatFace(name, box.ring()) for name, box in faces), *self._rims()),
            marks=(*(closed_mark("board", box) for _, box in faces), *self._wrap_lines(strip(lap_mm, 0.0))),
            board=strip(0.0, 0.0),
            seen_mm=strip(inset_mm, self.mouth_mm).ring(),
            turns=self.book.cover_turns,
            source=self.book.cover_source,
        )

    def _wrap_lines(self, strip: Box) -> Iterator[Mark]:
        """Folds along both walls' edges and across at head and tail, the turn at the mouth, notches at four corners."""
        side, lap_mm = self.closed_side, self.lap_mm
        turned_mm = min(self.figures.board_thickness_mm, self.mouth_mm)
        for x in (side.left_mm, side.right_mm):
            yield line_mark("fold", (x, strip.top_mm), (x, strip.bottom_mm))
        for y in (side.top_mm, side.bottom_mm):
            yield line_mark("fold", (strip.left_mm, y), (strip.right_mm, y))
            for x, outward_mm in ((side.left_mm, -lap_mm), (side.right_mm, lap_mm)):
                yield line_mark("mitre", (x + outward_mm, y - lap_mm), (x, y), (x + outward_mm, y + lap_mm))
        for y in (strip.top_mm - turned_mm, strip.bottom_mm + turned_mm):
            yield line_mark("turn-in", (strip.left_mm, y), (strip.right_mm, y))
        for x in (side.left_mm - self.inset_mm, side.right_mm + self.inset_mm):
            yield line_mark("lap", (x, strip.top_mm), (x, strip.bottom_mm))
        yield head_mark(side)

    def _rims(self) -> Iterator[FlatFace]:
        """What is seen of the wrap on the walls, round their cloth; head and tail come there turned by a quarter."""
        side, height_mm = self.closed_side, self.closed_side.height_mm
        near, far, back = side.left_mm, side.right_mm, -self.front_wall.right_mm
        if self.inset_mm <= 0:
            return
        at_head, at_tail = _quarter(1.0, near, near), _quarter(-1.0, near + height_mm, height_mm - near)
        yield from self._rims_on("front", near, -self.inset_mm, (IDENTITY, at_head, at_tail))
        at_head, at_tail = _quarter(-1.0, back, -far), _quarter(1.0, back - height_mm, height_mm + far)
        yield from self._rims_on("back", far, self.inset_mm, (shift(back - far, 0.0), at_head, at_tail))

    def _rims_on(self, wall: Cover, x: float, out_mm: float, maps: tuple[Affine, ...]) -> Iterator[FlatFace]:
        """The rims of one wall at closed side, head and tail, mitred where they meet; `x` is the fold they begin at."""
        rim, inset_mm, height_mm = x + out_mm, abs(out_mm), self.closed_side.height_mm
        top_mm, bottom_mm = self.head.top_mm, self.tail.bottom_mm
        outlines = (
            ((x, 0.0), (x, height_mm), (rim, height_mm - inset_mm), (rim, inset_mm)),
            ((x, 0.0), (rim, -inset_mm), (rim, top_mm), (x, top_mm)),
            ((x, height_mm), (x, bottom_mm), (rim, bottom_mm), (rim, height_mm + inset_mm)),
        )
        for outline, onto_book in zip(outlines, maps, strict=True):
            yield FlatFace(f"{wall} rim", clockwise(outline), onto_book)

    def front_cloth(self) -> FlatPiece:
        """The cloth of the front wall, short of three edges and turned in at the mouth; anchored in its middle."""
        wall, inset_mm, mouth_mm = self.front_wall, self.inset_mm, self.mouth_mm
        face = Box(wall.left_mm, inset_mm, wall.width_mm - inset_mm, wall.height_mm - 2 * inset_mm)
        cloth = Box(face.left_mm - mouth_mm, face.top_mm, face.width_mm + mouth_mm, face.height_mm)
        turned_mm = face.left_mm - min(self.figures.board_thickness_mm, mouth_mm)
        return FlatPiece(
            id="wall-front",
            name="front wall",
            kind="side",
            outline_mm=cloth.ring(),
            anchor_mm=face.middle,
            faces=(FlatFace("front", face.ring()),),
            marks=(
                closed_mark("board", face),
                line_mark("turn-in", (turned_mm, face.top_mm), (turned_mm, face.bottom_mm)),
                line_mark("spine edge", (face.left_mm, face.top_mm), (face.left_mm, face.bottom_mm)),
                head_mark(face),
            ),
            board=face,
            turns=self.book.side_turns,
            source=self.book.side_source,
        )


def _quarter(sign: float, dx_mm: float, dy_mm: float) -> Affine:
    """A quarter turn, x' = sign y + dx, y' = -sign x + dy."""
    return Affine(0.0, sign, -sign, 0.0, dx_mm, dy_mm)
