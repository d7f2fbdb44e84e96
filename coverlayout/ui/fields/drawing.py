"""Small drawings beside the numbers, painted from the numbers themselves: they follow as one types."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from coverlayout.book.book import Book
from coverlayout.ui.theme import SIZES_PX, figures_font
from coverlayout.units import LengthStyle

__all__ = ["Drawing", "EdgeDrawing"]


class Drawing(QWidget):
    """Paper to draw on in the panel's colours; says in words what it shows."""

    def __init__(self, height_px: int, name: str) -> None:
        super().__init__()
        self.setFixedHeight(height_px)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(name)

    def sizeHint(self) -> QSize:
        """Wide enough for a panel."""
        return QSize(240, self.height())

    def color(self, role: QPalette.ColorRole, alpha: float = 1.0) -> QColor:
        """A colour of the look in force."""
        color = QColor(self.palette().color(role))
        color.setAlphaF(alpha)
        return color

    def paintEvent(self, event: QPaintEvent) -> None:
        """A quiet field, then the drawing."""
        del event
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(figures_font(SIZES_PX.small))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.color(QPalette.ColorRole.Base))
            painter.drawRoundedRect(QRectF(self.rect()), 4, 4)
            self.draw(painter)

    def draw(self, painter: QPainter) -> None:
        """Draw; each drawing its own."""
        raise NotImplementedError


class EdgeDrawing(Drawing):
    """A cut through the edge of a covered board: board, cloth turned in, liner with its inset, pages with their square.

    Everything is to scale. `point_at` picks out the measure whose field is being typed in.
    """

    def __init__(self) -> None:
        super().__init__(138, "A cut through the edge of a covered board")
        self._book = Book("", "")
        self._style = LengthStyle()
        self._pointed = ""

    def show_book(self, book: Book, style: LengthStyle) -> None:
        """Draw the edge of this book's boards."""
        if (book, style) != (self._book, self._style):
            self._book, self._style = book, style
            self.update()

    def point_at(self, what: str) -> None:
        """Pick out `square`, `turn-in`, `board` or `inset`; empty picks out nothing."""
        if what != self._pointed:
            self._pointed = what
            self.update()

    def draw(self, painter: QPainter) -> None:
        """Measures above and below, each from the board's edge; the edge itself lies at the left."""
        book = self._book
        thick, folded = book.board_thickness_mm, max(book.turn_ins.fore_edge_mm - book.board_thickness_mm, 0.0)
        # The name at the left never runs into the board, whatever the thickness is and also when it is picked out.
        name = f"board {self._style.show(thick)}"
        name_px = QFontMetricsF(figures_font(SIZES_PX.small, bold=True)).horizontalAdvance(name)
        left, right, top = max(96.0, 8 + name_px + 12), self.width() - 12.0, 82.0
        longest = max(folded, book.liner_inset_mm, book.square_mm, 1.0)
        scale = min((right - left) * 0.55 / longest, 22.0 / max(thick, 0.5))
        edge = QRectF(left, top, right - left, max(thick * scale, 3.0))
        self._pages(painter, left + book.square_mm * scale, right, top)
        painter.setPen(QPen(self.color(QPalette.ColorRole.WindowText), 1.0))
        painter.setBrush(self.color(QPalette.ColorRole.Mid, 0.45))
        painter.drawRect(edge)
        corners = [
            QPointF(right, edge.bottom() + 2.5),
            QPointF(left - 2.5, edge.bottom() + 2.5),
            QPointF(left - 2.5, top - 2.5),
            QPointF(left + folded * scale, top - 2.5),
        ]
        painter.setPen(QPen(self.color(QPalette.ColorRole.Link), 3.0))
        painter.drawPolyline(QPolygonF(corners))
        if book.liners != "none":
            painter.setPen(QPen(self.color(QPalette.ColorRole.WindowText), 2.0, Qt.PenStyle.DotLine))
            painter.drawLine(QPointF(left + book.liner_inset_mm * scale, top - 7), QPointF(right, top - 7))
        self._words(painter, edge, scale, folded)

    def _pages(self, painter: QPainter, left: float, right: float, top: float) -> None:
        painter.setPen(QPen(self.color(QPalette.ColorRole.PlaceholderText, 0.7), 1.0))
        for at in range(5):
            y = top - 14 - 3 * at
            painter.drawLine(QPointF(left, y), QPointF(right, y))

    def _words(self, painter: QPainter, edge: QRectF, scale: float, folded: float) -> None:
        book, show, left = self._book, self._style.show, edge.left()
        square, inset = left + book.square_mm * scale, left + book.liner_inset_mm * scale
        self._measure(painter, "square", (left, square, 16.0), show(book.square_mm))
        if book.liners != "none":
            self._measure(painter, "inset", (left, inset, 34.0), show(book.liner_inset_mm))
        below = edge.bottom() + 22
        self._say(painter, "turn-in", QPointF(8, below), "turn-in")
        self._say(painter, "turn-in", QPointF(left - 3, below), f"{show(book.turn_ins.fore_edge_mm)}, round the edge")
        self._turned_in(painter, edge, folded * scale)
        self._say(painter, "board", QPointF(8, edge.center().y() + 4), f"board {show(book.board_thickness_mm)}")

    def _turned_in(self, painter: QPainter, edge: QRectF, folded: float) -> None:
        """The part of the cloth that the turn-in measures: up the board's edge and over it."""
        pointed = self._pointed == "turn-in"
        end = QPointF(edge.left() + folded, edge.top() - 2.5)
        path = [QPointF(edge.left() - 2.5, edge.bottom()), QPointF(edge.left() - 2.5, edge.top() - 2.5), end]
        painter.setPen(QPen(self.color(QPalette.ColorRole.Link), 5.0 if pointed else 3.0))
        painter.drawPolyline(QPolygonF(path))
        painter.setPen(QPen(self.color(QPalette.ColorRole.PlaceholderText), 1.0))
        painter.drawLine(QPointF(edge.left() - 8, edge.bottom()), QPointF(edge.left() + 3, edge.bottom()))
        painter.drawLine(end + QPointF(0, -5), end + QPointF(0, 5))

    def _measure(self, painter: QPainter, what: str, line: tuple[float, float, float], figure: str) -> None:
        """A measure line (from, to, height) with small ticks, its name on the left, its figure on the right."""
        start, end, y = line
        pointed = what == self._pointed
        role = QPalette.ColorRole.Link if pointed else QPalette.ColorRole.PlaceholderText
        painter.setPen(QPen(self.color(role), 2.0 if pointed else 1.0))
        painter.drawLine(QPointF(start, y), QPointF(end, y))
        for x in (start, end):
            painter.drawLine(QPointF(x, y - 3), QPointF(x, y + 3))
        painter.setFont(figures_font(SIZES_PX.small, bold=pointed))
        painter.setPen(self.color(QPalette.ColorRole.WindowText if pointed else QPalette.ColorRole.PlaceholderText))
        painter.drawText(QPointF(8, y + 4), what)
        painter.drawText(QPointF(max(end, start) + 8, y + 4), figure)

    def _say(self, painter: QPainter, what: str, at: QPointF, words: str) -> None:
        pointed = what == self._pointed
        painter.setFont(figures_font(SIZES_PX.small, bold=pointed))
        painter.setPen(self.color(QPalette.ColorRole.WindowText if pointed else QPalette.ColorRole.PlaceholderText))
        painter.drawText(at, words)
