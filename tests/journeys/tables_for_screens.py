"""What lies on the table before the pictures of the README are taken: prints of the demo on cloths of our own."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import Book, Source, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.asking.sentences import with_wishes_said
from coverlayout.document.project import JobRules, Layout, Project
from coverlayout.motif.prints import LaidPrint

__all__ = ["OWN_CUTS", "leftover", "matched", "shop", "swatch", "yard"]

# Pages of 4.5 x 6 in.
_PAGE_MM = (114.3, 152.4)


def _project(demo: Project, name: str, cloth: Cloth, book: Book, *, gap_mm: float = 0.0) -> Project:
    """A project of its own with the prints of the demo."""
    return replace(
        demo,
        name=name,
        cloths=(cloth,),
        books=(book,),
        layouts=(Layout("layout-1", "Layout 1"),),
        rules=JobRules(gap_mm=gap_mm),
    )


def _print_of(demo: Project, name: str) -> str:
    return next(each.id for each in demo.prints if each.name == name)


def yard(demo: Project) -> Project:
    """A yard still to be divided; covers come from the wader, liners from the grains."""
    wader, grains = _print_of(demo, "Wader"), _print_of(demo, "Grains")
    book = Book(
        "book-1",
        "Notebook",
        page_mm=_PAGE_MM,
        cover_source=Source(print_id=wader),
        liner_source=Source(print_id=grains),
    )
    cloth = Cloth("cloth-1", "Yard of small prints", 1066.8, 914.4, laid=LaidPrint(wader))
    return _project(demo, "Notebook from a yard of small prints", cloth, book, gap_mm=3.0)


def leftover(demo: Project) -> Project:
    """A leftover as measured, nothing drawn on it yet."""
    cloth = Cloth("cloth-1", "Wader leftover", 480.0, 440.0, laid=LaidPrint(_print_of(demo, "Wader"), (12.0, 20.0)))
    return _project(demo, "Notebook from a leftover", cloth, Book("book-1", "Notebook", page_mm=_PAGE_MM))


def swatch(demo: Project) -> Project:
    """A swatch with room for one cover more."""
    cloth = Cloth("cloth-1", "Wader swatch", 480.0, 420.0, laid=LaidPrint(_print_of(demo, "Wader")))
    return _project(demo, "Notebook from a swatch", cloth, Book("book-1", "Notebook", page_mm=_PAGE_MM), gap_mm=4.0)


def matched(demo: Project) -> Project:
    """A square foot and a book whose covers are to be alike: too little for both."""
    cloth = Cloth("cloth-1", "Wader swatch", 304.8, 304.8, laid=LaidPrint(_print_of(demo, "Wader")))
    book = Book("book-1", "Notebook", page_mm=_PAGE_MM, cover_turns="none", liner_turns="quarter")
    alone = replace(_project(demo, "Notebook from a square foot", cloth, book), locks=(), links=())
    return with_wishes_said(alone, ("back the same as front",))


# Cuts of one cloth, 44 in wide, with prices of our own invention.
OWN_CUTS = """cut = [
  { name = "fat eighth", width = "22 in", length = "9 in", of = "44 in", price = 2.60 },
  { name = "fat quarter", width = "22 in", length = "18 in", of = "44 in", price = 4.20 },
  { name = "long quarter", width = "44 in", length = "9 in", of = "44 in", price = 4.60 },
  { name = "half yard", width = "44 in", length = "18 in", of = "44 in", price = 9.20 },
  { name = "yard", width = "44 in", length = "36 in", of = "44 in", price = 17.50 },
  { name = "1 1/2 yards", width = "44 in", length = "54 in", of = "44 in", price = 26.00 },
  { name = "2 yards", width = "44 in", length = "72 in", of = "44 in", price = 34.00 },
]
"""


def shop(demo: Project) -> Project:
    """Five notebooks, and a fat quarter to begin with."""
    five = tuple(Volume(number) for number in range(1, 6))
    cloth = Cloth("cloth-1", "Fat quarter", 558.8, 457.2, laid=LaidPrint(_print_of(demo, "Wader")))
    book = replace(matched(demo).books[0], volumes=five, next_volume_number=6)
    preferences = replace(demo.preferences, currency="EUR")
    return replace(_project(demo, "Five notebooks", cloth, book), preferences=preferences)
