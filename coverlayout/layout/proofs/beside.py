"""Proofs that pieces cannot lie side by side: rows too wide, pairs without room together, and more than one a cloth.

Each holds when every length is NO_LOOSER_MM looser. Linked pairs are looked at where wishes are.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence

from coverlayout.geometry.frames import Point, turn
from coverlayout.geometry.shapes import Box, bounds, is_rectangle
from coverlayout.geometry.tolerance import NO_LOOSER_MM
from coverlayout.layout.answer import Proof
from coverlayout.layout.proofs.nowhere import Place, Spots, places_for
from coverlayout.layout.proofs.relaxing import confined, is_whole_quarter, lean_of
from coverlayout.layout.question import PieceAsked, Question, unseen
from coverlayout.layout.search.sheets import Item, RectangularJob, allowed_on

__all__ = ["no_room_together", "rows_too_wide"]

# More ways to turn the pieces of a row, and more kinds of pieces paired, are not looked at.
_MOST_POSES, _MOST_KINDS = 256, 16


def rows_too_wide(job: RectangularJob) -> Proof | None:
    """Pieces of which no two can lie one above the other, and which are too wide together; or the same turned.

    Over several sheets the rows of all of them together must hold the pieces. Every choice of turns is refuted.
    """
    for sheets, items in confined(job.items):
        kinds: dict[object, list[Item]] = {}
        for item in items:
            kinds.setdefault(tuple(tuple((p.width_mm, p.height_mm) for p in poses) for poses in item.poses), []).append(
                item
            )
        groups = list(kinds.values())
        sizes = [_sizes(group[0], sheets) for group in groups]
        if (
            math.prod(math.comb(len(g) + len(s) - 1, len(s) - 1) for g, s in zip(groups, sizes, strict=True))
            > _MOST_POSES
        ):
            # Each piece with the smaller of its sides: fewer rows are seen, but none that is not there.
            sizes = [[(min(w for w, _ in own), min(h for _, h in own))] for own in sizes]
        boxes = [job.sheets[number].box for number in sheets]
        proof = _every_row(groups, sizes, boxes, job.gap_mm)
        if proof is not None:
            return proof
    return None


def _sizes(item: Item, sheets: Sequence[int]) -> list[tuple[float, float]]:
    return sorted({(pose.width_mm, pose.height_mm) for number in sheets for pose in item.poses[number]})


_Part = tuple[float, float, str]  # measure along the row, depth, name


def _every_row(
    groups: list[list[Item]], sizes: list[list[tuple[float, float]]], boxes: list[Box], gap_mm: float
) -> Proof | None:
    """The row nearest to its room, when each choice of turns has one that is too wide."""
    nearest: tuple[float, Proof] | None = None
    choices = [itertools.combinations_with_replacement(own, len(g)) for g, own in zip(groups, sizes, strict=True)]
    for choice in itertools.product(*choices):
        parts = [(w, h, i.id) for g, own in zip(groups, choice, strict=True) for i, (w, h) in zip(g, own, strict=True)]
        over, proof = _row_over(parts, boxes, gap_mm)
        if proof is None:
            return None
        nearest = (over, proof) if nearest is None or over < nearest[0] else nearest
    return None if nearest is None else nearest[1]


def _row_over(parts: list[_Part], boxes: list[Box], gap_mm: float) -> tuple[float, Proof | None]:
    turned = [(h, w, name) for w, h, name in parts]
    for way, own, rooms in (
        ("across", parts, [(box.width_mm, box.height_mm) for box in boxes]),
        ("along", turned, [(box.height_mm, box.width_mm) for box in boxes]),
    ):
        row = _row(own, max(depth for _, depth in rooms))
        if len(row) < 2:
            continue
        gap = max(gap_mm - NO_LOOSER_MM, 0.0)
        need = math.fsum(width - NO_LOOSER_MM + gap for width, _, _ in row)
        have = math.fsum(width + 2 * NO_LOOSER_MM + gap for width, _ in rooms)
        names = ", ".join(name for _, _, name in row)
        told = ("pieces", names), ("count", float(len(row)))
        if need > have:
            whole = math.fsum(width for width, _, _ in row) + (len(row) - len(boxes)) * gap_mm
            room = math.fsum(width for width, _ in rooms)
            figures = (*told, ("need_mm", whole), ("have_mm", room), ("way", way))
            return need - have, Proof("side by side", (*figures, ("sheets", float(len(boxes)))))
        most = sum(_most_in(row, width + 2 * NO_LOOSER_MM, gap) for width, _ in rooms)
        if most < len(row):
            figures_each = ("most", float(most)), ("way", way), ("sheets", float(len(boxes)))
            return need - have, Proof("side by side", (*told, *figures_each))
    return 0.0, None


def _row(parts: list[_Part], depth_mm: float) -> list[_Part]:
    """The longest list of pieces any two of which are deeper than the ground together."""
    ranked = sorted(parts, key=lambda part: (-part[1], part[2]))
    row = ranked[:1]
    for part in ranked[1:]:
        if row[-1][1] + part[1] <= depth_mm + 4 * NO_LOOSER_MM:
            break
        row.append(part)
    return row


def _most_in(row: list[_Part], width_mm: float, gap_mm: float) -> int:
    """How many of the row's pieces lie side by side at most, the narrowest first."""
    room = width_mm + gap_mm
    for number, (width, _, _) in enumerate(sorted(row)):
        room -= width - NO_LOOSER_MM + gap_mm
        if room < 0.0:
            return number
    return len(row)


def no_room_together(question: Question, spots: Spots, look: Callable[[], None] = unseen) -> Proof | None:
    """Rectangles no two of which find room together on one ground, and which are more than the grounds for them.

    `look` is called now and then while there are many pieces, and may raise to end it.
    """
    pairing = _Pairing(question, spots)
    kinds: dict[object, list[PieceAsked]] = {}
    for piece in question.pieces:
        look()
        if piece.turns_deg is not None and is_rectangle(piece.outline_mm):
            key = piece.outline_mm, piece.turns_deg, piece.print_id, piece.cloth_ids, piece.ground_ids, piece.seen_mm
            kinds.setdefault(key, []).append(piece)
    groups = sorted(kinds.values(), key=lambda group: -_largest_mm2(group[0]))[:_MOST_KINDS]
    for number, group in enumerate(groups):
        look()
        crowd = [group[0]]
        for other in groups[number:]:
            if not all(pairing.apart(one, other[0]) for one in _one_of_each(crowd)):
                continue
            alone = not pairing.apart(other[0], other[0])
            crowd += [one for one in (other[:1] if alone else other) if one is not group[0]]
        grounds = {(c.id, g.id) for piece in _one_of_each(crowd) for c, g in places_for(question, piece)}
        if len(crowd) > len(grounds):
            named = crowd[: len(grounds) + 1]
            if len(grounds) == 1:
                return pairing.told(named[0], named[1])
            names = ", ".join(piece.id for piece in named)
            figures = ("pieces", names), ("count", float(len(named))), ("most", float(len(grounds)))
            return Proof("side by side", (*figures, ("sheets", float(len(grounds)))))
    return None


def _largest_mm2(piece: PieceAsked) -> float:
    box = bounds(piece.outline_mm)
    return box.width_mm * box.height_mm


def _one_of_each(pieces: Sequence[PieceAsked]) -> list[PieceAsked]:
    return list(
        {(p.outline_mm, p.turns_deg, p.print_id, p.cloth_ids, p.ground_ids, p.seen_mm): p for p in pieces}.values()
    )


class _Pairing:
    """Looks at two pieces on the grounds both could use."""

    def __init__(self, question: Question, spots: Spots) -> None:
        self._question, self._spots = question, spots
        self._gap_mm = max(question.gap_mm - NO_LOOSER_MM, 0.0)
        self._known: dict[object, tuple[Point, Point] | None] = {}

    def apart(self, first: PieceAsked, other: PieceAsked) -> bool:
        """True when two rectangles find no room together on any ground, however they are turned."""
        grounds = [place for place in places_for(self._question, first) if allowed_on(other, *place)]
        return all(not self._beside(first, other, place) for place in grounds)

    def told(self, first: PieceAsked, other: PieceAsked) -> Proof:
        """The proof that two rectangles find no room together on the one ground there is for them."""
        names = ("pieces", f"{first.id}, {other.id}"), ("count", 2.0), ("wish", "pair")
        ground = places_for(self._question, first)[0][1]
        if not all(p.turns_deg == (0.0,) for p in (first, other)) or ground.up_deg:
            return Proof("side by side", names)
        one, two, usable = bounds(first.outline_mm), bounds(other.outline_mm), ground.usable.bounds
        gap_mm = self._question.gap_mm
        need = (
            ("need_width_mm", one.width_mm + two.width_mm + gap_mm),
            (
                "need_height_mm",
                one.height_mm + two.height_mm + gap_mm,
            ),
        )
        have = ("have_width_mm", usable.width_mm), ("have_height_mm", usable.height_mm)
        return Proof("side by side", (*names, *need, *have))

    def _beside(self, first: PieceAsked, other: PieceAsked, place: Place) -> bool:
        """Whether some turns of two rectangles let them lie beside or above each other, or corner to corner."""
        turns = [(a, b) for a in first.turns_deg or () for b in other.turns_deg or ()]
        return any(self._beside_turned(first, other, place, a, b) for a, b in turns)

    def _beside_turned(self, first: PieceAsked, other: PieceAsked, place: Place, a_deg: float, b_deg: float) -> bool:
        if not (is_whole_quarter(a_deg) and is_whole_quarter(b_deg)):
            return True
        ends = [self._reach(piece, place, deg) for piece, deg in ((first, a_deg), (other, b_deg))]
        if ends[0] is None or ends[1] is None:
            return False
        (a_near, a_far), (b_near, b_far) = ends[0], ends[1]
        # The most that can lie between them across and along, each piece as far to its own side as it goes.
        across = max(b_far[0] - a_near[0], a_far[0] - b_near[0])
        along = max(b_far[1] - a_near[1], a_far[1] - b_near[1])
        gap = self._gap_mm
        return across >= gap or along >= gap or (min(across, along) >= 0.0 and math.hypot(across, along) >= gap)

    def _reach(self, piece: PieceAsked, place: Place, turn_deg: float) -> tuple[Point, Point] | None:
        key = piece.outline_mm, piece.seen_mm, place[0].id, place[1].id, turn_deg
        if key not in self._known:
            self._known[key] = self._worked_out(piece, place, turn_deg)
        return self._known[key]

    def _worked_out(self, piece: PieceAsked, place: Place, turn_deg: float) -> tuple[Point, Point] | None:
        """How far a rectangle goes, in the print's frame and a little loosely; None where it has no spot.

        First its right and lower edge where it lies as far left and up as it goes, then its left and upper edge where
        it lies as far right and down.
        """
        lean_deg = lean_of(place[1])
        room = self._spots.box(piece, place, turn_deg)
        if room is not None and lean_deg:
            room = self._spots.of(piece, place, turn_deg).mapped(turn(-lean_deg)).bounds
        if room is None:
            return None
        box, loose = bounds(turn(place[1].up_deg + turn_deg - lean_deg).ring(piece.outline_mm)), NO_LOOSER_MM
        near = room.left_mm + box.right_mm - loose, room.top_mm + box.bottom_mm - loose
        return near, (room.right_mm + box.left_mm + loose, room.bottom_mm + box.top_mm + loose)
