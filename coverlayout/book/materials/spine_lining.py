"""The lining of a case-bound block's spine: a strip as wide as the spine, or a tube folded from three times that."""

from __future__ import annotations

from coverlayout.book.book import Book, SpineLining, Volume
from coverlayout.book.materials.cut_item import CutItem
from coverlayout.book.measures import measures
from coverlayout.book.round_spine import arc_mm
from coverlayout.book.rules.belonging import belongs
from coverlayout.book.rules.table import rule
from coverlayout.book.sewing.stations import page_height_mm

__all__ = ["spine_lining", "spine_lining_kind"]


def spine_lining_kind(book: Book) -> SpineLining:
    """As given; else a strip in a case. The spines of all other structures are left without."""
    if not belongs("spine_lining", book.structure):
        return "none"
    return book.spine_lining or "strip"


def spine_lining(book: Book, volume: Volume) -> CutItem | None:
    """What is glued to the spine of one volume's block, as long as the page; None without a lining.

    It goes over the block itself: its thickness, or the arc of a round spine. BadInput as `measures`.

    >>> case = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 24.0), spine_lining="hollow tube")
    >>> lining = spine_lining(case, case.volumes[0])
    >>> lining.width_mm, lining.height_mm
    (72.0, 210.0)
    """
    kind = spine_lining_kind(book)
    if kind == "none":
        return None
    made = measures(book, volume)
    is_tube = kind == "hollow tube"
    spine_mm = arc_mm(made.thickness_mm, made.rise_mm)
    return CutItem(
        name="hollow tube" if is_tube else "spine lining",
        material="lining",
        width_mm=rule("hollow tube", book.structure).figure(spine_mm) if is_tube else spine_mm,
        height_mm=page_height_mm(made),
        grain="head to tail",
        volumes=(volume.number,),
        note="cut-hollow-tube" if is_tube else "",
    )
