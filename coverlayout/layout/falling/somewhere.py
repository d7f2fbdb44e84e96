"""One question for many places at once: whether there is any place in a patch where the print may fall and all fits.

The print's origin becomes a piece of its own, as good as a point, on a ground of its own that is the patch; what was
locked to the print is linked to that piece. A layout then tells where the print fell; a no is a no for every place.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from coverlayout.geometry.frames import Affine, Point, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.falling.patches import Window
from coverlayout.layout.falling.prints import Falling, with_origin
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.wishes.wish import grounds_for

__all__ = ["Floating", "fallen", "floating", "somewhere"]

# No piece or cloth has a name of blanks alone.
_ORIGIN = " "
_POINT_MM = 0.02


@dataclass(frozen=True)
class Floating:
    """A window of shifts of a print, the turn of the pieces that go with it (from up), and a name for it."""

    window: Window
    turn_deg: float
    name: str


def somewhere(question: Question, falling: Falling, window: Window) -> Question | None:
    """The question that asks for a layout with the print fallen anywhere in the window of shifts.

    None where it cannot be asked so: a locked piece may lie on other ground or take several turns, or a link could
    reach over two grounds.
    """
    locks = [lock for lock in question.locks if lock.must]
    turns = {_turns(question, lock) for lock in locks}
    linked = {piece for link in question.links if link.must for piece in link.pieces}
    if len(turns) != 1 or len(next(iter(turns))) != 1 or any(_several(question, piece) for piece in linked):
        return None
    there = [(cloth_id, ground) for lock in locks for cloth_id, ground in grounds_for(question, lock.piece)]
    if not there or not all(falling.holds(cloth_id, ground) for cloth_id, ground in there):
        return None
    (turn_deg,) = next(iter(turns))
    known = with_origin(question, falling, (0.0, 0.0))
    return floating(known, there[0][1], tuple(locks), Floating(window, turn_deg, _ORIGIN))


def floating(question: Question, ground: Ground, locks: tuple[Lock, ...], how: Floating) -> Question:
    """The question with these locks, all on that ground, held together wherever a print there might fall in a window.

    Every other wish stays. The pieces of the locks take the one turn of `how`.
    """
    to_cloth = ground.print_to_cloth
    assert to_cloth is not None, "a lock on ground without a print is never asked so"
    origin, cloth = _origin(ground, to_cloth, how)
    stay = tuple(one.id for one in question.cloths)
    back = turn(-(ground.up_deg + how.turn_deg))
    links = tuple(_linked(lock, how.name, to_cloth, back) for lock in locks)
    return replace(
        question,
        pieces=(*(replace(piece, cloth_ids=piece.cloth_ids or stay) for piece in question.pieces), origin),
        cloths=(*question.cloths, cloth),
        locks=tuple(lock for lock in question.locks if lock not in locks),
        links=(*question.links, *links),
    )


def fallen(placed: tuple[Placed, ...]) -> tuple[Point, tuple[Placed, ...]]:
    """Where a layout of such a question says the print fell, and the layout without that."""
    (origin,) = (one for one in placed if one.piece == _ORIGIN)
    return (origin.x_mm, origin.y_mm), tuple(one for one in placed if one is not origin)


def _turns(question: Question, lock: Lock) -> tuple[float, ...]:
    found = next((piece.turns_deg for piece in question.pieces if piece.id == lock.piece), ())
    return () if found is None else found


def _several(question: Question, piece_id: str) -> bool:
    return len({(cloth_id, ground.id) for cloth_id, ground in grounds_for(question, piece_id)}) > 1


def _origin(of: Ground, to_cloth: Affine, how: Floating) -> tuple[PieceAsked, ClothAsked]:
    """The piece that stands for the origin, and its ground, on which a shift lies where its figures say."""
    (left, top), (right, bottom) = how.window.low_mm, how.window.high_mm
    half = _POINT_MM / 2
    ring = rectangle(right - left + _POINT_MM, bottom - top + _POINT_MM, left - half, top - half)
    plain = replace(to_cloth, dx=0.0, dy=0.0)
    ground = replace(of, id=how.name, usable=Region.of(ring), print_to_cloth=plain, origin_known=True)
    point = PieceAsked(
        how.name,
        rectangle(_POINT_MM, _POINT_MM),
        (half, half),
        (how.turn_deg,),
        of.print_id,
        cloth_ids=(how.name,),
    )
    return point, ClothAsked(how.name, how.name, ring, (ground,))


def _linked(lock: Lock, origin: str, to_cloth: Affine, back: Affine) -> Link:
    """A lock as a link to the origin; the difference is turned with the pieces, so it is turned back first."""
    half = _POINT_MM / 2
    difference_mm = back.vector(to_cloth.vector(lock.place_mm))
    return Link((origin, lock.piece), ((half, half), lock.point_mm), (difference_mm,))
