"""Second looks at a no: each proof judged from the question and its own figures.

The arithmetic shares nothing with the search or with the code that found the proof.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

from coverlayout.geometry.shapes import Region
from coverlayout.layout.answer import Proof
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Question
from coverlayout.layout.rechecks.around import never_close
from coverlayout.layout.rechecks.emptiness import nowhere_on, too_long_or_thick
from coverlayout.layout.rechecks.measures import fills_its_box, homes, turned
from coverlayout.layout.rechecks.plain_search import cannot_be_laid
from coverlayout.layout.rechecks.weights import weights_refuse

__all__ = ["holds"]

_LOOSE_MM = 0.01
# More choices of turns are not looked at for a row.
_MOST_CHOICES = 50_000

Size = tuple[float, float]


def holds(question: Question, proof: Proof) -> bool:
    """True when a second look agrees that the question cannot be laid, for the reason the proof gives.

    False where it does not agree, and where it cannot tell: an exhaustive proof is looked at for about six rectangles,
    and of linked pieces of other outlines nothing is said.
    """
    figures = dict(proof.figures)
    names = str(figures.get("pieces", figures.get("piece", ""))).split(", ")
    match proof.name:
        case "area":
            return _too_little_area(question, names)
        case "fits nowhere":
            both = dict.fromkeys([*names, *([str(figures["other"])] if "other" in figures else [])])
            return _fit_nowhere(question, list(both), figures.get("wish"))
        case "side by side":
            if "way" in figures:
                return _row_is_too_wide(question, names)
            return _find_no_room(question, names)
        case "slice bound":
            return weights_refuse(question, proof.certificate)
        case "exhaustive":
            return cannot_be_laid(question, question.pieces)


def _named(question: Question, names: Sequence[str]) -> list[PieceAsked]:
    """The pieces with these names, in the order named."""
    pieces = {piece.id: piece for piece in question.pieces}
    return [pieces[name] for name in names if name in pieces]


def _on(question: Question, cloth: ClothAsked, ground: Ground) -> Question:
    """The question with this ground alone."""
    return replace(question, cloths=(replace(cloth, grounds=(ground,)),))


def _fit_nowhere(question: Question, names: Sequence[str], wish: object) -> bool:
    """No ground takes the piece, or the two pieces that wishes tie to each other."""
    pieces = _named(question, names)
    if len(pieces) != len(names):
        return False
    if wish == "no repeat":
        return _without_repeat(question, pieces)
    if wish in ("ring of links", "chain between locks"):
        return never_close(question, pieces, locked=wish == "chain between locks")
    if len(pieces) == 2:
        return cannot_be_laid(question, pieces)
    return all(_not_on(question, pieces[0], cloth, ground) for _, _, cloth, ground in homes(question, pieces[0]))


def _not_on(question: Question, piece: PieceAsked, cloth: ClothAsked, ground: Ground) -> bool:
    if piece.turns_deg is None:
        return too_long_or_thick(piece, ground)
    return cannot_be_laid(_on(question, cloth, ground), [piece]) or nowhere_on(question, piece, cloth, ground)


def _without_repeat(question: Question, pieces: Sequence[PieceAsked]) -> bool:
    """Every ground of the pieces lacks what a place in the repeat is counted from, or their prints differ."""
    grounds = [[ground for _, _, _, ground in homes(question, piece)] for piece in pieces]
    if len(pieces) == 1:
        return all(g.lattice_mm is None or g.print_to_cloth is None for g in grounds[0])
    return not any(_may_match(one, two) for one, two in itertools.product(*grounds))


def _may_match(one: Ground, two: Ground) -> bool:
    if one is two:
        return one.lattice_mm is not None
    return one.print_id == two.print_id and None not in (one.print_to_cloth, two.print_to_cloth, two.lattice_mm)


def _too_little_area(question: Question, names: Sequence[str]) -> bool:
    """The named pieces, grown by half the gap, need more than all grounds they may come from, grown as much."""
    pieces = _named(question, names)
    grow = max(question.gap_mm - _LOOSE_MM, 0.0) / 2
    allowed = {(number, which): (cloth, g) for p in pieces for number, which, cloth, g in homes(question, p)}
    have = 0.0
    for number in {number for number, _ in allowed}:
        cloth = question.cloths[number]
        own = [ground.usable for (at, _), (_, ground) in allowed.items() if at == number]
        hard = [k.region for k in cloth.keep_outs if not k.seen_only]
        for fixed, placed in cloth.fixed:
            (ax, ay), at_mm = fixed.anchor_mm, (placed.x_mm, placed.y_mm)
            outline = turned([(x - ax, y - ay) for x, y in fixed.outline_mm], placed.turn_deg)
            hard.append(Region.of(tuple((x + at_mm[0], y + at_mm[1]) for x, y in outline)))
        clear = Region.union(own)
        have += (clear.minus(Region.union(hard)) if hard else clear).inset(-(grow + _LOOSE_MM)).area_mm2
    return sum(_grown_mm2(piece, grow) for piece in pieces) > have


def _grown_mm2(piece: PieceAsked, grow_mm: float) -> float:
    """Shoelace; a rectangle with a border all round, its corners rounded."""
    ring = piece.outline_mm
    area = abs(math.fsum(ring[k - 1][0] * ring[k][1] - ring[k][0] * ring[k - 1][1] for k in range(len(ring)))) / 2
    around = math.fsum(math.dist(ring[k - 1], ring[k]) for k in range(len(ring)))
    grown = around * grow_mm + math.pi * grow_mm * grow_mm if fills_its_box(ring) else 0.0
    return area + grown - around * _LOOSE_MM


def _find_no_room(question: Question, names: Sequence[str]) -> bool:
    """No two of the pieces can be laid on one ground, and they are more than the grounds; or two are tied too well."""
    pieces = _named(question, names)
    grounds = {(n, w): (cloth, ground) for piece in pieces for n, w, cloth, ground in homes(question, piece)}
    if len(pieces) == 2 and cannot_be_laid(question, pieces):
        return True
    return len(pieces) > len(grounds) and all(
        cannot_be_laid(_on(question, cloth, ground), pair)
        for pair in itertools.combinations(pieces, 2)
        for cloth, ground in grounds.values()
        if all(any(g is ground for *_, g in homes(question, piece)) for piece in pair)
    )


def _row_is_too_wide(question: Question, names: Sequence[str]) -> bool:
    """However the pieces that share the named ones' grounds are turned, some stand in a row that is too wide."""
    grounds = {(n, w) for piece in _named(question, names) for n, w, *_ in homes(question, piece)}
    rooms = [_room(question.cloths[n].grounds[w]) for n, w in sorted(grounds)]
    options: list[list[Size]] = []
    for piece in question.pieces:
        own = {(n, w) for n, w, *_ in homes(question, piece)}
        if own and own <= grounds and piece.turns_deg and fills_its_box(piece.outline_mm):
            options.append(_sizes(question, piece))
    # Pieces with the same choice of sizes are told apart by nothing: their sizes are taken in rising order.
    kinds = [(sizes, options.count(sizes)) for sizes, _ in itertools.groupby(sorted(options))]
    ways = [list(itertools.combinations_with_replacement(sizes, count)) for sizes, count in kinds]
    if not rooms:
        return False
    if math.prod(map(len, ways)) > _MOST_CHOICES:
        ways = [[((min(w for w, _ in sizes), min(h for _, h in sizes)),) * count] for sizes, count in kinds]
    gap = max(question.gap_mm - _LOOSE_MM, 0.0)
    choices = ([size for part in choice for size in part] for choice in itertools.product(*ways))
    return all(_stands_in_a_row(sizes, rooms, gap) for sizes in choices)


def _stands_in_a_row(sizes: Sequence[Size], rooms: Sequence[Size], gap: float) -> bool:
    for side in (0, 1):
        deep = max(room[1 - side] for room in rooms) + 0.04
        # More than half as deep as the ground: no two lie one above the other.
        row = sorted((size for size in sizes if 2 * size[1 - side] > deep), key=lambda size: size[1 - side])
        low = [size for size in sizes if row and 2 * size[1 - side] <= deep]
        rest = [size for size in low if size[1 - side] + row[0][1 - side] > deep]
        row += sorted(rest, key=lambda size: -size[side])[:1]
        widths = sorted(size[side] - _LOOSE_MM + gap for size in row)
        spaces = [room[side] + 2 * _LOOSE_MM + gap for room in rooms]
        held = sum(max(k for k in range(len(widths) + 1) if sum(widths[:k]) <= space) for space in spaces)
        if len(row) > 1 and (sum(widths) > sum(spaces) or held < len(row)):
            return True
    return False


def _room(ground: Ground) -> Size:
    lean_deg = math.remainder(ground.up_deg, 90.0)
    points = [point for ring, _ in ground.usable.parts() for point in turned(ring, -lean_deg)] or [(0.0, 0.0)]
    return max(x for x, _ in points) - min(x for x, _ in points), max(y for _, y in points) - min(y for _, y in points)


def _sizes(question: Question, piece: PieceAsked) -> list[Size]:
    """The sizes a rectangle may take on its grounds, in their prints' frames; one that is slanted there spoils it."""
    found: set[Size] = set()
    for *_, ground in homes(question, piece):
        for deg in piece.turns_deg or ():
            ring = turned(piece.outline_mm, ground.up_deg + deg - math.remainder(ground.up_deg, 90.0))
            xs, ys = [x for x, _ in ring], [y for _, y in ring]
            size = round(max(xs) - min(xs), 6), round(max(ys) - min(ys), 6)
            found.add(size if fills_its_box(ring) else (0.0, 0.0))
    return sorted(found)
