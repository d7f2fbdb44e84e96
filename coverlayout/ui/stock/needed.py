"""How many sheets of each material are needed, each drawn; what has no stock yet, and how to say what it comes as."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from coverlayout.document.project import Preferences, Project
from coverlayout.errors import Remark, sentence
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import button
from coverlayout.ui.stock.asking import StockAsking
from coverlayout.ui.stock.drawing import SheetsDrawing
from coverlayout.ui.stock.words import material_words, price_words, sentences_of

if TYPE_CHECKING:
    from coverlayout.document.stocking.on_stock import OnStock

__all__ = ["MaterialPart", "MissingPart", "Needed", "State"]

Begin = Callable[[str, float | None], None]
_NO_STOCK = ("stock-none", "stock-none-thick")


class State(QWidget):
    """A line that says whether what is shown is of now; while it is worked out, how far, and a way to stop."""

    def __init__(self, asking: StockAsking) -> None:
        super().__init__()
        self._asking = asking
        self.words = label(role="hint")
        self.words.setAccessibleName("How far the sheets are worked out")
        self.stop = button("Stop", asking.stop, tip="What was known before stays.", role="more")
        self.again = button("Work it out", asking.begin, tip="Lay everything on its sheets anew.", role="more")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(12)
        row.addWidget(self.words, 1)
        row.addWidget(self.stop)
        row.addWidget(self.again)
        asking.changed.connect(self.look)
        self.look()

    def look(self) -> None:
        """Say it as it is now."""
        asking = self._asking
        waits = asking.told_of is None or asking.is_old
        self.words.setText(self._said(waits=waits))
        self.stop.setVisible(asking.is_looking)
        self.again.setVisible(waits and asking.is_stopped)

    def _said(self, *, waits: bool) -> str:
        asking = self._asking
        percent = round(100 * min(max(asking.share, 0.0), 1.0))
        old = sentence("stock-old", {}) + " " if asking.is_old and asking.laid is not None else ""
        if waits and asking.is_stopped:
            return old + sentence("stock-stopped", {})
        if waits and asking.gives_way:
            return old + sentence("stock-soon", {})
        if waits:
            return old + Remark.of("stock-looking", percent=percent).text()
        return ""


class MaterialPart(QWidget):
    """One material: how many sheets, whether fewer would do, what they cost, and each of them drawn."""

    def __init__(self, on: OnStock, preferences: Preferences) -> None:
        super().__init__()
        style = preferences.length_style
        self.title = label(material_words(on.material, on.thickness_mm, style), "title")
        self.words = label(_worded(on, preferences))
        self.drawing = SheetsDrawing(on, style)
        self.key = label(self.drawing.key, "muted")
        self.key.setAccessibleName(f"Pieces of {on.stock.name}")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 8)
        column.setSpacing(4)
        column.addWidget(self.title)
        column.addWidget(self.words)
        narrow_px = self.drawing.narrow_px
        if narrow_px is None:
            column.addWidget(self.drawing)
            column.addWidget(self.key)
            return
        # One sheet leaves room beside it.
        self.drawing.setFixedWidth(narrow_px)
        row = QHBoxLayout()
        row.setSpacing(16)
        row.addWidget(self.drawing, 0, Qt.AlignmentFlag.AlignTop)
        self.key.setContentsMargins(0, 20, 0, 0)
        row.addWidget(self.key, 1, Qt.AlignmentFlag.AlignTop)
        column.addLayout(row)


def _worded(on: OnStock, preferences: Preferences) -> str:
    words = sentences_of(on.said, preferences.length_style)
    if on.price is None:
        return words
    return f"{words} {Remark.of('stock-price', price=price_words(on.price, preferences.currency)).text()}"


class MissingPart(QWidget):
    """A material that could not be laid: why, and beside it what the maker can do about it."""

    def __init__(self, why: Remark, preferences: Preferences, begin: Begin, ask_panels: Callable[[], None]) -> None:
        super().__init__()
        style, figures = preferences.length_style, dict(why.figures)
        material, thickness_mm = figures.get("material"), figures.get("thickness_mm")
        self.words = label(sentences_of((why,), style))
        self.act: QPushButton | None = None
        if why.code in _NO_STOCK and isinstance(material, str):
            thick = thickness_mm if isinstance(thickness_mm, float) else None
            words = material_words(material, thick, style)
            self.act = button(
                "Say what it comes as …",
                partial(begin, material, thick),
                tip=sentence("stock-say-tip", {}),
                role="more",
            )
            self.act.setAccessibleName(f"Say what {words[:1].lower()}{words[1:]} comes as")
        elif why.code == "stock-backing-larger":
            self.act = button("Into which panels?", ask_panels, tip=sentence("stock-panels-tip", {}), role="more")
            self.act.setAccessibleName("Into which panels must the cloth be cut?")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(12)
        row.addWidget(self.words, 1)
        if self.act is not None:
            row.addWidget(self.act)


class Needed(QWidget):
    """All of them below each other, in a scrolling column; made anew only when something else was told."""

    def __init__(self, asking: StockAsking, begin: Begin, ask_panels: Callable[[], None]) -> None:
        super().__init__()
        self._asking, self._begin, self._ask_panels = asking, begin, ask_panels
        self._shown: object = None
        self.parts: list[QWidget] = []
        self.state = State(asking)
        inside = QWidget()
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(0, 0, 12, 0)
        self._column.setSpacing(4)
        self._column.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidget(inside)
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setAccessibleName("How many sheets are needed")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.state)
        column.addWidget(self.area, 1)

    def show_project(self, project: Project) -> None:
        """Show what was told last, in the maker's unit and currency."""
        asking = self._asking
        now = (asking.laid, asking.missing, asking.trouble, project.preferences)
        if now == self._shown:
            return
        self._shown = now
        for part in self.parts:
            self._column.removeWidget(part)
            part.hide()
            part.deleteLater()
        self.parts = self._made(project.preferences)
        for at, part in enumerate(self.parts):
            self._column.insertWidget(at, part)

    def _made(self, preferences: Preferences) -> list[QWidget]:
        asking = self._asking
        if asking.trouble is not None:
            return [label(sentences_of((asking.trouble,), preferences.length_style))]
        if asking.told_of is None:
            return []
        made: list[QWidget] = [MissingPart(why, preferences, self._begin, self._ask_panels) for why in asking.missing]
        made += [MaterialPart(on, preferences) for on in asking.laid or ()]
        return made or [label(sentence("stock-nothing-to-cut", {}), "hint")]
