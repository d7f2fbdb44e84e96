"""The edit that makes the rest of a cloth a cloth of its own: a remnant, with its true outline and its print in place.

The old cloth keeps its size and its facts; what became a remnant is marked on it as gone, so that no cloth is there
twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import count

from coverlayout.book.book import Source
from coverlayout.cloth.cloth import BaseLine, Cloth, Flaw, Zone
from coverlayout.cloth.reframing import reframed
from coverlayout.cloth.usable import flaw_region, outline_region
from coverlayout.document.asking.grounds import region_cut
from coverlayout.document.checks.whole import checked_edit, known
from coverlayout.document.history import Edit
from coverlayout.document.project import Layout, Project
from coverlayout.document.questions import asked_piece, planned_pieces
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Region, bounds, checked_ring, is_rectangle, middle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import Placed

__all__ = ["LEAST_MM", "make_remnant", "part_as_cloth", "remnants_of"]

# A rest in which no circle this wide finds room is a scrap: no piece of a book comes from it.
LEAST_MM = 10.0
# A crumb of a zone: less than any cloth marks can be trusted to.
_CRUMB_MM2 = 1.0


def make_remnant(cloth_id: str, within: Ring | None = None) -> Edit:
    """Make what is left of a cloth, or what of it lies `within` an outline on it as it now is, cloth of its own.

    Left is the outline less what was cut, spoiled or gone before. Each part of it that hangs together is a cloth of
    its own, measured, largest first, named "Rest of ..." and right behind the old one. Prints, flaws, zones, changes in
    size and the base line keep their place on the stuff; a strip along the old edges becomes a flaw, since the new
    edges have none. Planned pieces that lie on it for the most part move with it, in every layout. When all of the
    cloth becomes rest, pieces that had to come from it come from the largest rest; those that had to come from a zone
    of it, from the largest rest that has some of that zone.

    BadInput: nothing was cut yet and nothing less than all is asked for, a cloth not yet bought, an outline that
    encloses nothing, or a rest with no room for a circle of LEAST_MM.
    """

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        project, made = old, []
        for number, part in enumerate(remnants_of(old, cloth, within), start=1):
            project, remnant = _made(project, cloth, part, number)
            made.append(remnant)
        return _sources_follow(project, cloth, made) if within is None else project

    return checked_edit(Remark("edit-remnant"), change)


def remnants_of(project: Project, cloth: Cloth, within: Ring | None = None) -> tuple[Region, ...]:
    """The parts of a cloth, as it now is, that would become remnants, largest first; BadInput as `make_remnant`."""
    facts = [fact for fact in project.cut_pieces if fact.place.cloth == cloth.id]
    if cloth.state != "measured" and not facts:
        raise BadInput("remnant-not-bought", cloth=cloth.name)
    gone = [flaw_region(cloth, flaw) for flaw in cloth.flaws if flaw.gone]
    whole = outline_region(cloth).minus(Region.union(gone))
    rest = whole.minus(Region.union(region_cut(fact) for fact in facts))
    if within is not None:
        rest = rest.meet(Region.of(checked_ring(within, where=cloth.name)))
    parts = [Region.of(outer, holes) for outer, holes in rest.parts()]
    large = [part for part in parts if not part.inset(LEAST_MM / 2, corners="round").is_empty]
    if not large:
        raise BadInput("remnant-too-small", cloth=cloth.name, least_mm=LEAST_MM)
    if whole.area_mm2 - rest.area_mm2 <= SAME_LENGTH_MM:
        raise BadInput("remnant-is-all", cloth=cloth.name)
    return tuple(sorted(large, key=lambda part: (-part.area_mm2, part.bounds.top_mm, part.bounds.left_mm)))


@dataclass(frozen=True)
class _Remnant:
    """A remnant made, and which zone of the old cloth became which of its zones first."""

    cloth: Cloth
    zones: tuple[tuple[str, str], ...]


def _made(project: Project, cloth: Cloth, part: Region, number: int) -> tuple[Project, _Remnant]:
    """The project with one part of the old cloth as a cloth of its own, and that cloth."""
    name = _name(project, cloth)
    project, remnant, pairs = part_as_cloth(project, cloth, part, name)
    left, project = _numbered_flaws(project, [_gone(cloth, part, name)])
    kept = tuple(flaw for flaw in project.cloth(cloth.id).flaws if not _went_with(cloth, flaw, part))
    project = project.with_cloth(replace(project.cloth(cloth.id), flaws=(*kept, *left)))
    behind = project.cloths.index(project.cloth(cloth.id)) + number
    project = replace(project, cloths=(*project.cloths[:behind], remnant, *project.cloths[behind:]))
    return _with_what_lies_there(project, cloth, part, remnant.id), _Remnant(remnant, pairs)


def part_as_cloth(
    project: Project, cloth: Cloth, part: Region, name: str
) -> tuple[Project, Cloth, tuple[tuple[str, str], ...]]:
    """One part of a cloth, as it now is, as a measured cloth of that name, not yet in the project that counts its ids.

    Prints, flaws, zones and the base line keep their place on the stuff; a strip along the old edges becomes a flaw.
    Besides, which zone of the old cloth became which of its zones.
    """
    new_id, project = project.named_anew("cloth")
    hole_flaws, project = _numbered_flaws(project, _holes(cloth, part))
    kept_flaws, project = _numbered_flaws(project, [*_flaws_on(cloth, part), *_edge_strip(cloth, part)])
    zones, pairs, project = _zones_on(project, cloth, part)
    made = replace(
        _cut_out(cloth, part),
        id=new_id,
        name=name,
        flaws=(*kept_flaws, *hole_flaws),
        zones=zones,
        laid=None if cloth.zones and not zones else cloth.laid,
        base_line=_line_on(cloth, part),
    )
    box = part.bounds
    return project, reframed(made, (-box.left_mm, -box.top_mm)), pairs


def _name(project: Project, cloth: Cloth) -> str:
    """A name that no cloth has yet: "Rest of ...", with a number from the second on."""
    taken = {other.name for other in project.cloths}
    names = (f"Rest of {cloth.name}" + (f" {k}" if k > 1 else "") for k in count(1))
    return next(name for name in names if name not in taken)


def _cut_out(cloth: Cloth, part: Region) -> Cloth:
    """The old cloth with the outline of a part: still in the old frame, without strips, flaws and zones.

    A rectangle is given by its size alone, as it was before all changes.
    """
    outer = part.parts()[0][0]
    box, old_box = part.bounds, bounds(cloth.outline_now_mm())
    through_all = cloth.change_after(0)
    contains = cloth.outline_changes_in
    plain = is_rectangle(outer)
    return replace(
        cloth,
        width_mm=box.width_mm / through_all.xx,
        length_mm=box.height_mm / through_all.yy,
        state="measured",
        outline_mm=None if plain else cloth.change_after(contains).inverse().ring(outer),
        outline_changes_in=0 if plain else contains,
        trim_mm=0.0,
        web_short_mm=0.0,
        selvedge_left_mm=max(old_box.left_mm + cloth.selvedge_left_mm - box.left_mm, 0.0),
        selvedge_right_mm=max(box.right_mm - old_box.right_mm + cloth.selvedge_right_mm, 0.0),
        doubt_percent=None,
        cut_name=None,
        price=None,
        unknown=(),
    )


def _flaws_on(cloth: Cloth, part: Region) -> Iterator[Flaw]:
    """The flaws that reach into a part."""
    yield from (flaw for flaw in cloth.flaws if not flaw.gone and flaw_region(cloth, flaw).overlaps(part))


def _went_with(cloth: Cloth, flaw: Flaw, part: Region) -> bool:
    """True when the whole flaw is on the part: the old cloth has it no more."""
    on_cloth = flaw_region(cloth, flaw).meet(outline_region(cloth))
    return not flaw.gone and not on_cloth.is_empty and on_cloth.minus(part).area_mm2 <= SAME_LENGTH_MM


def _edge_strip(cloth: Cloth, part: Region) -> Iterator[Flaw]:
    """What trim and unbacked strip take along the old edges, where the part still has them; new edges have neither."""
    strip_mm = max(cloth.trim_mm, cloth.web_short_mm)
    if strip_mm <= 0.0:
        return
    ring = cloth.outline_now_mm()
    half = len(ring) // 2
    # Two lines round the cloth, each begun and ended in the middle of an edge, so that no corner is left open.
    first, second = middle((ring[-1], ring[0])), middle((ring[half - 1], ring[half]))
    for points in ((first, *ring[:half], second), (second, *ring[half:], first)):
        strip = Flaw("", "edge strip", points, 2 * strip_mm, changes_in=len(cloth.changes))
        if flaw_region(cloth, strip).overlaps(part):
            yield strip


def _holes(cloth: Cloth, part: Region) -> Iterator[Flaw]:
    """What was cut out of the middle of a part."""
    for _, holes in part.parts():
        yield from (Flaw("", "hole", hole, changes_in=len(cloth.changes), gone=True) for hole in holes)


def _gone(cloth: Cloth, part: Region, name: str) -> Flaw:
    """The place on the old cloth where there is none any more."""
    return Flaw("", f"gone: {name}", part.parts()[0][0], changes_in=len(cloth.changes), gone=True)


def _numbered_flaws(project: Project, flaws: Iterator[Flaw] | list[Flaw]) -> tuple[tuple[Flaw, ...], Project]:
    """The flaws under ids of their own."""
    numbered = []
    for flaw in flaws:
        flaw_id, project = project.named_anew("flaw")
        numbered.append(replace(flaw, id=flaw_id))
    return tuple(numbered), project


def _zones_on(
    project: Project, cloth: Cloth, part: Region
) -> tuple[tuple[Zone, ...], tuple[tuple[str, str], ...], Project]:
    """The zones within a part, under ids of their own, each with the id of the zone it was cut from."""
    zones: list[Zone] = []
    pairs: list[tuple[str, str]] = []
    for zone in cloth.zones:
        to_now = cloth.change_after(zone.changes_in)
        shared = Region.of(to_now.ring(zone.outline_mm)).meet(part)
        for outer, _ in shared.parts():
            if Region.of(outer).area_mm2 > _CRUMB_MM2:
                zone_id, project = project.named_anew("zone")
                zones.append(replace(zone, id=zone_id, outline_mm=to_now.inverse().ring(outer)))
                pairs.append((zone.id, zone_id))
    return tuple(zones), tuple(pairs), project


def _line_on(cloth: Cloth, part: Region) -> BaseLine | None:
    """The base line, where both its ends are on the part."""
    line = cloth.base_line
    if line is None:
        return None
    to_now = cloth.change_after(line.changes_in)
    return line if all(part.contains(to_now.at(end)) for end in (line.start_mm, line.end_mm)) else None


def _with_what_lies_there(project: Project, cloth: Cloth, part: Region, new_id: str) -> Project:
    """The project with every planned piece that lies on the part for the most part moved with it."""
    pieces = {piece.id: asked_piece(project, piece) for piece in planned_pieces(project)}
    box = part.bounds

    def moved(placed: Placed) -> Placed:
        if placed.cloth != cloth.id or placed.piece not in pieces:
            return placed
        outline = Region.of(outline_on_cloth(pieces[placed.piece], placed))
        if outline.meet(part).area_mm2 <= outline.area_mm2 / 2:
            return placed
        return replace(placed, cloth=new_id, x_mm=placed.x_mm - box.left_mm, y_mm=placed.y_mm - box.top_mm)

    def layout(before: Layout) -> Layout:
        return replace(before, placements=tuple(moved(placed) for placed in before.placements))

    return replace(project, layouts=tuple(layout(before) for before in project.layouts))


def _sources_follow(project: Project, cloth: Cloth, made: list[_Remnant]) -> Project:
    """The project with pieces that had to come from the old cloth, or a zone of it, coming from what it became."""
    pairs = [(old_id, remnant.cloth.id, zone_id) for remnant in made for old_id, zone_id in remnant.zones]
    # The largest rest that has some of a zone comes last here, and stands.
    zones = {old_id: (cloth_id, zone_id) for old_id, cloth_id, zone_id in reversed(pairs)}
    gone = {zone.id for zone in cloth.zones} - zones.keys()

    def follows(source: Source) -> Source:
        if source.zone_id in gone:
            return source
        cloth_id, zone_id = zones.get(source.zone_id or "", (made[0].cloth.id, source.zone_id))
        return replace(source, cloth_id=cloth_id if source.cloth_id == cloth.id else source.cloth_id, zone_id=zone_id)

    return project.with_sources(follows)
