"""Edits of cloths: their size and outline, changes in size, flaws, the print on them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from coverlayout.book.book import Source
from coverlayout.cloth.cloth import BaseLine, Change, Cloth, Flaw
from coverlayout.cloth.reframing import reframed
from coverlayout.document.checks.figures import free_name
from coverlayout.document.checks.grounds import check_flaw, check_outline
from coverlayout.document.checks.whole import checked_edit, known
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import Affine, Ring, shift
from coverlayout.geometry.shapes import bounds, checked_ring
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint

__all__ = [
    "add_change",
    "add_cloth",
    "add_flaw",
    "change_cloth",
    "change_flaw",
    "duplicate_cloth",
    "lay_print",
    "move_cloth",
    "remove_change",
    "remove_cloth",
    "remove_flaw",
    "rename_cloth",
    "trace_outline",
]

# What an outline is held against.
_GROUND = {"outline_mm", "outline_changes_in", "width_mm", "length_mm"}


def add_cloth(cloth: Cloth) -> Edit:
    """Add a cloth; it comes last, under an id of its own that was never used before (the one it brings is not kept).

    BadInput when it brings an outline that reaches beyond its size.
    """

    def change(old: Project) -> Project:
        check_outline(cloth)
        new_id, counted = old.named_anew("cloth")
        return replace(counted, cloths=(*old.cloths, replace(cloth, id=new_id)))

    return checked_edit(Remark.of("edit-add-cloth", name=cloth.name), change)


def change_cloth(cloth_id: str, **fields: Any) -> Edit:
    """Change a cloth by the field names of Cloth. When `changes` change, what lies on the cloth moves with it.

    BadInput when a new outline or size lets the outline reach beyond the cloth.
    """

    def change(cloth: Cloth) -> Cloth:
        after = replace(cloth, **fields)
        if _GROUND & fields.keys():
            check_outline(after)
        return after

    return _cloth_edit("edit-change-cloth", cloth_id, change)


def rename_cloth(cloth_id: str, name: str) -> Edit:
    """Call a cloth something else. BadInput when no letter is left."""

    def change(cloth: Cloth) -> Cloth:
        if not name.strip():
            raise BadInput("name-empty")
        return replace(cloth, name=name.strip())

    return _cloth_edit("edit-rename-cloth", cloth_id, change, name=name)


def duplicate_cloth(cloth_id: str) -> Edit:
    """The same cloth once more, right behind it: flaws, zones and prints come along under ids of their own.

    What was cut or lies there stays with the first, and so do the places where cloth is gone.
    """

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        project = old
        ids: dict[str, str] = {}
        flaws = tuple(flaw for flaw in cloth.flaws if not flaw.gone)
        olds = [("cloth", cloth.id), *(("flaw", each.id) for each in flaws)]
        for kind, old_id in (*olds, *(("zone", each.id) for each in cloth.zones)):
            ids[old_id], project = project.named_anew(kind)
        twin = replace(
            cloth,
            id=ids[cloth.id],
            name=free_name(cloth.name, (each.name for each in old.cloths)),
            flaws=tuple(replace(flaw, id=ids[flaw.id]) for flaw in flaws),
            zones=tuple(replace(zone, id=ids[zone.id]) for zone in cloth.zones),
        )
        at = old.cloths.index(cloth) + 1
        return replace(project, cloths=(*old.cloths[:at], twin, *old.cloths[at:]))

    return checked_edit(Remark("edit-duplicate-cloth"), change)


def move_cloth(cloth_id: str, to: int) -> Edit:
    """Put a cloth at another place in the row, counted from 0; beyond either end counts as the end."""

    def change(old: Project) -> Project:
        moved = known(old.cloths, cloth_id, "cloth")
        rest = [cloth for cloth in old.cloths if cloth is not moved]
        at = min(max(to, 0), len(rest))
        return replace(old, cloths=(*rest[:at], moved, *rest[at:]))

    return checked_edit(Remark("edit-move-cloth"), change)


def trace_outline(cloth_id: str, outline_mm: Ring) -> Edit:
    """Give a cloth the outline drawn on it, in the cloth as it now is; all that lies there stays on its spot.

    The cloth is counted from the top left of its new outline, so everything on it gets new figures. BadInput when it
    crosses itself, encloses nothing, or is larger than the cloth.
    """

    def change(old: Project) -> Project:
        before = known(old.cloths, cloth_id, "cloth")
        ring = checked_ring(outline_mm, where=before.name)
        box = bounds(ring)
        away = shift(-box.left_mm, -box.top_mm)
        after = replace(
            reframed(before, away.at((0.0, 0.0))), outline_mm=away.ring(ring), outline_changes_in=len(before.changes)
        )
        check_outline(after)
        return _carried(old.with_cloth(after), cloth_id, away)

    return checked_edit(Remark("edit-trace-outline"), change)


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
    """Mark a flaw on a cloth, under an id of its own; it comes last.

    BadInput when it crosses itself, encloses nothing, or lies wholly beside the cloth.
    """

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        check_flaw(cloth, flaw)
        new_id, counted = old.named_anew("flaw")
        return counted.with_cloth(replace(cloth, flaws=(*cloth.flaws, replace(flaw, id=new_id))))

    return checked_edit(Remark.of("edit-add-flaw", name=flaw.name), change)


def change_flaw(cloth_id: str, flaw_id: str, **fields: Any) -> Edit:
    """Change a flaw by the field names of Flaw. BadInput as `add_flaw`, once its ground changes."""

    def change(cloth: Cloth) -> Cloth:
        old = known(cloth.flaws, flaw_id, "flaw")
        new = replace(old, **fields)
        if (new.points_mm, new.line_width_mm, new.changes_in) != (old.points_mm, old.line_width_mm, old.changes_in):
            check_flaw(cloth, new)
        return replace(cloth, flaws=tuple(new if flaw.id == flaw_id else flaw for flaw in cloth.flaws))

    return _cloth_edit("edit-change-flaw", cloth_id, change)


def remove_flaw(cloth_id: str, flaw_id: str) -> Edit:
    """Take a flaw away."""

    def change(cloth: Cloth) -> Cloth:
        gone = known(cloth.flaws, flaw_id, "flaw")
        return replace(cloth, flaws=tuple(flaw for flaw in cloth.flaws if flaw is not gone))

    return _cloth_edit("edit-remove-flaw", cloth_id, change)


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
        layouts = tuple(layout.keeping(lambda placed: placed.cloth != cloth_id) for layout in old.layouts)
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
    return _carried(project, after.id, before.change_after(0).inverse().then(after.change_after(0)))


def _carried(project: Project, cloth_id: str, moves: Affine) -> Project:
    """The project with every piece that lies on the cloth, or was cut from it, moved."""
    layouts = tuple(
        replace(layout, placements=tuple(_moved(placed, cloth_id, moves) for placed in layout.placements))
        for layout in project.layouts
    )
    facts = tuple(replace(fact, place=_moved(fact.place, cloth_id, moves)) for fact in project.cut_pieces)
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

    def line(before: BaseLine | None) -> BaseLine | None:
        return None if before is None else replace(before, changes_in=fewer(before.changes_in))

    return replace(
        cloth,
        changes=cloth.changes[:index] + cloth.changes[index + 1 :],
        outline_changes_in=fewer(cloth.outline_changes_in),
        flaws=tuple(replace(flaw, changes_in=fewer(flaw.changes_in)) for flaw in cloth.flaws),
        zones=tuple(replace(zone, changes_in=fewer(zone.changes_in), laid=laid(zone.laid)) for zone in cloth.zones),
        laid=laid(cloth.laid),
        base_line=line(cloth.base_line),
    )
