"""The length of the thread by every rule, by colour, for pairs, and the sentences that say it."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Sewing, Structure, ThreadColour, ThreadRule
from coverlayout.book.sewing.thread import ThreadNeeded, default_thread_rule, thread
from coverlayout.errors import BadInput

LEDGER = Book("b", "Ledger", page_mm=(100.0, 150.0))


def _thread(sewing: Sewing, sections: int | None = 8, book: Book = LEDGER) -> ThreadNeeded:
    book = replace(book, sewing=sewing)
    needed = thread(book, book.volumes[0], sections)
    assert needed is not None
    return needed


@pytest.mark.parametrize(
    ("name", "total_mm"),
    [
        ("sections and two", 10 * 150.0),
        ("sections and a tail", 8 * 150.0 + 127.0),
        ("six heights", 900.0),
        ("five heights", 750.0),
        ("three heights", 450.0),
    ],
)
def test_each_rule(name: ThreadRule, total_mm: float) -> None:
    needed = _thread(Sewing(thread_rule=name))
    assert (needed.total_mm, needed.rule, needed.by_colour) == (pytest.approx(total_mm), name, ())
    assert (needed.needles, needed.threads) == (1, 1)
    assert needed.source in needed.said[0].text()


def test_a_tail_of_the_makers_own() -> None:
    needed = _thread(Sewing(thread_rule="sections and a tail", tail_mm=200.0))
    assert needed.total_mm == pytest.approx(1400.0)
    assert "each of 8 sections, and 200 mm more" in needed.said[0].text()
    with pytest.raises(BadInput, match="thread tail -1 mm"):
        _thread(Sewing(thread_rule="sections and a tail", tail_mm=-1.0))


def test_every_structure_has_its_rule() -> None:
    rules: dict[Structure, ThreadRule] = {
        "separate-boards": "sections and two",
        "flat-case": "sections and two",
        "side-sewn": "six heights",
        "limp-wrap": "three heights",
    }
    for structure, name in rules.items():
        assert default_thread_rule(replace(LEDGER, structure=structure)) == name


@pytest.mark.parametrize("structure", ["accordion", "slipcase", "parts"])
def test_what_is_not_sewn_needs_no_thread(structure: Structure) -> None:
    book = replace(LEDGER, structure=structure)
    assert thread(book, book.volumes[0], 8) is None


def test_sections_that_are_not_known_leave_their_rules_open() -> None:
    needed = _thread(Sewing(), None)
    assert needed.total_mm is None
    assert needed.said[0].text() == "Ledger: the thread cannot be measured before the number of sections is known."
    assert _thread(Sewing(thread_rule="six heights"), None).total_mm == 900.0


def test_each_colour_is_a_thread_of_its_own_and_the_last_takes_the_rest() -> None:
    """3 and 5 of 8 sections, two heights more for each: (3 + 2) x 150 and (5 + 2) x 150."""
    needed = _thread(Sewing(colours=(ThreadColour("red", 3), ThreadColour("grey", 1))))
    assert needed.by_colour == (("red", 750.0), ("grey", 1050.0))
    assert needed.total_mm == 1800.0


def test_a_colour_without_sections_needs_no_thread() -> None:
    needed = _thread(Sewing(colours=(ThreadColour("red", 8), ThreadColour("grey", 0))))
    assert needed.by_colour == (("red", 1500.0), ("grey", 0.0))


def test_the_last_colour_is_open_while_the_sections_are() -> None:
    needed = _thread(Sewing(colours=(ThreadColour("red", 3), ThreadColour("grey", 1))), None)
    assert needed.by_colour == (("red", 750.0), ("grey", None))
    assert needed.total_mm is None


@pytest.mark.parametrize(
    ("colours", "words"),
    [
        ((ThreadColour("red", 5), ThreadColour("grey", 4)), "for 9 sections, and there are 8"),
        ((ThreadColour("red", -1),), "the thread red is for -1 sections"),
    ],
)
def test_colours_that_do_not_go_together(colours: tuple[ThreadColour, ...], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        _thread(Sewing(colours=colours))


@pytest.mark.parametrize(
    ("sewing", "needles"),
    [(Sewing("pairs", count=6, end_mm=15.0, pair_mm=10.0), 6), (Sewing("ends"), 4), (Sewing("own", own_mm=(20.0,)), 1)],
)
def test_pairs_are_sewn_with_a_needle_at_each_station(sewing: Sewing, needles: int) -> None:
    needed = _thread(sewing)
    assert needed.needles == needles
    assert needed.threads == max(needles // 2, 1)
    assert needed.total_mm == 1500.0
    said = [remark.text() for remark in needed.said[1:]]
    assert bool(said) == (needles > 1)
    assert all(f"{needles} needles" in words for words in said)


def test_the_rule_is_said_in_words_with_its_source() -> None:
    words = _thread(Sewing()).said[0].text()
    assert words.startswith("Ledger: 1500 mm of thread: one page height for each of 8 sections, and 2 more for each")
    assert "common practice, no source" in words
    side = _thread(Sewing(), None, replace(LEDGER, structure="side-sewn")).said[0].text()
    assert side.startswith("Ledger: 900 mm of thread: 6 times the height of the page for each thread")
    assert side.endswith("(a public textbook on side sewing).")
