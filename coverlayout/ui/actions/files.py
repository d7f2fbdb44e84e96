"""The actions of the File menu."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from coverlayout.ui.actions.act import Act, Listed

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["file_acts"]

_Key = QKeySequence.StandardKey


def file_acts(window: Window) -> Listed:
    """New, open, save, pictures in, measurements out, quit."""
    keeping, panels = window.keeping, window.panels
    return (
        Act("new", "New", keeping.new, (_Key.New,)),
        Act("open", "Open …", keeping.ask_to_open, (_Key.Open,)),
        None,
        Act("save", "Save", keeping.save, (_Key.Save,)),
        Act("save-as", "Save as …", keeping.ask_where_to_save, (_Key.SaveAs, "Ctrl+Shift+S")),
        None,
        Act("open-picture", "Open a picture …", panels.prints.ask_for_picture, ("Ctrl+I",)),
        Act("export", "Export measurements …", panels.cutting.ask_for_folder, ("Ctrl+E",)),
        None,
        Act("rename", "Rename the project …", window.asides.ask_for_name),
        None,
        Act("quit", "Quit", window.close, (_Key.Quit, "Ctrl+Q")),
    )
