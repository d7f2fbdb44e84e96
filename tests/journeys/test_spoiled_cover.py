"""A cover is spoiled at the bench and planned again, in the real window; every figure is worked out anew from files.

What the program says is held against arithmetic on the saved projects, the table for the bench and shapely alone.
"""

from __future__ import annotations

import csv
import json
import math
import zipfile
from pathlib import Path
from typing import Any

import pytest
from seat import told_by
from shapely import Polygon, box, union_all

HANDS = "hands_on_a_spoiled_cover.py"
# Common practice, no source: pages of 4.5 x 6 in with a turn-in of 15 mm are covered from 144.3 x 182.4 mm.
COVER_MM = (114.3 + 2 * 15.0, 152.4 + 2 * 15.0)
# The liner keeps 3 mm from each edge of the board.
LINER_MM = (114.3 - 2 * 3.0, 152.4 - 2 * 3.0)
CLOTH_MM = (480.0, 420.0)
GAP_MM = 4.0
HALF_DROP = ((64.0, 48.0), (0.0, 96.0))

Rect = tuple[float, float, float, float]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("spoiled")


def project_in(path: Path) -> dict[str, Any]:
    with zipfile.ZipFile(path) as file:
        read: dict[str, Any] = json.loads(file.read("project.json"))
    return read


def rows(folder: Path) -> dict[tuple[str, str], dict[str, str]]:
    """The rows of the table by piece and state: a spoiled cover stands in it beside the one planned in its place."""
    with (folder / "placement.csv").open(encoding="utf-8-sig", newline="") as file:
        return {(row["piece"], row["state"]): row for row in csv.DictReader(file)}


def rect(place: dict[str, Any]) -> Rect:
    """Left, top, right, bottom of a cover or liner about its middle; all of them have their head up."""
    assert place.get("turn_deg", 0.0) == 0.0
    width, height = LINER_MM if place["piece"].startswith("liner") else COVER_MM
    x, y = place["x_mm"], place["y_mm"]
    return x - width / 2, y - height / 2, x + width / 2, y + height / 2


def apart(one: Rect, other: Rect) -> float:
    """The straight-line distance between two upright rectangles."""
    across = max(one[0] - other[2], other[0] - one[2], 0.0)
    along = max(one[1] - other[3], other[1] - one[3], 0.0)
    return math.hypot(across, along)


def facts(project: dict[str, Any], state: str) -> dict[str, dict[str, Any]]:
    return {fact["piece"]: fact["place"] for fact in project["cut_pieces"] if fact["state"] == state}


def places(project: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {place["piece"]: place for place in project["layouts"][0]["placements"]}


def in_repeat(laid: dict[str, Any], at_mm: tuple[float, float]) -> tuple[float, float]:
    """The place within one repeat, in repeat vectors, from 0 to 1 each: by Cramer's rule."""
    assert laid["turn_deg"] == laid["skew_percent"] == 0.0
    x, y = at_mm[0] - laid["origin_mm"][0], at_mm[1] - laid["origin_mm"][1]
    (ax, ay), (bx, by) = HALF_DROP
    det = ax * by - ay * bx
    return (x * by - y * bx) / det % 1.0, (ax * y - ay * x) / det % 1.0


def test_a_spoiled_cover_is_planned_again(folder: Path, window_environment: dict[str, str]) -> None:
    told = told_by(HANDS, "cut", folder, window_environment)
    said_on_the_way(told)
    laid_again_clear_of_the_hole(folder)
    the_rest_is_a_cloth(folder)
    # Red is far above blue on an ellipse, though the cloth round the pieces is shown fainter; bare ground is pale.
    for seen in (told["motif before"], told["motif after"]):
        assert [red - blue > 60 for red, _, blue in seen] == [True, True, False, False], seen
    back_step_by_step(told)

    opened = told_by(HANDS, "again", folder, window_environment)["opened"]
    for what in ("placed", "rows", "said", "sentence", "least", "room", "title"):
        assert opened[what] == told["at the end"][what], what
    assert opened["undo"] == "Undo"


def said_on_the_way(told: dict[str, Any]) -> None:
    assert told["laid"]["said"] == "Fits"
    assert told["cut"]["rows"][2:] == ["Front cover  ·  cut", "Back cover  ·  cut"]
    assert told["cut"]["said"] == "Fits"
    spoiled = told["spoiled"]
    assert spoiled["placed"] == ["liner-back-1", "liner-front-1"]
    assert spoiled["rows"][0] == "Front cover  ·  waits"
    assert spoiled["rows"][-2:] == ["Back cover  ·  cut", "Front cover  ·  spoiled"]
    assert spoiled["said"] == "Incomplete"
    assert spoiled["sentence"].startswith("Front cover was spoiled and waits again")
    assert spoiled["banner"].startswith("Front cover is marked as spoiled: it leaves a hole in the cloth")
    assert spoiled["offers"].count("Lay the rest") == 2, "in the line over the cloth, and in the bar"
    assert told["laid again"]["said"] == "Fits"
    assert told["laid again"]["placed"] == ["front-1", "liner-back-1", "liner-front-1"]
    assert told["two spoiled"]["rows"][:2] == ["Front cover  ·  waits", "Front liner  ·  waits"]
    had = told["still had"]
    assert had["banner"].startswith("It cannot all be done while 1 piece stays where it lies: front cover fits nowhere")
    assert "it measures 144.5 mm x 182.5 mm" in had["banner"]
    assert "We found room for front liner." in had["banner"]
    # One liner lies uncut; wherever it lay, the two holes and the cut cover would leave a cover no place.
    assert had["banner"].endswith("Moving what lies uncut would not help either: that is proved.")
    assert had["placed"] == ["liner-back-1"], "the rest is only proposed"
    assert told["still had, taken"]["placed"] == ["liner-back-1", "liner-front-1"]
    assert "How do you know?" in had["offers"]
    assert told["rest"]["banner"].startswith("A cloth of its own now: Rest of Cloth.")


def laid_again_clear_of_the_hole(folder: Path) -> None:
    """Held against the project as it was saved after the cut, and again after the cover was laid anew."""
    cut, again = project_in(folder / "cut.coverlayout"), project_in(folder / "again.coverlayout")
    hole, back = rect(facts(cut, "cut")["front-1"]), rect(facts(cut, "cut")["back-1"])
    assert facts(again, "spoiled") == {"front-1": facts(cut, "cut")["front-1"]}, "the hole is where the cover was"
    assert facts(again, "cut") == {"back-1": facts(cut, "cut")["back-1"]}, "what was cut has not moved"
    liners = places(cut)
    assert {piece: place for piece, place in places(again).items() if piece != "front-1"} == liners
    fresh = rect(places(again)["front-1"])
    for other in (hole, back, *map(rect, liners.values())):
        assert apart(fresh, other) >= GAP_MM - 0.01
    assert min(fresh[0], fresh[1], CLOTH_MM[0] - fresh[2], CLOTH_MM[1] - fresh[3]) >= 0.0
    # The table for the bench says the same place, to 0.01 mm.
    listed = rows(folder / "papers")
    assert sorted(listed) == [
        ("back-1", "cut"),
        ("front-1", "planned"),
        ("front-1", "spoiled"),
        ("liner-back-1", "planned"),
        ("liner-front-1", "planned"),
    ]
    for state, lies in (("planned", fresh), ("spoiled", hole)):
        row = listed["front-1", state]
        assert (row["cloth"], float(row["turn_deg"])) == ("Cloth", 0.0)
        assert (float(row["left_mm"]), float(row["top_mm"])) == pytest.approx(lies[:2], abs=0.0051)
        assert (float(row["width_mm"]), float(row["height_mm"])) == pytest.approx(COVER_MM, abs=0.0051)


def the_rest_is_a_cloth(folder: Path) -> None:
    again, end = project_in(folder / "again.coverlayout"), project_in(folder / "quinces.coverlayout")
    old, rest = end["cloths"]
    gone_from = [*facts(again, "spoiled").values(), *facts(again, "cut").values(), places(again)["front-1"]]
    gone_from.append(places(again)["liner-front-1"])
    assert sorted((fact["piece"], fact["state"]) for fact in end["cut_pieces"]) == [
        ("back-1", "cut"),
        ("front-1", "spoiled"),
        ("front-1", "spoiled"),
        ("liner-front-1", "spoiled"),
    ]
    left = box(0.0, 0.0, *CLOTH_MM) - union_all([box(*rect(place)) for place in gone_from])
    assert left.geom_type == "Polygon", "it hangs together"
    x, y = left.bounds[:2]
    outer = rest["outline_mm"] or [(0, 0), (rest["width_mm"], 0), (rest["width_mm"], rest["length_mm"])]
    outer = outer if rest["outline_mm"] else [*outer, (0, rest["length_mm"])]
    holes = [flaw["points_mm"] for flaw in rest["flaws"] if flaw["gone"]]
    made = Polygon([(px + x, py + y) for px, py in outer], [[(px + x, py + y) for px, py in ring] for ring in holes])
    assert made.is_valid
    assert made.symmetric_difference(left).area == pytest.approx(0.0, abs=0.01)
    for at in ((10.0, 10.0), (189.0, 150.0), (470.0, 410.0)):
        there = at[0] - x, at[1] - y
        assert in_repeat(rest["laid"], there) == pytest.approx(in_repeat(old["laid"], at), abs=1e-9)
    assert rest["laid"]["print_id"] == old["laid"]["print_id"]
    # The liner that found room lies on the rest, clear of every hole in it.
    liner = places(end)["liner-front-1"]
    assert liner["cloth"] == rest["id"]
    seen = rect({**liner, "x_mm": liner["x_mm"] + x, "y_mm": liner["y_mm"] + y})
    for place in (*gone_from, places(again)["liner-back-1"]):
        assert apart(seen, rect(place)) >= GAP_MM - 0.01


def back_step_by_step(told: dict[str, Any]) -> None:
    *steps, start = told["undone"]
    names = [name for name, _, _ in steps]
    assert names[:5] == [
        "Make the rest a cloth of its own",
        "Lay the pieces as found",
        "Mark 2 pieces as spoiled",
        "Lay the pieces as found",
        "Mark front cover as spoiled",
    ]
    # Facts and placements there are before each of these steps is taken back: none is lost on the way, none is left.
    assert [(facts, placed) for _, facts, placed in steps[:5]] == [(4, 2), (4, 2), (4, 1), (2, 3), (2, 2)]
    assert names[5:] == [
        "Mark 2 pieces as cut",
        "Lay the pieces as found",
        "Change the rules of the job",
        "Add book Book",
        "Add cloth Cloth",
        "Change print",
        "Change print",
        "Add print quince",
    ]
    assert start == ["", 0, 0, 0, 0], "the empty window again"
    assert told["made again"]["rows"] == told["rest"]["rows"]
    assert told["as saved"]
