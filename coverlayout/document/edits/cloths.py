"""Edits of cloths: their size and state, changes in size, flaws, zones, the print on them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from coverlayout.book.book import Source
from coverlayout.cloth.cloth import Change, Cloth, Flaw, Zone
from coverlayout.document.checks.whole import checked_edit, known
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import Affine
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint

__all__ = [
    "add_change",
    "add_cloth",
    "add_flaw",
    "add_zone",
    "change_cloth",
    "change_flaw",
    "lay_print",
    "remove_change",
    "remove_cloth",
    "remove_flaw",
    "remove_zone",
]


def add_cloth(cloth: Cloth) -> Edit:
    """Add a cloth; it comes last, under an id of its own that was never used before (the one it brings is not kept)."""

    def change(old: Project) -> Project:
        new_id, counted = old.named_anew("cloth")
        return replace(counted, cloths=(*old.cloths, replace(cloth, id=new_id)))

    return checked_edit(Remark.of("edit-add-cloth", name=cloth.name), change)


def change_cloth(cloth_id: str, **fields: Any) -> Edit:
    """Change a cloth by the field names of Cloth. When `changes` change, what lies on the cloth moves with it."""
    return _cloth_edit("edit-change-cloth", cloth_id, lambda cloth: replace(cloth, **fields))


def add_change(cloth_id: str, change: Change) -> Edit:
    """Let a cloth shrink or grow once more: placements move with the cloth, pieces keep their size."""
    return _cloth_edit(
        "edit-add-change", cloth_id, lambda cloth: replace(cloth, changes=(*cloth.changes, change)), name=change.name
    )


def remove_change(cloth_id: str, index: int) -> Edit:
    """Take a change in size back, counted from 0. What was measured after it keeps its figures."""

    def change(cloth: Cloth) -> Cloth:
        if not 0 <= index < len(cloth.changes):
            raise BadInput("id-unknown", kind="change in size", id=str(index + 1))
        return _without_change(cloth, index)

    return _cloth_edit("edit-remove-change", cloth_id, change)


def add_flaw(cloth_id: str, flaw: Flaw) -> Edit:
    """Mark a flaw on a cloth, under an id of its own; it comes last."""

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        new_id, counted = old.named_anew("flaw")
        return counted.with_cloth(replace(cloth, flaws=(*cloth.flaws, replace(flaw, id=new_id))))

    return checked_edit(Remark.of("edit-add-flaw", name=flaw.name), change)


def change_flaw(cloth_id: str, flaw_id: str, **fields: Any) -> Edit:
    """Change a flaw by the field names of Flaw."""

    def change(cloth: Cloth) -> Cloth:
        new = replace(known(cloth.flaws, flaw_id, "flaw"), **fields)
        return replace(cloth, flaws=tuple(new if flaw.id == flaw_id else flaw for flaw in cloth.flaws))

    return _cloth_edit("edit-change-flaw", cloth_id, change)


def remove_flaw(cloth_id: str, flaw_id: str) -> Edit:
    """Take a flaw away."""

    def change(cloth: Cloth) -> Cloth:
        gone = known(cloth.flaws, flaw_id, "flaw")
        return replace(cloth, flaws=tuple(flaw for flaw in cloth.flaws if flaw is not gone))

    return _cloth_edit("edit-remove-flaw", cloth_id, change)


def add_zone(cloth_id: str, zone: Zone) -> Edit:
    """Mark a zone on a cloth, under an id of its own; it comes last."""

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        new_id, counted = old.named_anew("zone")
        return counted.with_cloth(replace(cloth, zones=(*cloth.zones, replace(zone, id=new_id))))

    return checked_edit(Remark.of("edit-add-zone", name=zone.name), change)


def remove_zone(cloth_id: str, zone_id: str) -> Edit:
    """Take a zone away; pieces that had to come from it may come from anywhere on that cloth."""

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        gone = known(cloth.zones, zone_id, "zone")
        new = old.with_cloth(replace(cloth, zones=tuple(zone for zone in cloth.zones if zone is not gone)))
        return new.with_sources(lambda source: replace(source, zone_id=None) if source.zone_id == zone_id else source)

    return checked_edit(Remark("edit-remove-zone"), change)


def lay_print(cloth_id: str, laid: LaidPrint | None, zone_id: str | None = None) -> Edit:
    """Say how a print lies on a cloth, or on one of its zones; None: there is no print."""

    def change(cloth: Cloth) -> Cloth:
        if zone_id is None:
            return replace(cloth, laid=laid)
        new = replace(known(cloth.zones, zone_id, "zone"), laid=laid)
        return replace(cloth, zones=tuple(new if zone.id == zone_id else zone for zone in cloth.zones))

    return _cloth_edit("edit-lay-print", cloth_id, change)


def remove_cloth(cloth_id: str) -> Edit:
    """Remove a cloth: pieces that lie on it wait again. BadInput when pieces were cut from it: they are facts."""

    def change(old: Project) -> Project:
        gone = known(old.cloths, cloth_id, "cloth")
        if any(fact.place.cloth == cloth_id for fact in old.cut_pieces):
            raise BadInput("cloth-was-cut", name=gone.name)
        layouts = tuple(
            replace(layout, placements=tuple(placed for placed in layout.placements if placed.cloth != cloth_id))
            for layout in old.layouts
        )
        new = replace(old, cloths=tuple(cloth for cloth in old.cloths if cloth is not gone), layouts=layouts)
        return new.with_sources(lambda source: _freed(source, gone))

    return checked_edit(Remark("edit-remove-cloth"), change)


def _freed(source: Source, gone: Cloth) -> Source:
    """The source without what went with the cloth."""
    zones = {zone.id for zone in gone.zones}
    return replace(
        source,
        cloth_id=None if source.cloth_id == gone.id else source.cloth_id,
        zone_id=None if source.zone_id in zones else source.zone_id,
    )


def _cloth_edit(code: str, cloth_id: str, change: Callable[[Cloth], Cloth], **figures: str) -> Edit:
    """An edit of one cloth; what lies on it moves with it."""

    def whole(old: Project) -> Project:
        before = known(old.cloths, cloth_id, "cloth")
        after = change(before)
        if after.id != cloth_id:
            raise BadInput("id-fixed", kind="cloth", id=cloth_id)
        return _moved_with(old.with_cloth(after), before, after)

    return checked_edit(Remark.of(code, **figures), whole)


def _moved_with(project: Project, before: Cloth, after: Cloth) -> Project:
    """The project with everything that lies on the cloth moved as the cloth changed its size."""
    if before.changes == after.changes:
        return project
    moves = before.change_after(0).inverse().then(after.change_after(0))
    layouts = tuple(
        replace(layout, placements=tuple(_moved(placed, after.id, moves) for placed in layout.placements))
        for layout in project.layouts
    )
    facts = tuple(replace(fact, place=_moved(fact.place, after.id, moves)) for fact in project.cut_pieces)
    return replace(project, layouts=layouts, cut_pieces=facts)


def _moved(placed: Placed, cloth_id: str, moves: Affine) -> Placed:
    if placed.cloth != cloth_id:
        return placed
    x_mm, y_mm = moves.at((placed.x_mm, placed.y_mm))
    return replace(placed, x_mm=x_mm, y_mm=y_mm)


def _without_change(cloth: Cloth, index: int) -> Cloth:
    """The cloth without that change; whatever contained it contains one change fewer."""

    def fewer(changes_in: int) -> int:
        return changes_in - 1 if changes_in > index else changes_in

    def laid(before: LaidPrint | None) -> LaidPrint | None:
        return None if before is None else replace(before, changes_in=fewer(before.changes_in))

    return replace(
        cloth,
        changes=cloth.changes[:index] + cloth.changes[index + 1 :],
        outline_changes_in=fewer(cloth.outline_changes_in),
        flaws=tuple(replace(flaw, changes_in=fewer(flaw.changes_in)) for flaw in cloth.flaws),
        zones=tuple(replace(zone, changes_in=fewer(zone.changes_in), laid=laid(zone.laid)) for zone in cloth.zones),
        laid=laid(cloth.laid),
    )
