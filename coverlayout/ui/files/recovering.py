"""Work that a program which ended badly left behind: shown with its picture, opened again, put off, thrown away."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QDateTime, QLocale, QObject, QSize
from PySide6.QtGui import QImage, QPixmap

from coverlayout.document.file import Loaded, load
from coverlayout.document.project import Project
from coverlayout.document.recovery import LeftBehind, difference, discard, left_behind, read
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.ui.beside import Beside
from coverlayout.ui.dialogs.banner import Answers, Banner
from coverlayout.ui.seeing.thumbnail import small_image
from coverlayout.ui.theme import Theme

__all__ = ["PICTURE_PX", "Recovering", "told_time"]

PICTURE_PX = QSize(168, 105)


@dataclass(frozen=True)
class _Offer:
    """A copy, what it has more than its file, and its picture; neither for a damaged one."""

    copy: LeftBehind
    differs: str = ""
    image: QImage | None = None


class Recovering(QObject):
    """Offers the copies left behind, newest first, one after the other.

    `take` opens one in place of the present project and answers whether it did.
    """

    def __init__(
        self, banner: Banner, beside: Beside, take: Callable[[LeftBehind, Loaded], bool], parent: QObject
    ) -> None:
        super().__init__(parent)
        self._banner = banner
        self._beside = beside
        self._take = take

    def offer(self, path: Path | None = None) -> None:
        """Look for work left behind, that of this file or any, and offer it; found and drawn beside the window."""
        theme, pixel_ratio = self._banner.theme, self._banner.devicePixelRatioF()
        self._beside.ask(
            lambda: [_looked_at(copy, theme, pixel_ratio) for copy in left_behind(path=path)],
            lambda offers: self._offer(offers, 0),
        )

    def _offer(self, offers: list[_Offer], at: int) -> None:
        """Offer the copy at this place of the list; nothing after the last."""
        if at >= len(offers):
            return
        copy = offers[at].copy

        def on() -> None:
            self._offer(offers, at + 1)

        if copy.damaged:
            damaged = Remark.of("recovery-copy-damaged", name=copy.name or "?").text()
            answers: Answers = (("Keep it", on), ("Remove it …", lambda: self._ask_to_discard(offers, at)))
            self._banner.say(_numbered(damaged, at, len(offers)), "question", answers)
            return
        answers = (
            ("Open it", lambda: self._open(copy, on)),
            ("Later", on),
            ("Throw it away …", lambda: self._ask_to_discard(offers, at)),
        )
        words = _told_of("recovery-offer" if copy.path else "recovery-offer-new", copy)
        words = _numbered(f"{words} {offers[at].differs}", at, len(offers))
        self._banner.say(words, "question", answers, picture=_pixmap(offers[at].image))

    def _ask_to_discard(self, offers: list[_Offer], at: int) -> None:
        """Asked once more, with the safe answer where the hand already is."""
        copy = offers[at].copy

        def gone() -> None:
            discard(copy)
            self._offer(offers, at + 1)

        answers = (("Throw it away", gone), ("Keep it", lambda: self._offer(offers, at)))
        words, picture = _told_of("recovery-throw-away", copy), _pixmap(offers[at].image)
        self._banner.say(words, "question", answers, picture=picture)

    def _open(self, copy: LeftBehind, on: Callable[[], None]) -> None:
        """Open it; what cannot be read after all is said and stays where it is."""
        try:
            found = read(copy)
        except CoverlayoutError as fault:
            self._banner.say(str(fault), "trouble")
            return
        if self._take(copy, found):
            discard(copy)
            on()


def _looked_at(copy: LeftBehind, theme: Theme, pixel_ratio: float) -> _Offer:
    """The copy with all that its offer shows; it may have become damaged, or gone, since it was found."""
    if copy.damaged:
        return _Offer(copy)
    try:
        found = read(copy)
    except CoverlayoutError:
        return _Offer(LeftBehind(copy.folder, copy.path, copy.name, copy.when_s, damaged=True))
    image = small_image(found.project, found.pictures, PICTURE_PX, theme, pixel_ratio)
    return _Offer(copy, difference(_saved(copy), found.project).text(), image)


def _saved(copy: LeftBehind) -> Project | None:
    """The project in the file that a copy belongs to, None where there is none to be read."""
    if copy.path is None:
        return None
    try:
        return load(copy.path).project
    except CoverlayoutError:
        return None


def _pixmap(image: QImage | None) -> QPixmap | None:
    return QPixmap.fromImage(image) if image is not None else None


def _numbered(words: str, at: int, count: int) -> str:
    return Remark.of("recovery-count", words=words, number=at + 1, count=count).text() if count > 1 else words


def _told_of(code: str, copy: LeftBehind) -> str:
    """A sentence about a copy: what it is called, its file, and when it was kept."""
    file = copy.path.name if copy.path else ""
    return Remark.of(code, name=copy.name or Project().name, file=file, when=told_time(copy.when_s)).text()


def told_time(when_s: float) -> str:
    """A moment in words, in English like the sentences; `when_s` in seconds since 1970."""
    moment = QDateTime.fromSecsSinceEpoch(int(when_s))
    return QLocale(QLocale.Language.English).toString(moment, "d MMMM 'at' HH:mm")
