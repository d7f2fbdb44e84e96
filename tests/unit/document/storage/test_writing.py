"""Writing safely: the order of the calls, the backup, what stays when the disk refuses."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, BinaryIO

import pytest

from coverlayout.document.storage import writing
from coverlayout.document.storage.writing import backup_of, disk_trouble, write_safely
from coverlayout.errors import FileTrouble

FULL_DISK = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.fixture
def target(tmp_path: Path) -> Path:
    """A file with a backup beside it."""
    path = tmp_path / "herons.coverlayout"
    path.write_bytes(b"present")
    backup_of(path).write_bytes(b"before")
    return path


def names(path: Path) -> set[str]:
    return {found.name for found in path.parent.iterdir()}


def always(path: Path) -> bool:
    return True


def never(path: Path) -> bool:
    return False


def refusing(fault: OSError) -> Callable[..., Any]:
    def refuse(*arguments: object, **named: object) -> Any:
        raise fault

    return refuse


def test_a_new_file_is_written_and_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "placement.csv"
    write_safely(path, b"piece,side\n")
    assert path.read_bytes() == b"piece,side\n"
    assert names(path) == {"placement.csv"}


def test_what_a_function_writes_is_written(tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    write_safely(path, lambda file: [file.write(b"one"), file.write(b"two")])
    assert path.read_bytes() == b"onetwo"


def test_the_present_good_file_becomes_the_backup(target: Path) -> None:
    write_safely(target, b"new", keep_if=always)
    assert (target.read_bytes(), backup_of(target).read_bytes()) == (b"new", b"present")
    assert names(target) == {"herons.coverlayout", "herons.coverlayout.bak"}


def test_a_damaged_present_file_does_not_replace_the_backup(target: Path) -> None:
    write_safely(target, b"new", keep_if=never)
    assert (target.read_bytes(), backup_of(target).read_bytes()) == (b"new", b"before")


def test_without_a_wish_nothing_is_kept(target: Path) -> None:
    write_safely(target, b"new")
    assert backup_of(target).read_bytes() == b"before"


def test_a_first_save_keeps_nothing(tmp_path: Path) -> None:
    write_safely(tmp_path / "new.coverlayout", b"new", keep_if=always)
    assert names(tmp_path / "x") == {"new.coverlayout"}


def test_a_backup_that_is_the_present_file_already_is_left(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As after a crash between the backup and the swap."""
    backup_of(target).unlink()
    os.link(target, backup_of(target))
    monkeypatch.setattr(os, "link", refusing(AssertionError()))  # type: ignore[arg-type]  # any exception will do
    write_safely(target, b"new", keep_if=always)
    assert (target.read_bytes(), backup_of(target).read_bytes()) == (b"new", b"present")


def test_where_links_are_not_to_be_had_the_backup_is_a_copy(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target.chmod(0o640)
    monkeypatch.setattr(os, "link", refusing(PermissionError(errno.EPERM, "no links")))
    write_safely(target, b"new", keep_if=always)
    assert (target.read_bytes(), backup_of(target).read_bytes()) == (b"new", b"present")
    assert stat.S_IMODE(backup_of(target).stat().st_mode) == 0o640
    assert names(target) == {"herons.coverlayout", "herons.coverlayout.bak"}


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """The calls to the disk in the order they came, each still doing its work."""
    told: list[str] = []
    fsync, link, swap = os.fsync, os.link, os.replace

    def told_fsync(descriptor: int) -> None:
        told.append("fsync folder" if stat.S_ISDIR(os.fstat(descriptor).st_mode) else "fsync")
        fsync(descriptor)

    def told_link(source: Path, new: Path) -> None:
        told.append("link")
        link(source, new)

    def told_swap(source: Path, new: Path) -> None:
        told.append("rename to backup" if new.suffix == ".bak" else "rename into place")
        swap(source, new)

    monkeypatch.setattr(os, "fsync", told_fsync)
    monkeypatch.setattr(os, "link", told_link)
    monkeypatch.setattr(os, "replace", told_swap)
    return told


def test_the_calls_come_in_the_order_that_keeps_a_whole_file(target: Path, calls: list[str]) -> None:
    def fill(file: BinaryIO) -> None:
        calls.append("write")
        file.write(b"new")

    write_safely(target, fill, keep_if=always)
    assert calls == ["write", "fsync", "link", "rename to backup", "rename into place", "fsync folder"]


def test_a_copied_backup_is_on_the_disk_before_it_gets_its_name(
    target: Path, calls: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "link", refusing(PermissionError(errno.EPERM, "no links")))
    write_safely(target, b"new", keep_if=always)
    assert calls == ["fsync", "fsync", "rename to backup", "rename into place", "fsync folder"]


@pytest.mark.parametrize(
    ("fault", "code"),
    [
        (FULL_DISK, "disk-full"),
        (OSError(errno.EDQUOT, "quota"), "disk-full"),
        (OSError(errno.EFBIG, "too big"), "disk-full"),
        (PermissionError(errno.EACCES, "denied"), "no-permission"),
        (OSError(errno.EROFS, "read only"), "no-permission"),
        (FileNotFoundError(errno.ENOENT, "gone"), "folder-gone"),
        (OSError(errno.EIO, "the disk is ill"), "disk-refused"),
        (OSError("without a number"), "disk-refused"),
    ],
)
@pytest.mark.parametrize("call", ["open", "fsync", "replace"])
def test_whatever_the_disk_refuses_nothing_changes(
    target: Path, monkeypatch: pytest.MonkeyPatch, call: str, fault: OSError, code: str
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(os, call, refusing(fault))
        with pytest.raises(FileTrouble) as caught:
            write_safely(target, b"new", keep_if=never)
    assert caught.value.code == code
    assert "herons.coverlayout was not saved" in str(caught.value)
    assert (target.read_bytes(), backup_of(target).read_bytes()) == (b"present", b"before")
    assert names(target) == {"herons.coverlayout", "herons.coverlayout.bak"}


def test_a_disk_that_fills_while_writing_leaves_nothing_half_written(target: Path) -> None:
    def fill(file: BinaryIO) -> None:
        file.write(b"half of it")
        file.flush()
        raise FULL_DISK

    with pytest.raises(FileTrouble):
        write_safely(target, fill, keep_if=always)
    assert (target.read_bytes(), backup_of(target).read_bytes()) == (b"present", b"before")
    assert len(names(target)) == 2


def test_a_backup_that_cannot_be_copied_stops_the_save(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "link", refusing(PermissionError(errno.EPERM, "no links")))
    monkeypatch.setattr(writing.shutil, "copyfileobj", refusing(FULL_DISK))
    with pytest.raises(FileTrouble):
        write_safely(target, b"new", keep_if=always)
    assert (target.read_bytes(), backup_of(target).read_bytes()) == (b"present", b"before")
    assert len(names(target)) == 2


def test_an_interruption_leaves_nothing_behind(target: Path) -> None:
    with pytest.raises(KeyboardInterrupt):
        write_safely(target, refusing(KeyboardInterrupt()))  # type: ignore[arg-type]  # any exception will do
    assert (target.read_bytes(), len(names(target))) == (b"present", 2)


def test_a_folder_that_cannot_be_told_to_keep_names_is_no_fault(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fsync = os.fsync

    def files_only(descriptor: int) -> None:
        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            raise OSError(errno.EINVAL, "not for folders")
        fsync(descriptor)

    monkeypatch.setattr(os, "fsync", files_only)
    write_safely(target, b"new")
    assert target.read_bytes() == b"new"


def test_a_folder_whose_names_are_lost_is_one(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fsync = os.fsync

    def files_only(descriptor: int) -> None:
        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            raise OSError(errno.EIO, "ill")
        fsync(descriptor)

    monkeypatch.setattr(os, "fsync", files_only)
    with pytest.raises(FileTrouble):
        write_safely(target, b"new")


def test_permissions_of_the_present_file_are_kept(target: Path) -> None:
    target.chmod(0o604)
    write_safely(target, b"new")
    assert stat.S_IMODE(target.stat().st_mode) == 0o604


def test_a_new_file_gets_the_permissions_of_any_new_file(tmp_path: Path) -> None:
    usual = tmp_path / "usual"
    usual.touch()
    write_safely(tmp_path / "a", b"new")
    assert (tmp_path / "a").stat().st_mode == usual.stat().st_mode


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    away = tmp_path / "away"
    away.mkdir()
    (away / "real.coverlayout").write_bytes(b"present")
    link = tmp_path / "link.coverlayout"
    link.symlink_to(away / "real.coverlayout")
    write_safely(link, b"new", keep_if=always)
    assert link.is_symlink()
    assert (away / "real.coverlayout").read_bytes() == b"new"
    assert (away / "real.coverlayout.bak").read_bytes() == b"present"


def test_a_ring_of_links_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(FileTrouble):
        write_safely(tmp_path / "a", b"new")


def test_a_folder_of_that_name_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    with pytest.raises(FileTrouble, match="a was not saved: a folder has this name"):
        write_safely(tmp_path / "a", b"new")


def test_a_folder_that_is_gone_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileTrouble) as caught:
        write_safely(tmp_path / "gone" / "a", b"new")
    assert str(caught.value) == f"a was not saved: the folder {tmp_path / 'gone'} is not there; choose another folder"


def test_a_file_that_must_not_be_written_is_left(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda path, mode: False)
    with pytest.raises(FileTrouble) as caught:
        write_safely(target, b"new")
    assert caught.value.code == "no-permission"
    assert target.read_bytes() == b"present"


def test_what_a_killed_save_left_is_swept_at_the_next(target: Path) -> None:
    start = writing._stray_start(target)
    stray = target.with_name(f"{start}0123456789abcdef.part")
    others = [
        target.with_name(".coverlayout-0123456789ab-0123456789abcdef.part"),
        target.with_name(f"{start}notes.txt"),
        target.with_name("my.part"),
    ]
    for path in (stray, *others):
        path.write_bytes(b"half")
    write_safely(target, b"new")
    assert not stray.exists()
    assert all(path.exists() for path in others)


def test_what_is_still_being_written_is_not_swept(target: Path) -> None:
    """Two windows may save the same file: the second one waits for nobody and takes nothing away."""

    def fill(file: BinaryIO) -> None:
        write_safely(target, b"inner")
        file.write(b"outer")

    write_safely(target, fill)
    assert target.read_bytes() == b"outer"
    assert len(names(target)) == 2


def test_a_folder_that_may_not_be_listed_can_still_be_written(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Path, "iterdir", refusing(PermissionError(errno.EACCES, "not listed")))
    write_safely(target, b"new")
    assert target.read_bytes() == b"new"


def test_names_as_long_as_names_may_be_are_written(tmp_path: Path) -> None:
    path = tmp_path / ("x" * 251)
    write_safely(path, b"new", keep_if=always)
    write_safely(path, b"newer", keep_if=always)
    assert (path.read_bytes(), backup_of(path).read_bytes()) == (b"newer", b"new")


def test_reading_troubles_are_said_as_such(tmp_path: Path) -> None:
    with (
        pytest.raises(FileTrouble, match="a could not be read: the disk is ill"),
        disk_trouble(tmp_path / "a", reading=True),
    ):
        raise OSError(errno.EIO, "the disk is ill")
