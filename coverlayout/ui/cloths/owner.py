"""What a part of a panel needs of the panel it belongs to."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.fields.entry import Entry
from coverlayout.ui.fields.figures import Least
from coverlayout.ui.tasks.task import Task
from coverlayout.units import LengthStyle

__all__ = ["ClothOwner", "MakeTask", "Owner"]

MakeTask = Callable[[Canvas], Task]
"""Makes a task for the canvas it is given, so that a field can ask for one without knowing the canvas."""


class Owner(Protocol):
    """A panel: it knows how lengths are shown, and makes edits."""

    @property
    def style_of_lengths(self) -> LengthStyle:
        """How lengths are shown."""

    def do(self, edit: Edit) -> None:
        """Make an edit; BadInput goes through."""

    def attempt(self, edit: Edit) -> None:
        """Make an edit; what is wrong is said above the cloth."""

    def length(self, title: str, give: Callable[[float], None], *, tip: str, like: str, least: Least = "0") -> Entry:
        """A field for a length."""

    def length_pair(self, title: str, give: Any, *, tip: str, like: str) -> Entry:
        """A field for width x height."""


class ClothOwner(Owner, Protocol):
    """A panel about one cloth."""

    @property
    def cloth(self) -> Cloth | None:
        """The cloth the part is about."""

    @property
    def project(self) -> Project:
        """The project as it now is."""

    def begin(self, make: MakeTask) -> None:
        """Begin a task on the canvas."""

    def say(self, words: str, trouble: bool, /) -> None:
        """One sentence at the foot of the canvas."""
