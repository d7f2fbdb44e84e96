"""Cheap proofs that pieces cannot all come from the cloth: a piece that fits nowhere, area, and side by side.

Each holds even when every length is NO_LOOSER_MM looser.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from coverlayout.geometry.frames import Ring, turn
from coverlayout.geometry.shapes import Box, Region, area_mm2, bounds, is_rectangle
from coverlayout.geometry.sweep import places_clear_of, places_within
from coverlayout.geometry.tolerance import NO_LOOSER_MM
from coverlayout.layout.answer import Proof
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Question
from coverlayout.layout.search.sheets import Item, RectangularJob, allowed_on

__all__ = ["captives", "refuted"]

_Place = tuple[ClothAsked, Ground]


def refuted(question: Question, job: RectangularJob | None) -> Proof | None:
    """A proof that the question's pieces do not fit, or None when none of the cheap ones holds."""
    return _fits_nowhere(question) or _area(question) or (None if job is None else _side_by_side(job))


def _places_for(question: Question, piece: PieceAsked) -> list[_Place]:
    return [(c, g) for c in question.cloths for g in c.grounds if allowed_on(piece, c, g)]


def _fits_nowhere(question: Question) -> Proof | None:
    """A piece that no allowed turn brings onto clear ground."""
    known: set[object] = set()
    for piece in question.pieces:
        key = replace(piece, id="")
        if key in known or piece.turns_deg is None:
            continue
        places = _places_for(question, piece)
        if not any(_fits_on(piece, cloth, ground) for cloth, ground in places):
            size = bounds(piece.outline_mm)
            widest = _widest(ground.usable.bounds for _, ground in places)
            figures = ("piece", piece.id), ("width_mm", size.width_mm), ("height_mm", size.height_mm)
            have = ("ground_width_mm", widest.width_mm), ("ground_height_mm", widest.height_mm)
            return Proof("fits nowhere", (*figures, *have))
        known.add(key)
    return None


def _widest(boxes: Iterable[Box]) -> Box:
    return max(boxes, key=lambda box: box.width_mm * box.height_mm, default=Box(0.0, 0.0, 0.0, 0.0))


def _fits_on(piece: PieceAsked, cloth: ClothAsked, ground: Ground) -> bool:
    in_the_way = [k.region for k in cloth.keep_outs if not k.seen_only]
    in_the_way += [Region.of(outline_on_cloth(fixed, placed)) for fixed, placed in cloth.fixed]
    seen_in_the_way = [k.region for k in cloth.keep_outs if k.seen_only]
    whole = ground.usable.bounds
    plain = math.isclose(ground.usable.area_mm2, whole.width_mm * whole.height_mm)
    for turn_deg in piece.turns_deg or ():
        to_cloth = turn(ground.up_deg + turn_deg)
        box = bounds(to_cloth.ring(piece.outline_mm))
        loose = 2 * NO_LOOSER_MM
        if box.width_mm > whole.width_mm + loose or box.height_mm > whole.height_mm + loose:
            continue
        if plain and not cloth.keep_outs and not cloth.fixed:
            return True
        places = places_within(ground.usable, _looser(to_cloth.ring(piece.outline_mm)))
        places = places_clear_of(places, _looser(to_cloth.ring(piece.outline_mm)), in_the_way)
        if seen_in_the_way:
            seen = to_cloth.ring(piece.seen_mm or piece.outline_mm)
            places = places_clear_of(places, _looser(seen), seen_in_the_way)
        if not places.is_empty:
            return True
    return False


def _looser(outline: Ring) -> Ring:
    """The outline a little smaller all round; as it is when nothing would be left of it."""
    parts = Region.of(outline).inset(NO_LOOSER_MM).parts()
    return parts[0][0] if len(parts) == 1 and not parts[0][1] else outline


def _area(question: Question) -> Proof | None:
    """Pieces that may only come from some grounds and need more area than those have.

    With a gap, pieces grown by half of it all round do not overlap and stay within the ground grown by half of it:
    area + perimeter gap / 2 + pi gap^2 / 4 each (Steiner); pieces that are no rectangles count ungrown.
    """
    allowed = {p.id: frozenset((c.id, g.id) for c, g in _places_for(question, p)) for p in question.pieces}
    half_gap = max(question.gap_mm - NO_LOOSER_MM, 0.0) / 2
    for grounds in sorted(set(allowed.values()), key=sorted):
        inside = [piece for piece in question.pieces if allowed[piece.id] <= grounds]
        need = math.fsum(_grown_mm2(piece.outline_mm, half_gap) for piece in inside)
        around = math.fsum(_around_mm(piece.outline_mm) for piece in inside)
        clear = [_clear_ground(cloth, grounds) for cloth in question.cloths]
        loose = math.fsum(region.inset(-half_gap - NO_LOOSER_MM).area_mm2 for region in clear)
        if need - around * NO_LOOSER_MM > loose:
            names = ", ".join(piece.id for piece in inside)
            have = math.fsum(region.inset(-half_gap).area_mm2 for region in clear)
            return Proof("area", (("pieces", names), ("need_mm2", need), ("have_mm2", have)))
    return None


def _around_mm(outline: Ring) -> float:
    box = bounds(outline)
    return 2 * (box.width_mm + box.height_mm)


def _grown_mm2(outline: Ring, by_mm: float) -> float:
    area = area_mm2(outline)
    return area + (_around_mm(outline) * by_mm + math.pi * by_mm**2 if is_rectangle(outline) else 0.0)


def _clear_ground(cloth: ClothAsked, grounds: frozenset[tuple[str, str]]) -> Region:
    usable = [ground.usable for ground in cloth.grounds if (cloth.id, ground.id) in grounds]
    taken = [keep_out.region for keep_out in cloth.keep_outs if not keep_out.seen_only]
    taken += [Region.of(outline_on_cloth(piece, placed)) for piece, placed in cloth.fixed]
    region = usable[0] if len(usable) == 1 else Region.union(usable)
    return region.minus(Region.union(taken)) if taken and usable else region


def captives(job: RectangularJob) -> list[tuple[int, list[Item]]]:
    """For every sheet the items that may come from no other."""
    kept: dict[int, list[Item]] = {}
    for item in job.items:
        on = [number for number, poses in enumerate(item.poses) if poses]
        if len(on) == 1:
            kept.setdefault(on[0], []).append(item)
    return sorted(kept.items())


def _side_by_side(job: RectangularJob) -> Proof | None:
    """Pieces of which no two can lie one above the other, and which are too wide together; or the same turned."""
    for number, items in captives(job):
        box = job.sheets[number].box
        sizes = [(min(p.width_mm for p in i.poses[number]), min(p.height_mm for p in i.poses[number])) for i in items]
        across = [(w, h, item.id) for (w, h), item in zip(sizes, items, strict=True)]
        along = [(h, w, item.id) for (w, h), item in zip(sizes, items, strict=True)]
        for way, parts, have, depth in (
            ("across", across, box.width_mm, box.height_mm),
            ("along", along, box.height_mm, box.width_mm),
        ):
            row = _row(parts, depth)
            need = sum(width for width, _, _ in row) + (len(row) - 1) * job.gap_mm
            if len(row) > 1 and need > have + (len(row) + 1) * NO_LOOSER_MM:
                names = ", ".join(name for _, _, name in row)
                figures = ("pieces", names), ("count", float(len(row))), ("need_mm", need), ("have_mm", have)
                return Proof("side by side", (*figures, ("way", way)))
    return None


def _row(parts: list[tuple[float, float, str]], depth_mm: float) -> list[tuple[float, float, str]]:
    """The longest list of pieces any two of which are deeper than the ground together."""
    ranked = sorted(parts, key=lambda part: (-part[1], part[2]))
    row = ranked[:1]
    for part in ranked[1:]:
        if row[-1][1] + part[1] <= depth_mm + 3 * NO_LOOSER_MM:
            break
        row.append(part)
    return row
