"""How the window asks long questions: the port that `app` hands in, so that `ui` knows no process and no pipe."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, Protocol

from coverlayout.errors import Remark

if TYPE_CHECKING:
    from PySide6.QtCore import SignalInstance

__all__ = ["Heard", "HeardState", "Kind", "Port"]

Kind = Literal["lay", "ladder", "rest", "another", "changes", "largest", "count", "length", "scale", "stock", "panels"]
HeardState = Literal["progress", "found", "done", "trouble"]


@dataclass(frozen=True)
class Heard:
    """One message about a question: how far the search is, a better answer, the last answer, or why there is none.

    `answer` is a layout.answer.Answer for `lay` and `another`, a layout.ladder.Ladder for `ladder`, a
    document.cutting.rest.StillHad for `rest` (found: Answers), a tuple of document.changing.change.FittingChange
    for `changes`; for `largest`, `count`, `length` and `scale` what document.sizing tells of the project asked about;
    for `stock` (asked: a project) OnStocks and remarks on what has none, for `panels` (asked: a project and the id of a
    cloth) a document.paneling.panels.PanelsFound; None with `progress` and `trouble`. `share` runs from 0 to 1.
    """

    number: int
    kind: Kind
    state: HeardState
    share: float = 0.0
    answer: Any = None
    trouble: Remark | None = None


class Port(Protocol):
    """Asks one question at a time; the newest wins and answers to older ones are never delivered.

    `heard` carries a Heard and is emitted on the window's thread.
    """

    heard: SignalInstance

    def start(self) -> None:
        """Begin to warm up; called once the window has been painted."""

    def ask(self, kind: Kind, asked: object) -> int:
        """Ask; returns the question's number, which its messages carry."""

    def cancel(self) -> None:
        """Drop the question being worked on; nothing more is heard of it."""
