"""Step 2: size or cut, edges, changes in size, outline and flaws of a cloth, through the fields."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import Change, Flaw
from coverlayout.cloth.cuts import ladder
from coverlayout.document.edits.cloths import change_cloth, trace_outline
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.edits.prints import add_print
from coverlayout.document.session import Session
from coverlayout.errors import BadInput
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import Print
from coverlayout.ui.fields.points import PointsEntry
from coverlayout.ui.painting.captions import caption_of
from coverlayout.ui.panels.cloth_panel import ClothPanel
from coverlayout.units import LengthStyle


@pytest.fixture
def panel(qtbot: QtBot, session: Session, hands) -> ClothPanel:
    panel = ClothPanel(session, hands.hear)
    qtbot.addWidget(panel)
    session.listen(lambda old, new: panel.show_project(new))
    panel.show_project(session.project)
    return panel


@pytest.fixture
def swatch(panel: ClothPanel, hands) -> ClothPanel:
    hands.type(panel.size_entry, "12 x 12 in")
    return panel


def fill(entry: PointsEntry, text: str) -> None:
    entry.text.setPlainText(text)
    entry.finish()


def test_a_typed_size_makes_the_cloth(swatch: ClothPanel, session: Session) -> None:
    (cloth,) = session.project.cloths
    assert (cloth.width_mm, cloth.length_mm, cloth.state) == (304.8, 304.8, "measured")
    assert swatch.summary(session.project) == "In hand, 304.5 × 304.5 mm", "a room is never rounded up"
    assert swatch.size_entry.line.text() == "304.8 × 304.8"


def test_the_first_print_lies_on_a_new_cloth(panel: ClothPanel, session: Session, hands) -> None:
    session.do(add_print(Print("", "Quince", Lattice((64.0, 0.0), (0.0, 96.0)))))
    hands.type(panel.size_entry, "12 x 12 in")
    laid = session.project.cloths[0].laid
    assert laid is not None
    assert (laid.print_id, laid.origin_known) == (session.project.prints[0].id, True)
    hands.choose(panel.state, "to buy")
    laid = session.project.cloths[0].laid
    assert laid is not None
    assert not laid.origin_known


def test_what_is_odd_about_the_cloth_stands_under_its_size(panel: ClothPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "18 x 22 in")
    assert "width and length swapped" in panel.remarks.text()
    assert panel.remarks.text().startswith("This is")
    assert not panel.remarks.isHidden()
    hands.type(panel.size_entry, "300 x 200 mm")
    assert panel.remarks.isHidden()
    hands.type(panel.trim, "100")
    assert "leave nothing of this cloth" in panel.remarks.text()
    hands.type(panel.trim, "0")
    fill(panel.flaws.by_number, "280,20\n290,35")
    hands.type(panel.size_entry, "200 x 200 mm")
    assert "lies beside the cloth" in panel.remarks.text()
    assert hands.said == []


def test_a_ladder_that_cannot_be_read_hides_no_other_remark(
    panel: ClothPanel, hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unreadable() -> None:
        raise BadInput("count-out-of-range", where="Books", found="0", least=1, most=2)

    monkeypatch.setattr("coverlayout.cloth.cuts.ladder_in_use", unreadable)
    hands.type(panel.size_entry, "300 x 200 mm")
    hands.type(panel.trim, "100")
    assert "leave nothing of this cloth" in panel.remarks.text()


def test_a_cut_off_the_ladder_is_cloth_to_buy(panel: ClothPanel, session: Session, hands) -> None:
    hands.choose(panel.cut, "fat quarter, 44 in")
    (cloth,) = session.project.cloths
    assert (cloth.width_mm, cloth.length_mm) == (558.8, 457.2)
    assert (cloth.state, cloth.cut_name, cloth.doubt) == ("to-buy", "fat quarter, 44 in", 1.0)
    assert panel.summary(session.project).startswith("Fat quarter, 44 in")
    panel.take_cut(ladder()[0].name)
    assert session.project.cloths[0].cut_name == ladder()[0].name
    hands.choose(panel.cut, "own size")
    assert session.project.cloths[0].cut_name is None


def test_flaws_stay_behind_with_the_cloth_before_a_cut(swatch: ClothPanel, session: Session, hands) -> None:
    (cloth,) = session.project.cloths
    stain = Flaw("stain-1", "stain", ((10.0, 10.0), (30.0, 12.0), (14.0, 40.0)))
    corners = ((0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (0.0, 250.0))
    session.do(change_cloth(cloth.id, flaws=(stain,), outline_mm=corners))
    hands.choose(swatch.cut, "fat quarter, 44 in")
    (bought,) = session.project.cloths
    assert (bought.flaws, bought.outline_mm, bought.cut_name) == ((), None, "fat quarter, 44 in")
    ((told, trouble),) = hands.said
    assert told.startswith("fat quarter, 44 in is cloth still to buy, so the flaws")
    assert not trouble
    session.undo()
    assert len(session.project.cloths[0].flaws) == 1
    hands.said.clear()
    swatch.take_cut("fat quarter, 44 in")
    assert (session.project.cloths[0].flaws, len(hands.said)) == ((), 1)
    swatch.take_cut("yard, 44 in")
    assert len(hands.said) == 1, "no flaw was left to tell of"


def test_an_outline_off_the_corner_is_refused_in_the_unit_shown(swatch: ClothPanel, session: Session) -> None:
    session.do(change_preferences(length_style=LengthStyle("in", inch_parts=16)))
    fill(swatch.outline.points, "1, 0\n10, 0\n10, 10\n1, 10")
    assert "begins 1 in from the left and 0 in from the top" in swatch.outline.points.trouble.text()


def test_strips_along_the_edges(swatch: ClothPanel, session: Session, hands) -> None:
    hands.type(swatch.trim, "3mm")
    hands.type(swatch.web_short, "1/8 in")
    hands.type(swatch.selvedge_left, "10")
    hands.type(swatch.selvedge_right, "11")
    (cloth,) = session.project.cloths
    assert (cloth.trim_mm, cloth.web_short_mm) == (3.0, 3.175)
    assert (cloth.selvedge_left_mm, cloth.selvedge_right_mm) == (10.0, 11.0)
    hands.type(swatch.trim, "-1")
    assert session.project.cloths[0].trim_mm == 3.0
    assert "0 or more" in swatch.trim.trouble.text()


def test_changes_in_size_come_and_go(swatch: ClothPanel, session: Session, hands) -> None:
    swatch.changes.rows.add_button.click()
    row = swatch.changes.rows.row(0)
    hands.type(row.across, "3")
    hands.type(row.along, "1.5 %")
    swatch.changes.rows.add_button.click()
    hands.type(swatch.changes.rows.row(1).name, "pressing")
    assert session.project.cloths[0].changes == (Change("washing", -3.0, -1.5), Change("pressing", 0.0, 0.0))
    assert "2 changes in size" in swatch.summary(session.project)
    row.remove.click()
    assert session.project.cloths[0].changes == (Change("pressing", 0.0, 0.0),)
    assert swatch.changes.rows.row(0).name.line.text() == "pressing"


def test_a_number_without_a_sign_shrinks_unless_growing_is_chosen(swatch: ClothPanel, session: Session, hands) -> None:
    def washed() -> tuple[float, float]:
        (change,) = session.project.cloths[0].changes
        return change.across_percent, change.along_percent

    swatch.changes.rows.add_button.click()
    row = swatch.changes.rows.row(0)
    hands.type(row.across, "5")
    hands.type(row.along, "-3")
    assert washed() == (-5.0, -3.0)
    assert (row.across.line.text(), row.along.line.text()) == ("5", "3")
    # 304.8 x 0.95 = 289.56 and 304.8 x 0.97 = 295.656, rooms rounded down to 0.5.
    assert row.leaves.text() == "Leaves 289.5 mm across, 295.5 mm along."
    hands.choose(row.along_way, "grows by")
    assert washed() == (-5.0, 3.0)
    hands.type(row.along, "2")
    assert washed() == (-5.0, 2.0)
    hands.type(row.along, "-2")
    assert washed() == (-5.0, -2.0)
    assert row.along_way.value == "shrinks"
    hands.choose(row.across_way, "grows by")
    hands.type(row.across, "0")
    assert str(washed()[0]) == "0.0"
    assert row.across_way.value == "grows", "the choice waits for the number"
    hands.type(row.across, "1")
    assert washed()[0] == 1.0


def test_what_is_left_counts_the_changes_in_order(swatch: ClothPanel, session: Session, hands) -> None:
    for percent in ("3", "1.5"):
        swatch.changes.rows.add_button.click()
        row = swatch.changes.rows.row(len(session.project.cloths[0].changes) - 1)
        hands.type(row.across, percent)
    # 304.8 x 0.97 = 295.656; x 0.985 = 291.22116.
    left = [swatch.changes.rows.row(at).leaves.text() for at in range(2)]
    assert left == ["Leaves 295.5 mm across, 304.5 mm along.", "Leaves 291.0 mm across, 304.5 mm along."]
    fill(swatch.outline.points, "0,0\n290,0\n280,250\n0,300")
    assert swatch.changes.rows.row(0).leaves.text() == "The outline was measured after it."


def test_which_figures_are_before_the_changes_is_said_once_there_are_some(swatch: ClothPanel) -> None:
    words = (swatch.before_changes, swatch.after_changes, swatch.outline.as_now, swatch.flaws.as_now)
    assert [each.isHidden() for each in words] == [True] * 4
    swatch.changes.rows.add_button.click()
    assert [each.isHidden() for each in words] == [False] * 4
    assert "before the changes" in swatch.before_changes.text()
    assert "as the cloth is now" in swatch.flaws.as_now.text().lower()


def test_outline_and_flaws_are_shown_and_typed_on_the_cloth_as_it_is_now(
    swatch: ClothPanel, session: Session, hands
) -> None:
    fill(swatch.outline.points, "0,0\n300,0\n300,200\n0,100")
    fill(swatch.flaws.by_number, "10,20\n200,40")
    row = swatch.flaws.rows.row(session.project.cloths[0].flaws[0].id)
    swatch.changes.rows.add_button.click()
    hands.type(swatch.changes.rows.row(0).across, "10")
    hands.type(swatch.changes.rows.row(0).along, "5")
    assert swatch.outline.points.text.toPlainText() == "0,0\n270,0\n270,190\n0,95"
    assert row.points.text.toPlainText() == "9,19\n180,38"
    fill(row.points, "9,19\n170,38")
    fill(swatch.outline.points, "0,0\n270,0\n270,190\n0,90")
    (cloth,) = session.project.cloths
    assert (cloth.flaws[0].points_mm, cloth.flaws[0].changes_in) == (((9.0, 19.0), (170.0, 38.0)), 1)
    assert (cloth.outline_mm, cloth.outline_changes_in) == (((0, 0), (270.0, 0), (270.0, 190.0), (0, 90.0)), 1)
    assert cloth.outline_now_mm()[3] == (0.0, 90.0)


def test_a_doubt_nobody_typed_says_where_it_comes_from(swatch: ClothPanel, session: Session, hands) -> None:
    assert (swatch.changes.doubt.line.text(), swatch.changes.doubt_says.isHidden()) == ("0", True)
    hands.choose(swatch.state, "to buy")
    assert swatch.changes.doubt.line.text() == "1"
    assert "still to buy" in swatch.changes.doubt_says.text()
    hands.choose(swatch.state, "in hand")
    before = session.project.cloths[0]
    swatch.changes.rows.add_button.click()
    after = session.project.cloths[0]
    assert (after.doubt, after.state, after.doubt_percent) == (before.doubt, before.state, before.doubt_percent)
    assert swatch.changes.doubt.line.text() == "0"
    hands.choose(swatch.state, "to order")
    hands.type(swatch.changes.doubt, "0.5")
    assert swatch.changes.doubt_says.isHidden()


def test_doubt_is_typed(swatch: ClothPanel, session: Session, hands) -> None:
    hands.type(swatch.changes.doubt, "2")
    assert session.project.cloths[0].doubt == 2.0


def test_an_outline_as_a_list_of_numbers(swatch: ClothPanel, session: Session) -> None:
    swatch.outline.points.text.setPlainText("0,0\n300,0\n280,250\n0,300")
    swatch.outline.points.finish()
    assert session.project.cloths[0].outline_mm == ((0.0, 0.0), (300.0, 0.0), (280.0, 250.0), (0.0, 300.0))
    swatch.outline.points.text.setPlainText("0,0\n300,300\n300,0\n0,200")
    swatch.outline.points.finish()
    assert "crosses itself" in swatch.outline.points.trouble.text()
    assert len(session.project.cloths[0].outline_mm or ()) == 4
    swatch.outline.points.text.setPlainText("")
    swatch.outline.points.finish()
    assert session.project.cloths[0].outline_mm is None


def test_flaws_as_lists_of_numbers(swatch: ClothPanel, session: Session, hands) -> None:
    hands.choose(swatch.flaws.kind, "frayed edge")
    fill(swatch.flaws.by_number, "0,20\n0,200")
    (flaw,) = session.project.cloths[0].flaws
    assert (flaw.name, flaw.line_width_mm) == ("frayed edge", 10.0)
    assert swatch.flaws.by_number.text.toPlainText() == "", "ready for the next one"
    row = swatch.flaws.rows.row(flaw.id)
    hands.type(row.name, "crease")
    hands.type(row.width_entry, "6")
    row.points.text.setPlainText("10,20\n200,35")
    row.points.finish()
    row.hidden.click()
    (flaw,) = session.project.cloths[0].flaws
    assert (flaw.name, flaw.line_width_mm, flaw.fine_where_hidden) == ("crease", 6.0, True)
    assert flaw.points_mm == ((10.0, 20.0), (200.0, 35.0))
    assert "crease" in swatch.summary(session.project)
    row.remove.click()
    assert session.project.cloths[0].flaws == ()


def test_three_corners_make_an_area_unless_a_width_was_typed(swatch: ClothPanel, session: Session, hands) -> None:
    fill(swatch.flaws.by_number, "20,10\n90,15")
    row = swatch.flaws.rows.row(session.project.cloths[0].flaws[0].id)
    assert session.project.cloths[0].flaws[0].line_width_mm == 4.0
    fill(row.points, "20,10\n60,15\n40,50")
    assert session.project.cloths[0].flaws[0].line_width_mm == 0.0
    assert row.width_entry.line.text() == "0"
    fill(row.points, "20,10\n60,15")
    assert session.project.cloths[0].flaws[0].line_width_mm == 4.0
    hands.type(row.width_entry, "3")
    fill(row.points, "20,10\n60,15\n40,50")
    assert session.project.cloths[0].flaws[0].line_width_mm == 3.0
    assert row.width_entry.title.text() == "Width of a line, 0 for an area"
    assert "with the margin you want" in swatch.flaws.margin.text()


def test_an_outline_begins_at_the_corner_of_its_box(swatch: ClothPanel, session: Session) -> None:
    fill(swatch.outline.points, "20,0\n300,0\n280,250\n20,300")
    assert session.project.cloths[0].outline_mm is None
    assert "begins 20.0 mm from the left" in swatch.outline.points.trouble.text()
    fill(swatch.outline.points, "20,0\n300,0\n280,250\n0,300")
    assert session.project.cloths[0].outline_mm is not None


def test_an_empty_outline_offers_the_corners_there_are(qtbot: QtBot, swatch: ClothPanel, session: Session) -> None:
    points, before = swatch.outline.points, session.project
    rectangle = "0,0\n304.8,0\n304.8,304.8\n0,304.8"
    assert points.text.placeholderText() == rectangle
    swatch.outline.head.click()
    swatch.show()
    qtbot.waitExposed(swatch)
    points.text.setFocus()
    qtbot.waitUntil(points.text.hasFocus)
    assert points.text.toPlainText() == rectangle
    swatch.size_entry.line.setFocus()
    assert points.text.toPlainText() == ""
    assert session.project is before, "a look into the field changes nothing"
    points.text.setFocus()
    qtbot.waitUntil(points.text.hasFocus)
    points.text.setPlainText(rectangle.replace("304.8,304.8", "290,280"))
    swatch.size_entry.line.setFocus()
    assert (session.project.cloths[0].outline_mm or ())[2] == (290.0, 280.0)


def test_another_cloth_is_added_and_chosen(swatch: ClothPanel, session: Session, hands) -> None:
    swatch.row.another.click()
    assert len(session.project.cloths) == 2
    assert not swatch.row.chooser.isHidden()
    hands.type(swatch.size_entry, "200 x 100")
    assert [cloth.width_mm for cloth in session.project.cloths] == [304.8, 200.0]
    hands.choose(swatch.row.chooser, "Cloth")
    assert swatch.size_entry.line.text() == "304.8 × 304.8"


def test_the_drawings_paint_themselves(qtbot: QtBot, swatch: ClothPanel, hands) -> None:
    swatch.drawing.resize(260, 112)
    plain = swatch.drawing.grab().toImage()
    hands.type(swatch.selvedge_left, "40")
    assert swatch.drawing.grab().toImage() != plain


def test_the_print_on_a_cloth_is_chosen_and_the_cloth_removed(swatch: ClothPanel, session: Session, hands) -> None:
    assert swatch.print_choice.isHidden()
    session.do(add_print(Print("", "Quince", Lattice((64.0, 0.0), (0.0, 96.0)))))
    hands.choose(swatch.print_choice, "Quince")
    laid = session.project.cloths[0].laid
    assert laid is not None
    assert laid.print_id == session.project.prints[0].id
    hands.choose(swatch.print_choice, "none, plain")
    assert session.project.cloths[0].laid is None
    swatch.row.remove.click()
    assert session.project.cloths == ()
    assert swatch.size_entry.line.text() == ""


def test_a_flaw_that_cannot_be_is_told_under_its_field(swatch: ClothPanel, session: Session) -> None:
    before = session.project
    fill(swatch.flaws.by_number, "400,20\n420,200\n410,300")
    assert "wholly beside" in swatch.flaws.by_number.trouble.text()
    fill(swatch.flaws.by_number, "20,20\n90,90\n90,20\n20,90")
    assert "crosses itself" in swatch.flaws.by_number.trouble.text()
    fill(swatch.outline.points, "0,0\n310,0\n280,250\n0,300")
    assert "reaches beyond the cloth" in swatch.outline.points.trouble.text()
    assert session.project is before


def test_cloths_are_named_copied_ordered_and_removed(swatch: ClothPanel, session: Session, hands) -> None:
    def names() -> list[str]:
        return [cloth.name for cloth in session.project.cloths]

    assert swatch.row.chooser.isHidden()
    hands.type(swatch.row.name, "Linen")
    fill(swatch.flaws.by_number, "20,10\n90,15")
    swatch.row.twin.click()
    assert names() == ["Linen", "Linen 2"]
    assert swatch.row.name.line.text() == "Linen 2", "the copy is shown"
    assert len(session.project.cloths[1].flaws) == 1
    swatch.row.earlier.click()
    assert names() == ["Linen 2", "Linen"]
    assert not swatch.row.earlier.isEnabled()
    swatch.row.later.click()
    assert names() == ["Linen", "Linen 2"]
    swatch.row.show_next()
    assert swatch.row.name.line.text() == "Linen"
    hands.type(swatch.row.name, "  ")
    assert names() == ["Linen", "Linen 2"]
    swatch.row.remove.click()
    assert names() == ["Linen 2"]
    session.undo()
    assert names() == ["Linen", "Linen 2"]


def test_a_cloth_is_divided_and_each_zone_gets_its_print(swatch: ClothPanel, session: Session, hands) -> None:
    for name in ("Quince", "Heron"):
        session.do(add_print(Print("", name, Lattice((64.0, 0.0), (0.0, 96.0)))))
    hands.type(swatch.zones.columns, "3")
    hands.type(swatch.zones.lines, "2")
    hands.type(swatch.zones.between, "2.4 mm")
    swatch.zones.divide.click()
    zones = session.project.cloths[0].zones
    # (304.8 - 2 x 2.4) / 3 by (304.8 - 2.4) / 2; the fifth begins one field and one strip in, both ways.
    assert zones[4].outline_mm[0] == pytest.approx((102.4, 153.6))
    assert zones[4].outline_mm[2] == pytest.approx((202.4, 304.8))
    assert swatch.zones.grid.isHidden()
    row = swatch.zones.rows.row(zones[4].id)
    assert row.turn.isHidden()
    assert row.more.inside.isHidden()
    hands.choose(row.print_choice, "Heron")
    hands.type(row.origin_y, "160")
    hands.type(row.turn, "-90")
    hands.type(row.name, "herons")
    laid = session.project.cloths[0].zones[4].laid
    assert laid is not None
    assert (laid.print_id, laid.origin_mm, laid.turn_deg) == (session.project.prints[1].id, (0.0, 160.0), 270.0)
    fill(row.points, "110,160\n190,160\n150,300")
    fill(row.points, "10,10\n190,10\n150,300")
    assert "lies over zone 1" in row.points.trouble.text()
    zone = session.project.cloths[0].zones[4]
    assert (zone.name, zone.outline_mm) == ("herons", ((110.0, 160.0), (190.0, 160.0), (150.0, 300.0)))
    assert swatch.zones.head.text().endswith("6")
    row.remove.click()
    swatch.zones.clear.click()
    assert session.project.cloths[0].zones == ()
    assert not swatch.zones.grid.isHidden()


def test_zones_there_already_are_kept_when_the_grid_is_asked_for_again(
    swatch: ClothPanel, session: Session, hands
) -> None:
    swatch.zones.divide.click()
    before = session.project
    swatch.zones.divide.click()
    assert session.project is before
    assert hands.said == [("Cloth has zones already; remove them first, or cut one of them in two", True)]


def test_parts_ask_for_the_canvas(swatch: ClothPanel, session: Session, qtbot: QtBot) -> None:
    fill(swatch.flaws.by_number, "20,10\n90,15")
    swatch.zones.divide.click()
    (cloth,) = session.project.cloths
    for asked in (
        swatch.flaws.draw,
        swatch.flaws.rows.row(cloth.flaws[0].id).by_hand,
        swatch.zones.rows.add_button,
        swatch.zones.cut,
        swatch.zones.rows.row(cloth.zones[0].id).by_hand,
        swatch.outline.trace,
        swatch.outline.by_hand,
    ):
        with qtbot.waitSignal(swatch.task_asked, timeout=1000):
            asked.click()


def test_while_the_back_is_seen_the_step_says_that_it_shows_the_print_side(
    swatch: ClothPanel, session: Session
) -> None:
    assert swatch.print_side.isHidden()
    session.do(change_preferences(side="back"))
    assert not swatch.print_side.isHidden()
    assert "print side up" in swatch.print_side.text()


def test_the_summary_keeps_the_makers_capitals(swatch: ClothPanel, session: Session) -> None:
    stain = Flaw("flaw-9", "Tea from Ada", ((10.0, 10.0), (20.0, 10.0), (20.0, 20.0)))
    session.do(change_cloth(session.project.cloths[0].id, flaws=(stain,)))
    assert swatch.summary(session.project) == "In hand, 304.5 × 304.5 mm, Tea from Ada"


def test_another_cloth_says_whose_size_it_begins_with(swatch: ClothPanel, session: Session, hands) -> None:
    swatch.row.another.click()
    sentence = "Cloth 2 begins with the size of Cloth, 304.5 × 304.5 mm: type its own in step 2."
    assert hands.said[-1] == (sentence, False)


def test_the_step_tells_the_size_the_cloth_has_now(swatch: ClothPanel, session: Session) -> None:
    """As over the cloth: 420 x 380 was typed, the corners reach to 378.376 only."""
    cloth = session.project.cloths[0]
    session.do(change_cloth(cloth.id, width_mm=420.0, length_mm=380.0))
    session.do(trace_outline(cloth.id, ((8.0, 0.0), (420.0, 12.0), (404.9, 369.17), (359.43, 378.376), (0.0, 365.0))))
    now = session.project.cloths[0]
    assert caption_of(now, LengthStyle()).endswith("420.0 × 378.0 mm")
    assert "420.0 × 378.0 mm" in swatch.summary(session.project)
    assert swatch.remeasure.was["along"].line.text() == "378"
