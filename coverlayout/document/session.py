"""One open project: what it is now, undo and redo, its pictures, its file, and the one event all listen to."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from coverlayout.document.consequences import consequences
from coverlayout.document.history import Edit, History
from coverlayout.document.project import Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import Remark

__all__ = ["Changed", "Pictures", "Session"]

Changed = Callable[[Project, Project], object]
"""Called with the old and the new project after every change."""


class Session:
    """An open project. It changes through `do`, `undo`, `redo` and `replace_all`, and each tells the listeners once.

    >>> from coverlayout.document.edits.job import rename_project
    >>> session = Session()
    >>> _ = session.do(rename_project("Six ledgers"))
    >>> session.project.name, session.undo_name, session.unsaved
    ('Six ledgers', 'Rename project', True)
    """

    def __init__(self, project: Project = Project(), pictures: Pictures = Pictures(), path: Path | None = None) -> None:
        """Open a project that is as its file holds it; `path` None when it has no file yet."""
        self._history = History(project)
        self._saved: Project | None = project
        self._pictures = pictures
        self._path = path
        self._listeners: list[Changed] = []
        self._waiting: deque[tuple[Project, Project]] = deque()
        self._telling = False

    @property
    def project(self) -> Project:
        """The project as it now is."""
        return self._history.present

    @property
    def pictures(self) -> Pictures:
        """Every picture that came in since the project was opened, used or not, so that undo finds it."""
        return self._pictures

    @property
    def path(self) -> Path | None:
        """The file the project was read from or last saved to."""
        return self._path

    @property
    def unsaved(self) -> bool:
        """True when the project differs from what its file holds; undoing back to it counts as saved.

        Which side of the cloth and which layout is looked at is no change worth asking about.
        """
        return self._saved is None or _as_laid_down(self.project) != _as_laid_down(self._saved)

    @property
    def undo_name(self) -> str | None:
        """The name of the step that `undo` would take back, None when there is none."""
        return self._history.past[-1].name.text() if self._history.past else None

    @property
    def redo_name(self) -> str | None:
        """The name of the step that `redo` would make again, None when there is none."""
        return self._history.future[-1].name.text() if self._history.future else None

    def do(self, edit: Edit, *, onto_last: bool = False) -> tuple[Remark, ...]:
        """Make the edit; what else came with it (wishes dropped, pieces that wait again) is the answer.

        An edit that changes nothing is no step; one made `onto_last` is part of the last step. BadInput from the edit
        goes through, and nothing has changed.
        """
        old = self.project
        self._move_to(self._history.after(edit, onto_last=onto_last))
        return consequences(old, self.project)

    def undo(self) -> None:
        """Take the last step back; nothing happens when there is none."""
        self._move_to(self._history.undone())

    def redo(self) -> None:
        """Make the step last taken back again; nothing happens when there is none."""
        self._move_to(self._history.redone())

    def listen(self, callback: Changed) -> Callable[[], None]:
        """Call `callback(old, new)` after every change; the answer is a function that stops it."""
        self._listeners.append(callback)

        def stop() -> None:
            if callback in self._listeners:
                self._listeners.remove(callback)

        return stop

    def add_picture(self, data: bytes) -> str:
        """Take a picture in, byte for byte; its SHA-256 is the answer. A print then names it through an edit."""
        self._pictures = self._pictures.with_picture(data)
        return Pictures.hash_of(data)

    def replace_all(self, project: Project, pictures: Pictures, path: Path | None, *, saved: bool = True) -> None:
        """Open another project in this one's place; there is nothing to undo. `saved` False: its file holds less."""
        self._pictures = pictures
        self._path = path
        self._saved = project if saved else None
        self._move_to(History(project))

    def mark_saved(self, path: Path) -> None:
        """The project as it now is lies in that file."""
        self._path = path
        self._saved = self.project

    def mark_unsaved(self) -> None:
        """The file does not hold the project any more: it is gone, or another program wrote something else there."""
        self._saved = None

    def _move_to(self, history: History) -> None:
        """Take the history on and tell everyone, in the order things happened even when a listener makes an edit."""
        old, self._history = self.project, history
        if old is self.project:
            return
        self._waiting.append((old, self.project))
        if self._telling:
            return
        self._telling = True
        try:
            while self._waiting:
                before, after = self._waiting.popleft()
                for callback in tuple(self._listeners):
                    callback(before, after)
        finally:
            self._waiting.clear()
            self._telling = False


def _as_laid_down(project: Project) -> Project:
    """The project as if its first layout were looked at from the print side; the same value when it is."""
    preferences, first = project.preferences, project.layouts[0].id
    if preferences.side == "print" and project.layout_id == first:
        return project
    return replace(project, layout_id=first, preferences=replace(preferences, side="print"))
