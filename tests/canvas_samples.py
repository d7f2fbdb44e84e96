"""A small job for tests of the canvas: one cloth with a half-drop print and a crease, one book, three pieces placed."""

from __future__ import annotations

import io
from dataclasses import replace

from PIL import Image, ImageDraw

from coverlayout.book.book import Book, Volume
from coverlayout.cloth.cloth import Cloth, Flaw
from coverlayout.document.project import Layout, Preferences, Project
from coverlayout.document.session import Session
from coverlayout.document.storage.pictures import Pictures
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint, PictureRef, Print, Up
from coverlayout.motif.repeat import lattice_of
from coverlayout.units import LengthStyle

__all__ = ["job", "leaf_picture", "leftover", "linen", "printed", "session_of", "with_side"]

LEAF_PX = (64, 96)


def leaf_picture() -> bytes:
    """A tile without symmetry: light ground, a red corner at the top left, a green bar at the right."""
    picture = Image.new("RGB", LEAF_PX, (240, 230, 210))
    pencil = ImageDraw.Draw(picture)
    pencil.rectangle((0, 0, 19, 29), fill=(200, 40, 30))
    pencil.rectangle((54, 40, 63, 89), fill=(30, 120, 60))
    kept = io.BytesIO()
    picture.save(kept, "PNG")
    return kept.getvalue()


def leaf(up: Up = "one-way") -> Print:
    ref = PictureRef(Pictures.hash_of(leaf_picture()), "png", "leaf.png", *LEAF_PX)
    lattice = lattice_of("half-drop", (64.0, 96.0))
    return Print("print-1", "Leaf", lattice, "half-drop", up=up, picture=ref, tile_mm=(64.0, 96.0))


def printed(at_mm: tuple[float, float]) -> str:
    """The colour of the leaf at a place of the linen, by arithmetic: a half-drop of 64 x 96 mm laid at (20, 10)."""
    column, x = divmod(at_mm[0] - 20.0, 64.0)
    y = (at_mm[1] - 10.0 - 48.0 * column) % 96.0
    if x < 20.0 and y < 30.0:
        return "#c8281e"
    return "#1e783c" if x >= 54.0 and 40.0 <= y < 90.0 else "#f0e6d2"


def linen() -> Cloth:
    """460 x 330 mm, with a crease near the lower edge."""
    crease = Flaw("flaw-1", "Crease", ((10.0, 300.0), (200.0, 310.0)), 6.0)
    return Cloth("cloth-1", "Linen", 460.0, 330.0, flaws=(crease,), laid=LaidPrint("print-1", (20.0, 10.0)))


def leftover() -> Cloth:
    """300 x 280 mm, cut crooked, its print turned a quarter."""
    ring = ((0.0, 10.0), (290.0, 0.0), (300.0, 270.0), (20.0, 280.0))
    return Cloth("cloth-2", "Leftover", 300.0, 280.0, outline_mm=ring, laid=LaidPrint("print-1", turn_deg=90.0))


def job(*cloths: Cloth, up: Up = "one-way", books: int = 1) -> Project:
    """Covers of pages 4.5 x 6 in with 15 mm turn-in (144.3 x 182.4 mm); the back liner waits."""
    book = Book("book-1", "Ledger", page_mm=(114.3, 152.4), volumes=tuple(Volume(k + 1) for k in range(books)))
    placed = (
        Placed("front-1", "cloth-1", 100.0, 116.0),
        Placed("back-1", "cloth-1", 255.0, 116.0),
        Placed("liner-front-1", "cloth-1", 395.0, 95.0),
    )
    return Project(
        "Ledgers",
        prints=(leaf(up),),
        cloths=cloths or (linen(),),
        books=(book,),
        layouts=(Layout("layout-1", "Layout 1", placed),),
    )


def session_of(project: Project) -> Session:
    """A session with the picture in it."""
    return Session(project, Pictures().with_picture(leaf_picture()))


def with_side(project: Project, side: str, style: LengthStyle = LengthStyle()) -> Project:
    """The project seen from a side."""
    return replace(project, preferences=Preferences(side="back" if side == "back" else "print", length_style=style))
