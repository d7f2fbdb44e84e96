"""Colours light and dark, type sizes, spacing and the line styles that carry meaning."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QPen

__all__ = [
    "CORNER_PX",
    "DARK",
    "LIGHT",
    "SIZES_PX",
    "SPACE_PX",
    "LineKind",
    "Sizes",
    "Theme",
    "contrast",
    "figures_font",
    "halo",
    "pen",
    "text_font",
]

LineKind = Literal[
    "board",
    "cut",
    "turn-in",
    "liner",
    "flaw",
    "mitre",
    "measure",
    "edge",
    "zone",
    "base line",
    "proposed",
    "joint",
    "lap",
    "window",
    "fold",
    "panel",
]

SPACE_PX = 4
CORNER_PX = 4


@dataclass(frozen=True)
class Sizes:
    """Type sizes in pixels at 1x."""

    small: int = 11
    text: int = 13
    title: int = 15
    verdict: int = 19


SIZES_PX = Sizes()


@dataclass(frozen=True)
class Theme:
    """The colours of one look, as #RRGGBB. `line` is for the edges of controls, `halo` lies under lines on a print."""

    name: Literal["light", "dark"]
    panel: str
    canvas: str
    field: str
    ink: str
    muted: str
    accent: str
    fits: str
    tight: str
    no: str
    line: str
    halo: str
    on_accent: str

    def color(self, token: str, alpha: float = 1.0) -> QColor:
        """The colour of a token by its name, `alpha` 0 (clear) to 1. AttributeError for a token that is not there."""
        color = QColor(getattr(self, token))
        color.setAlphaF(alpha)
        return color


LIGHT = Theme(
    name="light",
    panel="#F7F4EE",
    canvas="#DFDAD0",
    field="#FFFFFF",
    ink="#22252B",
    muted="#5A5E66",
    accent="#1F4E79",
    fits="#0B6B4D",
    tight="#845400",
    no="#A6301D",
    line="#8C8576",
    halo="#FFFFFF",
    on_accent="#FFFFFF",
)
DARK = Theme(
    name="dark",
    panel="#1F2126",
    canvas="#141519",
    field="#2A2D33",
    ink="#ECE9E2",
    muted="#A9ABB2",
    accent="#8FBCE6",
    fits="#5CC9A0",
    tight="#E5B45A",
    no="#F2917D",
    line="#6F7480",
    halo="#FFFFFF",
    on_accent="#14202C",
)


def contrast(first: str, second: str) -> float:
    """Contrast of two colours, 1 to 21. Source: WCAG 2, relative luminance and contrast ratio.

    >>> round(contrast("#000000", "#FFFFFF"), 1), round(contrast(LIGHT.ink, LIGHT.panel), 1)
    (21.0, 14.0)
    """
    low, high = sorted((_luminance(first), _luminance(second)))
    return (high + 0.05) / (low + 0.05)


def _luminance(color: str) -> float:
    parts = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def text_font(size_px: int = SIZES_PX.text, *, bold: bool = False) -> QFont:
    """The system's interface font in one of our sizes."""
    font = QFont(QGuiApplication.font())
    font.setPixelSize(size_px)
    if bold:
        font.setWeight(QFont.Weight.DemiBold)
    return font


def figures_font(size_px: int = SIZES_PX.text, *, bold: bool = False) -> QFont:
    """The interface font with figures of one width, so that numbers do not jump while they change."""
    font = text_font(size_px, bold=bold)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font


# Dashes in line widths. Meaning sits in the style; colour only helps.
_DASHES: dict[LineKind, tuple[float, ...]] = {
    "board": (),
    "edge": (),
    "measure": (),
    "mitre": (),
    "cut": (5.0, 3.0),
    "turn-in": (5.0, 3.0),
    "liner": (1.0, 2.0),
    "flaw": (2.5, 1.5),
    "zone": (9.0, 2.5, 1.5, 2.5),
    "base line": (10.0, 3.0, 2.0, 3.0),
    "proposed": (7.0, 3.0, 1.0, 2.0, 1.0, 3.0),
    "joint": (12.0, 3.0),
    "lap": (1.0, 5.0),
    "window": (),
    "fold": (3.0, 3.0),
    "panel": (6.0, 2.0),
}
_WIDTH_PX: dict[LineKind, float] = {
    "board": 2.0,
    "edge": 1.0,
    "measure": 1.0,
    "mitre": 1.0,
    "liner": 2.0,
    "proposed": 2.0,
    "joint": 1.0,
    "lap": 2.0,
    "window": 1.5,
    "fold": 1.0,
    "panel": 4.0,
}
_ON_PRINT = "#22252B"


def pen(kind: LineKind, color: QColor | str | None = None, width_px: float | None = None) -> QPen:
    """The pen of a kind of line.

    Board solid, cut and turn-in dashed, liner dotted, flaw short-dashed, zone dash and dot, base line long and short,
    proposed a dash and two dots, joint long fine dashes, fold short ones, lap dots far apart, window solid and fine,
    panel long and heavy.
    Lines lie on a print over a light halo in both looks, so their own colour (dark ink) does not change with the look.
    """
    made = QPen(QColor(color or _ON_PRINT), width_px or _WIDTH_PX.get(kind, 1.5))
    made.setCosmetic(True)
    made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dashes := _DASHES[kind]:
        made.setDashPattern(list(dashes))
    return made


def halo(kind: LineKind, theme: Theme, width_px: float | None = None) -> QPen:
    """The light pen that goes under a line of that kind, so that it reads on any print."""
    made = QPen(theme.color("halo", 0.8), (width_px or _WIDTH_PX.get(kind, 1.5)) + 2.5)
    made.setCosmetic(True)
    made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    return made
