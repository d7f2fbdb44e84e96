"""The rest of a cloth as a cloth of its own: its outline, and everything on it where it was on the stuff."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import OwnPiece, Source
from coverlayout.cloth.cloth import BaseLine, Change, Cloth, Flaw, Zone
from coverlayout.cloth.usable import flaw_region, laid_to_cloth, outline_region, usable, zone_region
from coverlayout.document.checks.whole import checked
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled, unmark
from coverlayout.document.cutting.remnants import make_remnant, remnants_of
from coverlayout.document.edits.cloths import remove_change
from coverlayout.document.edits.placements import pin, place
from coverlayout.document.layouts.named import duplicate_layout
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now, question_for
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

HERONS = Print("print-1", "Herons", Lattice((64.0, 48.0), (0.0, 96.0)), "half-drop")
TURNED = LaidPrint("print-1", (12.0, 5.5), 20.0, 1.0, -0.5, 0.25, changes_in=1)
WASH, BOND = Change("washing", -3.0, -2.0), Change("bonding", -1.5, -1.0)
STAIN = Flaw("flaw-1", "tea", ((170.0, 130.0), (195.0, 136.0), (180.0, 155.0)))
FOLD = Flaw("flaw-2", "fold", ((0.0, 180.0), (300.0, 190.0)), line_width_mm=4.0, changes_in=1)
FAR = Flaw("flaw-3", "hole by a pin", rectangle(5.0, 5.0, 10.0, 10.0))
# Cut from the top left corner: the rest is an L. Measured before the changes, so the old cloth has no outline.
CLOTH = Cloth(
    "cloth-1",
    "Swatch",
    300.0,
    240.0,
    changes=(WASH, BOND),
    flaws=(STAIN, FOLD, FAR),
    laid=TURNED,
    base_line=BaseLine((150.0, 130.0), (214.0, 178.0), (1, 0), True, 1),
    price=4.0,
    cut_name="swatch",
    doubt_percent=2.0,
    unknown=(("glue", "1"),),
)
# Through both changes 300 mm become 300 x 0.97 x 0.985 and 240 mm become 240 x 0.98 x 0.99 (several multiply).
WIDTH_MM, LENGTH_MM = 286.635, 232.848
COVER = OwnPiece("own-1", "cover", 100.0, 80.0, turns="free")
LABEL = OwnPiece("own-2", "label", 30.0, 20.0, turns="free", count=3)
START = Project(prints=(HERONS,), cloths=(CLOTH,), own_pieces=(COVER, LABEL), next_number=7)
CUT = mark_cut(("cover-1",)).change(place((Placed("cover-1", "cloth-1", 50.0, 40.0),)).change(START))
L_OF_REST: Ring = (
    (100.0, 0.0),
    (WIDTH_MM, 0.0),
    (WIDTH_MM, LENGTH_MM),
    (0.0, LENGTH_MM),
    (0.0, 80.0),
    (100.0, 80.0),
)


def remnant_of(project: Project, within: Ring | None = None) -> tuple[Project, Cloth]:
    made = make_remnant("cloth-1", within).change(project)
    assert checked(made) is made
    return made, made.cloths[1]


def same_ground(found: Region, wanted: Ring) -> bool:
    other = Region.of(wanted)
    return found.minus(other).area_mm2 + other.minus(found).area_mm2 < 1e-3


def test_the_rest_has_its_true_outline_and_a_name() -> None:
    made, rest = remnant_of(CUT)
    assert [cloth.name for cloth in made.cloths] == ["Swatch", "Rest of Swatch"]
    assert rest.state == "measured"
    assert (rest.doubt, rest.price, rest.cut_name, rest.unknown) == (0.0, None, None, ())
    assert same_ground(outline_region(rest), L_OF_REST)
    assert rest.id not in {"cloth-1", *(flaw.id for flaw in made.cloths[0].flaws)}
    assert made.cut_pieces == CUT.cut_pieces


def test_a_motif_lies_where_it_lay() -> None:
    """The motif at (25, 43) of the tile, three repeats along a and one back along b, worked out by hand.

    Print frame: (25 + 3 x 64, 43 + 3 x 48 - 96) = (217, 91). Stretched by 1.01 and 0.995, sheared by 0.25 % of the
    width, turned by 20 degrees clockwise, moved by (12, 5.5); then the second change only, since the print holds the
    first.
    """
    x, y = 217.0 * 1.01, 91.0 * 0.995
    y += 0.0025 * x
    cos, sin = math.cos(math.radians(20.0)), math.sin(math.radians(20.0))
    on_old = (cos * x - sin * y + 12.0) * 0.985, (sin * x + cos * y + 5.5) * 0.99
    assert laid_to_cloth(CLOTH, TURNED).at((217.0, 91.0)) == pytest.approx(on_old)
    right_part = ((150.0, 20.0), (280.0, 20.0), (280.0, 200.0), (190.0, 220.0), (150.0, 90.0))
    for within, corner in ((None, (0.0, 0.0)), (right_part, (150.0, 20.0))):
        _, rest = remnant_of(CUT, within)
        assert rest.laid is not None
        assert rest.laid.changes_in == 1
        found = laid_to_cloth(rest, rest.laid).at((217.0, 91.0))
        assert found == pytest.approx((on_old[0] - corner[0], on_old[1] - corner[1]))


def test_a_part_can_be_chosen_and_what_reaches_into_it_comes_along() -> None:
    within: Ring = ((150.0, 110.0), (280.0, 110.0), (280.0, 220.0), (150.0, 200.0))
    made, rest = remnant_of(CUT, within)
    moved = tuple((x - 150.0, y - 110.0) for x, y in within)
    assert same_ground(outline_region(rest), moved)
    assert [flaw.name for flaw in rest.flaws] == ["tea", "fold"]
    old_flaws = {flaw.name: flaw_region(CLOTH, flaw) for flaw in CLOTH.flaws}
    for flaw in rest.flaws:
        before, after = old_flaws[flaw.name].bounds, flaw_region(rest, flaw).bounds
        assert (before.left_mm - 150.0, before.top_mm - 110.0) == pytest.approx((after.left_mm, after.top_mm))
        assert (before.width_mm, before.height_mm) == pytest.approx((after.width_mm, after.height_mm))
        assert flaw.id not in {"flaw-1", "flaw-2"}
    # The stain is wholly on the part; of the fold there is some left on the old cloth.
    assert [flaw.name for flaw in made.cloths[0].flaws] == ["fold", "hole by a pin", "gone: Rest of Swatch"]
    gone = made.cloths[0].flaws[-1]
    assert (gone.name, gone.gone) == ("gone: Rest of Swatch", True)
    assert same_ground(flaw_region(made.cloths[0], gone), within)


def test_changes_go_on_to_count() -> None:
    """Without bonding (1.5 and 1 % of loss) all of the rest is larger by that, as the old cloth would be."""
    made, rest = remnant_of(CUT)
    before = remove_change(rest.id, 1).change(made).cloths[1]
    grown = tuple((x / 0.985, y / 0.99) for x, y in L_OF_REST)
    assert same_ground(outline_region(before), grown)
    assert before.laid is not None
    x, y = laid_to_cloth(rest, rest.laid or TURNED).at((217.0, 91.0))
    assert laid_to_cloth(before, before.laid).at((217.0, 91.0)) == pytest.approx((x / 0.985, y / 0.99))


def test_a_rectangle_is_given_by_its_size() -> None:
    made, rest = remnant_of(CUT, rectangle(97.0 * 0.985, 98.0 * 0.99, 150.0, 120.0))
    assert rest.outline_mm is None
    assert (rest.width_mm, rest.length_mm) == pytest.approx((100.0, 100.0))
    assert made.cloths[0].outline_mm is None


def test_the_base_line_comes_along_when_all_of_it_is_there() -> None:
    _, rest = remnant_of(CUT, rectangle(130.0, 110.0, 140.0, 110.0))
    line = rest.base_line
    assert line is not None
    assert (line.repeats, line.measured_from, line.changes_in) == ((1, 0), True, 1)
    to_now = rest.change_after(1)
    # Measured after washing: bonding alone has moved it since.
    assert to_now.at(line.start_mm) == pytest.approx((150.0 * 0.985 - 140.0, 130.0 * 0.99 - 110.0))
    _, half = remnant_of(CUT, rectangle(130.0, 50.0, 140.0, 110.0))
    assert half.base_line is None


def test_strips_stay_with_the_old_edges() -> None:
    """Trim 5 mm and a selvedge of 9 mm at the right; the cut took the top left corner, 100 x 80 mm.

    The new edges can be used up to the cut: that is 5 mm more than a trim all round would leave.
    """
    trimmed = replace(CLOTH, changes=(), flaws=(), laid=None, base_line=None, trim_mm=5.0, selvedge_right_mm=9.0)
    whole = mark_cut(("cover-1",)).change(
        place((Placed("cover-1", "cloth-1", 50.0, 40.0),)).change(replace(START, cloths=(trimmed,)))
    )
    _, rest = remnant_of(whole)
    clear = usable(rest).minus(Region.union(flaw_region(rest, flaw) for flaw in rest.flaws))
    wanted = ((100.0, 5.0), (291.0, 5.0), (291.0, 235.0), (5.0, 235.0), (5.0, 80.0), (100.0, 80.0))
    assert same_ground(clear, wanted)
    _, inner = remnant_of(whole, rectangle(50.0, 50.0, 120.0, 100.0))
    assert (inner.flaws, inner.selvedge_right_mm, inner.selvedge_left_mm) == ((), 0.0, 0.0)
    _, right = remnant_of(whole, rectangle(95.0, 50.0, 200.0, 100.0))
    assert right.selvedge_right_mm == pytest.approx(4.0)


def test_planned_pieces_move_with_the_rest_in_every_layout() -> None:
    lying = (Placed("label-1", "cloth-1", 200.0, 150.0, 30.0), Placed("label-2", "cloth-1", 140.0, 40.0))
    laid = pin(("label-1",)).change(place(lying).change(CUT))
    twice = duplicate_layout("layout-1", "Other").change(laid)
    right: Ring = rectangle(120.0, 200.0, 150.0, 20.0)
    made, rest = remnant_of(twice, right)
    for layout in made.layouts:
        # Of label-2, from 125 to 155 across, only the last 5 mm are on the part: it stays.
        assert layout.placements == (replace(lying[0], cloth=rest.id, x_mm=50.0, y_mm=130.0), lying[1])
        assert layout.pinned == ("label-1",)
    assert judge_for(made).report(placed_now(made)).breaches[0].against == "gone: Rest of Swatch"


def test_the_cloth_is_not_there_twice() -> None:
    """Used is what is cut and laid over what was bought, before as after; and nothing is laid where cloth is gone."""
    lying = place((Placed("label-1", "cloth-1", 200.0, 100.0),)).change(CUT)
    made, rest = remnant_of(lying)
    before, after = (judge_for(one).report(placed_now(one)) for one in (lying, made))
    assert after.used_percent == pytest.approx(before.used_percent)
    assert before.used_percent == pytest.approx(100 * (100 * 80 + 30 * 20) / (WIDTH_MM * LENGTH_MM))
    assert after.breaches == ()
    stays = place((Placed("label-2", "cloth-1", 240.0, 200.0),)).change(made)
    assert [breach.against for breach in judge_for(stays).report(placed_now(stays)).breaches] == [
        "gone: Rest of Swatch"
    ]
    again = mark_cut(("label-1",)).change(made)
    twice = make_remnant(rest.id).change(again)
    assert [cloth.name for cloth in twice.cloths] == ["Swatch", "Rest of Swatch", "Rest of Rest of Swatch"]
    used = judge_for(twice).report(placed_now(twice)).used_percent
    assert used == pytest.approx(before.used_percent)


def test_each_part_is_a_cloth_of_its_own_and_a_cut_in_the_middle_leaves_a_hole() -> None:
    plain = Cloth("cloth-1", "Strip", 300.0, 80.0)
    start = replace(START, cloths=(plain,), prints=())
    across = mark_cut(("cover-1",)).change(place((Placed("cover-1", "cloth-1", 170.0, 40.0),)).change(start))
    made = make_remnant("cloth-1").change(across)
    assert [(cloth.name, cloth.width_mm, cloth.length_mm) for cloth in made.cloths] == [
        ("Strip", 300.0, 80.0),
        ("Rest of Strip", 120.0, 80.0),
        ("Rest of Strip 2", 80.0, 80.0),
    ]
    middle = mark_spoiled(("label-1",)).change(place((Placed("label-1", "cloth-1", 90.0, 30.0),)).change(start))
    holed, rest = remnant_of(middle)
    assert [(flaw.name, flaw.gone) for flaw in rest.flaws] == [("hole", True)]
    assert same_ground(flaw_region(rest, rest.flaws[0]), rectangle(30.0, 20.0, 75.0, 20.0))
    assert question_for(holed).cloths[1].gone_mm2 == pytest.approx(600.0)
    assert question_for(holed).cloths[0].gone_mm2 == pytest.approx(300.0 * 80.0 - 600.0)


def test_zones_and_sources_follow() -> None:
    zones = (
        Zone("zone-1", "left", rectangle(150.0, 240.0), replace(TURNED, changes_in=0)),
        Zone("zone-2", "right", rectangle(150.0, 240.0, 150.0), TURNED, changes_in=1),
    )
    own = replace(LABEL, source=Source("print-1", "cloth-1", "zone-2"))
    zoned = replace(CUT, cloths=(replace(CLOTH, zones=zones, laid=None, base_line=None),), own_pieces=(COVER, own))
    made, rest = remnant_of(zoned)
    assert [zone.name for zone in rest.zones] == ["left", "right"]
    right = rest.zones[1]
    # The right zone was measured after washing: bonding alone has moved it, 150 x 0.985 mm.
    box = zone_region(rest, right).bounds
    assert (box.left_mm, box.right_mm) == pytest.approx((147.75, WIDTH_MM))
    assert made.own_pieces[1].source == Source("print-1", rest.id, right.id)
    part, of_part = remnant_of(zoned, rectangle(100.0, 100.0, 180.0, 60.0))
    assert [zone.name for zone in of_part.zones] == ["right"]
    assert part.own_pieces[1].source == own.source
    bare, beside = remnant_of(
        replace(zoned, cloths=(replace(zoned.cloths[0], zones=zones[:1]),), own_pieces=(COVER, LABEL)),
        rectangle(60.0, 60.0, 200.0, 100.0),
    )
    assert (beside.zones, beside.laid) == ((), None)
    assert bare.cloths[0].zones == zones[:1]


def test_a_piece_follows_its_zone_to_the_rest_that_has_it() -> None:
    """A strip cut through a cloth of 300: the larger rest lies right of it; the left zone is in the smaller one only.

    The third zone goes with the strip: whoever had to come from it still has to.
    """
    zones = (
        Zone("zone-1", "left", rectangle(80.0, 240.0)),
        Zone("zone-2", "right", rectangle(180.0, 240.0, 120.0)),
        Zone("zone-3", "strip", rectangle(40.0, 240.0, 80.0)),
    )
    strip = OwnPiece("own-1", "cover", 40.0, 240.0, turns="free")
    sources = [Source(cloth_id="cloth-1", zone_id=zone.id) for zone in zones]
    labels = tuple(
        OwnPiece(f"own-{k}", f"label {k}", 20.0, 10.0, source=source)
        for k, source in enumerate([*sources, Source()], 2)
    )
    start = Project(cloths=(Cloth("cloth-1", "Swatch", 300.0, 240.0, zones=zones),), own_pieces=(strip, *labels))
    cut = mark_cut(("cover-1",)).change(place((Placed("cover-1", "cloth-1", 100.0, 120.0),)).change(start))
    made, large = remnant_of(cut)
    small = made.cloths[2]
    assert [piece.source for piece in made.own_pieces[1:]] == [
        Source(cloth_id=small.id, zone_id=small.zones[0].id),
        Source(cloth_id=large.id, zone_id=large.zones[0].id),
        sources[2],
        Source(),
    ]


def test_a_rest_that_is_none_is_refused_in_one_sentence() -> None:
    for project, within, words in (
        (START, None, "nothing was cut from it yet, so its rest is all of it"),
        (CUT, rectangle(9.0, 50.0, 150.0, 100.0), "nothing is left there in which even a circle of 10 mm finds room"),
        (CUT, rectangle(90.0, 70.0), "nothing is left there"),
        (CUT, ((0.0, 0.0), (50.0, 50.0), (50.0, 0.0), (0.0, 50.0)), "cross"),
        (replace(START, cloths=(replace(CLOTH, state="to-buy"),)), None, "Swatch is not bought yet"),
    ):
        with pytest.raises(BadInput, match=words) as caught:
            make_remnant("cloth-1", within).change(project)
        assert "\n" not in str(caught.value)
    with pytest.raises(BadInput, match="cloth-9"):
        make_remnant("cloth-9").change(CUT)
    bought = replace(CUT, cloths=(replace(CLOTH, state="to-order"),))
    assert make_remnant("cloth-1").change(bought).cloths[1].state == "measured"


def test_parts_are_told_before_they_are_made() -> None:
    parts = remnants_of(CUT, CLOTH)
    assert len(parts) == 1
    assert same_ground(parts[0], L_OF_REST)
    assert make_remnant("cloth-1").name.text() == "Make the rest a cloth of its own"


def test_a_mark_taken_back_finds_its_place_still_there() -> None:
    """The fact stays with the old cloth: taken back, the piece lies there again, on ground that is still there."""
    made, _ = remnant_of(replace(CUT, cloths=(replace(CLOTH, flaws=()),)))
    back = unmark(made.cut_pieces).change(made)
    assert back.layout.place_of("cover-1") == CUT.cut_pieces[0].place
    assert judge_for(back).report(placed_now(back)).breaches == ()


def corner_of(ring: Ring) -> Point:
    return min(x for x, _ in ring), min(y for _, y in ring)


def test_a_remnant_begins_at_its_own_corner() -> None:
    for within in (None, rectangle(120.0, 90.0, 150.0, 100.0), ((150.0, 110.0), (280.0, 130.0), (200.0, 220.0))):
        _, rest = remnant_of(CUT, within)
        assert corner_of(rest.outline_now_mm()) == pytest.approx((0.0, 0.0), abs=1e-6)
