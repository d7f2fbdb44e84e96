"""The judgement of the project as it lies: worked out once, and what is turned counted from the print under it."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.document.project import Layout, Project
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print
from coverlayout.ui.verdict.judged import Judged


def two_zones() -> Project:
    """Left half upright, right half printed a quarter turned; one label upright on each."""
    a_print = Print("p", "Pear", Lattice((40.0, 0.0), (0.0, 40.0)), up="any")
    zones = (
        Zone("z1", "left", rectangle(200.0, 200.0), LaidPrint("p")),
        Zone("z2", "right", rectangle(200.0, 200.0, 200.0, 0.0), LaidPrint("p", turn_deg=90.0)),
    )
    placed = (Placed("label-1", "c", 100.0, 100.0), Placed("label-2", "c", 300.0, 100.0))
    return Project(
        prints=(a_print,),
        cloths=(Cloth("c", "Cloth", 400.0, 200.0, zones=zones),),
        own_pieces=(OwnPiece("own-1", "label", 60.0, 40.0, count=2),),
        layouts=(Layout("layout-1", "Layout 1", placed),),
    )


def test_quarter_turns_are_counted_from_the_print_under_each_piece() -> None:
    project = two_zones()
    assert Judged().quarters(project) == 1
    turned = replace(project.layouts[0].placements[1], turn_deg=90.0)
    layout = replace(project.layouts[0], placements=(project.layouts[0].placements[0], turned))
    assert Judged().quarters(replace(project, layouts=(layout,))) == 0


def test_what_lies_head_down_is_counted_on_one_way_prints_only() -> None:
    project = two_zones()
    first, second = project.layouts[0].placements
    # By the left print half turned, and by the right one, whose up is at 90, as well.
    lies = (replace(first, turn_deg=180.0), replace(second, turn_deg=270.0))
    down = replace(project, layouts=(replace(project.layouts[0], placements=lies),))
    assert Judged().heads_down(down) == 0
    one_way = replace(down, prints=(replace(down.prints[0], up="one-way"),))
    assert Judged().heads_down(one_way) == 2
    assert Judged().heads_down(replace(one_way, layouts=project.layouts)) == 0


def test_the_report_is_worked_out_once_for_a_project() -> None:
    judged, project = Judged(), two_zones()
    report = judged.report(project)
    assert report is not None
    assert report.breaches == ()
    assert judged.report(project) is report
    assert judged.trouble(project) == ""


def test_a_job_that_cannot_be_made_is_told_in_a_sentence() -> None:
    project = two_zones()
    twice = replace(project, own_pieces=(*project.own_pieces, replace(project.own_pieces[0], id="own-2")))
    judged = Judged()
    assert judged.report(twice) is None
    assert "label" in judged.trouble(twice)
    assert judged.quarters(twice) == 0
