"""Laying out the bench: cloths in a row, pieces on them, and those that wait in order beside."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from types import MappingProxyType

from coverlayout.book.pieces import Piece
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import size_now_mm
from coverlayout.geometry.frames import IDENTITY, Point, cloth_to_back, shift
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.layout.question import Ground, PieceAsked, Placed
from coverlayout.ui.table.bench import WAITING, Bench, Lying, Sheet

__all__ = ["laid_out"]

# Between cloths, and between pieces that wait: a finger's breadth; never less than this share of the cloths' size.
_GAP_MM = 20.0
_GAP_SHARE = 0.06
# Width over height of a usual canvas.
_USUAL_ASPECT = 1.5


def laid_out(
    cloths: Sequence[Cloth],
    pieces: Sequence[Piece],
    placed: Iterable[Placed],
    *,
    back: bool = False,
    grounds: Mapping[str, tuple[Ground, ...]] = MappingProxyType({}),
    asked: Mapping[str, PieceAsked] = MappingProxyType({}),
    cut: Sequence[tuple[Piece, Placed]] = (),
    pinned: Collection[str] = (),
) -> Bench:
    """The bench: cloths in a row, tops level; pieces without a place on them wait at the right, or below a long row."""
    sheets = _row(cloths, back, grounds)
    row = bounds([corner for sheet in sheets for corner in sheet.box.ring()]) if sheets else Box(0, 0, 0, 0)
    places = {each.piece: each for each in placed if any(sheet.id == each.cloth for sheet in sheets)}
    waiting = [piece for piece in pieces if piece.id not in places]
    ground, spots = _waiting_ground(row, pieces, waiting, back)
    placed_ids = set(places)
    places.update(spots)
    labels = _labels([*pieces, *(piece for piece, _ in cut)])
    lying = [Lying(piece, place, labels[piece.id], (), "cut") for piece, place in cut]
    for piece in pieces:
        question = asked.get(piece.id)
        turns_deg = question.turns_deg if question else (0.0,)
        lying.append(
            Lying(
                piece,
                places[piece.id],
                labels[piece.id],
                turns_deg,
                pinned=piece.id in pinned and piece.id in placed_ids,
            )
        )
    return Bench(sheets, ground, tuple(lying))


def _labels(pieces: Sequence[Piece]) -> dict[str, str]:
    """What is written on each piece: its name, with its number where several share the name."""
    names = [piece.name for piece in pieces]
    return {
        piece.id: piece.name[:1].upper()
        + piece.name[1:]
        + (f" {piece.id.rpartition('-')[2]}" if names.count(piece.name) > 1 else "")
        for piece in pieces
    }


def _row(cloths: Sequence[Cloth], back: bool, grounds: Mapping[str, tuple[Ground, ...]]) -> tuple[Sheet, ...]:
    sheets: list[Sheet] = []
    left = 0.0
    for cloth in cloths:
        width, length = size_now_mm(cloth)
        flip = cloth_to_back(width) if back else IDENTITY
        sheets.append(
            Sheet(cloth.id, cloth.name, (width, length), flip.then(shift(left, 0.0)), cloth, grounds.get(cloth.id, ()))
        )
        left += width + max(_GAP_MM, _GAP_SHARE * width)
    return tuple(sheets)


def _waiting_ground(
    row: Box, pieces: Sequence[Piece], waiting: Sequence[Piece], back: bool
) -> tuple[Sheet, dict[str, Placed]]:
    """The ground beside (or below) the row and where each piece lies on it, head up, in columns (or lines)."""
    gap = max(_GAP_MM, _GAP_SHARE * max(row.width_mm, row.height_mm))
    below = _is_better_below(row, [_size(piece) for piece in pieces], gap)
    sizes = [_size(piece) for piece in waiting]
    spots, size = _beside(row, sizes, below)
    at = (row.left_mm, row.bottom_mm + gap) if below else (row.right_mm + gap, row.top_mm)
    flip = cloth_to_back(size[0]) if back else IDENTITY
    sheet = Sheet(WAITING, "", size, flip.then(shift(*at)))
    return sheet, {
        piece.id: _at_corner(piece, (size[0] - spot[0] - width, spot[1]) if back else spot)
        for piece, spot, (width, _) in zip(waiting, spots, sizes, strict=True)
    }


def _size(piece: Piece) -> Point:
    box = bounds(piece.outline_mm)
    return box.width_mm, box.height_mm


def _beside(row: Box, sizes: Sequence[Point], below: bool) -> tuple[list[Point], Point]:
    """Corners of the boxes and the size of all: in columns as long as the row is, or in lines as wide as it is."""
    if not below:
        return _flow(sizes, row.height_mm)
    spots, size = _flow([(height, width) for width, height in sizes], row.width_mm)
    return [(x, y) for y, x in spots], (size[1], size[0])


def _is_better_below(row: Box, sizes: Sequence[Point], gap: float) -> bool:
    """Which side lets the table be seen larger, were all pieces waiting: so it does not change while they are laid."""
    right, below = _beside(row, sizes, below=False)[1], _beside(row, sizes, below=True)[1]
    at_right = max((row.width_mm + gap + right[0]) / _USUAL_ASPECT, row.height_mm, right[1])
    at_bottom = max(max(row.width_mm, below[0]) / _USUAL_ASPECT, row.height_mm + gap + below[1])
    return at_bottom < at_right


def _at_corner(piece: Piece, spot: Point) -> Placed:
    box = bounds(piece.outline_mm)
    return Placed(
        piece.id, WAITING, spot[0] - box.left_mm + piece.anchor_mm[0], spot[1] - box.top_mm + piece.anchor_mm[1]
    )


def _flow(sizes: Sequence[Point], room_mm: float) -> tuple[list[Point], Point]:
    """Top-left corners of boxes set one under another in columns not longer than the room, and the size of it all."""
    between = _GAP_MM / 2
    spots: list[Point] = []
    left = top = column = lowest = 0.0
    for width, height in sizes:
        if top > 0 and top + height > max(room_mm, height):
            left, top, column = left + column + between, 0.0, 0.0
        spots.append((left, top))
        column, lowest = max(column, width), max(lowest, top + height)
        top += height + between
    return spots, (left + column, lowest)
