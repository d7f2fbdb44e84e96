"""Pieces stated as they lie on the book laid open flat; each is turned into its own frame here, once for all."""

from __future__ import annotations

from dataclasses import dataclass, replace

from coverlayout.book.book import Book, Source, Turns, Volume
from coverlayout.book.pieces import Face, Mark, MarkKind, Piece, PieceKind
from coverlayout.geometry.frames import IDENTITY, Affine, Point, Ring, cloth_to_back, shift
from coverlayout.geometry.shapes import Box, bounds, is_rectangle, ring_sides

__all__ = ["FlatFace", "FlatPiece", "clockwise", "closed_mark", "from_flat", "line_mark", "on_back"]

# Front and back change hands about the middle of the spine, x = 0.
_OTHER_HAND = cloth_to_back(0.0)


@dataclass(frozen=True)
class FlatFace:
    """A side of the book that a piece shows: its outline as the cloth lies flat, and its way from there onto the book.

    `onto_book` is the identity wherever the cloth lies in one go with the open book.
    """

    name: str
    outline_mm: Ring
    onto_book: Affine = IDENTITY


@dataclass(frozen=True)
class FlatPiece:
    """A piece of cloth in the book frame of a book that opens left, seen from outside, the front at x > 0; in mm.

    `id` is without the number of its volume. `seen_mm` None: all of it. A piece that is `inside` has its print side
    towards the pages and is told as if seen through from outside.
    """

    id: str
    name: str
    kind: PieceKind
    outline_mm: Ring
    anchor_mm: Point
    faces: tuple[FlatFace, ...]
    marks: tuple[Mark, ...] = ()
    board: Box | None = None
    seen_mm: Ring | None = None
    turns: Turns | None = None
    source: Source = Source()
    inside: bool = False


def line_mark(kind: MarkKind, *points_mm: Point) -> Mark:
    """An open line."""
    return Mark(kind, points_mm)


def closed_mark(kind: MarkKind, box: Box) -> Mark:
    """A box drawn all round."""
    return Mark(kind, box.ring(), closed=True)


def from_flat(book: Book, volume: Volume, flat: FlatPiece) -> Piece:
    """The piece in its own frame: for a book that opens right mirrored first, since front and back change hands there.

    >>> ledger = Book("b", "Ledger", opens="right")
    >>> half = Box(10.0, -5.0, 90.0, 160.0).ring()
    >>> flat = FlatPiece("half", "half", "side", half, (40.0, 75.0), (FlatFace("front", half),))
    >>> piece = from_flat(ledger, ledger.volumes[0], flat)
    >>> piece.id, piece.anchor_mm, piece.faces[0].piece_to_book.at(piece.anchor_mm)
    ('half-1', (60.0, 80.0), (-40.0, 75.0))
    """
    lying = flat if book.opens == "left" else _mirrored(flat)
    box = bounds(lying.outline_mm)
    turned = cloth_to_back(box.width_mm) if flat.inside else IDENTITY
    to_piece = shift(-box.left_mm, -box.top_mm).then(turned)
    back = turned.then(shift(box.left_mm, box.top_mm))
    return Piece(
        id=f"{flat.id}-{volume.number}",
        name=flat.name,
        kind=flat.kind,
        outline_mm=_ring(lying.outline_mm, to_piece),
        anchor_mm=to_piece.at(lying.anchor_mm),
        turns=flat.turns,
        board=None if lying.board is None else bounds(to_piece.ring(lying.board.ring())),
        seen_mm=None if lying.seen_mm is None else _ring(lying.seen_mm, to_piece),
        marks=tuple(_mark(mark, to_piece) for mark in lying.marks),
        faces=tuple(
            Face(face.name, _ring(face.outline_mm, to_piece), back.then(face.onto_book)) for face in lying.faces
        ),
        source=flat.source,
        book_id=book.id,
        volume=volume.number,
    )


def on_back(flat: FlatPiece) -> FlatPiece:
    """The piece of the back that goes with one of the front: mirrored, and named after the back.

    >>> box = Box(10.0, 0.0, 90.0, 150.0)
    >>> back = on_back(FlatPiece("side-front", "front side", "side", box.ring(), box.middle, ()))
    >>> back.id, back.name, back.anchor_mm
    ('side-back', 'back side', (-55.0, 75.0))
    """
    back = _mirrored(flat)
    faces = tuple(replace(face, name=face.name.replace("front", "back")) for face in back.faces)
    return replace(back, id=flat.id.replace("front", "back"), name=flat.name.replace("front", "back"), faces=faces)


def _mirrored(flat: FlatPiece) -> FlatPiece:
    """The same piece on the other hand, as on a book that opens right."""
    return replace(
        flat,
        outline_mm=_ring(flat.outline_mm, _OTHER_HAND),
        anchor_mm=_OTHER_HAND.at(flat.anchor_mm),
        faces=tuple(
            FlatFace(face.name, _ring(face.outline_mm, _OTHER_HAND), _OTHER_HAND.then(face.onto_book).then(_OTHER_HAND))
            for face in flat.faces
        ),
        marks=tuple(_mark(mark, _OTHER_HAND) for mark in flat.marks),
        board=None if flat.board is None else bounds(_OTHER_HAND.ring(flat.board.ring())),
        seen_mm=None if flat.seen_mm is None else _ring(flat.seen_mm, _OTHER_HAND),
    )


def _mark(mark: Mark, by: Affine) -> Mark:
    return replace(mark, points_mm=_ring(mark.points_mm, by) if mark.closed else by.ring(mark.points_mm))


def _ring(ring: Ring, by: Affine) -> Ring:
    """A ring in another frame, clockwise again where that mirrors; a rectangle from its top left, as everywhere."""
    mapped = by.ring(ring)
    if by.determinant > 0:
        return mapped
    return bounds(mapped).ring() if len(ring) == 4 and is_rectangle(mapped) else clockwise(mapped)


def clockwise(ring: Ring) -> Ring:
    """The ring so that it runs clockwise as seen, y pointing down; the first point stays.

    >>> clockwise(((0.0, 0.0), (0.0, 3.0), (4.0, 0.0)))
    ((0.0, 0.0), (4.0, 0.0), (0.0, 3.0))
    """
    twice_area = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in ring_sides(ring))
    return ring if twice_area >= 0 else (ring[0], *reversed(ring[1:]))
