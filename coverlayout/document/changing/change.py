"""A single change of the project that turns a no into a yes, and the edit that makes it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from coverlayout.document.checks.whole import checked_edit, planned_ids
from coverlayout.document.edits.placements import accept
from coverlayout.document.history import Edit
from coverlayout.document.project import Layout, Project
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Placed

__all__ = ["ChangeKind", "FittingChange", "take_change", "take_job"]

ChangeKind = Literal[
    "turn liners",
    "paper liners",
    "paper sides",
    "turn-in",
    "two turn-ins",
    "gap",
    "drop a wish",
    "smaller book",
    "next cut",
]
_EDIT_CODES: dict[ChangeKind, str] = {
    "turn liners": "edit-turn-liners",
    "paper liners": "edit-paper-liners",
    "paper sides": "edit-paper-sides",
    "turn-in": "edit-turn-ins",
    "two turn-ins": "edit-turn-ins",
    "gap": "edit-gap",
    "drop a wish": "edit-drop-wish",
    "smaller book": "edit-smaller-book",
    "next cut": "edit-buy-cut",
}
# What a change may alter beside the layouts, and what else its answer hangs on.
_CHANGED = ("cloths", "books", "own_pieces", "locks", "links", "rules")
_GIVEN = ("prints", "cut_pieces")


@dataclass(frozen=True)
class FittingChange:
    """A change with which everything fits: the project after it, the validated answer, and its effect in one sentence.

    `amount_mm` is by how much a length changes, or the new length, as the sentence says; None where no length does.
    """

    kind: ChangeKind
    said: Remark
    amount_mm: float | None
    project: Project
    answer: Answer


def take_change(change: FittingChange, asked: Project) -> Edit:
    """Make a change and lay every piece as its answer does; one step. `asked` is the project it was found for.

    What else was edited since stays as it is. BadInput when the job is no longer the one it was found for: its prints,
    cloths, books, pieces, wishes and rules, what was cut, and what is pinned where.
    """
    return take_job(Remark(_EDIT_CODES[change.kind]), change.project, change.answer, asked)


def take_job(name: Remark, after: Project, answer: Answer, asked: Project) -> Edit:
    """The job becomes that of another project, every piece laid as the answer does, as one step of that name.

    `asked` is the project that this was found for. BadInput as `take_change` says.
    """

    def made(old: Project) -> Project:
        same = all(getattr(old, name) == getattr(asked, name) for name in (*_CHANGED, *_GIVEN))
        if not same or _pins(old) != _pins(asked):
            raise BadInput("change-outdated")
        altered = {name: getattr(after, name) for name in _CHANGED}
        number = max(old.next_number, after.next_number)
        volume = max(old.next_volume_number, after.next_volume_number)
        new = replace(old, **altered, next_number=number, next_volume_number=volume)
        layouts = tuple(_only_there(layout, asked, after) for layout in old.layouts)
        return accept(answer.placed).change(replace(new, layouts=layouts))

    return checked_edit(name, made)


def _pins(project: Project) -> frozenset[Placed]:
    pinned = set(project.layout.pinned)
    return frozenset(placed for placed in project.layout.placements if placed.piece in pinned)


def _only_there(layout: Layout, before: Project, after: Project) -> Layout:
    """The layout without the places that the change takes away: their piece or cloth went with it."""
    gone = {cloth.id for cloth in before.cloths} - {cloth.id for cloth in after.cloths}
    lost = planned_ids(before) - planned_ids(after)
    return layout.keeping(lambda placed: placed.cloth not in gone and placed.piece not in lost)
