"""`new`: what the flags make, what disagrees, what is refused; nothing is written unless all of it is right."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from PIL import Image

from coverlayout.app.command_line import main
from coverlayout.book.book import TurnIns
from coverlayout.document.file import load
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces

BOOK = ("--structure", "separate-boards", "--page", "4.5x6in")
CLOTH = ("--cloth", "12x12in")


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Image.new("RGB", (756, 1134), "wheat").save("birds.png", dpi=(300, 300))
    Image.new("RGB", (60, 90), "wheat").save("plain.png")
    return tmp_path


def made(*words: str) -> Project:
    assert main(["new", "a.coverlayout", "--replace", *words]) == 0
    return load(Path("a.coverlayout")).project


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    capsys.readouterr()
    assert main(["new", "z.coverlayout", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert "fault of its own" not in err
    assert not Path("z.coverlayout").exists()
    assert not list(Path().glob("*.tmp*"))
    return err.strip()


def test_a_book_on_a_swatch(bench: Path) -> None:
    project = made(*CLOTH, *BOOK, "--turn-in", "15mm", "--liner-inset", "3mm", "--liner-turns", "quarter")
    # Common practice, no source: boards as large as the page, 15 mm turn-in, liners inset 3 mm.
    sizes = {piece.id: (piece.width_mm, piece.height_mm) for piece in planned_pieces(project)}
    assert sizes["front-1"] == pytest.approx((144.3, 182.4))
    assert sizes["liner-back-1"] == pytest.approx((108.3, 146.4))
    (cloth,) = project.cloths
    assert (cloth.width_mm, cloth.length_mm, cloth.state, cloth.doubt) == (304.8, 304.8, "measured", 0.0)
    assert project.name == "a"
    assert project.rules.spare_wish_mm == 6.0


def test_figures_that_are_not_given_are_the_usual_ones(bench: Path) -> None:
    (book,) = made(*CLOTH, *BOOK).books
    assert (book.board_thickness_mm, book.liner_inset_mm, book.square_mm, book.liners) == (2.0, 3.0, None, "cloth")
    assert book.turn_ins == TurnIns.all_round(15.0)
    assert book.cover_turns is None


def test_four_turn_ins_volumes_and_own_pieces(bench: Path) -> None:
    project = made(
        *CLOTH,
        *("--structure", "separate-boards", "--block", "6x9x1in", "--volumes", "12mm 18mm", "--opens", "right"),
        *("--turn-in", "15x16x20x18mm", "--board-setback", "2mm", "--square", "3mm", "--liners", "paper"),
        *("--piece", "name=pocket size=4 1/2 in x 90mm count=2 turns=quarter", "--piece", "size=10x20mm name=label"),
        *("--gap", "1/8 in", "--spare", "4mm", "--cover-turns", "half", "--board-thickness", "3mm"),
    )
    (book,) = project.books
    assert book.block_mm == pytest.approx((152.4, 228.6, 25.4))
    assert book.turn_ins == TurnIns(15.0, 16.0, 20.0, 18.0)
    assert [(volume.number, volume.thickness_mm) for volume in book.volumes] == [(1, 12.0), (2, 18.0)]
    assert (book.board_setback_mm, book.square_mm, book.opens, book.board_thickness_mm) == (2.0, 3.0, "right", 3.0)
    assert (book.cover_turns, book.liners) == ("half", "paper")
    pocket, label = project.own_pieces
    assert (pocket.width_mm, pocket.height_mm, pocket.count, pocket.turns) == (114.3, 90.0, 2, "quarter")
    assert (label.name, label.turns) == ("label", None)
    assert (project.rules.gap_mm, project.rules.spare_wish_mm) == (3.175, 4.0)
    assert project.next_volume_number == 3


def test_the_cloth_has_its_strips_changes_and_flaws(bench: Path) -> None:
    (cloth,) = made(
        *("--cloth", "30x40cm", "--trim", "3mm", "--selvedge", "10mm", "--web-short", "2mm", "--doubt", "1.5%"),
        *("--state", "to-order", "--outline", "0,0 300,0 280,400 0,400 mm"),
        *("--change", "-3%x-1.5%", "--change=2%", "--flaw", "70,30 95,36 80,55 mm"),
        *("--flaw-if-seen", "1,1 2,1 2,2 in", *BOOK),
    ).cloths
    assert (cloth.trim_mm, cloth.selvedge_left_mm, cloth.selvedge_right_mm, cloth.web_short_mm) == (
        3.0,
        10.0,
        10.0,
        2.0,
    )
    assert (cloth.state, cloth.doubt) == ("to-order", 1.5)
    assert cloth.outline_mm == ((0.0, 0.0), (300.0, 0.0), (280.0, 400.0), (0.0, 400.0))
    assert [(c.across_percent, c.along_percent) for c in cloth.changes] == [(-3.0, -1.5), (2.0, 2.0)]
    assert [flaw.fine_where_hidden for flaw in cloth.flaws] == [False, True]
    assert cloth.flaws[1].points_mm == ((25.4, 25.4), (50.8, 25.4), (50.8, 50.8))


def test_a_cut_off_the_ladder_is_still_to_buy(bench: Path) -> None:
    project = made("--cloth", "fat quarter, 44in", "--repeat", "64x96mm", *BOOK)
    (cloth,) = project.cloths
    assert (cloth.width_mm, cloth.length_mm, cloth.state, cloth.doubt) == (558.8, 457.2, "to-buy", 1.0)
    assert cloth.cut_name == "fat quarter, 44 in"
    assert cloth.laid is not None
    assert not cloth.laid.origin_known
    (known,) = made("--cloth", "fat quarter, 44in", "--repeat", "64x96mm", "--print-origin", "12,5mm", *BOOK).cloths
    assert known.laid is not None
    assert known.laid.origin_known


def test_a_print_by_its_typed_size_and_layout(bench: Path) -> None:
    project = made(
        *(*CLOTH, "--print", "plain.png", "--repeat", "64x96mm", "--layout", "half-drop", "--up", "two-way"),
        *("--print-origin", "12,5mm", "--print-turn", "-2deg", *BOOK),
    )
    (a_print,) = project.prints
    assert (a_print.lattice.a_mm, a_print.lattice.b_mm) == ((64.0, 48.0), (0.0, 96.0))
    assert (a_print.name, a_print.tile_mm, a_print.size_from, a_print.up) == ("plain", (64.0, 96.0), "typed", "two-way")
    laid = project.cloths[0].laid
    assert laid is not None
    assert (laid.origin_mm, laid.turn_deg, laid.origin_known) == ((12.0, 5.0), -2.0, True)
    assert a_print.picture is not None
    assert load(Path("a.coverlayout")).pictures[a_print.picture.sha256] == Path("plain.png").read_bytes()


def test_a_print_by_the_pictures_own_resolution(bench: Path) -> None:
    (a_print,) = made(*CLOTH, "--print", "birds.png", *BOOK).prints
    assert a_print.size_from == "file"
    assert a_print.tile_mm == pytest.approx((64.0, 96.0), abs=0.02)


def test_vectors_with_and_without_a_picture(bench: Path) -> None:
    (bare,) = made(*CLOTH, "--vectors", "64,48 0,96 mm", *BOOK).prints
    assert (bare.layout, bare.tile_mm, bare.lattice.b_mm) == ("vectors", None, (0.0, 96.0))
    (stripes,) = made(*CLOTH, "--vectors", "12,0 mm", *BOOK).prints
    assert stripes.lattice.b_mm is None
    (with_size,) = made(*CLOTH, "--repeat", "64x96mm", "--vectors", "64,20 0,96 mm", *BOOK).prints
    assert (with_size.tile_mm, with_size.lattice.a_mm) == ((64.0, 96.0), (64.0, 20.0))


def test_a_cloth_typed_with_warp_and_weft_swapped_gets_a_note(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made("--cloth", "18x22in", *BOOK)
    assert "swapped" in capsys.readouterr().out
    made("--cloth", "22x18in", *BOOK, "--json")
    assert json.loads(capsys.readouterr().out)["notes"] == []


def test_what_is_odd_about_a_job_is_said_when_it_is_made(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(*CLOTH, *BOOK, "--trim", "160mm", "--turn-in", "1mm", "--print", "plain.png", "--repeat", "96x64mm", "--json")
    notes = " ".join(json.loads(capsys.readouterr().out)["notes"])
    # 60 x 90 px printed 96 x 64 mm: 1.6 mm a pixel across, 0.711 along, so 125 % too wide.
    assert "125 % too wide" in notes
    assert "does not reach round" in notes
    assert "leave nothing of this cloth" in notes


def test_a_size_may_begin_with_a_fraction_sign_and_a_thickness_hold_one(bench: Path) -> None:
    (cloth,) = made("--cloth", "½yd x 44in", *BOOK).cloths
    assert (cloth.width_mm, cloth.length_mm) == (457.2, pytest.approx(1117.6))
    (book,) = made(*BOOK, "--volumes", "1 1/2in 2in 18").books
    assert [volume.thickness_mm for volume in book.volumes] == pytest.approx([38.1, 50.8, 18.0])


def test_a_field_of_a_job_file_that_is_not_known_is_said(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("job.json").write_text(json.dumps({**JOB, "colour": "red"}), "utf-8")
    made("--job", "job.json", "--json")
    (note,) = json.loads(capsys.readouterr().out)["notes"]
    assert note.startswith("job.json, colour")


@pytest.mark.parametrize("out", ["", " "])
def test_a_name_of_nothing_is_no_name(out: str, bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", out, *CLOTH]) == 2
    assert "the file is missing" in capsys.readouterr().err


def test_a_folder_is_told_by_the_name_it_was_typed_with(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", ".", "--replace", *CLOTH]) == 2
    assert capsys.readouterr().err.startswith(". was not saved")


def test_a_name_too_long_for_any_disk_is_one_sentence(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "x" * 300, *CLOTH]) == 2
    err = capsys.readouterr().err
    assert "was not saved" in err
    assert len(err) < 300


def test_signs_that_steer_a_terminal_have_no_place_in_a_name(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = refused(capsys, *CLOTH, "--piece", "name=a\x1b[31mb size=10x20mm")
    assert "a letter that cannot be written down" in said
    assert "\x1b" not in said


def test_json_is_one_object_and_nothing_else(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(*CLOTH, *BOOK, "--json")
    record = json.loads(capsys.readouterr().out)
    assert record["file"] == "a.coverlayout"
    assert record["pieces"][0] == {"piece": "front-1", "width_mm": 144.3, "height_mm": 182.4, "turns": "half"}


def test_a_cloth_alone_or_a_book_alone_is_a_project(bench: Path) -> None:
    assert made(*CLOTH).books == ()
    assert made(*BOOK).cloths == ()
    assert made("--piece", "name=pocket size=60x90mm").own_pieces[0].piece_ids == ("pocket-1",)
    assert made("--repeat", "64x96mm").prints[0].name == "Print"


JOB = {
    "format": "packing-instance-1",
    "id": "two-and-a-flaw",
    "family": "own",
    "question": "lay",
    "cloth": {"width_mm": 300, "length_mm": 272},
    "gap_mm": 0,
    "edge_mm": 0,
    "pieces": [{"id": "front", "width_mm": 126, "height_mm": 163, "turns": [0]}],
    "keep_outs": [{"name": "crease", "outline_mm": [[126, 0], [131, 0], [131, 272], [126, 272]]}],
}


def test_a_job_file_makes_a_project(bench: Path) -> None:
    Path("job.json").write_text(json.dumps(JOB), "utf-8")
    project = made("--job", "job.json")
    assert [piece.id for piece in planned_pieces(project)] == ["front"]
    assert project.cloths[0].flaws[0].name == "crease"


def test_nothing_is_written_over_by_mistake(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(*CLOTH, *BOOK)
    before = Path("a.coverlayout").read_bytes()
    capsys.readouterr()
    assert main(["new", "a.coverlayout", *CLOTH]) == 2
    assert "--replace" in capsys.readouterr().err
    assert Path("a.coverlayout").read_bytes() == before
    assert main(["new", "birds.png", "--replace", *CLOTH, "--print", "birds.png"]) == 2
    assert "--print" in capsys.readouterr().err
    with Image.open("birds.png") as picture:
        assert picture.width == 756


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (("--cloth", "0x12in", *BOOK), "--cloth 0"),
        (("--cloth", "-3x12in", *BOOK), "--cloth -3"),
        (("--cloth", "nanx12in", *BOOK), "--cloth nanx12in"),
        (("--cloth", "1e9x12mm", *BOOK), "--cloth 1e9"),
        (("--cloth", "1000000000x12mm", *BOOK), "--cloth 1000000000"),
        (("--cloth", "fat quarter", *BOOK), "say the width of the cloth too"),
        (("--cloth", "thin quarter", *BOOK), "--cloth thin quarter"),
        ((*CLOTH, "--structure", "separate-boards", "--page", "0x6in"), "--page 0"),
        ((*CLOTH, "--structure", "separate-boards", "--page", "inf x 6in"), "--page"),
        ((*CLOTH, *BOOK, "--turn-in", "-1mm"), "--turn-in -1mm"),
        ((*CLOTH, *BOOK, "--turn-in", "1x2x3mm"), "--turn-in"),
        ((*CLOTH, *BOOK, "--change", "-120%"), "--change -120%"),
        ((*CLOTH, *BOOK, "--change", "nan%"), "--change"),
        ((*CLOTH, *BOOK, "--doubt", "100%"), "--doubt"),
        ((*CLOTH, *BOOK, "--flaw", "0,0 10,10 mm"), "--flaw"),
        ((*CLOTH, *BOOK, "--flaw-if-seen", "900,900 910,910 910,900 mm"), "--flaw-if-seen"),
        ((*CLOTH, "--outline", "0,0 900,0 900,900 mm", *BOOK), "--outline"),
        ((*CLOTH, "--outline", "20,0 300,0 280,200 mm", *BOOK), "20 mm from the left"),
        ((*CLOTH, "--outline", "0,9 300,9 280,200 mm", *BOOK), "9 mm from the top"),
        ((*CLOTH, "--change", "-3x", *BOOK), "--change -3x:"),
        ((*CLOTH, "--state", "lost", *BOOK), "--state lost"),
        (("--trim", "3mm", *BOOK), "--trim needs --cloth"),
        (("--print-turn", "2deg", "--repeat", "3x4mm"), "--print-turn needs --cloth"),
        ((*CLOTH, "--up", "any", *BOOK), "--up needs --print"),
        ((*CLOTH, "--repeat", "64x96mm", "--up", "down"), "--up down"),
        ((*CLOTH, "--repeat", "64x96mm", "--layout", "brick", "--vectors", "1,0 0,1 mm"), "--layout and --vectors"),
        ((*CLOTH, "--repeat", "64x96mm", "--print-turn", "700deg"), "--print-turn"),
        ((*CLOTH, "--repeat", "64x96mm", "--print-origin", "1,2 3,4 mm"), "--print-origin"),
        ((*CLOTH, "--vectors", "64,48 128,96 mm"), "--vectors"),
        ((*CLOTH, "--print", "plain.png"), "--repeat"),
        ((*CLOTH, "--print", "none.png"), "--print none.png"),
        ((*CLOTH, "--print", "cut.png", "--repeat", "3x4mm"), "cut.png"),
        ((*CLOTH, *BOOK, "--board-size", "5x6in"), "--page and --board-size"),
        ((*CLOTH, "--page", "4x5in"), "--page needs --structure"),
        ((*CLOTH, "--structure", "separate-boards"), "--page"),
        ((*CLOTH, "--structure", "flat-case", "--page", "4x5in"), "thickness is needed"),
        ((*CLOTH, "--structure", "origami", "--page", "4x5in"), "--structure origami"),
        ((*CLOTH, *BOOK, "--joint", "7mm"), "--joint"),
        ((*CLOTH, *BOOK, "--books", "0"), "--books 0"),
        ((*CLOTH, *BOOK, "--books", "2.5"), "--books 2.5"),
        ((*CLOTH, *BOOK, "--books", "2", "--volumes", "12mm"), "--books and --volumes"),
        ((*CLOTH, *BOOK, "--volumes", "12mm " * 600), "--volumes"),
        ((*CLOTH, *BOOK, "--volumes", "12mm -3mm"), "--volumes -3mm"),
        ((*CLOTH, *BOOK, "--wish", "bird in the middle of front"), "--wish"),
        ((*CLOTH, *BOOK, "--piece", "pocket 60x90"), "--piece"),
        ((*CLOTH, *BOOK, "--piece", "name=pocket"), "--piece"),
        ((*CLOTH, *BOOK, "--piece", "name=a size=3x4mm colour=red"), "--piece"),
        ((*CLOTH, *BOOK, "--piece", "name=a size=0x4mm"), "--piece size"),
        ((*CLOTH, *BOOK, "--piece", "name=a size=3x4mm turns=twice"), "--piece turns"),
        ((*CLOTH, *BOOK, "--piece", "name=a size=3x4mm", "--piece", "name=a size=5x5mm"), "twice"),
        ((*CLOTH, *BOOK, "--piece", "name=front size=3x4mm"), "front-1"),
        ((*CLOTH, *BOOK, "--liner-inset", "80mm"), "--liner-inset"),
        ((*CLOTH, *BOOK, "--liners", "paper", "--liner-turns", "quarter"), "--liner-turns"),
        ((*CLOTH, *BOOK, "--cover-turns", "free"), "--cover-turns free"),
        ((*CLOTH, *BOOK, "--gap", "-1mm"), "--gap"),
        ((*CLOTH, *BOOK, "--spare", "nan"), "--spare nan"),
        (("--job", "none.json"), "--job none.json"),
        (("--job", "cut.png"), "cut.png"),
        (("--job", "none.json", *CLOTH), "--job and --cloth"),
        ((), "nothing to make"),
        (("--json",), "nothing to make"),
    ],
)
def test_what_cannot_be_is_told_in_one_sentence_and_nothing_is_written(
    words: tuple[str, ...], named: str, bench: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("cut.png").write_bytes(Path("birds.png").read_bytes()[:200])
    assert named in refused(capsys, *words)


def test_a_folder_that_may_not_be_written_or_is_not_there(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "no/such/folder.coverlayout", *CLOTH]) == 2
    assert "folder" in capsys.readouterr().err
    Path("taken.coverlayout").mkdir()
    assert main(["new", "taken.coverlayout", "--replace", *CLOTH]) == 2
    assert "taken.coverlayout" in capsys.readouterr().err
    huge = Path("huge.json")
    with huge.open("wb") as file:
        file.truncate((16 << 20) + 1)
    assert main(["new", "b.coverlayout", "--job", "huge.json"]) == 2
    assert "huge.json" in capsys.readouterr().err


def test_a_wish_in_words_is_kept_and_obeyed(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = (*CLOTH, *BOOK, "--liners", "paper", "--wish", "back the same as front")
    project = made(*words, "--repeat", "50x50mm")
    assert [link.pieces for link in project.links] == [("front-1", "back-1")]
    capsys.readouterr()
    assert main(["lay", "a.coverlayout", "--json", "--save", "laid.coverlayout"]) == 0
    lies = {piece["piece"]: piece for piece in json.loads(capsys.readouterr().out)["pieces"]}
    for side in ("x_mm", "y_mm"):
        apart = (lies["back-1"][side] - lies["front-1"][side]) / 50.0
        assert apart == pytest.approx(round(apart), abs=0.001), "whole repeats apart"
    assert main(["check", "laid.coverlayout"]) == 0
    # Common practice, no source: covers 144.3 wide, so two repeats of 64 mm are too few and three too many for 12 in.
    made(*words, "--repeat", "64x200mm")
    assert main(["lay", "a.coverlayout"]) == 3


def test_a_wish_that_is_not_understood_says_which_are(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = refused(capsys, *CLOTH, *BOOK, "--repeat", "50x50mm", "--wish", "bird in the middle of front")
    assert "back the same as front" in told
    assert "all volumes alike" in told
    assert "no print lies" in refused(capsys, *CLOTH, *BOOK, "--wish", "back the same as front")


def test_a_print_may_look_alike_about_a_place_when_turned(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = (*CLOTH, *BOOK, "--repeat", "64x96mm")
    (a_print,) = made(*words, "--up", "two-way", "--alike-about", "16,24mm").prints
    assert a_print.alike_about_mm == (16.0, 24.0)
    assert "--up two-way" in refused(capsys, *words, "--alike-about", "16,24mm")
    assert "--alike-about" in refused(capsys, *words, "--up", "any", "--alike-about", "16,24 3,4 mm")
