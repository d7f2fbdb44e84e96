"""Step 1: picture, printed size, repeat and place of a print, through the fields."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.cloths import add_cloth
from coverlayout.document.session import Session
from coverlayout.motif.lattice import Lattice
from coverlayout.ui.panels.print_panel import PrintPanel


@pytest.fixture
def panel(qtbot: QtBot, session: Session, hands) -> PrintPanel:
    panel = PrintPanel(session, hands.hear)
    qtbot.addWidget(panel)
    session.listen(lambda old, new: panel.show_project(new))
    panel.show_project(session.project)
    return panel


def picture(
    folder: Path, *, dpi: float | None = None, size: tuple[int, int] = (120, 180), name: str = "quince.png"
) -> Path:
    path = folder / name
    Image.new("RGB", size, (200, 90, 30)).save(path, **({"dpi": (dpi, dpi)} if dpi else {}))
    return path


def test_without_a_print_only_the_first_fields_are_awake(panel: PrintPanel, session: Session) -> None:
    assert not panel.layout_choice.isEnabled()
    assert not panel.percent.isEnabled()
    assert panel.summary(session.project) == "Open the picture of your repeat"
    assert panel.place.isHidden()


def test_a_picture_with_a_resolution_brings_its_size(panel: PrintPanel, session: Session, tmp_path: Path) -> None:
    session.do(add_cloth(Cloth("", "Cloth", 300.0, 200.0)))
    panel.open_path(picture(tmp_path, dpi=254.0))
    (a_print,) = session.project.prints
    # 120 px at 254 dpi are 120 / 254 x 25.4 = 12 mm (Pillow writes whole pixels per metre: 10,000).
    assert a_print.tile_mm == pytest.approx((12.0, 18.0))
    assert (a_print.size_from, a_print.name, a_print.layout) == ("file", "quince", "straight")
    assert "254 dpi in the file: 12.0 × 18.0 mm" in panel.file_says.text()
    assert session.project.cloths[0].laid is not None
    assert session.project.cloths[0].laid.print_id == a_print.id
    assert a_print.picture is not None
    assert a_print.picture.sha256 in session.pictures
    session.undo()
    assert session.project.prints == ()
    assert session.project.cloths[0].laid is None


def test_a_size_nobody_knows_is_asked_for_until_it_is_typed(
    panel: PrintPanel, session: Session, tmp_path: Path, hands
) -> None:
    panel.open_path(picture(tmp_path, size=(600, 450)))
    # Drawn at 100 dots to the inch meanwhile: 600 px are 152.4 mm, 450 px are 114.3 mm, shown to 0.5.
    assert session.project.prints[0].tile_mm == pytest.approx((152.4, 114.3))
    assert session.project.prints[0].size_from == "guess"
    assert panel.size_entry.line.text() == ""
    assert panel.doubts.text().startswith("Size not known.")
    assert "152.5 × 114.5 mm" in panel.doubts.text()
    assert not panel.doubts.isHidden()
    assert panel.summary(session.project).startswith("Size not known")
    assert "type the printed size" in panel.percent.toolTip().replace("\n", " ")
    panel.open_path(picture(tmp_path, size=(300, 450), name="another.png"))
    assert session.project.prints[0].tile_mm == pytest.approx((76.2, 114.3)), "another picture, another guess"
    hands.choose(panel.layout_choice, "brick")
    assert not panel.doubts.isHidden(), "another layout is no size"
    hands.type(panel.size_entry, "64 x 96 mm")
    assert session.project.prints[0].size_from == "typed"
    assert panel.doubts.isHidden()
    assert "64 × 96 mm" in panel.summary(session.project)
    panel.open_path(picture(tmp_path, size=(600, 900), name="third.png"))
    assert (session.project.prints[0].size_from, session.project.prints[0].tile_mm) == ("typed", (64.0, 96.0))


def test_a_typed_size_that_pulls_the_picture_out_of_shape_is_said(
    panel: PrintPanel, session: Session, tmp_path: Path, hands
) -> None:
    panel.open_path(picture(tmp_path))
    hands.type(panel.size_entry, "96 x 64 mm")
    # 96 / 120 px against 64 / 180 px: 0.8 / 0.3556 = 2.25 times as wide as high.
    assert "125 % too wide" in panel.doubts.text()
    assert not panel.doubts.isHidden()
    hands.type(panel.size_entry, "64 x 96 mm")
    assert panel.doubts.isHidden()


def test_the_scale_says_what_it_counts_from(panel: PrintPanel, tmp_path: Path) -> None:
    panel.open_path(picture(tmp_path, dpi=254.0))
    assert panel.percent.isEnabled()
    assert panel.percent.toolTip().startswith("Percent of the size the file itself states")


@pytest.mark.parametrize(("dpi", "words"), [(None, "does not say how large"), (72.0, "72 dpi is what programs write")])
def test_a_resolution_not_to_be_trusted_is_said(
    panel: PrintPanel, tmp_path: Path, dpi: float | None, words: str
) -> None:
    panel.open_path(picture(tmp_path, dpi=dpi))
    assert words in panel.file_says.text()
    assert not panel.percent.isEnabled()


def test_the_printed_size_is_typed_in_any_unit(panel: PrintPanel, session: Session, tmp_path: Path, hands) -> None:
    panel.open_path(picture(tmp_path))
    hands.type(panel.size_entry, "64 x 96 mm")
    assert session.project.prints[0].tile_mm == (64.0, 96.0)
    assert session.project.prints[0].lattice == Lattice((64.0, 0.0), (0.0, 96.0))
    hands.type(panel.size_entry, "2 1/2 x 4 in")
    assert session.project.prints[0].tile_mm == (63.5, 101.6)
    assert panel.size_entry.line.text() == "63.5 × 101.6"
    before = session.project
    hands.type(panel.size_entry, "0x4in")
    assert session.project is before
    assert panel.size_entry.trouble.text().startswith("Printed size 0")


def test_a_size_without_a_picture_makes_a_print(panel: PrintPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "64 x 96")
    assert session.project.prints[0].picture is None
    assert session.project.prints[0].tile_mm == (64.0, 96.0)


def test_a_scale_counts_from_the_size_of_the_file(panel: PrintPanel, session: Session, tmp_path: Path, hands) -> None:
    panel.open_path(picture(tmp_path, dpi=254.0))
    hands.type(panel.percent, "94 %")
    assert session.project.prints[0].tile_mm == pytest.approx((11.28, 16.92))
    assert session.project.prints[0].size_from == "percent"
    assert panel.percent.line.text() == "94"
    hands.type(panel.percent, "0.94")
    assert "between" in panel.percent.trouble.text()


@pytest.mark.parametrize(
    ("words", "lattice"),
    [
        ("half-drop", Lattice((64.0, 48.0), (0.0, 96.0))),
        ("brick", Lattice((64.0, 0.0), (32.0, 96.0))),
        ("mirrored", Lattice((128.0, 0.0), (0.0, 192.0))),
        ("two vectors", Lattice((64.0, 0.0), (0.0, 96.0))),
    ],
)
def test_the_layout_decides_the_repeat(
    panel: PrintPanel, session: Session, hands, words: str, lattice: Lattice
) -> None:
    hands.type(panel.size_entry, "64 x 96")
    hands.choose(panel.layout_choice, words)
    assert session.project.prints[0].lattice == lattice
    assert words in panel.summary(session.project)


def test_a_third_drop_and_a_sheared_repeat(panel: PrintPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "64 x 96")
    hands.choose(panel.layout_choice, "1/n drop")
    hands.type(panel.drop_parts, "3")
    assert session.project.prints[0].lattice == Lattice((64.0, 32.0), (0.0, 96.0))
    hands.choose(panel.layout_choice, "two vectors")
    panel.vectors.text.setPlainText("50,13\n-17,81")
    panel.vectors.finish()
    assert session.project.prints[0].lattice == Lattice((50.0, 13.0), (-17.0, 81.0))
    panel.vectors.text.setPlainText("50,13\n100,26")
    panel.vectors.finish()
    assert "point the same way" in panel.vectors.trouble.text()


def test_the_way_up_is_chosen(panel: PrintPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "64 x 96")
    hands.choose(panel.up, "two ways up")
    assert session.project.prints[0].up == "two-way"


def test_the_place_on_the_cloth_by_number(panel: PrintPanel, session: Session, hands) -> None:
    session.do(add_cloth(Cloth("", "Cloth", 300.0, 200.0)))
    hands.type(panel.size_entry, "64 x 96")
    place = panel.place
    assert not place.isHidden()
    hands.type(place.origin_x, "12")
    hands.type(place.origin_y, "-5mm")
    hands.type(place.turn, "-90")
    laid = session.project.cloths[0].laid
    assert laid is not None
    assert (laid.origin_mm, laid.turn_deg) == ((12.0, -5.0), 270.0)
    place.quarter.click()
    laid = session.project.cloths[0].laid
    assert laid is not None
    assert laid.turn_deg == 0.0


def test_dragging_the_print_is_told_and_ends_with_the_print(
    qtbot: QtBot, panel: PrintPanel, session: Session, hands
) -> None:
    session.do(add_cloth(Cloth("", "Cloth", 300.0, 200.0)))
    hands.type(panel.size_entry, "64 x 96")
    with qtbot.waitSignal(panel.drag_print) as heard:
        panel.place.drag.click()
    assert heard.args == [True]
    with qtbot.waitSignal(panel.drag_print) as heard:
        session.undo()
    assert heard.args == [False]


def test_a_file_that_is_no_picture_is_one_sentence(panel: PrintPanel, session: Session, tmp_path: Path, hands) -> None:
    (tmp_path / "notes.png").write_text("no picture")
    panel.open_path(tmp_path / "notes.png")
    panel.open_path(tmp_path / "gone.png")
    assert [trouble for _, trouble in hands.said] == [True, True]
    assert "notes.png" in hands.said[0][0]
    assert "gone.png cannot be read" in hands.said[1][0]
    assert session.project.prints == ()


def test_another_picture_keeps_the_repeat(panel: PrintPanel, session: Session, tmp_path: Path, hands) -> None:
    panel.open_path(picture(tmp_path))
    hands.type(panel.size_entry, "64 x 96")
    hands.choose(panel.layout_choice, "half-drop")
    first = session.project.prints[0]
    panel.open_path(picture(tmp_path, size=(60, 90), name="quince again.png"))
    second = session.project.prints[0]
    assert (second.id, second.lattice, second.tile_mm) == (first.id, first.lattice, first.tile_mm)
    assert second.picture != first.picture


def test_a_second_print_is_added_beside_the_first_and_removed(
    panel: PrintPanel, session: Session, tmp_path: Path, hands
) -> None:
    session.do(add_cloth(Cloth("", "Left", 300.0, 200.0)))
    session.do(add_cloth(Cloth("", "Right", 300.0, 200.0)))
    panel.open_path(picture(tmp_path))
    hands.choose(panel.place.chooser, "Right")
    hands.type(panel.place.origin_x, "7")
    origins = [cloth.laid.origin_mm for cloth in session.project.cloths if cloth.laid]
    assert origins == [(0.0, 0.0), (7.0, 0.0)]
    panel.open_path(picture(tmp_path, name="stripe.png"), new=True)
    assert [each.name for each in session.project.prints] == ["quince", "stripe"]
    assert panel.shown_print == session.project.prints[1]
    assert panel.place.isHidden(), "both cloths bear the first print still"
    panel.remove.click()
    assert [each.name for each in session.project.prints] == ["quince"]
