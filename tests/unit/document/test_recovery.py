"""Copies of unsaved work: kept, found again, told when damaged, taken away."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Literal

import pytest
from full_project import FULL, HASH, PICTURE, PICTURES

from coverlayout.document import recovery
from coverlayout.document.project import CutPiece, Project
from coverlayout.document.recovery import Keeper, difference, discard, left_behind, read, recovery_folder
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import BadInput, FileTrouble
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed

# Keeps a copy and dies without a word, as a killed program does.
DIES = """
import os, sys
from pathlib import Path
from coverlayout.document.project import Project
from coverlayout.document.recovery import Keeper
from coverlayout.document.storage.pictures import Pictures
keeper = Keeper(Path(sys.argv[1]))
keeper.keep(Project(name="last drag"), Pictures(), Path(sys.argv[2]))
os._exit(9)
"""


def crashed(folder: Path, path: Path | None = None, name: str = "last drag") -> Path:
    """A copy as a program that ended badly leaves it: kept, and its lock let go."""
    keeper = Keeper(folder)
    keeper.keep(replace(FULL, name=name), PICTURES, path)
    assert keeper._lock is not None
    keeper._lock.close()
    return keeper._own


def test_the_folder_is_the_users_own(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(recovery.platformdirs, "user_state_path", lambda name: tmp_path / name)
    assert recovery_folder() == tmp_path / "coverlayout" / "recovery"
    assert left_behind() == ()
    keeper = Keeper()
    keeper.keep(FULL, PICTURES, None)
    assert len(list(recovery_folder().iterdir())) == 1
    keeper.discard()


def test_a_killed_programs_last_edit_is_found_again(tmp_path: Path) -> None:
    saved = tmp_path / "herons.coverlayout"
    done = subprocess.run([sys.executable, "-c", DIES, str(tmp_path / "kept"), str(saved)], check=False)
    assert done.returncode == 9
    (copy,) = left_behind(tmp_path / "kept")
    assert (copy.path, copy.name, copy.damaged) == (saved, "last drag", False)
    assert read(copy).project.name == "last drag"


def test_work_and_pictures_come_back_whole(tmp_path: Path) -> None:
    crashed(tmp_path, name=FULL.name)
    (copy,) = left_behind(tmp_path)
    assert copy.path is None
    back = read(copy)
    assert (back.project, back.pictures) == (FULL, PICTURES)


def test_a_copy_that_is_being_worked_on_is_not_offered(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    keeper.keep(FULL, PICTURES, None)
    assert left_behind(tmp_path) == ()
    keeper.discard()
    assert list(tmp_path.iterdir()) == []


def test_copies_are_matched_to_their_file_newest_first(tmp_path: Path) -> None:
    herons, cranes = tmp_path / "herons.coverlayout", tmp_path / "cranes.coverlayout"
    kept = tmp_path / "kept"
    for age, (path, name) in enumerate([(herons, "new"), (cranes, "other"), (herons, "old"), (None, "never saved")]):
        own = crashed(kept, path, name)
        os.utime(own / "project.json", (1_700_000_000 - age, 1_700_000_000 - age))
    assert [copy.name for copy in left_behind(kept)] == ["new", "other", "old", "never saved"]
    assert [copy.name for copy in left_behind(kept, herons)] == ["new", "old"]
    assert [copy.name for copy in left_behind(kept, tmp_path / "kept" / ".." / "cranes.coverlayout")] == ["other"]


def test_a_discarded_copy_is_gone(tmp_path: Path) -> None:
    crashed(tmp_path)
    discard(left_behind(tmp_path)[0])
    assert left_behind(tmp_path) == ()
    assert list(tmp_path.iterdir()) == []


def test_only_what_changed_is_written(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    keeper.keep(FULL, PICTURES, None)
    picture = keeper._own / "pictures" / f"{HASH}.png"
    text = keeper._own / "project.json"
    before = (picture.stat().st_ino, text.stat().st_ino)
    keeper.keep(FULL, PICTURES, None)
    assert (picture.stat().st_ino, text.stat().st_ino) == before
    keeper.keep(replace(FULL, name="after a drag"), PICTURES, None)
    assert picture.stat().st_ino == before[0]
    assert text.stat().st_ino != before[1]
    keeper.discard()
    keeper.keep(FULL, PICTURES, None)
    assert text.exists()
    keeper.discard()
    keeper.discard()


def damage_text(own: Path) -> None:
    (own / "project.json").write_bytes(b'{"format": 1, "cloths": [{"id"')


def damage_picture(own: Path) -> None:
    (own / "pictures" / f"{HASH}.png").write_bytes(PICTURE[:-1])


def lose_picture(own: Path) -> None:
    (own / "pictures" / f"{HASH}.png").unlink()


@pytest.mark.parametrize("damage", [damage_text, damage_picture, lose_picture])
def test_a_damaged_copy_is_told_in_one_sentence(tmp_path: Path, damage: object) -> None:
    damage(crashed(tmp_path))  # type: ignore[operator]  # each is one of the functions above
    (copy,) = left_behind(tmp_path)
    assert (copy.damaged, copy.name) == (True, "last drag")
    with pytest.raises(BadInput) as caught:
        read(copy)
    assert str(caught.value) == (
        "the recovery copy of last drag is damaged and cannot be opened; the last saved file is as it was"
    )


def test_a_copy_that_lost_its_folder_of_pictures_is_told_too(tmp_path: Path) -> None:
    own = crashed(tmp_path)
    (own / "pictures" / f"{HASH}.png").unlink()
    (own / "pictures").rmdir()
    (copy,) = left_behind(tmp_path)
    assert copy.damaged
    with pytest.raises(FileTrouble):
        read(copy)


@pytest.mark.parametrize("about", [b"", b"{", b"\xff", b'{"path": 3, "name": ""}'])
def test_a_copy_whose_label_is_damaged_is_still_offered(tmp_path: Path, about: bytes) -> None:
    (crashed(tmp_path) / "about.json").write_bytes(about)
    (copy,) = left_behind(tmp_path)
    assert (copy.path, copy.name, copy.damaged) == (None, "", False)
    assert read(copy).project.name == "last drag"


def test_a_copy_that_never_became_whole_is_cleared_away(tmp_path: Path) -> None:
    (tmp_path / "0123" / "pictures").mkdir(parents=True)
    (tmp_path / "no folder").write_bytes(b"")
    assert left_behind(tmp_path) == ()
    assert [path.name for path in tmp_path.iterdir()] == ["no folder"]


def test_a_lock_that_cannot_be_asked_counts_as_held(tmp_path: Path) -> None:
    own = crashed(tmp_path)
    (own / "open").unlink()
    (own / "open").mkdir()
    assert left_behind(tmp_path) == ()


def test_a_full_disk_is_told_and_the_copy_before_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keeper = Keeper(tmp_path)
    keeper.keep(FULL, PICTURES, None)

    def refuse(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, "no room")

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", refuse)
        with pytest.raises(FileTrouble, match="the recovery copy could not be written, so save soon"):
            keeper.keep(replace(FULL, name="later"), PICTURES, None)
    assert b"Six ledgers" in (keeper._own / "project.json").read_bytes()
    keeper.keep(replace(FULL, name="later"), PICTURES, None)
    assert b"later" in (keeper._own / "project.json").read_bytes()
    keeper.discard()


def test_a_place_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(FileTrouble, match="the recovery copy could not be written"):
        Keeper(tmp_path / "file").keep(FULL, PICTURES, None)


def test_pictures_that_are_not_there_are_told(tmp_path: Path) -> None:
    with pytest.raises(BadInput):
        Keeper(tmp_path).keep(FULL, Pictures(), None)


@pytest.mark.parametrize(
    ("laid", "words"),
    [(0, "It holds nothing laid yet."), (1, "One piece is laid in it."), (3, "3 pieces are laid in it.")],
)
def test_work_never_saved_is_told_by_what_is_laid(laid: int, words: str) -> None:
    places = tuple(Placed(f"front-{k}", "cloth-1", 10.0 * k, 0.0) for k in range(laid))
    assert difference(None, replace(FULL, layouts=(replace(FULL.layout, placements=places),))).text() == words


def test_work_newer_than_its_file_is_told_by_the_pieces_that_lie_elsewhere() -> None:
    first, second, third = (Placed(f"front-{k}", "cloth-1", 10.0 * k, 5.0) for k in (1, 2, 3))

    def laid(*places: Placed) -> Project:
        return replace(FULL, layouts=(replace(FULL.layout, placements=places),))

    moved = replace(second, x_mm=21.0)
    assert difference(laid(first, second), laid(first, moved)).text() == (
        "One piece lies elsewhere than in the saved file."
    )
    assert difference(laid(first, second), laid(moved, third)).text() == (
        "3 pieces lie elsewhere than in the saved file."
    )
    named = replace(laid(first), name="Tides")
    assert difference(laid(first), named).code == "recovery-other"
    back = replace(laid(first), preferences=replace(FULL.preferences, side="print"))
    assert difference(laid(first), back).text() == "It is the same as the saved file."


def test_a_copy_whose_taking_away_was_cut_short_is_no_damaged_copy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    crashed(tmp_path, name="given up")
    keeper = Keeper(tmp_path)
    keeper.keep(FULL, PICTURES, None)
    with monkeypatch.context() as patch:
        patch.setattr(recovery.shutil, "rmtree", lambda folder, **how: None)
        discard(left_behind(tmp_path)[0])
        keeper.discard()
    assert [(own / "pictures").is_dir() for own in tmp_path.iterdir()] == [True, True]
    assert left_behind(tmp_path) == ()
    assert list(tmp_path.iterdir()) == [], "what is left of them is cleared away"


def test_what_was_cut_or_spoiled_since_is_told_as_that_and_not_as_moved() -> None:
    first, second, third = (Placed(f"front-{k}", "cloth-1", 10.0 * k, 5.0) for k in (1, 2, 3))

    def fact(place: Placed, state: Literal["cut", "spoiled"]) -> CutPiece:
        return CutPiece(place.piece, "Front cover", state, rectangle(30.0, 40.0), (15.0, 20.0), place)

    def with_facts(places: tuple[Placed, ...], *facts: CutPiece) -> Project:
        return replace(FULL, layouts=(replace(FULL.layout, placements=places),), cut_pieces=facts)

    saved = with_facts((first, second, third))
    kept = with_facts((replace(third, x_mm=99.0),), fact(first, "cut"), fact(second, "spoiled"))
    assert difference(saved, kept).text() == "Pieces since the saved file: 1 cut, 1 spoiled, 1 laid elsewhere."
    one = with_facts((second, third), fact(first, "cut"))
    assert difference(saved, one).text() == "Pieces since the saved file: 1 cut."
    assert difference(one, saved).text() == "Pieces since the saved file: 1 no longer marked."
    turned_bad = with_facts((second, third), fact(first, "spoiled"))
    assert difference(one, turned_bad).text() == "Pieces since the saved file: 1 spoiled."
