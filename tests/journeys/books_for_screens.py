"""Books of our own for the pictures of the README: one of every structure, and those that lie on the table."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import Book, Label, Paper, Sewing, Source, Structure, ThreadColour, TurnIns, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import JobRules, Layout, Project, Stock
from coverlayout.motif.prints import LaidPrint

__all__ = ["bound", "every_structure", "with_sheets"]

# A page that is taller than wide, and a block that can be seen in a picture.
_BLOCK_MM = (112.0, 156.0, 18.0)
# What a structure is drawn with beside the block; all else follows the rules.
_OF_STRUCTURE: dict[Structure, dict[str, object]] = {
    "separate-boards": {"square_mm": 3.0},
    "exposed-spine-wrap": {},
    "flat-case": {"label": Label(60.0, 24.0, from_head_mm=34.0)},
    "rounded-case": {},
    "quarter-case": {},
    "half-case": {},
    "limp-wrap": {"block_mm": (112.0, 156.0, 5.0), "fore_edge_flap_mm": 45.0},
    "side-sewn": {"block_mm": (156.0, 112.0, 12.0)},
    "accordion": {},
    "slipcase": {},
}


def every_structure() -> tuple[Book, ...]:
    """A book of every structure, in the order of the list in the window."""
    return tuple(_drawn(structure, figures) for structure, figures in _OF_STRUCTURE.items())


def _drawn(structure: Structure, figures: dict[str, object]) -> Book:
    plain = Book(structure, structure, structure, block_mm=_BLOCK_MM, turn_ins=TurnIns.all_round(15.0))
    return replace(plain, **figures)  # type: ignore[arg-type]  # figures of any field of a book


def bound(demo: Project) -> Project:
    """A half case from sixteen sheets: waders over spine and corners, grains on the sides."""
    by_name = {each.name: each.id for each in demo.prints}
    paper = Paper(
        (297.0, 420.0), "A3", grain="long", gsm=120.0, bulk=1.25, sheets=16, cut=(2, 1), folds=1, per_section=4
    )
    book = Book(
        "book-1",
        "Tide book",
        "half-case",
        paper=paper,
        cover_source=Source(print_id=by_name["Wader"]),
        side_source=Source(print_id=by_name["Grains"]),
        liners="none",
        sewing=Sewing("pairs", count=6, colours=(ThreadColour("rust", 4), ThreadColour("black", 4))),
    )
    return replace(
        demo,
        name="Tide book",
        cloths=(
            Cloth("cloth-1", "Wader, fat quarter", 558.8, 457.2, laid=LaidPrint(by_name["Wader"])),
            Cloth("cloth-2", "Grains", 480.0, 300.0, laid=LaidPrint(by_name["Grains"])),
        ),
        books=(book,),
        layouts=(Layout("layout-1", "Layout 1"),),
        rules=JobRules(gap_mm=3.0),
        locks=(),
        links=(),
    )


def with_sheets(demo: Project) -> Project:
    """Twelve such books, and what their boards and papers come as, with prices of our own invention."""
    whole = bound(demo)
    waders, grains = whole.cloths
    twelve = tuple(Volume(number) for number in range(1, 13))
    stocks = (
        Stock("stock-1", "Grey board", "board", 700.0, 1000.0, 2.0, "long", price=4.80),
        Stock("stock-2", "Endpaper", "paper", 500.0, 700.0, grain="long", price=1.10),
        Stock("stock-3", "Mull", "lining", 500.0, grain="long", price=3.20),
    )
    return replace(
        whole,
        name="Tide books, an edition of twelve",
        books=(replace(whole.books[0], volumes=twelve, next_volume_number=13),),
        cloths=(
            replace(waders, name="Wader, a yard", width_mm=1100.0, length_mm=914.4),
            replace(grains, name="Grains, a yard", width_mm=1100.0, length_mm=914.4),
        ),
        stocks=stocks,
        preferences=replace(demo.preferences, currency="EUR"),
    )
