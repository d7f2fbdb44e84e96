"""Answers that the worker tests have their processes give; a module of its own so that a process can load it."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable
from typing import Any

from coverlayout.errors import BadInput
from coverlayout.layout.question import Watch
from coverlayout.ui.port import Kind

__all__ = ["answer_as_told"]


def answer_as_told(kind: Kind, asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    """Do what the question says: its first word is the deed, the rest is given back."""
    deed, rest = asked
    if deed in _SEARCHES:
        return _SEARCHES[deed](rest, watch, found)
    if deed == "crash":
        os._exit(7)
    if deed == "bad input":
        raise BadInput("length-negative", where="gap", found="-1mm", like="0mm")
    if deed == "bug":
        raise KeyError(rest)
    if deed == "name modules":
        return tuple(sorted({name.split(".")[0] for name in sys.modules}))
    return rest


def _until_told(rest: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    while not watch(0.5):
        time.sleep(0.001)
    return "stopped"


def _deaf(rest: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    found("first")
    while True:
        time.sleep(1.0)


def _improve(rest: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    for step in range(rest):
        watch(step / rest)
        found(step)
        time.sleep(0.06)
    return rest


_SEARCHES = {"search until told": _until_told, "search deaf": _deaf, "improve": _improve}
