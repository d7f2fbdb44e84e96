"""What else came with an edit: wishes that were dropped, pieces that wait beside the cloth again."""

from __future__ import annotations

from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.errors import Remark

__all__ = ["consequences"]


def consequences(old: Project, new: Project) -> tuple[Remark, ...]:
    """What the maker should be told when `old` has become `new`; empty when there is nothing to say.

    A wish is dropped with the piece or print it spoke of. A piece waits again when it lay in the layout being worked
    on, and neither lies there now nor was cut.
    """
    return (*_wishes_dropped(old, new), *_waiting_again(old, new))


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
    if old.layout_id != new.layout_id or old.layout.placements == new.layout.placements:
        return ()
    lying = {placed.piece for placed in new.layout.placements} | {fact.piece for fact in new.cut_pieces}
    lifted = [placed.piece for placed in old.layout.placements if placed.piece not in lying]
    if not lifted or old.cloths == new.cloths:
        return ()
    return (Remark.of("pieces-wait-again", count=len(lifted), pieces=", ".join(lifted)),)
