"""The least length of cloth off the bolt that holds all pieces, with the length none can go below."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from coverlayout.geometry.shapes import Box, Region, bounds, rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Answer
from coverlayout.layout.laying.first import decided, first_layout
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.proofs.relaxing import lean_of, relaxed
from coverlayout.layout.proofs.slices import least_length_by_slices
from coverlayout.layout.question import Placed, Question, Watch, never
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.effort import CutShort, Effort, OutOfSteps
from coverlayout.layout.search.filling import placed_of
from coverlayout.layout.search.sheets import RectangularJob, rectangular_job
from coverlayout.layout.strips.pushing import pushed_up
from coverlayout.layout.strips.shortest import shorten
from coverlayout.layout.strips.strip import WIDTHS
from coverlayout.layout.wishes.origins import decided_everywhere, origin_matters

__all__ = ["LengthFound", "least_length"]

# Up to so many pieces every length can be decided; a strip is only looked at for a good start, in so many rounds.
_FEW_PIECES, _FEW_ROUNDS = 8, 2
# A length is the least when one so much shorter is refused: a refusal holds a little looser than the rules.
_SHORTER_MM = 0.05
# A length is proved when none is shorter by this much (mm): half of what a ruler shows.
_NEARLY_MM = 0.25
# Lengths are halved until what is open is no more than this, then asked for just below the least found.
_HALVED_MM = 2.0
# So many lengths are decided at most, each with so many steps; and so many just below the least before halving again.
_MOST_DECIDED, _STEPS_A_LENGTH, _MOST_BELOW = 60, 50_000, 4
# Steps for one place of a print that falls anywhere, which is asked for dozens of places.
_STEPS_A_PLACE, _MOST_PLACES = 2_000, 24


@dataclass(frozen=True)
class LengthFound:
    """The least length found: of cloth from its upper edge, in mm, what is lost at its lower edge included.

    `length_mm` is None when nothing can be laid even on the whole cloth, or nothing was found (then it is not
    `proved`). `bound_mm`: no shorter length will do. `proved`: the length is the least, but for 0.25 mm. `placed` has
    passed the judge. `cut_short`: a limit of seconds or the watch ended the search.
    """

    length_mm: float | None
    proved: bool
    bound_mm: float
    placed: tuple[Placed, ...] = ()
    cut_short: bool = False


def least_length(
    question: Question, watch: Watch = never, found: Callable[[LengthFound], None] | None = None
) -> LengthFound:
    """The least length of the question's one cloth on which all its pieces can be laid.

    The cloth is to be long enough for everything; what limits its ground below is a strip that is always lost. `watch`
    may stop the search, `found` gets each shorter length. Without pieces the length is 0. A question that is not about
    one cloth is answered as not found. Where a must hangs on where the print falls, the length does wherever it falls,
    and `placed` is an example for one place, judged for that.
    """
    if not question.pieces:
        return LengthFound(0.0, proved=True, bound_mm=0.0)
    if len(question.cloths) != 1:
        return LengthFound(None, proved=False, bound_mm=0.0)
    search = _Search(question, Effort(question.steps, question.seconds, watch), found)
    cut_short = False
    try:
        search.run()
    except OutOfSteps:
        pass
    except CutShort:
        cut_short = True
    return replace(search.known(), cut_short=cut_short)


class _Search:
    """One search: the least length laid, and the bound. All lengths in mm of cloth, from its upper edge."""

    def __init__(self, question: Question, effort: Effort, found: Callable[[LengthFound], None] | None) -> None:
        self._question = replace(question, cloths_if_smaller=(), seconds=None)
        self._effort, self._found = effort, found
        self._judge = Judge(self._question)
        self._anywhere = origin_matters(self._question)
        self._outlines = {piece.id: piece for piece in question.pieces}
        cloth = question.cloths[0]
        self._box = bounds(cloth.outline_mm)
        low_mm = max((g.usable.bounds.bottom_mm for g in cloth.grounds if not g.usable.is_empty), default=0.0)
        self._lost_mm = self._box.bottom_mm - low_mm
        self._whole_mm = self._box.height_mm
        self._top_mm = min((g.usable.bounds.top_mm for g in cloth.grounds if not g.usable.is_empty), default=0.0)
        self._length_mm: float | None = None
        self._bound_mm = 0.0
        self._refused = self._stopped = False
        self._placed: tuple[Placed, ...] = ()

    def known(self) -> LengthFound:
        """What is known now."""
        return LengthFound(self._length_mm, self._is_proved(), self._bound_mm, self._placed)

    def _is_proved(self) -> bool:
        if self._length_mm is None:
            return self._refused
        return self._length_mm <= self._bound_mm + _NEARLY_MM + SAME_LENGTH_MM

    def run(self) -> None:
        """A strip where it is one, then length after length where that can tell more."""
        job = rectangular_job(self._question)
        few = len(self._question.pieces) <= _FEW_PIECES
        if job is not None and _is_strip(job):
            self._shorten(job, _FEW_ROUNDS if few else len(WIDTHS))
        if self._anywhere:
            self._decide_bound()
        if few or job is None or not _is_strip(job) or self._length_mm is None:
            self._decide_all()

    def _decide_bound(self) -> None:
        """Ask for the length that the pieces need wherever they lie in the repeat: it often does."""
        job = relaxed(self._question)
        if not job.items or not _is_strip(job) or any(map(lean_of, self._question.cloths[0].grounds)):
            return
        with self._effort.part(self._question.steps // 10):
            self._raise_bound(job)
        self._decides(min(self._bound_mm, self._whole_mm))

    def _shorten(self, job: RectangularJob, rounds: int) -> None:
        with self._effort.part(self._question.steps // 10):
            self._raise_bound(job)
        least_mm = self._bound_mm - self._outside_mm(job)
        with self._effort.part(self._effort.left):
            shorten(
                job,
                self._effort,
                lambda filled: self._take(placed_of(job, filled)),
                bound_mm=least_mm,
                rounds=rounds,
            )

    def _outside_mm(self, job: RectangularJob) -> float:
        """What of every length lies above and below the sheet."""
        return self._lost_mm + job.sheets[0].box.top_mm - self._box.top_mm

    def _raise_bound(self, job: RectangularJob) -> None:
        self._bound_mm = self._outside_mm(job) + _plain_bound_mm(job)
        sliced_mm = least_length_by_slices(job, 0, self._effort)
        self._bound_mm = max(self._bound_mm, self._outside_mm(job) + sliced_mm)

    def _take(self, placed: tuple[Placed, ...]) -> bool:
        """Take a layout that is shorter and that the judge passes, pushed up where that holds; True when it does."""
        if not self._passes(placed):
            return False
        higher = self._pushed_up(placed)
        if higher != placed and self._passes(higher):
            placed = higher
        length_mm = max(box.bottom_mm for box in self._boxes(placed)) - self._box.top_mm + self._lost_mm
        self._keep(length_mm, placed)
        return True

    def _keep(self, length_mm: float, placed: tuple[Placed, ...]) -> None:
        if self._length_mm is None or length_mm < self._length_mm:
            self._length_mm, self._placed = length_mm, placed
            if self._found is not None:
                self._found(self.known())

    def _passes(self, placed: tuple[Placed, ...]) -> bool:
        report = self._judge.report(placed)
        return not report.breaches and not report.waiting

    def _boxes(self, placed: tuple[Placed, ...]) -> list[Box]:
        return [bounds(outline_on_cloth(self._outlines[one.piece], one)) for one in placed]

    def _pushed_up(self, placed: tuple[Placed, ...]) -> tuple[Placed, ...]:
        rises = pushed_up(self._boxes(placed), self._top_mm, self._question.gap_mm)
        return tuple(replace(one, y_mm=one.y_mm - rise) for one, rise in zip(placed, rises, strict=True))

    def _decide_all(self) -> None:
        """Decide length after length: half of what is open, then just below the least found."""
        if self._length_mm is None and not self._decides(self._whole_mm):
            return
        open_mm, below = self._bound_mm, 0
        for number in range(_MOST_DECIDED):
            assert self._length_mm is not None, "a layout is known here"
            if self._is_proved():
                return
            # A good start mostly is the least already, so just below it is asked for first.
            halving = (number > 0 or self._anywhere) and (
                self._length_mm - max(open_mm, self._bound_mm) > _HALVED_MM or below >= _MOST_BELOW
            )
            asked_mm = self._length_mm - _SHORTER_MM
            if halving:
                asked_mm = min((self._length_mm + max(open_mm, self._bound_mm)) / 2, asked_mm)
            fits = self._decides(asked_mm)
            below = below + 1 if fits and not halving else 0
            if not fits and asked_mm >= self._length_mm - _SHORTER_MM:
                # A no holds when all is a little looser, which many pieces in a row add up.
                if not self._is_proved():
                    self._decides(self._length_mm - _NEARLY_MM)
                return
            open_mm = open_mm if fits else asked_mm

    def _decides(self, length_mm: float) -> bool:
        """Whether everything can be laid on this length; a proof that it cannot raises the bound."""
        steps = min(self._question.steps, _STEPS_A_PLACE if self._anywhere else _STEPS_A_LENGTH)
        answer = self._answer(replace(self._cut_to(length_mm), steps=steps))
        if self._stopped:
            raise CutShort
        if answer.verdict == "does not fit":
            self._refused = self._refused or length_mm >= self._whole_mm
            self._bound_mm = max(self._bound_mm, length_mm)
        if self._anywhere and answer.placed:
            # The layout is for one place of the print; for others all of the length may be needed.
            self._keep(length_mm, answer.placed)
            return True
        return bool(answer.placed) and self._take(answer.placed)

    def _answer(self, question: Question) -> Answer:
        if not self._anywhere:
            return first_layout(question, self._stops)
        return decided_everywhere(
            question, lambda there: decided(there, self._stops), self._stops, decisions=_MOST_PLACES
        )

    def _stops(self, share_done: float) -> bool:
        del share_done
        try:
            self._effort.look()
        except CutShort:
            self._stopped = True
        return self._stopped

    def _cut_to(self, length_mm: float) -> Question:
        """The question on so much of the cloth; the strip that is lost below is lost there."""
        cloth, height_mm = self._question.cloths[0], max(length_mm - self._lost_mm, SAME_LENGTH_MM)
        kept = Region.of(rectangle(self._box.width_mm, height_mm, self._box.left_mm, self._box.top_mm))
        grounds = tuple(replace(ground, usable=ground.usable.meet(kept)) for ground in cloth.grounds)
        return replace(self._question, cloths=(replace(cloth, grounds=grounds),))


def _is_strip(job: RectangularJob) -> bool:
    """True for one clear sheet across which every piece can lie."""
    if len(job.sheets) != 1 or job.sheets[0].blocks:
        return False
    width_mm = job.sheets[0].box.width_mm + SAME_LENGTH_MM
    return all(any(pose.width_mm <= width_mm for pose in item.poses[0]) for item in job.items)


def _plain_bound_mm(job: RectangularJob) -> float:
    """The least length of the only sheet by area and by the tallest piece."""
    width_mm = job.sheets[0].box.width_mm
    poses = [item.poses[0] for item in job.items]
    tallest_mm = max(
        min(pose.height_mm for pose in ways if pose.width_mm <= width_mm + SAME_LENGTH_MM) for ways in poses
    )
    return max(tallest_mm, sum(ways[0].width_mm * ways[0].height_mm for ways in poses) / width_mm)
