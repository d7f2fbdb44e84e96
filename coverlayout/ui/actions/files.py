"""The actions of the File menu."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from coverlayout.errors import sentence
from coverlayout.ui.actions.act import Act, Group, Listed
from coverlayout.ui.files.recent import Recent
from coverlayout.ui.files.recovering import told_time

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["file_acts"]

_Key = QKeySequence.StandardKey


def file_acts(window: Window) -> Listed:
    """New, open, save, pictures in, measurements out, quit."""
    keeping, panels = window.keeping, window.panels
    return (
        Act("new", "New", keeping.new, (_Key.New,), tip="An empty project in place of this one."),
        Act("open", "Open …", keeping.ask_to_open, (_Key.Open,), tip="A project saved before."),
        Group("Open recent", made=lambda: _recent(window)),
        None,
        Act(
            "save", "Save", keeping.save, (_Key.Save,), tip="Into its file; the file as it was before stays beside it."
        ),
        Act(
            "save-as",
            "Save as …",
            keeping.ask_where_to_save,
            (_Key.SaveAs, "Ctrl+Shift+S"),
            tip="Into another file, and go on with that one.",
        ),
        None,
        Act(
            "open-picture",
            "Open a picture …",
            panels.prints.ask_for_picture,
            ("Ctrl+I",),
            tip="The picture of your repeat, as the print of this job.",
        ),
        Act(
            "export",
            "Export measurements …",
            panels.cutting.ask_for_folder,
            ("Ctrl+E",),
            tip="The papers for the bench, into a folder: numbers to mark, a table and a drawing.",
        ),
        None,
        Act(
            "rename",
            "Rename the project …",
            window.asides.ask_for_name,
            tip="The name at the top; the file keeps its own.",
        ),
        None,
        Act("quit", "Quit", window.close, (_Key.Quit, "Ctrl+Q"), tip="Work that is not saved is asked about first."),
    )


def _recent(window: Window) -> Listed:
    """The projects of the last days; those that are not where they were stand there greyed, and can be taken off."""
    recent = window.keeping.recent.all()
    if not recent:
        none = sentence("recent-none", {})
        return (Act("recent-none", "None yet", lambda: None, why_not=lambda: none),)
    gone = [each for each in recent if not each.is_there]
    listed: list[Act | Group | None] = [_open_recent(window, at, each) for at, each in enumerate(recent)]
    if gone:

        def forget() -> None:
            for each in gone:
                window.keeping.recent.forget(each.path)

        listed += [None, Act("recent-forget", "Take those that are missing off the list", forget)]
    return tuple(listed)


def _open_recent(window: Window, at: int, recent: Recent) -> Act:
    folder = str(recent.path.parent)
    missing = sentence("recent-missing-why", {"file": recent.path.name, "folder": folder})
    words = f"{recent.name}    {recent.path.name}, {told_time(recent.when_s)}".replace("&", "&&")
    why_not = "" if recent.is_there else missing

    def opened() -> None:
        window.keeping.open_path(recent.path)

    return Act(f"recent-{at + 1}", words, opened, tip=str(recent.path), why_not=lambda: why_not)
