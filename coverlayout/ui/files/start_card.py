"""What an empty window offers to begin with: a picture, a project, the demo, and the projects of the last days."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

import coverlayout
from coverlayout.document.file import SUFFIX
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import sentence
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import button
from coverlayout.ui.files.keeping import RECENT_PX, Keeping
from coverlayout.ui.files.recent import Recent
from coverlayout.ui.files.recovering import told_time
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.theme import CORNER_PX, Theme

__all__ = ["StartCard", "demo_project"]

_WIDTH_PX = 520
_MARGIN_PX = 24
# Room that one project of the last days takes, its gap included.
_ROW_PX = RECENT_PX.height() // 2 + 24
_ICON_PX = QSize(RECENT_PX.width() // 2, RECENT_PX.height() // 2)

# Room for words beside the picture, and what the button of a missing project takes of it.
_WORDS_PX = _WIDTH_PX - 2 * _MARGIN_PX - _ICON_PX.width() - 36
_FORGET_PX = 136


def demo_project() -> Path | None:
    """The sample project that comes with a copy of the program's source, None where it did not come along."""
    samples = Path(coverlayout.__file__).parents[1] / "sample_prints"
    return next(iter(sorted(samples.glob(f"*{SUFFIX}"))), None)


class StartCard(QWidget):
    """Lies over the middle of the canvas while there is nothing on it and no file is open. `came`: it did, or went."""

    came = Signal(bool)

    def __init__(
        self, session: Session, keeping: Keeping, open_picture: Callable[[], None], *, theme: Theme, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self._session, self._keeping, self._theme = session, keeping, theme
        self._over = parent
        self._listed_for = 0
        self._column = column = QVBoxLayout(self)
        column.setContentsMargins(_MARGIN_PX, 20, _MARGIN_PX, 20)
        column.setSpacing(12)
        column.addWidget(label(sentence("start-title", {}), role="title"))
        row = QHBoxLayout()
        row.setSpacing(8)
        self.picture = button("Open a picture …", open_picture, tip=sentence("start-picture", {}), role="first")
        self.project = button("Open a project …", keeping.ask_to_open, tip=sentence("start-project", {}))
        row.addWidget(self.picture)
        row.addWidget(self.project)
        demo = demo_project()
        self.demo: QPushButton | None = None
        if demo is not None:
            self.demo = button("Open the demo", lambda: keeping.open_as_new(demo), tip=sentence("start-demo", {}))
            row.addWidget(self.demo)
        row.addStretch(1)
        column.addLayout(row)
        self._recent_words = label(sentence("start-recent", {}), role="muted")
        column.addWidget(self._recent_words)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(4)
        column.addLayout(self._rows)
        self.hide()

    @property
    def rows(self) -> list[QPushButton]:
        """One button a project of the last days, the newest first."""
        return [each for each in self.findChildren(QPushButton) if each.property("recent")]

    def look(self) -> None:
        """Come while there is nothing to see, go when there is; before the window is shown nothing is decided."""
        if not self._over.isVisible():
            return
        wanted = self._session.path is None and _is_empty(self._session.project)
        self.came.emit(wanted)
        if wanted and self.isHidden():
            self._fill()
            self.fit()
            self.show()
            self.raise_()
        elif not wanted:
            self.hide()

    def _fill(self) -> None:
        """List the projects that there is room for."""
        self._listed_for = self._room()
        while (item := self._rows.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.hide()
                old.setParent(None)
                old.deleteLater()
        recent = self._keeping.recent.all()
        self._recent_words.setVisible(bool(recent))
        for each in recent[: self._listed_for]:
            self._rows.addWidget(self._row(each))

    def _room(self) -> int:
        """How many projects can be listed without the card outgrowing the canvas."""
        return max(min((self._over.height() - 260) // _ROW_PX, 5), 1)

    def _row(self, recent: Recent) -> QWidget:
        """A project with its picture; one that is not where it was can only be taken off the list."""
        there = recent.is_there
        when = told_time(recent.when_s) if there else sentence("recent-missing", {})
        place = f"{_short(recent.path)}, {when}" if there else f"{when}: {_short(recent.path)}"
        cut = Qt.TextElideMode.ElideMiddle if there else Qt.TextElideMode.ElideRight
        room_px = _WORDS_PX if there else _WORDS_PX - _FORGET_PX
        lines = (self.fontMetrics().elidedText(line, cut, room_px) for line in (recent.name, place))
        words = "\n".join(lines).replace("&", "&&")
        made = button(words, lambda: self._keeping.open_path(recent.path), tip=str(recent.path), role="quiet")
        made.setProperty("recent", True)
        made.setAccessibleName(f"{recent.name}, {when}")
        made.setStyleSheet(f"text-align: left; padding: 4px 8px; min-height: {_ICON_PX.height()}px;")

        made.setIconSize(_ICON_PX)
        made.setIcon(QIcon(_picture(self._keeping.recent.picture_of(recent.path), self._theme)))
        made.setEnabled(there)
        if there:
            return made
        both = QWidget()
        row = QHBoxLayout(both)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(made, 1)
        row.addWidget(button("Take off the list", lambda: self._forget(recent), tip=str(recent.path), role="quiet"))
        return both

    def _forget(self, recent: Recent) -> None:
        self._keeping.recent.forget(recent.path)
        self._fill()
        self.fit()

    def fit(self) -> None:
        """In the middle of the canvas, as high as what it holds; a larger canvas has room for more projects."""
        if not self.isHidden() and self._room() != self._listed_for:
            self._fill()
        over, column = self._over, self._column
        column.activate()
        # In a wide font the three buttons need more than is usual.
        width = min(max(_WIDTH_PX, column.totalSizeHint().width()), over.width() - RULER_PX - 16)
        height = max(column.totalHeightForWidth(width), column.totalMinimumSize().height())
        left = RULER_PX + (over.width() - RULER_PX - width) // 2
        self.setGeometry(left, max(RULER_PX + (over.height() - RULER_PX - height) * 2 // 5, RULER_PX), width, height)

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self._theme = theme
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """A quiet field with a fine edge."""
        del event
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(self._theme.color("line", 0.4))
            painter.setBrush(self._theme.color("panel"))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), CORNER_PX, CORNER_PX)


def _is_empty(project: Project) -> bool:
    return not (project.prints or project.cloths or project.books or project.own_pieces)


def _short(path: Path) -> str:
    """A file as it fits on a line: its name and that of its folder."""
    return str(Path(*path.parts[-2:]))


def _picture(path: Path, theme: Theme) -> QPixmap:
    """The small picture of a project, or a bare table of the same size."""
    found = QPixmap(str(path)) if path.is_file() else QPixmap()
    if found.isNull():
        found = QPixmap(_ICON_PX)
        found.fill(theme.color("canvas"))
    found.setDevicePixelRatio(max(found.width() / _ICON_PX.width(), 1.0))
    return found.scaled(_ICON_PX * 2, Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation)
