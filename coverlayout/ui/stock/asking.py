"""Asks how many sheets of each material are needed while someone looks; keeps the last answer, marked when old."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import Remark
from coverlayout.ui.port import Heard
from coverlayout.ui.throttle import Throttle
from coverlayout.ui.verdict.asking import Asking

if TYPE_CHECKING:
    from coverlayout.document.stocking.on_stock import OnStock

__all__ = ["StockAsking"]

# A row of quick edits is one question; after this much quiet it is asked.
_QUIET_MS = 250


class StockAsking(QObject):
    """What is needed of each material. `changed`: something else is known, or how far it is.

    `laid` is None while nothing was ever told, `missing` says what could not be laid and why, `trouble` why nothing
    could. `is_old`: the books, cloths or stock have changed since. Nothing is asked unless someone looks (`begin`,
    `end`), and what the maker waits for otherwise goes first.
    """

    changed = Signal()

    def __init__(self, session: Session, asking: Asking, parent: QObject) -> None:
        super().__init__(parent)
        self._session, self._asking = session, asking
        self.laid: tuple[OnStock, ...] | None = None
        self.missing: tuple[Remark, ...] = ()
        self.trouble: Remark | None = None
        self.told_of: Project | None = None
        """The project that this was told of."""
        self.is_looking = self.is_stopped = False
        self.share = 0.0
        self._wanted = False
        self._asked_of = session.project
        self._soon = Throttle(self._ask, _QUIET_MS, at_once=False, parent=self)
        self.destroyed.connect(session.listen(self._look_at))
        asking.changed.connect(self._look_at_asking)

    @property
    def is_old(self) -> bool:
        """True when what was told is of a project that differs in what counts here."""
        return self.told_of is not None and _differ(self.told_of, self._session.project)

    @property
    def is_known(self) -> bool:
        """True when all that is told is of the project as it is now."""
        return self.told_of is not None and not self.is_old

    @property
    def gives_way(self) -> bool:
        """True while something else that the maker waits for goes first."""
        return self._asking.laying and not self.is_looking

    def begin(self) -> None:
        """Someone looks: ask what is not known."""
        self._wanted, self.is_stopped = True, False
        self._ask()

    def end(self) -> None:
        """Nobody looks any more: give up what is asked."""
        self._wanted = False
        self._soon.cancel()
        self._drop()

    def stop(self) -> None:
        """Give up what is asked until something changes or `begin`."""
        self.is_stopped = True
        self._soon.cancel()
        self._drop()
        self.changed.emit()

    def _drop(self) -> None:
        if self.is_looking:
            self.is_looking = False
            self._asking.cancel()

    def _look_at(self, old: Project, new: Project) -> None:
        if _differ(old, new):
            self.is_stopped = False
            if self._wanted:
                self._soon()
            self.changed.emit()

    def _ask(self) -> None:
        """Ask, unless it is known or the maker waits for something else; then it is asked after that."""
        project = self._session.project
        if not self._wanted or self.is_known or self.gives_way:
            return
        self.is_looking, self.share, self._asked_of = True, 0.0, project
        self._asking.ask_now("stock", project, self._hear, tells_trouble=True)
        # Before the window has been painted nothing is asked.
        self.is_looking = self._asking.laying
        self.changed.emit()

    def _look_at_asking(self) -> None:
        """How far it is; when something else took its place, it is asked again after that."""
        if self.is_looking and not (self._asking.laying and self._asking.kind == "stock"):
            self.is_looking = False
            self.changed.emit()
        elif self.is_looking and self.share != self._asking.share:
            self.share = self._asking.share
            self.changed.emit()
        if self._wanted and not (self.is_looking or self.is_stopped or self.is_known or self._asking.laying):
            self._soon()

    def _hear(self, heard: Heard) -> None:
        if heard.state not in ("done", "trouble"):
            return
        self.is_looking, self.told_of, self.trouble = False, self._asked_of, heard.trouble
        self.laid, self.missing = heard.answer if heard.trouble is None else (None, ())
        self.changed.emit()
        if self.is_old and self._wanted:
            self._soon()


def _differ(one: Project, other: Project) -> bool:
    """True when other pieces are to be cut, or from other stock."""
    return (one.books, one.cloths, one.stocks) != (other.books, other.cloths, other.stocks)
