"""What a part of the book step needs of the step it belongs to."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from coverlayout.ui.cloths.owner import Owner
from coverlayout.ui.fields.entry import Field

__all__ = ["BookOwner"]


class BookOwner(Owner, Protocol):
    """The book step: it takes what was given to the book shown."""

    def change(self, **fields: Any) -> None:
        """Change the book shown by the field names of Book, as one step; BadInput goes through."""

    def change_part(self, part: str, **fields: Any) -> None:
        """Change its `paper`, `sewing` or `label` by the field names of that record, as one step."""

    def trying(self, act: Callable[[], None]) -> None:
        """Do something from a button; what is wrong is said above the cloth."""

    def points_at(self, entry: Field, name: str) -> None:
        """The picture picks `name` out as long as the field has the keys."""

    def ask_act(self, name: str) -> None:
        """Do an action of the window, by its name."""
