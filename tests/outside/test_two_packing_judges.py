"""The judge of layouts and a second one, written with shapely alone, agree on random layouts and on spoiled ones.

The pieces have no symmetry (angles, pieces with a corner cut), lie in two zones of two sheared prints and on a second
cloth cut askew, some locked, some linked; there are flaws, some fine where hidden, and holes left by spoiled pieces.
No outside figures are needed: the two judges share no code.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import replace

import pytest
from second_judge import broken_rules, waiting
from shapely import affinity
from shapely.geometry import Polygon

from coverlayout.geometry.frames import Ring, shift, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice

TURNS = ((0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0), None)
LATTICES = {"waves": Lattice((37.0, 5.0), (-11.0, 52.0)), "seeds": Lattice((41.0, 20.5), (0.0, 41.0))}
ORIGINS = {"waves": (4.0, 9.0), "seeds": (263.0, 2.0)}
SECOND: Ring = ((12.0, 0.0), (230.0, 16.0), (214.0, 260.0), (0.0, 240.0))
Layout = tuple[Question, list[Placed]]


def outline(rng: random.Random) -> Ring:
    w, h = rng.uniform(25, 70), rng.uniform(25, 80)
    kind = rng.choice(["box", "angle", "cut", "wedge"])
    if kind == "angle":
        arm, foot = rng.uniform(8, w - 8), rng.uniform(8, h - 8)
        return ((0.0, 0.0), (arm, 0.0), (arm, foot), (w, foot), (w, h), (0.0, h))
    if kind == "cut":
        cut = rng.uniform(3, 12)
        return ((cut, 0.0), (w, 0.0), (w, h), (0.0, h), (0.0, 2 * cut))
    return rectangle(w, h) if kind == "box" else ((0.0, 0.0), (w, 0.0), (w * rng.uniform(0.4, 0.8), h), (0.0, h))


def some_piece(rng: random.Random, name: str, print_id: str | None) -> PieceAsked:
    ring = outline(rng)
    shape = Polygon(ring)
    inner = shape.buffer(-rng.uniform(2, 6), join_style="mitre")
    seen = tuple(inner.exterior.coords)[:-1] if inner.geom_type == "Polygon" and not inner.is_empty else None
    anchor = rng.uniform(0, 30), rng.uniform(0, 30)
    return PieceAsked(name, ring, anchor, rng.choice(TURNS), print_id, seen_mm=seen)


def put(piece: PieceAsked, one: Placed, ring: Ring | None = None) -> Polygon:
    start = affinity.translate(Polygon(ring or piece.outline_mm), -piece.anchor_mm[0], -piece.anchor_mm[1])
    return affinity.translate(affinity.rotate(start, one.turn_deg, origin=(0, 0)), one.x_mm, one.y_mm)


def grounds() -> tuple[ClothAsked, ...]:
    first = (
        Ground("left", Region.of(rectangle(250, 300)), "waves", 0.0, LATTICES["waves"], shift(*ORIGINS["waves"])),
        Ground("right", Region.of(rectangle(240, 300, 260, 0)), "seeds", 0.0, LATTICES["seeds"],
               shift(*ORIGINS["seeds"])),
    )  # fmt: skip
    up = 7.0
    leaning = turn(up).then(shift(3.0, 5.0))
    second = Ground("askew", Region.of(SECOND), "waves", up, LATTICES["waves"].mapped(turn(up)), leaning)
    return ClothAsked("one", "one", rectangle(500, 300), first), ClothAsked("two", "two", SECOND, (second,))


def on_lattice(rng: random.Random, ground: Ground, start: tuple[float, float]) -> tuple[float, float]:
    assert ground.lattice_mm is not None
    assert ground.lattice_mm.b_mm is not None
    (ax, ay), (bx, by) = ground.lattice_mm.a_mm, ground.lattice_mm.b_mm
    i, j = rng.randint(-9, 9), rng.randint(-9, 9)
    return start[0] + i * ax + j * bx, start[1] + i * ay + j * by


def some_layout(seed: int) -> Layout:
    """Pieces laid one after the other wherever chance and shapely allow, then wishes, flaws and holes that hold."""
    rng = random.Random(seed)
    cloths = grounds()
    gap_mm = rng.choice([0.0, 0.0, 2.0, 5.0])
    pieces, placed, locks, links = list[PieceAsked](), list[Placed](), list[Lock](), list[Link]()
    lying: dict[str, list[Polygon]] = {"one": [], "two": []}
    for number in range(rng.randint(3, 9)):
        print_id = rng.choice(["waves", "seeds", None])
        piece = some_piece(rng, f"piece-{number}", print_id)
        lock = Lock(piece.id, (5.0, 9.0), (rng.uniform(0, 40), rng.uniform(0, 40))) if rng.random() < 0.4 else None
        one = tried(rng, piece, lock, cloths, lying, gap_mm)
        if one is None:
            continue
        pieces.append(piece)
        placed.append(one)
        locks += [] if lock is None else [lock]
        links += linked(rng, pieces, placed, cloths)
    keep_outs = some_flaws(rng, pieces, placed, lying["one"], gap_mm)
    cloths = (replace(cloths[0], keep_outs=keep_outs), cloths[1])
    return Question(tuple(pieces), cloths, gap_mm, tuple(locks), tuple(links)), placed


def tried(
    rng: random.Random,
    piece: PieceAsked,
    lock: Lock | None,
    cloths: tuple[ClothAsked, ...],
    lying: dict[str, list[Polygon]],
    gap_mm: float,
) -> Placed | None:
    for _ in range(60):
        cloth = rng.choice(cloths)
        ground = rng.choice(cloth.grounds)
        own = rng.choice(piece.turns_deg) if piece.turns_deg else rng.uniform(0, 360)
        one = Placed(piece.id, cloth.id, rng.uniform(0, 500), rng.uniform(0, 300), ground.up_deg + own)
        if lock is not None:
            assert ground.print_to_cloth is not None
            x, y = on_lattice(rng, ground, ground.print_to_cloth.at(lock.place_mm))
            dx, dy = turn(one.turn_deg).vector((lock.point_mm[0] - piece.anchor_mm[0],
                                                lock.point_mm[1] - piece.anchor_mm[1]))  # fmt: skip
            one = replace(one, x_mm=x - dx, y_mm=y - dy)
        shape = put(piece, one)
        if piece.print_id not in (None, ground.print_id) or not ground.usable.shape.covers(shape):
            continue
        if all(shape.distance(other) >= gap_mm and shape.disjoint(other) for other in lying[cloth.id]):
            lying[cloth.id].append(shape)
            return one
    return None


def linked(
    rng: random.Random, pieces: list[PieceAsked], placed: list[Placed], cloths: tuple[ClothAsked, ...]
) -> list[Link]:
    """The last two pieces as they run on, if both lie on the same print in one turn from its up."""
    if len(pieces) < 2 or rng.random() < 0.3:
        return []
    (piece, other), (one, two) = pieces[-2:], placed[-2:]
    here, there = (ground_under(each, at, cloths) for each, at in ((piece, one), (other, two)))
    turned = (two.turn_deg - there.up_deg) - (one.turn_deg - here.up_deg)
    if here.print_id != there.print_id or abs(turned) > 1e-9:
        return []
    assert here.print_to_cloth is not None
    assert there.print_to_cloth is not None
    # What shows at the second's anchor, found on the ground of the first, any whole repeats away.
    x, y = here.print_to_cloth.at(there.print_to_cloth.inverse().at((two.x_mm, two.y_mm)))
    x, y = on_lattice(rng, here, (x - one.x_mm, y - one.y_mm))
    step = turn(-one.turn_deg).vector((x, y))
    return [Link((piece.id, other.id), (piece.anchor_mm, other.anchor_mm), (step,))]


def ground_under(piece: PieceAsked, one: Placed, cloths: tuple[ClothAsked, ...]) -> Ground:
    shape = put(piece, one)
    grounds = [ground for cloth in cloths if cloth.id == one.cloth for ground in cloth.grounds]
    return next(ground for ground in grounds if ground.usable.shape.covers(shape))


def some_flaws(
    rng: random.Random, pieces: list[PieceAsked], placed: list[Placed], lying: list[Polygon], gap_mm: float
) -> tuple[KeepOut, ...]:
    """Flaws beside the pieces, or under what is hidden of them; holes as far off as neighbours."""
    seen = [put(piece, one, piece.seen_mm) for piece, one in zip(pieces, placed, strict=True) if one.cloth == "one"]
    found = []
    for number in range(rng.randint(0, 6)):
        x, y, reach = rng.uniform(0, 500), rng.uniform(0, 300), rng.uniform(2, 9)
        ring: Ring = ((x - reach, y), (x, y - reach), (x + 2 * reach, y + 1), (x + 1, y + reach))
        shape = Polygon(ring)
        seen_only, spoiled = rng.random() < 0.4, rng.random() < 0.4
        apart = gap_mm if spoiled else 0.0
        clear_of = seen if seen_only and not spoiled else lying
        if all(shape.disjoint(other) and shape.distance(other) >= apart for other in clear_of):
            found.append(KeepOut(f"flaw-{number}", "flaw", Region.of(ring), seen_only and not spoiled, spoiled))
    return tuple(found)


def of_first(change: Callable[[random.Random, Placed], Placed]) -> Callable[[random.Random, Layout], list[Placed]]:
    def spoil(rng: random.Random, layout: Layout) -> list[Placed]:
        placed = list(layout[1])
        k = rng.randrange(len(placed))
        placed[k] = change(rng, placed[k])
        return placed

    return spoil


def nudged(rng: random.Random, one: Placed) -> Placed:
    far = rng.choice([0.2, 1.0, 6.0, 40.0])
    angle = rng.uniform(0, 2 * math.pi)
    return replace(one, x_mm=one.x_mm + far * math.cos(angle), y_mm=one.y_mm + far * math.sin(angle))


SPOILS: dict[str, Callable[[random.Random, Layout], list[Placed]]] = {
    "nudged": of_first(nudged),
    "turned": of_first(lambda rng, one: replace(one, turn_deg=one.turn_deg + rng.choice([3.0, 90.0, 180.0, 271.0]))),
    "on the other cloth": of_first(lambda _rng, one: replace(one, cloth="two" if one.cloth == "one" else "one")),
    "on no cloth": of_first(lambda _rng, one: replace(one, cloth="three")),
    "mirrored": of_first(lambda _rng, one: replace(one, x_mm=500.0 - one.x_mm, y_mm=300.0 - one.y_mm)),
    "not a number": of_first(lambda _rng, one: replace(one, y_mm=math.nan)),
    "unknown": of_first(lambda _rng, one: replace(one, piece="nobody")),
    "twice": lambda rng, layout: [*layout[1], rng.choice(layout[1])],
    "thrown about": lambda rng, layout: [
        replace(one, x_mm=rng.uniform(-20, 500), y_mm=rng.uniform(-20, 300)) for one in layout[1]
    ],
}


def both_judge(question: Question, placed: list[Placed]) -> set[tuple[str, frozenset[str]]]:
    """What both judges say, which must be the same."""
    report = Judge(question).report(placed)
    ours = {(breach.rule, frozenset(breach.pieces)) for breach in report.breaches}
    theirs = broken_rules(question, placed)
    assert ours == theirs
    assert set(report.waiting) == waiting(question, placed)
    return ours


def judged_alike(seeds: range) -> tuple[int, int]:
    """How many random layouts, and how many spoiled ones, both judges judge alike; how many of these are not valid."""
    spoiled = 0
    for seed in seeds:
        question, placed = some_layout(seed)
        if not placed:
            continue
        assert both_judge(question, placed) == set()
        rng = random.Random(-seed - 1)
        spoil = SPOILS[rng.choice(list(SPOILS))]
        spoiled += bool(both_judge(question, spoil(rng, (question, placed))))
    return len(seeds), spoiled


def test_both_judges_agree_on_a_few_layouts_and_spoiled_ones() -> None:
    count, spoiled = judged_alike(range(60))
    assert spoiled > count / 2


@pytest.mark.slow
@pytest.mark.parametrize("part", range(10))
def test_both_judges_agree_on_a_thousand_layouts_and_a_thousand_spoiled_ones(part: int) -> None:
    count, spoiled = judged_alike(range(1_000 + 100 * part, 1_100 + 100 * part))
    assert spoiled > count / 2


def test_random_layouts_hold_every_kind_of_rule() -> None:
    layouts = [some_layout(seed) for seed in range(60)]
    assert sum(bool(question.locks) for question, _ in layouts) > 10
    assert sum(bool(question.links) for question, _ in layouts) > 5
    flaws = [flaw for question, _ in layouts for flaw in question.cloths[0].keep_outs]
    assert sum(flaw.seen_only for flaw in flaws) > 10
    assert sum(flaw.spoiled for flaw in flaws) > 10
    broken = set()
    for question, placed in layouts:
        for spoil in SPOILS.values():
            broken |= {rule for rule, _ in both_judge(question, spoil(random.Random(7), (question, placed)))}
    assert broken == {"outside", "overlap", "gap", "flaw", "zone", "turn", "lock", "link", "unknown piece",
                      "placed twice", "not a number"}  # fmt: skip
