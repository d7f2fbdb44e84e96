"""Where the maker's own table of cuts is looked for, and what is said when it cannot be read."""

from pathlib import Path

import pytest

from coverlayout.errors import BadInput, FileTrouble
from coverlayout.settings import cut_table_path, own_cut_table, settings_folder


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    settings_folder().mkdir()
    return settings_folder()


def test_the_folder_is_ours_in_the_persons_settings(folder: Path, tmp_path: Path) -> None:
    assert folder == tmp_path / "coverlayout"
    assert cut_table_path() == folder / "cuts.toml"


def test_no_table_is_none(folder: Path) -> None:
    assert own_cut_table() is None
    folder.rmdir()
    folder.write_text("a file in the folder's place")
    assert own_cut_table() is None


def test_the_text_is_read_with_or_without_a_byte_order_mark() -> None:
    cut_table_path().write_bytes("\ufeffcut = []".encode())
    assert own_cut_table() == "cut = []"


def test_what_cannot_be_a_table_is_one_sentence() -> None:
    cut_table_path().write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BadInput, match="not a text file in UTF-8"):
        own_cut_table()
    cut_table_path().write_bytes(b"#" * 1_000_001)
    with pytest.raises(BadInput, match="far larger than a table of cuts"):
        own_cut_table()


def test_a_table_that_cannot_be_opened_is_trouble_with_the_disk() -> None:
    cut_table_path().mkdir()
    with pytest.raises(FileTrouble, match="cannot be read"):
        own_cut_table()
