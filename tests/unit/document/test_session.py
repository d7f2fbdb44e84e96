"""One open project: one event, undo, what is saved."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.books import add_own_piece
from coverlayout.document.edits.cloths import add_cloth, change_cloth, remove_cloth
from coverlayout.document.edits.job import change_preferences, rename_project
from coverlayout.document.edits.placements import place
from coverlayout.document.history import Edit
from coverlayout.document.project import Layout, Project
from coverlayout.document.session import Pictures, Session
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.question import Placed


def named_session(*names: str) -> Session:
    session = Session()
    for name in names:
        session.do(rename_project(name))
    return session


def test_every_change_is_told_once() -> None:
    session, told = Session(), []
    session.listen(lambda old, new: told.append((old.name, new.name)))
    session.do(rename_project("a"))
    session.undo()
    session.redo()
    session.replace_all(Project(name="other"), Pictures(), None)
    assert told == [("Untitled", "a"), ("a", "Untitled"), ("Untitled", "a"), ("a", "other")]


def test_what_changes_nothing_is_not_told() -> None:
    session, told = Session(), []
    session.listen(lambda old, new: told.append(new))
    session.do(rename_project("Untitled"))
    session.undo()
    session.redo()
    assert told == []
    assert session.undo_name is None
    assert session.redo_name is None


def test_a_listener_stops_and_may_stop_twice() -> None:
    session, told = Session(), []
    stop = session.listen(lambda old, new: told.append(new))
    stop()
    stop()
    session.do(rename_project("a"))
    assert told == []


def test_an_edit_made_by_a_listener_is_told_after_the_one_it_answers() -> None:
    session, told = Session(), []

    def answer(old: Project, new: Project) -> None:
        if new.name == "a":
            session.do(rename_project("b"))

    session.listen(answer)
    session.listen(lambda old, new: told.append((old.name, new.name)))
    session.do(rename_project("a"))
    assert told == [("Untitled", "a"), ("a", "b")]


def test_a_listener_that_fails_leaves_the_session_working() -> None:
    session, told = Session(), []

    def fail(old: Project, new: Project) -> None:
        raise LookupError(new.name)

    stop = session.listen(fail)
    with pytest.raises(LookupError):
        session.do(rename_project("a"))
    stop()
    session.listen(lambda old, new: told.append(new.name))
    session.do(rename_project("b"))
    assert told == ["b"]


def test_bad_input_changes_nothing() -> None:
    session, told = named_session("a"), []
    session.listen(lambda old, new: told.append(new))
    before = session.project
    with pytest.raises(BadInput):
        session.do(rename_project("  "))
    assert session.project is before
    assert told == []


def test_undo_back_to_what_was_saved_counts_as_saved() -> None:
    session = named_session("a")
    assert session.unsaved
    session.mark_saved(Path("a.coverlayout"))
    assert (session.unsaved, session.path) == (False, Path("a.coverlayout"))
    session.do(rename_project("b"))
    assert session.unsaved
    session.undo()
    assert not session.unsaved


def test_a_recovered_project_is_unsaved_until_it_is_saved() -> None:
    session = Session()
    session.replace_all(Project(name="found"), Pictures(), Path("a.coverlayout"), saved=False)
    assert session.unsaved
    session.mark_saved(Path("a.coverlayout"))
    assert not session.unsaved


def test_opening_another_project_leaves_nothing_to_undo() -> None:
    session = named_session("a", "b")
    session.undo()
    session.replace_all(Project(name="other"), Pictures(), Path("o.coverlayout"))
    assert (session.undo_name, session.redo_name, session.unsaved) == (None, None, False)


def test_undo_and_redo_have_names() -> None:
    session = named_session("a")
    assert (session.undo_name, session.redo_name) == ("Rename project", None)
    session.undo()
    assert (session.undo_name, session.redo_name) == (None, "Rename project")


def test_pictures_stay_when_an_edit_is_taken_back() -> None:
    session = named_session("a")
    name = session.add_picture(b"ink")
    assert session.add_picture(b"ink") == name
    session.undo()
    assert session.pictures[name] == b"ink"
    assert len(session.pictures) == 1


def test_what_came_with_an_edit_is_the_answer() -> None:
    session = Session()
    session.do(add_cloth(Cloth("", "Swatch", 300.0, 300.0)))
    session.do(add_own_piece(OwnPiece("", "label", 20.0, 30.0)))
    session.do(place((Placed("label-1", "cloth-1", 90.0, 90.0),)))
    assert session.do(change_cloth("cloth-1", trim_mm=2.0)) == ()
    said = [remark.text() for remark in session.do(remove_cloth("cloth-1"))]
    assert said == ["1 waiting beside the cloth again: label-1"]


def test_looking_at_the_back_is_nothing_to_save() -> None:
    session = Session()
    session.do(change_preferences(side="back"))
    assert not session.unsaved
    session.do(change_preferences(currency="EUR"))
    assert session.unsaved


def test_which_layout_is_looked_at_is_no_change_worth_asking_about() -> None:
    layouts = (Layout("layout-1", "Layout 1"), Layout("layout-2", "Layout 2"))
    session = Session(Project(layouts=layouts, layout_id="layout-2"))
    assert not session.unsaved
    other = Edit(Remark.of("edit-move", piece="a layout"), lambda project: replace(project, layout_id="layout-1"))
    session.do(other)
    assert session.project.layout_id == "layout-1"
    assert not session.unsaved
    session.do(rename_project("Six ledgers"))
    assert session.unsaved


def test_a_project_whose_file_is_no_longer_its_own_is_unsaved() -> None:
    session = Session(Project(name="Tides"), path=Path("tides.coverlayout"))
    session.mark_unsaved()
    assert session.unsaved
    session.do(rename_project("Six ledgers"))
    session.undo()
    assert session.unsaved, "undo leads back to nothing that lies in the file"
    session.mark_saved(Path("tides.coverlayout"))
    assert not session.unsaved
