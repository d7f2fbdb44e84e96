"""What the verdict bar says: words for every judgement and answer, chips, figures marked as of before."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Preferences, Project
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer, Breach, Proof, Report, Verdict
from coverlayout.layout.ladder import Ladder, Rung
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import Print
from coverlayout.ui.dialogs.reading import how_known
from coverlayout.ui.theme import DARK, LIGHT, SIZES_PX, text_font
from coverlayout.ui.verdict.bar import VerdictBar
from coverlayout.ui.verdict.chips import CHIP_PX, Symbol, draw_symbol, name_lines
from coverlayout.ui.verdict.judged import Judged
from coverlayout.ui.verdict.rungs import chips_of, least_words, rung_words
from coverlayout.ui.verdict.words import Said, breach_words, first_step, named, said, spare_words
from coverlayout.units import LengthStyle

NAMES = {"front-1": "Front cover", "back-1": "Back cover"}
MM = LengthStyle()


GROUND = {"ground_width_mm": 558.8, "ground_height_mm": 457.2}


def report(**fields: object) -> Report:
    figures: dict[str, object] = {
        "verdict": "valid",
        "breaches": (),
        "waiting": (),
        "used_percent": 56.0,
        "clearance_mm": 7.6,
    }
    return Report(**(figures | fields))  # type: ignore[arg-type]  # the fields above and those a test gives


def answer(verdict: Verdict = "fits", reason: str = "nothing-placed", **fields: object) -> Answer:
    # The tests give fields by name.
    return Answer(verdict, True, Remark.of(reason, reason="everything fits"), **fields)  # type: ignore[arg-type] # by name


def spoken(judged: Report, known: Answer | None = None, *, searching: bool = False, quarters: int = 0) -> Said:
    return said(judged, known, searching=searching, names=NAMES, style=MM, quarters=quarters)


def test_a_book_that_cannot_be_made_is_told_in_the_makers_unit() -> None:
    inches = Preferences(length_style=LengthStyle("in", inch_parts=16))
    book = Book("book-1", "Ledger", board_mm=(100.0, 140.0), liner_inset_mm=76.2)
    cloth = Cloth("cloth-1", "Cloth", 300.0, 200.0)
    judged = Judged()
    project = Project(cloths=(cloth,), books=(book,), preferences=inches)
    assert judged.report(project) is None
    assert "an inset of 3 in on every side" in judged.trouble(project)
    assert judged.quarters(project) == 0


def test_all_well_placed_fits_and_the_room_is_never_rounded_up() -> None:
    assert spoken(report()) == Said("Fits", "tick", "fits", "7.5 mm at the tightest place")


def test_lengths_that_decide_are_never_flattered() -> None:
    nothing = report(verdict="incomplete", waiting=("front-1", "back-1"))
    reason = Remark.of("lay-no-row", pieces="front-1, back-1", need_mm=396.9, have_mm=304.8, way="across")
    told = spoken(nothing, Answer("does not fit", True, reason))
    assert "needs 397.0 mm" in told.sentence
    assert "305" not in told.sentence
    assert "304.5 mm" in " ".join(how_known("", Answer("does not fit", True, reason), False, MM))


PROOFS = (
    (
        Proof("area", (("pieces", "front-1, back-1"), ("need_mm2", 123_456.0), ("have_mm2", 92_903.0))),
        ("by area", "1234.6 cm²", "929.0 cm²"),
    ),
    (
        Proof("fits nowhere", (("piece", "front-1"), ("width_mm", 538.2), ("height_mm", 792.0), *GROUND.items())),
        ("fits nowhere", "front-1", "538.5 mm x 792.0 mm", "558.5 mm x 457.0 mm"),
    ),
    (
        Proof("fits nowhere", (("piece", "front-1"), ("ground_width_mm", 0.0), ("ground_height_mm", 0.0))),
        ("there is no cloth that front-1 may come from",),
    ),
    (
        Proof(
            "side by side",
            (("pieces", "a, b, c"), ("count", 3.0), ("need_mm", 432.9), ("have_mm", 419.1), ("way", "across")),
        ),
        ("side by side", "these 3 pieces", "a, b, c", "433.0 mm", "419.0 mm across"),
    ),
    (
        Proof("slice bound", (("need_mm", 432.9), ("have_mm", 419.1), ("way", "along"), ("splits", 12.0))),
        ("straight line is drawn along", "433.0 mm", "419.0 mm", "gone through: 12"),
    ),
    (Proof("exhaustive", (("pieces", 8.0),)), ("by trying", "the 8 pieces", "none fits")),
    # Pieces that wishes tie to the print, to each other, or that are too many for the grounds there are.
    (
        Proof("side by side", (("pieces", "a, b"), ("count", 2.0), ("wish", "link"))),
        ("by two pieces", "a, b", "at every repeat", "never room for both"),
    ),
    (Proof("side by side", (("pieces", "a, b"), ("wish", "pair"), ("need_width_mm", 9.0))), ("by two pieces", "a, b")),
    (
        Proof("side by side", (("pieces", "a, b, c"), ("count", 3.0), ("most", 2.0), ("sheets", 2.0))),
        ("by counting", "these 3 pieces only 2", "a, b, c"),
    ),
    (
        Proof("fits nowhere", (("piece", "front-1"), ("wish", "lock"), ("tried", 16.0))),
        ("front-1 is tied to lies 16 times", "not wholly on clear cloth"),
    ),
    (
        Proof("fits nowhere", (("piece", "a"), ("other", "b"), ("wish", "two links"), ("apart_mm", 8.0))),
        ("by the wishes for the print", "hold at once"),
    ),
)


@pytest.mark.parametrize(("proof", "wanted"), PROOFS, ids=[proof.name for proof, _ in PROOFS])
def test_a_no_tells_its_proof_and_the_figures_it_stands_on(proof: Proof, wanted: tuple[str, ...]) -> None:
    reason = Remark("lay-no-larger", (("name", "yard"),))
    lines = how_known("Does not fit. Not even yard.", Answer("does not fit", True, reason, proof), False, MM)
    (told,) = [line for line in lines if line.startswith("Proved by")]
    assert all(words in told for words in wanted), told


def test_what_the_bar_says_is_not_said_twice() -> None:
    reason = Remark.of("lay-no-row", pieces="front-1, back-1", need_mm=396.9, have_mm=304.8, way="across")
    proved = Answer("does not fit", True, reason)
    bar = spoken(report(verdict="incomplete", waiting=("front-1", "back-1")), proved)
    lines = how_known(f"{bar.word}. {bar.sentence}", proved, False, MM, NAMES)
    assert sum("must lie side by side" in line for line in lines) == 1
    assert "larger one for which the no was proved" in lines[-1]


def test_proved_room_is_told_as_such() -> None:
    known = answer("fits", spare_mm=7.6, spare_proved=True, proof=Proof("exhaustive"))
    assert any("none leaves more room" in line for line in how_known("", known, False, MM))


def test_what_fits_only_as_long_as_the_cloth_is_as_large_as_bought_reads_tight() -> None:
    doubted = Answer("fits, tight", True, Remark.of("lay-tight-doubt", spare_mm=7.6))
    told = spoken(report(), doubted)
    assert (told.word, told.symbol) == ("Fits, tight", "half ring")
    assert told.sentence == "7.5 mm at the tightest place; too little should the cloth come out smaller by its doubt"


def test_little_room_is_tight() -> None:
    told = spoken(report(verdict="valid, tight", clearance_mm=4.7), quarters=2)
    assert (told.word, told.symbol) == ("Fits, tight", "half ring")
    assert told.sentence == "4.5 mm at the tightest place; 2 turned a quarter, across the grain"


def test_what_lies_on_several_prints_is_said_last() -> None:
    told = said(report(), None, searching=False, names=NAMES, style=MM, heads_down=1, apart="spine and corners")
    assert told.sentence == "7.5 mm at the tightest place; 1 head down; on different prints: spine and corners"


def test_what_lies_head_down_is_said_after_what_lies_across() -> None:
    told = said(report(), None, searching=False, names=NAMES, style=MM, quarters=2, heads_down=1)
    assert told.sentence == "7.5 mm at the tightest place; 2 turned a quarter, across the grain; 1 head down"


def test_a_search_is_only_told_while_there_is_one() -> None:
    still = "The best way to lay the pieces is still being looked for."
    assert how_known("Searching", None, False, MM, searching=True)[-1] == still
    assert still not in how_known("Nothing to judge yet", None, False, MM)


def test_a_broken_rule_comes_before_everything() -> None:
    breach = Breach("overlap", ("back-1", "front-1"), 7.2)
    told = spoken(report(verdict="not valid", breaches=(breach,), waiting=("front-1",)), answer())
    assert told == Said("Not valid", "cross", "no", "Back cover lies 7.5 mm over front cover")
    two = report(verdict="not valid", breaches=(breach, breach))
    assert spoken(two).sentence == "Back cover lies 7.5 mm over front cover, and 1 more"
    others = (breach, Breach("flaw", ("back-1",), 1.0, against="stain"), Breach("outside", ("liner-1",), 1.0))
    three = report(verdict="not valid", breaches=others)
    assert spoken(three).sentence == "Back cover lies 7.5 mm over front cover; 1 more piece lies wrong"


def test_the_piece_just_moved_is_named_first() -> None:
    breaches = Breach("flaw", ("liner-1",), 1.0, against="stain"), Breach("overlap", ("back-1", "front-1"), 7.2)
    wrong = report(verdict="not valid", breaches=breaches)
    told = said(wrong, None, searching=False, names=NAMES, style=MM, moved=("front-1",))
    assert told.sentence == "Front cover lies 7.5 mm over back cover; 1 more piece lies wrong"


def test_a_proved_no_is_said_even_while_pieces_lie_wrong() -> None:
    reason = Remark.of("lay-no-place", piece="front-1", piece_width_mm=538.0, piece_height_mm=792.1, **GROUND)
    wrong = report(verdict="not valid", breaches=(Breach("outside", ("front-1",), 334.9),))
    told = spoken(wrong, Answer("does not fit", True, reason))
    assert (told.word, told.state) == ("Not valid", "no"), "the word stays that of the check"
    assert told.sentence.startswith("Front cover fits nowhere: it measures 538.0 mm x 792.5 mm")
    assert told.sentence.endswith("As it lies, front cover reaches 335.0 mm past the usable cloth")
    assert spoken(wrong, answer("fits")).sentence == "Front cover reaches 335.0 mm past the usable cloth"


def test_while_pieces_wait_a_proved_no_is_told() -> None:
    told = spoken(report(verdict="incomplete", waiting=("front-1",)), answer("does not fit"))
    assert (told.word, told.symbol, told.state) == ("Does not fit", "cross", "no")


def test_with_nothing_placed_the_answer_to_the_job_is_told() -> None:
    nothing = report(verdict="incomplete", waiting=("front-1", "back-1"))
    assert spoken(nothing, answer("fits")).word == "Fits"
    assert spoken(nothing, answer("fits, tight")).symbol == "half ring"
    ahead = spoken(nothing, answer("not found", "lay-not-found"))
    assert ahead.word == "No layout found"
    assert ahead.sentence == (
        "Looking ahead, no way to lay everything was found, and none was ruled out either; the pieces wait beside the "
        "cloth"
    )
    assert spoken(nothing, searching=True).word == "Searching"
    assert "2 of 2 pieces wait" in spoken(nothing).sentence
    assert spoken(nothing, answer("fits")).sentence.startswith("Everything fits")


def test_half_way_it_is_incomplete_whatever_the_job_could_be() -> None:
    told = spoken(report(verdict="incomplete", waiting=("front-1",)), answer("fits"))
    assert told.word == "Incomplete"
    assert "1 of 2 pieces waits" in told.sentence


@pytest.mark.parametrize(
    ("breach", "words"),
    [
        (Breach("outside", ("front-1",), 3.2), "Front cover reaches 3.5 mm past the usable cloth"),
        (Breach("outside", ("front-1",), 0.0), "Front cover lies where none of the cloth may be used for it"),
        (Breach("gap", ("front-1", "back-1"), 1.0), "Front cover is 1.0 mm too near to back cover"),
        (Breach("flaw", ("front-1",), 2.0, against="brine stain"), "Front cover lies 2.0 mm over brine stain"),
        (Breach("turn", ("front-1",), 90.0), "Front cover is turned in a way the print or the grain does not allow"),
        (Breach("lock", ("front-1",), 2.0), "Front cover is 2.0 mm off its place in the repeat"),
        (Breach("link", ("front-1", "back-1"), 2.0), "Front cover and back cover are 2.0 mm off the same place"),
        (Breach("zone", ("front-1",), 2.0), "Front cover reaches 2.0 mm past the part of the cloth"),
        (Breach("unknown piece", ("gone-1",), 0.0), "gone-1 does not belong to this job any more"),
        (Breach("placed twice", ("front-1",), 0.0), "Front cover lies on the cloth twice"),
        (Breach("not a number", ("front-1",), 0.0), "Front cover lies nowhere that can be measured"),
    ],
)
def test_every_rule_has_its_sentence(breach: Breach, words: str) -> None:
    assert breach_words(breach, NAMES, MM).startswith(words)


def test_ids_in_sentences_become_names() -> None:
    assert named("front-1, front-12: turned; x-front-1", NAMES) == "front cover, front-12: turned; x-front-1"
    assert named("front-1", {}) == "front-1"


def test_long_lists_of_pieces_are_cut_short() -> None:
    names = {f"front-{k}": f"Front cover {k}" for k in range(1, 7)}
    some, every = ", ".join(list(names)[:5]), ", ".join(names)
    assert named(f"{some} need 40 mm", names) == "front cover 1, front cover 2 and 3 more need 40 mm"
    assert named(f"{every} need 40 mm", names) == "all 6 pieces need 40 mm"
    assert named("front-1, front-2, front-3 and 2 more need", names) == "front cover 1, front cover 2 and 3 more need"
    assert named("front-1 and 1 more need", names) == "front cover 1 and 1 more need"
    assert named("front-1, front-2 and 4 more need 40 mm", names) == "all 6 pieces need 40 mm"
    assert named("front-1, front-2, front-3 need", names) == "front cover 1, front cover 2, front cover 3 need"


def test_a_newcomer_is_told_the_next_step() -> None:
    a_print = Print("print-1", "Quince", Lattice((64.0, 0.0), (0.0, 96.0)))
    cloth = Cloth("cloth-1", "Cloth", 300.0, 200.0)
    steps = [first_step(each) for each in (Project(), Project(prints=(a_print,)), Project(cloths=(cloth,)))]
    assert [step.sentence.split(":")[0] for step in steps if step] == ["Begin with step 1", "Now step 2", "Now step 3"]
    ledger = Book("book-1", "Ledger", board_mm=(100.0, 140.0))
    for each in (Project(books=(ledger,)), Project(prints=(a_print,), books=(ledger,))):
        step = first_step(each)
        assert step is not None
        assert step.sentence.startswith("Only the cloth is missing")


def test_room_to_spare_says_whether_it_is_proved() -> None:
    assert spare_words(None, MM) == ("–", "room to spare")
    assert spare_words(answer(spare_mm=4.7, spare_proved=True), MM) == ("4.5 mm", "the most room there is")
    assert spare_words(answer(spare_mm=4.7), MM) == ("4.5 mm", "the most room we know")


def rung(name: str, verdict: Verdict, spare_mm: float | None = None, price: float | None = None) -> Rung:
    return Rung(name, 300.0, 200.0, price, verdict, True, spare_mm, answer(verdict))


LADDER = Ladder(
    (
        rung("swatch", "does not fit"),
        rung("eighth", "not found"),
        rung("quarter", "fits, tight", 2.3, 6.5),
        rung("half yard", "fits", 20.0),
        rung("yard", "fits", 40.0),
    ),
    "quarter",
    "half yard",
)


def test_the_least_cut_and_its_neighbours() -> None:
    assert least_words(None)[0] == "–"
    assert least_words(LADDER) == ("quarter", "with room: half yard")
    assert least_words(Ladder(LADDER.rungs[:2], None, None)) == ("no cut", "of the ladder holds it")
    tight_by_a_hair = replace(LADDER.rungs[2], name="bit", width_mm=299.9, length_mm=199.4)
    chips = chips_of(LADDER, MM)
    assert [(chip.name, chip.least) for chip in chips] == [("eighth", False), ("quarter", True), ("half yard", False)]
    assert "299.5 × 199.0 mm" in chips_of(Ladder((tight_by_a_hair,), "bit", None), MM)[0].tip, "cloth is not rounded up"
    assert chips[1].tip == "quarter: 300.0 × 200.0 mm\n2.0 mm to spare\nprice 6.50\nA click shows all cuts."
    assert chips_of(LADDER, MM, old=True) == ()
    assert [chip.name for chip in chips_of(Ladder(LADDER.rungs[:2], None, None), MM)] == ["swatch", "eighth"]


def test_every_verdict_of_a_cut_has_a_sign_of_its_own() -> None:
    assert len({rung_words(each)[2] for each in LADDER.rungs}) == 4


def drawn(symbol: Symbol) -> QImage:
    image = QImage(30, 30, QImage.Format.Format_Grayscale8)
    image.fill(Qt.GlobalColor.white)
    with QPainter(image) as painter:
        draw_symbol(painter, symbol, QRectF(0, 0, 30, 30), QColor("black"))
    return image


def test_signs_differ_without_colour(qapp: object) -> None:
    signs: tuple[Symbol, ...] = ("tick", "half ring", "cross", "dots", "ring", "pin", "corner", "struck")
    images = [drawn(symbol) for symbol in signs]
    assert all(images[a] != images[b] for a in range(5) for b in range(a))


@pytest.fixture
def bar(qtbot: QtBot) -> VerdictBar:
    bar = VerdictBar(LIGHT)
    qtbot.addWidget(bar)
    bar.resize(1440, 60)
    bar.show()
    return bar


def test_new_words_move_nothing_in_the_bar(bar: VerdictBar) -> None:
    bar.show_chips(chips_of(LADDER, MM))
    places = [part.geometry() for part in (bar.spoken, bar.used, bar.left, bar.room, bar.least)]
    for words in ("Fits", "Does not fit"):
        bar.spoken.say(Said(words, "tick", "fits", "7.6 mm at the tightest place, between the liners " * 5))
        bar.used.show_figure("100 %")
        bar.left.show_figure("1234 × 1234 mm")
        bar.room.show_figure("1234.5 mm", "the most room we know")
        bar.least.show_figure("2 x half yard of 140 cm cloth")
        assert [part.geometry() for part in (bar.spoken, bar.used, bar.left, bar.room, bar.least)] == places
        assert not bar.grab().isNull()


def test_a_long_sentence_is_shown_whole_beside_the_word_or_below_a_smaller_one(bar: VerdictBar) -> None:
    bar.show_chips(chips_of(LADDER, MM))
    no = "Front cover, back cover and 2 more must lie side by side and need 550.0 mm, and the cloth has 304.5 mm across"
    whole = f"{no}. As it lies, front cover lies 12.5 mm over liner front; 2 more pieces lie wrong"
    lefts = []
    for sentence in ("7.6 mm at the tightest place", no, whole):
        bar.spoken.say(Said("Not valid", "cross", "no", sentence))
        place, _, words = bar.spoken.words_at()
        assert words == sentence
        assert bar.spoken.rect().contains(place.toAlignedRect())
        lefts.append(place.left())
        assert not bar.grab().isNull()
    assert lefts == [lefts[0]] * 3
    longer = []
    for count in range(80):
        sentence = no + " so" * count
        bar.spoken.say(Said("Not valid", "cross", "no", sentence))
        place, _, words = bar.spoken.words_at()
        if words == sentence:
            longer.append(place.left())
            assert bar.spoken.rect().contains(place.toAlignedRect())
            assert not bar.grab().isNull()
    assert max(longer) > lefts[0], "what does not go below the word in two lines stands beside it in three"
    assert longer[-1] == lefts[0], "what is longer yet stands below a smaller word in three"
    bar.spoken.say(Said("Not valid", "cross", "no", whole * 4))
    _, _, words = bar.spoken.words_at()
    assert words.endswith("…")
    assert (whole * 4).startswith(words[:-1])


def test_the_least_cut_moves_nothing_when_it_comes(qtbot: QtBot, bar: VerdictBar) -> None:
    for width in (1440, 1280, 1100, 960):
        bar.resize(width, 60)
        bar.show_chips(())
        QApplication.processEvents()
        places = [part.geometry() for part in (bar.spoken, bar.used, bar.left, bar.room, bar.least)]
        bar.show_chips(chips_of(LADDER, MM))
        QApplication.processEvents()
        assert [part.geometry() for part in (bar.spoken, bar.used, bar.left, bar.room, bar.least)] == places
        assert bar.minimumSizeHint().width() <= width


def test_names_of_cuts_stand_whole_in_two_lines(bar: VerdictBar) -> None:
    font = text_font(SIZES_PX.small, bold=True)
    for name in ("2 x 50 cm, 110 cm", "2 x fat quarter, 44 in", "3 x half yard, 54 in", "eighth"):
        assert " ".join(name_lines(name, font, CHIP_PX - 10)) == name
    assert name_lines("2 x 50 cm, 110 cm", font, CHIP_PX - 10) == ["2 x 50 cm,", "110 cm"]
    long = name_lines("a remnant of unbleached linen from the mill, 140 cm", font, CHIP_PX - 10)
    assert len(long) == 2
    assert long[1].endswith("…")


def test_a_figure_too_long_for_its_place_is_whole_in_its_tip(bar: VerdictBar) -> None:
    bar.least.show_figure("3 x a remnant of unbleached linen, 140 cm", "with room: 2 x yard, 42 in")
    assert bar.least.toolTip().startswith("3 x a remnant of unbleached linen, 140 cm, with room: 2 x yard, 42 in\n")
    bar.least.show_figure("yard")
    assert bar.least.toolTip().startswith("The smallest cut")


def test_figures_of_before_are_marked(bar: VerdictBar) -> None:
    bar.room.show_figure("4.5 mm", "the most room there is", old=True)
    assert bar.room.note == "as of before"
    assert bar.room.accessibleDescription() == "4.5 mm, as of before"
    bar.room.show_figure("4.5 mm", "the most room there is")
    assert bar.room.note == "the most room there is"


def test_a_narrow_window_shows_fewer_rungs(qtbot: QtBot, bar: VerdictBar) -> None:
    bar.show_chips(chips_of(LADDER, MM))
    assert [chip.isHidden() for chip in bar._chips] == [False, False, True]
    bar.resize(1600, 60)
    assert [chip.isHidden() for chip in bar._chips] == [False, False, False]
    bar.resize(1280, 60)
    assert [chip.isHidden() for chip in bar._chips] == [False, True, True]
    assert not bar.left.isHidden()
    bar.resize(960, 60)
    assert bar.left.isHidden()
    assert [chip.isHidden() for chip in bar._chips] == [True, True, True]
    bar.show_chips(())
    assert all(chip.isHidden() for chip in bar._chips)


def test_a_rung_asks_for_the_ladder_and_the_verdict_for_its_reasons(qtbot: QtBot, bar: VerdictBar) -> None:
    bar.show_chips(chips_of(LADDER, MM))
    with qtbot.waitSignal(bar.ladder_asked) as heard:
        bar._chips[1].click()
    assert heard.args == ["quarter"]
    with qtbot.waitSignal(bar.spoken.asked):
        qtbot.mouseClick(bar.spoken, Qt.MouseButton.LeftButton)


def test_both_looks_paint(bar: VerdictBar) -> None:
    bar.show_chips(chips_of(LADDER, MM))
    bar.spoken.say(spoken(report()))
    light = bar.grab().toImage()
    bar.dress(DARK)
    assert bar.grab().toImage() != light


def test_pieces_that_wait_are_told_apart_by_why() -> None:
    """Two pieces in all: the rest, the spoiled ones that wait again, and none that lies at all."""

    def sentence(*waiting: str, spoiled: tuple[str, ...] = (), known: Answer | None = None) -> str:
        judged = report(verdict="incomplete", waiting=waiting)
        return said(judged, known, searching=False, names=NAMES, style=MM, spoiled=spoiled).sentence

    assert sentence("back-1") == "1 of 2 pieces waits beside the cloth: drag it on, or choose Lay the rest"
    assert sentence("front-1", "back-1").endswith("drag them on, or choose Lay out for me")
    assert sentence("back-1", spoiled=("back-1",)).startswith("Back cover was spoiled and waits again: ")
    both = ("front-1", "back-1")
    assert sentence(*both, spoiled=both).startswith("Front cover, back cover were spoiled and wait again")
    assert sentence(*both, spoiled=("back-1",)).startswith("Back cover was spoiled and waits again, and 1 more with it")
    # That all fits is said of a job not begun; one that was spoiled is told first, unless it cannot be had at all.
    assert sentence(*both, spoiled=both, known=answer()).startswith("Front cover, back cover were spoiled")
    no = answer("does not fit", "lay-not-found")
    assert (
        said(report(verdict="incomplete", waiting=both), no, searching=False, names=NAMES, style=MM, spoiled=both).word
        == "Does not fit"
    )


def test_more_than_one_that_waits_is_told_so() -> None:
    names = {**NAMES, "a": "A", "b": "B"}
    judged = report(verdict="incomplete", waiting=("a", "b", "back-1"))
    found = said(judged, None, searching=False, names=names, style=MM, spoiled=("a", "b"))
    assert found.sentence.startswith("A, b were spoiled and wait again, and 1 more with them")
    assert said(judged, None, searching=False, names=names, style=MM).sentence.startswith("3 of 4 pieces wait")


def test_the_offer_to_lay_the_rest_takes_room_from_the_sentence(qtbot: QtBot) -> None:
    bar = VerdictBar(LIGHT)
    qtbot.addWidget(bar)
    bar.resize(1500, 60)
    bar.show()
    bar.spoken.say(Said("Incomplete", "half ring", "muted", "1 of 2 pieces waits"))
    free = bar.spoken.words_at()[0].width()
    bar.spoken.show_offer(offered=True)
    assert bar.spoken.offer.isVisible()
    assert bar.spoken.words_at()[0].width() <= free - bar.spoken.offer.width()
    assert bar.spoken.rect().contains(bar.spoken.offer.geometry())
    bar.spoken.resize(300, 60)
    assert not bar.spoken.offer.isVisible()
    bar.spoken.show_offer(offered=False)
    bar.spoken.resize(900, 60)
    assert not bar.spoken.offer.isVisible()
