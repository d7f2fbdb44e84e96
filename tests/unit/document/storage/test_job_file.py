"""Reading a job file: whole records, or one sentence that names the file and the place."""

import pytest

from coverlayout.document.storage.job_file import ignored_fields, read_job_file
from coverlayout.errors import BadInput

HEAD = b'{"format": "packing-instance-1", "cloth": {"width_mm": 100, "length_mm": 50}'


def test_what_is_not_said_is_nothing_asked() -> None:
    job = read_job_file(HEAD + b"}", "job.json")
    assert (job.question, job.gap_mm, job.edge_mm, job.pieces, job.book) == ("lay", 0.0, 0.0, [], None)


def test_a_piece_stands_upright_unless_it_may_turn() -> None:
    job = read_job_file(HEAD + b', "pieces": [{"id": "a", "width_mm": 1, "height_mm": 2}]}', "job.json")
    assert job.pieces[0].turns == [0.0]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "must be JSON"),
        (b"{", "must be JSON"),
        (b"\xff\xfe\x00", "must be JSON"),
        (HEAD + b', "gap_mm": NaN}', "must be JSON"),
        (HEAD + b', "gap_mm": Infinity}', "must be JSON"),
        (HEAD + b', "gap_mm": 1e999}', "gap_mm: number out of range"),
        (HEAD + b', "gap_mm": "2"}', "gap_mm: expected a number, found text in quotes"),
        (HEAD + b', "gap_mm": null}', "gap_mm: expected a number, found nothing"),
        (HEAD + b', "pieces": {}}', "pieces: expected a list, found a group of fields"),
        (HEAD + b', "pieces": [{"width_mm": 3}]}', "pieces[0]: there must be a field id"),
        (HEAD + b', "pieces": [{"id": "a", "board_mm": [1, 2]}]}', "pieces[0].board_mm: expected a list of length 4"),
        (HEAD + b', "question": "guess"}', "question: invalid enum value 'guess'"),
        (b'{"format": "packing-instance-2", "cloth": {"width_mm": 1}}', "format: invalid enum value"),
        (b"[]", "the file: expected a group of fields, found a list"),
        (HEAD + b', "deep": ' + b"[" * 100_000 + b"]" * 100_000 + b"}", "nested too deep"),
        (HEAD + b', "long": "' + b"x" * 4_000_000 + b'"}', "never this large"),
    ],
)
def test_each_fault_is_one_sentence_naming_the_file(data: bytes, words: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_job_file(data, "job.json")
    said = str(caught.value)
    assert said.startswith("job.json")
    assert words in said
    assert "`" not in said
    assert "\n" not in said


def test_fields_that_are_not_known_are_told_one_by_one() -> None:
    data = (
        HEAD[:-1]
        + b', "grain": 1}, "family": "own", "source": "own", "colour": 2,'
        + b'"pieces": [{"id": "a"}, {"id": "b", "gap": 3}],'
        + b'"prints": {"A": {"a_mm": [1, 0], "dye": 1}}, "phase_links": [{"pieces": [], "odd": 1}],'
        + b'"keep_outs": [{"outline_mm": [], "why": 1}], "zones": [{"print": "A", "outline_mm": [], "kind": 1}],'
        + b'"book": {"board_mm": [1, 2], "cloth": 1, "pieces": [{"name": "c", "count": 1, "grow_mm": 0, "fold": 1}]}}'
    )
    read_job_file(data, "job.json")
    assert [dict(note.figures)["path"] for note in ignored_fields(data, "job.json")] == [
        "colour",
        "cloth.grain",
        "pieces[1].gap",
        "prints.A.dye",
        "phase_links[0].odd",
        "keep_outs[0].why",
        "zones[0].kind",
        "book.cloth",
        "book.pieces[0].fold",
    ]
    assert ignored_fields(HEAD + b"}", "job.json") == ()


def test_the_whole_file_is_bounded_when_looking_for_fields_too() -> None:
    with pytest.raises(BadInput, match="nested too deep"):
        ignored_fields(HEAD + b', "deep": ' + b"[" * 100_000 + b"]" * 100_000 + b"}", "job.json")


@pytest.mark.parametrize("question", ["least_length", "largest", "count"])
def test_a_question_that_is_not_answered_yet_is_said(question: str) -> None:
    (note,) = ignored_fields(HEAD + f', "question": "{question}"}}'.encode(), "job.json")
    assert f"asks {question}" in note.text()
    assert ignored_fields(HEAD + b', "question": "room"}', "job.json") == ()
