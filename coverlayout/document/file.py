"""The project file: saved so that no moment is without a whole copy, opened so that nothing in it is believed."""

from __future__ import annotations

import stat
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from coverlayout.document.checks.whole import checked
from coverlayout.document.project import Project
from coverlayout.document.storage.archive import picture_member, read_archive, write_archive
from coverlayout.document.storage.pictures import Pictures
from coverlayout.document.storage.records import has_unknown, project_from_json, project_to_json
from coverlayout.document.storage.stamp import Stamp
from coverlayout.document.storage.writing import backup_of, disk_trouble, write_safely
from coverlayout.errors import BadInput, CoverlayoutError, FileTrouble, Remark

__all__ = ["SUFFIX", "Loaded", "backup_of", "is_good", "load", "loaded", "picture_members", "save", "write_safely"]

SUFFIX = ".coverlayout"


@dataclass(frozen=True)
class Loaded:
    """What a project file held: the project, its pictures, and what is worth saying about it."""

    project: Project
    pictures: Pictures
    notes: tuple[Remark, ...] = ()


def save(path: Path, project: Project, pictures: Pictures, *, known: Stamp | None = None) -> None:
    """Save the project with the pictures it speaks of; the last good file stays beside it as `NAME.bak`.

    `known` is the file that may be replaced: when another one lies there, or none, FileTrouble says so and nothing is
    written. None: whatever lies there. BadInput: a project that could not be opened again. FileTrouble: the disk
    refused; the file is as it was.
    """
    text = project_to_json(checked(project))
    members = picture_members(project, pictures, text)
    _check_known(path, known)

    def last_look(present: Path) -> bool:
        """The new file is written by now: what lies there is asked once more, just before the two change places."""
        _check_known(present, known)
        return is_good(present)

    write_safely(Path(path), lambda file: write_archive(file, text, members), keep_if=last_look)


def _check_known(path: Path, known: Stamp | None) -> None:
    """FileTrouble unless the file that lies there is the one that is known."""
    state = "same" if known is None else known.state_of(path)
    if state != "same":
        code = "folder-gone" if state == "gone" and not path.parent.is_dir() else f"file-{state}"
        raise FileTrouble(code, file=path.name[:80], folder=str(path.parent)[:200])


def load(path: Path) -> Loaded:
    """Open a project file. Nothing in it is run, and nothing outside it is read.

    FileTrouble: it is not there or may not be read. BadInput: it is no project, damaged, too new or too large.
    """
    path = Path(path)
    with _opened(path) as file:
        text, pictures = read_archive(file, path.name)
    return loaded(text, pictures, path.name)


def loaded(text: bytes, pictures: Pictures, where: str) -> Loaded:
    """The project that JSON text and pictures make, checked. `where` names the file in the sentence."""
    project = project_from_json(text, where)
    try:
        checked(project)
    except BadInput as fault:
        raise BadInput("file-cannot-be", file=where, why=str(fault)) from fault
    for a_print in project.prints:
        if a_print.picture is not None and a_print.picture.sha256 not in pictures:
            raise BadInput("file-picture-missing", file=where, picture=a_print.picture.name)
    notes = (Remark.of("file-unknown-kept", file=where),) if has_unknown(project) else ()
    return Loaded(project, pictures, notes)


def picture_members(project: Project, pictures: Pictures, text: bytes) -> dict[str, bytes]:
    """The pictures to be kept, by member name: those whose hash stands anywhere in the project's text.

    BadInput when a print names a picture that is not there.
    """
    refs = [a_print.picture for a_print in project.prints if a_print.picture is not None]
    for ref in refs:
        if ref.sha256 not in pictures:
            raise BadInput("picture-missing", picture=ref.name)
    endings = {ref.sha256: ref.extension for ref in refs}
    kept = [name for name in pictures if name.encode() in text]
    return {picture_member(name, endings.get(name, "bin")): pictures[name] for name in kept}


@contextmanager
def _opened(path: Path) -> Iterator[BinaryIO]:
    """The file, open for reading; FileTrouble for what is no plain file."""
    with disk_trouble(path, reading=True):
        if not path.exists():
            raise FileTrouble("file-not-there", file=str(path))
        if not stat.S_ISREG(path.stat().st_mode):
            raise FileTrouble("file-not-plain", file=str(path))
        with path.open("rb") as file:
            yield file


def is_good(path: Path) -> bool:
    """True when a file is a project that can be read whole; only such a one may become the backup."""
    try:
        with _opened(path) as file:
            text, _ = read_archive(file, path.name, trust_hashes=True)
        project_from_json(text, path.name)
    except CoverlayoutError:
        return False
    return True
