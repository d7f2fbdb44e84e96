"""What is worth saying about a job before it is laid: warnings about its books and cloths that refuse nothing."""

from __future__ import annotations

from collections.abc import Iterator

from coverlayout.book.structures import notes as book_notes
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut, swapped_note
from coverlayout.cloth.usable import keep_out_regions, outline_region, usable, zone_region
from coverlayout.document.asking.matching import apart_on_prints
from coverlayout.document.project import Project
from coverlayout.errors import Remark

__all__ = ["job_remarks"]


def job_remarks(project: Project, cuts: tuple[Cut, ...] | None = None) -> tuple[Remark, ...]:
    """Remarks on books (liners, turn-ins), on pieces that match but lie on several prints, then on cloths.

    `cuts` is the ladder that sizes are held against, None the one in use; BadInput when the maker's own cannot be read.
    """
    on_books = (note for book in project.books for note in book_notes(book))
    on_cloths = (note for cloth in project.cloths for note in _on_cloth(cloth, cuts))
    return (*on_books, *apart_on_prints(project), *on_cloths)


def _on_cloth(cloth: Cloth, cuts: tuple[Cut, ...] | None) -> Iterator[Remark]:
    swapped = swapped_note(cloth.width_mm, cloth.length_mm, cuts) if cloth.cut_name is None else None
    if swapped is not None:
        yield swapped
    if usable(cloth).is_empty:
        yield Remark.of("cloth-nothing-left", cloth=cloth.name)
        return
    for flaw, region in keep_out_regions(cloth):
        if not region.overlaps(outline_region(cloth)):
            yield Remark.of("flaw-beside-cloth", cloth=cloth.name, flaw=flaw.name)
    for zone in cloth.zones:
        if zone_region(cloth, zone).is_empty:
            yield Remark.of("zone-nothing-left", cloth=cloth.name, zone=zone.name)
