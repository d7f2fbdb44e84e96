"""Faults of the program itself: their details go into a log, so that the maker reads one sentence."""

from __future__ import annotations

import datetime
import traceback

from platformdirs import user_log_path

from coverlayout import __version__

__all__ = ["logged"]


def logged(fault: BaseException) -> str:
    """Where the details of an unexpected fault were written; a plain word when even that was refused."""
    try:
        folder = user_log_path("coverlayout", appauthor=False, ensure_exists=True)
        path = folder / "unexpected.log"
        with path.open("a", encoding="utf-8") as log:
            log.write(f"{datetime.datetime.now(datetime.UTC).isoformat()} coverlayout {__version__}\n")
            log.write("".join(traceback.format_exception(fault)) + "\n")
    except OSError:
        return "nowhere"
    return str(path)
