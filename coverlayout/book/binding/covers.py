"""What all one-piece covers share: one cloth over back, spine and front, with its marks, faces and what stays seen."""

from __future__ import annotations

from dataclasses import dataclass

from coverlayout.book.book import Book, Volume
from coverlayout.book.measures import Measures
from coverlayout.book.pieces import Face, Mark, Piece, Side, head_mark, spine_side
from coverlayout.book.turn_ins import CoveredBoard
from coverlayout.geometry.frames import Affine, Point, Ring, shift
from coverlayout.geometry.shapes import Box

__all__ = ["OnePieceCover", "cover_piece", "one_piece"]


@dataclass(frozen=True)
class OnePieceCover:
    """One cloth over the back, the gap between the boards, and the front, as seen from the print side; lengths in mm.

    `board_mm` is one board, `gap_mm` what lies between the two. `spine_at` is the hand of the front at which the spine
    is. `head_mm`, `tail_mm` and, on both sides, `fore_edge_mm` are the turn-ins; `thickness_mm` is what the cloth goes
    up at an edge. `inset_mm` is the liners', None without; `inset_at_gap_mm` theirs where they end towards the gap
    (0: flush with the board).
    """

    board_mm: Point
    gap_mm: float
    spine_at: Side
    head_mm: float
    tail_mm: float
    fore_edge_mm: float
    thickness_mm: float
    mitre_mm: float
    inset_mm: float | None = None
    inset_at_gap_mm: float = 0.0

    @property
    def covered(self) -> CoveredBoard:
        """Back, gap and front as one board with its turn-ins."""
        return CoveredBoard(
            board_mm=(2 * self.board_mm[0] + self.gap_mm, self.board_mm[1]),
            left_mm=self.fore_edge_mm,
            right_mm=self.fore_edge_mm,
            head_mm=self.head_mm,
            tail_mm=self.tail_mm,
            thickness_mm=self.thickness_mm,
            inset_mm=self.inset_mm,
            mitre_mm=self.mitre_mm,
        )

    @property
    def front(self) -> Box:
        """The front board (or face) in the piece frame."""
        whole, (width, height) = self.covered.board, self.board_mm
        left_mm = whole.right_mm - width if self.spine_at == "left" else whole.left_mm
        return Box(left_mm, whole.top_mm, width, height)

    @property
    def gap(self) -> Box:
        """What lies between the boards: the spine, and what they stay back from it on both sides."""
        front = self.front
        left_mm = front.left_mm - self.gap_mm if self.spine_at == "left" else front.right_mm
        return Box(left_mm, front.top_mm, self.gap_mm, front.height_mm)

    @property
    def back(self) -> Box:
        """The back board in the piece frame."""
        gap, width = self.gap, self.board_mm[0]
        left_mm = gap.left_mm - width if self.spine_at == "left" else gap.right_mm
        return Box(left_mm, gap.top_mm, width, gap.height_mm)

    def spine_piece(self, width_mm: float) -> Box:
        """A spine piece that wide, in the middle of the gap, as high as the boards."""
        gap = self.gap
        return Box(gap.middle[0] - width_mm / 2, gap.top_mm, width_mm, gap.height_mm)

    @property
    def to_book(self) -> Affine:
        """The piece frame to the book frame, one shift for all of it: the middle of the gap goes to x = 0."""
        return shift(-self.gap.middle[0], -self.gap.top_mm)

    def faces(self) -> tuple[Face, ...]:
        """Front, spine and back; a gap of nothing has no spine to show."""
        shown = (("front", self.front), ("spine", self.gap), ("back", self.back))
        return tuple(Face(name, box.ring(), self.to_book) for name, box in shown if box.width_mm > 0)

    @property
    def seen_mm(self) -> Ring | None:
        """What stays visible: all but the turn-ins under the two liners; None (all of it) without liners."""
        if self.inset_mm is None:
            return None
        covered = self.covered
        around = covered.seen
        first, second = sorted((self.front, self.back), key=lambda box: box.left_mm)
        hidden = (
            (around.left_mm, first.right_mm - self.inset_at_gap_mm),
            (second.left_mm + self.inset_at_gap_mm, around.right_mm),
        )
        top = _edge_line(0.0, around.top_mm, hidden)
        low = _edge_line(covered.height_mm, around.bottom_mm, hidden)
        return _without_repeats((*top, *reversed(low)))

    def marks(self, spine_mm: float | None = None) -> tuple[Mark, ...]:
        """The boards (with the spine piece, where it has a width), fold, liners' edge, mitres, joints and head."""
        boards = (self.front, self.back) if spine_mm is None else (self.front, self.spine_piece(spine_mm), self.back)
        seen = self.seen_mm
        gap = self.gap
        return (
            *(Mark("board", box.ring(), closed=True) for box in boards),
            Mark("turn-in", self.covered.folded.ring(), closed=True),
            *(() if seen is None else (Mark("liner", seen, closed=True),)),
            *(Mark("mitre", line) for line in self.covered.mitre_lines()),
            *(Mark("joint", ((x, gap.top_mm), (x, gap.bottom_mm))) for x in (gap.left_mm, gap.right_mm)),
            head_mark(self.covered.board),
        )


def _edge_line(at_mm: float, hidden_to_mm: float, hidden: tuple[Point, Point]) -> Ring:
    """From left to right along what is seen: out to the cut at `at_mm` between what liners hide, else further in."""
    (start_mm, first_mm), (second_mm, end_mm) = hidden
    return (
        (start_mm, hidden_to_mm),
        (first_mm, hidden_to_mm),
        (first_mm, at_mm),
        (second_mm, at_mm),
        (second_mm, hidden_to_mm),
        (end_mm, hidden_to_mm),
    )


def _without_repeats(points: Ring) -> Ring:
    return tuple(point for k, point in enumerate(points) if point != points[k - 1])


def one_piece(book: Book, figures: Measures, *, flush_at_gap: bool) -> OnePieceCover:
    """The cover over both boards and what lies between; `flush_at_gap`: liners reach the boards' spine edges."""
    inset_mm = None if book.liners == "none" else book.liner_inset_mm
    return OnePieceCover(
        board_mm=figures.board_mm,
        gap_mm=figures.gap_mm,
        spine_at=spine_side(book, "front"),
        head_mm=book.turn_ins.head_mm,
        tail_mm=book.turn_ins.tail_mm,
        fore_edge_mm=book.turn_ins.fore_edge_mm,
        thickness_mm=figures.board_thickness_mm,
        mitre_mm=figures.mitre_mm,
        inset_mm=inset_mm,
        inset_at_gap_mm=0.0 if flush_at_gap or inset_mm is None else inset_mm,
    )


def cover_piece(book: Book, volume: Volume, cover: OnePieceCover, spine_mm: float | None = None) -> Piece:
    """The piece `cover-N` cut for such a cover; it is anchored in the middle of the front board."""
    return Piece(
        id=f"cover-{volume.number}",
        name="cover",
        kind="cover",
        outline_mm=cover.covered.outline.ring(),
        anchor_mm=cover.front.middle,
        turns=book.cover_turns,
        board=cover.front,
        seen_mm=cover.seen_mm,
        marks=cover.marks(spine_mm),
        faces=cover.faces(),
        source=book.cover_source,
        book_id=book.id,
        volume=volume.number,
    )
