"""Files of the window: new, open, save, what happens to unsaved work, and the recovery copy after each edit."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, QSize, Qt, Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from coverlayout.document.edits.job import name_by_file
from coverlayout.document.file import SUFFIX, Loaded, load, save
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.recovery import Keeper, LeftBehind
from coverlayout.document.session import Pictures, Session
from coverlayout.document.storage.stamp import Stamp
from coverlayout.errors import CoverlayoutError, FileTrouble, sentence
from coverlayout.ui.beside import Beside
from coverlayout.ui.dialogs.banner import Banner
from coverlayout.ui.dialogs.unsaved import ask_unsaved
from coverlayout.ui.files.copies import Copies
from coverlayout.ui.files.recent import RecentProjects
from coverlayout.ui.files.recovering import Recovering
from coverlayout.ui.files.watching import Watching, WaysOn
from coverlayout.ui.seeing.thumbnail import png_of
from coverlayout.ui.throttle import Throttle

__all__ = ["RECENT_PX", "Keeping"]

# An edit is kept within 2 s. The first copy is written at once, the next ones at this distance; what is left of the
# 2 s is for a slow disk, which may still be at the copy before.
_RECOVERY_MS = 500
# The window comes first: after opening, the file's own copy is looked for; after opening and saving, it is remembered.
_OFFER_MS, _DRAW_MS = 200, 1_000
RECENT_PX = QSize(128, 80)
_KINDS = f"Projects (*{SUFFIX})"


class Keeping(QObject):
    """Keeps the session's work safe. `kept` tells that name, path or unsaved state may have changed.

    `replaced` tells that another project took this one's place.
    """

    kept = Signal()
    replaced = Signal()

    def __init__(
        self,
        session: Session,
        banner: Banner,
        window: QWidget,
        keeper: Keeper | None = None,
        recent: RecentProjects | None = None,
    ) -> None:
        super().__init__(window)
        self._session = session
        self._banner = banner
        self._window = window
        self.beside = Beside(self)
        self.recent = recent or RecentProjects()
        ways = WaysOn(
            save_elsewhere=self.ask_where_to_save,
            save_over=lambda path: self.save_to(path, over=True),
            open_theirs=lambda path: self.open_path(path, though_open=True),
        )
        self.watching = Watching(session, banner, self.beside, ways, parent=self)
        self.watching.lost.connect(self.look_at)
        self.copies = Copies(keeper or Keeper(), self)
        self.copies.refused.connect(self._tell_refused, Qt.ConnectionType.QueuedConnection)
        self._recovering = Recovering(banner, self.beside, self._recover, self)
        self._told = False
        self._soon = Throttle(self._keep_copy, _RECOVERY_MS, parent=self)
        self._offer_soon = Throttle(self._offer_own, _OFFER_MS, at_once=False, parent=self)
        self._to_draw: tuple[Path, Project, Pictures] | None = None
        self._draw_soon = Throttle(self._draw, _DRAW_MS, at_once=False, parent=self)

    # What the maker asks for

    def new(self) -> None:
        """Begin an empty project, unless unsaved work is to stay."""
        if self.may_leave():
            self._replace(Loaded(Project(), Pictures()), None, None)

    def ask_to_open(self) -> None:
        """Let the maker choose a project file."""
        name, _ = QFileDialog.getOpenFileName(self._window, "Open a project", self._folder(), _KINDS)
        if name:
            self.open_path(Path(name))

    def open_path(self, path: Path, *, though_open: bool = False) -> None:
        """Open a project in place of this one; trouble is one sentence and changes nothing.

        What another window has open is asked about first, unless `though_open`.
        """
        if not though_open and self.watching.is_elsewhere(path):
            answers = (("Leave it", _nothing), ("Open it all the same", lambda: self.open_path(path, though_open=True)))
            self._banner.say(sentence("file-open-elsewhere", {"file": path.name}), "question", answers)
            return
        if not self.may_leave():
            return
        known = Stamp.of(path)
        found = self._loaded(path)
        if found is None:
            return
        self._replace(found, path, known)
        self._remember(path)
        for note in found.notes:
            self._banner.say(found.project.preferences.length_style.said(note))
        self._offer_soon()

    def open_as_new(self, path: Path) -> None:
        """Open a project as one that has no file yet: a sample that stays as it is."""
        if self.may_leave() and (found := self._loaded(path)) is not None:
            self._replace(found, None, None)

    def _loaded(self, path: Path) -> Loaded | None:
        try:
            return load(path)
        except CoverlayoutError as fault:
            self._banner.say(str(fault), "trouble")
            return None

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

    def save_to(self, path: Path, *, over: bool = False) -> bool:
        """Save to this file; True when it lies there now.

        Another program's version is asked about first, unless it is to be saved `over`.
        """
        if self.watching.is_elsewhere(path) and self.watching.known_at(path) is None:
            self.watching.tell_not_saved(path, FileTrouble("file-taken", file=path.name))
            return False
        naming, project = self._naming(path), self._session.project
        known = None if over else self.watching.known_at(path)
        try:
            save(path, naming.change(project) if naming else project, self._session.pictures, known=known)
        except CoverlayoutError as fault:
            self.watching.tell_not_saved(path, fault)
            return False
        if naming:
            self._session.do(naming)
        self._session.mark_saved(path)
        self.watching.take(path, Stamp.of(path))
        self._told = False
        self._banner.outdate(lasting=True)
        self._drop_copy()
        self._remember(path)
        self.kept.emit()
        return True

    def _naming(self, path: Path) -> Edit | None:
        """A project that was never named takes the name of its first file; None when it has one, or that is no name."""
        project = self._session.project
        if self._session.path is not None or project.name != Project().name:
            return None
        naming = name_by_file(path.name.removesuffix(SUFFIX))
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
        self._offer_soon.cancel()
        self._draw_soon.cancel()
        if self._to_draw is not None:
            path, project, _ = self._to_draw
            self.recent.remember(path, project.name)
        self.copies.end()
        self.beside.end()
        self.watching.leave()

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
        self._recovering.offer(path)

    def _offer_own(self) -> None:
        if self._session.path is not None:
            self.offer_left_behind(self._session.path)

    def _recover(self, copy: LeftBehind, found: Loaded) -> bool:
        """Open work that was left behind in place of this project; True when it is kept anew."""
        if not self.may_leave():
            return False
        known = copy.known or (Stamp.of(copy.path) if copy.path else None)
        self._replace(found, copy.path, known, saved=False)
        self._keep_copy()
        # The copy left behind stays until the work is kept anew.
        self.copies.wait()
        return True

    def _keep_copy(self) -> None:
        if self._session.unsaved:
            path = self._session.path
            known = self.watching.known_at(path) if path else None
            self.copies.keep(self._session.project, self._session.pictures, path, known)

    def _tell_refused(self, sentence: str) -> None:
        """Said once: the disk will refuse the next copies as well."""
        if not self._told:
            self._banner.say(sentence, "trouble", lasting=True)
        self._told = True

    def _drop_copy(self) -> None:
        self._soon.cancel()
        self.copies.discard()

    def _replace(self, found: Loaded, path: Path | None, known: Stamp | None, *, saved: bool = True) -> None:
        self._drop_copy()
        self._session.replace_all(found.project, found.pictures, path, saved=saved)
        self.watching.take(path, known)
        self._banner.outdate(lasting=True)
        self.kept.emit()
        self.replaced.emit()

    # Projects of the last days

    def _remember(self, path: Path) -> None:
        self._to_draw = path, self._session.project, self._session.pictures
        self._draw_soon()

    def _draw(self) -> None:
        """Remember what was opened or saved, with a small picture, once things are quiet."""
        if self._to_draw is None:
            return
        (path, project, pictures), self._to_draw = self._to_draw, None
        theme = self._banner.theme
        self.beside.ask(lambda: self.recent.remember(path, project.name))
        self.beside.ask(lambda: self.recent.keep_picture(path, png_of(project, pictures, RECENT_PX, theme)))

    def _folder(self) -> str:
        return str(self._session.path.parent) if self._session.path else str(Path.home())


def _nothing() -> None:
    """An answer that leaves everything as it is."""


def _file_name(name: str) -> str:
    """A project's name as a file name: nothing that a file system refuses."""
    plain = "".join(letter if letter.isalnum() or letter in " -_()," else " " for letter in name)
    return " ".join(plain.split()) or "Untitled"
