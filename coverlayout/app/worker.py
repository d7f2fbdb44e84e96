"""The warm worker: two processes are kept, one works and one stands by; a dropped question is gone at once."""

from __future__ import annotations

import contextlib
import multiprocessing
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any

from coverlayout.app.worker_process import AnswerQuestion, Asked, Ready, Started, answer_question, serve
from coverlayout.errors import Remark
from coverlayout.ui.port import Heard, Kind

__all__ = ["Worker"]

# A busy process gets this long to drop its question for a newer one; then it is ended and the other takes over.
_TAKE_OVER_S = 0.08
# So many processes in a row that die before they are warm mean that searching does not work on this machine.
_STILLBORN_MOST = 3


class _Hand:
    """One process with its pipe. A thread of its own starts it and listens, so that the window never waits."""

    def __init__(self, heard: Callable[[_Hand, Any], None], gone: Callable[[_Hand], None], answer: AnswerQuestion):
        self._heard = heard
        self._gone = gone
        self._answer = answer
        self._lock = threading.Lock()
        self._connection: Connection | None = None
        self._process: BaseProcess | None = None
        self._pending: Asked | None = None
        self.ready = False
        self.dismissed = False
        self.working_on: Asked | None = None
        self.thread = threading.Thread(target=self._live, name="worker hand", daemon=True)
        self.thread.start()

    def _live(self) -> None:
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe()
        process = context.Process(target=serve, args=(theirs, self._answer), name="coverlayout worker", daemon=True)
        with self._lock, contextlib.suppress(OSError):  # no process to be had: told as one that died before it was warm
            if not self.dismissed:
                process.start()
                self._connection, self._process = ours, process
        theirs.close()
        if self._process is None:
            ours.close()
            self._gone(self)
            return
        with contextlib.suppress(EOFError, OSError):
            while True:
                self._take(ours.recv())
        ours.close()
        process.join()
        # Starting another process collects those that ended; where that happens just now, this one is gone too.
        with contextlib.suppress(ValueError):
            process.close()
        self._gone(self)

    def _take(self, message: Any) -> None:
        if isinstance(message, Ready):
            with self._lock:
                self.ready = True
                pending, self._pending = self._pending, None
            if pending is not None:
                self._send(pending)
        else:
            self._heard(self, message)

    def _send(self, asked: Asked) -> None:
        # A pipe that just broke: the listening thread finds out and heals.
        with contextlib.suppress(OSError):
            if self._connection is not None:
                self._connection.send(asked)

    @property
    def pid(self) -> int | None:
        """The process's number, None while it is being started."""
        return self._process.pid if self._process is not None and not self.dismissed else None

    def ask(self, asked: Asked) -> None:
        """Hand over a question now, or as soon as the process is warm."""
        with self._lock:
            self.working_on = asked
            if not self.ready:
                self._pending = asked
                return
        self._send(asked)

    def dismiss(self) -> None:
        """End the process at once; nothing more is heard of it."""
        with self._lock:
            self.dismissed = True
            if self._process is not None:
                with contextlib.suppress(ValueError):  # already ended and closed by its own thread
                    self._process.kill()


class Worker:
    """Asks the newest question and forgets older ones. `hear` is called from other threads, newest question only.

    `answer` runs in the process; it is a module's function so that it can travel there.
    """

    def __init__(self, hear: Callable[[Heard], None], answer: AnswerQuestion = answer_question) -> None:
        self._hear = hear
        self._answer = answer
        self._lock = threading.RLock()
        self._hands: list[_Hand] = []
        self._leaving: set[_Hand] = set()
        self._number = 0
        self._stillborn = 0
        self._closed = False
        self._timer: threading.Timer | None = None

    def start(self) -> None:
        """Warm both processes; returns at once."""
        with self._lock:
            while not self._closed and len(self._hands) < 2 and self._stillborn < _STILLBORN_MOST:
                self._hands.append(_Hand(self._heard, self._gone, self._answer))

    def ask(self, kind: Kind, asked: object) -> int:
        """Ask a question in place of any other; returns its number."""
        with self._lock:
            self._number += 1
            question = Asked(self._number, kind, asked)
            self.start()
            if not self._hands:
                self._hear(Heard(question.number, kind, "trouble", trouble=Remark.of("search-unavailable")))
                return question.number
            first = self._hands[0]
            busy = first.ready and first.working_on is not None
            first.ask(question)
            if busy:
                self._watch_the_take_over(question)
            return question.number

    def cancel(self) -> None:
        """Drop the question: the working process is ended, the other takes its place and a new one is warmed."""
        with self._lock:
            self._number += 1  # whatever still comes is older than this
            self._stop_timer()
            if self._hands and self._hands[0].working_on is not None:
                self._replace_first()

    def close(self) -> None:
        """End both processes and wait until they are gone."""
        with self._lock:
            self._closed = True
            self._number += 1
            self._stop_timer()
            hands, self._hands = [*self._hands, *self._leaving], []
            for hand in hands:
                hand.dismiss()
        for hand in hands:
            hand.thread.join(5.0)

    @property
    def pids(self) -> tuple[int, ...]:
        """The processes kept at the moment, the working one first."""
        with self._lock:
            return tuple(hand.pid for hand in self._hands if hand.pid is not None)

    @property
    def warm(self) -> int:
        """How many of the two processes are ready to answer."""
        with self._lock:
            return sum(hand.ready for hand in self._hands)

    def _replace_first(self) -> None:
        hand = self._hands.pop(0)
        self._leaving.add(hand)
        hand.dismiss()
        self.start()

    def _watch_the_take_over(self, question: Asked) -> None:
        self._stop_timer()
        self._timer = threading.Timer(_TAKE_OVER_S, self._take_over, [question])
        self._timer.daemon = True
        self._timer.start()

    def _take_over(self, question: Asked) -> None:
        with self._lock:
            if self._closed or question.number != self._number or not self._hands:
                return
            self._replace_first()
            self._hands[0].ask(question)

    def _stop_timer(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def _heard(self, hand: _Hand, message: Started | Heard) -> None:
        with self._lock:
            if hand.dismissed or message.number != self._number:
                return
            if isinstance(message, Started):
                self._stop_timer()
                return
            if message.state in ("done", "trouble"):
                hand.working_on = None
                self._stillborn = 0
        self._hear(message)

    def _gone(self, hand: _Hand) -> None:
        """A process ended. When nobody asked it to, say so once and warm another."""
        with self._lock:
            self._leaving.discard(hand)
            if hand.dismissed or self._closed or hand not in self._hands:
                return
            self._hands.remove(hand)
            self._stillborn = 0 if hand.ready else self._stillborn + 1
            lost = hand.working_on
            self.start()
            told = lost is not None and lost.number == self._number
            code = "search-crashed" if self._hands else "search-unavailable"
        if told and lost is not None:
            self._hear(Heard(lost.number, lost.kind, "trouble", trouble=Remark.of(code)))
