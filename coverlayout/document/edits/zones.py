"""Edits of zones: parts of a cloth with a print of their own, and the word on where pieces may come from."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Literal

from coverlayout.book.book import Source
from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.cloth.outlines import cut_in_two
from coverlayout.cloth.usable import outline_region
from coverlayout.document.checks.figures import free_name
from coverlayout.document.checks.grounds import check_source, check_zone
from coverlayout.document.checks.whole import checked_edit, known
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box, Region
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = [
    "MOST_ZONES_A_SIDE",
    "Part",
    "add_zone",
    "change_zone",
    "cut_zone",
    "divide_cloth",
    "remove_all_zones",
    "remove_zone",
    "set_source",
]

# More columns or rows than a yard of labels has; a slip of a finger asks for more.
MOST_ZONES_A_SIDE = 20

Part = Literal["covers", "liners", "sides", "label", "own"]
_SOURCES = {"covers": "cover_source", "liners": "liner_source", "sides": "side_source"}


def add_zone(cloth_id: str, zone: Zone) -> Edit:
    """Mark a zone on a cloth, under an id of its own; it comes last.

    BadInput when it encloses nothing, crosses itself, or lies beside the cloth or over another zone.
    """

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        new_id, counted = old.named_anew("zone")
        check_zone(cloth, zone)
        return counted.with_cloth(replace(cloth, zones=(*cloth.zones, replace(zone, id=new_id))))

    return checked_edit(Remark.of("edit-add-zone", name=zone.name), change)


def change_zone(cloth_id: str, zone_id: str, **fields: Any) -> Edit:
    """Change a zone by the field names of Zone. BadInput as `add_zone`, once its ground changes."""

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        before = known(cloth.zones, zone_id, "zone")
        after = replace(before, **fields)
        if after.id != zone_id:
            raise BadInput("id-fixed", kind="zone", id=zone_id)
        if (after.outline_mm, after.changes_in) != (before.outline_mm, before.changes_in):
            check_zone(cloth, after)
        zones = tuple(after if zone is before else zone for zone in cloth.zones)
        return old.with_cloth(replace(cloth, zones=zones))

    return checked_edit(Remark("edit-change-zone"), change)


def remove_zone(cloth_id: str, zone_id: str) -> Edit:
    """Take a zone away; pieces that had to come from it may come from anywhere on that cloth."""

    def change(old: Project) -> Project:
        gone = known(known(old.cloths, cloth_id, "cloth").zones, zone_id, "zone")
        return _without(old, cloth_id, {gone.id})

    return checked_edit(Remark("edit-remove-zone"), change)


def remove_all_zones(cloth_id: str) -> Edit:
    """Take all zones of a cloth away: it is one ground again, with the print of the whole cloth."""

    def change(old: Project) -> Project:
        return _without(old, cloth_id, {zone.id for zone in known(old.cloths, cloth_id, "cloth").zones})

    return checked_edit(Remark("edit-remove-zones"), change)


def divide_cloth(cloth_id: str, columns: int, rows: int, between_mm: float = 0.0) -> Edit:
    """Divide a cloth without zones into equal ones, `between_mm` apart; each bears the cloth's print as it lies there.

    They are numbered row by row from the top left, over the box of the cloth as it now is; of a crooked cloth, those
    that would lie wholly beside it are left out. BadInput: zones are there already, a count below 1 or above
    MOST_ZONES_A_SIDE, strips between that leave nothing.
    """

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        for label, count in (("columns", columns), ("rows", rows)):
            if not 1 <= count <= MOST_ZONES_A_SIDE:
                raise BadInput("count-out-of-range", where=label, found=count, least=1, most=MOST_ZONES_A_SIDE)
        if cloth.zones:
            raise BadInput("zones-there-already", cloth=cloth.name)
        # Cells of a grid lie beside each other, so that none need be held against the others.
        project, zones = old, []
        for number, cell in enumerate(_cells(cloth, columns, rows, between_mm), 1):
            new_id, project = project.named_anew("zone")
            zones.append(Zone(new_id, f"zone {number}", cell.ring(), cloth.laid, changes_in=len(cloth.changes)))
        return project.with_cloth(replace(cloth, zones=tuple(zones)))

    return checked_edit(Remark.of("edit-divide-cloth", columns=columns, rows=rows), change)


def _cells(cloth: Cloth, columns: int, rows: int, between_mm: float) -> list[Box]:
    """The fields of a grid over the cloth that lie at least partly on it, row by row."""
    whole = outline_region(cloth)
    box = whole.bounds
    width_mm = (box.width_mm - (columns - 1) * between_mm) / columns
    length_mm = (box.height_mm - (rows - 1) * between_mm) / rows
    if not (between_mm >= 0 and min(width_mm, length_mm) > SAME_LENGTH_MM):
        raise BadInput("zones-nothing-left", cloth=cloth.name, between_mm=between_mm)
    cells = [
        Box(box.left_mm + x * (width_mm + between_mm), box.top_mm + y * (length_mm + between_mm), width_mm, length_mm)
        for y in range(rows)
        for x in range(columns)
    ]
    return [cell for cell in cells if not whole.meet(Region.of(cell.ring())).is_empty]


def cut_zone(cloth_id: str, zone_id: str, start_mm: Point, end_mm: Point) -> Edit:
    """Cut a zone in two along the line through two points of the cloth as it now is; both keep its print.

    The part to the left of the way from start to end stays the zone it was, so that pieces which had to come from it
    still may; the other comes behind it under an id of its own. BadInput when the line leaves no two parts.
    """

    def change(old: Project) -> Project:
        cloth = known(old.cloths, cloth_id, "cloth")
        zone = known(cloth.zones, zone_id, "zone")
        to_then = cloth.change_after(zone.changes_in).inverse()
        first, second = cut_in_two(zone.outline_mm, to_then.at(start_mm), to_then.at(end_mm), where=zone.name)
        new_id, counted = old.named_anew("zone")
        halves = (
            replace(zone, outline_mm=first),
            replace(zone, id=new_id, name=free_name(zone.name, (each.name for each in cloth.zones)), outline_mm=second),
        )
        zones = (half for one in cloth.zones for half in (halves if one is zone else (one,)))
        return counted.with_cloth(replace(cloth, zones=tuple(zones)))

    return checked_edit(Remark("edit-cut-zone"), change)


def set_source(record_id: str, part: Part, source: Source) -> Edit:
    """Say where covers, liners, sides or label of a book, or an own piece, may come from. Nothing moves: judged anew.

    BadInput when what the source names is not there or contradicts itself, or the book has no label.
    """

    def change(old: Project) -> Project:
        check_source(old, source)
        if part == "own":
            own = known(old.own_pieces, record_id, "piece")
            return old.with_own_piece(replace(own, source=source))
        book = known(old.books, record_id, "book")
        if part != "label":
            return old.with_book(replace(book, **{_SOURCES[part]: source}))  # type: ignore[arg-type]  # each a Source
        if book.label is None:
            raise BadInput("book-without-label", book=book.name)
        return old.with_book(replace(book, label=replace(book.label, source=source)))

    return checked_edit(Remark("edit-source"), change)


def _without(old: Project, cloth_id: str, gone: set[str]) -> Project:
    """The project without those zones of the cloth; no piece has to come from them any more."""
    cloth = known(old.cloths, cloth_id, "cloth")

    def freed(source: Source) -> Source:
        return replace(source, zone_id=None) if source.zone_id in gone else source

    left = replace(cloth, zones=tuple(zone for zone in cloth.zones if zone.id not in gone))
    return old.with_cloth(left).with_sources(freed)
