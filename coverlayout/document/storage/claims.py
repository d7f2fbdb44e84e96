"""Which project files are open in a window: one claim a file, which ends with its process in whatever way.

A claim is a small file in the folder of the program's state, named after the path of the project and locked while the
window has it open. A claim whose lock is free counts for nothing, so that none is ever stale.
"""

from __future__ import annotations

import errno
import hashlib
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

import platformdirs

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

__all__ = ["Claim", "claims_folder", "hold"]

# What a system answers when another process holds the lock; anything else says that locks are not to be had here.
_HELD = {errno.EACCES, errno.EAGAIN, errno.EDEADLK}


def claims_folder() -> Path:
    """Where the claims of this user lie."""
    return platformdirs.user_state_path("coverlayout") / "open"


def hold(file: BinaryIO) -> None:
    """Lock the file until it is closed, or its process ends in any way; OSError when another one holds it."""
    if sys.platform == "win32":
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


class Claim:
    """The claim of one window on the file it has open; one at a time.

    Where no claim can be laid (the folder may not be written, the disk knows no locks) the file counts as free: that
    must not keep anyone from working.
    """

    def __init__(self, folder: Path | None = None) -> None:
        """Nothing is claimed yet. `folder` None: the user's own."""
        self._folder = folder if folder is not None else claims_folder()
        self._path: Path | None = None
        self._lock: BinaryIO | None = None

    def is_elsewhere(self, path: Path) -> bool:
        """True when another window has this file open (by whatever path or link leads to it)."""
        if self._lock is not None and self._place(path) == self._path:
            return False
        lock, held = self._taken(self._place(path))
        if lock is not None:
            self._let_go(self._place(path), lock)
        return held

    def take(self, path: Path) -> bool:
        """Claim this file in place of the one before; False when another window has it open. Ours stays ours."""
        place = self._place(path)
        if self._lock is not None and place == self._path:
            return True
        lock, held = self._taken(place)
        self.release()
        self._path, self._lock = place, lock
        return not held

    def release(self) -> None:
        """Let go of the file that is claimed, if any."""
        if self._lock is not None and self._path is not None:
            self._let_go(self._path, self._lock)
        self._path = self._lock = None

    def _place(self, path: Path) -> Path:
        """The claim's own file: every path that leads to the same project has the same."""
        try:
            found = path.resolve()
        except (OSError, RuntimeError):  # a ring of links
            found = path.absolute()
        name = os.path.normcase(found)
        return self._folder / hashlib.sha256(os.fsencode(name)).hexdigest()[:32]

    def _taken(self, place: Path) -> tuple[BinaryIO | None, bool]:
        """The locked file (None when there is none to be had), and whether another process holds it."""
        try:
            self._folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            while True:
                lock = place.open("ab")
                try:
                    hold(lock)
                except OSError as fault:
                    lock.close()
                    return None, fault.errno in _HELD
                if _is_still(place, lock):
                    return lock, False
                lock.close()
        except OSError:
            return None, False

    def _let_go(self, place: Path, lock: BinaryIO) -> None:
        """Take the file away while it is locked, so that nobody's new claim goes with it."""
        if sys.platform != "win32":
            with suppress(OSError):
                place.unlink(missing_ok=True)
        lock.close()


def _is_still(place: Path, lock: BinaryIO) -> bool:
    """True when the locked file is the one that lies there: it may have been taken away before the lock was got."""
    try:
        return os.path.samestat(place.stat(), os.fstat(lock.fileno()))
    except FileNotFoundError:
        return False
