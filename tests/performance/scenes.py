"""Scenes that benchmarks measure: many pieces over a half-drop print, on one cloth or several, with flaws."""

from __future__ import annotations

import io
from collections.abc import Iterator

from PIL import Image, ImageDraw

from coverlayout.book.book import Book, Volume
from coverlayout.cloth.cloth import BaseLine, Cloth, Flaw, Zone
from coverlayout.document.project import Layout, Project
from coverlayout.document.session import Session
from coverlayout.document.storage.pictures import Pictures
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint, PictureRef, Print
from coverlayout.motif.repeat import lattice_of

__all__ = ["full_table", "pear"]

_WIDTH_MM, _LENGTH_MM = 1400.0, 1100.0
# Liner, cover, cover, liner: the four pieces of a book in one row, and the next row below.
_ROW_MM = 190.0
_OFFSETS_MM = {"front": 80.0, "back": 235.0, "liner-front": 375.0, "liner-back": 490.0}
_BOOK_MM = 560.0


def _motif() -> bytes:
    """A pear without any symmetry, 640 x 960 px."""
    picture = Image.new("RGB", (640, 960), (242, 232, 214))
    pencil = ImageDraw.Draw(picture)
    pencil.ellipse((200, 200, 420, 520), fill=(190, 150, 60))
    pencil.rectangle((300, 100, 318, 220), fill=(70, 60, 40))
    pencil.polygon([(318, 160), (470, 90), (430, 190)], fill=(70, 120, 80))
    kept = io.BytesIO()
    picture.save(kept, "PNG")
    return kept.getvalue()


def pear() -> tuple[Print, Pictures]:
    """The pear as a half-drop print of 64 x 96 mm, and its picture."""
    data = _motif()
    pictures = Pictures().with_picture(data)
    sha = Pictures.hash_of(data)
    a_print = Print(
        "print-1",
        "Pear",
        lattice_of("half-drop", (64.0, 96.0)),
        "half-drop",
        picture=PictureRef(sha, "png", "pear.png", 640, 960),
        tile_mm=(64.0, 96.0),
    )
    return a_print, pictures


def full_table(pieces: int = 60, cloths: int = 3, flaws: int = 10) -> Session:
    """A table with everything on it: `pieces` (four a book) over `cloths` with `flaws` in all, zones, a base line."""
    a_print, pictures = pear()
    books = pieces // 4
    rows = -(-books // (2 * cloths))
    length_mm = max(_LENGTH_MM, 160.0 + _ROW_MM * rows)
    made = tuple(_cloth(number, length_mm, range(number, flaws, cloths)) for number in range(cloths))
    book = Book("book-1", "Ledgers", page_mm=(114.3, 152.4), volumes=tuple(Volume(k + 1) for k in range(books)))
    layout = Layout("layout-1", "Layout 1", tuple(_places(books, cloths)), pinned=("back-1",))
    project = Project("Ledgers", prints=(a_print,), cloths=made, books=(book,), layouts=(layout,))
    return Session(project, pictures)


def _cloth(number: int, length_mm: float, flaws: range) -> Cloth:
    return Cloth(
        f"cloth-{number + 1}",
        f"Length {number + 1}",
        _WIDTH_MM,
        length_mm,
        trim_mm=3.0,
        laid=LaidPrint("print-1", turn_deg=0.0),
        flaws=tuple(_flaw(k) for k in flaws),
        zones=() if number else _halves(length_mm),
        base_line=BaseLine((64.0, 96.0), (64.0 * 15, 96.0), (15, -7), measured_from=True),
    )


def _halves(length_mm: float) -> tuple[Zone, ...]:
    laid = LaidPrint("print-1")
    half = _WIDTH_MM / 2
    return tuple(
        Zone(f"zone-{k + 1}", f"Half {k + 1}", rectangle(half, length_mm, k * half), laid=laid) for k in (0, 1)
    )


def _flaw(number: int) -> Flaw:
    at = 30.0 + 37.0 * number
    if number % 2:
        return Flaw(f"flaw-{number + 1}", "crease", ((at, 30.0), (at + 300.0, 45.0)), 6.0)
    stain = ((at, 1040.0), (at + 40.0, 1035.0), (at + 55.0, 1060.0), (at + 20.0, 1080.0))
    return Flaw(f"flaw-{number + 1}", "stain", stain, fine_where_hidden=True)


def _places(books: int, cloths: int) -> Iterator[Placed]:
    for k in range(books):
        cloth, column, row = k % cloths, (k // cloths) % 2, k // (2 * cloths)
        for name, left in _OFFSETS_MM.items():
            at = left + column * (_BOOK_MM + 60.0), 180.0 + _ROW_MM * row
            yield Placed(f"{name}-{k + 1}", f"cloth-{cloth + 1}", *at)
