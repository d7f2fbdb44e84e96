"""Cloth to buy for the job: each cut of the ladder, least first, in place of the cloths there are or beside them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut, ladder, ladder_in_use
from coverlayout.document.asking.purchases import Purchase, purchases
from coverlayout.document.checks.figures import free_name
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces
from coverlayout.errors import BadInput

__all__ = ["kept_cloths", "on_cuts"]


def on_cuts(project: Project, cuts: Iterable[Cut] | None = None) -> Iterator[tuple[Purchase, Project]]:
    """Each purchase with the project on it, least first: by price where all are known, else by area.

    A cloth from which a piece was cut or spoiled, or on which one is pinned, stays, and the purchase comes beside it;
    the others go with all that lies on them. `cuts` None: the ladder in use, or the one that comes with the program
    where the maker's own cannot be read. Nothing when nothing is left to cut. BadInput as `planned_pieces` says.
    """
    planned = planned_pieces(project)
    if not planned:
        return
    bought = purchases(project, planned, _ladder() if cuts is None else cuts)
    for purchase in sorted(bought, key=_by_price if _all_priced(bought) else _by_area):
        yield purchase, _bought(project, purchase)


def _ladder() -> tuple[Cut, ...]:
    try:
        return ladder_in_use()
    except BadInput:
        return ladder()


def _all_priced(bought: tuple[Purchase, ...]) -> bool:
    return all(purchase.price is not None for purchase in bought)


def _by_area(purchase: Purchase) -> float:
    return purchase.count * purchase.cut.area_mm2


def _by_price(purchase: Purchase) -> tuple[float, float]:
    return purchase.price or 0.0, _by_area(purchase)


def kept_cloths(project: Project) -> tuple[Cloth, ...]:
    """The cloths from which a piece was cut or spoiled, or on which one is pinned in the layout being worked on."""
    pinned = {placed.cloth for placed in project.layout.placements if placed.piece in project.layout.pinned}
    needed = pinned | {fact.place.cloth for fact in project.cut_pieces}
    return tuple(cloth for cloth in project.cloths if cloth.id in needed)


def _bought(project: Project, purchase: Purchase) -> Project:
    """The project with the cloth of a purchase, under ids and names of its own; places on cloths that go are lost."""
    counted, cloths = purchase.project, [*kept_cloths(project)]
    taken = replace(counted, cloths=project.cloths)
    for cloth in purchase.project.cloths:
        new_id, taken = taken.named_anew("cloth")
        name = free_name(cloth.name, [other.name for other in cloths])
        cloths.append(replace(cloth, id=new_id, name=name))
    here = {cloth.id for cloth in cloths}
    layouts = tuple(layout.keeping(lambda placed: placed.cloth in here) for layout in project.layouts)
    return replace(counted, cloths=tuple(cloths), layouts=layouts, next_number=taken.next_number)
