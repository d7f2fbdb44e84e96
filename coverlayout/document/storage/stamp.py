"""What a project file was like when it was last read or saved, so that another program's version is never lost."""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

__all__ = ["Stamp", "State"]

State = Literal["same", "changed", "gone"]

# The directory at the end of a zip has the size and checksum of every part; the project's own text stands before it.
# Two thousand parts, the most there are, take 230 kB of it.
_END_BYTES = 512 << 10


@dataclass(frozen=True)
class Stamp:
    """Size, time, place on the disk, and a digest of a file's end, which in a project file speaks for all of it.

    A file that was only touched, or brought back byte for byte, is the same file.
    """

    size_bytes: int
    time_ns: int
    place: tuple[int, int]
    digest: str

    @classmethod
    def of(cls, path: Path) -> Stamp | None:
        """The stamp of the file as it is now, None when it is not there or cannot be read."""
        try:
            with path.open("rb") as file:
                found = os.fstat(file.fileno())
                file.seek(max(found.st_size - _END_BYTES, 0))
                digest = hashlib.sha256(file.read(_END_BYTES)).hexdigest()
        except OSError:
            return None
        return cls(found.st_size, found.st_mtime_ns, (found.st_dev, found.st_ino), digest)

    def state_of(self, path: Path, *, quick: bool = False) -> State:
        """Whether the file is still what it was; `quick` believes its size, time and place on the disk.

        A file that is there but cannot be read any more was changed too.
        """
        if quick and self._looks_the_same(path):
            return "same"
        now = Stamp.of(path)
        if now is None:
            return "changed" if os.path.lexists(path) else "gone"
        return "same" if (now.size_bytes, now.digest) == (self.size_bytes, self.digest) else "changed"

    def _looks_the_same(self, path: Path) -> bool:
        try:
            now = path.stat()
        except OSError:
            return False
        return (now.st_size, now.st_mtime_ns, (now.st_dev, now.st_ino)) == (self.size_bytes, self.time_ns, self.place)
