"""Keeping the readers of pictures quiet: their warnings, log lines and what C libraries write."""

from __future__ import annotations

import logging
import os
import threading
import warnings
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

__all__ = ["hushed", "quiet"]

# Pillow also logs damage; without a handler Python would write that to the terminal.
logging.getLogger("PIL").addHandler(logging.NullHandler())

_hush_lock = threading.Lock()
_quiet_lock = threading.Lock()
_quiet_now: list[warnings.catch_warnings[None]] = []
_quiet_count = 0


@contextmanager
def quiet() -> Iterator[None]:
    """Keep Pillow's warnings from the terminal; threads may overlap, the last one out puts the filters back."""
    global _quiet_count  # noqa: PLW0603 - the filters of the warnings module are one for the whole process
    with _quiet_lock:
        if _quiet_count == 0:
            saved = warnings.catch_warnings()
            saved.__enter__()
            warnings.filterwarnings("ignore", module=r"PIL\.")
            _quiet_now.append(saved)
        _quiet_count += 1
    try:
        yield
    finally:
        with _quiet_lock:
            _quiet_count -= 1
            if _quiet_count == 0:
                _quiet_now.pop().__exit__(None, None, None)


@contextmanager
def hushed() -> Iterator[None]:
    """Keep what a C library writes straight to standard error off the terminal; one at a time.

    The reader of packed TIFF reports damage there besides raising; the maker shall read one sentence. Without a
    standard error (a program without a terminal) there is nothing to do.
    """
    with _hush_lock, ExitStack() as put_back:
        try:
            kept = os.dup(2)
        except OSError:
            kept = None
        if kept is not None:
            put_back.callback(os.close, kept)
            nowhere = os.open(os.devnull, os.O_WRONLY)
            put_back.callback(os.close, nowhere)
            os.dup2(nowhere, 2)
            put_back.callback(os.dup2, kept, 2)
        yield
