"""Writing a file so that at every moment either the old one or the new one is whole."""

from __future__ import annotations

import errno
import hashlib
import os
import secrets
import shutil
import stat
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from coverlayout.errors import FileTrouble

if sys.platform != "win32":
    import fcntl

__all__ = ["backup_of", "disk_trouble", "write_safely"]

Fill = Callable[[BinaryIO], object]
_SAID = {
    errno.ENOSPC: "disk-full",
    errno.EDQUOT: "disk-full",
    errno.EFBIG: "disk-full",
    errno.EACCES: "no-permission",
    errno.EPERM: "no-permission",
    errno.EROFS: "no-permission",
    errno.ENOENT: "folder-gone",
    errno.ENOTDIR: "folder-gone",
    errno.EISDIR: "is-a-folder",
}
# A folder cannot be told to keep its names on some systems; there the names are kept all the same.
_FOLDERS_KEEP = {errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.EACCES}


def backup_of(path: Path) -> Path:
    """Where the last good copy of a file lies: beside it, `.bak` behind its name.

    >>> backup_of(Path("ledgers.coverlayout")).name
    'ledgers.coverlayout.bak'
    """
    return path.with_name(path.name + ".bak")


def write_safely(path: Path, data: bytes | Fill, *, keep_if: Callable[[Path], bool] | None = None) -> None:
    """Write `data` (or what the function writes) to `path`, whole or not at all.

    Written beside under a fresh name, forced to the disk, renamed into place, the folder forced to the disk. A file
    that is there already keeps its permissions and, where `path` is a link, its place; it becomes the `.bak` copy when
    `keep_if` says that it is good. FileTrouble in one sentence when the disk refuses; then nothing has changed.
    """
    with disk_trouble(path):
        target = _target(path)
        _sweep(target)
        _write_and_swap(target, data, keep_if)


@contextmanager
def disk_trouble(path: Path, *, reading: bool = False) -> Iterator[None]:
    """Say what the disk refused, to write or to read, as FileTrouble naming the file."""
    try:
        yield
    except OSError as fault:
        code = "file-not-read" if reading else _SAID.get(fault.errno or 0, "disk-refused")
        name, folder = path.name[:80], str(path.parent)[:200]
        raise FileTrouble(code, file=name, folder=folder, why=fault.strerror or "?") from fault


def _target(path: Path) -> Path:
    """The file to be replaced: where links lead. Refuses folders and files that must not be written."""
    try:
        target = path.resolve()
    except RuntimeError as fault:  # a ring of links, before Python 3.13
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP)) from fault
    if target.is_symlink():  # a ring of links, from Python 3.13 on
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP))
    if target.is_dir():
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
    if target.exists() and not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    return target


def _write_and_swap(target: Path, data: bytes | Fill, keep_if: Callable[[Path], bool] | None) -> None:
    beside = _fresh_name_beside(target)
    try:
        with _opened_new(beside) as file:
            _keep_permissions(file, target)
            _write_and_fsync(file, data)
        if keep_if is not None and target.exists() and keep_if(target):
            _keep_present(target)
        os.replace(beside, target)  # noqa: PTH105  # the calls that must keep their order are all of one module
    finally:
        # After the swap there is nothing of that name; after any fault nothing half-written may stay.
        with suppress(OSError):
            beside.unlink(missing_ok=True)
    _fsync_folder(target.parent)


@contextmanager
def _opened_new(path: Path) -> Iterator[BinaryIO]:
    """A new file, held for us alone while it is written, so that nobody sweeps it away."""
    flags = os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
    with os.fdopen(os.open(path, flags, 0o666), "w+b") as file:
        if sys.platform != "win32":
            with suppress(OSError):
                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        yield file


def _keep_permissions(file: BinaryIO, target: Path) -> None:
    """Give the new file the owner and permissions of the one it will replace, where that is allowed."""
    if not target.exists() or not hasattr(os, "fchown"):
        return
    present = target.stat()
    with suppress(OSError):
        os.fchown(file.fileno(), present.st_uid, present.st_gid)
    with suppress(OSError):
        os.fchmod(file.fileno(), stat.S_IMODE(present.st_mode))


def _write_and_fsync(file: BinaryIO, data: bytes | Fill) -> None:
    if isinstance(data, bytes):
        file.write(data)
    else:
        data(file)
    file.flush()
    os.fsync(file.fileno())


def _keep_present(target: Path) -> None:
    """Give the present file the backup's name as well; no moment is without a whole backup once there was one.

    A copy could be cut short and then replace the one good backup; a second name cannot.
    """
    backup = backup_of(target)
    if backup.exists() and backup.samefile(target):
        return
    second = _fresh_name_beside(target)
    try:
        try:
            os.link(target, second)
        except OSError:
            _copy_and_fsync(target, second)
        # In the words of os like the lines around it: a path object would only wrap them.
        os.replace(second, backup)  # noqa: PTH105
    finally:
        # Renaming one name of a file onto another name of the same file does nothing and leaves both.
        with suppress(OSError):
            second.unlink(missing_ok=True)


def _copy_and_fsync(source: Path, new: Path) -> None:
    """The way where links are not to be had."""
    with source.open("rb") as old, _opened_new(new) as copy:
        shutil.copyfileobj(old, copy, 1 << 20)
        _keep_permissions(copy, source)
        copy.flush()
        os.fsync(copy.fileno())


def _fsync_folder(folder: Path) -> None:
    if sys.platform == "win32":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    except OSError as fault:
        if fault.errno not in _FOLDERS_KEEP:
            raise
    finally:
        os.close(descriptor)


def _stray_start(target: Path) -> str:
    """How the passing files beside a file are called; short, so that long names keep working."""
    return f".coverlayout-{hashlib.sha256(os.fsencode(target.name)).hexdigest()[:12]}-"


def _fresh_name_beside(target: Path) -> Path:
    return target.with_name(f"{_stray_start(target)}{secrets.token_hex(8)}.part")


def _sweep(target: Path) -> None:
    """Remove what a save of this file that was killed left beside it; one that is still being written stays."""
    start = _stray_start(target)
    with suppress(OSError):  # a folder that may not be listed may still be written
        for stray in target.parent.iterdir():
            if stray.name.startswith(start) and stray.name.endswith(".part"):
                _remove_if_left(stray)


def _remove_if_left(stray: Path) -> None:
    with suppress(OSError), stray.open("rb") as file:
        if sys.platform != "win32":
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        stray.unlink()
