"""The chosen pieces sorted by what can be done with them: which lie, wait, are pinned, were cut or spoiled."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from coverlayout.document.project import CutPiece, Project
from coverlayout.ui.parts.piece_rows import called, spoiled_of
from coverlayout.ui.table.bench import WAITING, Bench, Lying

__all__ = ["Chosen"]


@dataclass(frozen=True)
class Chosen:
    """The pieces `ids` chosen on the bench, the last one last; `rows` are those chosen in the list of pieces."""

    project: Project
    bench: Bench
    ids: tuple[str, ...]
    rows: tuple[str, ...] = ()

    @cached_property
    def _found(self) -> tuple[Lying, ...]:
        return tuple(lying for each in self.ids if (lying := self.bench.find(each)) is not None)

    @property
    def on_cloth(self) -> tuple[Lying, ...]:
        """Those on a cloth, cut ones too."""
        return tuple(lying for lying in self._found if lying.placed.cloth != WAITING)

    @property
    def lying(self) -> tuple[str, ...]:
        """The planned ones that lie on a cloth, pinned or not."""
        return tuple(lying.piece.id for lying in self.on_cloth if lying.state == "planned")

    @property
    def staying(self) -> frozenset[str]:
        """Those that no hand moves: pinned or cut."""
        return frozenset(lying.piece.id for lying in self._found if not lying.moves)

    @property
    def all_pinned(self) -> bool:
        """True when every planned one that lies is pinned, so that the next thing to do is to let them go."""
        return bool(self.lying) and set(self.lying) <= set(self.project.layout.pinned)

    @property
    def cut(self) -> tuple[CutPiece, ...]:
        """The facts of those that were cut."""
        return tuple(fact for each in self.ids if (fact := self.project.fact_of(each)) is not None)

    @property
    def facts(self) -> tuple[CutPiece, ...]:
        """Those that were cut, and the spoiled ones chosen in the list."""
        return (*self.cut, *spoiled_of(self.project, self.rows))

    @property
    def to_lay(self) -> tuple[str, ...]:
        """The planned ones that may be laid elsewhere: neither cut nor pinned."""
        return tuple(lying.piece.id for lying in self._found if lying.moves)

    @property
    def any_waits(self) -> bool:
        """True when some planned piece waits, chosen or not, and there is a cloth to lay it on."""
        return bool(self.bench.sheets) and bool(self.bench.on(WAITING))

    def name(self, piece: str) -> str:
        """What a piece is called within a sentence."""
        name = called(self.project).get(piece, piece)
        return name[:1].lower() + name[1:]
