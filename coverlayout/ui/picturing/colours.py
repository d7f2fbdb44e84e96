"""Pens and fills of a drawn book by what each line is of: the style carries the meaning, colour helps."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPalette, QPen

from coverlayout.book.picturing.shapes import Role
from coverlayout.ui.theme import DARK, LIGHT, Theme

__all__ = ["AREAS", "KEY_WORDS", "Ink", "ink_of", "theme_of"]

# What stands in the key beside a picture, in this order, where the picture has it.
KEY_WORDS: tuple[tuple[Role, str], ...] = (
    ("board", "board"),
    ("card", "spine strip"),
    ("cloth", "cloth"),
    ("side", "sides"),
    ("liner", "liner"),
    ("lining", "the book"),
    ("section", "pages"),
    ("thread", "thread"),
    ("cut", "cut here"),
    ("turn-in", "fold over"),
    ("liner edge", "liner's edge, on the turn-in"),
    ("hidden", "page"),
    ("head", "head"),
)
# Cloth that lies flat: filled without an edge, since its edge is the line the knife follows.
AREAS: tuple[Role, ...] = ("cloth", "side", "corner")


@dataclass(frozen=True)
class Ink:
    """How one role is drawn: line colour and width in px, dashes in widths, fill (None: no line, no fill).

    `fill` is for closed shapes. `thick_mm` lets a line grow with the picture, up to three times its width.
    """

    line: str | None
    width_px: float = 1.0
    dashes: tuple[float, ...] = ()
    fill: str | None = None
    fill_share: float = 1.0
    thick_mm: float = 0.0

    def pen(self, px_per_mm: float, share: float = 1.0) -> QPen:
        """The pen at this scale, `share` of its usual width."""
        if self.line is None:
            return QPen(Qt.PenStyle.NoPen)
        width = share * min(max(self.width_px, self.thick_mm * px_per_mm), 3 * self.width_px)
        pen = QPen(QColor(self.line), width)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        if self.dashes:
            pen.setDashPattern(list(self.dashes))
        return pen

    @property
    def fill_color(self) -> QColor | None:
        """What a closed shape is filled with."""
        if self.fill is None:
            return None
        color = QColor(self.fill)
        color.setAlphaF(self.fill_share)
        return color


def theme_of(palette: QPalette) -> Theme:
    """The look that a palette belongs to."""
    return DARK if palette.color(QPalette.ColorRole.Base).lightness() < 128 else LIGHT


def ink_of(role: Role, theme: Theme) -> Ink:
    """How a role is drawn in a look."""
    return (_LIGHT if theme.name == "light" else _DARK)[role]


def _inks(theme: Theme, *, board: str, cloth: str, side: str, page: str, thread: str) -> dict[Role, Ink]:
    ink, muted = theme.ink, theme.muted
    return {
        "board": Ink(ink, 1.4, (), board, 1.0),
        "card": Ink(ink, 1.0, (), board, 0.6),
        "cloth": Ink(cloth, 2.4, (), cloth, 0.22, 0.5),
        "side": Ink(side, 2.4, (), side, 0.26, 0.5),
        "corner": Ink(cloth, 2.4, (), cloth, 0.22, 0.5),
        "unseen": Ink(None, 0.0, (), cloth, 0.09),
        "section": Ink(muted, 0.9, (), page),
        "lining": Ink(side, 1.4, (), side, 0.3),
        "liner": Ink(ink, 1.8, (0.9, 1.5)),
        "liner edge": Ink(ink, 1.8, (0.9, 1.5)),
        "thread": Ink(thread, 1.5),
        "joint": Ink(ink, 1.0),
        "mitre": Ink(ink, 1.0),
        "lap": Ink(ink, 1.0, (3.0, 2.0)),
        "label": Ink(ink, 1.2, (), page),
        "window": Ink(ink, 1.2),
        "hole": Ink(ink, 1.0, (), theme.field),
        "hidden": Ink(ink, 0.8, (2.0, 2.0)),
        "cut": Ink(ink, 1.3, (5.0, 3.0)),
        "turn-in": Ink(muted, 1.0, (3.0, 2.5)),
        "fold": Ink(muted, 1.0, (3.0, 2.5)),
        "break": Ink(None, 0.0, (), theme.field),
        "wave": Ink(muted, 1.0),
        "head": Ink(ink, 0.5, (), ink),
    }


_LIGHT = _inks(LIGHT, board="#B9C8B0", cloth="#B5512A", side="#2B6F73", page="#FBF7EE", thread="#1F4E79")
_DARK = _inks(DARK, board="#5E7260", cloth="#E58A5E", side="#6FC1C0", page="#35383F", thread="#8FBCE6")
