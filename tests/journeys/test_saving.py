"""Saving while the machine lets us down: killed at any moment, a full disk, a folder that may not be written."""

from __future__ import annotations

import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from full_project import FULL, PICTURES

from coverlayout.document.edits.job import rename_project
from coverlayout.document.file import backup_of, load, save
from coverlayout.document.session import Session
from coverlayout.errors import FileTrouble

# Saves one project after another over the same file until it is killed; tells when the first is there.
SAVING = """
import itertools, sys
from pathlib import Path
from coverlayout.document.file import save
from coverlayout.document.project import Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import PictureRef, Print
picture = bytes(range(256)) * 2000
pictures = Pictures().with_picture(picture)
ref = PictureRef(Pictures.hash_of(picture), "png", "herons.png", 640, 800)
herons = Print("print-1", "Herons", Lattice((64.0, 0.0), (0.0, 80.0)), picture=ref)
for number in itertools.count(int(sys.argv[2])):
    save(Path(sys.argv[1]), Project(name=f"save {number}", prints=(herons,)), pictures)
    print(number, flush=True)
"""


def number_in(path: Path) -> int:
    return int(load(path).project.name.removeprefix("save "))


def killed_while_saving(path: Path, first: int, after_s: float) -> int:
    """Save in another process from number `first` on and kill it; the number of the last save it told of."""
    command = [sys.executable, "-c", SAVING, str(path), str(first)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        told = [process.stdout.readline()]
        time.sleep(after_s)
        process.send_signal(signal.SIGKILL)
        told += process.stdout.read().splitlines()
    return max(int(line) for line in told if line.strip())


def kill_often(path: Path, kills: int) -> None:
    chance = random.Random(kills)
    present = 0
    for _ in range(kills):
        told = killed_while_saving(path, present + 1, chance.uniform(0.0, 0.03))
        # What was told as saved is there, or the one that was just being saved; the one before it is the backup.
        assert number_in(path) in (told, told + 1)
        present = number_in(path)
        if backup_of(path).exists():
            assert number_in(backup_of(path)) in (present - 1, present)
    save(path, FULL, PICTURES)
    assert {found.name for found in path.parent.iterdir()} == {path.name, backup_of(path).name}


def test_a_program_killed_while_saving_never_leaves_an_unreadable_project(tmp_path: Path) -> None:
    kill_often(tmp_path / "herons.coverlayout", 20)


@pytest.mark.slow
@pytest.mark.long
def test_nor_does_one_killed_hundreds_of_times(tmp_path: Path) -> None:
    kill_often(tmp_path / "herons.coverlayout", 400)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 64 kB; skips where none can be had."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount = shutil.which("mount")
    if mount is None or not hasattr(os, "geteuid") or os.geteuid() != 0:
        pytest.skip("a disk of its own needs the rights of root; the next test fills the file instead")
    done = subprocess.run(
        [mount, "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(folder)], capture_output=True, check=False
    )
    if done.returncode:
        pytest.skip("this machine gives no disk of our own; the next test fills the file instead")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def full_disk_changes_nothing(path: Path, session: Session) -> None:
    """A save that finds no room: one sentence, and file, backup and session as they were."""
    saved = {found.name: found.read_bytes() for found in path.parent.iterdir()}
    project = session.project
    session.add_picture(os.urandom(256 * 1024))
    big = session.add_picture(bytes(random.Random(1).randbytes(256 * 1024)))
    session.do(rename_project(f"with a picture of {big}"))
    with pytest.raises(FileTrouble) as caught:
        save(path, session.project, session.pictures)
    assert str(caught.value) == (
        f"{path.name} was not saved: there is no room left on the disk; free some or choose another folder"
    )
    assert {found.name: found.read_bytes() for found in path.parent.iterdir()} == saved
    assert session.unsaved
    session.undo()
    assert session.project is project


def test_a_full_disk_in_the_middle_of_a_save_changes_nothing(small_disk: Path) -> None:
    path = small_disk / "herons.coverlayout"
    session = Session(FULL, PICTURES, path)
    save(path, replace(FULL, name="before"), PICTURES)
    save(path, FULL, PICTURES)
    full_disk_changes_nothing(path, session)
    assert load(path).project == FULL
    assert load(backup_of(path)).project.name == "before"
    save(path, session.project, session.pictures)


def test_a_file_that_may_not_grow_changes_nothing(tmp_path: Path) -> None:
    """The bound on the size of a file stops a write in its middle, as a full disk does, on every machine."""
    path = tmp_path / "herons.coverlayout"
    session = Session(FULL, PICTURES, path)
    save(path, FULL, PICTURES)
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    ignored = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (64 * 1024, before[1]))
        full_disk_changes_nothing(path, session)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, ignored)
    assert load(path).project == FULL


@pytest.fixture
def locked_folder(tmp_path: Path) -> Iterator[Path]:
    """A folder with a saved project that may not be written, for root neither; skips where that cannot be had."""
    folder = tmp_path / "locked"
    folder.mkdir()
    save(folder / "herons.coverlayout", FULL, PICTURES)
    if os.geteuid() != 0:
        folder.chmod(0o555)
        try:
            yield folder
        finally:
            folder.chmod(0o755)
        return
    bound = [["mount", "--bind", str(folder), str(folder)], ["mount", "-o", "remount,ro,bind", str(folder)]]
    if any(subprocess.run(command, capture_output=True, check=False).returncode for command in bound):
        pytest.skip("this machine gives no folder that root may not write")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def test_a_folder_that_may_not_be_written_is_said_and_nothing_changes(locked_folder: Path) -> None:
    path = locked_folder / "herons.coverlayout"
    before = path.read_bytes()
    for target in (path, locked_folder / "new.coverlayout"):
        with pytest.raises(FileTrouble) as caught:
            save(target, replace(FULL, name="after"), PICTURES)
        assert str(caught.value) == (
            f"{target.name} was not saved: this folder or file may not be written; choose another folder"
        )
    assert path.read_bytes() == before
    assert [found.name for found in locked_folder.iterdir()] == [path.name]
    assert load(path).project == FULL


def test_a_day_of_saving_undoing_and_opening_again(tmp_path: Path) -> None:
    path = tmp_path / "herons.coverlayout"
    session = Session(FULL, PICTURES)
    session.do(rename_project("Six ledgers, blue"))
    save(path, session.project, session.pictures)
    session.mark_saved(path)
    session.undo()
    assert session.unsaved
    opened = load(path)
    other = Session()
    other.replace_all(opened.project, opened.pictures, path)
    assert other.project.name == "Six ledgers, blue"
    session.redo()
    assert not session.unsaved
    assert other.project == session.project
