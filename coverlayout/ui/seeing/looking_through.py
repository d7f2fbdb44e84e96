"""Take up the window template: for the chosen piece, for the first cover, or for a size that is typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QInputDialog, QLineEdit

from coverlayout.errors import BadInput
from coverlayout.ui.seeing.template import template_of, template_piece, template_sized
from coverlayout.ui.tasks.window_template import WindowTemplate
from coverlayout.units import parse_size

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["look_through", "look_through_size"]

_LIKE_MM = (114.3, 152.4)


def look_through(canvas: Canvas) -> None:
    """The template of the chosen piece, else of the first cover; where there is no piece, of a size asked for."""
    piece = template_piece(canvas.bench, canvas.chosen)
    found = None if piece is None else template_of(canvas.bench, piece, _middle(canvas))
    if found is None:
        look_through_size(canvas)
    else:
        canvas.work.begin(WindowTemplate(canvas, found))


def look_through_size(canvas: Canvas) -> None:
    """A template of a size that is typed."""
    style = canvas.shown.project.preferences.length_style
    like = f"{style.number(_LIKE_MM[0])} x {style.show(_LIKE_MM[1])}"
    words, given = QInputDialog.getText(
        canvas.window(), "Window template", "Width x height of the hole", QLineEdit.EchoMode.Normal, like
    )
    if not given:
        return
    try:
        width_mm, height_mm = parse_size(words, style.unit, where="Window template", like=like)
    except BadInput as fault:
        canvas.hint.emit(style.said(fault.remark))
        return
    canvas.work.begin(WindowTemplate(canvas, template_sized(canvas.bench, width_mm, height_mm, _middle(canvas))))


def _middle(canvas: Canvas) -> tuple[float, float]:
    return canvas.view.mm_at(canvas.sight.room_px.middle)
