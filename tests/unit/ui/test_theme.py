"""The colours can be read, and each kind of line has a style of its own."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QPalette

from coverlayout.ui.look import palette, stylesheet
from coverlayout.ui.theme import DARK, LIGHT, Theme, contrast, halo, pen


def test_contrast_of_black_and_white() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)  # WCAG 2: (1 + 0.05) / (0 + 0.05)
    assert contrast("#777777", "#777777") == 1.0


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize("token", ["ink", "muted", "accent", "fits", "tight", "no"])
def test_words_can_be_read(theme: Theme, token: str) -> None:
    # WCAG 2, success criterion 1.4.3: 4.5 for text, on the panel and in fields.
    assert contrast(getattr(theme, token), theme.panel) >= 4.5
    assert contrast(getattr(theme, token), theme.field) >= 4.5


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_edges_of_controls_and_words_on_the_accent_can_be_seen(theme: Theme) -> None:
    assert contrast(theme.line, theme.panel) >= 3.0  # WCAG 2, success criterion 1.4.11
    assert contrast(theme.on_accent, theme.accent) >= 4.5
    assert contrast(theme.muted, theme.canvas) >= 4.5


def test_lines_are_told_apart_without_colour() -> None:
    styles = {kind: tuple(pen(kind).dashPattern()) for kind in ("board", "cut", "liner", "flaw")}
    assert styles["board"] == ()
    assert len(set(styles.values())) == 4
    assert pen("liner").widthF() > pen("mitre").widthF()
    assert all(halo(kind, LIGHT).widthF() > pen(kind).widthF() for kind in ("board", "cut", "turn-in", "liner", "flaw"))


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_palette_and_sheet_speak_of_one_theme(theme: Theme) -> None:
    made = palette(theme)
    assert made.color(QPalette.ColorRole.Window).name().upper() == theme.panel
    assert made.color(QPalette.ColorRole.HighlightedText).name().upper() == theme.on_accent
    assert theme.field in stylesheet(theme)
    assert "$" not in stylesheet(theme)


def test_a_colour_may_be_thinned() -> None:
    assert LIGHT.color("no", 0.5).alphaF() == pytest.approx(0.5, abs=0.01)
    with pytest.raises(AttributeError):
        LIGHT.color("purple")
