"""What is dropped into the window: one picture or one project; for anything else one sentence."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QMimeData

from coverlayout.document.file import SUFFIX
from coverlayout.errors import BadInput
from coverlayout.ui.panels.print_edits import PICTURE_ENDINGS

__all__ = ["dropped_path", "holds_files"]


def holds_files(mime: QMimeData) -> bool:
    """True when files are being dragged: those are let in, so that it can be said what becomes of them."""
    return mime.hasUrls()


def dropped_path(mime: QMimeData) -> Path:
    """The picture or project that was dropped; BadInput for anything else, or for several at a time."""
    paths = [Path(url.toLocalFile()) for url in mime.urls() if url.isLocalFile()]
    fitting = [path for path in paths if path.suffix.lower() in (SUFFIX, *PICTURE_ENDINGS)]
    if len(fitting) > 1:
        raise BadInput("drop-several")
    if not fitting:
        raise BadInput("drop-not-ours", name=paths[0].name if len(paths) == 1 else "This")
    return fitting[0]
