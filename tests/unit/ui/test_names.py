"""Names and warnings on pieces: none covers another, those of the upper piece come first, none leaves its piece."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from canvas_samples import job
from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QApplication

from coverlayout.book.pieces import Piece
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.answer import Breach
from coverlayout.layout.question import Placed
from coverlayout.ui.painting.names import BREACH, CHOSEN, FITS, INK, Label, PieceLook, Seen, labels_of, looks_of
from coverlayout.ui.table.bench import Lying
from coverlayout.ui.table.shown import bench_of
from coverlayout.units import LengthStyle

PLAIN = PieceLook()
BROKEN = PieceLook(breaches=(("overlap", "overlaps back cover by 118.0 mm"), ("flaw", "30.0 mm on Rust stain")))


@pytest.fixture(autouse=True)
def fonts(qapp: QApplication) -> QApplication:
    """Words are measured in the interface font."""
    return qapp


def seen(name: str, left: float, top: float, look: PieceLook = PLAIN, *, cut: bool = False) -> Seen:
    """A cover of 200 x 260 pixels with turn-ins of 20."""
    lying = Lying(
        Piece(name.lower(), name, "own", rectangle(100.0, 130.0), (50.0, 65.0)),
        Placed(name.lower(), "cloth-1", 0.0, 0.0),
        name,
        state="cut" if cut else "planned",
    )
    return Seen(lying, QRectF(left + 20, top + 20, 160, 220), QRectF(left, top, 200, 260), look)


def assert_apart(labels: list[Label], tags: tuple[QRectF, ...] = ()) -> None:
    boxes = [*(label.box for label in labels), *tags]
    assert not [pair for pair in combinations(boxes, 2) if pair[0].intersects(pair[1])]


def test_what_is_wrong_stands_below_the_name() -> None:
    labels = labels_of([seen("Front", 0, 0, BROKEN)])
    assert [(label.words, label.warns) for label in labels] == [
        ("Front", False),
        ("overlaps back cover by 118.0 mm", True),
        ("30.0 mm on Rust stain", True),
    ]
    name, first, second = (label.box for label in labels)
    assert name.bottom() < first.top() < first.bottom() < second.top()
    assert second.bottom() <= 260.0
    assert labels[1].ground == BREACH


def test_the_ground_of_a_name_says_chosen_or_cut() -> None:
    chosen, cut, plain = (
        labels_of([each])[0]
        for each in (seen("A", 0, 0, PieceLook(chosen=True)), seen("B", 0, 0, cut=True), seen("C", 0, 0))
    )
    assert (chosen.ground, cut.ground, plain.ground) == (CHOSEN, FITS, INK)
    assert cut.words == "\u2713 B, cut"


def test_the_word_for_a_pin_stands_with_the_name() -> None:
    lying = replace(seen("Front", 0, 0).lying, pinned=True)
    assert not lying.moves
    (label,) = labels_of([replace(seen("Front", 0, 0), lying=lying)])
    assert (label.words, label.ground) == ("Front, pinned", INK)


def test_pieces_that_overlap_make_room_for_each_others_words() -> None:
    upper, lower = seen("Front", 10, 15, BROKEN), seen("Back", 0, 0, BROKEN)
    labels = labels_of([upper, lower])
    assert {"Front", "Back"} <= {label.words for label in labels}
    assert_apart(labels)
    assert labels[0] == labels_of([upper])[0], "the upper piece has first choice"


def test_the_words_of_a_lower_piece_keep_off_the_upper_one() -> None:
    upper, lower = seen("Front", -100, -130, BROKEN), seen("Back", 0, 0, BROKEN)
    labels = labels_of([upper, lower])
    assert_apart(labels)
    below = [label for label in labels if label.words == "Back"]
    assert [label.box.intersects(upper.outline) for label in below] == [False]


def test_a_name_keeps_off_the_name_of_a_flaw() -> None:
    tag = QRectF(20, 25, 90, 18)
    labels = labels_of([seen("Front", 0, 0)], [tag])
    assert [label.words for label in labels] == ["Front"]
    assert_apart(labels, (tag,))


def test_a_warning_covers_the_flaws_name_rather_than_not_be_said() -> None:
    # Nothing below the piece's name is free of the tag.
    tag = QRectF(0, 60, 200, 200)
    labels = labels_of([seen("Front", 0, 0, BROKEN)], [tag])
    assert [label.warns for label in labels] == [False, True, True]
    assert_apart(labels)


def test_words_without_room_are_left_out() -> None:
    many = PieceLook(breaches=tuple(("overlap", f"overlaps cover {k} by 118.0 mm") for k in range(30)))
    labels = labels_of([seen("Front", 0, 0, many)])
    assert 1 < len(labels) < 31
    assert max(label.box.bottom() for label in labels) <= 260.0
    small = seen("Front", 0, 0)
    assert labels_of([Seen(small.lying, QRectF(0, 0, 30, 40), QRectF(0, 0, 40, 50), BROKEN)]) == []


@pytest.mark.parametrize(
    ("breach", "words"),
    [
        (Breach("zone", ("front-1",), 0.0), "may not be cut from here"),
        (Breach("outside", ("front-1",), 0.0), "may not be cut from here"),
        (Breach("zone", ("front-1",), 3.0), "3.0 mm outside the print it belongs to"),
    ],
)
def test_a_piece_with_no_ground_at_all_is_outside_by_no_amount(breach: Breach, words: str) -> None:
    bench, _ = bench_of(job())
    assert looks_of(bench, (breach,), (), LengthStyle())["front-1"].breaches == ((breach.rule, words),)


def test_two_that_go_together_say_once_how_far_they_are_off_and_from_whom() -> None:
    bench, _ = bench_of(job())
    breach = Breach("link", ("front-1", "back-1"), 36.5)
    front, back = (bench.name(each) for each in breach.pieces)
    for chosen, teller, other in (((), "front-1", back), (("back-1",), "back-1", front)):
        looks = looks_of(bench, (breach,), chosen, LengthStyle())
        told = {each: looks[each].warnings for each in breach.pieces}
        assert told.pop(teller) == (f"36.5 mm off where it goes with {other}",)
        assert list(told.values()) == [()]
        assert all(looks[each].rules == {"link"} for each in breach.pieces), "both are shown as wrong"
    silent = labels_of([seen("Front", 0, 0, PieceLook(breaches=(("link", ""),)))])
    assert [label.warns for label in silent] == [False]


def test_a_name_that_would_hide_its_piece_is_cut_short_or_left_out() -> None:
    def shown(width: float, height: float, name: str = "Front cover of the ledger") -> list[str]:
        lying = seen(name, 0, 0).lying
        board = QRectF(10, 10, width, height)
        return [label.words for label in labels_of([Seen(lying, board, board.adjusted(-10, -10, 10, 10), PLAIN)])]

    assert shown(300, 300) == ["Front cover of the ledger"]
    assert shown(46, 64) == []
    (short,) = shown(110, 44)
    assert short.endswith("…")
    assert "Front cover of the ledger".startswith(short[:-1])
    for width in range(44, 200, 6):
        board = QRectF(10, 10, width, 0.8 * width)
        piece = Seen(seen("Front cover", 0, 0).lying, board, board.adjusted(-10, -10, 10, 10), PLAIN)
        for label in labels_of([piece]):
            assert label.box.width() * label.box.height() <= 0.4 * board.width() * board.height() + 1e-6


def test_a_warning_is_said_where_the_name_has_no_room() -> None:
    board = QRectF(10, 10, 46, 30)
    wrong = PieceLook(breaches=(("gap", "too near"),))
    labels = labels_of([Seen(seen("Front cover 1", 0, 0).lying, board, board.adjusted(-10, -10, 60, 60), wrong)])
    assert [label.words for label in labels] == ["too near"]
