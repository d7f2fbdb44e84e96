"""The same job on cloth still to be bought: each cut of a ladder in place of the project's own cloths."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from coverlayout.book.book import Source
from coverlayout.book.pieces import Piece
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut
from coverlayout.document.asking.grounds import prints_for, prints_lying
from coverlayout.document.project import Project
from coverlayout.motif.prints import LaidPrint

__all__ = ["Purchase", "purchases"]


@dataclass(frozen=True)
class Purchase:
    """A cut to buy, how many of it (one for each print that is needed), the price of all, and the job on them."""

    name: str
    cut: Cut
    count: int
    price: float | None
    project: Project


def purchases(project: Project, planned: tuple[Piece, ...], cuts: Iterable[Cut]) -> tuple[Purchase, ...]:
    """For each cut the project with its `planned` pieces on that cut alone, or on one for each print they need.

    The cut goes through what the first cloth goes through: its trim, selvedges, unbacked strip and changes in size.
    Its flaws, zones and crooked outline stay behind; where the print will fall on it is not known, only its quarter
    turn. The doubt is that of cloth to buy. When no piece names a print, the cut carries the first cloth's.
    """
    like = project.cloths[0] if project.cloths else Cloth("cloth", "", 1.0, 1.0)
    print_ids = _prints_needed(project, planned, like)
    prices = {price.cut_name: price.amount for price in project.prices}
    sources = _sources_by_print(project)
    made: list[Purchase] = []
    for cut in cuts:
        bought = tuple(_bought(project, like, cut, print_id) for print_id in print_ids)
        price = prices.get(cut.name, cut.price)
        made.append(
            Purchase(
                name=cut.name if len(bought) == 1 else f"{len(bought)} x {cut.name}",
                cut=cut,
                count=len(bought),
                price=None if price is None else price * len(bought),
                project=replace(sources, cloths=bought),
            )
        )
    return tuple(made)


def _print_of(project: Project, source: Source) -> str | None:
    """The one print a source stands for; None when it is left open or more than one lies where it points."""
    if source == Source():
        return None
    found = prints_for(project, source)
    return next(iter(found)) if len(found) == 1 else None


def _prints_needed(project: Project, planned: tuple[Piece, ...], like: Cloth) -> tuple[str | None, ...]:
    named = (_print_of(project, piece.source) for piece in planned)
    needed = tuple(dict.fromkeys(print_id for print_id in named if print_id is not None))
    return needed or (next((laid.print_id for laid in prints_lying(like) if laid is not None), None),)


def _sources_by_print(project: Project) -> Project:
    """The project with every source told by its print alone, since its cloths and zones cannot be bought again."""

    def by_print(source: Source) -> Source:
        return Source(print_id=_print_of(project, source))

    return project.with_sources(by_print)


def _bought(project: Project, like: Cloth, cut: Cut, print_id: str | None) -> Cloth:
    return replace(
        like,
        id=f"bought-{print_id}" if print_id else "bought",
        name=cut.name,
        width_mm=cut.width_mm,
        length_mm=cut.length_mm,
        state="to-buy",
        outline_mm=None,
        outline_changes_in=0,
        doubt_percent=None if like.state == "measured" else like.doubt_percent,
        flaws=(),
        zones=(),
        laid=None if print_id is None else _laid_anew(project, print_id),
        cut_name=cut.name,
        price=cut.price,
    )


def _laid_anew(project: Project, print_id: str) -> LaidPrint:
    """A print as it will lie on new cloth: as stretched as where it lies now, straight, its place not known."""
    lying = [laid for cloth in project.cloths for laid in prints_lying(cloth) if laid is not None]
    known = next((laid for laid in lying if laid.print_id == print_id), LaidPrint(print_id))
    # What was measured after a change in size holds that change already; new cloth has yet to go through it.
    as_printed = known if known.changes_in == 0 else LaidPrint(print_id, turn_deg=known.turn_deg)
    turn_deg = round(known.turn_deg / 90.0) % 4 * 90.0
    return replace(as_printed, origin_mm=(0.0, 0.0), turn_deg=turn_deg, skew_percent=0.0, origin_known=False)
