"""Where the wishes that are musts cannot all be met: which one to drop first, measured."""

from __future__ import annotations

from dataclasses import dataclass

from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Lock, Question
from coverlayout.layout.wishes.closest import closest_mm
from coverlayout.layout.wishes.wish import Decide, Wish, fits, pieces_of, wishes_of, with_wishes

__all__ = ["Dropped", "which_to_drop"]


@dataclass(frozen=True)
class Dropped:
    """A wish without which everything fits.

    `miss_mm`: how far off the wish can then still be held at the closest found, in mm on the cloth. `answer`: what is
    answered without it, with its layout and clearance.
    """

    wish: Wish
    miss_mm: float
    answer: Answer

    @property
    def remark(self) -> Remark:
        """One sentence: what to drop, and what it would cost."""
        code = "wish-drop-lock" if isinstance(self.wish, Lock) else "wish-drop-link"
        return Remark.of(code, pieces=", ".join(pieces_of(self.wish)), miss_mm=self.miss_mm)


def which_to_drop(question: Question, decide: Decide) -> tuple[Dropped, ...]:
    """Each single must without which everything fits: the one that can be held closest first, then the roomiest.

    Empty when no single wish is to blame: there is none, everything fits as it is, or more than one would have to go.
    Wishes marked if possible are left out of account. Equal ones come in the question's order.
    """
    musts = wishes_of(question, must=True)
    if not musts or fits(decide(with_wishes(question, musts))):
        return ()
    found: list[Dropped] = []
    for wish in musts:
        without = with_wishes(question, (other for other in musts if other is not wish))
        answer = decide(without)
        if fits(answer):
            found.append(Dropped(wish, closest_mm(without, wish, decide, answer.placed), answer))
    return tuple(sorted(found, key=_rank))


def _rank(dropped: Dropped) -> tuple[float, float]:
    return round(dropped.miss_mm, 1), -(dropped.answer.clearance_mm or 0.0)
