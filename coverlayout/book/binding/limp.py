"""The limp wrap of a single section: cloth without boards, with or without a flap round the fore-edge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coverlayout.book.book import Book, Volume
from coverlayout.book.covering.laid_flat import FlatFace, FlatPiece, from_flat, line_mark
from coverlayout.book.measures import Measures, measures
from coverlayout.book.pieces import Mark, Piece, head_mark
from coverlayout.book.turn_ins import CoveredBoard
from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Box

__all__ = ["pieces_of_limp"]


def pieces_of_limp(book: Book, volume: Volume) -> tuple[Piece, ...]:
    """The pieces of a volume: `cover-1` and, where it is lined with cloth, `liner-1`, one piece over all of the inside.

    Front, spine and back are 2 W + T wide, the flap over the fore-edge T and its own width more (common practice, no
    source); turn-ins come on top. The flap lies beyond the back. There is no board, so its thickness does not count.

    >>> wrap = Book("b", "Notes", "limp-wrap", block_mm=(100.0, 150.0, 4.0), fore_edge_flap_mm=50.0)
    >>> [(piece.id, piece.width_mm, piece.height_mm) for piece in pieces_of_limp(wrap, wrap.volumes[0])]
    [('cover-1', 288.0, 180.0), ('liner-1', 252.0, 144.0)]
    """
    wrap = _Wrap(book, measures(book, volume))
    flat = (wrap.cover(), wrap.liner()) if book.liners == "cloth" else (wrap.cover(),)
    return tuple(from_flat(book, volume, piece) for piece in flat)


@dataclass(frozen=True)
class _Wrap:
    """A wrap laid open flat, seen from outside, of a book that opens left: front at x > 0, the flap beyond the back."""

    book: Book
    figures: Measures

    @property
    def panels(self) -> tuple[tuple[str, Box], ...]:
        """What the folds divide: front, spine, back, and with a flap what goes over the fore-edge and the flap."""
        width_mm, height_mm = self.figures.board_mm
        half_mm = self.figures.gap_mm / 2
        found = [
            ("front", Box(half_mm, 0.0, width_mm, height_mm)),
            ("spine", Box(-half_mm, 0.0, 2 * half_mm, height_mm)),
            ("back", Box(-half_mm - width_mm, 0.0, width_mm, height_mm)),
        ]
        if self.book.fore_edge_flap_mm > 0:
            more = (("fore-edge", self.figures.thickness_mm), ("flap", self.book.fore_edge_flap_mm))
            for name, more_mm in more:
                found.append((name, Box(found[-1][1].left_mm - more_mm, 0.0, more_mm, height_mm)))
        return tuple(found)

    @property
    def face(self) -> Box:
        """All panels together."""
        boxes = [box for _, box in self.panels]
        left_mm, right_mm = boxes[-1].left_mm, boxes[0].right_mm
        return Box(left_mm, 0.0, right_mm - left_mm, boxes[0].height_mm)

    @property
    def inset_mm(self) -> float | None:
        """How far the liner stays back from the edges; None without one."""
        return None if self.book.liners == "none" else self.book.liner_inset_mm

    @property
    def covered(self) -> CoveredBoard:
        """The face with its turn-ins, in the frame of its own cut; the end of a flap has a plain turn-in."""
        turn_ins, turned_in_mm = self.book.turn_ins, self.book.turned_in_flap_mm
        at_front_mm = turned_in_mm or turn_ins.fore_edge_mm
        return CoveredBoard(
            board_mm=(self.face.width_mm, self.face.height_mm),
            left_mm=turn_ins.fore_edge_mm if self.book.fore_edge_flap_mm > 0 else at_front_mm,
            right_mm=at_front_mm,
            head_mm=turn_ins.head_mm,
            tail_mm=turn_ins.tail_mm,
            thickness_mm=0.0,
            inset_mm=self.inset_mm,
            mitre_mm=self.figures.mitre_mm,
        )

    @property
    def seen(self) -> Box:
        """What stays visible: face and rim, and flaps turned in, which lie over the liner; the rest lies under it."""
        covered = self.covered
        seen, whole = covered.seen, covered.outline
        if self.book.turned_in_flap_mm <= 0:
            return seen
        left_mm = seen.left_mm if self.book.fore_edge_flap_mm > 0 else whole.left_mm
        return Box(left_mm, seen.top_mm, whole.right_mm - left_mm, seen.height_mm)

    def cover(self) -> FlatPiece:
        """The cloth of the wrap, anchored in the middle of its front."""
        covered, face, front = self.covered, self.face, self.panels[0][1]
        laid = shift(face.left_mm - covered.board.left_mm, -covered.board.top_mm)
        marks = (mark for mark in covered.marks() if mark.kind == "turn-in" or self._is_mitred(mark, covered))
        seen_mm = None if self.inset_mm is None else laid.ring(self.seen.ring())
        return FlatPiece(
            id="cover",
            name="cover",
            kind="cover",
            outline_mm=laid.ring(covered.outline.ring()),
            anchor_mm=front.middle,
            faces=tuple(FlatFace(name, box.ring()) for name, box in self.panels),
            marks=(
                *(Mark(mark.kind, laid.ring(mark.points_mm), mark.closed) for mark in marks),
                *(() if seen_mm is None else (Mark("liner", seen_mm, closed=True),)),
                *self._folds(face),
                head_mark(face),
            ),
            board=front,
            seen_mm=seen_mm,
            turns=self.book.cover_turns,
            source=self.book.cover_source,
        )

    def _is_mitred(self, mark: Mark, covered: CoveredBoard) -> bool:
        """True for a mitre at a plain turn-in: a flap is turned in over head and tail, corners and all."""
        if mark.kind != "mitre" or self.book.turned_in_flap_mm <= 0:
            return mark.kind == "mitre"
        return self.book.fore_edge_flap_mm > 0 and mark.points_mm[0][0] < covered.board.middle[0]

    def liner(self) -> FlatPiece:
        """The cloth over the whole inside, short of all edges; anchored behind the middle of the front."""
        inset_mm, face = self.book.liner_inset_mm, self.face
        box = Box(inset_mm + face.left_mm, inset_mm, face.width_mm - 2 * inset_mm, face.height_mm - 2 * inset_mm)
        return FlatPiece(
            id="liner",
            name="liner",
            kind="liner",
            outline_mm=box.ring(),
            anchor_mm=self.panels[0][1].middle,
            faces=tuple(FlatFace(f"inside {name}", part.ring()) for name, part in self._parts_of(box)),
            marks=(*self._folds(box), head_mark(box)),
            turns=self.book.liner_turns,
            source=self.book.liner_source,
            inside=True,
        )

    def _folds(self, within: Box) -> Iterator[Mark]:
        """Between the panels, and where a flap is turned in, as long as `within` is high."""
        inner = [box.left_mm for _, box in self.panels[:-1]]
        if self.book.turned_in_flap_mm > 0:
            inner.append(self.face.right_mm)
            if self.book.fore_edge_flap_mm <= 0:
                inner.append(self.face.left_mm)
        for x in inner:
            if within.left_mm <= x <= within.right_mm:
                yield line_mark("fold", (x, within.top_mm), (x, within.bottom_mm))

    def _parts_of(self, liner: Box) -> Iterator[tuple[str, Box]]:
        """What of each panel a liner covers; nothing of a flap that is narrower than the inset."""
        for name, panel in self.panels:
            left_mm, right_mm = max(panel.left_mm, liner.left_mm), min(panel.right_mm, liner.right_mm)
            if left_mm < right_mm:
                yield name, Box(left_mm, liner.top_mm, right_mm - left_mm, liner.height_mm)
