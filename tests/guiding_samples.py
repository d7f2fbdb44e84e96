"""Cloths and pieces for tests of guides: everything rectangular unless said, anchors off the middle."""

from __future__ import annotations

from collections.abc import Sequence

from coverlayout.geometry.frames import IDENTITY, Affine, Point, Ring, shift, turn
from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.layout.guiding.body import Body
from coverlayout.layout.guiding.guides import Guides
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice

__all__ = ["asked", "at_corner", "bare_ground", "body", "cloth", "guides", "judge", "printed_ground"]


def body(
    name: str,
    width_mm: float,
    height_mm: float,
    at_mm: Point,
    *,
    anchor: Point | None = None,
    turn_deg: float = 0.0,
    board: Box | None = None,
    outline: Ring | None = None,
    on: str = "c",
) -> Body:
    """A piece whose anchor lies at `at_mm`; the anchor is a third across and a quarter along unless given."""
    anchor_mm = anchor or (width_mm / 3, height_mm / 4)
    placed = Placed(f"{name}-1", on, *at_mm, turn_deg)
    return Body(placed, name.capitalize(), outline or rectangle(width_mm, height_mm), anchor_mm, board, None)


def at_corner(
    name: str, width_mm: float, height_mm: float, left_mm: float, top_mm: float, board: Box | None = None
) -> Body:
    """An upright piece with its top left at that place, its anchor a third across and a quarter along."""
    return body(name, width_mm, height_mm, (left_mm + width_mm / 3, top_mm + height_mm / 4), board=board)


def bare_ground(ring: Ring, inset_mm: float = 0.0, name: str = "all") -> Ground:
    return Ground(name, Region.of(ring).inset(inset_mm))


def printed_ground(
    ring: Ring,
    lattice: Lattice,
    *,
    origin_mm: Point = (0.0, 0.0),
    turn_deg: float = 0.0,
    skew: Affine = IDENTITY,
    print_id: str = "p",
    origin_known: bool = True,
    name: str = "all",
) -> Ground:
    """Ground with a print: its own frame skewed, turned and shifted; `lattice` is in the print's own frame."""
    to_cloth = skew.then(turn(turn_deg)).then(shift(*origin_mm))
    region = Region.of(ring)
    return Ground(name, region, print_id, turn_deg, lattice.mapped(to_cloth), to_cloth, origin_known)


def cloth(ring: Ring, grounds: Sequence[Ground], name: str = "c", keep_outs: Sequence[KeepOut] = ()) -> ClothAsked:
    return ClothAsked(name, name, ring, tuple(grounds), tuple(keep_outs))


def asked(each: Body) -> PieceAsked:
    return PieceAsked(each.placed.piece, each.outline_mm, each.anchor_mm, None)


def judge(
    cloths: Sequence[ClothAsked],
    bodies: Sequence[Body],
    *,
    gap_mm: float = 0.0,
    room_mm: float = 0.0,
    locks: Sequence[Lock] = (),
    links: Sequence[Link] = (),
) -> Judge:
    pieces = tuple(asked(each) for each in bodies)
    return Judge(Question(pieces, tuple(cloths), gap_mm, tuple(locks), tuple(links), room_mm))


def guides(
    on: ClothAsked | Sequence[ClothAsked],
    resting: Sequence[Body],
    moving: Body | Sequence[Body],
    *,
    gap_mm: float = 0.0,
    room_mm: float = 0.0,
    locks: Sequence[Lock] = (),
    links: Sequence[Link] = (),
) -> Guides:
    """Guides for pieces that are carried, held at the first of them."""
    cloths = [on] if isinstance(on, ClothAsked) else on
    carried = [moving] if isinstance(moving, Body) else moving
    made = judge(cloths, [*resting, *carried], gap_mm=gap_mm, room_mm=room_mm, locks=locks, links=links)
    return Guides(made, resting, carried, carried[0].placed.piece)
