"""How large panels may be by the sheets of their backing, and where lines between them would do good."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import outline_region
from coverlayout.document.paneling.splits import Wishes
from coverlayout.document.project import Project, Stock
from coverlayout.document.questions import placed_now
from coverlayout.document.stocking.backing import larger_mm, materials_of
from coverlayout.document.stocking.stock_asked import stocks_for
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, PieceAsked, Question
from coverlayout.layout.search.sheets import Pose, poses_on

__all__ = ["check_panels", "is_too_large", "largest_panels", "lines_wished", "need_no_cut", "stocks_of"]

# A cloth that would fall into more panels than this is no work for a bench.
_MOST_PANELS = 40


def stocks_of(project: Project, cloth: Cloth, stock_ids: tuple[str, ...] = ()) -> tuple[Stock, ...]:
    """The stock of each material of the backing: the one named, else the first. BadInput: no backing, or none of it."""
    materials = materials_of(cloth)
    if not materials:
        raise BadInput("panels-no-backing", cloth=cloth.name)
    chosen = []
    for material in materials:
        there = stocks_for(project, material, None)
        chosen.append(next((stock for stock in there if stock.id in stock_ids), there[0]))
    return tuple(chosen)


def largest_panels(cloth: Cloth, stocks: Iterable[Stock]) -> tuple[Point, ...]:
    """The largest panels (across, along; inf where a roll sets no limit) that every backing covers, either way turned.

    >>> web = Stock("stock-1", "web", "web", 230.0, 430.0)
    >>> largest_panels(Cloth("c", "swatch", 600.0, 400.0, web_short_mm=5.0), [web])
    ((440.0, 240.0), (240.0, 440.0))
    """
    found: set[Point] = {(math.inf, math.inf)}
    for stock in stocks:
        by_mm = 2 * larger_mm(cloth, stock.material)
        width, length = (
            side - by_mm for side in (stock.width_mm, math.inf if stock.length_mm is None else stock.length_mm)
        )
        ways = ((width, length), (length, width))
        found = {(min(across, w), min(along, h)) for across, along in found for w, h in ways}
    kept = [
        one for one in found if not any(one != other and one[0] <= other[0] and one[1] <= other[1] for other in found)
    ]
    return tuple(sorted(kept, reverse=True))


def need_no_cut(cloth: Cloth, largest: tuple[Point, ...]) -> bool:
    """True when the backing covers the cloth as it is."""
    box = outline_region(cloth).bounds
    return any(box.width_mm <= w + SAME_LENGTH_MM and box.height_mm <= h + SAME_LENGTH_MM for w, h in largest)


def check_panels(cloth: Cloth, largest: tuple[Point, ...]) -> None:
    """BadInput when a sheet covers no panel at all, or panels would be too many."""
    if any(min(size) <= 2 * cloth.web_short_mm + SAME_LENGTH_MM for size in largest):
        raise BadInput("panels-nothing", cloth=cloth.name)
    box = outline_region(cloth).bounds
    fewest = min(math.ceil(box.width_mm / w) * math.ceil(box.height_mm / h) for w, h in largest)
    if fewest > _MOST_PANELS:
        raise BadInput("panels-too-many", cloth=cloth.name, count=fewest, most=_MOST_PANELS)


def _poses(cloth: ClothAsked, piece: PieceAsked) -> list[Pose] | None:
    """The ways an upright piece may lie on the cloth, None where it may lie at any angle."""
    poses = None if piece.turns_deg is None else poses_on(piece, [(cloth, ground) for ground in cloth.grounds])
    return None if poses is None else [pose for ways in poses for pose in ways]


def is_too_large(cloth: ClothAsked, piece: PieceAsked, largest: Iterable[Point], strip_mm: float) -> bool:
    """True for an upright piece that lies in no panel, less the strip on every side, in any turn it may take here.

    False for one that may lie at any angle or not on this cloth at all: of those nothing is known here.
    """
    poses = _poses(cloth, piece)
    short = 2 * strip_mm - SAME_LENGTH_MM
    fitting = (
        pose.width_mm <= across - short and pose.height_mm <= along - short
        for pose in poses or ()
        for across, along in largest
    )
    return bool(poses) and not any(fitting)


def lines_wished(project: Project, question: Question, cloth: Cloth) -> Wishes:
    """Where lines would do good: sizes of pieces as they may lie here, and lines clear of those that lie."""
    here = next(asked for asked in question.cloths if asked.id == cloth.id)
    poses = [pose for piece in question.pieces for pose in _poses(here, piece) or ()]
    pieces = {piece.id: piece for piece in question.pieces}
    lying = [bounds(outline_on_cloth(pieces[one.piece], one)) for one in placed_now(project) if one.cloth == cloth.id]
    strip = cloth.web_short_mm
    return Wishes(
        across_mm=tuple(sorted({round(pose.width_mm, 3) for pose in poses}, reverse=True)),
        along_mm=tuple(sorted({round(pose.height_mm, 3) for pose in poses}, reverse=True)),
        clear_x_mm=_clear([(box.left_mm - strip, box.right_mm + strip) for box in lying]),
        clear_y_mm=_clear([(box.top_mm - strip, box.bottom_mm + strip) for box in lying]),
        strip_mm=strip,
    )


def _clear(taken: list[tuple[float, float]]) -> tuple[float, ...]:
    """The ends and the middle of every stretch between those that are taken; none where nothing is taken."""
    return tuple(line for start, end in _between(sorted(taken)) for line in (start, (start + end) / 2, end))


def _between(taken: list[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    reach = taken[0][1] if taken else 0.0
    for start, end in taken[1:]:
        if start >= reach:
            yield reach, start
        reach = max(reach, end)
