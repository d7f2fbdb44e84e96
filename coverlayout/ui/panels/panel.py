"""What the five panels share: they show the project, and every field makes an edit of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry
from coverlayout.ui.fields.figures import Least, exact_length, read_length
from coverlayout.ui.parts.piece_rows import called
from coverlayout.ui.verdict.words import named
from coverlayout.units import LengthStyle, parse_size

__all__ = ["Panel", "Say", "chosen_of", "then"]

Say = Callable[[str, bool], None]
"""Shows a sentence above the cloth; True: something went wrong."""


def then(edit: Edit, follow: Callable[[Project], Edit | None]) -> Edit:
    """One edit and what follows from it as a single step under the first one's name."""

    def change(old: Project) -> Project:
        new = edit.change(old)
        after = follow(new)
        return new if after is None else after.change(new)

    return Edit(edit.name, change)


def chosen_of(records: Sequence[Any], record_id: str) -> Any:
    """The record of that id, else the first, else None."""
    return next((record for record in records if record.id == record_id), records[0] if records else None)


class Panel(QWidget):
    """A column of fields over one part of the project. Subclasses fill it and show the project in `show_project`."""

    title = ""

    def __init__(self, session: Session, say: Say) -> None:
        super().__init__()
        self.session = session
        self.say = say
        self.first: QWidget | None = None
        """The field the keys go to when the step is asked for by key; None for the topmost."""
        self.column = QVBoxLayout(self)
        self.column.setSpacing(8)

    def summary(self, project: Project) -> str:
        """One line for the closed step."""
        raise NotImplementedError

    def show_project(self, project: Project) -> None:
        """Show what the project holds now."""
        raise NotImplementedError

    def begin_anew(self) -> None:
        """Another project was opened: nothing that was half typed belongs to it."""
        for entry in self.findChildren(Entry):
            entry.give_up()

    def add(self, *widgets: QWidget) -> None:
        """Put widgets below each other."""
        for widget in widgets:
            self.column.addWidget(widget)

    @property
    def style_of_lengths(self) -> LengthStyle:
        """How the maker wants lengths shown."""
        return self.session.project.preferences.length_style

    def do(self, edit: Edit) -> None:
        """Make an edit from within a field; BadInput goes to the field. What came with it is said above the cloth."""
        for remark in self.session.do(edit):
            self.tell(remark)

    def attempt(self, edit: Edit) -> None:
        """Make an edit from a button or a tick: what is wrong is said above the cloth."""
        try:
            self.do(edit)
        except CoverlayoutError as fault:
            self.complain(fault)
            self.show_project(self.session.project)

    def complain(self, fault: CoverlayoutError) -> None:
        """Say above the cloth what went wrong, lengths in the maker's unit."""
        self.say(self.style_of_lengths.said(fault.remark), True)

    def tell(self, remark: Remark) -> None:
        """Say a remark above the cloth, its lengths in the maker's unit and its pieces by their names."""
        self.say(named(self.style_of_lengths.said(remark), called(self.session.project)), False)

    def length(self, title: str, give: Callable[[float], None], *, tip: str, like: str, least: Least = "0") -> Entry:
        """A field for a length."""
        read = read_length(title, like, lambda: self.style_of_lengths, least)
        return Entry(
            title,
            read,
            lambda value: exact_length(value, self.style_of_lengths),
            give,
            tip=tip,
            unit=self.style_of_lengths.unit,
        )

    def length_pair(self, title: str, give: Callable[[tuple[float, float]], None], *, tip: str, like: str) -> Entry:
        """A field for width x height."""

        def read(text: str) -> tuple[float, float]:
            return parse_size(text, self.style_of_lengths.unit, where=title, like=like)

        def show(value: tuple[float, float]) -> str:
            return " × ".join(exact_length(side, self.style_of_lengths) for side in value)

        return Entry(title, read, show, give, tip=tip, unit=self.style_of_lengths.unit)

    def choose(
        self, title: str, choices: Sequence[tuple[Any, str]], make: Callable[[Any], Edit | None], *, tip: str
    ) -> Choice:
        """A field with a few words to choose from; `make` gives the edit for a word."""

        def give(value: Any) -> None:
            edit = make(value)
            if edit is not None:
                self.do(edit)

        return Choice(title, tuple(choices), give, tip=tip)
