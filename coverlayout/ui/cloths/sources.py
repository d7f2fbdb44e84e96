"""Which piece may come from where: a print, a cloth or a zone for covers, liners and each piece of the maker's own."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.book.book import Book, Source, Structure
from coverlayout.book.rules.belonging import belongs
from coverlayout.document.edits.zones import Part, set_source
from coverlayout.document.project import Project
from coverlayout.ui.cloths.owner import Owner
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import Fold

__all__ = ["Sources", "choices_of", "words_of"]

# What the cover's choice counts for, where that is not whole covers.
_COVERS: dict[Structure, str] = {
    "quarter-case": "Spine",
    "half-case": "Spine and corners",
    "exposed-spine-wrap": "Wrap",
    "limp-wrap": "Wrap",
    "slipcase": "Wrap",
}


def words_of(project: Project, source: Source) -> str:
    """A source in words.

    >>> words_of(Project(), Source())
    'anywhere'
    """
    words = [
        *(f"print {each.name}" for each in project.prints if each.id == source.print_id),
        *(f"cloth {each.name}" for each in project.cloths if each.id == source.cloth_id),
        *(
            f"{zone.name} of {cloth.name}"
            for cloth in project.cloths
            for zone in cloth.zones
            if zone.id == source.zone_id
        ),
    ]
    return ", ".join(words) or "anywhere"


def choices_of(project: Project, now: Source) -> tuple[tuple[Source, str], ...]:
    """Everything a piece may come from: anywhere, one print, one cloth, one zone; and what holds now, if it is more."""
    found = [
        Source(),
        *(Source(print_id=each.id) for each in project.prints),
        *(Source(cloth_id=each.id) for each in project.cloths),
        *(Source(zone_id=zone.id) for cloth in project.cloths for zone in cloth.zones),
    ]
    if now not in found:
        found.append(now)
    return tuple((source, words_of(project, source)) for source in found)


def _several(project: Project) -> bool:
    zones = sum(len(cloth.zones) for cloth in project.cloths)
    return len(project.prints) > 1 or len(project.cloths) > 1 or zones > 0


class Sources(Fold):
    """A choice for covers, liners, sides and label of the book shown, and for each piece of the maker's own."""

    def __init__(self, owner: Owner) -> None:
        super().__init__(
            "Pieces come from",
            tip="With several prints, cloths or zones: what lies elsewhere then is told as wrong.",
        )
        self._owner = owner
        self.hint = label("A piece that lies elsewhere stays there, and the bar below says so.", "hint")
        self.body.addWidget(self.hint)
        self.choices: dict[tuple[str, Part], Choice] = {}
        self._rows = QWidget()
        self._column = QVBoxLayout(self._rows)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        self.body.addWidget(self._rows)

    def show_project(self, project: Project, book: Book | None) -> None:
        """Show the sources of this book and of all own pieces; hidden while there is nothing to choose between."""
        asked: list[tuple[tuple[str, Part], str, Source]] = []
        if book is not None:
            asked.append(((book.id, "covers"), _COVERS.get(book.structure, "Covers"), book.cover_source))
            if book.sides == "cloth" and belongs("sides", book.structure):
                asked.append(((book.id, "sides"), "Sides", book.side_source))
            if book.liners == "cloth" and belongs("liners", book.structure):
                asked.append(((book.id, "liners"), "Liners", book.liner_source))
            if book.label is not None and book.label.material == "cloth":
                asked.append(((book.id, "label"), "Label", book.label.source))
        asked += [((own.id, "own"), own.name[:1].upper() + own.name[1:], own.source) for own in project.own_pieces]
        held = [title.lower() for _, title, source in asked if source != Source()]
        self.setVisible(bool(asked) and (_several(project) or bool(held)))
        self._keep([key for key, _, _ in asked])
        for at, (key, title, source) in enumerate(asked):
            choice = self._choice(key, title)
            choice.title.setText(title)
            choice.set_choices(choices_of(project, source))
            choice.show_value(source)
            if self._column.indexOf(choice) != at:
                self._column.removeWidget(choice)
                self._column.insertWidget(at, choice)
        self.choices = {key: self.choices[key] for key, _, _ in asked}
        self.set_note(f"{len(held)} of {len(asked)} set" if held else "anywhere")

    @property
    def first(self) -> QWidget:
        """The first choice, the heading while there is none."""
        return next((choice.box for choice in self.choices.values()), self.head)

    def _keep(self, keys: list[tuple[str, Part]]) -> None:
        for key in [key for key in self.choices if key not in keys]:
            gone = self.choices.pop(key)
            self._column.removeWidget(gone)
            gone.hide()
            gone.deleteLater()

    def _choice(self, key: tuple[str, Part], title: str) -> Choice:
        if key not in self.choices:
            record_id, part = key
            made = Choice(
                title,
                (),
                lambda source: self._owner.do(set_source(record_id, part, source)),
                tip="The print, the cloth or the zone it must be cut from.",
            )
            self.choices[key] = made
            self._column.addWidget(made)
        return self.choices[key]
