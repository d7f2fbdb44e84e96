"""What was done and can be undone: a pure value that holds whole projects, so undo cannot be wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from coverlayout.document.project import Project
from coverlayout.errors import Remark

__all__ = ["Edit", "History", "Step"]


@dataclass(frozen=True)
class Edit:
    """One thing the maker does: a name for the Undo menu and a pure function from the old project to the new.

    `change` raises BadInput in one sentence when the edit cannot be made; then nothing has changed. With `on_steps` it
    is no step of its own: it holds for every step as well, behind and ahead (the unit of lengths, the side looked at),
    so that undo goes past it to the maker's work.
    """

    name: Remark
    change: Callable[[Project], Project]
    on_steps: Callable[[Project], Project] | None = None


@dataclass(frozen=True)
class Step:
    """A project as it was before (in the past) or will be after (in the future) the edit of that name."""

    name: Remark
    project: Project


@dataclass(frozen=True)
class History:
    """The project now, the steps behind it and the steps taken back; the newest past and the next future step are last.

    >>> from dataclasses import replace
    >>> rename = Edit(Remark("edit-rename-project"), lambda old: replace(old, name="Ledgers"))
    >>> after = History(Project()).after(rename)
    >>> after.present.name, after.undone().present.name, after.undone().redone() == after
    ('Ledgers', 'Untitled', True)
    """

    present: Project
    past: tuple[Step, ...] = ()
    future: tuple[Step, ...] = ()

    def after(self, edit: Edit, *, onto_last: bool = False) -> History:
        """The history once the edit is made; itself when the edit changes nothing. What was taken back is gone.

        `onto_last`: the edit goes on with the last step (a key held down), and one undo takes both back; when it leads
        back to where that step began, nothing is left to undo. Without a last step it is a step of its own.
        """
        new = edit.change(self.present)
        if new == self.present:
            return self
        if edit.on_steps is not None:
            return History(new, _with(edit.on_steps, self.past), _with(edit.on_steps, self.future))
        if not onto_last or not self.past:
            return History(new, (*self.past, Step(edit.name, self.present)))
        return History(new, self.past[:-1] if new == self.past[-1].project else self.past)

    def undone(self) -> History:
        """One step back; itself when there is none."""
        if not self.past:
            return self
        step = self.past[-1]
        return History(step.project, self.past[:-1], (*self.future, Step(step.name, self.present)))

    def redone(self) -> History:
        """One step forward again; itself when nothing was taken back."""
        if not self.future:
            return self
        step = self.future[-1]
        return History(step.project, (*self.past, Step(step.name, self.present)), self.future[:-1])


def _with(change: Callable[[Project], Project], steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps with a change made to the project of each."""
    return tuple(Step(step.name, change(step.project)) for step in steps)
