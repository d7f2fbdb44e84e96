"""A file is known again by what it holds, and another program's version is told from it."""

from __future__ import annotations

import os
import random
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from full_project import FULL, PICTURES

from coverlayout.document.file import load, save
from coverlayout.document.storage.pictures import Pictures
from coverlayout.document.storage.stamp import Stamp
from coverlayout.motif.prints import PictureRef


@pytest.fixture
def path(tmp_path: Path) -> Path:
    save(tmp_path / "herons.coverlayout", FULL, PICTURES)
    return tmp_path / "herons.coverlayout"


def stamp_of(path: Path) -> Stamp:
    stamp = Stamp.of(path)
    assert stamp is not None
    return stamp


def test_a_file_left_alone_is_the_same(path: Path) -> None:
    stamp = stamp_of(path)
    assert stamp.size_bytes == path.stat().st_size
    assert stamp.state_of(path) == "same"
    assert stamp.state_of(path, quick=True) == "same"


def test_a_file_touched_or_brought_back_byte_for_byte_is_the_same(path: Path) -> None:
    stamp = stamp_of(path)
    os.utime(path, (1_700_000_000, 1_700_000_000))
    assert stamp.state_of(path, quick=True) == "same"
    shutil.copy(path, path.with_name("other"))
    path.unlink()
    assert stamp.state_of(path) == "gone"
    path.with_name("other").rename(path)
    assert stamp.state_of(path, quick=True) == "same"


def test_another_projects_file_of_the_same_size_is_told(path: Path) -> None:
    stamp = stamp_of(path)
    save(path, replace(FULL, name=FULL.name[::-1]), PICTURES)
    assert stamp.state_of(path) == "changed"
    assert stamp.state_of(path, quick=True) == "changed"


def test_a_change_far_before_the_end_is_told(path: Path) -> None:
    """A picture of 2 MB lies before the end that is looked at; its checksum lies in it."""
    first = random.Random(1).randbytes(2_000_000)
    second = b"\x00" + first[1:]
    for data in (first, second):
        pictures = PICTURES.with_picture(data)
        ref = PictureRef(Pictures.hash_of(data), "png", "large.png", 1000, 1000)
        known = Stamp.of(path) if data is second else None
        save(path, replace(FULL, prints=(replace(FULL.prints[0], picture=ref), *FULL.prints[1:])), pictures)
    assert known is not None
    assert known.size_bytes == path.stat().st_size
    assert known.state_of(path) == "changed"
    assert len(load(path).pictures) >= 1


def test_a_file_that_is_gone_or_shut_is_told(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stamp = stamp_of(path)
    assert Stamp.of(path.parent) is None
    path.rename(path.with_name("away"))
    assert Stamp.of(path) is None
    assert stamp.state_of(path) == "gone"
    assert stamp.state_of(path, quick=True) == "gone"
    path.mkdir()
    assert stamp.state_of(path) == "changed", "something that cannot be read lies there"
