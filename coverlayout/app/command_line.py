"""The command `coverlayout`: opens the window or does one verb; every fault is one sentence on stderr and exit 2."""

from __future__ import annotations

import contextlib
import importlib
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from coverlayout import __version__
from coverlayout.app.faults import logged
from coverlayout.app.flags import Verb, read, tell, written
from coverlayout.errors import BadInput, CoverlayoutError, sentence

__all__ = ["BAD_INPUT", "main"]

BAD_INPUT = 2
# The exit code of a program ended by the person at the keyboard, as shells write it: 128 and the signal's number.
_INTERRUPTED = 130

# The verbs with what they do; each is loaded only when it is asked for, so that a check needs no PDF and no window.
_SUMMARIES = {
    "new": "make a project from the figures of a print, a cloth and a book",
    "lay": "place everything and say whether the cloth is enough",
    "check": "judge what is placed",
    "cuts": "every cut on the ladder with its verdict, least first",
    "count": "how many books come from the cloth",
    "largest": "the largest board of the book's shape that the cloth gives",
    "length": "the least length to have cut off the bolt",
    "scale": "at what scale of the print everything fits and the wishes hold",
    "book": "the book worked out: paper, sections, boards, pieces, what to cut, stations, thread",
    "sheet": "write the measurements for the bench",
}
# The verbs that ask how much, and the one about the book, have rooms of their own.
_ROOMS = {**dict.fromkeys(("count", "largest", "length", "scale"), "sizing"), "book": "booking"}
_LATER = frozenset(("suggest", "preview", "compose", "print-info", "tile"))


def main(argv: Sequence[str] | None = None) -> int:
    """Do what the words ask and return the exit code: 0 yes, 3 no or not found, 2 bad input.

    Nothing but BadInput and FileTrouble is expected; anything else is told in one sentence, with its details in a log.
    """
    words = list(sys.argv[1:] if argv is None else argv)
    try:
        return _run(words)
    except CoverlayoutError as fault:
        if fault.code == "output-refused":
            _let_go()
        return _say(str(fault))
    except BrokenPipeError:
        _let_go()
        return 0
    except KeyboardInterrupt:
        _say(sentence("interrupted", {}))
        return _INTERRUPTED
    except Exception as fault:  # noqa: BLE001 # the one place: a person at the bench must never see a traceback
        return _say(sentence("unexpected", {"kind": type(fault).__name__, "log": logged(fault)}))


def _let_go() -> None:
    """Leave what is still to be written (no reader, no room on the disk), so that nothing complains at the end."""
    with contextlib.suppress(OSError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _say(words: str) -> int:
    """One line on stderr; signs that would steer the terminal, from a name or a file, are shown as ?."""
    line = " ".join(words.split())
    print("".join(letter if letter.isprintable() else "?" for letter in line), file=sys.stderr)
    return BAD_INPUT


def _run(words: list[str]) -> int:
    first = words[0] if words else ""
    if first in ("--help", "-h"):
        tell(written(list(_SUMMARIES.items())))
        return 0
    if first == "--version":
        tell(f"coverlayout {__version__}")
        return 0
    if first in _LATER:
        raise BadInput("verb-later", verb=first, verbs=", ".join(_SUMMARIES))
    if first in _SUMMARIES:
        return _do(first, words[1:])
    return _open(words)


def _do(name: str, words: list[str]) -> int:
    module = importlib.import_module(f"coverlayout.app.{_ROOMS.get(name, 'verbs')}.{name}")
    verb: Verb = module.VERB
    given = read(verb, words, getattr(module, "LATER", frozenset()))
    return 0 if given is None else verb.run(given)


def _open(words: list[str]) -> int:
    """Open the window, with the project named; `--first-paint` ends it as soon as it is painted, to be timed."""
    first_paint = words[:1] == ["--first-paint"]
    files = words[1:] if first_paint else words
    if len(files) > 1:
        raise BadInput("verb-unknown", verb=files[0][:40], verbs=", ".join(_SUMMARIES))
    if files and files[0].startswith("-"):
        raise BadInput("flag-unknown-window", flag=files[0][:40])
    path = Path(files[0]) if files else None
    if path is not None and not os.path.exists(path):  # noqa: PTH110 # it answers no for a name no disk could hold
        raise BadInput("file-or-verb", found=str(path)[:200], verbs=", ".join(_SUMMARIES))
    from coverlayout.app.desktop import run  # noqa: PLC0415 # Qt is loaded for the window only

    return run(path, first_paint=first_paint)
