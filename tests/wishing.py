"""Questions with a print for tests of wishes, and a decision by plain arithmetic for pieces that only lie side by side.

`decide_in_row` shares nothing with the program: upright pieces as high as the cloth, in one row, each locked or linked
to a stripe print across; small enough to try every order and every whole number of repeats.
"""

from __future__ import annotations

import itertools
import math

from coverlayout.errors import Remark
from coverlayout.geometry.frames import Point, shift
from coverlayout.geometry.shapes import Region, bounds, rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, PieceAsked, Placed, Question
from coverlayout.motif.lattice import Lattice

HEIGHT_MM = 50.0


def strip_piece(name: str, width_mm: float) -> PieceAsked:
    """A piece as high as the cloth, anchored at its top-left corner."""
    return PieceAsked(name, rectangle(width_mm, HEIGHT_MM), (0.0, 0.0), print_id="stripes")


def striped(
    width_mm: float, step_mm: float, *, origin_mm: float = 0.0, known: bool = True, flaws: tuple[KeepOut, ...] = ()
) -> ClothAsked:
    """A cloth one piece high, on which a stripe comes again every `step_mm` across."""
    whole = rectangle(width_mm, HEIGHT_MM)
    lattice = Lattice((step_mm, 0.0))
    ground = Ground("all", Region.of(whole), "stripes", 0.0, lattice, shift(origin_mm, 0.0), origin_known=known)
    return ClothAsked("c", "Cloth", whole, (ground,), flaws)


def printed_cloth(
    width_mm: float,
    length_mm: float,
    lattice: Lattice,
    *,
    origin_mm: Point = (0.0, 0.0),
    known: bool = True,
    name: str = "c",
    flaws: tuple[KeepOut, ...] = (),
) -> ClothAsked:
    """A rectangular cloth with one print all over."""
    whole = rectangle(width_mm, length_mm)
    ground = Ground(f"{name}-all", Region.of(whole), "birds", 0.0, lattice, shift(*origin_mm), origin_known=known)
    return ClothAsked(name, name, whole, (ground,), flaws)


def answered(placed: tuple[Placed, ...] | None, clearance_mm: float = 0.0) -> Answer:
    """A yes with these places, or a no."""
    if placed is None:
        return Answer("does not fit", True, Remark.of("lay-not-found"))
    return Answer("fits", True, Remark.of("lay-nothing-asked"), placed=placed, clearance_mm=clearance_mm)


def _held_mm(question: Question, name: str, origin_mm: float, at: dict[str, float]) -> list[float]:
    """A place for each lock of a piece and each link to one that lies, whole repeats aside."""
    held = [origin_mm + lock.place_mm[0] - lock.point_mm[0] for lock in question.locks if lock.piece == name]
    for link in question.links:
        steps = dict(zip(link.pieces, (0.0, *(x for x, _ in link.differences_mm)), strict=True))
        points = dict(zip(link.pieces, (x for x, _ in link.points_mm), strict=True))
        lying = [other for other in steps if other in at] if name in steps else []
        held += [at[other] + points[other] + steps[name] - steps[other] - points[name] for other in lying]
    return held


def decide_in_row(question: Question) -> Answer:
    """Left to right in every order, each piece as far left as its lock or its link to one on the left lets it."""
    cloth, *others = question.cloths
    ground = cloth.grounds[0]
    if others:
        return Answer("not found", False, Remark.of("lay-not-found"))
    assert ground.lattice_mm is not None
    assert ground.print_to_cloth is not None
    if question.locks and not ground.origin_known:
        return Answer("not found", False, Remark.of("lay-not-found"))
    step_mm, origin_mm = ground.lattice_mm.a_mm[0], ground.print_to_cloth.dx
    ends_mm = ground.usable.bounds.right_mm
    blocks = sorted((k.region.bounds.left_mm, k.region.bounds.right_mm) for k in cloth.keep_outs)
    for order in itertools.permutations(question.pieces):
        at: dict[str, float] = {}
        right_mm = ground.usable.bounds.left_mm
        for asked in order:
            box = bounds(asked.outline_mm)
            held = _held_mm(question, asked.id, origin_mm, at)
            left_mm = right_mm
            while True:
                x_mm = left_mm - box.left_mm
                if held:
                    x_mm = held[0] + math.ceil((x_mm - held[0] - 1e-9) / step_mm) * step_mm
                left_mm = x_mm + box.left_mm
                hit = [end for start, end in blocks if start < left_mm + box.width_mm - 1e-9 and end > left_mm + 1e-9]
                if not hit:
                    break
                left_mm = hit[0]
            if any(abs((x_mm - other) / step_mm - round((x_mm - other) / step_mm)) > 1e-6 for other in held):
                break
            at[asked.id] = x_mm
            right_mm = left_mm + box.width_mm
        if len(at) == len(order) and right_mm <= ends_mm + 1e-9:
            return answered(tuple(Placed(one.id, cloth.id, at[one.id], 0.0) for one in question.pieces))
    return answered(None)
