"""How soon a cancelled search is gone: one that never looks up, so that its process has to be ended."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from coverlayout.app.worker import Worker
from coverlayout.layout.question import Watch
from coverlayout.ui.port import Heard, Kind

ROUNDS = 9


def figures(shared: Path | None) -> dict[str, dict[str, float]]:
    """The median time from the call until the process is gone, in milliseconds."""
    heard: list[Heard] = []
    worker = Worker(heard.append, search_deaf)
    try:
        taken_ms = [_cancel_ms(worker, heard) for _ in range(ROUNDS)]
    finally:
        worker.close()
    return {"cancel_ms": {"value": statistics.median(taken_ms), "goal": 100.0}}


def search_deaf(kind: Kind, asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    """Work that never asks whether it is still wanted."""
    found("begun")
    while True:
        sum(range(1000))


def _cancel_ms(worker: Worker, heard: list[Heard]) -> float:
    worker.start()
    _wait(lambda: worker.warm == 2)
    number = worker.ask("lay", None)
    _wait(lambda: any(each.number == number and each.state == "found" for each in heard))
    working = Path(f"/proc/{worker.pids[0]}/stat")
    began = time.perf_counter()
    worker.cancel()
    _wait(lambda: _is_gone(working))
    return (time.perf_counter() - began) * 1000


def _is_gone(stat: Path) -> bool:
    """True as well for a process that ended and was not collected yet."""
    try:
        return stat.read_text(encoding="ascii").rpartition(")")[2].split()[0] == "Z"
    except (FileNotFoundError, ProcessLookupError):
        return True


def _wait(until: Callable[[], bool]) -> None:
    ends = time.monotonic() + 60.0
    while not until():
        if time.monotonic() > ends:
            raise TimeoutError("the worker did not do what it was to do within a minute")
        time.sleep(0.001)
