"""Packing jobs at the edge of what is possible, by families, with answers worked out by a constraint solver.

`make(family, seed)` gives one job file as a record with its truth: one that just fits and one, a little shorter, that
does not, or a least length, a count, a largest board or a room. None when the solver could not settle it in time.
"""

from __future__ import annotations

import copy
import math
import random
from collections.abc import Callable
from typing import Any

from packing_solver import Solved, book_pieces, solve

__all__ = ["FAMILIES", "LAY", "make"]

Json = dict[str, Any]
ANY = [0, 90, 180, 270]
LOOSER_MM = 0.1


def make(family: str, seed: int, seconds: float = 10.0) -> list[tuple[Json, Json]]:
    """Pairs of a job and its truth: `fits`, `length_mm`, `books`, `board_mm` or `room_mm`; none if not settled."""
    rng = random.Random(f"{family} {seed}")
    if family in LAY:
        return _just_fits(LAY[family](rng), f"{family}-{seed}", seconds)
    return FAMILIES[family](rng, f"{family}-{seed}", seconds)


def _job(name: str, question: str, width: float, length: float | None, pieces: list[Json], **more: Any) -> Json:
    cloth = {"width_mm": width, "length_mm": length}
    return {
        "format": "packing-instance-1", "id": name, "family": name.rsplit("-", 1)[0], "question": question,
        "cloth": cloth, "gap_mm": 0, "edge_mm": 0, "pieces": pieces, **more,
    }  # fmt: skip


def _piece(name: str, width: float, height: float, turns: list[int] | None = None, **more: Any) -> Json:
    return {"id": name, "width_mm": width, "height_mm": height, "turns": turns or [0], **more}


def _ring(left: float, top: float, width: float, height: float) -> list[list[float]]:
    return [[left, top], [left + width, top], [left + width, top + height], [left, top + height]]


def _diamond(x: float, y: float, half: float) -> list[list[float]]:
    return [[x, y - half], [x + half, y], [x, y + half], [x - half, y]]


def _covers_and_liners(rng: random.Random, covers: int, liners: int, **more: Any) -> list[Json]:
    w, h = rng.randint(100, 150), rng.randint(140, 190)
    turns = rng.choice([[0], [0], [0, 180]])
    found = [_piece(f"cover-{k}", w, h, turns, **more) for k in range(1, covers + 1)]
    lw, lh = w - rng.randint(25, 40), h - rng.randint(25, 40)
    return found + [_piece(f"liner-{k}", lw, lh, ANY, **more) for k in range(1, liners + 1)]


def _mixed(rng: random.Random, count: int, **more: Any) -> list[Json]:
    found: list[Json] = []
    while len(found) < count:
        w, h, turns = rng.randint(40, 150), rng.randint(60, 190), rng.choice([[0], [0, 180], ANY, ANY])
        for _ in range(min(rng.choice([1, 2, 2]), count - len(found))):
            found.append(_piece(f"piece-{len(found) + 1}", w, h, turns, **more))
    return found


def _width_for(rng: random.Random, pieces: list[Json]) -> int:
    area = sum(p["width_mm"] * p["height_mm"] for p in pieces)
    widest = max(min(p["width_mm"], p["height_mm"]) if len(p["turns"]) > 2 else p["width_mm"] for p in pieces)
    return max(round(math.sqrt(area) * rng.uniform(0.9, 1.35)), round(widest) + 5)


def _rough_length(pieces: list[Json], width: float) -> float:
    return sum(p["width_mm"] * p["height_mm"] for p in pieces) / width


def _lattice(rng: random.Random, shape: str) -> Json:
    a, b = rng.randint(40, 75), 2 * rng.randint(20, 38)
    vectors = {
        "straight": ([a, 0], [0, b]),
        "half-drop": ([a, b // 2], [0, b]),
        "sheared": ([a, 0], [rng.randint(11, 30), b]),
    }[shape]
    return {"a_mm": vectors[0], "b_mm": vectors[1], "origin_mm": [rng.randint(0, 20), rng.randint(0, 20)]}


def _locks(shape: str) -> Callable[[random.Random], Json]:
    def made(rng: random.Random) -> Json:
        pieces = _covers_and_liners(rng, rng.choice([2, 2, 3, 4]), rng.choice([2, 3, 4]), print="A")
        offset = [rng.randint(0, 40), rng.randint(0, 40)]
        for piece in pieces:
            if piece["id"].startswith("cover"):
                piece["reference_mm"] = [piece["width_mm"] // 2 - rng.choice([0, 0, 9]), piece["height_mm"] // 3]
                piece["lock"] = {"offset_mm": offset}
                piece["turns"] = [0]
        width = _width_for(rng, pieces)
        return _job("", "lay", width, None, pieces, prints={"A": _lattice(rng, shape)})

    return made


def _links(rng: random.Random) -> Json:
    pieces = _covers_and_liners(rng, rng.choice([2, 4]), rng.choice([2, 4]), print="A")
    covers = [p["id"] for p in pieces if p["id"].startswith("cover")]
    links: list[Json] = [{"pieces": covers[:2]}]
    if len(covers) == 4:
        links.append({"pieces": covers[2:], "differences_mm": [[rng.randint(100, 170), 0]]})
    lattice = _lattice(rng, rng.choice(["straight", "half-drop", "sheared"]))
    return _job("", "lay", _width_for(rng, pieces), None, pieces, prints={"A": lattice}, phase_links=links)


def _flaws(slanted: bool, seen: bool) -> Callable[[random.Random], Json]:
    def made(rng: random.Random) -> Json:
        pieces = _covers_and_liners(rng, 2, 2) + _mixed(rng, rng.choice([0, 1, 2]))
        width = _width_for(rng, pieces)
        about = _rough_length(pieces, width)
        spoils = []
        for k in range(rng.choice([1, 2, 3])):
            x, y = rng.randint(20, width - 20), rng.randint(20, round(about))
            ring = _diamond(x, y, rng.randint(4, 14)) if slanted else _ring(x, y, rng.randint(3, 20), rng.randint(3, 9))
            if slanted and rng.random() < 0.4:
                ring = [[x, y], [x + 40, y + 13], [x + 38, y + 19], [x - 2, y + 6]]
            spoils.append({"name": f"stain-{k}", "outline_mm": ring, "fine_in_turn_in": seen and k == 0})
        for piece in pieces if seen else ():
            if piece["id"].startswith("cover"):
                w, h = piece["width_mm"], piece["height_mm"]
                piece["board_mm"] = [12, 17, w - 12 - 15, h - 17 - 14]
        return _job("", "lay", width, None, pieces, keep_outs=spoils)

    return made


def _zones(rng: random.Random) -> Json:
    one = _covers_and_liners(rng, 2, rng.choice([0, 1]), print="waves")
    two = _covers_and_liners(rng, 2, rng.choice([0, 1]), print="seeds")
    for pieces, name in ((one, "waves"), (two, "seeds")):
        for piece in pieces:
            piece["id"] = f"{name}-{piece['id']}"
    liners = [_piece(f"plain-{k}", rng.randint(60, 100), rng.randint(90, 130), ANY, print="plain") for k in range(2)]
    wide = [_width_for(rng, pieces) + 10 for pieces in (one, two, liners)]
    apart = rng.choice([0, 10])
    zones, left = [], 0
    for name, across in zip(("waves", "seeds", "plain"), wide, strict=True):
        zones.append({"print": name, "outline_mm": _ring(left, 0, across, 2_000)})
        left += across + apart
    width = left - apart
    links = [{"pieces": [f"{name}-cover-1", f"{name}-cover-2"]} for name in ("waves", "seeds")]
    prints = {
        "waves": _lattice(rng, "straight"), "seeds": _lattice(rng, rng.choice(["half-drop", "sheared"])),
        "plain": {"a_mm": [10, 0], "b_mm": [0, 10], "origin_mm": [0, 0]},
    }  # fmt: skip
    flaw = {"name": "knot", "outline_mm": _diamond(wide[0] // 2, round(_rough_length(one, wide[0]) / 2), 6)}
    more = {"keep_outs": [flaw]} if rng.random() < 0.5 else {}
    return _job("", "lay", width, None, [*one, *two, *liners], zones=zones, prints=prints, phase_links=links, **more)


def _corners(rng: random.Random) -> Json:
    """L-shapes and pieces with cut corners."""
    found: list[Json] = []
    for k in range(rng.choice([3, 4, 5])):
        w, h, arm = rng.randint(90, 130), rng.randint(80, 120), rng.randint(30, 45)
        ring = [[0, 0], [w, 0], [w, arm], [arm, arm], [arm, h], [0, h]]
        found.append({"id": f"angle-{k}", "outline_mm": ring, "turns": rng.choice([[0], [0, 180], ANY])})
    for k in range(rng.choice([0, 1])):
        w, h, cut = rng.randint(60, 90), rng.randint(60, 110), rng.choice([10, 15, 20])
        ring = [[cut, 0], [w - cut, 0], [w, cut], [w, h - cut], [w - cut, h], [cut, h], [0, h - cut], [0, cut]]
        found.append({"id": f"label-{k}", "outline_mm": ring, "turns": ANY})
    return _job("", "lay", rng.randint(190, 260), None, found)


def _wedges(rng: random.Random) -> Json:
    found: list[Json] = []
    w, h, slant = rng.randint(70, 110), rng.randint(90, 130), rng.choice([20, 30, 40])
    for k in range(rng.choice([2, 3, 4])):
        ring = [[0, 0], [w, 0], [w - slant, h], [0, h]]
        found.append({"id": f"wedge-{k}", "outline_mm": ring, "turns": [0, 180]})
    for k in range(rng.choice([1, 2])):
        found.append(_piece(f"label-{k}", rng.randint(50, 80), rng.randint(60, 90), ANY))
    return _job("", "lay", rng.randint(170, 240), None, found)


def _gaps(rng: random.Random) -> Json:
    pieces = _mixed(rng, rng.choice([4, 5, 6, 7]))
    return {**_job("", "lay", _width_for(rng, pieces) + 15, None, pieces), "gap_mm": rng.choice([2, 3, 5]),
            "edge_mm": rng.choice([0, 3, 6])}  # fmt: skip


def _crooked(rng: random.Random) -> Json:
    """Cloth that was cut askew: its sides lean, its upper edge stays straight."""
    pieces = _covers_and_liners(rng, 2, 2) + _mixed(rng, rng.choice([0, 1]))
    width = _width_for(rng, pieces) + 20
    long = 900
    lean, other = rng.choice([10, 25, 40]), rng.choice([0, 15, 30])
    ring = [[lean, 0], [width, 0], [width - other, long], [0, long]]
    job = _job("", "lay", width, None, pieces)
    job["cloth"]["outline_mm"] = ring
    return job


def _notched(rng: random.Random) -> Json:
    """Cloth with a corner or a bite of its side already cut away, said as its outline; two or three flaws."""
    pieces = _covers_and_liners(rng, 2, 2) + _mixed(rng, rng.choice([1, 2, 3]))
    width = _width_for(rng, pieces) + 20
    away, deep, top = rng.randint(30, 90), rng.randint(30, 120), rng.choice([0, 40])
    job = _job("", "lay", width, None, pieces)
    stains = [(rng.randint(20, width - 20), rng.randint(120, 350), rng.randint(3, 7)) for _ in range(2)]
    flaws = [{"name": f"stain-{k}", "outline_mm": _diamond(x, y, r)} for k, (x, y, r) in enumerate(stains)]
    job["notch"] = [width - away, top, away, deep]
    return {**job, "keep_outs": flaws}


def _split_zones(rng: random.Random) -> Json:
    """One print in two areas with another between them; covers of the one print in one phase."""
    one = _covers_and_liners(rng, 2, rng.choice([1, 2]), print="waves")
    two = _mixed(rng, rng.choice([2, 3]), print="seeds")
    for piece in two:
        piece["id"] = f"seeds-{piece['id']}"
    wide = [rng.randint(150, 200), _width_for(rng, two), rng.randint(150, 200)]
    zones, left = [], 0
    for name, across in zip(("waves", "seeds", "waves"), wide, strict=True):
        zones.append({"print": name, "outline_mm": _ring(left, 0, across, 2_000)})
        left += across + 7
    prints = {"waves": _lattice(rng, "straight"), "seeds": _lattice(rng, "half-drop")}
    links = [{"pieces": ["cover-1", "cover-2"]}] if rng.random() < 0.6 else []
    return _job("", "lay", left - 7, None, [*one, *two], zones=zones, prints=prints, phase_links=links)


def _mixture(rng: random.Random) -> Json:
    """A bit of everything: locked and linked covers, own shapes, gaps, trims, flaws of every kind."""
    covers = _covers_and_liners(rng, rng.choice([2, 3, 4]), rng.choice([2, 3]), print="A")
    for piece in covers:
        piece["turns"] = rng.choice([[0], [0, 180], ANY]) if piece["id"].startswith("liner") else [0]
    links = []
    if rng.random() < 0.5:
        for piece in covers[: rng.choice([1, 2])]:
            w, h = piece["width_mm"], piece["height_mm"]
            piece["reference_mm"] = [w // 2, h // 3]
            piece["lock"] = {"offset_mm": [rng.randint(0, 30), rng.randint(0, 30)]}
            piece["turns"] = rng.choice([[0], [0, 180]])
    else:
        names = [piece["id"] for piece in covers if piece["id"].startswith("cover")]
        steps = [[rng.randint(0, 60), rng.choice([0, 0, 20])] for _ in names[1:]]
        links = [{"pieces": names, "differences_mm": steps}]
    more = _mixed(rng, rng.choice([0, 1, 2]), print="A")
    if rng.random() < 0.5:
        w, h, arm = rng.randint(60, 100), rng.randint(60, 110), rng.randint(20, 30)
        ring = [[0, 0], [w, 0], [w, arm], [arm, arm + 6], [arm, h], [0, h]]
        more.append({"id": "angle", "outline_mm": ring, "turns": ANY, "print": "A"})
    boxes = [piece for piece in (*covers, *more) if "width_mm" in piece]
    width = _width_for(rng, boxes) + 12
    crease = [[width // 3, 60], [width // 3 + 4, 60], [width // 3 + 4, 190], [width // 3, 190]]
    bent = [[30, 90], [60, 90], [60, 95], [35, 95], [35, 120], [30, 120]]
    flaws = [{"name": "crease", "outline_mm": crease, "fine_in_turn_in": True}, {"name": "bent", "outline_mm": bent}]
    for piece in covers[:3]:
        w, h = piece["width_mm"], piece["height_mm"]
        piece["board_mm"] = [13, 11, w - 13 - 15, h - 11 - 17]
    shapes = "outline_mm" in more[-1] if more else False
    return {
        **_job("", "lay", width, None, [*covers, *more], phase_links=links, keep_outs=flaws[: rng.choice([0, 1, 2])]),
        "prints": {"A": _lattice(rng, rng.choice(["straight", "half-drop", "sheared"]))},
        "gap_mm": 0 if shapes else rng.choice([0, 0, 2]),
        "edge_mm": rng.choice([0, 3]),
    }


def _many_held(rng: random.Random) -> Json:
    """Nine to twelve pieces, four to six of them locked or linked in pairs."""
    covers = rng.choice([4, 6])
    pieces = _covers_and_liners(rng, covers, rng.choice([5, 6]), print="A")
    lattice = _lattice(rng, rng.choice(["straight", "half-drop"]))
    links = []
    if rng.random() < 0.5:
        links = [{"pieces": [f"cover-{k}", f"cover-{k + 1}"]} for k in range(1, covers, 2)]
        for piece in pieces:
            piece["turns"] = [0] if piece["id"].startswith("cover") else piece["turns"]
    else:
        for piece in pieces[:covers]:
            piece |= {"turns": [0], "lock": {"offset_mm": [7, 11]}, "reference_mm": [piece["width_mm"] // 2, 70]}
    width = round(_width_for(rng, pieces) * 1.2)
    return _job("", "lay", width, None, pieces, prints={"A": lattice}, phase_links=links)


LAY: dict[str, Callable[[random.Random], Json]] = {
    "locks-straight": _locks("straight"),
    "locks-half-drop": _locks("half-drop"),
    "locks-sheared": _locks("sheared"),
    "links": _links,
    "flaws-straight": _flaws(slanted=False, seen=False),
    "flaws-slanted": _flaws(slanted=True, seen=False),
    "flaws-seen": _flaws(slanted=False, seen=True),
    "flaws-seen-slanted": _flaws(slanted=True, seen=True),
    "zones": _zones,
    "corners": _corners,
    "wedges": _wedges,
    "gaps": _gaps,
    "crooked": _crooked,
    "notched": _notched,
    "split-zones": _split_zones,
    "mixture": _mixture,
    "many-held": _many_held,
}


def _just_fits(job: Json, name: str, seconds: float) -> list[tuple[Json, Json]]:
    """The job on the least length that the solver finds a layout for, and on the greatest that it refuses."""
    job = {**job, "id": name, "family": name.rsplit("-", 1)[0]}
    notch = job.pop("notch", None)
    if notch:
        return _notched_fits(job, notch, name, seconds)
    best = solve(_cut_to(job, 900.0), per_mm=1, kind="may", least_length=True, seconds=seconds)
    if not best.fits or best.length_mm is None:
        return []
    length_mm = math.ceil(best.length_mm - 1e-9)
    fits = {**_cut_to(job, length_mm), "id": f"{name}-yes"}
    if "outline_mm" in job["cloth"]:
        # The outline was moved into its corner, so the places have moved as well.
        best = solve(fits, kind="may", seconds=seconds)
    found = [(fits, {"fits": True, "witness": list(best.placements)})] if best.fits else []
    for less_mm in (1, 2, 4, 8, 15):
        shorter = {**_cut_to(job, length_mm - less_mm), "id": f"{name}-no"}
        refused = solve(shorter, per_mm=10, kind="must not", looser_mm=LOOSER_MM, seconds=seconds)
        if refused.fits is False:
            found.append((shorter, {"fits": False, "margin_mm": LOOSER_MM}))
            break
    return found + _changed(fits, name, seconds)


def _notched_fits(job: Json, notch: list[float], name: str, seconds: float) -> list[tuple[Json, Json]]:
    """As for others; the solver knows the bite as a flaw, the job as the cloth's outline."""
    bite = {"name": "bite", "outline_mm": _ring(*notch)}
    found = []
    for made, truth in _just_fits({**job, "keep_outs": [*job["keep_outs"], bite]}, name, seconds):
        length, width = made["cloth"]["length_mm"], made["cloth"]["width_mm"]
        left, top, _, deep = notch
        ring = [[0, 0], [left, 0], [left, top + deep], [width, top + deep], [width, length], [0, length]]
        if top:
            ring = [[0, 0], [width, 0], [width, top], [left, top], *ring[2:]]
        outlined = {**made, "cloth": {**made["cloth"], "outline_mm": ring}, "keep_outs": made["keep_outs"][:-1]}
        found.append((outlined, truth))
    return found


def _changed(fits: Json, name: str, seconds: float) -> list[tuple[Json, Json]]:
    """A millimetre or two of change elsewhere: a lock or flaw shifted, or a piece grown; what it does is asked anew."""
    rng = random.Random(name)
    job = copy.deepcopy(fits)
    job["id"] = f"{name}-changed"
    job["cloth"]["length_mm"] = fits["cloth"]["length_mm"]
    locked = [piece for piece in job["pieces"] if "lock" in piece]
    if locked:
        locked[0]["lock"] = {"offset_mm": [value + rng.randint(2, 20) for value in locked[0]["lock"]["offset_mm"]]}
    elif job.get("keep_outs"):
        dx, dy = rng.randint(-15, 15), rng.randint(-15, 15)
        job["keep_outs"][0]["outline_mm"] = [[x + dx, y + dy] for x, y in job["keep_outs"][0]["outline_mm"]]
    elif "width_mm" in job["pieces"][-1]:
        job["pieces"][-1]["width_mm"] += 2
    else:
        return []
    said = solve(job, kind="may", seconds=seconds)
    if said.fits:
        return [(job, {"fits": True, "witness": list(said.placements)})]
    refused = solve(job, per_mm=10, kind="must not", looser_mm=LOOSER_MM, seconds=seconds)
    return [(job, {"fits": False, "margin_mm": LOOSER_MM})] if refused.fits is False else []


def _cut_to(job: Json, length_mm: float) -> Json:
    """The job on cloth of this length; outline and zones end there."""
    cut = copy.deepcopy(job)
    cut["cloth"]["length_mm"] = length_mm
    outline = cut["cloth"].get("outline_mm")
    if outline:
        (a, top), b, (c, long), (d, _) = outline
        share = length_mm / long
        cut["cloth"]["outline_mm"] = [
            [a, top], b, [b[0] + (c - b[0]) * share, length_mm], [a + (d - a) * share, length_mm]
        ]  # fmt: skip
        cut["cloth"]["outline_mm"], cut["cloth"]["width_mm"] = _to_corner(cut["cloth"]["outline_mm"])
    for zone in cut.get("zones", []):
        zone["outline_mm"] = [[x, min(y, length_mm)] for x, y in zone["outline_mm"]]
    return cut


def _to_corner(ring: list[list[float]]) -> tuple[list[list[float]], float]:
    left = min(x for x, _ in ring)
    moved = [[round(x - left, 3), y] for x, y in ring]
    return moved, max(x for x, _ in moved)


def _small(rng: random.Random, name: str, seconds: float) -> list[tuple[Json, Json]]:
    pieces = _mixed(rng, rng.randint(4, 8))
    gap, edge = rng.choice([(0, 0), (0, 0), (0, 4), (2, 3), (5, 0)])
    job = {**_job(name, "least_length", _width_for(rng, pieces) + 2 * edge + gap, None, pieces),
           "gap_mm": gap, "edge_mm": edge}  # fmt: skip
    best = solve(job, kind="may", least_length=True, seconds=seconds)
    bound = best if gap == 0 else solve(job, per_mm=2, kind="must not", least_length=True, seconds=seconds)
    agreed = best.optimal and bound.optimal and best.length_mm == bound.length_mm
    return [(job, {"length_mm": best.length_mm, "witness": list(best.placements)})] if agreed else []


def _zero(rng: random.Random, name: str, _seconds: float) -> list[tuple[Json, Json]]:
    """A rectangle cut into pieces without waste: by cuts straight through, or by pinwheels of five."""
    width, length = rng.choice([400, 480, 600]), rng.choice([300, 420, 560])
    parts = [(0, 0, width, length)]
    count = rng.choice([12, 14, 17, 20, 24, 28, 33, 40])
    while len(parts) < count:
        parts.sort(key=lambda part: part[2] * part[3])
        x, y, w, h = parts.pop()
        if rng.random() < 0.3 and min(w, h) >= 90 and len(parts) + 5 <= count:
            parts += _pinwheel(rng, x, y, w, h)
        elif w >= h:
            cut = rng.randint(round(0.3 * w), round(0.7 * w))
            parts += [(x, y, cut, h), (x + cut, y, w - cut, h)]
        else:
            cut = rng.randint(round(0.3 * h), round(0.7 * h))
            parts += [(x, y, w, cut), (x, y + cut, w, h - cut)]
    pieces = [_piece(f"piece-{k}", w, h, ANY) for k, (_, _, w, h) in enumerate(parts)]
    rng.shuffle(pieces)
    return [(_job(name, "least_length", width, None, pieces), {"length_mm": length, "family": "zero"})]


def _pinwheel(rng: random.Random, x: int, y: int, w: int, h: int) -> list[tuple[int, int, int, int]]:
    a, b = rng.randint(round(0.55 * w), round(0.7 * w)), rng.randint(round(0.25 * h), round(0.4 * h))
    c, d = rng.randint(round(0.25 * w), round(0.4 * w)), rng.randint(round(0.55 * h), round(0.7 * h))
    # Upper left across, upper right down, lower right across, lower left down, and the middle.
    return [
        (x, y, a, b), (x + a, y, w - a, d), (x + c, y + d, w - c, h - d), (x, y + b, c, h - b),
        (x + c, y + b, a - c, d - b),
    ]  # fmt: skip


def _pinwheels(rng: random.Random, name: str, seconds: float) -> list[tuple[Json, Json]]:
    """Five pieces that close only as a pinwheel, beside others; and with one piece grown while another shrinks more."""
    w, h = rng.randint(180, 260), rng.randint(200, 280)
    parts = _pinwheel(rng, 0, 0, w, h)
    turns = rng.choice([[0], [0, 180], ANY])
    extra = rng.choice([0, 1, 2, 3])
    pieces = [_piece(f"piece-{k}", pw, ph, turns) for k, (_, _, pw, ph) in enumerate(parts)]
    wide = w
    for k in range(extra):
        more = rng.randint(40, 80)
        pieces.append(_piece(f"side-{k}", more, h, turns))
        wide += more
    job = _job(name, "lay", wide, h, pieces)
    found = [({**job, "id": f"{name}-yes"}, {"fits": True})]
    spoiled = copy.deepcopy(job)
    spoiled["pieces"][1]["height_mm"] += 3
    spoiled["pieces"][3]["height_mm"] -= 9
    spoiled["id"] = f"{name}-no"
    refused = solve(spoiled, per_mm=10, kind="must not", looser_mm=LOOSER_MM, seconds=seconds)
    if refused.fits is False:
        found.append((spoiled, {"fits": False, "margin_mm": LOOSER_MM}))
    return found


def _book(rng: random.Random) -> Json:
    cover, liner = rng.choice([([0], ANY), ([0], [0]), (ANY, ANY), ([0, 180], ANY)])
    inset = rng.choice([3, 5])
    return {
        "pieces": [
            {"name": "cover", "count": 2, "grow_mm": rng.choice([12, 15]), "turns": cover},
            {"name": "liner", "count": 2, "grow_mm": -inset, "turns": liner},
        ]
    }


def _listed(job: Json, board: tuple[float, float], books: int) -> Json:
    return {**job, "question": "lay", "pieces": book_pieces(job["book"], board, books)}


def _count(rng: random.Random, name: str, seconds: float) -> list[tuple[Json, Json]]:
    board = (rng.randint(90, 130), rng.randint(120, 170))
    job = _job(name, "count", rng.choice([450, 520, 560]), rng.choice([360, 457, 500]), [])
    job["book"] = {**_book(rng), "board_mm": list(board)}
    del job["pieces"]
    for books in range(1, 9):
        said = solve(_listed(job, board, books), seconds=seconds)
        if said.fits is None:
            return []
        if said.fits is False:
            looser = solve(_listed(job, board, books), per_mm=10, kind="must not", looser_mm=0.1, seconds=seconds)
            return [(job, {"books": books - 1})] if looser.fits is False and books > 1 else []
    return []


def _halved(low: int, high: int, fits: Callable[[int], Solved]) -> int | None:
    """The largest whole number that fits, `low` taken as such; None when one try was not settled."""
    while high - low > 1:
        middle = (low + high) // 2
        said = fits(middle).fits
        if said is None:
            return None
        low, high = (middle, high) if said else (low, middle)
    return low


def _largest(rng: random.Random, name: str, seconds: float) -> list[tuple[Json, Json]]:
    ratio = rng.choice([(3, 4), (2, 3), (5, 7), (1, 1)])
    job = _job(name, "largest", rng.choice([280, 305, 330, 400]), rng.choice([290, 305, 360]), [])
    job["book"] = {**_book(rng), "board_ratio": list(ratio)}
    del job["pieces"]

    # In tenths of a millimetre on the shorter side's share, so that both sides stay whole in hundredths.
    def fits(step: int) -> Solved:
        board = (ratio[0] * step / 100, ratio[1] * step / 100)
        return solve(_listed(job, board, 1), per_mm=100, seconds=seconds)

    most = _halved(round(3_000 / ratio[0]), round(30_000 / ratio[0]), fits)
    return [] if most is None else [(job, {"board_mm": [ratio[0] * most / 100, ratio[1] * most / 100]})]


def _room(rng: random.Random, name: str, seconds: float) -> list[tuple[Json, Json]]:
    pieces = _covers_and_liners(rng, 2, rng.choice([1, 2]))
    width = _width_for(rng, pieces)
    rough = {**_job(name, "room", width, None, pieces)}
    best = solve({**rough, "cloth": {"width_mm": width, "length_mm": 900}}, least_length=True, seconds=seconds)
    if best.length_mm is None:
        return []
    job = _job(name, "room", width + rng.choice([3, 6, 12]), best.length_mm + rng.choice([4, 8, 15]), pieces)

    def wide(kind: Any) -> Callable[[int], Solved]:
        return lambda step: solve(
            {**job, "gap_mm": step / 12, "edge_mm": step / 12}, per_mm=12, kind=kind, seconds=seconds
        )

    least, most = _halved(0, 12 * 60, wide("may")), _halved(0, 12 * 60, wide("must not"))
    if least is None or most is None:
        return []
    return [(job, {"room_mm": least / 12, "upper_room_mm": (most + 1) / 12})]


FAMILIES: dict[str, Callable[[random.Random, str, float], list[tuple[Json, Json]]]] = {
    "small": _small,
    "zero": _zero,
    "pinwheels": _pinwheels,
    "count": _count,
    "largest": _largest,
    "room": _room,
}
