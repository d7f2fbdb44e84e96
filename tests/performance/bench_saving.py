"""Saving a project of 60 pieces that holds a picture of 20 MB already: the whole save, forced to the disk."""

from __future__ import annotations

import random
import statistics
import tempfile
import time
from dataclasses import replace
from pathlib import Path

from coverlayout.book.book import Book, Volume
from coverlayout.book.structures import pieces
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.file import load, save
from coverlayout.document.project import Layout, Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, PictureRef, Print

ROUNDS = 15
PICTURE_BYTES = 20_000_000


def figures(shared: Path | None) -> dict[str, dict[str, float]]:
    """The median save over a file that is there, with its backup made, in milliseconds."""
    project, pictures = _project()
    with tempfile.TemporaryDirectory(dir=_disk()) as folder:
        path = Path(folder) / "bench.coverlayout"
        save(path, project, pictures)
        taken_ms = []
        for number in range(ROUNDS):
            changed = replace(project, name=f"save {number}")
            began = time.perf_counter()
            save(path, changed, pictures)
            taken_ms.append((time.perf_counter() - began) * 1000)
        assert load(path).project == changed
    return {"save_ms": {"value": statistics.median(taken_ms), "goal": 60.0}}


def _disk() -> str | None:
    """Where a person's files would lie: a passing folder in memory would flatter the figure."""
    home = Path.home()
    return str(home) if home.is_dir() else None


def _project() -> tuple[Project, Pictures]:
    """Fifteen books of four pieces each, all laid, on one cloth under a print whose picture does not compress."""
    picture = random.Random(20).randbytes(PICTURE_BYTES)
    pictures = Pictures().with_picture(picture)
    ref = PictureRef(Pictures.hash_of(picture), "png", "herons.png", 4000, 6000)
    herons = Print("print-1", "Herons", Lattice((64.0, 48.0), (0.0, 96.0)), "half-drop", picture=ref)
    book = Book("book-1", "Ledger", page_mm=(114.3, 152.4), volumes=tuple(Volume(k) for k in range(1, 16)))
    laid = tuple(
        Placed(piece.id, "cloth-1", 80.0 + 150.0 * (k % 8), 100.0 + 190.0 * (k // 8))
        for k, piece in enumerate(pieces(book))
    )
    assert len(laid) == 60
    cloth = Cloth("cloth-1", "Bolt", 1400.0, 2000.0, laid=LaidPrint("print-1"))
    layouts = (Layout("layout-1", "Layout 1", laid),)
    return Project(prints=(herons,), cloths=(cloth,), books=(book,), layouts=layouts), pictures
