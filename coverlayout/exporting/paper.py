"""Pages of paper in mm from the top-left corner: lines in the pens of the house, words in a font that travels along."""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from reportlab.lib.units import mm as PT_PER_MM  # noqa: N812  (a figure, not a function)
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from coverlayout.geometry.frames import Point, Ring

__all__ = ["A4_MM", "LETTER_MM", "MUTED", "PENS", "Paper", "Pen", "printable"]

A4_MM = (210.0, 297.0)  # ISO 216
LETTER_MM = (215.9, 279.4)  # 8 1/2 x 11 in
_FONT, _BOLD = "Vera", "VeraBd"
_LINE_MM_PER_PT = 0.5

Colour = tuple[float, float, float]
INK: Colour = (0.13, 0.15, 0.17)
MUTED: Colour = (0.35, 0.37, 0.40)


@dataclass(frozen=True)
class Pen:
    """A line: width in mm, dashes in mm (empty: solid), colour as shares of red, green and blue."""

    width_mm: float = 0.2
    dashes_mm: tuple[float, ...] = ()
    colour: Colour = INK


# The same meaning on paper and on screen: board solid, cut line dashed, liner dotted, flaw short-dashed.
PENS = {
    "cloth": Pen(0.35),
    "usable": Pen(0.15, (0.6, 0.6), MUTED),
    "cut": Pen(0.3, (2.0, 1.0)),
    "board": Pen(0.4),
    "turn-in": Pen(0.15, (1.2, 0.8), MUTED),
    "liner": Pen(0.2, (0.3, 0.7)),
    "mitre": Pen(0.15),
    "joint": Pen(0.15, (3.0, 0.8)),
    "lap": Pen(0.25, (0.3, 1.5)),
    "window": Pen(0.25),
    "fold": Pen(0.15, (0.8, 0.8)),
    "spine edge": Pen(1.0),
    "head": Pen(0.4),
    "flaw": Pen(0.25, (0.8, 0.5), (0.65, 0.19, 0.11)),
    "base line": Pen(0.3, (4.0, 0.8, 0.5, 0.8), (0.12, 0.31, 0.47)),
    "area": Pen(0.25, (3.0, 0.7, 0.4, 0.7, 0.4, 0.7), MUTED),
    "measure": Pen(0.15, (), (0.12, 0.31, 0.47)),
    "halo": Pen(0.9, (), (1.0, 1.0, 1.0)),
}


def _register_fonts() -> None:
    for name in (_FONT, _BOLD):
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, f"{name}.ttf"))


def printable(text: str) -> str:
    """The text with every letter that the paper's font lacks replaced, so that no empty box is printed.

    >>> printable("Café – 5 × 8")
    'Café - 5 x 8'
    """
    _register_fonts()
    known = pdfmetrics.getFont(_FONT).face.charToGlyph
    plain = {"×": "x", "–": "-", "—": "-", "−": "-", "→": "->", "½": "1/2", "¼": "1/4", "¾": "3/4"}
    return "".join(plain.get(sign, sign if ord(sign) in known else "?") for sign in text)


class Paper:
    """Pages of one size; places in mm from the top-left corner, y down."""

    def __init__(self, width_mm: float, height_mm: float, title: str) -> None:
        """An empty set of pages that asks the reader's printer not to scale (ISO 32000, PrintScaling None)."""
        _register_fonts()
        self.width_mm, self.height_mm = width_mm, height_mm
        self._bytes = io.BytesIO()
        size = (width_mm * PT_PER_MM, height_mm * PT_PER_MM)
        self.canvas = Canvas(self._bytes, pagesize=size, pageCompression=1, invariant=1)
        self.canvas.setTitle(printable(title))
        self.canvas.setViewerPreference("PrintScaling", "None")

    def pt(self, at_mm: Point) -> Point:
        """A place in PDF points from the lower-left corner."""
        return at_mm[0] * PT_PER_MM, (self.height_mm - at_mm[1]) * PT_PER_MM

    def pen(self, pen: Pen) -> None:
        """Take a pen for the next lines."""
        self.canvas.setLineWidth(pen.width_mm * PT_PER_MM)
        self.canvas.setStrokeColorRGB(*pen.colour)
        self.canvas.setDash([dash * PT_PER_MM for dash in pen.dashes_mm])

    def line(self, points: Ring, pen: Pen, *, closed: bool = False, halo: bool = False) -> None:
        """Join the points; with `halo` on a white line a little wider, so that it reads on any print."""
        if halo:
            self.line(points, Pen(pen.width_mm + 0.6, (), (1.0, 1.0, 1.0)), closed=closed)
        self.pen(pen)
        self.canvas.drawPath(self._path(points, closed=closed), stroke=1, fill=0)

    def fill(self, points: Ring, colour: Colour, share: float = 1.0) -> None:
        """Fill an outline; `share` below 1 lets what lies under it show."""
        self.canvas.setFillColorRGB(*colour, alpha=share)
        self.canvas.drawPath(self._path(points, closed=True), stroke=0, fill=1)
        self.canvas.setFillAlpha(1)

    def clip(self, rings: Iterable[Ring]) -> None:
        """Draw only inside these outlines until the saved state comes back (even-odd, so inner rings are holes)."""
        path = self.canvas.beginPath()
        for ring in rings:
            self._trace(path, ring, closed=True)
        self.canvas.clipPath(path, stroke=0, fill=0, fillMode=0)

    def _path(self, points: Ring, *, closed: bool) -> object:
        path = self.canvas.beginPath()
        self._trace(path, points, closed=closed)
        return path

    def _trace(self, path: object, points: Ring, *, closed: bool) -> None:
        path.moveTo(*self.pt(points[0]))  # type: ignore[attr-defined]  # reportlab's path object carries no types
        for point in points[1:]:
            path.lineTo(*self.pt(point))  # type: ignore[attr-defined]
        if closed:
            path.close()  # type: ignore[attr-defined]

    def text_width_mm(self, text: str, size_pt: float, *, bold: bool = False) -> float:
        """How wide the text comes out."""
        return float(pdfmetrics.stringWidth(printable(text), _BOLD if bold else _FONT, size_pt) / PT_PER_MM)

    def text(
        self,
        at_mm: Point,
        text: str,
        size_pt: float = 8,
        *,
        bold: bool = False,
        align: Literal["left", "middle", "right"] = "left",
        colour: Colour = INK,
        turned: bool = False,
    ) -> None:
        """Write a line whose baseline begins (or is centred, or ends) at the place; `turned` reads upward."""
        canvas = self.canvas
        canvas.saveState()
        canvas.setFont(_BOLD if bold else _FONT, size_pt)
        canvas.setFillColorRGB(*colour)
        canvas.translate(*self.pt(at_mm))
        if turned:
            canvas.rotate(90)
        write = {"left": canvas.drawString, "middle": canvas.drawCentredString, "right": canvas.drawRightString}[align]
        write(0, 0, printable(text))
        canvas.restoreState()

    def paragraph(self, at_mm: Point, width_mm: float, text: str, size_pt: float = 8, *, bold: bool = False) -> float:
        """Write a text broken into lines of at most `width_mm`; returns the y of the next line, in mm."""
        x, y = at_mm
        for line in self._lines(width_mm, text, size_pt, bold=bold):
            self.text((x, y), line, size_pt, bold=bold)
            y += size_pt * _LINE_MM_PER_PT
        return y

    def paragraph_mm(self, width_mm: float, text: str, size_pt: float = 8, *, bold: bool = False) -> float:
        """How high a paragraph comes out."""
        return len(self._lines(width_mm, text, size_pt, bold=bold)) * size_pt * _LINE_MM_PER_PT

    def _lines(self, width_mm: float, text: str, size_pt: float, *, bold: bool) -> list[str]:
        lines = [""]
        for word in text.split():
            longer = f"{lines[-1]} {word}".strip()
            if not lines[-1] or self.text_width_mm(longer, size_pt, bold=bold) <= width_mm:
                lines[-1] = longer
            else:
                lines.append(word)
        return [line for line in lines if line]

    def shortened(self, text: str, width_mm: float, size_pt: float = 8, *, bold: bool = False) -> str:
        """The text, dots in place of its middle where it is wider: what tells names apart stands at their ends."""
        shown, keep = text, len(text)
        while self.text_width_mm(shown, size_pt, bold=bold) > width_mm and keep > 1:
            keep -= 1
            shown = text[: (keep + 1) // 2] + "..." + text[len(text) - keep // 2 :]
        return shown

    def next_page(self) -> None:
        """Begin another page."""
        self.canvas.showPage()

    def finished(self) -> bytes:
        """The whole PDF; nothing can be drawn after it."""
        self.canvas.showPage()
        self.canvas.save()
        return self._bytes.getvalue()
