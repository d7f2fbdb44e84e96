"""Keeps what is left of the cloths current: worked out once the hand rests, step by step, never in a frame."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain

from PySide6.QtCore import QObject, QTimer, Signal

from coverlayout.document.cutting.left_over import LeftOver, cloths_laid, left_over, working_out
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.throttle import Throttle

__all__ = ["Leftovers"]

# After the last edit so long: a drag that goes on, or arrow keys held down, come first.
_REST_MS = 160
_DONE = object()


class Leftovers(QObject):
    """The free rectangles of the session's project. `changed` tells that another list, choice or way of drawing holds.

    `found` is the list, largest first; `old` while the project has changed since. `chosen` is the row drawn on the
    cloth, None for none; `all_drawn`: every row is. `beside`: another project, whose cloths are worked out as well.
    """

    changed = Signal()

    def __init__(self, session: Session, canvas: Canvas) -> None:
        super().__init__(canvas)
        self._session, self._canvas = session, canvas
        self.found: tuple[LeftOver, ...] = ()
        self.old = True
        self.chosen: int | None = None
        self.all_drawn = False
        self.beside: Project | None = None
        self._steps: Iterator[None] = iter(())
        self._wanting: list[Callable[[], object]] = []
        self._asked_of: Project | None = None
        self._later = Throttle(self._begin, _REST_MS, at_once=False, parent=self)
        self._turn = QTimer(self, singleShot=True, interval=0)
        self._turn.timeout.connect(self._next)
        self._later()

    def look_at(self, old: Project, new: Project) -> None:
        """The project changed; what was left of a cloth, or of a print, that is gone goes with it at once."""
        if old is not new:
            self.old = True
            self._keep(tuple(each for each in self.found if _is_there(each, new)))
            self._later()

    def _keep(self, found: tuple[LeftOver, ...]) -> None:
        if found != self.found:
            chosen = None if self.chosen is None else self.found[self.chosen]
            self.found, self.chosen = found, None if chosen not in found else found.index(chosen)
            self.changed.emit()

    def look_beside(self, project: Project | None) -> None:
        """Work out what is left of another project too; `changed` tells when both are known."""
        self.beside = project
        if project is not None:
            self.old = True
            self._later()

    def choose(self, row: int | None) -> None:
        """Draw one row on the cloth, or none."""
        row = row if row is not None and 0 <= row < len(self.found) else None
        if row != self.chosen:
            self.chosen = row
            self.changed.emit()

    def draw_all(self, on: bool) -> None:
        """Draw every row on the cloth, or only the chosen one."""
        if on != self.all_drawn:
            self.all_drawn = on
            self.changed.emit()

    @property
    def drawn(self) -> tuple[LeftOver, ...]:
        """What is to be seen on the cloth, the chosen one last."""
        chosen = () if self.chosen is None else (self.found[self.chosen],)
        return (*(each for each in self.found if each not in chosen), *chosen) if self.all_drawn else chosen

    def when_known(self, act: Callable[[], object]) -> None:
        """Do something with what is left of the project as it is now: at once when it is known, else then."""
        if not self.old:
            act()
            return
        self._wanting.append(act)
        self._later.flush()

    def _begin(self) -> None:
        """Begin a round; while the hand moves something, later."""
        if self._canvas.gesture is not None:
            self._later()
            return
        self._asked_of = self._session.project
        projects = [self._asked_of] if self.beside is None else [self._asked_of, self.beside]
        self._steps = chain.from_iterable(map(_steps_of, projects))
        self._turn.start()

    def _next(self) -> None:
        """One step a turn, so that nothing that happens in the window waits for more than one."""
        if self._asked_of is not self._session.project or self._canvas.gesture is not None:
            self._later()
        elif next(self._steps, _DONE) is _DONE:
            self._take_over()
        else:
            self._turn.start()

    def _take_over(self) -> None:
        """Every cloth is known: only the list is put together now."""
        assert self._asked_of is not None
        chosen = None if self.chosen is None else self.found[self.chosen]
        try:
            self.found = left_over(self._asked_of)
        except CoverlayoutError:
            self.found = ()
        self.old = False
        self.chosen = None if chosen is None else _most_like(chosen, self.found)
        self.changed.emit()
        wanting, self._wanting = self._wanting, []
        for act in wanting:
            act()


def _steps_of(project: Project) -> Iterator[None]:
    """Every step for every cloth of a project; none when nothing can be judged."""
    try:
        laid = cloths_laid(project)
    except CoverlayoutError:
        return
    for each in laid:
        yield from working_out(each)


def _is_there(left: LeftOver, project: Project) -> bool:
    """True while the project has its cloth, and the print it lies on."""
    prints = {None, *(a_print.id for a_print in project.prints)}
    return left.print_id in prints and any(cloth.id == left.cloth_id for cloth in project.cloths)


def _most_like(before: LeftOver, found: tuple[LeftOver, ...]) -> int | None:
    """The row that has most ground of the one chosen before; None when none has any."""
    here = [(row, each.rectangle) for row, each in enumerate(found) if each.cloth_id == before.cloth_id]
    shared = {row: before.rectangle.shared_mm2(rectangle) for row, rectangle in here}
    row = max(shared, key=lambda row: shared[row], default=None)
    return row if row is not None and shared[row] > 0 else None
