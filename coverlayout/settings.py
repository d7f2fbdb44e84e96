"""The program's own settings, which belong to no project: where a maker's own table of cuts lies."""

from __future__ import annotations

from pathlib import Path

from platformdirs import user_config_path

from coverlayout.errors import BadInput, FileTrouble

__all__ = ["cut_table_path", "own_cut_table", "settings_folder"]

# A ladder of a thousand cuts is far below this; a larger file is no table of cuts.
_LARGEST_TABLE_BYTES = 1_000_000


def settings_folder() -> Path:
    """The folder for the program's settings, as the operating system wants it; it need not exist."""
    return user_config_path("coverlayout", appauthor=False)


def cut_table_path() -> Path:
    """Where a maker's own `cuts.toml` is looked for."""
    return settings_folder() / "cuts.toml"


def own_cut_table() -> str | None:
    """The text of the maker's own table of cuts, None when there is none.

    FileTrouble when it is there but cannot be read; BadInput when it is no text or far too large to be a table.
    """
    path = cut_table_path()
    try:
        with path.open("rb") as file:
            data = file.read(_LARGEST_TABLE_BYTES + 1)
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as trouble:
        raise FileTrouble("cuts-file-unreadable", path=str(path), why=trouble.strerror or "") from trouble
    if len(data) > _LARGEST_TABLE_BYTES:
        raise BadInput("cuts-file-too-large", path=str(path))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise BadInput("cuts-file-no-text", path=str(path)) from fault
