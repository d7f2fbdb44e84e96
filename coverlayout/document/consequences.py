"""What else came with an edit: wishes dropped, pieces that wait again or may come from anywhere now."""

from __future__ import annotations

from coverlayout.document.project import Layout, LinkWish, LockWish, Project
from coverlayout.errors import Remark

__all__ = ["consequences"]


def consequences(old: Project, new: Project) -> tuple[Remark, ...]:
    """What the maker should be told when `old` has become `new`; empty when there is nothing to say.

    A wish is dropped with the piece or print it spoke of. A piece waits again when it lay in a layout, and neither lies
    there now nor was cut: those of the layout being worked on are named, the others counted. Pieces that had to come
    from a cloth or zone that is gone may come from anywhere.
    """
    return (*_wishes_dropped(old, new), *_waiting_again(old, new), *_sources_freed(old, new))


def _wishes_dropped(old: Project, new: Project) -> tuple[Remark, ...]:
    if old.locks == new.locks and old.links == new.links:
        return ()
    kept = {wish.id for wish in new.wishes}
    gone = [wish for wish in old.wishes if wish.id not in kept]
    return tuple(Remark.of("wish-dropped", wish=_said(wish)) for wish in gone)


def _said(wish: LockWish | LinkWish) -> str:
    """The wish in the maker's own words, else the pieces it speaks of."""
    if wish.sentence:
        return wish.sentence
    return ", ".join(wish.pieces) if isinstance(wish, LinkWish) else wish.piece


def _waiting_again(old: Project, new: Project) -> tuple[Remark, ...]:
    if old.layout_id != new.layout_id or old.cloths == new.cloths:
        return ()
    lifted = _lifted(old.layout, new.layout, new)
    elsewhere = sum(
        len(_lifted(before, after, new))
        for before in old.layouts
        for after in new.layouts
        if before.id == after.id != new.layout_id
    )
    said = []
    if lifted:
        said.append(Remark.of("pieces-wait-again", count=len(lifted), pieces=", ".join(lifted)))
    if elsewhere:
        said.append(Remark.of("pieces-wait-elsewhere", count=elsewhere))
    return tuple(said)


def _lifted(before: Layout, after: Layout, new: Project) -> list[str]:
    """The pieces that lay in a layout, and neither lie there now nor were cut."""
    if before.placements == after.placements:
        return []
    lying = {placed.piece for placed in after.placements} | {fact.piece for fact in new.cut_pieces}
    return [placed.piece for placed in before.placements if placed.piece not in lying]


def _sources_freed(old: Project, new: Project) -> tuple[Remark, ...]:
    """When a cloth or zone went that pieces had to come from."""
    if old.cloths == new.cloths:
        return ()
    places = {one for cloth in new.cloths for one in (cloth.id, *(zone.id for zone in cloth.zones))}
    sources = [source for book in old.books for source in (book.cover_source, book.liner_source, book.side_source)]
    sources += [book.label.source for book in old.books if book.label is not None]
    sources += [own.source for own in old.own_pieces]
    gone = {place for source in sources for place in (source.cloth_id, source.zone_id) if place} - places
    return (Remark("sources-freed"),) if gone else ()
