"""Pieces where they lie and cloths made ready for judging: shapes worked out once, and the rules of one piece alone."""

from __future__ import annotations

from functools import cached_property
from itertools import combinations

from coverlayout.geometry.distance import Shape
from coverlayout.geometry.frames import Affine, Point, Ring, piece_to_cloth, turns_apart_deg
from coverlayout.geometry.shapes import Region
from coverlayout.geometry.tolerance import SAME_TURN_DEG
from coverlayout.layout.answer import Breach, Rule
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, PieceAsked, Placed

__all__ = ["ClothReady", "GroundReady", "Laid", "outline_on_cloth"]


def outline_on_cloth(piece: PieceAsked, placed: Placed) -> Ring:
    """The cut outline in the cloth frame, mm: where the knife goes.

    >>> strip = PieceAsked("strip-1", ((0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (0.0, 10.0)), anchor_mm=(0.0, 0.0))
    >>> outline_on_cloth(strip, Placed("strip-1", "c", 100.0, 50.0, 90.0))
    ((100.0, 50.0), (100.0, 80.0), (90.0, 80.0), (90.0, 50.0))
    """
    return piece_to_cloth(piece.anchor_mm, (placed.x_mm, placed.y_mm), placed.turn_deg).ring(piece.outline_mm)


class GroundReady:
    """A ground with its shape, and the map back into its print where there is one."""

    def __init__(self, ground: Ground) -> None:
        """Make the shape ready once."""
        self.ground = ground
        self.shape = Shape.of_region(ground.usable)

    @cached_property
    def cloth_to_print(self) -> Affine | None:
        """Cloth frame to print frame, None without a print."""
        return None if self.ground.print_to_cloth is None else self.ground.print_to_cloth.inverse()

    def takes(self, piece: PieceAsked, cloth_id: str) -> bool:
        """True when the piece may come from here by its print, its cloth and its zone."""
        return piece.may_come_from(cloth_id, self.ground)


class ClothReady:
    """A cloth with the shapes of its outline, grounds, flaws, holes and of the pieces cut from it."""

    def __init__(self, cloth: ClothAsked) -> None:
        """Make every shape ready once."""
        self.cloth = cloth
        self.outline = Shape.of(cloth.outline_mm)
        self.grounds = [GroundReady(ground) for ground in cloth.grounds]
        ready = [(keep_out, Shape.of_region(keep_out.region)) for keep_out in cloth.keep_outs]
        self.keep_outs: list[tuple[KeepOut, Shape]] = [(one, shape) for one, shape in ready if not shape.is_empty]
        self.holes = [(one, shape) for one, shape in self.keep_outs if one.spoiled]
        self.fixed = [Laid(piece, placed, self) for piece, placed in cloth.fixed]
        self.fixed_mm2 = _covered_mm2([laid.shape for laid in self.fixed])


def _covered_mm2(shapes: list[Shape]) -> float:
    """The area of shapes, counted once where they overlap."""
    if not any(one.overlap_mm(other) for one, other in combinations(shapes, 2) if one.apart_mm(other) <= 0):
        return sum(shape.area_mm2 for shape in shapes)
    return Region.union(shape.region for shape in shapes).area_mm2


class Laid:
    """A piece where it lies on a cloth of the question."""

    def __init__(self, piece: PieceAsked, placed: Placed, cloth: ClothReady) -> None:
        """`placed` must hold finite numbers."""
        self.piece, self.placed, self.cloth = piece, placed, cloth
        self.shape = Shape.of(outline_on_cloth(piece, placed))

    @cached_property
    def seen(self) -> Shape:
        """The part that stays visible; all of it where the piece does not say."""
        return self.shape if self.piece.seen_mm is None else Shape.of(self.to_cloth.ring(self.piece.seen_mm))

    @cached_property
    def to_cloth(self) -> Affine:
        """Piece frame to cloth frame."""
        return piece_to_cloth(self.piece.anchor_mm, (self.placed.x_mm, self.placed.y_mm), self.placed.turn_deg)

    @cached_property
    def allowed(self) -> list[GroundReady]:
        """The grounds of its cloth that it may come from."""
        return [ground for ground in self.cloth.grounds if ground.takes(self.piece, self.cloth.cloth.id)]

    @cached_property
    def ground(self) -> GroundReady | None:
        """The allowed ground it lies within, None when it lies in none; of several, the one that suits its turn."""
        within = [ground for ground in self.allowed if ground.shape.holds(self.shape)]
        return min(within, key=self.turn_off_deg, default=None)

    @cached_property
    def nearest_ground(self) -> GroundReady | None:
        """The ground it lies within, else the allowed one it reaches out of least, else any; None on bare cloth."""
        if self.ground is not None:
            return self.ground
        grounds = self.allowed or self.cloth.grounds
        return min(grounds, key=lambda ground: ground.shape.beyond_mm(self.shape), default=None)

    def at(self, point_mm: Point) -> Point:
        """A point of the piece frame in the cloth frame."""
        return self.to_cloth.at(point_mm)

    def turn_off_deg(self, ground: GroundReady) -> float:
        """How far its turn is from the nearest one it allows, counted from the ground's up; 0 when any is right."""
        if self.piece.turns_deg is None:
            return 0.0
        own_deg = self.placed.turn_deg - ground.ground.up_deg
        return min((turns_apart_deg(own_deg, turn_deg) for turn_deg in self.piece.turns_deg), default=180.0)

    @cached_property
    def edge_mm(self) -> float:
        """Distance to the edge of the ground it lies within, in mm; 0 when it lies within none."""
        return 0.0 if self.ground is None else self.ground.shape.edge_mm(self.shape)

    @cached_property
    def alone(self) -> tuple[Breach, ...]:
        """The rules it breaks whatever lies beside it: ground, turn, flaws."""
        found = [] if self.ground is not None else [self._off_its_ground()]
        ground = self.nearest_ground
        if ground is not None and (off_deg := self.turn_off_deg(ground)) > SAME_TURN_DEG:
            found.append(self._breach("turn", off_deg))
        for keep_out, shape in self.cloth.keep_outs:
            part = self.seen if keep_out.seen_only else self.shape
            if part.lies_on(shape):
                found.append(self._breach("flaw", part.overlap_mm(shape), keep_out.name))
        return tuple(found)

    def _breach(self, rule: Rule, amount_mm: float, against: str = "") -> Breach:
        return Breach(rule, (self.piece.id,), amount_mm, against, self.placed.cloth)

    def _off_its_ground(self) -> Breach:
        """Outside the cloth, or on the cloth but out of the zones of its print."""
        beyond_mm = min((ground.shape.beyond_mm(self.shape) for ground in self.allowed), default=0.0)
        others = [ground for ground in self.cloth.grounds if ground not in self.allowed]
        zoned = len(self.cloth.grounds) > 1 and self.cloth.outline.holds(self.shape)
        if zoned or any(ground.shape.holds(self.shape) for ground in others):
            return self._breach("zone", beyond_mm)
        return self._breach("outside", beyond_mm if self.allowed else self.cloth.outline.beyond_mm(self.shape))
