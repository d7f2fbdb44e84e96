"""The file on the disk while its project is open: whose window it belongs to, and whether it is still what it was."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication, QImage, QPixmap, QWindow

from coverlayout.document.file import load
from coverlayout.document.recovery import difference
from coverlayout.document.session import Session
from coverlayout.document.storage.claims import Claim
from coverlayout.document.storage.stamp import Stamp, State
from coverlayout.errors import CoverlayoutError, FileTrouble, sentence
from coverlayout.ui.beside import Beside
from coverlayout.ui.dialogs.banner import Answers, Banner
from coverlayout.ui.files.recovering import PICTURE_PX
from coverlayout.ui.seeing.thumbnail import small_image

__all__ = ["Watching", "WaysOn"]

_STATES: dict[str, State] = {"file-changed": "changed", "file-gone": "gone"}


@dataclass(frozen=True)
class WaysOn:
    """What a maker can do when the file is not what it was: each asks what else must be asked."""

    save_elsewhere: Callable[[], object]
    save_over: Callable[[Path], object]
    open_theirs: Callable[[Path], object]


class Watching(QObject):
    """Knows the open file as it was last read or saved, and looks again when the maker comes back to the window.

    The disk is asked beside the window, as one that has gone to sleep takes seconds to answer. `lost` tells that the
    file does not hold the project any more.
    """

    lost = Signal()

    def __init__(
        self,
        session: Session,
        banner: Banner,
        beside: Beside,
        ways: WaysOn,
        *,
        parent: QObject,
        claim: Claim | None = None,
    ) -> None:
        super().__init__(parent)
        self._session, self._banner = session, banner
        self._beside, self._ways = beside, ways
        self._claim = claim or Claim()
        self._path: Path | None = None
        self._known: Stamp | None = None
        self._told: State = "same"
        self._looking = False
        application = QGuiApplication.instance()
        if isinstance(application, QGuiApplication):
            application.focusWindowChanged.connect(self._focus_moved)

    def is_elsewhere(self, path: Path) -> bool:
        """True when another window has this file open."""
        return self._claim.is_elsewhere(path)

    def take(self, path: Path | None, known: Stamp | None) -> None:
        """This file is open now, as `known`; None: a project that has no file yet."""
        self._path, self._known, self._told = path, known, "same"
        if path is None:
            self._claim.release()
        else:
            self._claim.take(path)

    def known_at(self, path: Path) -> Stamp | None:
        """What lies at `path` as far as we know, None where it is not the file we have open."""
        return self._known if self._path is not None and path.resolve() == self._path.resolve() else None

    def look(self) -> None:
        """Look whether the file is still what it was."""
        path, known = self._path, self._known
        if path is None or known is None or self._looking:
            return
        self._looking = True

        def looked(state: State) -> None:
            self._looking = False
            if known is self._known:
                self._tell(state)

        self._beside.ask(lambda: known.state_of(path, quick=True), looked)

    def _tell(self, state: State) -> None:
        """Said once for each way it came to be."""
        if state == self._told or self._path is None:
            return
        self._told = state
        path = self._path
        if state == "gone":
            self._lose()
            code = "file-gone" if path.parent.is_dir() else "file-gone-with-folder"
            self.tell_not_saved(path, FileTrouble(code, file=path.name, folder=str(path.parent)))
        elif state == "changed":
            answers = (("Keep mine", self._lose), ("Open theirs", lambda: self._open_theirs(path)))
            self._banner.say(sentence("file-changed-meanwhile", {"file": path.name}), "question", answers)

    def _lose(self) -> None:
        """What is here lies in no file any more."""
        self._session.mark_unsaved()
        self.lost.emit()

    def tell_not_saved(self, path: Path, fault: CoverlayoutError) -> None:
        """Why the project was not saved, and the ways on; the work stays in its recovery copy."""
        elsewhere = ("Save as …", self._save_elsewhere)
        # What was just said of the file is not said again when the maker comes back from a menu or a dialog.
        self._told = _STATES.get(fault.code, self._told)
        if fault.code == "file-changed":
            self._ask_about_other(path, str(fault))
        elif fault.code == "file-gone":
            again = ("Save it there again", lambda: self._save_over(path))
            self._banner.say(str(fault), "question", (elsewhere, again))
        elif isinstance(fault, FileTrouble):
            self._banner.say(str(fault), "trouble", (elsewhere, ("Close", _nothing)))
        else:
            self._banner.say(str(fault), "trouble")

    def _save_elsewhere(self) -> None:
        self._ways.save_elsewhere()

    def _save_over(self, path: Path) -> None:
        self._ways.save_over(path)

    def _open_theirs(self, path: Path) -> None:
        self._ways.open_theirs(path)

    def _ask_about_other(self, path: Path, words: str) -> None:
        """Another program's version lies there: what it holds is shown, and what may become of it asked."""
        answers: Answers = (
            ("Save as …", self._save_elsewhere),
            ("Open theirs", lambda: self._open_theirs(path)),
            ("Save over it", lambda: self._save_over(path)),
        )
        mine, theme, pixel_ratio = self._session.project, self._banner.theme, self._banner.devicePixelRatioF()
        self._banner.say(words, "question", answers)

        def look() -> tuple[str, QImage | None]:
            try:
                found = load(path)
            except CoverlayoutError:
                return sentence("file-other-unreadable", {}), None
            image = small_image(found.project, found.pictures, PICTURE_PX, theme, pixel_ratio)
            return sentence("file-other-kept", {"differs": difference(found.project, mine).text()}), image

        def show(seen: tuple[str, QImage | None]) -> None:
            more, image = seen
            if self._banner.sentence.text() == words:
                picture = QPixmap.fromImage(image) if image is not None else None
                self._banner.say(f"{words}. {more}", "question", answers, picture=picture)

        self._beside.ask(look, show)

    def leave(self) -> None:
        """The window closes: others may have the file."""
        self.take(None, None)

    def _focus_moved(self, to: QWindow | None) -> None:
        if to is not None:
            self.look()


def _nothing() -> None:
    """An answer that leaves everything as it is."""
