"""The judge names the same faults as an independent checker of placements did, on good layouts and on spoiled ones.

Source of the figures: data/packing_checks.json, questions of our own with answers spoiled by hand, judged by a checker
that shares no code with this program; the squared square is Duijvestijn's (1978).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from coverlayout.geometry.frames import Point, Ring, shift, turn
from coverlayout.geometry.shapes import Region, bounds, rectangle
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice

DATA = json.loads((Path(__file__).parent / "data" / "packing_checks.json").read_text("utf-8"))
# What the checker calls each fault, and our rule for it.
RULES = {
    "outside cloth": "outside",
    "edge": "outside",
    "keep-out": "flaw",
    "overlap": "overlap",
    "gap": "gap",
    "zone": "zone",
    "turn": "turn",
    "lock": "lock",
    "link": "link",
    "link turn": "turn",
    "unknown piece": "unknown piece",
    "placed twice": "placed twice",
    "not a number": "not a number",
}


def ring(points: list[list[float]]) -> Ring:
    return tuple((float(x), float(y)) for x, y in points)


def outline(given: dict[str, Any]) -> Ring:
    return ring(given["outline_mm"]) if "outline_mm" in given else rectangle(given["width_mm"], given["height_mm"])


def reference(given: dict[str, Any]) -> Point:
    x, y = given.get("reference_mm") or bounds(outline(given)).middle
    return float(x), float(y)


def asked(given: dict[str, Any]) -> PieceAsked:
    turns = tuple(float(turn_deg) for turn_deg in given.get("turns", [0]))
    return PieceAsked(given["id"], outline(given), reference(given), turns, given.get("print"))


def grounds(instance: dict[str, Any], cloth: Ring) -> tuple[Ground, ...]:
    prints = instance.get("prints", {})
    names = {piece["print"] for piece in instance["pieces"] if "print" in piece}
    areas = [(zone["print"], ring(zone["outline_mm"])) for zone in instance.get("zones", [])]
    areas = areas or [(next(iter(names), None), cloth)]
    return tuple(ground(f"ground-{n}", name, area, instance, prints.get(name)) for n, (name, area) in enumerate(areas))


def ground(
    ground_id: str, name: str | None, area: Ring, instance: dict[str, Any], given: dict[str, Any] | None
) -> Ground:
    usable = Region.of(area).inset(instance["edge_mm"])
    if given is None:
        return Ground(ground_id, usable, name)
    lattice = Lattice(tuple(given["a_mm"]), tuple(given["b_mm"]))
    return Ground(ground_id, usable, name, 0.0, lattice, shift(*given["origin_mm"]))


def question(instance: dict[str, Any], length_mm: float | None) -> Question:
    size = instance["cloth"]
    cloth = rectangle(size["width_mm"], length_mm or size["length_mm"])
    keep_outs = tuple(
        KeepOut(flaw["name"], flaw["name"], Region.of(ring(flaw["outline_mm"])))
        for flaw in instance.get("keep_outs", [])
    )
    pieces = {given["id"]: given for given in instance["pieces"]}
    locks = tuple(
        Lock(given["id"], reference(given), tuple(given["lock"]["offset_mm"]))
        for given in pieces.values()
        if "lock" in given
    )
    links = tuple(
        Link(
            tuple(link["pieces"]),
            tuple(reference(pieces[name]) for name in link["pieces"]),
            tuple((float(x), float(y)) for x, y in link.get("differences_mm", [[0, 0]] * (len(link["pieces"]) - 1))),
        )
        for link in instance.get("phase_links", [])
    )
    return Question(
        tuple(asked(given) for given in pieces.values()),
        (ClothAsked("cloth", "Cloth", cloth, grounds(instance, cloth), keep_outs),),
        instance["gap_mm"],
        locks,
        links,
        spare_wish_mm=0.0,
    )


def placed(instance: dict[str, Any], given: list[Any]) -> Placed:
    """Theirs says where the turned piece's box begins, ours where its reference point lies."""
    name, x, y, turn_deg = given
    piece = next((piece for piece in instance["pieces"] if piece["id"] == name), None)
    if piece is None or x is None:
        return Placed(name, "cloth", float("nan") if x is None else x, y, turn_deg)
    turned = turn(turn_deg)
    box, (dx, dy) = bounds(turned.ring(outline(piece))), turned.at(reference(piece))
    return Placed(name, "cloth", x - box.left_mm + dx, y - box.top_mm + dy, turn_deg)


@pytest.mark.parametrize("check", DATA["checks"], ids=lambda check: f"{check['instance']}: {check['what']}")
def test_the_judge_names_the_faults_that_the_checker_named(check: dict[str, Any]) -> None:
    instance = DATA["instances"][check["instance"]]
    judge = Judge(question(instance, check["length_mm"]))
    report = judge.report([placed(instance, one) for one in check["placements"]])
    assert {breach.rule for breach in report.breaches} == {RULES[kind] for kind in check["kinds"] if kind in RULES}
    assert bool(report.waiting) == ("not placed" in check["kinds"])


def test_a_squared_square_uses_all_of_its_cloth() -> None:
    check = DATA["checks"][0]
    instance = DATA["instances"][check["instance"]]
    report = Judge(question(instance, None)).report([placed(instance, one) for one in check["placements"]])
    assert report.used_percent == pytest.approx(100.0)
    assert report.clearance_mm == pytest.approx(0.0, abs=1e-9)
    assert report.verdict == "valid"
