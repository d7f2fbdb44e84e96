"""Lay pieces on cloth: the order of work, from cheap proofs over a first layout to the room to spare, proved.

Nothing is answered that the judge has not passed, and no "does not fit" without a proof.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, suppress
from dataclasses import replace

from coverlayout.geometry.tolerance import NO_LOOSER_MM, SAME_LENGTH_MM
from coverlayout.layout.answer import Answer, Proof, Report
from coverlayout.layout.positions.choices import every_layout, filled_of, only_sheet
from coverlayout.layout.positions.relations import STEP_MM, Found
from coverlayout.layout.positions.shares import Shares
from coverlayout.layout.proofs.bounds import refuted
from coverlayout.layout.proofs.slices import too_long_in_slices
from coverlayout.layout.question import PieceAsked, Placed, Question, Watch, never
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.effort import CutShort, Effort
from coverlayout.layout.search.filling import Filled, fill, placed_of
from coverlayout.layout.search.outlines import fill_outlines
from coverlayout.layout.search.sheets import RectangularJob, rectangular_job
from coverlayout.layout.search.tidy import tidiest_first
from coverlayout.layout.search.upright import fewer_turned, turned
from coverlayout.layout.verdicts import answer_of

__all__ = ["first_layout", "lay"]

# Shares of the steps: for a first layout, for the proof that there is none or else a longer search for one, for room,
# for a tidy layout. Together they are more than there is: a job without a layout needs no room.
_FIRST, _PROOF, _ROOM, _TIDIER = 0.2, 0.6, 0.5, 0.05
# For a layout with fewer pieces turned; each try takes at most half of what is left of it.
_UPRIGHT = 0.5
# Random orders tried before the exhaustive search of a small job takes over, and where there is none.
_FEW_ORDERS, _MANY_ORDERS = 12, 20_000
# The same for outlines of any shape, which take longer.
_CROOKED_ORDERS = 200
# Room is looked for by halving until it is known this well (mm), with this many random orders each time.
_ROOM_STEP_MM = 0.25
_ROOM_ORDERS = 9
# The tidiest layout may give this much of the best room away.
_GIVEN_AWAY_MM = 1.0


def lay(question: Question, watch: Watch = never, found: Callable[[Answer], None] | None = None) -> Answer:
    """Where the pieces lie, or why they cannot: the verdict with its proof, room to spare in mm, and notes.

    `watch` is asked every few milliseconds and may stop the search; `found` gets the first layout and each roomier one.
    The same question gives the same answer unless `seconds` or the watch cut it short, which the answer then says.
    A question without pieces fits. Anything may be asked: where the search proves nothing the verdict is `not found`.
    """
    laying = _Laying(question, Effort(question.steps, question.seconds, watch), found or _nobody)
    cut_short = False
    try:
        laying.run()
    except CutShort:
        cut_short = True
    return laying.answer(cut_short)


def first_layout(question: Question, watch: Watch = never) -> Answer:
    """Whether the pieces can be laid at all: the first layout found, or the proof that there is none; no more.

    Its room is that of this layout, unproved; cloth smaller by its doubt is not tried.
    """
    laying = _Laying(replace(question, cloths_if_smaller=()), Effort(question.steps, question.seconds, watch), _nobody)
    cut_short = False
    try:
        laying.decide()
    except CutShort:
        cut_short = True
    return laying.answer(cut_short)


def _nobody(answer: Answer) -> None:
    del answer


class _FoundOne(Exception):
    """One layout is enough."""


class _Laying:
    """One run: what is known so far, and how to learn more."""

    def __init__(self, question: Question, effort: Effort, found: Callable[[Answer], None]) -> None:
        self.question, self.effort, self.found = question, effort, found
        self.judge = Judge(question)
        self.roomiest: tuple[tuple[Placed, ...], Report] | None = None
        self.shown: tuple[tuple[Placed, ...], Report] | None = None
        self.proof: Proof | None = None
        self.spare_proved = False
        # Until the smaller cloths have been tried, a layout on them is not known: so an answer cut short says.
        self.lost_if_smaller: str | None = "not found" if question.pieces and question.cloths_if_smaller else None
        self.doubtful = False
        self.job: RectangularJob | None = None

    def run(self) -> None:
        """All the work, the most telling first; may end at any time with CutShort."""
        self.decide()
        if self.roomiest is None or not self.question.pieces:
            return
        if self.question.cloths_if_smaller:
            self._try_smaller()
        self._make_room()
        self._tidy_up()
        self._set_upright()

    def decide(self) -> None:
        """Find a layout, or a proof that there is none."""
        if not self.question.pieces:
            self.offer(())
            return
        self.job = rectangular_job(self.question)
        self.proof = refuted(self.question, self.job)
        if self.proof is not None:
            return
        if self.job is not None:
            self._decide_rectangles(self.job)
        if self.roomiest is None and self.proof is None and (self.job is None or not self.job.exact):
            self.job = None
            with self._part(_PROOF):
                self._offer_placed(fill_outlines(self.question, self.effort, orders=_CROOKED_ORDERS))

    def _decide_rectangles(self, job: RectangularJob) -> None:
        """A few orders, then the slices, then all relative positions, or where there are too many, a lot of orders."""
        with self._part(_FIRST):
            self._offer_filled(job, fill(job, self.effort, orders=_FEW_ORDERS))
        if self.roomiest is None:
            with self._part(_FIRST):
                self.proof = too_long_in_slices(job, self.effort)
        if self.roomiest is None and self.proof is None:
            self._search_all(job)
        if self.roomiest is None and self.proof is None:
            with self._part(_PROOF if job.exact else _FIRST):
                self._offer_filled(job, fill(job, self.effort, orders=_MANY_ORDERS))

    def room_mm(self) -> float:
        """The room of the roomiest layout; without pieces there is any room."""
        assert self.roomiest is not None, "asked only when there is a layout"
        clearance_mm = self.roomiest[1].clearance_mm
        return self.question.spare_wish_mm if clearance_mm is None else clearance_mm

    def offer(self, placed: tuple[Placed, ...]) -> bool:
        """Take a layout when the judge passes it; True when it does."""
        report = self.judge.report(placed)
        if report.breaches or report.waiting:
            return False
        clearance_mm = report.clearance_mm or 0.0
        if self.roomiest is None or clearance_mm > (self.roomiest[1].clearance_mm or 0.0):
            self.roomiest = self.shown = (placed, report)
            self.found(self.answer(cut_short=False))
        return True

    def answer(self, cut_short: bool) -> Answer:
        """What is known now as an answer."""
        return answer_of(
            self.question,
            shown=self.shown,
            spare_mm=None if self.roomiest is None else self.roomiest[1].clearance_mm,
            spare_proved=self.spare_proved,
            proof=self.proof,
            lost_if_smaller=self.lost_if_smaller,
            cut_short=cut_short,
        )

    def _part(self, share: float) -> AbstractContextManager[Effort]:
        return self.effort.part(int(self.question.steps * share))

    def _search_all(self, job: RectangularJob) -> None:
        """A small job: the exhaustive search says all there is to say, if its steps suffice."""
        sheet = only_sheet(job)
        if sheet is None:
            self._search_shares(job)
            return
        nearly: list[Found] = []
        if self.roomiest is None and not self._may_fit(job, sheet, nearly):
            return
        room_mm = 0.0 if self.roomiest is None else self.room_mm() + STEP_MM
        with self._part(_ROOM):
            every_layout(job, sheet, self.effort, room_mm, lambda layout: self._offer_found(job, sheet, layout))
            if self.roomiest is None and nearly:
                self._offer_found(job, sheet, nearly[0])
            self.spare_proved = job.exact and self.roomiest is not None and not self.doubtful

    def _search_shares(self, job: RectangularJob) -> None:
        """A small job on several sheets: a layout of any share, or the proof that every share is refused."""
        shares = Shares.of(job)
        if shares is None:
            return
        refused = True
        with self._part(_PROOF):
            for filled in shares.layouts(self.effort):
                if self._offer_filled(job, filled):
                    return
                refused = False
            if refused and job.exact:
                self.proof = Proof("exhaustive", (("pieces", float(len(job.items))),))

    def _may_fit(self, job: RectangularJob, sheet: int, nearly: list[Found]) -> bool:
        """Whether there is a layout when everything is a little looser, as a no must be proved; it is put in `nearly`.

        False also when the steps end before that is known.
        """

        def enough(layout: Found) -> None:
            nearly.append(layout)
            raise _FoundOne

        with self._part(_PROOF), suppress(_FoundOne):
            every_layout(job, sheet, self.effort, -NO_LOOSER_MM, enough, slack_mm=NO_LOOSER_MM)
            self.proof = Proof("exhaustive", (("pieces", float(len(job.items))),)) if job.exact else None
        return bool(nearly)

    def _make_room(self) -> None:
        """Look for the most room: exhaustively where that is possible, else by asking the first search for more."""
        job = self.job
        if self.spare_proved:
            return
        if job is not None and only_sheet(job) is not None:
            self._search_all(job)
            return
        with self._part(_ROOM):
            if job is None:
                self._widen(lambda room_mm: self._offer_placed(self._outlines_with(room_mm)))
            else:
                self._widen(
                    lambda room_mm: self._offer_filled(job, fill(job, self.effort, room_mm, orders=_ROOM_ORDERS))
                )

    def _outlines_with(self, room_mm: float) -> tuple[Placed, ...] | None:
        return fill_outlines(self.question, self.effort, room_mm, orders=_ROOM_ORDERS)

    def _widen(self, with_room: Callable[[float], bool]) -> None:
        """Look for more room in growing steps, then by halving; what is too much takes longest to try."""
        step, low = 4 * _ROOM_STEP_MM, self.room_mm()
        while with_room(low + step):
            low, step = max(low + step, self.room_mm()), 2 * step
        high = low + step
        while high - low > _ROOM_STEP_MM:
            middle = (low + high) / 2
            if with_room(middle):
                low = max(middle, self.room_mm())
            else:
                high = middle

    def _offer_filled(self, job: RectangularJob, filled: Filled | None) -> bool:
        return filled is not None and self.offer(placed_of(job, filled))

    def _offer_placed(self, placed: tuple[Placed, ...] | None) -> bool:
        return placed is not None and self.offer(placed)

    def _offer_found(self, job: RectangularJob, sheet: int, layout: Found) -> None:
        """Offer a layout of the exhaustive search; one with less room than it says takes the proof away."""
        self.offer(placed_of(job, filled_of(layout, sheet)))
        if self.roomiest is None or self.room_mm() < layout.room_mm - SAME_LENGTH_MM:
            self.doubtful = True

    def _try_smaller(self) -> None:
        """Whether the job also fits when the cloth comes out smaller by its doubt."""
        smaller = replace(self.question, cloths=self.question.cloths_if_smaller, cloths_if_smaller=())
        trial = _Laying(smaller, self.effort, _nobody)
        trial.decide()
        if trial.roomiest is not None:
            self.lost_if_smaller = None
        elif trial.proof is not None:
            self.lost_if_smaller = "proved"

    def _tidy_up(self) -> None:
        """Show the tidiest layout within a millimetre of the best room and not below the wish, with the fewest turned.

        When the best room is below the wish, the roomiest layout stays shown.
        """
        wish_mm = self.question.spare_wish_mm
        if self.job is None or self.shown is None or self.room_mm() < wish_mm - SAME_LENGTH_MM:
            return
        room_mm = max(wish_mm, self.room_mm() - _GIVEN_AWAY_MM)
        tidy = tidiest_first(self.job, self.effort, room_mm, int(self.question.steps * _TIDIER))
        ranked = [(turned(self.judge, placed), placed) for placed in (placed_of(self.job, each) for each in tidy)]
        most = turned(self.judge, self.shown[0])
        # Sorting keeps the tidiest of those with equally many turned first.
        for few, placed in sorted(ranked, key=lambda each: each[0]):
            if few > most or self._show(placed, room_mm):
                return

    def _set_upright(self) -> None:
        """Show a layout with as few pieces turned as can be found, among those that have enough room."""
        assert self.shown is not None, "asked only when there is a layout"
        room_mm = min(self.question.spare_wish_mm, self.room_mm())
        with self._part(_UPRIGHT):
            for placed in fewer_turned(self.judge, self.shown[0], room_mm, self._upright_layout(room_mm)):
                # One of them may have more room than was known: none with less is shown after it, below the wish.
                self._show(placed, min(self.question.spare_wish_mm, self.room_mm()))

    def _upright_layout(self, room_mm: float) -> Callable[[tuple[PieceAsked, ...]], tuple[Placed, ...] | None]:
        """The search for a layout of pieces that allow fewer turns, with at least `room_mm`."""

        def layout_of(pieces: tuple[PieceAsked, ...]) -> tuple[Placed, ...] | None:
            trial = _Laying(replace(self.question, pieces=pieces, cloths_if_smaller=()), self.effort, _nobody)
            with self.effort.part(self.effort.left // 2):
                trial.find_with(room_mm)
            return None if trial.shown is None else trial.shown[0]

        return layout_of

    def find_with(self, room_mm: float) -> None:
        """Find a layout with at least `room_mm`, then the one to show; nothing is proved."""
        self.job = job = rectangular_job(self.question)
        if job is not None:
            self._offer_filled(job, fill(job, self.effort, room_mm, orders=_FEW_ORDERS))
            sheet = only_sheet(job)
            if self.roomiest is None and sheet is not None:
                every_layout(job, sheet, self.effort, room_mm, lambda layout: self._offer_found(job, sheet, layout))
        if self.roomiest is None and (job is None or not job.exact):
            self.job = None
            self._offer_placed(fill_outlines(self.question, self.effort, room_mm, orders=_ROOM_ORDERS))
        if self.roomiest is not None:
            self._make_room()
            self._tidy_up()

    def _show(self, placed: tuple[Placed, ...], room_mm: float) -> bool:
        """Show a layout that the judge passes and that has `room_mm`; True when it does. More room is room found."""
        report = self.judge.report(placed)
        if report.breaches or report.waiting or (report.clearance_mm or 0.0) < room_mm - SAME_LENGTH_MM:
            return False
        if not self.spare_proved and (report.clearance_mm or 0.0) > self.room_mm():
            self.roomiest = placed, report
        self.shown = placed, report
        return True
