"""A print of unknown origin on its cloth: where it may fall, which pieces move with it, and questions for one place.

`shift_mm` is always counted from where the question lays the print's origin, in the cloth frame.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from coverlayout.geometry.frames import Affine, Point, Ring, shift
from coverlayout.geometry.shapes import Region, area_mm2, bounds, is_rectangle, rectangle
from coverlayout.geometry.tolerance import SAME_TURN_DEG
from coverlayout.layout.question import Ground, PieceAsked, Placed, Question
from coverlayout.layout.wishes.wish import grounds_for, grounds_of, pieces_of, wishes_of

__all__ = ["Falling", "falling_prints", "grown", "movers", "shifted", "shrunk", "tied_to_what_lies", "with_origin"]


@dataclass(frozen=True)
class Falling:
    """Grounds of one cloth that carry one print, laid as one, whose origin is not known."""

    cloth_id: str
    print_to_cloth: Affine

    def holds(self, cloth_id: str, ground: Ground) -> bool:
        """True for a ground of this print."""
        return not ground.origin_known and (cloth_id, ground.print_to_cloth) == (self.cloth_id, self.print_to_cloth)


def falling_prints(question: Question) -> tuple[Falling, ...]:
    """The prints of unknown origin that a must speaks of, in the order of their cloths.

    A lock does where its piece may lie; a link where its pieces may lie on more than one ground. Pieces that share a
    phase on one ground do not: there only differences count.
    """
    found: dict[Falling, None] = {}
    if all(ground.origin_known for cloth in question.cloths for ground in cloth.grounds):
        return ()
    pieces = {piece.id: piece for piece in question.pieces}
    for wish in wishes_of(question, must=True):
        asked = [pieces[piece] for piece in pieces_of(wish) if piece in pieces]
        there = [pair for piece in asked for pair in grounds_of(question, piece)]
        several = len({(cloth_id, ground.id) for cloth_id, ground in there}) > 1
        for cloth_id, ground in there:
            known = ground.origin_known or ground.print_to_cloth is None
            if not known and ground.print_to_cloth is not None and (len(pieces_of(wish)) == 1 or several):
                found[Falling(cloth_id, ground.print_to_cloth)] = None
    return tuple(found)


def movers(question: Question) -> frozenset[str]:
    """The pieces that move with a print when it falls elsewhere: locked ones, those linked to them, and on.

    Pieces only linked among themselves stay, unless they may lie on different grounds.
    """
    moving = {lock.piece for lock in question.locks if lock.must}
    links = [set(link.pieces) for link in question.links if link.must]
    for link in links:
        if len({(cloth_id, ground.id) for piece in link for cloth_id, ground in grounds_for(question, piece)}) > 1:
            moving |= link
    while any(moving & link and not link <= moving for link in links):
        moving |= {piece for link in links if moving & link for piece in link}
    return frozenset(moving)


def tied_to_what_lies(question: Question) -> bool:
    """True when a piece that moves with the print is linked to one that lies for good, and so cannot move."""
    asked = {piece.id for piece in question.pieces}
    return any(
        link.must and not asked.issuperset(link.pieces)
        for link in question.links
        if movers(question) & set(link.pieces)
    )


def with_origin(question: Question, falling: Falling, shift_mm: Point) -> Question:
    """The question as if the print were known to have fallen there; its smaller cloths are left out."""

    def known(ground: Ground) -> Ground:
        return replace(ground, print_to_cloth=falling.print_to_cloth.then(shift(*shift_mm)), origin_known=True)

    cloths = tuple(
        replace(cloth, grounds=tuple(known(one) if falling.holds(cloth.id, one) else one for one in cloth.grounds))
        for cloth in question.cloths
    )
    return replace(question, cloths=cloths, cloths_if_smaller=())


def shifted(placed: Iterable[Placed], moving: frozenset[str], cloth_id: str, by_mm: Point) -> tuple[Placed, ...]:
    """A layout after the print of that cloth has moved: what moves with it has moved along."""
    x, y = by_mm
    return tuple(
        replace(one, x_mm=one.x_mm + x, y_mm=one.y_mm + y) if one.piece in moving and one.cloth == cloth_id else one
        for one in placed
    )


def grown(question: Question, moving: frozenset[str], reach_mm: Point) -> Question:
    """The question with the pieces that move as large as all they cover when moved by up to `reach_mm` either way."""
    return _sized(question, moving, reach_mm, grow=True)


def shrunk(question: Question, moving: frozenset[str], reach_mm: Point) -> Question | None:
    """The question with them no larger than what they always cover; None when nothing of one is always covered."""
    made = _sized(question, moving, reach_mm, grow=False)
    return None if any(not piece.outline_mm for piece in made.pieces) else made


def _sized(question: Question, moving: frozenset[str], reach_mm: Point, *, grow: bool) -> Question:
    def sized(piece: PieceAsked) -> PieceAsked:
        reach = _in_piece(question, piece, reach_mm)
        outline = _resized(piece.outline_mm, reach, reach_mm, grow=grow)
        seen = None if piece.seen_mm is None else _resized(piece.seen_mm, reach, reach_mm, grow=grow)
        return replace(piece, outline_mm=() if seen == () else outline, seen_mm=seen)

    return replace(question, pieces=tuple(sized(one) if one.id in moving else one for one in question.pieces))


def _in_piece(question: Question, piece: PieceAsked, reach_mm: Point) -> Point | None:
    """How far the piece reaches across and along in its own frame; None where it may lie slanted."""
    if piece.turns_deg is None:
        return None
    turns = {(ground.up_deg + deg) % 180.0 for _, ground in grounds_for(question, piece.id) for deg in piece.turns_deg}
    quarters = {round(deg / 90.0) % 2 for deg in turns}
    if any(abs(deg - 90.0 * round(deg / 90.0)) > SAME_TURN_DEG for deg in turns):
        return None
    across, along = reach_mm
    if len(quarters) > 1:
        return max(reach_mm), max(reach_mm)
    return (along, across) if quarters == {1} else (across, along)


def _resized(ring: Ring, reach: Point | None, reach_mm: Point, *, grow: bool) -> Ring:
    """The outline grown or shrunk; empty when nothing is left of it."""
    if reach is not None and is_rectangle(ring):
        across, along = reach if grow else (-reach[0], -reach[1])
        box = bounds(ring)
        width, height = box.width_mm + 2 * across, box.height_mm + 2 * along
        return rectangle(width, height, box.left_mm - across, box.top_mm - along) if min(width, height) > 0 else ()
    # Any outline: by the longest way in every direction, which is more than needed and so on the safe side.
    parts = Region.of(ring).inset(math.hypot(*reach_mm) * (-1.0 if grow else 1.0)).parts()
    return max((part for part, _ in parts), key=area_mm2, default=())
