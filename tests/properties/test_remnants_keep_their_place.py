"""Whatever a cloth went through and whatever part is taken: on the remnant everything is where it was on the stuff."""

from __future__ import annotations

import math

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Change, Cloth, Flaw
from coverlayout.cloth.usable import flaw_region, laid_to_cloth, outline_region
from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.cutting.remnants import make_remnant
from coverlayout.document.edits.placements import place
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Ring
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

HERONS = Print("print-1", "Herons", Lattice((64.0, 48.0), (0.0, 96.0)), "half-drop")
CROOKED: Ring = ((0.0, 9.0), (390.0, 0.0), (400.0, 300.0), (15.0, 310.0))
percents = st.floats(-6.0, 6.0)
changes = st.lists(st.builds(Change, st.just("washing"), percents, percents), max_size=3)
corners = st.tuples(st.floats(-20.0, 420.0), st.floats(-20.0, 320.0))


@st.composite
def cloths(draw: st.DrawFn) -> Cloth:
    gone_through = tuple(draw(changes))
    held = st.integers(0, len(gone_through))
    laid = LaidPrint(
        "print-1",
        draw(corners),
        draw(st.floats(-180.0, 180.0)),
        draw(percents),
        draw(percents),
        draw(st.floats(-2.0, 2.0)),
        changes_in=draw(held),
    )
    stain = Flaw("flaw-1", "tea", ((150.0, 90.0), (190.0, 99.0), (160.0, 130.0)), changes_in=draw(held))
    outline = draw(st.sampled_from([None, CROOKED]))
    size = (400.0, 310.0)
    contains = 0 if outline is None else draw(held)
    return Cloth(
        "cloth-1",
        "Swatch",
        *size,
        outline_mm=outline,
        outline_changes_in=contains,
        changes=gone_through,
        laid=laid,
        flaws=(stain,),
    )


def _overlapping(project: Project) -> bool:
    """True when the label lies over the cover: on two cloths what they share counts twice, and not as before."""
    cover = Polygon([(15.0, 25.0), (105.0, 25.0), (105.0, 95.0), (15.0, 95.0)])
    (label,) = (placed for placed in placed_now(project) if placed.piece == "label-1")
    x, y, turned = label.x_mm, label.y_mm, math.radians(label.turn_deg)
    corners_mm = [(-15.0, -10.0), (15.0, -10.0), (15.0, 10.0), (-15.0, 10.0)]
    cos, sin = math.cos(turned), math.sin(turned)
    return cover.intersects(Polygon([(x + u * cos - v * sin, y + u * sin + v * cos) for u, v in corners_mm]))


@settings(max_examples=60)
@given(cloths(), st.tuples(corners, corners), corners, corners)
def test_motifs_flaws_and_pieces_keep_their_place(
    cloth: Cloth,
    part: tuple[tuple[float, float], tuple[float, float]],
    motif: tuple[float, float],
    at: tuple[float, float],
) -> None:
    (x0, y0), (x1, y1) = part
    within = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    own = (OwnPiece("own-1", "cover", 90.0, 70.0, turns="free"), OwnPiece("own-2", "label", 30.0, 20.0, turns="free"))
    start = Project(prints=(HERONS,), cloths=(cloth,), own_pieces=own)
    cut = mark_cut(("cover-1",)).change(place((Placed("cover-1", "cloth-1", 60.0, 60.0),)).change(start))
    lying = place((Placed("label-1", "cloth-1", *at, 33.0),)).change(cut)
    try:
        made = make_remnant("cloth-1", within).change(lying)
    except BadInput as fault:
        assume(fault.code not in ("remnant-too-small", "outline-no-area", "outline-crosses"))
        raise
    assume(not _overlapping(lying))
    used = [judge_for(one).report(placed_now(one)).used_percent for one in (lying, made)]
    assert abs(used[0] - used[1]) < 1e-6
    whole = outline_region(cloth)
    for rest in made.cloths[1:]:
        dx, dy = _where(lying, made, rest)
        assert cloth.laid is not None
        assert rest.laid is not None
        was = laid_to_cloth(cloth, cloth.laid).at(motif)
        now = laid_to_cloth(rest, rest.laid).at(motif)
        assert abs(now[0] + dx - was[0]) < 1e-6
        assert abs(now[1] + dy - was[1]) < 1e-6
        ground = outline_region(rest)
        assert ground.area_mm2 <= whole.area_mm2 + 1e-6
        for flaw in rest.flaws:
            if flaw.name == "tea":
                before, after = flaw_region(cloth, cloth.flaws[0]).bounds, flaw_region(rest, flaw).bounds
                assert abs(after.left_mm + dx - before.left_mm) < 1e-6
                assert abs(after.top_mm + dy - before.top_mm) < 1e-6


def _where(before: Project, made: Project, rest: Cloth) -> tuple[float, float]:
    """Where on the old cloth the remnant's corner was: told by what is marked there as gone."""
    gone = next(flaw for flaw in made.cloths[0].flaws if flaw.name == f"gone: {rest.name}")
    box = flaw_region(made.cloths[0], gone).bounds
    was, now = before.layout.place_of("label-1"), made.layout.place_of("label-1")
    assert was is not None
    assert now is not None
    if now.cloth == rest.id:
        assert abs(now.x_mm + box.left_mm - was.x_mm) < 1e-6
        assert abs(now.y_mm + box.top_mm - was.y_mm) < 1e-6
        assert now.turn_deg == was.turn_deg
    return box.left_mm, box.top_mm
