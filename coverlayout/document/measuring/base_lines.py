"""Edits of a cloth's base line: where it lies, how the print lies by it, and what is measured from it."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.cloth.base_line import LineFound, MotifPlace, laid_by, laid_now
from coverlayout.cloth.cloth import BaseLine, Cloth, Zone
from coverlayout.cloth.straightness import skew_percent
from coverlayout.cloth.usable import laid_to_cloth, outline_region
from coverlayout.document.checks.whole import checked_edit, known
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import Affine, Point
from coverlayout.geometry.shapes import Region
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint

__all__ = ["laid_at", "line_found", "measure_from_line", "set_base_line", "set_skew"]


def laid_at(cloth: Cloth, at_mm: Point) -> tuple[Zone | None, LaidPrint | None]:
    """The print that lies at a place of the cloth as it now is, and the zone it belongs to (None: the whole cloth)."""
    if not cloth.zones:
        return None, cloth.laid
    for zone in cloth.zones:
        if Region.of(cloth.change_after(zone.changes_in).ring(zone.outline_mm)).contains(at_mm):
            return zone, zone.laid
    return None, None


def line_found(project: Project, cloth_id: str, line: BaseLine, motif_mm: Point | None = None) -> LineFound:
    """How the print under the line's start lies by that line, before anything is changed.

    `motif_mm`: the motif at both ends, in the print's own frame; None: what is drawn at the start at present.
    BadInput as `laid_by`, and when no print lies there.
    """
    cloth = known(project.cloths, cloth_id, "cloth")
    _check_on_cloth(cloth, line)
    _, laid, lattice = _print_under(project, cloth, line)
    return _found(cloth, laid, lattice, line, motif_mm)


def set_base_line(
    cloth_id: str, line: BaseLine | None, lay: bool = True, motif_mm: Point | None = None, *, name: str = ""
) -> Edit:
    """Set the base line of a cloth (None: take it away); its ends are places on the cloth as it now is.

    With `lay` the print under its start is laid by it in the same step, and planned pieces on that print go with it:
    each keeps its motif and its turn in the print. `motif_mm` as in `line_found`. The line then contains all changes in
    size; later ones carry it along. BadInput as `line_found` when `lay`, and for a line with both ends on one point or
    one of them beside the cloth.
    """

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        if line is None:
            return old.with_cloth(replace(cloth, base_line=None))
        _check_on_cloth(cloth, line)
        marked = replace(cloth, base_line=replace(line, changes_in=len(cloth.changes)))
        return _laid_by_line(old, marked, line, motif_mm) if lay else old.with_cloth(marked)

    code = "edit-no-base-line" if line is None else "edit-base-line"
    return checked_edit(Remark.of(code, name=name or cloth_id), change)


def measure_from_line(cloth_id: str, wanted: bool, *, name: str = "") -> Edit:
    """Give the measures of a cloth from its base line, or from its edges. BadInput when it has no base line."""

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        if cloth.base_line is None:
            raise BadInput("base-line-no-ends", name=cloth.name)
        return old.with_cloth(replace(cloth, base_line=replace(cloth.base_line, measured_from=wanted)))

    return checked_edit(
        Remark.of("edit-measured-from" if wanted else "edit-measured-from-edges", name=name or cloth_id), change
    )


def set_skew(cloth_id: str, offset_mm: float, width_mm: float, zone_id: str | None = None, *, name: str = "") -> Edit:
    """Say that the print runs off square by `offset_mm` over `width_mm` across it (down to the right above 0).

    Both are measured on the cloth as it now is; the print's origin keeps its place. BadInput when no print lies there
    or the figures cannot be.
    """

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        zone = None if zone_id is None else known(cloth.zones, zone_id, "zone")
        laid = cloth.laid if zone is None else zone.laid
        if laid is None:
            raise BadInput("base-line-no-print", name=cloth.name)
        skewed = replace(laid_now(cloth, laid), skew_percent=skew_percent(offset_mm, width_mm))
        return old.with_cloth(_with_laid(cloth, zone, skewed))

    return checked_edit(Remark.of("edit-skew", name=name or cloth_id), change)


def _check_on_cloth(cloth: Cloth, line: BaseLine) -> None:
    if not all(outline_region(cloth).contains(end_mm) for end_mm in (line.start_mm, line.end_mm)):
        raise BadInput("base-line-off-cloth", name=cloth.name)


def _print_under(project: Project, cloth: Cloth, line: BaseLine) -> tuple[Zone | None, LaidPrint, Lattice]:
    zone, laid = laid_at(cloth, line.start_mm)
    if laid is None:
        raise BadInput("base-line-no-print", name=cloth.name)
    return zone, laid, known(project.prints, laid.print_id, "print").lattice


def _found(cloth: Cloth, laid: LaidPrint, lattice: Lattice, line: BaseLine, motif_mm: Point | None) -> LineFound:
    ends = (MotifPlace(line.start_mm), MotifPlace(line.end_mm, line.repeats))
    return laid_by(cloth, laid, lattice, ends, motif_mm)


def _with_laid(cloth: Cloth, zone: Zone | None, laid: LaidPrint) -> Cloth:
    if zone is None:
        return replace(cloth, laid=laid)
    zones = (replace(each, laid=laid) if each.id == zone.id else each for each in cloth.zones)
    return replace(cloth, zones=tuple(zones))


def _laid_by_line(old: Project, marked: Cloth, line: BaseLine, motif_mm: Point | None) -> Project:
    """The project with the print laid by the line, and with the planned pieces on it gone along."""
    zone, laid, lattice = _print_under(old, marked, line)
    found = _found(marked, laid, lattice, line, motif_mm)
    # Between a half turn left and a half turn right, so that a small correction stays one in the figures shown.
    turned_deg = (found.laid.turn_deg - laid.turn_deg + 180.0) % 360.0 - 180.0
    moves = laid_to_cloth(marked, laid).inverse().then(laid_to_cloth(marked, found.laid))

    def moved(placed: Placed) -> Placed:
        at = (placed.x_mm, placed.y_mm)
        if placed.cloth != marked.id or (zone is not None and laid_at(marked, at)[0] is not zone):
            return placed
        return _moved(placed, moves, turned_deg)

    layouts = tuple(
        replace(layout, placements=tuple(moved(placed) for placed in layout.placements)) for layout in old.layouts
    )
    return replace(old.with_cloth(_with_laid(marked, zone, found.laid)), layouts=layouts)


def _moved(placed: Placed, moves: Affine, turned_deg: float) -> Placed:
    x_mm, y_mm = moves.at((placed.x_mm, placed.y_mm))
    return replace(placed, x_mm=x_mm, y_mm=y_mm, turn_deg=(placed.turn_deg + turned_deg) % 360.0)
