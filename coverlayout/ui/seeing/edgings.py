"""What the ends of a measure catch at on the table: cloths, pieces with their boards, flaws, holes, base lines."""

from __future__ import annotations

from collections.abc import Iterator

from coverlayout.cloth.base_line import base_line_now
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import keep_out_regions
from coverlayout.document.project import Project
from coverlayout.errors import sentence
from coverlayout.geometry.frames import piece_to_cloth
from coverlayout.layout.measuring.catching import Edging
from coverlayout.ui.table.bench import Bench, Lying, Sheet

__all__ = ["edgings_of"]


def edgings_of(project: Project, bench: Bench) -> tuple[Edging, ...]:
    """Every outline on the table as it is seen now, in table mm; pieces come before what lies under them."""
    pieces = [edging for lying in bench.lying for edging in _of_piece(bench, lying)]
    cloths = [edging for sheet in bench.sheets if sheet.cloth for edging in _of_cloth(project, sheet, sheet.cloth)]
    return (*pieces, *cloths)


def _of_piece(bench: Bench, lying: Lying) -> Iterator[Edging]:
    """The cut outline, and the edges of the boards or of what stays visible."""
    by = bench.to_table(lying.placed)
    name = bench.name(lying.piece.id)
    yield Edging(name, by.ring(lying.piece.outline_mm))
    rings = [mark.points_mm for mark in lying.piece.marks if mark.kind == "board" and mark.closed]
    if not rings and lying.piece.board is not None:
        rings = [lying.piece.board.ring()]
    for ring in rings:
        yield Edging(sentence("measuring-board", {"piece": name}), by.ring(ring))


def _of_cloth(project: Project, sheet: Sheet, cloth: Cloth) -> Iterator[Edging]:
    by = sheet.to_table
    for fact in project.cut_pieces:
        if fact.state == "spoiled" and fact.place.cloth == sheet.id:
            place = fact.place.x_mm, fact.place.y_mm
            hole = piece_to_cloth(fact.anchor_mm, place, fact.place.turn_deg).then(by)
            yield Edging(sentence("canvas-spoiled", {"piece": fact.name}), hole.ring(fact.outline_mm))
    for flaw, region in keep_out_regions(cloth):
        for outer, holes in region.parts():
            for ring in (outer, *holes):
                yield Edging(flaw.name, by.ring(ring))
    for zone in cloth.zones:
        yield Edging(zone.name, cloth.change_after(zone.changes_in).then(by).ring(zone.outline_mm))
    line = base_line_now(cloth)
    if line is not None:
        yield Edging(sentence("measuring-base-line", {"cloth": cloth.name}), by.ring(line), closed=False)
    yield Edging(cloth.name, by.ring(cloth.outline_now_mm()))
