"""What the window remembers from one day to the next: the look, and how large a millimetre is on each screen."""

from __future__ import annotations

import json
import math
from contextlib import suppress
from pathlib import Path
from typing import Any, get_args

from PySide6.QtGui import QScreen

from coverlayout.document.file import write_safely
from coverlayout.errors import FileTrouble
from coverlayout.settings import settings_folder
from coverlayout.ui.look import Choice

__all__ = ["Remembered"]

# Screens from 25 to 1000 dots to the inch; anything else in the file is no screen.
_PX_PER_MM = (1.0, 40.0)


class Remembered:
    """Kept in `window.json` in the settings folder; a file that cannot be read or written is done without."""

    def __init__(self, folder: Path | None = None) -> None:
        self._path = (folder or settings_folder()) / "window.json"
        self._all = self._read()

    @property
    def look(self) -> Choice:
        """Light, dark, or as the system asks."""
        found = self._all.get("look")
        return next((look for look in get_args(Choice) if look == found), "system")

    def remember_look(self, look: Choice) -> None:
        """The look chosen."""
        self._write({**self._all, "look": look})

    def px_per_mm(self, screen: QScreen) -> float | None:
        """Logical pixels per millimetre as a card showed it on this screen, None when it was never asked."""
        found = self._screens().get(_key(screen))
        least, most = _PX_PER_MM
        if isinstance(found, bool) or not isinstance(found, float | int):
            return None
        return float(found) if math.isfinite(found) and least <= found <= most else None

    def remember_px_per_mm(self, screen: QScreen, px_per_mm: float) -> None:
        """What the card showed on this screen."""
        self._write({**self._all, "screens": {**self._screens(), _key(screen): px_per_mm}})

    def _screens(self) -> dict[str, Any]:
        screens = self._all.get("screens")
        return screens if isinstance(screens, dict) else {}

    def _read(self) -> dict[str, Any]:
        try:
            found = json.loads(self._path.read_text(encoding="utf-8"))
        except (OSError, ValueError, RecursionError):
            return {}
        return found if isinstance(found, dict) else {}

    def _write(self, everything: dict[str, Any]) -> None:
        self._all = everything
        with suppress(FileTrouble, OSError):
            self._path.parent.mkdir(parents=True, exist_ok=True)
            write_safely(self._path, json.dumps(everything, indent=1).encode())


def _key(screen: QScreen) -> str:
    """One name for one screen at one scale: maker, model, serial number, size and pixel ratio."""
    size = screen.size()
    words = (screen.manufacturer(), screen.model(), screen.serialNumber() or screen.name())
    return " ".join([*words, f"{size.width()}x{size.height()}@{screen.devicePixelRatio():g}"])
