"""Draw the sample prints: `python sample_prints/draw_prints.py [FOLDER]` writes their tiles, the same on every run."""

from __future__ import annotations

import sys
from pathlib import Path

from salt_works import PRINTS

__all__ = ["draw_all"]


def draw_all(folder: Path) -> list[Path]:
    """Write every print's tile into the folder as a PNG and return the paths."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for name, draw in PRINTS.items():
        path = folder / f"{name}.png"
        draw().save(path)
        paths.append(path)
    return paths


if __name__ == "__main__":
    for written in draw_all(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent):
        print(written)
