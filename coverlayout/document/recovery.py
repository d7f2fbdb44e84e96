"""Copies of unsaved work, kept where the system keeps a program's state, and offered again after a crash.

Each open project has a folder of its own there: `project.json` as in a project file, `about.json` (which file it
belongs to), the pictures, each written once, and `open`, which stays locked while the program runs. A copy whose lock
is free was left behind. When a copy is written is the window's business.
"""

from __future__ import annotations

import secrets
import shutil
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import BinaryIO

import msgspec
import platformdirs

from coverlayout.document.file import Loaded, loaded, picture_members, write_safely
from coverlayout.document.project import Project
from coverlayout.document.storage.claims import hold
from coverlayout.document.storage.pictures import Pictures
from coverlayout.document.storage.records import project_to_json
from coverlayout.document.storage.stamp import Stamp
from coverlayout.document.storage.writing import disk_trouble
from coverlayout.errors import BadInput, FileTrouble, Remark

__all__ = ["Keeper", "LeftBehind", "difference", "discard", "left_behind", "read", "recovery_folder"]

_PROJECT, _ABOUT, _LOCK, _PICTURES = "project.json", "about.json", "open", "pictures"
_COUNTED = {0: "none", 1: "one"}


def recovery_folder() -> Path:
    """Where recovery copies lie for this user."""
    return platformdirs.user_state_path("coverlayout") / "recovery"


class _About(msgspec.Struct, frozen=True):
    """What is said of a copy: the file it belongs to (empty: never saved), the project's name, the file's stamp."""

    path: str
    name: str
    known: Stamp | None = None


@dataclass(frozen=True)
class LeftBehind:
    """A copy that a program which ended badly left behind.

    `path` is the file it belongs to, None when it was never saved; `when_s` the time it was written, in seconds since
    1970. `known` is the file as it was when it was last read or saved: another one there now is another program's.
    `damaged`: it cannot be read, which should be told before it is discarded.
    """

    folder: Path
    path: Path | None
    name: str
    when_s: float
    known: Stamp | None = None
    damaged: bool = False


class Keeper:
    """Keeps the recovery copy of one open project. Close it when the program ends well: the copy goes with it."""

    def __init__(self, folder: Path | None = None) -> None:
        """Nothing is written before the first `keep`. `folder` None: the user's own."""
        self._root = folder if folder is not None else recovery_folder()
        self._own = self._root / secrets.token_hex(8)
        self._lock: BinaryIO | None = None
        self._kept: tuple[Project, Path | None, Stamp | None] | None = None
        self._told: _About | None = None

    def keep(self, project: Project, pictures: Pictures, path: Path | None, known: Stamp | None = None) -> None:
        """Write the project as it is now over the copy; nothing is done when the copy says the same already.

        `known` is the file at `path` as it was last read or saved. FileTrouble when the disk refuses; the copy before
        stays whole.
        """
        if self._kept == (project, path, known):
            return
        try:
            self._write(project, pictures, path, known)
        except FileTrouble as fault:
            raise FileTrouble("recovery-not-kept", why=str(fault)) from fault
        self._kept = (project, path, known)

    def discard(self) -> None:
        """Take the copy away: the work was saved, or given up. `keep` starts anew."""
        self._kept = self._told = None
        if self._lock is not None:
            self._lock.close()
            self._lock = None
        _take_away(self._own)

    def _write(self, project: Project, pictures: Pictures, path: Path | None, known: Stamp | None) -> None:
        text = project_to_json(project)
        members = picture_members(project, pictures, text)
        with disk_trouble(self._own / _PROJECT):
            self._take_folder()
        for member, data in members.items():
            if not (self._own / member).exists():
                write_safely(self._own / member, data)
        about = _About(str(path.resolve()) if path else "", project.name, known)
        if about != self._told:
            write_safely(self._own / _ABOUT, msgspec.json.encode(about))
            self._told = about
        write_safely(self._own / _PROJECT, text)

    def _take_folder(self) -> None:
        if self._lock is None:
            (self._own / _PICTURES).mkdir(parents=True, exist_ok=True, mode=0o700)
            self._lock = (self._own / _LOCK).open("wb")
            hold(self._lock)


def left_behind(folder: Path | None = None, path: Path | None = None) -> tuple[LeftBehind, ...]:
    """The copies that nobody is working on, newest first; only those of the file `path`, when one is given.

    A folder that holds no copy yet (the program was killed before the first one was whole) is cleared away.
    """
    found: list[LeftBehind] = []
    root = folder if folder is not None else recovery_folder()
    for own in sorted(root.iterdir()) if root.is_dir() else ():
        if own.is_dir() and not own.is_symlink() and _is_free(own / _LOCK):
            copy = _described(own)
            if copy is None:
                _take_away(own)
            elif path is None or copy.path == path.resolve():
                found.append(copy)
    return tuple(sorted(found, key=lambda copy: copy.when_s, reverse=True))


def read(copy: LeftBehind) -> Loaded:
    """The work that was left behind; BadInput when it is damaged, FileTrouble when it cannot be read."""
    where = copy.name or copy.folder.name
    with disk_trouble(copy.folder, reading=True):
        text = (copy.folder / _PROJECT).read_bytes()
        files = [file for file in (copy.folder / _PICTURES).iterdir() if not file.name.startswith(".")]
        pictures = {file.name.partition(".")[0]: file.read_bytes() for file in files}
    if any(Pictures.hash_of(data) != name for name, data in pictures.items()):
        raise BadInput("recovery-damaged", name=where)
    try:
        return loaded(text, Pictures(pictures), where)
    except BadInput as fault:
        raise BadInput("recovery-damaged", name=where) from fault


def difference(saved: Project | None, kept: Project) -> Remark:
    """What work that was kept has more than the saved file; what it holds when it was never saved.

    >>> difference(None, Project()).text()
    'It holds nothing laid yet.'
    """
    laid = {placed.piece: placed for placed in kept.layout.placements}
    if saved is None:
        return Remark.of(f"recovery-holds-{_COUNTED.get(len(laid), 'many')}", count=len(laid))
    before = {placed.piece: placed for placed in saved.layout.placements}
    facts = {state: _newly(state, saved, kept) for state in ("cut", "spoiled")}
    undone = {fact.piece for fact in set(saved.cut_pieces) - set(kept.cut_pieces)}
    # What was cut, spoiled or is planned again lies nowhere else: that it left the plan is no move.
    marked = undone.union(*facts.values())
    elsewhere = sum(before.get(piece) != laid.get(piece) for piece in (before.keys() | laid.keys()) - marked)
    if marked:
        counts = {**{state: len(pieces) for state, pieces in facts.items()}, "moved": elsewhere}
        counts["no-fact"] = len(undone.difference(*facts.values()))
        parts = [Remark.of(f"recovery-{code}", count=count).text() for code, count in counts.items() if count]
        return Remark.of("recovery-pieces", parts=", ".join(parts))
    if elsewhere:
        return Remark.of(f"recovery-elsewhere-{_COUNTED.get(elsewhere, 'many')}", count=elsewhere)
    return Remark.of("recovery-no-other" if _alike(saved, kept) else "recovery-other")


def _newly(state: str, saved: Project, kept: Project) -> set[str]:
    """The pieces marked so in the work kept and not in the saved file."""
    return {fact.piece for fact in set(kept.cut_pieces) - set(saved.cut_pieces) if fact.state == state}


def _alike(saved: Project, kept: Project) -> bool:
    """True when the two differ by nothing that a maker would call a difference."""
    return replace(kept, preferences=saved.preferences, layout_id=saved.layout_id) == saved


def discard(copy: LeftBehind) -> None:
    """Take a copy away that was opened again or is not wanted."""
    _take_away(copy.folder)


def _take_away(own: Path) -> None:
    """The project first: cut short at any moment, what is left counts as no copy, not as a damaged one."""
    with suppress(OSError):
        (own / _PROJECT).unlink(missing_ok=True)
    shutil.rmtree(own, ignore_errors=True)


def _described(own: Path) -> LeftBehind | None:
    """What the copy in a folder is, None when there is none."""
    text = own / _PROJECT
    if not text.is_file():
        return None
    about = _About("", "")
    with suppress(msgspec.MsgspecError, UnicodeDecodeError, OSError):
        about = msgspec.json.decode((own / _ABOUT).read_bytes(), type=_About)
    path = Path(about.path) if about.path else None
    copy = LeftBehind(own, path, about.name, text.stat().st_mtime, about.known)
    try:
        read(copy)
    except (BadInput, FileTrouble):
        return replace(copy, damaged=True)
    return copy


def _is_free(lock: Path) -> bool:
    """True when no running program holds the lock of a copy."""
    try:
        with lock.open("r+b") as file:
            hold(file)
    except FileNotFoundError:
        return True
    except OSError:
        return False
    return True
