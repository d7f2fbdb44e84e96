"""The cheapest cuts together: by price, by area, of one width of cloth, proved or not, and where there are none."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, cloth, faults, piece

from coverlayout.layout.answer import Answer
from coverlayout.layout.buying import bundles
from coverlayout.layout.buying.bundles import Bundle, cheapest_bundle
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import CutAsked, Question, never

# Two covers of 100 x 150 that must stay upright, so that two need 200 x 150.
COVERS = tuple(piece(f"cover-{k}", 100.0, 150.0) for k in (1, 2))


def cut(
    name: str, width: float, length: float, price: float | None = None, *, of: str = "44 in", **more: object
) -> CutAsked:
    question = Question(COVERS, (cloth(width, length, name="bought"),), spare_wish_mm=0.0)
    return CutAsked(name, width, length, price, replace(question, **more), of)  # type: ignore[arg-type] # by name


def cheapest(*cuts: CutAsked, most: int = 4) -> Bundle | None:
    known: dict[str, Answer] = {one.name: first_layout(one.question) for one in cuts}
    return cheapest_bundle(cuts, known, never, most=most)


def test_two_small_cuts_for_less_than_one_large() -> None:
    bundle = cheapest(cut("fat", 110.0, 160.0, 4.0), cut("half", 220.0, 160.0, 9.0))
    assert bundle is not None
    assert (bundle.cuts, bundle.counted) == (("fat", "fat"), (("fat", 2),))
    assert bundle.price == 8.0
    assert bundle.area_mm2 == 2 * 110.0 * 160.0
    assert bundle.proved
    assert bundle.verdict == "fits"
    assert faults(bundle.question, bundle.answer.placed) == []
    assert {one.cloth for one in bundle.answer.placed} == {"bought-1", "bought-2"}


def test_one_large_cut_for_less_than_two_small() -> None:
    bundle = cheapest(cut("fat", 110.0, 160.0, 4.0), cut("half", 220.0, 160.0, 7.0))
    assert bundle is not None
    assert (bundle.cuts, bundle.price) == (("half",), 7.0)
    assert bundle.proved


def test_without_all_prices_the_least_area_counts() -> None:
    bundle = cheapest(cut("fat", 105.0, 155.0), cut("half", 220.0, 160.0, 1.0))
    assert bundle is not None
    assert (bundle.cuts, bundle.price) == (("fat", "fat"), None)
    # At the same area the fewest cuts are taken.
    equal = cheapest(cut("fat", 110.0, 160.0), cut("half", 220.0, 160.0))
    assert equal is not None
    assert equal.cuts == ("half",)


def test_a_print_comes_on_one_width_of_cloth() -> None:
    cuts = (cut("fat", 110.0, 160.0, 1.0), cut("other", 105.0, 151.0, 1.5, of="60 in"))
    bundle = cheapest(*cuts)
    assert bundle is not None
    assert bundle.cuts == ("fat", "fat")
    # A sample on no width at all goes with any.
    sample = cut("sample", 105.0, 151.0, 0.5, of="")
    mixed = cheapest(cuts[0], sample)
    assert mixed is not None
    assert mixed.cuts == ("sample", "sample")


def test_no_cuts_together_are_enough() -> None:
    assert cheapest(cut("scrap", 90.0, 400.0, 1.0)) is None
    assert cheapest_bundle((), {}, never) is None


def test_more_cuts_than_are_bought_together() -> None:
    many = tuple(piece(f"cover-{k}", 100.0, 150.0) for k in range(3))
    fat = cut("fat", 110.0, 160.0, 1.0, pieces=many)
    assert cheapest(fat, most=2) is None
    three = cheapest(fat, most=3)
    assert three is not None
    assert three.cuts == ("fat",) * 3


def test_what_was_left_open_takes_the_proof_away(monkeypatch: pytest.MonkeyPatch) -> None:
    cheap, fair, dear = cut("a", 101.0, 400.0, 1.0), cut("b", 190.0, 400.0, 5.0), cut("c", 220.0, 160.0, 9.0)
    known = {one.name: first_layout(one.question) for one in (fair, dear)}
    known["a"] = replace(first_layout(fair.question), verdict="not found", placed=())
    open_single = cheapest_bundle((cheap, dear), known, never, most=1)
    assert open_single is not None
    assert (open_single.cuts, open_single.proved) == (("c",), False)

    def nothing(question: Question, _watch: object) -> Answer:
        return replace(known["a"], question_number=question.number)

    monkeypatch.setattr(bundles, "first_layout", nothing)
    found = cheapest_bundle((cut("fat", 110.0, 160.0, 4.0), dear), {**known, "fat": known["a"]}, never)
    assert found is not None
    assert (found.cuts, found.proved) == (("c",), False)


def test_a_list_within_a_refused_one_is_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []

    def first(question: Question, watch: object) -> Answer:
        asked.append(len(question.cloths))
        return first_layout(question)

    monkeypatch.setattr(bundles, "first_layout", first)
    # Strips too narrow for a cover, the widest the cheapest: two, three or four of that tell of all the others.
    strips = [cut(f"strip {k}", 99.0 - k, 900.0, 1.8 + k / 10) for k in range(3)]
    bundle = cheapest(*strips, cut("dear", 220.0, 160.0, 90.0))
    assert bundle is not None
    assert bundle.proved
    assert asked == [2, 3, 4]


def test_stopped_before_the_end() -> None:
    cuts = (cut("fat", 110.0, 160.0, 4.0), cut("half", 220.0, 160.0, 9.0))
    known = {one.name: first_layout(one.question) for one in cuts}
    bundle = cheapest_bundle(cuts, known, lambda _share: True)
    assert bundle is not None
    assert (bundle.cuts, bundle.proved) == (("half",), False)


def test_cloth_in_doubt_and_pieces_of_one_cloth() -> None:
    smaller = (cloth(99.0, 159.0, name="bought"),)
    bundle = cheapest(cut("fat", 110.0, 160.0, 4.0, cloths_if_smaller=smaller), cut("half", 220.0, 160.0, 9.0))
    assert bundle is not None
    assert bundle.verdict == "fits, tight"
    assert [one.id for one in bundle.question.cloths_if_smaller] == ["bought-1", "bought-2"]
    bound = tuple(replace(one, cloth_ids=("bought",)) for one in COVERS)
    alone = cheapest(cut("fat", 110.0, 160.0, 4.0, pieces=bound), cut("half", 220.0, 160.0, 9.0, pieces=bound))
    assert alone is not None
    assert alone.cuts == ("half",)


def test_pieces_that_turn_over_two_cuts() -> None:
    turning = tuple(replace(one, turns_deg=ANY) for one in COVERS)
    bundle = cheapest(cut("long", 155.0, 101.0, 1.0, pieces=turning), cut("half", 220.0, 160.0, 9.0, pieces=turning))
    assert bundle is not None
    assert bundle.cuts == ("long", "long")
    assert {one.turn_deg % 180.0 for one in bundle.answer.placed} == {90.0}
