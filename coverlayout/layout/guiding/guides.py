"""Guides for pieces that are carried: made ready once at the start, then asked at every place of the hand.

What catches, first to last: a place in the repeat that a wish asks for; the place in the repeat that another piece has;
the nearest stop across together with the nearest along, in the directions of the gripped piece's own sides; along other
directions (the ground's, the cloth's), where a corner meets an edge. A catch that brings the pieces nearer to something
than the rules allow is passed over for the next, but for a wish. A place that was caught is caught again in itself.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from typing import NamedTuple

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.geometry.tolerance import SAME_TURN_DEG, SNAP_MM
from coverlayout.layout.guiding.axes import Axes, Keeping
from coverlayout.layout.guiding.body import Body, axes_deg, box_around
from coverlayout.layout.guiding.guide import Caught, Guide, Line
from coverlayout.layout.guiding.places import Ground, Place, Places, ground_under, same_as_others, wished
from coverlayout.layout.guiding.stops import Catch, Extent, Part, lines_of, named
from coverlayout.layout.phase_rules import pairs_of
from coverlayout.layout.placing import ClothReady
from coverlayout.layout.question import Placed
from coverlayout.layout.rules import Judge

__all__ = ["Guides"]


class Guides:
    """The guides of one drag: what rests, by which cloth and in which directions it can catch what is carried."""

    def __init__(self, judge: Judge, resting: Sequence[Body], moving: Sequence[Body], gripped: str) -> None:
        """`resting` lie on the cloths of the judge (pieces already cut among them); `gripped` is the piece held."""
        question = judge.question
        self._cloths = judge.cloths
        self._keeping = Keeping(question.gap_mm, question.spare_wish_mm)
        self._locks = question.locks
        self._pairs = [pair for link in question.links for pair in pairs_of(link)]
        self._resting = [body for body in resting if body.placed.cloth in self._cloths]
        self._moving = {body.placed.piece: body for body in moving}
        self._gripped = gripped
        self._axes: dict[tuple[str, float, bool], Axes] = {}
        self._carried: dict[tuple[object, ...], _Carried] = {}

    def catch(self, moving: Sequence[Placed], reach_mm: float, only: Point | None = None) -> Caught:
        """Where the carried pieces come to lie when the hand holds them there, caught within `reach_mm` each way.

        With `only` (a direction in the cloth frame) they are moved along that line and no other. Nothing is caught
        while they are not all over one cloth, and where what catches would hand them on to something further.
        """
        cloths = {placed.cloth for placed in moving}
        if len(cloths) != 1 or not cloths <= self._cloths.keys():
            return Caught()
        gripped = next((placed for placed in moving if placed.piece == self._gripped), None)
        if gripped is None or not all(math.isfinite(number) for number in (gripped.x_mm, gripped.y_mm, reach_mm)):
            return Caught()
        carried = self._carried_as(moving, gripped)
        at_mm = gripped.x_mm, gripped.y_mm
        for chance in _along_only(carried.chances(at_mm, reach_mm), only):
            there_mm = at_mm[0] + chance.by_mm[0], at_mm[1] + chance.by_mm[1]
            again = next(_along_only(carried.chances(there_mm, reach_mm), only), None)
            if again is None or math.hypot(*again.by_mm) <= SNAP_MM:
                return Caught(chance.by_mm, tuple(carried.guides(chance, there_mm)))
        return Caught()

    def onward(self, moving: Sequence[Placed], towards: Point) -> Caught:
        """The next guide that way (a direction in the cloth frame), however far, for pieces that lie there.

        The way is brought to the nearest direction of the gripped piece's own sides. Nothing after the last guide.
        """
        gripped = next((placed for placed in moving if placed.piece == self._gripped), None)
        if (
            gripped is None
            or {placed.cloth for placed in moving} != {gripped.cloth}
            or gripped.cloth not in self._cloths
        ):
            return Caught()
        carried = self._carried_as(moving, gripped)
        chance = carried.onward((gripped.x_mm, gripped.y_mm), towards)
        if chance is None:
            return Caught()
        there_mm = gripped.x_mm + chance.by_mm[0], gripped.y_mm + chance.by_mm[1]
        return Caught(chance.by_mm, tuple(carried.guides(chance, there_mm)))

    def _carried_as(self, moving: Sequence[Placed], gripped: Placed) -> _Carried:
        key = gripped.cloth, *((placed.piece, placed.turn_deg) for placed in moving)
        if key not in self._carried:
            bodies = [replace(self._moving[each.piece], placed=each) for each in moving if each.piece in self._moving]
            held = next(body for body in bodies if body.placed.piece == self._gripped)
            self._carried[key] = _Carried(self, self._cloths[gripped.cloth], bodies, held)
        return self._carried[key]

    def axes(self, cloth: ClothReady, turn_deg: float, *, own: bool) -> Axes:
        """One cloth along axes of one turn, worked out when it is first asked for."""
        key = cloth.cloth.id, round(turn_deg / SAME_TURN_DEG) * SAME_TURN_DEG, own
        if key not in self._axes:
            bodies = [body for body in self._resting if body.placed.cloth == cloth.cloth.id]
            self._axes[key] = Axes(cloth, turn_deg, bodies, self._keeping, own=own)
        return self._axes[key]

    @cached_property
    def _printed(self) -> list[tuple[Body, Ground]]:
        """The resting pieces that lie on a print."""
        under = ((body, ground_under(self._cloths[body.placed.cloth], body.at_mm)) for body in self._resting)
        return [(body, ground) for body, ground in under if ground is not None]

    def places(self, ground: Ground, held: Body) -> tuple[Places, Places]:
        """The places in the repeat for the gripped piece on this ground: by wishes, and as the others have it."""
        asked = wished(ground, held, self._locks, self._pairs, self._printed)
        others = same_as_others(ground, held, self._printed)
        return Places(ground.lattice_mm, asked, sparing=False), Places(ground.lattice_mm, others, sparing=True)


class _Chance(NamedTuple):
    """One way to catch: by how much, at which place in the repeat, at which stops (0 across, 1 along) of which axes."""

    by_mm: Point
    place: Place | None = None
    place_by_mm: Point = (0.0, 0.0)
    axes: Axes | None = None
    catches: tuple[tuple[int, Catch], ...] = ()


class _Shape(NamedTuple):
    """What is carried, along some axes: its box, and the board of the gripped piece, from that piece's anchor."""

    axes: Axes
    box: Box
    board: Box | None

    def extents(self, at: Point) -> tuple[Extent, Extent]:
        """Across and along, the anchor lying there in the frame of the axes."""
        (u, v), box = at, self.box
        left, right, top, bottom = u + box.left_mm, u + box.right_mm, v + box.top_mm, v + box.bottom_mm
        across: dict[Part, float] = {"low": left, "high": right}
        along: dict[Part, float] = {"low": top, "high": bottom}
        if self.axes.own:
            across |= {"middle": (left + right) / 2, "anchor": u}
            along |= {"middle": (top + bottom) / 2, "anchor": v}
            if self.board is not None:
                across |= {"board low": u + self.board.left_mm, "board high": u + self.board.right_mm}
                along |= {"board low": v + self.board.top_mm, "board high": v + self.board.bottom_mm}
        return Extent(across, top, bottom), Extent(along, left, right)

    def hits(self, at: Point) -> int:
        """With how much it collides there."""
        (u, v), box = at, self.box
        return self.axes.in_the_way((u + box.left_mm, u + box.right_mm, v + box.top_mm, v + box.bottom_mm))


class _Carried:
    """Pieces carried over one cloth, each in the turn it has now; places are those of the gripped piece's anchor."""

    def __init__(self, guides: Guides, cloth: ClothReady, bodies: Sequence[Body], held: Body) -> None:
        self._guides, self._cloth, self._held = guides, cloth, held
        own_deg = held.axes_deg
        turns = [own_deg, *(axes_deg(ground.ground.up_deg) for ground in cloth.grounds), 0.0]
        distinct = [each for n, each in enumerate(turns) if all(abs(each - one) > SAME_TURN_DEG for one in turns[:n])]
        self._shapes = [self._shape(bodies, held, turn_deg, own=turn_deg == own_deg) for turn_deg in distinct]
        self._places: dict[int, tuple[Places, Places]] = {}

    def _shape(self, bodies: Sequence[Body], held: Body, turn_deg: float, *, own: bool) -> _Shape:
        axes = self._guides.axes(self._cloth, turn_deg, own=own)
        u, v = axes.to_axes.at(held.at_mm)
        box, board = box_around(bodies, turn_deg), held.board_ring_mm
        face = None if board is None else bounds(axes.to_axes.ring(board))
        return _Shape(axes, _shifted(box, u, v), None if face is None else _shifted(face, u, v))

    def chances(self, at_mm: Point, reach_mm: float) -> Iterator[_Chance]:
        """All ways to catch the pieces held there, the one to be preferred first."""
        own = self._shapes[0]
        for places, must_be_free in zip(self._places_at(at_mm), (False, True), strict=False):
            found = places.nearest(at_mm, reach_mm)
            if found is None:
                continue
            by_mm, place = found
            if must_be_free and not _frees(own, own.axes.to_axes.at(at_mm), own.axes.to_axes.vector(by_mm)):
                continue
            if places.one_way:
                yield from _with_a_stop(own, at_mm, (by_mm, place), places.step_mm, reach_mm)
            yield _Chance(by_mm, place, by_mm)
        for shape in self._shapes:
            yield from _stopped(shape, shape.axes.to_axes.at(at_mm), reach_mm)

    def onward(self, at_mm: Point, towards: Point) -> _Chance | None:
        """The next stop that way along the own sides of the gripped piece."""
        shape = self._shapes[0]
        at, (tu, tv) = shape.axes.to_axes.at(at_mm), shape.axes.to_axes.vector(towards)
        way = 0 if abs(tu) >= abs(tv) else 1
        catch = shape.axes.stops[way].beyond(
            shape.extents(at)[way], 1 if (tu, tv)[way] > 0 else -1, lambda by_mm: _frees(shape, at, _along(way, by_mm))
        )
        return None if catch is None else _chance(shape.axes, ((way, catch),))

    def _places_at(self, at_mm: Point) -> tuple[Places, ...]:
        ground = ground_under(self._cloth, at_mm)
        if ground is None:
            return ()
        key = id(ground.ready)
        if key not in self._places:
            self._places[key] = self._guides.places(ground, self._held)
        return self._places[key]

    def guides(self, chance: _Chance, at_mm: Point) -> Iterator[Guide]:
        """What caught, told and drawn for the pieces lying at the place they were caught at."""
        place, axes = chance.place, chance.axes
        if place is not None:
            marks = (at_mm,) if place.beside_mm is None else (at_mm, place.beside_mm)
            yield Guide(place.kind, place.says, (), chance.place_by_mm, marks)
        if axes is None:
            return
        shape = next(each for each in self._shapes if each.axes is axes)
        extents = shape.extents(axes.to_axes.at(at_mm))
        for way, catch in chance.catches:
            ends = [line if way == 0 else _exchanged(line) for line in lines_of(catch, extents[way])]
            lines = tuple((axes.from_axes.at(start), axes.from_axes.at(end)) for start, end in ends)
            by_mm = axes.from_axes.vector(_along(way, catch.by_mm))
            yield Guide(catch.stop.kind, named(catch, extents[way]), lines, by_mm)


def _with_a_stop(
    shape: _Shape, at_mm: Point, found: tuple[Point, Place], step_mm: Point, reach_mm: float
) -> Iterator[_Chance]:
    """Plain stripes that repeat along one of the axes leave the other direction to a stop."""
    axes, (by_mm, place) = shape.axes, found
    step_u, step_v = axes.to_axes.vector(step_mm)
    if min(abs(step_u), abs(step_v)) > SNAP_MM:
        return
    way = 1 if abs(step_u) > abs(step_v) else 0
    catch = _nearest(shape, axes.to_axes.at((at_mm[0] + by_mm[0], at_mm[1] + by_mm[1])), way, reach_mm)
    if catch is not None:
        more = axes.from_axes.vector(_along(way, catch.by_mm))
        yield _Chance((by_mm[0] + more[0], by_mm[1] + more[1]), place, by_mm, axes, ((way, catch),))


def _along_only(chances: Iterator[_Chance], only: Point | None) -> Iterator[_Chance]:
    """The chances that keep to a line, all of them without one."""
    for chance in chances:
        if only is None or abs(chance.by_mm[0] * only[1] - chance.by_mm[1] * only[0]) <= SNAP_MM * math.hypot(*only):
            yield chance


def _stopped(shape: _Shape, at: Point, reach_mm: float) -> Iterator[_Chance]:
    """Stops across and along together, the nearer taken first; then each alone. Places in the frame of the axes."""
    alone = [(way, catch) for way in (0, 1) if (catch := _nearest(shape, at, way, reach_mm)) is not None]
    alone.sort(key=lambda each: abs(each[1].by_mm))
    for way, catch in alone[:1]:
        du, dv = _along(way, catch.by_mm)
        second = _nearest(shape, (at[0] + du, at[1] + dv), 1 - way, reach_mm)
        if second is not None:
            yield _chance(shape.axes, ((way, catch), (1 - way, second)))
    for each in alone:
        yield _chance(shape.axes, (each,))


def _nearest(shape: _Shape, at: Point, way: int, reach_mm: float) -> Catch | None:
    return shape.axes.stops[way].nearest(
        shape.extents(at)[way], reach_mm, lambda by_mm: _frees(shape, at, _along(way, by_mm))
    )


def _frees(shape: _Shape, at: Point, by: Point) -> bool:
    """True when going there brings it into no more collisions than it is in."""
    there = shape.hits((at[0] + by[0], at[1] + by[1]))
    return there == 0 or there <= shape.hits(at)


def _along(way: int, by_mm: float) -> Point:
    return (by_mm, 0.0) if way == 0 else (0.0, by_mm)


def _exchanged(line: Line) -> Line:
    (u0, v0), (u1, v1) = line
    return (v0, u0), (v1, u1)


def _chance(axes: Axes, catches: tuple[tuple[int, Catch], ...]) -> _Chance:
    across = sum(catch.by_mm for way, catch in catches if way == 0)
    along = sum(catch.by_mm for way, catch in catches if way == 1)
    return _Chance(axes.from_axes.vector((across, along)), axes=axes, catches=catches)


def _shifted(box: Box, u: float, v: float) -> Box:
    return Box(box.left_mm - u, box.top_mm - v, box.width_mm, box.height_mm)
