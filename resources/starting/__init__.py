"""How a fresh clone comes to life: system libraries, environment, display, gates. Standard library only."""

from __future__ import annotations

import sys

__all__ = ["Stop", "say"]


class Stop(Exception):
    """Starting cannot go on; the text is one plain sentence for the person who started it."""


def say(line: str) -> None:
    """Show one line of progress at once, beside the answers that go to standard output."""
    print(line, file=sys.stderr, flush=True)
