"""Undo holds whole projects."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.document.history import Edit, History
from coverlayout.document.project import Project
from coverlayout.errors import Remark

START = History(Project())


def naming(name: str) -> Edit:
    return Edit(Remark.of("edit-rename-layout", name=name), lambda old: replace(old, name=name))


def test_nothing_to_undo_or_redo_is_no_step() -> None:
    assert START.undone() is START
    assert START.redone() is START


def test_an_edit_that_changes_nothing_is_no_step() -> None:
    same = Edit(Remark("edit-rename-project"), lambda old: replace(old, name=old.name))
    assert START.after(same) is START


def test_steps_go_back_and_forth_with_their_names() -> None:
    history = START.after(naming("a")).after(naming("b"))
    back = history.undone()
    assert (back.present.name, back.future[-1].name.text()) == ("a", "Rename layout to b")
    assert back.undone().present == START.present
    assert back.redone() == history


def test_a_new_edit_forgets_what_was_taken_back() -> None:
    history = START.after(naming("a")).undone().after(naming("c"))
    assert history.future == ()
    assert history.redone().present.name == "c"
    assert len(history.past) == 1


def test_an_edit_onto_the_last_is_one_step_with_it() -> None:
    history = START.after(naming("a")).after(naming("b"), onto_last=True)
    assert (history.present.name, len(history.past)) == ("b", 1)
    assert history.past[-1].name.text() == "Rename layout to a"
    assert history.undone().present == START.present
    assert history.undone().redone().present.name == "b"
    assert history.after(naming("b"), onto_last=True) is history


def test_onto_the_last_and_back_to_where_it_began_leaves_no_step() -> None:
    history = START.after(naming("a")).after(naming(START.present.name), onto_last=True)
    assert (history.present, history.past) == (START.present, ())


def test_onto_the_last_with_none_is_a_step_of_its_own() -> None:
    assert len(START.after(naming("a"), onto_last=True).past) == 1
    taken_back = START.after(naming("a")).undone().after(naming("c"), onto_last=True)
    assert (taken_back.present.name, len(taken_back.past), taken_back.future) == ("c", 1, ())


def test_an_edit_on_all_steps_is_no_step_and_leaves_redo() -> None:
    def wider(old: Project) -> Project:
        return replace(old, next_number=7)

    history = START.after(naming("a")).after(naming("b")).undone()
    after = history.after(Edit(Remark("edit-change-preferences"), wider, on_steps=wider))
    assert (after.present.name, after.present.next_number) == ("a", 7)
    assert [step.project.next_number for step in (*after.past, *after.future)] == [7, 7]
    assert (after.undone().present.name, after.redone().present.name) == ("Untitled", "b")
    assert after.undone().present.next_number == after.redone().present.next_number == 7
