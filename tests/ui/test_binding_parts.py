"""The folds of the book step: paper, cover, sides, flaps, box, liners, label, sewing, volumes."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, Label, Paper, Sewing, Source, ThreadColour, Volume
from coverlayout.document.edits.books import add_book, change_book
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.questions import planned_pieces
from coverlayout.document.session import Session
from coverlayout.errors import BadInput
from coverlayout.ui.binding.copies import lengths_text, read_lengths
from coverlayout.ui.binding.paper import paper_answers, read_cut
from coverlayout.ui.binding.sewing import sewing_answers
from coverlayout.ui.panels.book_panel import BookPanel
from coverlayout.ui.ruled.entries import read_number
from coverlayout.units import LengthStyle

IN_INCHES = LengthStyle("in", inch_parts=16)
# Pages of 9 x 12 in sheets cut in half and folded once, four to a section: 8 sections, 128 pages (by counting).
PAD = Paper((228.6, 304.8), "9 x 12 in", grain="long", sheets=16, cut=(2, 1), per_section=4)


def shown(panel: BookPanel, session: Session, book: Book) -> Book:
    session.do(add_book(book))
    for part in panel.parts:
        part.open()
    return session.project.books[-1]


def now(session: Session) -> Book:
    return session.project.books[-1]


def case(structure: str = "flat-case", **more: object) -> Book:
    made = Book("", "Ledger", structure, block_mm=(148.0, 210.0, 12.0))  # type: ignore[arg-type]  # a structure
    return replace(made, **more)  # type: ignore[arg-type]  # fields of a book


class TestPaper:
    def test_sixteen_sheets_cut_and_folded_say_what_they_make(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, Book("", "Ledger", paper=Paper((228.6, 304.8), "9 x 12 in")))
        part = panel.paper
        assert "Say how many sheets" in part.answers.text()
        hands.type(part.amount, "16")
        hands.type(part.cut, "2 x 1")
        hands.type(part.per_section, "4")
        assert now(session).paper == replace(PAD, grain="unknown")
        assert "8 sections of 4 pieces: 128 pages." in part.answers.text()
        assert "folded to pages of 114.3 × 152.4 mm" in part.answers.text()
        assert panel.summary(session.project) == "Separate boards, 8 sections, 128 pages"
        assert part.head.text().endswith("8 sections, 128 pages")

    def test_pages_wanted_say_what_to_buy_and_what_stays_blank(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, Book("", "Ledger", paper=PAD))
        hands.choose(panel.paper.amount_of, "pages wanted")
        assert (now(session).paper or PAD).pages == 128
        hands.type(panel.paper.amount, "120")
        # 120 pages at 4 pieces to a section: 8 sections, 128 pages, 8 blank (by counting).
        assert "Blank at the end: 8 pages." in panel.paper.answers.text()
        assert "That takes 16 sheets." in panel.paper.answers.text()
        hands.choose(panel.paper.amount_of, "sheets I have")
        assert ((now(session).paper or PAD).sheets, (now(session).paper or PAD).pages) == (16, None)

    def test_weight_and_bulk_make_the_thickness_until_it_is_typed(
        self, panel: BookPanel, session: Session, hands
    ) -> None:
        shown(panel, session, Book("", "Ledger", paper=PAD))
        part = panel.paper
        hands.type(part.weight, "80")
        # 80 g/m2 x 1.25 cm3/g = 0.1 mm.
        assert part.thickness.line.placeholderText() == "0.1"
        hands.type(part.bulk, "1,5")
        assert part.thickness.line.placeholderText() == "0.12"
        hands.type(part.thickness, "0.15")
        assert (now(session).paper or PAD).thickness_mm == 0.15
        hands.type(part.thickness, "")
        assert (now(session).paper or PAD).thickness_mm is None
        hands.type(part.thickness, "500 ppi")
        # 500 pages an inch are 250 leaves an inch: 0.1016 mm.
        assert (now(session).paper or PAD).thickness_mm == pytest.approx(0.1016)
        hands.type(part.thickness, "")
        hands.type(part.weight, "20 lb bond")
        assert (now(session).paper or PAD).gsm == pytest.approx(75.2, abs=0.05)

    def test_the_spine_may_lie_along_the_other_side(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, Book("", "Album", paper=replace(PAD, folds=0, per_section=None)))
        part = panel.paper
        assert "pages of 152.4 × 228.6 mm" in part.answers.text()
        hands.choose(part.spine, "its shorter side")
        assert (now(session).paper or PAD).spine_along == "shorter"
        assert "pages of 228.6 × 152.4 mm" in part.answers.text()
        hands.choose(part.spine, "as usual")
        assert (now(session).paper or PAD).spine_along is None

    def test_trims_swell_grain_and_price(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, Book("", "Ledger", paper=PAD))
        part = panel.paper
        hands.type(part.trims["head"], "3")
        hands.type(part.trims["fore_edge"], "4")
        hands.type(part.swell, "0.3")
        hands.type(part.price, "0.25")
        hands.choose(part.grain, "its shorter side")
        paper = now(session).paper
        assert paper is not None
        assert (paper.trim_head_mm, paper.trim_fore_edge_mm, paper.swell_mm, paper.price) == (3.0, 4.0, 0.3, 0.25)
        assert "grain" in part.notes.text().lower()
        hands.type(part.price, "")
        assert (now(session).paper or PAD).price is None

    @pytest.mark.parametrize(
        ("field", "text"),
        [("amount", "0"), ("cut", "half"), ("folds", "9"), ("weight", "heavy"), ("bulk", "-1"), ("thickness", "9 cm")],
    )
    def test_what_cannot_be_is_refused_in_its_field(
        self, panel: BookPanel, session: Session, hands, field: str, text: str
    ) -> None:
        shown(panel, session, Book("", "Ledger", paper=PAD))
        before = session.project
        entry = getattr(panel.paper, field)
        hands.type(entry, text)
        assert entry.trouble.text()
        assert session.project is before

    def test_leftovers_are_told(self) -> None:
        lines, _ = paper_answers(Book("b", "L", paper=replace(PAD, sheets=17)), LengthStyle())
        assert "Left over: 1 sheet." in lines
        lines, _ = paper_answers(Book("b", "L", paper=replace(PAD, sheets=5, per_section=3)), LengthStyle())
        # Five sheets make ten pieces, three sections of three, and one is left.
        assert "Left over: 1 cut piece, not enough for another section." in lines

    def test_a_paper_that_cannot_be_used_is_told_in_one_line(self) -> None:
        lines, notes = paper_answers(Book("b", "L", paper=replace(PAD, sheets=0)), LengthStyle())
        assert (len(lines), notes) == (1, [])
        assert paper_answers(Book("b", "L"), LengthStyle()) == ([], [])

    def test_figures_that_are_read(self) -> None:
        assert (read_cut("3"), read_number("1,5")) == ((3, 1), 1.5)
        for text in ("x", "2x", "1x2x3"):
            with pytest.raises(BadInput):
                read_cut(text)
        with pytest.raises(BadInput):
            read_number("1e9")


class TestCover:
    def test_a_figure_left_to_the_rule_shows_it_and_says_where_it_comes_from(
        self, panel: BookPanel, session: Session, hands
    ) -> None:
        shown(panel, session, case())
        joint = panel.boards.figures["joint_mm"]
        assert (joint.line.text(), joint.line.placeholderText()) == ("", "10")
        assert "By rule: 10 mm." in joint.line.toolTip().replace("\n", " ")
        assert "Source:" in joint.line.toolTip()
        hands.type(joint, "7")
        assert now(session).joint_mm == 7.0
        assert "By rule: 10 mm." in joint.line.toolTip().replace("\n", " ")
        hands.type(joint, "")
        assert now(session).joint_mm is None
        assert joint.line.placeholderText() == "10"

    def test_the_spine_by_its_piece_its_allowance_or_as_measured(
        self, panel: BookPanel, session: Session, hands
    ) -> None:
        shown(panel, session, case())
        spine = panel.boards.figures["spine_width_mm"]
        # Block 12 + two boards of 2 - 0.5 mm: the rule of flat cases.
        assert spine.line.placeholderText() == "15.5"
        hands.type(panel.boards.figures["spine_allowance_mm"], "-1")
        assert spine.line.placeholderText() == "15"
        hands.type(spine, "14")
        assert now(session).spine_width_mm == 14.0
        hands.choose(panel.boards.spine_piece, "none")
        assert now(session).spine_piece == "none"
        hands.choose(panel.boards.spine_lining, "hollow tube")
        assert now(session).spine_lining == "hollow tube"

    def test_only_the_figures_of_the_structure_are_there(self, panel: BookPanel, session: Session) -> None:
        shown(panel, session, case())
        figures = panel.boards.figures
        assert not figures["joint_mm"].isHidden()
        assert figures["hinge_mm"].isHidden()
        session.do(change_book(now(session).id, structure="side-sewn"))
        assert not figures["hinge_mm"].isHidden()
        assert figures["spine_width_mm"].isHidden()
        session.do(change_book(now(session).id, structure="limp-wrap"))
        assert panel.boards.thickness.isHidden()

    def test_turn_in_and_board_cleared_are_the_usual_ones_again(
        self, panel: BookPanel, session: Session, hands
    ) -> None:
        shown(panel, session, case())
        hands.type(panel.boards.turn_in, "20")
        hands.type(panel.boards.thickness, "3")
        assert (now(session).turn_ins.head_mm, now(session).board_thickness_mm) == (20.0, 3.0)
        hands.type(panel.boards.turn_in, "")
        hands.type(panel.boards.thickness, "")
        assert (now(session).turn_ins.head_mm, now(session).board_thickness_mm) == (15.0, 2.0)
        hands.type(panel.liners.inset, "")
        assert now(session).liner_inset_mm == 3.0

    def test_a_cover_round_the_spine_has_no_turn_in_there(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, case())
        one_by_one = panel.boards.turn_ins
        assert one_by_one.each["spine"].isHidden()
        hands.type(one_by_one.each["fore_edge"], "20")
        hands.type(one_by_one.each["head"], "20")
        hands.type(one_by_one.each["tail"], "20")
        assert one_by_one.alike_mm == 20.0, "what the spine would have does not count"
        assert panel.boards.head.text().endswith("turn-in 20 mm")
        hands.type(one_by_one.each["tail"], "18")
        assert panel.boards.head.text().endswith("turn-ins differ")

    def test_opening_and_turns(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, case())
        hands.choose(panel.boards.opens, "to the right")
        hands.choose(panel.boards.cover_turns, "half")
        assert (now(session).opens, now(session).cover_turns) == ("right", "half")

    def test_an_unusual_figure_is_noted_and_taken(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, case())
        hands.type(panel.boards.figures["square_mm"], "20")
        assert now(session).square_mm == 20.0
        assert "unusual" in panel.notes.text()


class TestSides:
    def test_proportions_of_quarter_and_half(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, case("half-case"))
        part = panel.sides
        hands.type(part.figures["spine_on_board_mm"], "40")
        assert part.figures["corner_leg_mm"].line.placeholderText() == "40"
        hands.type(part.figures["side_lap_mm"], "4")
        hands.choose(part.side_turns, "quarter")
        book = now(session)
        assert (book.spine_on_board_mm, book.side_lap_mm, book.side_turns) == (40.0, 4.0, "quarter")
        hands.choose(part.sides, "paper")
        assert not [piece for piece in planned_pieces(session.project) if piece.kind == "side"]
        assert part.side_turns.isHidden()
        session.do(change_book(now(session).id, structure="quarter-case"))
        assert part.figures["corner_leg_mm"].isHidden()

    def test_sides_and_label_come_from_a_cloth_of_their_own(self, panel: BookPanel, session: Session, hands) -> None:
        book = shown(panel, session, case("quarter-case", label=Label(60.0, 30.0)))
        keys = {part for _, part in panel.sources.choices}
        assert keys == {"covers", "liners", "sides", "label"}
        panel.sources.choices[(book.id, "sides")]._give(Source())
        hands.choose(panel.sides.sides, "paper")
        assert (book.id, "sides") not in panel.sources.choices


class TestFlapsAndBox:
    def test_flaps_of_a_limp_wrap(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, case("limp-wrap"))
        assert panel.flaps.head.text().endswith(": none")
        hands.type(panel.flaps.over, "60")
        assert now(session).fore_edge_flap_mm == 60.0
        assert panel.flaps.head.text().endswith(": over the front")
        hands.type(panel.flaps.over, "")
        hands.type(panel.flaps.turned_in, "40")
        assert (now(session).fore_edge_flap_mm, now(session).turned_in_flap_mm) == (0.0, 40.0)
        assert panel.flaps.head.text().endswith(": turned in")

    def test_a_slipcase_is_built_two_ways(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, case("slipcase"))
        assert panel.slipcase.clearance.line.placeholderText() == "1.5"
        hands.choose(panel.slipcase.built_of, "scored board")
        assert now(session).slipcase_of == "one scored board"
        assert panel.slipcase.clearance.line.placeholderText() == "5"
        hands.type(panel.slipcase.clearance, "4")
        assert now(session).slipcase_clearance_mm == 4.0


class TestLinersAndLabel:
    def test_liners_and_endpapers(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, case())
        hands.choose(panel.liners.endpapers, "none")
        assert now(session).endpapers == "none"
        hands.choose(panel.liners.liners, "paper")
        assert panel.liners.liner_turns.isHidden()
        session.do(change_book(now(session).id, structure="accordion"))
        assert panel.liners.endpapers.isHidden()

    def test_a_label_is_added_changed_and_removed(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, case())
        part = panel.label
        part.add.click()
        assert now(session).label == Label(60.0, 30.0)
        hands.type(part.size_entry, "70 x 25")
        hands.choose(part.kind, "in a window")
        hands.type(part.margin, "6")
        hands.type(part.from_head, "35")
        hands.type(part.from_spine, "")
        hands.choose(part.turns, "half")
        label = now(session).label
        assert label == Label(70.0, 25.0, "window", from_head_mm=35.0, margin_mm=6.0, turns="half")
        assert [piece.kind for piece in planned_pieces(session.project)].count("label") == 1
        hands.choose(part.material, "paper")
        assert part.turns.isHidden()
        part.remove.click()
        assert now(session).label is None
        assert not part.add.isHidden()

    def test_the_keys_stay_with_the_label_when_its_button_goes(
        self, qtbot: QtBot, panel: BookPanel, session: Session
    ) -> None:
        shown(panel, session, case())
        panel.show()
        qtbot.waitExposed(panel)
        panel.label.add.setFocus()
        qtbot.waitUntil(panel.label.add.hasFocus)
        panel.label.add.click()
        qtbot.waitUntil(panel.label.size_entry.field.hasFocus)
        panel.label.remove.click()
        qtbot.waitUntil(panel.label.add.hasFocus)

    def test_a_label_in_inches_begins_with_nice_numbers(self, panel: BookPanel, session: Session) -> None:
        session.do(change_preferences(length_style=IN_INCHES))
        shown(panel, session, case())
        panel.label.add.click()
        label = now(session).label
        assert label is not None
        assert (label.width_mm, label.height_mm) == (63.5, 31.75)


class TestSewing:
    def test_stations_are_told_from_head_and_tail(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, Book("", "Ledger", page_mm=(100.0, 150.0), paper=None))
        part = panel.sewing
        assert "From the tail they are the same." in part.answers.text()
        hands.choose(part.rule, "where I say")
        assert len(now(session).sewing.own_mm) == 5, "own stations begin as those there are"
        hands.type(part.own, "20 60 110 mm")
        assert now(session).sewing.own_mm == (20.0, 60.0, 110.0)
        assert "From the head: 20, 60, 110 mm." in part.answers.text()
        # 150 less each of them, from the other end.
        assert "From the tail: 40, 90, 130 mm." in part.answers.text()
        assert part.head.text().endswith("3 stations")

    def test_figures_of_the_stations(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, Book("", "Ledger", page_mm=(100.0, 150.0)))
        part = panel.sewing
        hands.type(part.count, "4")
        hands.type(part.end, "15")
        hands.type(part.hole, "8")
        hands.choose(part.rule, "in pairs")
        hands.type(part.pair, "10")
        sewing = now(session).sewing
        assert (sewing.rule, sewing.count, sewing.end_mm, sewing.pair_mm, sewing.hole_from_spine_mm) == (
            "pairs",
            4,
            15.0,
            10.0,
            8.0,
        )
        assert "Thread: 4 needles;" in part.answers.text()
        assert part.caution.text().startswith("Awl and needle: ")
        hands.type(part.count, "")
        assert now(session).sewing.count is None

    @pytest.mark.parametrize(("field", "text"), [("count", "0"), ("end", "200"), ("hole", "300")])
    def test_stations_that_cannot_be_are_refused(
        self, panel: BookPanel, session: Session, hands, field: str, text: str
    ) -> None:
        shown(panel, session, Book("", "Ledger", page_mm=(100.0, 150.0)))
        before = session.project
        entry = getattr(panel.sewing, field)
        hands.type(entry, text)
        assert entry.trouble.text()
        assert session.project is before

    def test_thread_by_colour(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, Book("", "Ledger", paper=PAD))
        part = panel.sewing
        part.colours.add_button.click()
        part.colours.add_button.click()
        hands.type(part.colours.row(0).name, "red")
        hands.type(part.colours.row(0).sections, "3")
        assert now(session).sewing.colours[0] == ThreadColour("red", 3)
        # Three sections and two more heights of 152.4 mm; the other colour takes the five that are left.
        assert "red: 762.0 mm." in part.answers.text()
        assert "colour 2: 1067.0 mm." in part.answers.text()
        part.colours.row(1).remove.click()
        assert len(now(session).sewing.colours) == 1
        hands.choose(part.thread_rule, "with a tail")
        hands.type(part.tail, "100")
        assert (now(session).sewing.thread_rule, now(session).sewing.tail_mm) == ("sections and a tail", 100.0)

    def test_a_colour_for_which_there_is_no_section_is_refused_above_the_cloth(
        self, panel: BookPanel, session: Session, hands
    ) -> None:
        shown(panel, session, Book("", "Notes", "limp-wrap", paper=replace(PAD, sheets=4, per_section=8, gsm=80.0)))
        panel.sewing.colours.add_button.click()
        panel.sewing.colours.add_button.click()
        assert len(now(session).sewing.colours) == 1
        assert [trouble for _, trouble in hands.said] == [True]

    def test_what_cannot_be_told_is_left_out(self) -> None:
        assert sewing_answers(Book("b", "L"), LengthStyle()) == ([], [])
        off = Book("b", "L", page_mm=(100.0, 150.0), sewing=Sewing("own", own_mm=(200.0,)))
        assert [len(part) for part in sewing_answers(off, LengthStyle())] == [1, 0]

    def test_in_inches_the_stations_are_nice_numbers(self, panel: BookPanel, session: Session, hands) -> None:
        session.do(change_preferences(length_style=IN_INCHES))
        hands.type(panel.size_entry, "4 x 6")
        panel.sewing.open()
        # Five stations, the first and the last 3/4 in from head and tail of 6 in, as published.
        assert "From the head: 3/4, 1 7/8, 3, 4 1/8, 5 1/4 in." in panel.sewing.answers.text()
        assert panel.sewing.end.line.placeholderText() == "3/4"
        hands.type(panel.sewing.end, "1")
        hands.type(panel.sewing.end, "")
        assert now(session).sewing.end_mm == pytest.approx(19.05)


class TestVolumes:
    def test_a_set_of_different_thickness(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, Book("", "Ledger", "flat-case", page_mm=(148.0, 210.0), volumes=(Volume(1, 12.0),)))
        part = panel.volumes
        hands.type(part.thicknesses, "12 18 25 mm")
        assert [volume.thickness_mm for volume in now(session).volumes] == [12.0, 18.0, 25.0]
        assert "Numbered 1 to 3" in part.numbers.text()
        assert part.head.text().endswith("3 that differ")
        assert panel.thickness.line.text() == ""
        words = [panel.volume_drawn.box.itemText(at) for at in range(3)]
        assert words == ["1, 12 mm thick", "2, 18 mm thick", "3, 25 mm thick"]
        cut = panel.drawing.pictures[0]
        first = cut.picture
        hands.choose(panel.volume_drawn, "3, 25 mm thick")
        assert cut.picture is not None
        assert first is not None
        thick = cut.picture.measured("block thickness"), first.measured("block thickness")
        assert [each and each.length_mm for each in thick] == [25.0, 12.0]
        # 25 - 12 mm more over the spine: the covers' height is the same.
        least, most = re.findall(r"covers from ([0-9.]+)\D.* to ([0-9.]+)\s×", panel.notes.text())[0]
        assert float(most) - float(least) == pytest.approx(13.0)
        hands.type(panel.thickness, "15")
        assert panel.volume_drawn.isHidden()
        assert {volume.thickness_mm for volume in now(session).volumes} == {15.0}
        hands.type(part.thicknesses, "12, -1")
        assert part.thicknesses.trouble.text()

    def test_cleared_they_follow_the_block(self, panel: BookPanel, session: Session, hands) -> None:
        shown(panel, session, case())
        hands.type(panel.volumes.thicknesses, "12 13")
        hands.type(panel.volumes.thicknesses, "")
        assert [volume.thickness_mm for volume in now(session).volumes] == [None, None]

    def test_lists_of_lengths_are_read_and_written(self) -> None:
        style = LengthStyle()
        assert read_lengths("12mm 18mm", style, "x", "1 2") == (12.0, 18.0)
        assert read_lengths("1/2 in, 20 mm", style, "x", "1 2") == pytest.approx((12.7, 20.0))
        assert read_lengths("12,5 13", style, "x", "1 2") == (12.5, 13.0)
        text = lengths_text((12.7, 31.75, 38.1), IN_INCHES)
        assert read_lengths(text, IN_INCHES, "x", "1 2") == pytest.approx((12.7, 31.75, 38.1))
        for wrong in ("", "12 thick", "1 2 x"):
            with pytest.raises(BadInput):
                read_lengths(wrong, style, "x", "1 2")


def test_a_fold_makes_its_fields_when_it_is_opened_and_keeps_up_with_the_book(
    qtbot: QtBot, panel: BookPanel, session: Session
) -> None:
    session.do(add_book(case()))
    assert not hasattr(panel.boards, "thickness")
    panel.boards.open()
    assert panel.boards.thickness.line.text() == "2"
    panel.boards.head.setChecked(False)
    session.do(change_book(now(session).id, board_thickness_mm=3.0))
    panel.boards.open()
    assert panel.boards.thickness.line.text() == "3"


def test_tab_goes_from_a_heading_into_its_fields(panel: BookPanel, session: Session) -> None:
    session.do(add_book(case()))
    panel.boards.open()
    met: list[QWidget] = [panel.boards.head]
    for _ in range(3):
        after = met[-1].nextInFocusChain()
        while after.focusPolicy() == Qt.FocusPolicy.NoFocus or not after.focusPolicy() & Qt.FocusPolicy.TabFocus:
            after = after.nextInFocusChain()
        met.append(after)
    assert met[1] is panel.boards.thickness.line
