"""How much a search may do: a number of steps, the same on every machine; the clock and the watch only cut short."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager

from coverlayout.layout.question import Watch, never

__all__ = ["CutShort", "Effort", "OutOfSteps"]

# The watch is asked this often: well below what a person notices, well above the cost of asking.
_WATCH_EVERY_S = 0.006


class OutOfSteps(Exception):
    """The steps of this part of the search are used up."""


class CutShort(Exception):
    """The seconds are up, or the watch said stop: the whole search ends with what it has."""


class Effort:
    """Counts the steps of a search. A step is about 0.05 ms of work, such as one piece tried in one place.

    >>> effort = Effort(steps=100)
    >>> effort.spend(60); effort.left
    40
    >>> effort.spend(60)
    Traceback (most recent call last):
    coverlayout.layout.search.effort.OutOfSteps
    """

    def __init__(self, steps: int, seconds: float | None = None, watch: Watch = never) -> None:
        """Start with `steps` to spend; `seconds` from now on (None: no limit) the search is cut short."""
        self._steps = max(steps, 1)
        self._spent = 0
        self._limit = self._steps
        self._watch = watch
        now = time.monotonic()
        self._ends = None if seconds is None else now + seconds
        self._next_look = now + _WATCH_EVERY_S

    @property
    def left(self) -> int:
        """Steps that may still be spent in this part."""
        return max(self._limit - self._spent, 0)

    @property
    def spent(self) -> int:
        """Steps spent so far."""
        return self._spent

    def spend(self, steps: int = 1) -> None:
        """Count `steps`; OutOfSteps when this part has none left, CutShort when the search must end."""
        self._spent += steps
        self.look()
        if self._spent > self._limit:
            raise OutOfSteps

    def look(self) -> None:
        """Ask the clock and the watch when it is time again; CutShort when either says stop."""
        now = time.monotonic()
        if now < self._next_look:
            return
        self._next_look = now + _WATCH_EVERY_S
        if self.asks_to_stop():
            raise CutShort

    def asks_to_stop(self, share_done: float = 0.0) -> bool:
        """True when the clock or the watch says stop: the watch for another search done within this one."""
        if self._ends is not None and time.monotonic() >= self._ends:
            return True
        return self._watch(min(max(self._spent / self._steps, share_done), 1.0))

    @contextmanager
    def part(self, steps: int) -> Iterator[Effort]:
        """Spend at most `steps` inside; running out of them there ends the part quietly, not the search."""
        before = self._limit
        self._limit = min(before, self._spent + steps)
        try:
            yield self
        except OutOfSteps:
            pass
        finally:
            self._limit = before
