"""Projects of the last days: newest first, ten at most, whatever the file on the disk holds."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from coverlayout.ui.files import recent as recent_module
from coverlayout.ui.files.recent import MOST_RECENT, Recent, RecentProjects


@pytest.fixture
def recent(tmp_path: Path) -> RecentProjects:
    return RecentProjects(tmp_path / "settings", tmp_path / "pictures")


def names(recent: RecentProjects) -> list[str]:
    return [each.name for each in recent.all()]


def test_the_newest_comes_first_and_none_twice(recent: RecentProjects, tmp_path: Path) -> None:
    assert recent.all() == ()
    for name in ("tides", "herons", "tides"):
        recent.remember(tmp_path / f"{name}.coverlayout", name)
    assert names(recent) == ["tides", "herons"]
    assert recent.all()[0].path == tmp_path / "tides.coverlayout"
    assert recent.all()[0].when_s > 1_700_000_000
    assert names(RecentProjects(tmp_path / "settings")) == ["tides", "herons"], "another window sees the same"


def test_ten_are_kept_and_the_pictures_of_older_ones_go(recent: RecentProjects, tmp_path: Path) -> None:
    for number in range(MOST_RECENT + 2):
        path = tmp_path / f"{number}.coverlayout"
        recent.remember(path, str(number))
        recent.keep_picture(path, b"a picture")
    assert names(recent) == [str(number) for number in range(MOST_RECENT + 1, 1, -1)]
    assert not recent.picture_of(tmp_path / "0.coverlayout").exists()
    assert recent.picture_of(tmp_path / "11.coverlayout").read_bytes() == b"a picture"
    assert len(list((tmp_path / "pictures").iterdir())) == MOST_RECENT


def test_a_path_is_kept_as_the_maker_gave_it(
    recent: RecentProjects, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "real.coverlayout").write_bytes(b"")
    (tmp_path / "link.coverlayout").symlink_to(tmp_path / "real.coverlayout")
    recent.remember(tmp_path / "link.coverlayout", "by its link")
    monkeypatch.chdir(tmp_path)
    recent.remember(Path("folder/../link.coverlayout"), "by a way round")
    assert [(each.path, each.name) for each in recent.all()] == [(tmp_path / "link.coverlayout", "by a way round")]


def test_a_missing_project_is_known_and_can_be_forgotten(recent: RecentProjects, tmp_path: Path) -> None:
    (tmp_path / "there.coverlayout").write_bytes(b"")
    for name in ("there", "gone"):
        recent.remember(tmp_path / f"{name}.coverlayout", name)
    assert [(each.name, each.is_there) for each in recent.all()] == [("gone", False), ("there", True)]
    recent.forget(tmp_path / "gone.coverlayout")
    assert names(recent) == ["there"]
    assert not Recent(tmp_path / "there.coverlayout" / "inside", "", 0.0).is_there


@pytest.mark.parametrize(
    "held",
    [
        b"",
        b"{",
        b"\xff\xfe",
        b'{"path": "/a", "name": "a", "when_s": 1}',
        b"[" * 100_000,
        json.dumps(
            [None, {}, {"path": 3, "name": "a", "when_s": 1}, {"path": "/a", "name": None, "when_s": 1}]
        ).encode(),
        json.dumps([{"path": "not/from/the/root", "name": "a", "when_s": 1}]).encode(),
        json.dumps([{"path": "/a\0b", "name": "a", "when_s": 1}]).encode(),
        b'[{"path": "/a", "name": "a", "when_s": NaN}, {"path": "/a", "name": "a", "when_s": 1e30}]',
    ],
)
def test_a_spoiled_list_is_done_without(recent: RecentProjects, tmp_path: Path, held: bytes) -> None:
    (tmp_path / "settings").mkdir()
    (tmp_path / "settings" / "recent.json").write_bytes(held)
    assert recent.all() == ()
    recent.remember(tmp_path / "tides.coverlayout", "tides")
    assert names(recent) == ["tides"]


def test_a_folder_that_cannot_be_written_is_done_without(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    recent = RecentProjects(tmp_path / "file" / "settings", tmp_path / "file" / "pictures")
    recent.remember(tmp_path / "tides.coverlayout", "tides")
    recent.keep_picture(tmp_path / "tides.coverlayout", b"a picture")
    assert recent.all() == ()


def test_the_folders_are_the_users_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(recent_module, "settings_folder", lambda: tmp_path / "settings")
    monkeypatch.setattr(recent_module.platformdirs, "user_cache_path", lambda *words, **more: tmp_path / "cache")
    recent = RecentProjects()
    recent.remember(tmp_path / "tides.coverlayout", "tides")
    recent.keep_picture(tmp_path / "tides.coverlayout", b"a picture")
    assert (tmp_path / "settings" / "recent.json").is_file()
    assert len(list((tmp_path / "cache" / "recent").iterdir())) == 1
