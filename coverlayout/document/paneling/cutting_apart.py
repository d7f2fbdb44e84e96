"""The edit that cuts a cloth into panels: each a cloth of its own, its print and flaws where they were on the stuff."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from coverlayout.book.book import Source
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import flaw_region, outline_region
from coverlayout.document.asking.grounds import prints_lying
from coverlayout.document.checks.figures import free_name
from coverlayout.document.checks.whole import checked_edit, known
from coverlayout.document.cutting.remnants import part_as_cloth
from coverlayout.document.history import Edit
from coverlayout.document.making.prices import cloth_price
from coverlayout.document.project import Layout, Project
from coverlayout.document.questions import asked_piece, planned_pieces
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.shapes import Box, Region
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import PieceAsked, Placed

__all__ = ["Panel", "cut_apart", "cut_into_panels", "in_cloth_frame"]

_MOST_DOUBT_PERCENT = 99.0
# Less cloth than this is none: what a line leaves of a crooked edge.
_CRUMB_MM2 = 1.0


class Panel(NamedTuple):
    """A panel that was made: its cloth's id, and where it lay on the old cloth as it now is."""

    cloth_id: str
    region: Region


def cut_into_panels(cloth_id: str, panels: tuple[Box, ...], placed: tuple[Placed, ...] = ()) -> Edit:
    """Cut a cloth into panels (rectangles on it as it now is), with `placed` laid on it first, in one step.

    Each panel becomes a cloth of its own, in place of the old one, named "..., panel 1" and so on, with the backing and
    the strip of the old one; prints, flaws and zones keep their place on the stuff. A piece that lies within one panel
    stays where it lies, in every layout; one that lies across a line waits. Where pieces had to come from this cloth,
    they have to come from its print; where from a zone that one panel has whole, from there.

    BadInput: fewer than two panels, panels that overlap or leave some of the cloth out, or a cloth already cut from.
    """

    def change(old: Project) -> Project:
        laid = {one.piece for one in placed}
        kept = tuple(one for one in old.layout.placements if one.piece not in laid)
        return cut_apart(old.with_layout(replace(old.layout, placements=(*kept, *placed))), cloth_id, panels)[0]

    return checked_edit(Remark.of("edit-cut-into-panels", count=len(panels)), change)


def cut_apart(project: Project, cloth_id: str, panels: tuple[Box, ...]) -> tuple[Project, tuple[Panel, ...]]:
    """The project with a cloth cut into panels, and where each lay; BadInput as `cut_into_panels`."""
    cloth = known(project.cloths, cloth_id, "cloth")
    if any(fact.place.cloth == cloth_id for fact in project.cut_pieces):
        raise BadInput("panels-cloth-cut", cloth=cloth.name)
    _check_panels(cloth, panels)
    here = project.cloths.index(cloth)
    gone = Region.union(flaw_region(cloth, flaw) for flaw in cloth.flaws if flaw.gone)
    whole = outline_region(cloth).minus(gone)
    made: list[tuple[Panel, Cloth]] = []
    pairs: list[tuple[str, str, str]] = []
    names = {other.name for other in project.cloths}
    for box in panels:
        for outer, holes in whole.meet(Region.of(box.ring())).parts():
            part = Region.of(outer, holes)
            if part.area_mm2 <= _CRUMB_MM2:
                continue
            name = free_name(f"{cloth.name}, panel {len(made) + 1}", names)
            project, panel, zones = part_as_cloth(project, _without_strip(cloth), part, name)
            made.append((Panel(panel.id, part), _as_before(project, cloth, panel, box)))
            pairs += [(old_id, panel.id, new_id) for old_id, new_id in zones]
    cloths = (*project.cloths[:here], *(panel for _, panel in made), *project.cloths[here + 1 :])
    places = tuple(panel for panel, _ in made)
    project = _with_layouts(project, cloth, places)
    return _sources_follow(replace(project, cloths=cloths), cloth, pairs), places


def in_cloth_frame(cloth_id: str, panels: tuple[Panel, ...], placed: tuple[Placed, ...]) -> tuple[Placed, ...]:
    """Places on panels as places on the cloth they were cut from; places on other cloths stay."""
    boxes = {panel.cloth_id: panel.region.bounds for panel in panels}
    return tuple(
        replace(one, cloth=cloth_id, x_mm=one.x_mm + box.left_mm, y_mm=one.y_mm + box.top_mm)
        if (box := boxes.get(one.cloth)) is not None
        else one
        for one in placed
    )


def _check_panels(cloth: Cloth, panels: tuple[Box, ...]) -> None:
    if len(panels) < 2:
        raise BadInput("panels-too-few", cloth=cloth.name)
    if any(not min(box.width_mm, box.height_mm) > SAME_LENGTH_MM for box in panels):
        raise BadInput("panels-do-not-cover", cloth=cloth.name)
    regions = [Region.of(box.ring()) for box in panels]
    together, whole = Region.union(regions), outline_region(cloth)
    around = 2 * (whole.bounds.width_mm + whole.bounds.height_mm)
    twice = sum(region.area_mm2 for region in regions) - together.area_mm2
    if max(whole.minus(together).area_mm2, twice) > around * SAME_LENGTH_MM:
        raise BadInput("panels-do-not-cover", cloth=cloth.name)


def _without_strip(cloth: Cloth) -> Cloth:
    """The cloth without its unbacked strip, which every panel gets anew all round; a wider trim stays at old edges."""
    trim_mm = cloth.trim_mm if cloth.trim_mm > cloth.web_short_mm else 0.0
    return replace(cloth, trim_mm=trim_mm, web_short_mm=0.0)


def _as_before(project: Project, cloth: Cloth, panel: Cloth, box: Box) -> Cloth:
    """The panel with what it has from the old cloth: strip, backing, state, doubt, and its share of the price."""
    price = cloth_price(project, cloth)
    share = outline_region(panel).area_mm2 / outline_region(cloth).area_mm2
    return replace(
        panel,
        web_short_mm=cloth.web_short_mm,
        backing=cloth.backing,
        state=cloth.state,
        doubt_percent=_doubt_percent(cloth, box),
        price=None if price is None else price * share,
    )


def _doubt_percent(cloth: Cloth, box: Box) -> float | None:
    """A cloth smaller by its doubt lacks it at its right and lower edges: the panels there lack all of it."""
    if cloth.doubt == 0.0:
        return cloth.doubt_percent
    whole = outline_region(cloth).bounds
    lacking = [0.0]
    if box.right_mm >= whole.right_mm - SAME_LENGTH_MM:
        lacking.append(whole.right_mm / box.width_mm)
    if box.bottom_mm >= whole.bottom_mm - SAME_LENGTH_MM:
        lacking.append(whole.bottom_mm / box.height_mm)
    return min(cloth.doubt * max(lacking), _MOST_DOUBT_PERCENT)


def _with_layouts(project: Project, cloth: Cloth, panels: tuple[Panel, ...]) -> Project:
    """The project with what lay on the cloth lying on its panels; what lies across a line waits."""
    pieces = {piece.id: asked_piece(project, piece) for piece in planned_pieces(project)}

    def layout(before: Layout) -> Layout:
        moved = {one: _on_panel(one, pieces, panels) for one in before.placements if one.cloth == cloth.id}
        kept = before.keeping(lambda one: moved.get(one, one) is not None)
        return replace(kept, placements=tuple(moved.get(one) or one for one in kept.placements))

    return replace(project, layouts=tuple(layout(before) for before in project.layouts))


def _on_panel(placed: Placed, pieces: dict[str, PieceAsked], panels: tuple[Panel, ...]) -> Placed | None:
    """The place on the panel that the piece lies within, None where there is none."""
    if placed.piece not in pieces:
        return None
    outline = Region.of(outline_on_cloth(pieces[placed.piece], placed))
    for panel in panels:
        if panel.region.inset(-SAME_LENGTH_MM).covers(outline):
            box = panel.region.bounds
            return replace(placed, cloth=panel.cloth_id, x_mm=placed.x_mm - box.left_mm, y_mm=placed.y_mm - box.top_mm)
    return None


def _sources_follow(project: Project, cloth: Cloth, pairs: list[tuple[str, str, str]]) -> Project:
    """The project with no piece that has to come from the old cloth any more."""
    whole = {old_id: (cloth_id, new_id) for old_id, cloth_id, new_id in pairs}
    for old_id in [zone_id for zone_id in whole if sum(one[0] == zone_id for one in pairs) > 1]:
        del whole[old_id]
    old_zones = {zone.id for zone in cloth.zones}

    def print_of(source: Source) -> str | None:
        lying = {laid.print_id for laid in prints_lying(cloth, source.zone_id) if laid is not None}
        return next(iter(lying)) if source.print_id is None and len(lying) == 1 else source.print_id

    def follows(source: Source) -> Source:
        if source.zone_id in whole:
            cloth_id, zone_id = whole[source.zone_id]
            return replace(source, cloth_id=None if source.cloth_id is None else cloth_id, zone_id=zone_id)
        if source.zone_id in old_zones:
            return Source(print_of(source))
        return Source(print_of(source)) if source.cloth_id == cloth.id else source

    return project.with_sources(follows)
