"""Files of the window: new, open, save, what happens to unsaved work, and the recovery copy after each edit."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QDateTime, QLocale, QObject, Qt, Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from coverlayout.document.edits.job import rename_project
from coverlayout.document.file import SUFFIX, load, save
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.recovery import Keeper, LeftBehind, discard, left_behind, read
from coverlayout.document.session import Pictures, Session
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.ui.dialogs.banner import Banner
from coverlayout.ui.dialogs.unsaved import ask_unsaved
from coverlayout.ui.files.copies import Copies
from coverlayout.ui.throttle import Throttle

__all__ = ["Keeping"]

# The design allows 2 s after an edit; the first copy is written at once, the next ones at this distance.
_RECOVERY_MS = 1_500
_KINDS = f"Projects (*{SUFFIX})"


class Keeping(QObject):
    """Keeps the session's work safe. `kept` tells that name, path or unsaved state may have changed.

    `replaced` tells that another project took this one's place.
    """

    kept = Signal()
    replaced = Signal()

    def __init__(self, session: Session, banner: Banner, window: QWidget, keeper: Keeper | None = None) -> None:
        super().__init__(window)
        self._session = session
        self._banner = banner
        self._window = window
        self.copies = Copies(keeper or Keeper(), self)
        self.copies.refused.connect(self._tell_refused, Qt.ConnectionType.QueuedConnection)
        self._told = False
        self._soon = Throttle(self._keep_copy, _RECOVERY_MS, parent=self)

    # What the maker asks for

    def new(self) -> None:
        """Begin an empty project, unless unsaved work is to stay."""
        if self.may_leave():
            self._replace(Project(), Pictures(), None)

    def ask_to_open(self) -> None:
        """Let the maker choose a project file."""
        name, _ = QFileDialog.getOpenFileName(self._window, "Open a project", self._folder(), _KINDS)
        if name:
            self.open_path(Path(name))

    def open_path(self, path: Path) -> None:
        """Open a project in place of this one; trouble is one sentence and changes nothing."""
        if not self.may_leave():
            return
        try:
            found = load(path)
        except CoverlayoutError as fault:
            self._banner.say(str(fault), "trouble")
            return
        self._replace(found.project, found.pictures, path)
        for note in found.notes:
            self._banner.say(found.project.preferences.length_style.said(note))
        self.offer_left_behind(path)

    def save(self) -> bool:
        """Save to the project's file, or ask for one; True when it lies there now."""
        path = self._session.path
        return self.ask_where_to_save() if path is None else self.save_to(path)

    def ask_where_to_save(self) -> bool:
        """Let the maker choose where to save; True when it was saved."""
        start = self._session.path or Path(self._folder()) / f"{_file_name(self._session.project.name)}{SUFFIX}"
        name, _ = QFileDialog.getSaveFileName(self._window, "Save the project", str(start), _KINDS)
        if not name:
            return False
        path = Path(name)
        return self.save_to(path if path.suffix == SUFFIX else path.with_name(path.name + SUFFIX))

    def save_to(self, path: Path) -> bool:
        """Save to this file; True when it lies there now."""
        naming = self._naming(path)
        project = self._session.project
        try:
            save(path, naming.change(project) if naming else project, self._session.pictures)
        except CoverlayoutError as fault:
            self._banner.say(str(fault), "trouble")
            return False
        if naming:
            self._session.do(naming)
        self._session.mark_saved(path)
        self._told = False
        self._banner.outdate(lasting=True)
        self._drop_copy()
        self.kept.emit()
        return True

    def _naming(self, path: Path) -> Edit | None:
        """A project that was never named takes the name of its first file; None when it has one, or that is no name."""
        project = self._session.project
        if self._session.path is not None or project.name != Project().name:
            return None
        naming = rename_project(path.name.removesuffix(SUFFIX))
        try:
            naming.change(project)
        except CoverlayoutError:
            return None
        return naming

    def may_leave(self) -> bool:
        """True when nothing would be lost, after asking once where something would."""
        if not self._session.unsaved:
            return True
        decision = ask_unsaved(self._window, self._session.project.name)
        if decision == "save":
            return self.save()
        return decision == "drop"

    def leave(self) -> None:
        """The window closes well: no copy is left behind."""
        self._soon.cancel()
        self.copies.end()

    # The recovery copy

    def look_at(self) -> None:
        """The project changed."""
        if self._session.unsaved:
            self._soon()
        else:
            self._drop_copy()
        self.kept.emit()

    def offer_left_behind(self, path: Path | None = None) -> None:
        """Offer work that an ended program left behind: that of this file, or any."""
        copies = left_behind(path=path)
        if copies:
            self._offer(copies[0])

    def _offer(self, copy: LeftBehind) -> None:
        if copy.damaged:
            damaged = Remark.of("recovery-copy-damaged", name=copy.name or "?").text()
            self._banner.say(damaged, "trouble", (("Remove it", lambda: discard(copy)), ("Keep it", _nothing)))
            return
        answers: tuple[tuple[str, Callable[[], None]], ...] = (
            ("Open it", lambda: self._recover(copy)),
            ("Later", _nothing),
            ("Throw it away …", lambda: self._ask_to_throw_away(copy)),
        )
        self._banner.say(_told_of("recovery-offer" if copy.path else "recovery-offer-new", copy), "question", answers)

    def _ask_to_throw_away(self, copy: LeftBehind) -> None:
        """Asked once more, with the safe answer where the hand already is."""
        answers = (("Throw it away", lambda: discard(copy)), ("Keep it", lambda: self._offer(copy)))
        self._banner.say(_told_of("recovery-throw-away", copy), "question", answers)

    def _recover(self, copy: LeftBehind) -> None:
        if not self.may_leave():
            return
        try:
            found = read(copy)
        except CoverlayoutError as fault:
            self._banner.say(str(fault), "trouble")
            return
        self._replace(found.project, found.pictures, copy.path, saved=False)
        self._keep_copy()
        # The copy left behind stays until the work is kept anew.
        self.copies.wait()
        discard(copy)

    def _keep_copy(self) -> None:
        if self._session.unsaved:
            self.copies.keep(self._session.project, self._session.pictures, self._session.path)

    def _tell_refused(self, sentence: str) -> None:
        """Said once: the disk will refuse the next copies as well."""
        if not self._told:
            self._banner.say(sentence, "trouble", lasting=True)
        self._told = True

    def _drop_copy(self) -> None:
        self._soon.cancel()
        self.copies.discard()

    def _replace(self, project: Project, pictures: Pictures, path: Path | None, *, saved: bool = True) -> None:
        self._drop_copy()
        self._session.replace_all(project, pictures, path, saved=saved)
        self._banner.outdate(lasting=True)
        self.kept.emit()
        self.replaced.emit()

    def _folder(self) -> str:
        return str(self._session.path.parent) if self._session.path else str(Path.home())


def _told_of(code: str, copy: LeftBehind) -> str:
    """A sentence about a copy: what it is called, its file, and when it was kept, in English like the sentence."""
    kept = QDateTime.fromSecsSinceEpoch(int(copy.when_s))
    when = QLocale(QLocale.Language.English).toString(kept, "d MMMM 'at' HH:mm")
    file = copy.path.name if copy.path else ""
    return Remark.of(code, name=copy.name or Project().name, file=file, when=when).text()


def _nothing() -> None:
    """An answer that leaves everything as it is."""


def _file_name(name: str) -> str:
    """A project's name as a file name: nothing that a file system refuses."""
    plain = "".join(letter if letter.isalnum() or letter in " -_()," else " " for letter in name)
    return " ".join(plain.split()) or "Untitled"
