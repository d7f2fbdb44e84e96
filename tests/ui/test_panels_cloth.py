"""Step 2: size or cut, edges, changes in size, outline and flaws of a cloth, through the fields."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import Change
from coverlayout.cloth.cuts import ladder
from coverlayout.document.edits.prints import add_print
from coverlayout.document.session import Session
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import Print
from coverlayout.ui.panels.cloth_panel import ClothPanel


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


def test_a_typed_size_makes_the_cloth(swatch: ClothPanel, session: Session) -> None:
    (cloth,) = session.project.cloths
    assert (cloth.width_mm, cloth.length_mm, cloth.state) == (304.8, 304.8, "measured")
    assert swatch.summary(session.project) == "In hand, 304.8 × 304.8 mm"
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


def test_a_swapped_fat_quarter_is_remarked(panel: ClothPanel, hands) -> None:
    hands.type(panel.size_entry, "18 x 22 in")
    assert len(hands.said) == 1
    assert not hands.said[0][1]


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
    swatch.change_rows.add_button.click()
    row = swatch.change_rows.row(0)
    hands.type(row.across, "-3")
    hands.type(row.along, "-1.5 %")
    swatch.change_rows.add_button.click()
    hands.type(swatch.change_rows.row(1).name, "pressing")
    assert session.project.cloths[0].changes == (Change("washing", -3.0, -1.5), Change("pressing", 0.0, 0.0))
    assert "2 changes in size" in swatch.summary(session.project)
    row.remove.click()
    assert session.project.cloths[0].changes == (Change("pressing", 0.0, 0.0),)
    assert swatch.change_rows.row(0).name.line.text() == "pressing"


def test_doubt_is_typed(swatch: ClothPanel, session: Session, hands) -> None:
    hands.type(swatch.doubt, "2")
    assert session.project.cloths[0].doubt == 2.0


def test_an_outline_as_a_list_of_numbers(swatch: ClothPanel, session: Session) -> None:
    swatch.outline_points.text.setPlainText("0,0\n300,0\n280,250\n0,300")
    swatch.outline_points.finish()
    assert session.project.cloths[0].outline_mm == ((0.0, 0.0), (300.0, 0.0), (280.0, 250.0), (0.0, 300.0))
    swatch.outline_points.text.setPlainText("0,0\n300,300\n300,0\n0,200")
    swatch.outline_points.finish()
    assert "crosses itself" in swatch.outline_points.trouble.text()
    assert len(session.project.cloths[0].outline_mm or ()) == 4
    swatch.outline_points.text.setPlainText("")
    swatch.outline_points.finish()
    assert session.project.cloths[0].outline_mm is None


def test_flaws_as_lists_of_numbers(swatch: ClothPanel, session: Session, hands) -> None:
    swatch.flaw_rows.add_button.click()
    (flaw,) = session.project.cloths[0].flaws
    row = swatch.flaw_rows.row(flaw.id)
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


def test_another_cloth_is_added_and_chosen(swatch: ClothPanel, session: Session, hands) -> None:
    swatch.another.click()
    assert len(session.project.cloths) == 2
    assert not swatch.chooser.isHidden()
    hands.type(swatch.size_entry, "200 x 100")
    assert [cloth.width_mm for cloth in session.project.cloths] == [304.8, 200.0]
    hands.choose(swatch.chooser, "Cloth")
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
    swatch.remove.click()
    assert session.project.cloths == ()
    assert swatch.size_entry.line.text() == ""
