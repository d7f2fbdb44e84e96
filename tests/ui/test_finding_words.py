"""Actions are found by words: in any order, with slips, accents and other words for the same thing."""

from __future__ import annotations

import pytest

from coverlayout.ui.keyboard.search import Sought, found, plain
from coverlayout.ui.keyboard.synonyms import SYNONYMS

LIST = (
    Sought("Lay out for me", "Layout"),
    Sought("Turn", "Pieces", "To the next way the pieces may lie", "R"),
    Sought("Turn back", "Pieces", "To the next way the pieces may lie", "Shift+R"),
    Sought("Turn the cloth over", "Cloth", keys="Ctrl+B"),
    Sought("Show everything", "View", keys="Ctrl+0, F"),
    Sought("Nearer", "View", keys="Ctrl++, +"),
    Sought("Millimetres, whole", "View, Lengths in"),
    Sought("Pin where it lies", "Pieces", "No drag and no search moves it"),
    Sought("Measure", "View", "Any two places, across and along"),
    Sought("Open a picture …", "File", keys="Ctrl+I"),
)


def words(query: str) -> list[str]:
    return [LIST[at].words for at in found(query, LIST)]


def test_without_words_everything_stands_in_the_order_of_the_menus() -> None:
    assert found("", LIST) == found("  …", LIST) == tuple(range(len(LIST)))


@pytest.mark.parametrize("query", ["turn cloth over", "over cloth turn", "OVER the Cloth", "Túrn clôth", "tur clo ov"])
def test_words_count_in_any_order_case_and_length(query: str) -> None:
    assert words(query) == ["Turn the cloth over"]


@pytest.mark.parametrize(
    ("query", "first"),
    [
        ("rotate", "Turn"),
        ("how do I rotate a piece", "Turn"),
        ("lock", "Pin where it lies"),
        ("ruler", "Measure"),
        ("import image", "Open a picture …"),
        ("metric", "Millimetres, whole"),
        ("zoom", "Nearer"),
        ("flip fabric", "Turn the cloth over"),
        ("mirror", "Turn the cloth over"),
        ("overview", "Show everything"),
        ("arrange automatic", "Lay out for me"),
        ("zoom to fit", "Show everything"),
    ],
)
def test_other_words_for_it_are_known(query: str, first: str) -> None:
    assert words(query)[0] == first


@pytest.mark.parametrize(
    ("query", "first"),
    [
        ("remove from cloth", "Take off the cloth"),
        ("put aside", "Take off the cloth"),
        ("remnant", "Make the rest a cloth of its own"),
        ("make cloth from remaining", "Make the rest a cloth of its own"),
        ("ruined", "Mark as spoiled"),
        ("offcut", "Lay the rest"),
        ("scrap cloth", "Make the rest a cloth of its own"),
    ],
)
def test_pieces_and_rests_are_found_by_what_one_would_say(query: str, first: str) -> None:
    listed = (
        Sought("Move to the next cloth", "Pieces", "As far from its top left as it lay on this one."),
        Sought("Lay the rest", "Pieces"),
        Sought("Take off the cloth", "Pieces"),
        Sought("Make the rest a cloth of its own", "Pieces"),
        Sought("Mark as spoiled", "Pieces"),
    )
    assert listed[found(query, listed)[0]].words == first


@pytest.mark.parametrize(
    ("query", "first"),
    [
        ("mesure", "Measure"),
        ("measrue", "Measure"),
        ("everthing", "Show everything"),
        ("pitcure", "Open a picture …"),
        ("milimeters", "Millimetres, whole"),
        ("rotatte", "Turn"),
    ],
)
def test_a_slip_of_the_fingers_is_forgiven(query: str, first: str) -> None:
    assert words(query)[0] == first


def test_a_word_written_rightly_is_no_slip_for_another() -> None:
    near = (Sought("Take off the cloth"), Sought("Measure"))
    assert [near[at].words for at in found("tape", near)] == ["Measure"]
    assert [near[at].words for at in found("tske", near)] == ["Take off the cloth"]


def test_our_words_that_stand_together_must_stand_so_there() -> None:
    listed = (Sought("Lay the rest"), Sought("The cloth for the rest of it"), Sought("Rest"))
    assert found("scraps", listed, {"scraps": ("lay the rest",)}) == (0,)


@pytest.mark.parametrize(("query", "first"), [("r", "Turn"), ("shift+r", "Turn back"), ("ctrl+0", "Show everything")])
def test_keys_lead_to_what_they_do(query: str, first: str) -> None:
    assert words(query)[0] == first


def test_every_word_must_be_met() -> None:
    assert words("turn picture") == []
    assert words("xylophone") == []
    assert words("the") == ["Turn the cloth over", "Turn", "Turn back"], "a small word alone is looked for"


def test_what_says_it_shortest_comes_first_then_the_order_of_the_menus() -> None:
    assert words("turn") == ["Turn", "Turn back", "Turn the cloth over"]
    assert words("pieces")[:2] == ["Turn", "Turn back"]


def test_short_words_are_not_guessed_at() -> None:
    assert "Pin where it lies" not in words("pen")


def test_plain_keeps_letters_figures_and_keys() -> None:
    assert plain("Öffnen … (ÉTÉ) Ctrl+Shift+S ←") == "offnen ete ctrl+shift+s ←"


def test_the_table_of_other_words_is_clean() -> None:
    for word, ours in SYNONYMS.items():
        assert plain(word) == word
        assert ours
        assert word not in ours, f"{word} stands for itself"
        assert all(plain(each) == each for each in ours)
    assert list(SYNONYMS) == sorted(SYNONYMS)
