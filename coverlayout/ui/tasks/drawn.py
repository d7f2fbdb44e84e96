"""What a hand has drawn on a cloth: a flaw, a zone, the cloth's own outline; its points, and the edit for new ones."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import flaw_region, outline_region
from coverlayout.document.edits.cloths import change_flaw, trace_outline
from coverlayout.document.edits.zones import change_zone
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Region

__all__ = ["Drawn", "all_drawn", "drawn_at", "drawn_of", "outline_of"]

Kind = Literal["flaw", "zone", "outline"]


@dataclass(frozen=True)
class Drawn:
    """One drawn thing: `points` in the cloth as it now is, `closed` unless it is a line."""

    kind: Kind
    cloth: Cloth
    id: str
    name: str
    points: Ring
    closed: bool = True

    def edit(self, points: Ring) -> Edit:
        """The edit that gives it these points."""
        now = len(self.cloth.changes)
        if self.kind == "flaw":
            return change_flaw(self.cloth.id, self.id, points_mm=points, changes_in=now)
        if self.kind == "zone":
            return change_zone(self.cloth.id, self.id, outline_mm=points, changes_in=now)
        return trace_outline(self.cloth.id, points)

    def edges(self) -> list[tuple[int, Point]]:
        """The middle of each edge with the number of the point it begins at; a line has no last edge."""
        ends = (*self.points[1:], self.points[0]) if self.closed else self.points[1:]
        return [
            (at, ((x0 + x1) / 2, (y0 + y1) / 2))
            for at, ((x0, y0), (x1, y1)) in enumerate(zip(self.points, ends, strict=False))
        ]

    def grips(self) -> list[tuple[int, bool, Point]]:
        """Every point and the middle of every edge, in order: its number, whether it is a middle, its place."""
        points = [(at, False, point) for at, point in enumerate(self.points)]
        middles = [(at, True, middle) for at, middle in self.edges()]
        return sorted((*points, *middles), key=lambda grip: (grip[0], grip[1]))


def drawn_of(project: Project, kind: Kind, cloth_id: str, thing_id: str = "") -> Drawn | None:
    """The flaw or zone of that id, or the outline of the cloth, as it now is; None when it is gone."""
    cloth = next((each for each in project.cloths if each.id == cloth_id), None)
    return None if cloth is None else next((each for each in _all_on(cloth, kind) if each.id == thing_id), None)


def all_drawn(project: Project) -> tuple[Drawn, ...]:
    """Everything drawn on the cloths, one cloth after the other: its flaws, its zones, its outline."""
    kinds: tuple[Kind, ...] = ("flaw", "zone", "outline")
    return tuple(drawn for cloth in project.cloths for kind in kinds for drawn in _all_on(cloth, kind))


def _all_on(cloth: Cloth, kind: Kind) -> list[Drawn]:
    if kind == "flaw":
        return [
            Drawn(
                "flaw",
                cloth,
                flaw.id,
                flaw.name,
                cloth.change_after(flaw.changes_in).ring(flaw.points_mm),
                flaw.line_width_mm <= 0,
            )
            for flaw in cloth.flaws
        ]
    if kind == "zone":
        return [
            Drawn("zone", cloth, zone.id, zone.name, cloth.change_after(zone.changes_in).ring(zone.outline_mm))
            for zone in cloth.zones
        ]
    return [outline_of(cloth)]


def outline_of(cloth: Cloth) -> Drawn:
    """The outline of a cloth as it now is."""
    return Drawn("outline", cloth, "", cloth.name, cloth.outline_now_mm())


def drawn_at(cloth: Cloth, at_mm: Point) -> Drawn | None:
    """The topmost drawn thing under a place of the cloth: a flaw before a zone before the outline; None beside it."""
    for flaw in reversed(cloth.flaws):
        if flaw_region(cloth, flaw).contains(at_mm):
            return next(each for each in _all_on(cloth, "flaw") if each.id == flaw.id)
    for drawn in reversed(_all_on(cloth, "zone")):
        if Region.of(drawn.points).contains(at_mm):
            return drawn
    return outline_of(cloth) if outline_region(cloth).contains(at_mm) else None
