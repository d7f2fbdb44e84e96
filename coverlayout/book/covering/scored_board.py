"""The cloth of a slipcase that is scored and folded from one board."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coverlayout.book.book import Book
from coverlayout.book.covering.laid_flat import FlatFace, FlatPiece, closed_mark, line_mark
from coverlayout.book.measures import Measures
from coverlayout.book.pieces import Mark, head_mark
from coverlayout.geometry.frames import Affine, shift
from coverlayout.geometry.shapes import Box

__all__ = ["ScoredBoard"]


@dataclass(frozen=True)
class ScoredBoard:
    """A board laid flat, its outside up, for a book that opens left: front wall, closed side, back wall; all in mm.

    x = 0 is the middle of the mouth, as in a slipcase of five boards, y = 0 the score at the head. At head and tail
    each of the three has a flap as deep as the book is thick; the flaps of the front are glued on last and are seen.
    """

    book: Book
    figures: Measures

    @property
    def front_wall(self) -> Box:
        """The wall over the front of the book."""
        return Box(self.figures.thickness_mm / 2, 0.0, *self.figures.board_mm)

    @property
    def closed_side(self) -> Box:
        """The side over the book's fore-edge."""
        wall = self.front_wall
        return Box(wall.right_mm, 0.0, self.figures.thickness_mm, wall.height_mm)

    @property
    def back_wall(self) -> Box:
        """The wall over the back of the book, as it lies before the board is folded."""
        wall = self.front_wall
        return Box(self.closed_side.right_mm, 0.0, wall.width_mm, wall.height_mm)

    @property
    def board(self) -> Box:
        """The whole board: (2 w + T) x (h + room + 2 T), a university library's manual of 1999."""
        depth_mm, wall = self.figures.thickness_mm, self.front_wall
        return Box(wall.left_mm, -depth_mm, self.back_wall.right_mm - wall.left_mm, wall.height_mm + 2 * depth_mm)

    def scores(self) -> Iterator[Mark]:
        """The four lines the board is scored along: beside the closed side, and where the flaps begin."""
        board, side = self.board, self.closed_side
        for x in (side.left_mm, side.right_mm):
            yield line_mark("fold", (x, board.top_mm), (x, board.bottom_mm))
        for y in (side.top_mm, side.bottom_mm):
            yield line_mark("fold", (board.left_mm, y), (board.right_mm, y))

    def cloth(self) -> FlatPiece:
        """The cloth over the whole board, turned in at the mouth; anchored in the middle of the front wall."""
        board, wall, mouth_mm = self.board, self.front_wall, self.book.turn_ins.fore_edge_mm
        turned_mm = min(self.figures.board_thickness_mm, mouth_mm)
        ends = board.left_mm - turned_mm, board.right_mm + turned_mm
        cloth = Box(board.left_mm - mouth_mm, board.top_mm, board.width_mm + 2 * mouth_mm, board.height_mm)
        return FlatPiece(
            id="wrap",
            name="slipcase wrap",
            kind="cover",
            outline_mm=cloth.ring(),
            anchor_mm=wall.middle,
            faces=tuple(self._faces()),
            marks=(
                closed_mark("board", board),
                *self.scores(),
                *(line_mark("turn-in", (x, board.top_mm), (x, board.bottom_mm)) for x in ends),
                head_mark(wall),
            ),
            board=wall,
            seen_mm=(
                (cloth.left_mm, cloth.top_mm),
                (wall.right_mm, cloth.top_mm),
                (wall.right_mm, wall.top_mm),
                (cloth.right_mm, wall.top_mm),
                (cloth.right_mm, wall.bottom_mm),
                (wall.right_mm, wall.bottom_mm),
                (wall.right_mm, cloth.bottom_mm),
                (cloth.left_mm, cloth.bottom_mm),
            ),
            turns=self.book.cover_turns,
            source=self.book.cover_source,
        )

    def _faces(self) -> Iterator[FlatFace]:
        """Walls and closed side; the flaps of the front come to lie over head and tail, a quarter turned."""
        wall, side, back, depth_mm = self.front_wall, self.closed_side, self.back_wall, self.figures.thickness_mm
        yield FlatFace("front", wall.ring())
        yield FlatFace("closed side", side.ring())
        yield FlatFace("back", back.ring(), shift(-wall.right_mm - back.left_mm, 0.0))
        corner, tail = wall.right_mm, wall.bottom_mm
        head_flap = Box(wall.left_mm, -depth_mm, wall.width_mm, depth_mm)
        tail_flap = Box(wall.left_mm, tail, wall.width_mm, depth_mm)
        # A flap is as far from the closed side when it is folded as it was before, and as far from the wall.
        yield FlatFace("head", head_flap.ring(), Affine(0.0, -1.0, 1.0, 0.0, corner, -corner))
        yield FlatFace("tail", tail_flap.ring(), Affine(0.0, 1.0, -1.0, 0.0, corner - tail, corner + tail))
