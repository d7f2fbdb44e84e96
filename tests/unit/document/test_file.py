"""The project file as a whole: saved, opened, kept as it was when anything is wrong."""

from __future__ import annotations

import os
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from full_project import FULL, HASH, HERONS, PICTURE, PICTURES

from coverlayout.document import file as file_module
from coverlayout.document.file import backup_of, load, loaded, picture_members, save
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.document.storage.pictures import Pictures
from coverlayout.document.storage.records import project_to_json
from coverlayout.document.storage.stamp import Stamp
from coverlayout.errors import BadInput, FileTrouble

SPOILED_FILES = sorted((Path(__file__).parents[2] / "spoiled").glob("*.coverlayout"))


def test_what_is_saved_is_opened(tmp_path: Path) -> None:
    path = tmp_path / "herons.coverlayout"
    save(path, FULL, PICTURES)
    back = load(path)
    assert (back.project, back.pictures) == (FULL, PICTURES)
    assert [note.text() for note in back.notes] == [
        "herons.coverlayout holds things of a newer version; they are kept and saved again as they are"
    ]


def test_a_bare_project_is_saved_and_opened_without_a_word(tmp_path: Path) -> None:
    save(tmp_path / "bare.coverlayout", Project(), Pictures())
    back = load(tmp_path / "bare.coverlayout")
    assert (back.project, back.pictures, back.notes) == (Project(), Pictures(), ())


def test_the_same_project_gives_the_same_file(tmp_path: Path) -> None:
    save(tmp_path / "a", FULL, PICTURES)
    save(tmp_path / "b", load(tmp_path / "a").project, PICTURES)
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()


def test_only_pictures_that_the_project_speaks_of_are_kept() -> None:
    more = PICTURES.with_picture(b"tried and taken back")
    assert picture_members(FULL, more, project_to_json(FULL)) == {f"pictures/{HASH}.png": PICTURE}
    # A picture named only by something we do not know stays too.
    kept = Pictures.hash_of(b"tried and taken back")
    later = replace(FULL, unknown=(("backdrop", f'"{kept}"'),))
    assert f"pictures/{kept}.bin" in picture_members(later, more, project_to_json(later))


def test_the_last_good_file_stays_beside(tmp_path: Path) -> None:
    path = tmp_path / "herons.coverlayout"
    for name in ("first", "second", "third"):
        save(path, replace(FULL, name=name), PICTURES)
    assert (load(path).project.name, load(backup_of(path)).project.name) == ("third", "second")


@pytest.mark.parametrize("present", [b"", b"no project", b"PK\x03\x04 cut short"])
def test_a_damaged_or_foreign_file_never_becomes_the_backup(tmp_path: Path, present: bytes) -> None:
    path = tmp_path / "herons.coverlayout"
    save(path, replace(FULL, name="first"), PICTURES)
    save(path, replace(FULL, name="second"), PICTURES)
    path.write_bytes(present)
    save(path, replace(FULL, name="third"), PICTURES)
    assert (load(path).project.name, load(backup_of(path)).project.name) == ("third", "first")


def test_a_project_that_could_not_be_opened_again_is_not_saved(tmp_path: Path) -> None:
    path = tmp_path / "herons.coverlayout"
    save(path, FULL, PICTURES)
    whole = path.read_bytes()
    with pytest.raises(BadInput):
        save(path, replace(FULL, layout_id="none"), PICTURES)
    with pytest.raises(BadInput, match=r"the picture herons, ink\.png is not in the project"):
        save(path, FULL, Pictures())
    assert path.read_bytes() == whole
    assert not backup_of(path).exists()


def test_what_cannot_be_is_not_opened() -> None:
    wrong = project_to_json(replace(FULL, layout_id="none"))
    with pytest.raises(BadInput) as caught:
        loaded(wrong, PICTURES, "herons.coverlayout")
    assert str(caught.value) == (
        "herons.coverlayout: the file was not opened, because something in it cannot be: "
        "there is no layout called none in this project"
    )


def test_a_missing_picture_is_named() -> None:
    with pytest.raises(BadInput, match=r"^x: the picture herons, ink\.png is missing from the file"):
        loaded(project_to_json(FULL), Pictures(), "x")


def test_a_print_without_a_picture_needs_none(tmp_path: Path) -> None:
    plain = FULL.with_print(replace(HERONS, picture=None))
    save(tmp_path / "a", plain, Pictures())
    assert load(tmp_path / "a").project == plain


def test_what_is_not_there_or_no_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(FileTrouble, match=r"none\.coverlayout: there is no such file"):
        load(tmp_path / "none.coverlayout")
    with pytest.raises(FileTrouble, match="this is not a plain file"):
        load(tmp_path)
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(FileTrouble, match="this is not a plain file"):
        load(tmp_path / "pipe")


def test_a_file_that_may_not_be_read_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "herons.coverlayout"
    save(path, FULL, PICTURES)

    def refuse(*arguments: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(FileTrouble, match=r"herons\.coverlayout could not be read: Permission denied"):
        load(path)


def test_another_zip_tool_finds_text_and_picture(tmp_path: Path) -> None:
    save(tmp_path / "a", FULL, PICTURES)
    with zipfile.ZipFile(tmp_path / "a") as archive:
        assert archive.read(f"pictures/{HASH}.png") == PICTURE
        assert archive.read("project.json") == project_to_json(FULL)


@pytest.mark.parametrize("path", SPOILED_FILES, ids=lambda path: path.stem)
def test_a_spoiled_file_gives_one_sentence_and_changes_nothing(path: Path) -> None:
    session = Session(FULL, PICTURES, Path("open.coverlayout"))
    before = path.read_bytes()
    with pytest.raises(BadInput) as caught:
        session.replace_all(load(path).project, load(path).pictures, path)
    said = str(caught.value)
    assert path.name in said
    assert "\n" not in said
    assert "Traceback" not in said
    assert (session.project, session.pictures, session.path) == (FULL, PICTURES, Path("open.coverlayout"))
    assert path.read_bytes() == before


def test_the_shelf_of_spoiled_files_is_not_empty() -> None:
    assert len(SPOILED_FILES) >= 12


def test_a_save_over_the_file_that_is_known_goes_through(tmp_path: Path) -> None:
    path = tmp_path / "herons.coverlayout"
    save(path, FULL, PICTURES)
    known = Stamp.of(path)
    save(path, replace(FULL, name="later"), PICTURES, known=known)
    assert load(path).project.name == "later"


def test_another_programs_version_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "herons.coverlayout"
    save(path, FULL, PICTURES)
    known = Stamp.of(path)
    save(path, replace(FULL, name="by another"), PICTURES)
    with pytest.raises(FileTrouble, match=r"herons\.coverlayout was changed by another program") as caught:
        save(path, replace(FULL, name="mine"), PICTURES, known=known)
    assert caught.value.code == "file-changed"
    assert load(path).project.name == "by another"
    save(path, replace(FULL, name="mine"), PICTURES)
    assert load(backup_of(path)).project.name == "by another", "the other version stays as the backup"


def test_a_version_that_comes_while_the_save_is_written_is_seen_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "herons.coverlayout"
    save(path, FULL, PICTURES)
    known = Stamp.of(path)
    written = file_module.write_archive

    def while_another_saves(*given: object) -> None:
        written(*given)  # type: ignore[arg-type]  # passed on as they come
        monkeypatch.undo()
        save(path, replace(FULL, name="by another"), PICTURES)

    monkeypatch.setattr(file_module, "write_archive", while_another_saves)
    with pytest.raises(FileTrouble, match="another program"):
        save(path, replace(FULL, name="mine"), PICTURES, known=known)
    assert load(path).project.name == "by another"
    assert {found.name for found in tmp_path.iterdir()} == {path.name, backup_of(path).name}


def test_a_file_or_folder_that_is_gone_is_said(tmp_path: Path) -> None:
    folder = tmp_path / "stick"
    folder.mkdir()
    path = folder / "herons.coverlayout"
    save(path, FULL, PICTURES)
    known = Stamp.of(path)
    path.unlink()
    with pytest.raises(FileTrouble, match=r"is not in its folder any more; the work is here"):
        save(path, FULL, PICTURES, known=known)
    assert list(folder.iterdir()) == []
    folder.rmdir()
    with pytest.raises(FileTrouble, match=r"the folder .*stick is not there; choose another folder"):
        save(path, FULL, PICTURES, known=known)
    folder.mkdir()
    save(path, FULL, PICTURES)
    assert load(path).project == FULL
