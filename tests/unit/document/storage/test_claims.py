"""One claim a file: held against other processes, gone with its own, and no hindrance where locks are not to be had."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import BinaryIO

import pytest

from coverlayout.document.storage import claims
from coverlayout.document.storage.claims import Claim, claims_folder

# Claims a file, says so, and waits to be killed.
HOLDING = """
import sys, time
from pathlib import Path
from coverlayout.document.storage.claims import Claim
claim = Claim(Path(sys.argv[1]))
print(claim.take(Path(sys.argv[2])), flush=True)
time.sleep(60)
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "ledgers.coverlayout"
    path.write_bytes(b"a project")
    return path


def test_the_folder_is_the_users_own(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, file: Path) -> None:
    monkeypatch.setattr(claims.platformdirs, "user_state_path", lambda name: tmp_path / name)
    assert claims_folder() == tmp_path / "coverlayout" / "open"
    claim = Claim()
    assert claim.take(file)
    assert len(list(claims_folder().iterdir())) == 1
    claim.release()
    assert list(claims_folder().iterdir()) == []


def test_a_second_claim_on_the_same_file_is_told(tmp_path: Path, file: Path) -> None:
    mine, other = Claim(tmp_path / "open"), Claim(tmp_path / "open")
    assert not mine.is_elsewhere(file)
    assert mine.take(file)
    assert mine.take(file), "what is ours stays ours"
    assert not mine.is_elsewhere(file)
    assert other.is_elsewhere(file)
    assert not other.take(file)
    mine.release()
    assert not other.is_elsewhere(file)
    assert other.take(file)
    other.release()


def test_every_way_to_a_file_leads_to_one_claim(tmp_path: Path, file: Path) -> None:
    link = tmp_path / "link.coverlayout"
    link.symlink_to(file)
    mine, other = Claim(tmp_path / "open"), Claim(tmp_path / "open")
    mine.take(link)
    assert other.is_elsewhere(file)
    assert other.is_elsewhere(tmp_path / "open" / ".." / file.name)
    assert not mine.is_elsewhere(file)
    assert not other.is_elsewhere(tmp_path / "other.coverlayout")
    mine.release()


def test_a_new_claim_lets_the_old_one_go(tmp_path: Path, file: Path) -> None:
    mine, other = Claim(tmp_path / "open"), Claim(tmp_path / "open")
    mine.take(file)
    assert mine.take(tmp_path / "second.coverlayout")
    assert not other.is_elsewhere(file)
    assert other.take(file)
    assert not mine.take(file)
    assert not other.is_elsewhere(tmp_path / "second.coverlayout"), "the file before is let go even so"
    other.release()
    mine.release()
    mine.release()


def test_a_claim_ends_with_its_process(tmp_path: Path, file: Path) -> None:
    command = [sys.executable, "-c", HOLDING, str(tmp_path / "open"), str(file)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stdout.readline().strip() == "True"
        claim = Claim(tmp_path / "open")
        assert claim.is_elsewhere(file)
        process.send_signal(signal.SIGKILL)
    assert len(list((tmp_path / "open").iterdir())) == 1, "the file of the claim is still there"
    assert not claim.is_elsewhere(file)
    assert claim.take(file)
    claim.release()


def test_a_folder_that_cannot_be_made_hinders_nobody(tmp_path: Path, file: Path) -> None:
    claim = Claim(file / "open")
    assert not claim.is_elsewhere(file)
    assert claim.take(file)
    claim.release()


def test_a_disk_that_knows_no_locks_hinders_nobody(tmp_path: Path, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(file: BinaryIO) -> None:
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    monkeypatch.setattr(claims, "hold", refuse)
    claim = Claim(tmp_path / "open")
    assert not claim.is_elsewhere(file)
    assert claim.take(file)
    claim.release()


def test_a_ring_of_links_is_a_path_like_any_other(tmp_path: Path) -> None:
    ring = tmp_path / "ring.coverlayout"
    ring.symlink_to(ring)
    claim = Claim(tmp_path / "open")
    assert claim.take(ring)
    assert Claim(tmp_path / "open").is_elsewhere(ring)
    claim.release()


def test_a_claim_taken_away_before_it_was_locked_is_laid_anew(
    tmp_path: Path, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another window lets go between the opening of the claim's file and its lock."""
    held = claims.hold
    times: list[int] = []

    def late(lock: BinaryIO) -> None:
        if not times:
            Path(lock.name).unlink()
        times.append(1)
        held(lock)

    monkeypatch.setattr(claims, "hold", late)
    claim = Claim(tmp_path / "open")
    assert claim.take(file)
    assert len(times) == 2
    monkeypatch.undo()
    assert Claim(tmp_path / "open").is_elsewhere(file)
    claim.release()
