"""What the canvas shows of a project: the bench, what is chosen or lifted off, what lies wrong. No widgets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from coverlayout.book.pieces import Piece
from coverlayout.cloth.usable import flaw_region
from coverlayout.document.project import CutPiece, Preferences, Project
from coverlayout.document.questions import judge_for, placed_now, planned_pieces
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.layout.answer import Breach
from coverlayout.layout.question import Placed
from coverlayout.layout.rules import Judge, Live
from coverlayout.motif.prints import Print
from coverlayout.ui.painting.names import PieceLook, looks_of
from coverlayout.ui.table.arranging import laid_out
from coverlayout.ui.table.bench import WAITING, Bench, Lying, Sheet

__all__ = ["Appearance", "Shown", "TableGround", "bench_of", "different", "flaws_changed", "seen_together"]

Appearance = tuple[Box, Lying, PieceLook]
"""Where a piece is seen on the table, and how."""

TableGround = tuple[tuple[Sheet, ...], Sheet, tuple[Print, ...], tuple[CutPiece, ...], Preferences]
"""What the picture below the pieces depends on."""


def bench_of(project: Project) -> tuple[Bench, Judge | None]:
    """The bench of a project with the judge of what lies on it; without pieces when the book cannot be made (yet)."""
    back = project.preferences.side == "back"
    try:
        judge, pieces, placed = judge_for(project), planned_pieces(project), placed_now(project)
    except BadInput:
        return laid_out(project.cloths, (), (), back=back), None
    cut = _cut_of(project)
    grounds = {cloth.id: cloth.grounds for cloth in judge.question.cloths}
    bench = laid_out(
        project.cloths,
        pieces,
        placed,
        back=back,
        grounds=grounds,
        asked=judge.pieces,
        cut=cut,
        pinned=project.layout.pinned,
    )
    return bench, judge


def _cut_of(project: Project) -> list[tuple[Piece, Placed]]:
    """The pieces cut, where they were; a cloth over several boards knows them while its book is bound as it was."""
    facts = [fact for fact in project.cut_pieces if fact.state == "cut"]
    if not facts:
        return []
    made = {piece.id: piece for piece in planned_pieces(replace(project, cut_pieces=()))}
    return [(_as_cut(fact, made.get(fact.piece)), fact.place) for fact in facts]


def _as_cut(fact: CutPiece, made: Piece | None) -> Piece:
    """A piece as it was cut, with its board where it has one, and all of them where `made` is still the same."""
    cut = Piece(fact.piece, fact.name, "own", fact.outline_mm, fact.anchor_mm, board=fact.board, seen_mm=fact.seen_mm)
    if made is None or (made.outline_mm, made.anchor_mm) != (fact.outline_mm, fact.anchor_mm):
        return cut
    return replace(cut, marks=tuple(mark for mark in made.marks if mark.kind == "board"), faces=made.faces)


class Shown:
    """The state behind the picture. Whatever changes here, `appearances` before and after tell what to paint anew."""

    def __init__(self, project: Project) -> None:
        self.chosen: tuple[str, ...] = ()
        # Chosen and moved pieces lie on top, the last one topmost, and stay there when another is chosen.
        self.raised: tuple[str, ...] = ()
        self.lifted: frozenset[str] = frozenset()
        # The cloth a task works on: rulers count from it. Empty: no task says so.
        self.measured_id = ""
        # How everything would lie with the proposal that is shown, and the pieces it lays.
        self.proposal: Bench | None = None
        self.proposed: frozenset[str] = frozenset()
        # Of the cloths only what the pieces will show on the book is seen.
        self.covers_only = False
        self.show(project)

    def show(self, project: Project) -> None:
        """Show this project; nothing is lifted, and what is no longer there is no longer chosen."""
        self.project = project
        self.proposal, self.proposed = None, frozenset()
        self.bench, self.judge = bench_of(project)
        self.chosen = tuple(each for each in self.chosen if self.bench.find(each))
        self.raised = tuple(each for each in self.raised if self.bench.find(each))
        self.lift(())

    @property
    def seen(self) -> Bench:
        """The bench that is painted: as everything lies, or as it would with the proposal."""
        return self.proposal or self.bench

    def propose(self, project: Project | None, pieces: Iterable[str] = ()) -> None:
        """Paint how these pieces would lie, as they do in this project; None: as everything lies.

        Everything else, from choosing to judging, goes on with what lies there.
        """
        self.proposal = None if project is None else bench_of(project)[0]
        self.proposed = frozenset(pieces) if self.proposal is not None else frozenset()
        self._look()

    def show_moved_print(self, project: Project) -> None:
        """Show this project, which differs from the one shown only by where a print lies, as quickly as can be.

        Where no lock and no link asks where the print falls, every judgement stays as it is.
        """
        if self.judge is None or self.judge.locks or self.judge.pairs:
            self.show(project)
            return
        cloths = {cloth.id: cloth for cloth in project.cloths}
        sheets = tuple(replace(sheet, cloth=cloths[sheet.id]) for sheet in self.bench.sheets)
        self.project, self.bench = project, replace(self.bench, sheets=sheets)

    def choose(self, piece_ids: Iterable[str]) -> None:
        """Choose these pieces; those that are not on the bench are left out."""
        self.chosen = tuple(each for each in piece_ids if self.bench.find(each))
        self.raised = (*(each for each in self.raised if each not in self.chosen), *self.chosen)
        self._look()

    def lift(self, piece_ids: Iterable[str]) -> None:
        """Take pieces off for a drag: the others are judged by themselves, once."""
        self.lifted = frozenset(piece_ids)
        lying = (each for each in self.bench.lying if each.state == "planned" and each.placed.cloth != WAITING)
        resting = [each.placed for each in lying if each.piece.id not in self.lifted]
        self._rest = self.judge.rest(resting) if self.judge else None
        self._breaches: tuple[Breach, ...] = self._rest.judge(()).breaches if self._rest else ()
        self._look()

    def judged(self, moving: Iterable[Placed]) -> Live | None:
        """The judgement with the lifted pieces where they are carried now; those off the cloth wait. None: no judge."""
        return self._rest.judge([each for each in moving if each.cloth != WAITING]) if self._rest else None

    def looks_while(self, live: Live | None) -> dict[str, PieceLook]:
        """How the pieces look, judged like that."""
        return self._looks_of(live.breaches if live else ())

    def appearances(self) -> dict[str, Appearance]:
        """Every piece that is seen at rest."""
        return {
            lying.piece.id: (self.seen.outlines[lying.piece.id][1], lying, self.looks[lying.piece.id])
            for lying in self.seen.lying
            if lying.piece.id not in self.lifted
        }

    def measured_sheet(self) -> Sheet:
        """The cloth that rulers count from: the one worked on, else one a chosen piece lies on, else the first."""
        if (worked_on := self.bench.sheet(self.measured_id)).cloth is not None:
            return worked_on
        chosen = (lying.placed.cloth for each in self.chosen if (lying := self.bench.find(each)) is not None)
        sheets = self.bench.sheets
        return next((self.bench.sheet(each) for each in chosen if each != WAITING), (*sheets, self.bench.waiting)[0])

    def ground(self) -> TableGround:
        """What the picture below the pieces depends on."""
        facts = self.project
        return self.seen.sheets, self.seen.waiting, facts.prints, facts.cut_pieces, facts.preferences

    def _look(self) -> None:
        self.looks = self._looks_of(self._breaches)

    def _looks_of(self, breaches: tuple[Breach, ...]) -> dict[str, PieceLook]:
        if self.proposal is None:
            return looks_of(self.bench, breaches, self.chosen, self.project.preferences.length_style)
        looks = looks_of(self.proposal, (), self.chosen, self.project.preferences.length_style)
        return looks | {each: replace(looks[each], proposed=True) for each in self.proposed if each in looks}


def flaws_changed(before: TableGround, after: TableGround) -> list[Box] | None:
    """Where on the table flaws came, went or became others; None when the ground differs by more than flaws."""
    sheets, others = before[0], after[0]
    if before[1:] != after[1:] or len(sheets) != len(others):
        return None
    boxes: list[Box] = []
    for was, now in zip(sheets, others, strict=True):
        if was.cloth is None or now.cloth is None or was.cloth is now.cloth:
            if was != now:
                return None
            continue
        if replace(was, cloth=replace(was.cloth, flaws=now.cloth.flaws)) != now:
            return None
        for flaw in {*was.cloth.flaws} ^ {*now.cloth.flaws}:
            region = flaw_region(now.cloth, flaw)
            if not region.is_empty:
                boxes.append(bounds(now.to_table.ring(region.bounds.ring())))
    return boxes


def different(before: Mapping[str, Appearance], after: Mapping[str, Appearance], also: Iterable[str] = ()) -> list[Box]:
    """Where on the table something looks different; `also`: pieces whose words may stand elsewhere now.

    Pieces that overlap make room for each other's words, so they all count when one of them does.
    """
    changed = {each for each in {*before, *after} if before.get(each) != after.get(each)} | {*also}
    for state in (before, after):
        heap = {each for each, (_, _, look) in state.items() if "overlap" in look.rules}
        changed |= heap if heap & changed else set()
    return [state[each][0] for each in changed for state in (before, after) if each in state]


def seen_together(before: Bench, now: Bench) -> tuple[Box, Box] | None:
    """What just came to lie elsewhere, and the box to see it in; None when nothing did.

    A cloth that is new beside others, to be seen with all of them; pieces put aside, to be seen with where they lay.
    """
    had = {sheet.id for sheet in before.sheets}
    fresh = [sheet.box for sheet in now.sheets if sheet.id not in had]
    if had and fresh:
        return _around(fresh), _around(sheet.box for sheet in now.sheets)
    was = {lying.piece.id for lying in before.lying if lying.placed.cloth != WAITING}
    gone = [lying.piece.id for lying in now.on(WAITING) if lying.piece.id in was]
    if not gone:
        return None
    wait, lay = ([bench.outlines[each][1] for each in gone] for bench in (now, before))
    return _around(wait), _around([*wait, *lay])


def _around(boxes: Iterable[Box]) -> Box:
    return bounds([corner for box in boxes for corner in box.ring()])
