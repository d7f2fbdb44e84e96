"""The layouts that could be taken, in a row to walk along: the best, those found on the way to it, different ones."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from coverlayout.document.edits.placements import accept
from coverlayout.document.history import Edit
from coverlayout.geometry.frames import turns_apart_deg
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SAME_TURN_DEG
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Placed
from coverlayout.ui.proposing.panel_lines import PanelCut

__all__ = ["Origin", "Proposed", "Walk", "same_layout"]

Origin = Literal["best", "on the way", "different", "so far"]


@dataclass(frozen=True)
class Proposed:
    """An answer with places, and how it came: as the `best` of its question, or else.

    `so far` is the best while the search goes on. `edit` takes it; None: its pieces are laid, and that is all. `cut`:
    the edit cuts a cloth into these panels, which are shown on the whole cloth with the pieces where they lie on it.
    """

    answer: Answer
    origin: Origin = "best"
    edit: Edit | None = None
    cut: PanelCut | None = None

    @property
    def seen(self) -> Edit:
        """What is shown of it before it is taken."""
        return self.taking if self.cut is None else accept(self.placed)

    @property
    def taking(self) -> Edit:
        """What is done when it is taken."""
        return self.edit or accept(self.placed)

    @property
    def placed(self) -> tuple[Placed, ...]:
        """Where the pieces would lie."""
        return self.answer.placed


@dataclass(frozen=True)
class Walk:
    """A row of layouts, never empty, of which the one at `at` is shown."""

    layouts: tuple[Proposed, ...]
    at: int = 0

    @classmethod
    def along(cls, best: Answer, found: Sequence[Answer] = (), origin: Origin = "best") -> Walk:
        """The answer, then what was found on the way to it from the newest back, each layout once."""
        layouts = [Proposed(best, origin)]
        for answer in reversed(found):
            if not any(same_layout(answer.placed, known.placed) for known in layouts):
                layouts.append(Proposed(answer, "on the way"))
        return cls(tuple(layouts))

    @property
    def shown(self) -> Proposed:
        """The layout that is shown."""
        return self.layouts[self.at]

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.layouts)

    @property
    def seen(self) -> tuple[tuple[Placed, ...], ...]:
        """All places of all layouts, for the question for another one."""
        return tuple(each.placed for each in self.layouts)

    def stepped(self, by: int) -> Walk:
        """So many layouts on; after the last comes the first.

        >>> walk = Walk((Proposed(None), Proposed(None), Proposed(None)), 2)
        >>> walk.stepped(1).at, walk.stepped(-1).at
        (0, 1)
        """
        return replace(self, at=(self.at + by) % len(self.layouts))

    def with_another(self, answer: Answer) -> Walk:
        """One more layout at the end of the row, shown; the one like it is shown where it is there already."""
        for at, known in enumerate(self.layouts):
            if same_layout(answer.placed, known.placed):
                return replace(self, at=at)
        return Walk((*self.layouts, Proposed(answer, "different")), len(self.layouts))


def same_layout(first: Iterable[Placed], second: Iterable[Placed]) -> bool:
    """True when the same pieces lie at the same places, as far as a ruler could tell.

    >>> same_layout((Placed("a", "c", 1.0, 2.0),), (Placed("a", "c", 1.0, 2.5),))
    False
    """
    here, there = ({placed.piece: placed for placed in each} for each in (first, second))
    return here.keys() == there.keys() and all(_same_place(here[piece], there[piece]) for piece in here)


def _same_place(one: Placed, other: Placed) -> bool:
    return (
        one.cloth == other.cloth
        and abs(one.x_mm - other.x_mm) <= SAME_LENGTH_MM
        and abs(one.y_mm - other.y_mm) <= SAME_LENGTH_MM
        and turns_apart_deg(one.turn_deg, other.turn_deg) <= SAME_TURN_DEG
    )
