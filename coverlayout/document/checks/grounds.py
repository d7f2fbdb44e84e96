"""What the maker newly says of a cloth's ground: stricter than the file's door, which lets in what older work holds.

An outline lies within the cloth's size, a flaw and a zone on the cloth, and no two zones on the same ground.
"""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import Source
from coverlayout.cloth.cloth import Cloth, Flaw, Zone
from coverlayout.cloth.outlines import checked_points
from coverlayout.cloth.usable import flaw_region, outline_region
from coverlayout.document.checks.figures import check_figures
from coverlayout.document.checks.whole import known
from coverlayout.document.project import Project
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import Region, bounds, checked_ring
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["check_flaw", "check_outline", "check_source", "check_zone"]


def check_outline(cloth: Cloth) -> None:
    """BadInput when the cloth's outline begins off its top left corner, or reaches beyond its width and length.

    Both are compared as they were when the outline was measured: after the changes in size that it contains.
    """
    if cloth.outline_mm is None:
        return
    box = bounds(checked_ring(cloth.outline_mm, where=cloth.name))
    if max(abs(box.left_mm), abs(box.top_mm)) > SAME_LENGTH_MM:
        raise BadInput("outline-off-corner", where="Outline", left_mm=box.left_mm, top_mm=box.top_mm)
    then = replace(cloth, changes=cloth.changes[: cloth.outline_changes_in])
    width_mm, length_mm = then.change_after(0).at((cloth.width_mm, cloth.length_mm))
    if box.right_mm > width_mm + SAME_LENGTH_MM or box.bottom_mm > length_mm + SAME_LENGTH_MM:
        raise BadInput(
            "outline-larger",
            where=cloth.name,
            outline_width_mm=box.right_mm,
            outline_length_mm=box.bottom_mm,
            width_mm=width_mm,
            length_mm=length_mm,
        )


def check_flaw(cloth: Cloth, flaw: Flaw) -> None:
    """BadInput when the flaw crosses itself, encloses nothing, or lies wholly beside the cloth as it now is."""
    check_figures(flaw, flaw.name)
    checked_points(flaw.points_mm, closed=flaw.line_width_mm <= 0, where=flaw.name)
    if flaw_region(cloth, flaw).meet(outline_region(cloth)).is_empty:
        raise BadInput("flaw-off-cloth", where=flaw.name, cloth=cloth.name)


def check_zone(cloth: Cloth, zone: Zone) -> None:
    """BadInput when the zone encloses nothing, lies wholly beside its cloth, or over another zone.

    Zones may touch; they overlap when more than a sliver of the usual tolerance lies in both.
    """
    ground = _ground(cloth, zone)
    if ground.meet(outline_region(cloth)).is_empty:
        raise BadInput("zone-off-cloth", where=zone.name, cloth=cloth.name)
    for other in cloth.zones:
        if other.id != zone.id and _lies_over(ground, _ground(cloth, other)):
            raise BadInput("zones-overlap", where=zone.name, other=other.name)


def _lies_over(first: Region, second: Region) -> bool:
    """True when the two share more than a sliver: a strip wider than two lengths that count as equal may differ."""
    shared = first.meet(second)
    return not shared.is_empty and not shared.inset(SAME_LENGTH_MM / 2, corners="round").is_empty


def _ground(cloth: Cloth, zone: Zone) -> Region:
    """The zone as drawn, on the cloth as it now is."""
    return Region.of(cloth.change_after(zone.changes_in).ring(checked_ring(zone.outline_mm, where=zone.name)))


def check_source(project: Project, source: Source) -> None:
    """BadInput when print, cloth and zone of a source contradict each other: no piece could come from there."""
    if source.print_id is not None:
        known(project.prints, source.print_id, "print")
    if source.cloth_id is not None:
        known(project.cloths, source.cloth_id, "cloth")
    cloths = [cloth for cloth in project.cloths if source.cloth_id in (None, cloth.id)]
    if source.zone_id is not None:
        known([zone for cloth in project.cloths for zone in cloth.zones], source.zone_id, "zone")
    found = [zone for cloth in cloths for zone in cloth.zones if source.zone_id in (None, zone.id)]
    if source.zone_id is not None and not found:
        raise BadInput("source-zone-elsewhere")
    if source.print_id is None or (source.cloth_id is None and source.zone_id is None):
        return
    laid = [zone.laid for zone in found]
    if source.zone_id is None:
        laid += [cloth.laid for cloth in cloths if not cloth.zones]
    if not any(one is not None and one.print_id == source.print_id for one in laid):
        raise BadInput("source-print-elsewhere", name=known(project.prints, source.print_id, "print").name)
