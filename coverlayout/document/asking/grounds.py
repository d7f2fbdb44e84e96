"""A cloth as the layout asks for it: its grounds by print, what to keep clear of, what already lies there for good."""

from __future__ import annotations

from functools import lru_cache

from coverlayout.book.book import Source
from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.cloth.usable import keep_out_regions, laid_to_cloth, outline_region, usable, zone_region
from coverlayout.document.project import CutPiece, Project
from coverlayout.geometry.frames import piece_to_cloth
from coverlayout.geometry.shapes import Region
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, PieceAsked
from coverlayout.motif.prints import LaidPrint, Print, Up

__all__ = ["cloth_asked", "grounds_of", "prints_for", "prints_lying", "region_cut"]

# Turns by which a print that looks the same about a place does so, as its up says.
_ALIKE_DEG: dict[Up, tuple[float, ...]] = {"one-way": (), "two-way": (180.0,), "any": (90.0, 180.0, 270.0)}


def prints_lying(cloth: Cloth, zone_id: str | None = None) -> tuple[LaidPrint | None, ...]:
    """How each print lies on the cloth, one for each ground; None stands for plain ground. Only one zone's, if named.

    >>> prints_lying(Cloth("c", "plain", 300.0, 200.0))
    (None,)
    """
    if zone_id is not None:
        return tuple(zone.laid for zone in cloth.zones if zone.id == zone_id)
    return tuple(zone.laid for zone in cloth.zones) if cloth.zones else (cloth.laid,)


def prints_for(project: Project, source: Source) -> set[str]:
    """The prints a piece of this source may come from: the one it names, or all that lie on the cloths it may use."""
    if source.print_id is not None:
        return {source.print_id}
    cloths = [cloth for cloth in project.cloths if source.cloth_id in (None, cloth.id)]
    lying = (found for cloth in cloths for found in prints_lying(cloth, source.zone_id))
    return {laid.print_id for laid in lying if laid is not None}


@lru_cache(maxsize=64)
def cloth_asked(cloth: Cloth, prints: tuple[Print, ...], facts: tuple[CutPiece, ...] = ()) -> ClothAsked:
    """The cloth as it now is: grounds, flaws and spoiled holes to keep clear of, and pieces already cut from it."""
    here = [fact for fact in facts if fact.place.cloth == cloth.id]
    # Where no cloth is left nothing can be hidden either.
    flaws = [
        KeepOut(flaw.id, flaw.name, region, flaw.fine_where_hidden and not flaw.gone)
        for flaw, region in keep_out_regions(cloth)
    ]
    holes = [_hole(fact, k) for k, fact in enumerate(here) if fact.state == "spoiled"]
    return ClothAsked(
        id=cloth.id,
        name=cloth.name,
        outline_mm=cloth.outline_now_mm(),
        grounds=grounds_of(cloth, prints),
        keep_outs=(*flaws, *holes),
        fixed=tuple((_as_cut(fact), fact.place) for fact in here if fact.state == "cut"),
        gone_mm2=_gone_mm2(cloth, here),
    )


def _as_cut(fact: CutPiece) -> PieceAsked:
    """A piece that lies for good; it asks nothing more, so any turn will do."""
    return PieceAsked(fact.piece, fact.outline_mm, fact.anchor_mm, turns_deg=None, seen_mm=fact.seen_mm)


def _hole(fact: CutPiece, k: int) -> KeepOut:
    return KeepOut(f"spoiled-{k}-{fact.piece}", fact.name, region_cut(fact), spoiled=True)


def region_cut(fact: CutPiece) -> Region:
    """Where a piece was cut, or spoiled, in the frame of its cloth as it now is."""
    to_cloth = piece_to_cloth(fact.anchor_mm, (fact.place.x_mm, fact.place.y_mm), fact.place.turn_deg)
    return Region.of(to_cloth.ring(fact.outline_mm))


def _gone_mm2(cloth: Cloth, facts: list[CutPiece]) -> float:
    """What of the outline became a cloth of its own; pieces cut from within it were not."""
    gone = [region for flaw, region in keep_out_regions(cloth) if flaw.gone]
    if not gone:
        return 0.0
    cut = Region.union(region_cut(fact) for fact in facts)
    return Region.union(gone).minus(cut).meet(outline_region(cloth)).area_mm2


def grounds_of(cloth: Cloth, prints: tuple[Print, ...]) -> tuple[Ground, ...]:
    """The parts of a cloth that pieces may use, each with the print that lies there; the ids are the zones' or cloth's.

    Ground outside the zones is no use when there are zones. Zones that touch and carry the same print, lying the same
    way, are besides one ground together, since a piece may lie across them.
    """
    if not cloth.zones:
        return (_ground(cloth, cloth.id, usable(cloth), cloth.laid, prints),)
    zones = [(zone, zone_region(cloth, zone)) for zone in cloth.zones]
    single = [_ground(cloth, zone.id, region, zone.laid, prints) for zone, region in zones]
    joined = [_joined(cloth, group, prints) for group in _touching(zones) if len(group) > 1]
    return (*joined, *single)


def _ground(cloth: Cloth, ground_id: str, region: Region, laid: LaidPrint | None, prints: tuple[Print, ...]) -> Ground:
    if laid is None:
        return Ground(ground_id, region)
    to_cloth = laid_to_cloth(cloth, laid)
    of = next(a_print for a_print in prints if a_print.id == laid.print_id)
    return Ground(
        id=ground_id,
        usable=region,
        print_id=laid.print_id,
        up_deg=laid.turn_deg,
        lattice_mm=of.lattice.mapped(to_cloth),
        print_to_cloth=to_cloth,
        origin_known=laid.origin_known,
        one_way=of.up == "one-way",
        alike_deg=() if of.alike_about_mm is None else _ALIKE_DEG[of.up],
        alike_about_mm=of.alike_about_mm or (0.0, 0.0),
    )


def _joined(cloth: Cloth, group: list[tuple[Zone, Region]], prints: tuple[Print, ...]) -> Ground:
    ground_id = "+".join(zone.id for zone, _ in group)
    return _ground(cloth, ground_id, Region.union(region for _, region in group), group[0][0].laid, prints)


def _touching(zones: list[tuple[Zone, Region]]) -> list[list[tuple[Zone, Region]]]:
    """The zones in groups that touch each other, directly or through others, and carry the same print the same way."""
    groups: list[list[tuple[Zone, Region]]] = []
    for zone, region in zones:
        near = [group for group in groups if group[0][0].laid == zone.laid and _touches(region, group)]
        groups = [group for group in groups if group not in near]
        groups.append([*(member for group in near for member in group), (zone, region)])
    return groups


def _touches(region: Region, group: list[tuple[Zone, Region]]) -> bool:
    found = (theirs for _, theirs in group if not theirs.is_empty)
    return not region.is_empty and any(region.distance_mm(theirs) <= SAME_LENGTH_MM for theirs in found)
