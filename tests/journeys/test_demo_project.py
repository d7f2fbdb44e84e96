"""The demo is what its generator makes, and it runs to the end without a window."""

from __future__ import annotations

import runpy
from dataclasses import replace
from pathlib import Path

import pytest

from coverlayout.app import demo
from coverlayout.document.file import load
from coverlayout.document.session import Session
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

SAMPLES = Path(__file__).parents[2] / "sample_prints"


def test_the_demo_project_is_what_its_generator_makes():
    session = Session()
    runpy.run_path(str(SAMPLES / "make_demo.py"))["make"](session)
    opened = load(SAMPLES / "salt-works.coverlayout")
    made, kept = session.project.layout.placements, opened.project.layout.placements
    assert [(place.piece, place.cloth, place.turn_deg) for place in made] == [
        (place.piece, place.cloth, place.turn_deg) for place in kept
    ]
    # Another processor may round the last digits of a search otherwise.
    assert [(place.x_mm, place.y_mm) for place in made] == [
        pytest.approx((place.x_mm, place.y_mm), abs=SAME_LENGTH_MM) for place in kept
    ]
    assert replace(opened.project, layouts=()) == replace(session.project, layouts=())
    assert dict(opened.pictures) == dict(session.pictures)


def test_the_demo_lays_out_writes_its_papers_and_says_where(tmp_path, capsys):
    assert demo.main([str(SAMPLES / "salt-works.coverlayout"), str(tmp_path)]) == 0
    said = capsys.readouterr().out
    for path in ("print/placement.csv", "print/placement.pdf", "back/placement.csv", "back/placement.pdf", "cloth.png"):
        assert (tmp_path / path).stat().st_size > 500
        assert str(tmp_path / path) in said
    assert "Verdict: fits" in said
    assert len((tmp_path / "print/placement.csv").read_text().splitlines()) == 21


def test_a_demo_that_is_not_there_is_one_sentence(tmp_path, capsys):
    assert demo.main([str(tmp_path / "none.coverlayout"), str(tmp_path)]) == 2
    fault = capsys.readouterr().err
    assert fault.count("\n") == 1
    assert "Traceback" not in fault
