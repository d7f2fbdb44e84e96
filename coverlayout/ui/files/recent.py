"""The projects opened or saved last, each with a small picture, kept from one day to the next."""

from __future__ import annotations

import hashlib
import json
import math
import os
import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import platformdirs

from coverlayout.document.file import write_safely
from coverlayout.errors import FileTrouble
from coverlayout.settings import settings_folder

__all__ = ["MOST_RECENT", "Recent", "RecentProjects"]

MOST_RECENT = 10
_LARGEST_BYTES = 1_000_000


@dataclass(frozen=True)
class Recent:
    """One project: its file, its name, and when it was last opened or saved, in seconds since 1970."""

    path: Path
    name: str
    when_s: float

    @property
    def is_there(self) -> bool:
        """False when the file was moved or taken away, or its disk is not there."""
        return os.path.isfile(self.path)  # noqa: PTH113  a path object raises where a folder may not be entered


class RecentProjects:
    """Kept in `recent.json` in the settings folder, read anew each time: another window may have written it.

    A file that cannot be read or written is done without.
    """

    def __init__(self, folder: Path | None = None, pictures: Path | None = None) -> None:
        """`folder` and `pictures` None: the user's own."""
        self._path = (folder or settings_folder()) / "recent.json"
        self._pictures = pictures or platformdirs.user_cache_path("coverlayout", appauthor=False) / "recent"

    def all(self) -> tuple[Recent, ...]:
        """The newest first, at most ten."""
        try:
            with self._path.open("rb") as file:
                found = json.loads(file.read(_LARGEST_BYTES))
        except (OSError, ValueError, RecursionError):
            return ()
        return tuple(_read(found))[:MOST_RECENT]

    def remember(self, path: Path, name: str) -> None:
        """This project was opened or saved now."""
        place = _absolute(path)
        others = [each for each in self.all() if each.path != place]
        self._write([Recent(place, name, time.time()), *others])

    def forget(self, path: Path) -> None:
        """Take a project off the list; its file stays as it is."""
        self._write([each for each in self.all() if each.path != _absolute(path)])

    def picture_of(self, path: Path) -> Path:
        """Where the small picture of a project lies, if it was made."""
        return self._pictures / f"{hashlib.sha256(os.fsencode(_absolute(path))).hexdigest()[:32]}.png"

    def keep_picture(self, path: Path, png: bytes) -> None:
        """Keep the small picture of a project."""
        with suppress(FileTrouble, OSError):
            self._pictures.mkdir(parents=True, exist_ok=True, mode=0o700)
            write_safely(self.picture_of(path), png)

    def _write(self, projects: list[Recent]) -> None:
        for each in projects[MOST_RECENT:]:
            with suppress(OSError):
                self.picture_of(each.path).unlink(missing_ok=True)
        told = [{"path": str(each.path), "name": each.name, "when_s": each.when_s} for each in projects[:MOST_RECENT]]
        with suppress(FileTrouble, OSError):
            self._path.parent.mkdir(parents=True, exist_ok=True)
            write_safely(self._path, json.dumps(told, indent=1).encode())


def _absolute(path: Path) -> Path:
    """The file by the name the maker gave it: links are not followed, so that it is found by that name again."""
    return Path(os.path.abspath(path))  # noqa: PTH100  a path object keeps the two dots


def _read(found: Any) -> Iterator[Recent]:
    """The projects in what a file held; whatever is not one is left out."""
    for each in found if isinstance(found, list) else ():
        if not isinstance(each, dict):
            continue
        path, name, when_s = each.get("path"), each.get("name"), each.get("when_s")
        if not isinstance(path, str) or not isinstance(name, str) or "\0" in path or not Path(path).is_absolute():
            continue
        if isinstance(when_s, int | float) and math.isfinite(when_s) and 0 <= when_s < 1 << 40:
            yield Recent(Path(path), name, float(when_s))
