from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.document.project import Layout
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import BadInput, FileTrouble
from coverlayout.exporting.sheet import side_of_papers, write_papers
from coverlayout.layout.question import Placed


def test_the_papers_lie_in_a_folder_that_is_made_for_them(project, tmp_path):
    written = write_papers(project, Pictures(), tmp_path / "papers" / "back", "back")
    assert [path.name for path in written] == ["placement.csv", "placement.pdf"]
    assert written[0].read_bytes().startswith(b"piece,side,")
    assert written[1].read_bytes().startswith(b"%PDF-")


def test_no_papers_are_made_from_pieces_that_overlap(project, tmp_path):
    front, back, *rest = project.layout.placements
    wrong = project.with_layout(Layout("layout-1", "First", (front, replace(back, x_mm=front.x_mm + 20), *rest)))
    with pytest.raises(BadInput) as fault:
        write_papers(wrong, Pictures(), tmp_path / "papers", "print")
    assert "Front cover" in str(fault.value)
    assert "cannot be undone" in str(fault.value)
    assert not (tmp_path / "papers").exists()


def test_nothing_placed_is_said(project, tmp_path):
    bare = replace(project, layouts=(Layout("layout-1", "First"),), cut_pieces=())
    with pytest.raises(BadInput, match="nothing lies on the cloth yet"):
        write_papers(bare, Pictures(), tmp_path, "print")
    assert list(tmp_path.iterdir()) == []


def test_a_file_where_the_folder_should_be_is_one_sentence(project, tmp_path):
    (tmp_path / "papers").write_text("in the way")
    with pytest.raises(FileTrouble) as fault:
        write_papers(project, Pictures(), tmp_path / "papers", "print")
    assert "\n" not in str(fault.value)
    assert (tmp_path / "papers").read_text() == "in the way"


def test_a_drawing_that_is_refused_leaves_the_table_as_it_was(project, tmp_path):
    (tmp_path / "placement.pdf").mkdir()
    (tmp_path / "placement.csv").write_text("of another day")
    with pytest.raises(FileTrouble, match=r"placement\.pdf"):
        write_papers(project, Pictures(), tmp_path, "print")
    assert (tmp_path / "placement.csv").read_text() == "of another day"


def test_a_project_with_only_cut_pieces_has_papers_too(project, tmp_path):
    only_cut = replace(project, layouts=(Layout("layout-1", "First"),))
    assert len(write_papers(only_cut, Pictures(), tmp_path, "print")) == 2


def test_the_piece_named_on_paper_is_where_the_layout_has_it(project, tmp_path):
    moved = project.with_layout(Layout("layout-1", "First", (Placed("front-1", "c", 100.0, 300.0),)))
    csv = write_papers(moved, Pictures(), tmp_path, "print")[0].read_text()
    # 300 less 91.2 from the board's centre up to the cut edge.
    assert "front-1,print,144.30,182.40,0.00,27.85,208.80," in csv


@pytest.mark.parametrize("side", ["print", "back"])
def test_papers_that_lie_there_tell_their_side(project, tmp_path, side):
    assert side_of_papers(tmp_path) is None
    assert side_of_papers(tmp_path / "not made yet") is None
    write_papers(project, Pictures(), tmp_path, side)
    assert side_of_papers(tmp_path) == side


@pytest.mark.parametrize("table", [b"", b"piece,side\n", b"piece,side\nfront-1,left\n", b"a,b\n1,2\n", b"\xff\xfe\x00"])
def test_papers_of_another_kind_tell_no_side(tmp_path, table):
    (tmp_path / "placement.csv").write_bytes(table)
    assert side_of_papers(tmp_path) == "unknown"


def test_a_drawing_alone_counts_as_papers(tmp_path):
    (tmp_path / "placement.pdf").write_bytes(b"%PDF-")
    assert side_of_papers(tmp_path) == "unknown"
