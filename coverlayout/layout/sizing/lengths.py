"""The least length of cloth that holds everything: layouts shorten it, proofs raise its bound, until they meet."""

from __future__ import annotations

from dataclasses import dataclass, replace

from coverlayout.geometry.shapes import Region, bounds, rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Placed, Question, Watch, never

__all__ = ["LengthFound", "shortest_length"]

# A length is known when the longest refused is no farther than this below the least laid.
_NEAR_MM = 0.1
_STEP_MM = 0.05
# Steps for one length, and lengths tried at most.
_STEPS_A_LENGTH, _MOST_TRIES = 20_000, 40


@dataclass(frozen=True)
class LengthFound:
    """The least length laid, in mm of the cloth from its top edge, trim below included; None with `answer` a no.

    `bound_mm` is the longest length shown impossible. `placed` lies on the cloth of that length.
    """

    length_mm: float | None
    proved: bool
    bound_mm: float | None
    placed: tuple[Placed, ...]
    answer: Answer
    cut_short: bool = False


def shortest_length(question: Question, watch: Watch = never) -> LengthFound:
    """The least length of the question's one cloth on which all its pieces fit, exact to 0.1 mm where it is proved.

    The cloth must be long enough to begin with; what limits it below counts as a strip that is always lost.
    """
    search = _Shortening(question, watch)
    search.run()
    return search.found()


class _Shortening:
    """One search: the least length laid, the longest refused, the longest not found, all in mm."""

    def __init__(self, question: Question, watch: Watch) -> None:
        self._question, self._watch = question, watch
        self._cloth = question.cloths[0]
        self._pieces = {piece.id: piece for piece in question.pieces}
        low_edges = [ground.usable.bounds.bottom_mm for ground in self._cloth.grounds if not ground.usable.is_empty]
        self._whole_mm = bounds(self._cloth.outline_mm).bottom_mm
        self._lost_mm = self._whole_mm - max(low_edges, default=self._whole_mm)
        self.length_mm: float | None = None
        self.bound_mm: float | None = None
        self._open_mm = 0.0
        self._placed: tuple[Placed, ...] = ()
        self._last: Answer | None = None
        self._tries = 0
        self.cut_short = False

    def run(self) -> None:
        """From the whole length down: halve what is between, then ask just below the least length laid."""
        if not self._asks(self._whole_mm):
            return
        while self._more() and self.length_mm is not None and self.length_mm - self._open_mm > 2 * _STEP_MM:
            self._asks((self.length_mm + self._open_mm) / 2)
        while self._more() and self.length_mm is not None and not self._known():
            if not self._asks(self.length_mm - _STEP_MM):
                break
        while self._more() and self.length_mm is not None and not self._known():
            bound_mm = self.bound_mm or 0.0
            if self._open_mm - bound_mm <= self.length_mm / 100:
                break
            self._asks((bound_mm + self._open_mm) / 2)

    def _known(self) -> bool:
        return self.length_mm is not None and self.bound_mm is not None and self.length_mm - self.bound_mm <= _NEAR_MM

    def _more(self) -> bool:
        return self._tries < _MOST_TRIES and not self.cut_short

    def _asks(self, length_mm: float) -> bool:
        """Decide one length; True when everything fits on it."""
        self._tries += 1
        steps = min(self._question.steps, _STEPS_A_LENGTH)
        asked = replace(self._question, cloths=(self._cut_to(length_mm),), cloths_if_smaller=(), steps=steps)
        answer = first_layout(asked, lambda share: self._watch(min((self._tries + share) / _MOST_TRIES, 1.0)))
        self.cut_short = self.cut_short or answer.cut_short
        if answer.placed or not self._question.pieces:
            self._placed, self._last = answer.placed, answer
            self.length_mm = self._lowest_mm(answer.placed) + self._lost_mm
            return True
        if answer.verdict == "does not fit" and (self.bound_mm is None or length_mm > self.bound_mm):
            self.bound_mm = length_mm
        self._open_mm = max(self._open_mm, length_mm) if length_mm < self._whole_mm else self._open_mm
        self._last = self._last or answer
        return False

    def _cut_to(self, length_mm: float) -> ClothAsked:
        """The cloth cut off at a length; its lower strip is lost there as it was below."""
        box = bounds(self._cloth.outline_mm)
        left = Region.of(
            rectangle(box.width_mm, max(length_mm - self._lost_mm - box.top_mm, 1e-3), box.left_mm, box.top_mm)
        )
        grounds = tuple(replace(ground, usable=ground.usable.meet(left)) for ground in self._cloth.grounds)
        return replace(self._cloth, grounds=grounds)

    def _lowest_mm(self, placed: tuple[Placed, ...]) -> float:
        rings = (outline_on_cloth(self._pieces[one.piece], one) for one in placed)
        return max((bounds(ring).bottom_mm for ring in rings), default=0.0)

    def found(self) -> LengthFound:
        """What is known at the end."""
        assert self._last is not None, "something was asked"
        proved = self._known() if self.length_mm is not None else self._last.verdict == "does not fit"
        return LengthFound(self.length_mm, proved, self.bound_mm, self._placed, self._last, self.cut_short)
