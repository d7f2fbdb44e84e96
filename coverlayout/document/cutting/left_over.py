"""What is left of the cloths beside the pieces that lie on them: the largest rectangles still free on each ground."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass

from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.geometry.empty_rectangles import EmptyRectangle, each_empty_rectangle
from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Region
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked

__all__ = ["LEAST_MM", "ClothLaid", "LeftOver", "cloths_laid", "left_on", "left_over", "working_out"]

# Ground narrower than this is no use to a book: half of a usual turn-in is more.
LEAST_MM = 10.0
# Of one cloth and of all together; what is smaller than the eighth is an offcut.
_MOST = 8
# What was found for the last cloths seen, the oldest first.
_REMEMBERED = 32


@dataclass(frozen=True)
class LeftOver:
    """A free rectangle of a cloth, its sides along the print that lies there; `print_id` None on plain ground.

    `up_deg` is the turn of the print's up (of the lengthwise thread on plain ground) in the cloth frame.
    """

    cloth_id: str
    ground_id: str
    rectangle: EmptyRectangle
    print_id: str | None = None
    up_deg: float = 0.0


@dataclass(frozen=True)
class ClothLaid:
    """One cloth with the outlines, in its frame, of the planned pieces that lie there, and the gap to keep."""

    cloth: ClothAsked
    outlines_mm: tuple[Ring, ...] = ()
    gap_mm: float = 0.0


_known: dict[ClothLaid, tuple[LeftOver, ...]] = {}


def left_over(project: Project, *, most: int = _MOST) -> tuple[LeftOver, ...]:
    """The largest free rectangles of all cloths in the layout being worked on, largest first, none sharing ground.

    From pieces and from holes that spoiled ones left, the gap is kept, straight across and along; flaws are avoided,
    also those that are fine where hidden; one rectangle lies on one ground, so never across two prints. Empty when
    there is no cloth, or nothing wider than LEAST_MM left. Raises BadInput as `planned_pieces` does.
    """
    found = [left for laid in cloths_laid(project) for left in left_on(laid)]
    return tuple(sorted(found, key=_by_size)[:most])


def cloths_laid(project: Project) -> tuple[ClothLaid, ...]:
    """Each cloth with what lies on it: what `left_on` asks for, so that a window can take one cloth at a time."""
    judge = judge_for(project)
    outlines: dict[str, list[Ring]] = {}
    for placed in placed_now(project):
        outlines.setdefault(placed.cloth, []).append(outline_on_cloth(judge.pieces[placed.piece], placed))
    question = judge.question
    return tuple(
        ClothLaid(cloth, tuple(sorted(outlines.get(cloth.id, ()))), question.gap_mm) for cloth in question.cloths
    )


def left_on(laid: ClothLaid) -> tuple[LeftOver, ...]:
    """The largest free rectangles of one cloth, largest first; remembered for the last cloths seen.

    >>> from coverlayout.geometry.shapes import rectangle
    >>> from coverlayout.layout.question import Ground
    >>> swatch = ClothAsked("c", "swatch", rectangle(300.0, 200.0), (Ground("c", Region.of(rectangle(300.0, 200.0))),))
    >>> (below, beside, *_) = left_on(ClothLaid(swatch, (rectangle(100.0, 80.0),), gap_mm=5.0))
    >>> (below.rectangle.width_mm, below.rectangle.height_mm), (beside.rectangle.width_mm, beside.rectangle.height_mm)
    ((195.0, 200.0), (105.0, 115.0))
    """
    if laid not in _known:
        deque(working_out(laid), maxlen=0)
    return _known[laid]


def working_out(laid: ClothLaid) -> Iterator[None]:
    """Work out what is left of one cloth step by step, each some ten milliseconds; `left_on` then knows it at once."""
    if laid in _known:
        return
    taken = Region.union(_taken(laid))
    yield
    found: list[LeftOver] = []
    seen = Region.nothing()
    # Joined zones come before the zones they are made of, whose ground is theirs already.
    for ground in laid.cloth.grounds:
        free = ground.usable.minus(taken) if seen.is_empty else ground.usable.minus(seen).minus(taken)
        seen = ground.usable if seen.is_empty else Region.union([seen, ground.usable])
        turn_deg = ground.up_deg - 90.0 * round(ground.up_deg / 90.0)
        for empty in each_empty_rectangle(free, turn_deg=turn_deg, least_mm=LEAST_MM, most=_MOST):
            found.append(LeftOver(laid.cloth.id, ground.id, empty, ground.print_id, ground.up_deg))
            yield
    while len(_known) >= _REMEMBERED:
        del _known[next(iter(_known))]
    _known[laid] = tuple(sorted(found, key=_by_size)[:_MOST])


def _taken(laid: ClothLaid) -> Iterator[Region]:
    """Everything that new pieces keep off: pieces and spoiled holes with the gap, flaws as they are drawn."""
    cut = [outline_on_cloth(piece, placed) for piece, placed in laid.cloth.fixed]
    for ring in (*laid.outlines_mm, *cut):
        yield Region.of(ring).inset(-laid.gap_mm)
    for keep_out in laid.cloth.keep_outs:
        yield keep_out.region.inset(-laid.gap_mm) if keep_out.spoiled else keep_out.region


def _by_size(left: LeftOver) -> tuple[float, str, tuple[float, float]]:
    """Largest first; alike ones by cloth and place, so that a list never shuffles by itself."""
    return -left.rectangle.area_mm2, left.cloth_id, left.rectangle.middle_mm
