"""The project's own environment `.venv`: built beside, renamed into place, stamped last, else built anew."""

from __future__ import annotations

import hashlib
import json
import os
import platform
import shutil
import subprocess
import sys
import sysconfig
import time
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Any

from starting import Stop, say
from starting.packages import install

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

__all__ = ["is_ready", "prepare", "python_of"]

_STAMP = "coverlayout-stamp.json"
_MAKE = ("-I", "-m", "venv")


def python_of(root: Path) -> Path:
    """The Python of the project's environment."""
    return _python_in(root / ".venv")


def is_ready(root: Path, *, with_tests: bool) -> bool:
    """True when the environment is whole, in its place, of this Python and of today's pyproject.toml.

    Reads one small file and one folder list: a start must not cost a look at every package.
    """
    present = _read_stamp(root)
    return (
        python_of(root).exists()
        and {**present, "with_tests": None, "packages": None} == _stamp(root)
        and (present["with_tests"] or not with_tests)
        and set(present["packages"]) <= set(_package_names(root / ".venv"))
    )


def prepare(root: Path, *, with_tests: bool) -> None:
    """Make the environment ready, building or growing it only where it is not; Stop when that cannot be done."""
    if is_ready(root, with_tests=with_tests):
        return
    try:
        with _alone(root / ".venv.lock"):
            if is_ready(root, with_tests=with_tests):
                return
            _sweep(root)
            if is_ready(root, with_tests=False):
                _grow(root)
            else:
                _build(root, with_tests=with_tests)
            _write_stamp(root, with_tests=with_tests)
    except OSError as error:
        raise Stop(f"The environment cannot be written: {error.strerror} ({error.filename or root}).") from error


def _grow(root: Path) -> None:
    """Add the test packages; the stamp goes first, so that a break in the middle is seen."""
    say("Adding the packages for tests ...")
    (root / ".venv" / _STAMP).unlink()
    install(python_of(root), root, extras="[test]")


def _build(root: Path, *, with_tests: bool) -> None:
    """Build a whole environment beside the present one, then let it take its place."""
    place, fresh, old = root / ".venv", root / f".venv-new-{os.getpid()}", root / f".venv-old-{os.getpid()}"
    say(f"Making the environment {place} for Python {platform.python_version()}; this takes a minute or two ...")
    made = subprocess.run(
        [sys.executable, *_MAKE, str(fresh)],
        capture_output=True,
        text=True,
        stdin=subprocess.DEVNULL,
        check=False,
    )
    if made.returncode:
        _sweep(root)
        raise Stop("This Python cannot make an environment; install its venv and ensurepip modules, then start again.")
    try:
        install(_python_in(fresh), root, extras="[test]" if with_tests else "")
    except BaseException:
        _sweep(root)
        raise
    _point_scripts(fresh, place)
    if place.is_symlink() or place.is_file():
        place.unlink()
    elif place.exists():
        place.rename(old)
    fresh.rename(place)
    _sweep(root)


def _point_scripts(fresh: Path, place: Path) -> None:
    """Scripts carry the path of their Python: write the one they will have after the rename."""
    for script in (fresh / "bin").glob("*"):
        if script.is_symlink() or not script.is_file():
            continue
        content = script.read_bytes()
        if b"\0" not in content[:1024] and bytes(fresh) in content:
            script.write_bytes(content.replace(bytes(fresh), bytes(place)))


def _sweep(root: Path) -> None:
    """Remove what broken starts left behind."""
    for left in (*root.glob(".venv-new-*"), *root.glob(".venv-old-*")):
        shutil.rmtree(left, ignore_errors=True)


def _python_in(folder: Path) -> Path:
    return folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _package_names(folder: Path) -> list[str]:
    """Names that lie in the environment's package folder, without the version-bearing records of pip."""
    base = str(folder)
    variables = {"base": base, "platbase": base, "installed_base": base, "installed_platbase": base}
    packages = Path(sysconfig.get_path("purelib", "venv", variables))
    if not packages.is_dir():
        return []
    return sorted(entry.name for entry in packages.iterdir() if entry.suffix != ".dist-info" and entry.name[0] != "_")


def _stamp(root: Path) -> dict[str, Any]:
    """What an environment of today is made from."""
    tables = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))
    made_from = [tables["build-system"], tables["project"], tables["tool"]["setuptools"]["package-dir"]]
    return {
        "made_from": hashlib.sha256(json.dumps(made_from, sort_keys=True).encode()).hexdigest(),
        "python": [*sys.version_info[:2], sys.base_prefix, platform.machine()],
        "place": str((root / ".venv").resolve()),
        "with_tests": None,
        "packages": None,
    }


def _read_stamp(root: Path) -> dict[str, Any]:
    """The stamp in the environment, or an empty one when there is none that can be read."""
    try:
        stamp = json.loads((root / ".venv" / _STAMP).read_text(encoding="utf-8"))
        return {**stamp, "with_tests": bool(stamp["with_tests"]), "packages": list(stamp["packages"])}
    except (OSError, ValueError, KeyError, TypeError):
        return {"with_tests": False, "packages": []}


def _write_stamp(root: Path, *, with_tests: bool) -> None:
    stamp = {**_stamp(root), "with_tests": with_tests, "packages": _package_names(root / ".venv")}
    beside = root / ".venv" / f"{_STAMP}-{os.getpid()}"
    beside.write_text(json.dumps(stamp), encoding="utf-8")
    beside.replace(root / ".venv" / _STAMP)


@contextmanager
def _alone(lock: Path) -> Iterator[None]:
    """Let one start at a time build; a second one waits. The lock goes with its process, however that ends."""
    with lock.open("a", encoding="utf-8") as file:
        if not _take(file):
            say("Another start is making the environment; waiting for it ...")
            while not _take(file):
                time.sleep(0.2)
        yield


def _take(file: IO[str]) -> bool:
    try:
        if sys.platform == "win32":
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    except OSError:  # a disk without locks: go on, as nothing better is to be had there
        return True
    return True
