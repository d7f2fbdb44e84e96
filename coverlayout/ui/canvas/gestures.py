"""What a hand does on the canvas, as objects without widgets: begin, move, then finish or cancel.

A gesture never touches the project: what it would change is shown while it lasts, and `finish` gives one edit (or
None). Escape, a lost focus and a new gesture all leave by `cancel`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Protocol

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.cloths import lay_print
from coverlayout.document.edits.placements import place, take_off
from coverlayout.document.history import Edit
from coverlayout.geometry.frames import Affine, Point
from coverlayout.geometry.shapes import Box, Region, bounds
from coverlayout.layout.guiding.guide import Caught
from coverlayout.layout.guiding.guides import Guides
from coverlayout.layout.question import Placed
from coverlayout.layout.rules import Judge
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.table.bench import WAITING, Bench, Sheet
from coverlayout.ui.table.bodies import body_at
from coverlayout.ui.table.free_ground import free_ground
from coverlayout.ui.table.view import View

__all__ = ["Choose", "DragPiece", "Gesture", "MovePrint", "Pan", "free_place", "guides_for", "move_print_at", "placing"]


class Gesture(Protocol):
    """One movement of the hand from press to release; places are table mm, except for `Pan`."""

    def move(self, to: Point) -> None:
        """The hand is there now; only the newest place counts."""

    def finish(self) -> Edit | None:
        """Let go: the edit that makes it so, None when nothing changes."""

    def cancel(self) -> None:
        """Leave everything as it was."""


def placing(bench: Bench, after: tuple[Placed, ...]) -> Edit | None:
    """The one edit that brings pieces from where they lie on the bench to there; off the cloth they wait again."""
    before = [lying.placed for each in after if (lying := bench.find(each.piece)) is not None]
    changed = [(old, new) for old, new in zip(before, after, strict=True) if old != new]
    on_cloth = tuple(new for _, new in changed if new.cloth != WAITING)
    aside = tuple(new.piece for old, new in changed if new.cloth == WAITING and old.cloth != WAITING)
    lay = place(on_cloth, bench.name(on_cloth[0].piece)) if on_cloth else None
    lift = take_off(aside, bench.name(aside[0])) if aside else None
    if lay is None or lift is None:
        return lay or lift
    return Edit(lay.name, lambda project: lift.change(lay.change(project)))


class DragPiece:
    """One piece or several carried over the table together; `shown` is where they are now. Cut and pinned ones stay.

    With `guides` they are caught within `reach_mm` of one (0: not at all); `caught` is what caught them. While
    `straight` they keep to the line across or along the table on which they have come farther.
    """

    def __init__(self, bench: Bench, piece_ids: tuple[str, ...], grip_mm: Point, guides: Guides | None = None) -> None:
        self._bench = bench
        self._grip_mm = grip_mm
        self._guides = guides
        self._by_mm = (0.0, 0.0)
        self.reach_mm = 0.0
        self.straight = False
        self.caught = Caught()
        found = [bench.find(piece_id) for piece_id in piece_ids]
        self._carried = tuple(lying.placed for lying in found if lying is not None and lying.moves)
        self.start = self.shown = self._carried

    def move(self, to: Point) -> None:
        """Carry them so that the gripped spot lies at `to`."""
        self._by_mm = to[0] - self._grip_mm[0], to[1] - self._grip_mm[1]
        self._show()

    def turn(self, *, clockwise: bool = True) -> bool:
        """Turn what is carried to the next turn it allows; False (nothing changes) when a piece allows no other."""
        turned = [self._bench.turned(each, clockwise=clockwise) for each in self._carried]
        if any(each is None for each in turned):
            return False
        self._carried = tuple(each for each in turned if each is not None)
        self._show()
        return True

    def _show(self) -> None:
        self.caught = Caught()
        if self._by_mm == (0.0, 0.0):
            self.shown = self._carried
            return
        dx, dy = self._by_mm
        along = None if not self.straight else (1.0, 0.0) if abs(dx) >= abs(dy) else (0.0, 1.0)
        by_mm = self._by_mm if along is None else (dx * along[0], dy * along[1])
        self.shown = tuple(self._bench.moved(each, by_mm) for each in self._carried)
        if self._guides is not None and self.reach_mm > 0:
            self._catch(self._guides, by_mm, along)

    def _catch(self, guides: Guides, by_mm: Point, along: Point | None) -> None:
        """Bring them to the guides that catch, unless that would bring one to another cloth or into another turn."""
        sheet = self._bench.sheet(self.shown[0].cloth) if self.shown else self._bench.waiting
        only = None if along is None else sheet.from_table.vector(along)
        caught = guides.catch(self.shown, self.reach_mm, only)
        dx, dy = sheet.to_table.vector(caught.by_mm)
        there = tuple(self._bench.moved(each, (by_mm[0] + dx, by_mm[1] + dy)) for each in self._carried)
        stay = [(each.cloth, each.turn_deg) for each in self.shown] == [(each.cloth, each.turn_deg) for each in there]
        if caught.guides and stay:
            self.shown, self.caught = there, caught

    def finish(self) -> Edit | None:
        """One edit for the whole drag."""
        return placing(self._bench, self.shown)

    def cancel(self) -> None:
        """Back where they came from."""
        self.shown = self.start


def guides_for(bench: Bench, judge: Judge | None, piece_ids: tuple[str, ...], gripped: str) -> Guides | None:
    """The guides that catch these pieces when they are carried, held at one of them; None when nothing is judged.

    When the piece held stays where it was cut or pinned, the first that moves counts as held.
    """
    moving = [each for each in bench.lying if each.piece.id in piece_ids and each.moves]
    if judge is None or not moving:
        return None
    ids = {each.piece.id for each in moving}
    resting = [body_at(bench, each.placed) for each in bench.lying if each.piece.id not in ids]
    held = gripped if gripped in ids else moving[0].piece.id
    return Guides(judge, resting, [body_at(bench, each.placed) for each in moving], held)


class Pan:
    """The table drawn over the screen; places are screen pixels. Changes the view only, never the project."""

    def __init__(self, view: View, grip_px: Point) -> None:
        self._grip_px = grip_px
        self.start = view
        self.shown = view

    def move(self, to: Point) -> None:
        """The gripped spot follows the pointer."""
        self.shown = self.start.panned((to[0] - self._grip_px[0], to[1] - self._grip_px[1]))

    def finish(self) -> None:
        """Stay there."""

    def cancel(self) -> None:
        """Back to where it was seen before."""
        self.shown = self.start


class MovePrint:
    """The print of a cloth (or of a zone on it) moved under the pieces; `shown` is how it lies now."""

    def __init__(self, laid: LaidPrint, grip_mm: Point, from_table: Affine, lay: Callable[[LaidPrint], Edit]) -> None:
        """`from_table` leads to the frame the laid print's origin is given in; `lay` makes the edit."""
        self._grip_mm = grip_mm
        self._from_table = from_table
        self._lay = lay
        self.start = laid
        self.shown = laid

    def move(self, to: Point) -> None:
        """The gripped motif follows the pointer."""
        dx, dy = self._from_table.vector((to[0] - self._grip_mm[0], to[1] - self._grip_mm[1]))
        x, y = self.start.origin_mm
        self.shown = replace(self.start, origin_mm=(x + dx, y + dy))

    def finish(self) -> Edit | None:
        """One edit for the whole movement."""
        return None if self.shown == self.start else self._lay(self.shown)

    def cancel(self) -> None:
        """Back as it lay."""
        self.shown = self.start


class Choose:
    """A frame drawn over the table: `shown` are the pieces chosen before and those that lie wholly in it."""

    def __init__(self, bench: Bench, corner_mm: Point, chosen: tuple[str, ...] = ()) -> None:
        self._bench = bench
        self._corner_mm = corner_mm
        self.start = chosen
        self.shown = chosen
        self.frame = Box(*corner_mm, 0.0, 0.0)

    def move(self, to: Point) -> None:
        """Draw the frame from the first corner to there."""
        self.frame = bounds((self._corner_mm, to))
        inside = self._bench.pieces_in(self.frame)
        self.shown = (*self.start, *(each for each in inside if each not in self.start))

    def finish(self) -> None:
        """Keep what is chosen; choosing is no edit."""

    def cancel(self) -> None:
        """Choose what was chosen before."""
        self.shown = self.start


def move_print_at(bench: Bench, grip_mm: Point) -> MovePrint | None:
    """The gesture that moves the print under a place on the table; None where there is no print."""
    sheet = bench.sheet_at(grip_mm)
    cloth = sheet.cloth
    if cloth is None:
        return None
    at = sheet.from_table.at(grip_mm)
    for zone in reversed(cloth.zones):
        ring = cloth.change_after(zone.changes_in).ring(zone.outline_mm)
        if zone.laid is not None and Region.of(ring).contains(at):
            return _moving(sheet, cloth, zone.laid, grip_mm, zone.id)
    return None if cloth.laid is None else _moving(sheet, cloth, cloth.laid, grip_mm, None)


def _moving(sheet: Sheet, cloth: Cloth, laid: LaidPrint, grip_mm: Point, zone_id: str | None) -> MovePrint:
    # The origin is kept in the frame of the cloth as it was when the print was measured.
    back_to_then = sheet.from_table.then(cloth.change_after(laid.changes_in).inverse())
    return MovePrint(laid, grip_mm, back_to_then, lambda shown: lay_print(cloth.id, shown, zone_id))


def free_place(bench: Bench, piece_id: str, judge: Judge) -> Placed | None:
    """A place on a cloth where a waiting piece breaks no rule beside what lies there; None when none is found.

    It lies as near the top as can be, in the first turn it allows; only where that has no place is it turned.
    """
    asked = judge.pieces.get(piece_id)
    if asked is None:
        return None
    resting = tuple(each.placed for each in bench.lying if each.placed.cloth != WAITING and each.state == "planned")
    first = (0.0,) if asked.turns_deg is None else asked.turns_deg[:1]
    for turns_deg in dict.fromkeys((first, asked.turns_deg)):
        found = free_ground(judge, [replace(asked, turns_deg=turns_deg)], resting)
        if found is not None:
            return found[0]
    return None
