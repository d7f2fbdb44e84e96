"""The project value: finding, replacing and naming its records."""

from __future__ import annotations

from dataclasses import replace

import pytest
from full_project import CLOTH, FULL, HERONS, LEDGER, POCKET, SPOILED

from coverlayout.book.book import Source
from coverlayout.document.project import Layout, Project
from coverlayout.layout.question import Placed


def test_records_are_found_by_id() -> None:
    assert FULL.cloth("cloth-1") is CLOTH
    assert FULL.print_of("print-1") is HERONS
    assert FULL.book("book-1") is LEDGER
    assert FULL.layout.name == "On the slant"
    assert FULL.layout.place_of("p-a") is not None
    assert FULL.layout.place_of("p-b") is None


@pytest.mark.parametrize("find", [FULL.cloth, FULL.print_of, FULL.book])
def test_an_unknown_id_is_a_key_error(find: object) -> None:
    with pytest.raises(KeyError):
        find("none-9")  # type: ignore[operator]  # each is a method that takes an id


def test_a_layout_that_is_not_there_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        _ = replace(FULL, layout_id="layout-9").layout


def test_records_are_replaced_by_id_and_the_rest_stays() -> None:
    new = FULL.with_cloth(replace(CLOTH, name="x")).with_print(replace(HERONS, name="x"))
    new = new.with_book(replace(LEDGER, name="x")).with_own_piece(replace(POCKET, name="x"))
    new = new.with_layout(replace(FULL.layouts[1], name="x"))
    named = (new.cloths[0], new.prints[0], new.books[0], new.own_pieces[0], new.layouts[1])
    assert {record.name for record in named} == {"x"}
    assert new.prints[1] is FULL.prints[1]
    assert new.books[1:] == FULL.books[1:]
    assert new.layouts[0] is FULL.layouts[0]


def test_only_a_cut_piece_is_a_fact_of_the_piece() -> None:
    cut = replace(SPOILED, state="cut")
    assert FULL.fact_of("front-1") is None
    assert replace(FULL, cut_pieces=(SPOILED, cut)).fact_of("front-1") is cut


def test_wishes_are_locks_and_links() -> None:
    assert [wish.id for wish in FULL.wishes] == ["wish-1", "wish-2"]


def test_ids_are_given_once() -> None:
    first, project = Project().named_anew("cloth")
    second, project = project.named_anew("cloth")
    third, _ = project.named_anew("book")
    assert (first, second, third) == ("cloth-1", "cloth-2", "book-3")


def test_an_id_from_elsewhere_is_not_given_again() -> None:
    project = Project(layouts=(Layout("layout-7", "a"), Layout("layout-x", "b"), Layout("layout-²", "c")))
    assert project.named_anew("layout")[0] == "layout-8"
    assert project.named_anew("cloth")[0] == "cloth-1"


def test_sources_are_changed_everywhere() -> None:
    new = FULL.with_sources(lambda source: Source())
    assert {new.books[0].cover_source, new.books[0].liner_source, new.own_pieces[0].source} == {Source()}


def test_a_layout_keeps_the_pins_of_what_stays() -> None:
    lying = (Placed("a", "cloth-1", 1.0, 2.0), Placed("b", "cloth-2", 3.0, 4.0), Placed("c", "cloth-1", 5.0, 6.0))
    layout = Layout("layout-1", "a", lying, ("c", "b"))
    assert layout.keeping(lambda placed: placed.piece != "b") == Layout("layout-1", "a", (lying[0], lying[2]), ("c",))
    assert layout.keeping(lambda placed: True) is layout
