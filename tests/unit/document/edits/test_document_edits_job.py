"""The whole job: name, rules, how it is shown, prices."""

from __future__ import annotations

import pytest
from full_project import FULL, KEPT

from coverlayout.document.edits.job import change_preferences, change_rules, name_by_file, rename_project, set_price
from coverlayout.document.history import Edit, History
from coverlayout.document.project import Price, Project
from coverlayout.errors import BadInput
from coverlayout.units import LengthStyle


def test_a_name_is_kept_without_the_blanks_around_it() -> None:
    assert rename_project("  Two atlases ").change(FULL).name == "Two atlases"


def test_the_first_file_names_every_step_that_had_no_name() -> None:
    history = History(Project()).after(rename_project("Atlas")).after(rename_project("Untitled"))
    saved = history.after(name_by_file(" ledgers "))
    assert saved.present.name == "ledgers"
    assert [step.project.name for step in saved.past] == ["ledgers", "Atlas"]


def test_rules_and_preferences_change_by_field() -> None:
    new = change_rules(gap_mm=2.0).change(FULL)
    assert (new.rules.gap_mm, new.rules.spare_wish_mm, new.rules.unknown) == (2.0, 8.0, KEPT)
    new = change_preferences(length_style=LengthStyle(), side="print").change(FULL)
    assert (new.preferences.length_style.unit, new.preferences.currency) == ("mm", "EUR")


def test_prices_are_set_changed_and_taken_away() -> None:
    more = set_price("yard, 44in", 12.0).change(FULL)
    assert more.prices == (Price("half yard, 44in", 6.5, KEPT), Price("yard, 44in", 12.0))
    dearer = set_price("half yard, 44in", 7.0).change(more)
    assert Price("half yard, 44in", 7.0, KEPT) in dearer.prices
    assert set_price("half yard, 44in", None).change(dearer).prices == (Price("yard, 44in", 12.0),)
    assert set_price("nothing", None).change(FULL) == FULL


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        (rename_project(" "), "name-empty"),
        (change_rules(gap_mm=-1.0), "figure-out-of-range"),
        (change_rules(spare_wish_mm=float("inf")), "figure-not-finite"),
        (change_preferences(length_style=LengthStyle(mm_step=-1.0)), "figure-out-of-range"),
        (set_price("yard", -1.0), "figure-out-of-range"),
    ],
)
def test_what_cannot_be_is_refused(edit: Edit, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        edit.change(FULL)
    assert caught.value.code == code
    assert str(caught.value)
