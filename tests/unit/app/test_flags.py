"""Flags are read strictly: what is typed wrong is named, and what would be right is said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.app.flags import JSON, Flag, Given, Verb, as_number, one_length, one_word, read, written
from coverlayout.errors import BadInput

VERB = Verb(
    "lay",
    "FILE",
    "Lay things, 100 % of them.",
    (Flag("--gap", "least distance, from 0 %", "3mm"), Flag("--flaw", "a flaw", "0,0 1,0 0,1 mm", repeats=True), JSON),
    lambda _given: 0,
)


def given(*words: str) -> Given:
    found = read(VERB, words, frozenset(["--wish"]))
    assert found is not None
    return found


def fault(*words: str) -> BadInput:
    with pytest.raises(BadInput) as caught:
        read(VERB, words, frozenset(["--wish"]))
    assert "\n" not in str(caught.value)
    return caught.value


def test_values_come_with_and_without_an_equals_sign() -> None:
    for words in (("--gap", "3mm", "a"), ("--gap=3mm", "a"), ("a", "--gap", "3mm")):
        assert given(*words).one("--gap") == "3mm"
        assert given(*words).operand == "a"


def test_a_value_may_begin_with_a_minus() -> None:
    assert given("a", "--gap", "-3mm").one("--gap") == "-3mm"
    assert given("a", "--gap=-3%x-1.5%").one("--gap") == "-3%x-1.5%"
    assert given("--gap", "-3", "a").operand == "a"


def test_a_file_that_begins_with_a_minus_comes_after_two() -> None:
    assert given("--json", "--", "-a").operand == "-a"
    assert given("-").operand == "-"


def test_only_listed_flags_repeat() -> None:
    found = given("a", "--flaw", "x", "--flaw=y")
    assert found.all("--flaw") == ("x", "y")
    assert found.all("--gap") == ()
    assert fault("a", "--gap", "1", "--gap", "2").code == "flag-twice"
    assert fault("a", "--json", "--json").code == "flag-twice"


@pytest.mark.parametrize(
    ("words", "code", "named"),
    [
        (("a", "--gap"), "flag-needs-value", "--gap"),
        (("a", "--gap="), "flag-needs-value", "--gap 3mm"),
        (("a", "--gap", "--json"), "flag-needs-value", "--gap"),
        (("a", "--gap", "--", "b"), "flag-needs-value", "--gap"),
        (("a", "--ga", "3mm"), "flag-unknown-near", "--gap"),
        (("a", "--js"), "flag-unknown-near", "--json"),
        (("a", "--zebra"), "flag-unknown", "--zebra"),
        (("a", "-x"), "flag-unknown", "-x"),
        (("a", "--wish", "birds"), "flag-later", "--wish"),
        (("a", "--json=yes"), "flag-takes-none", "--json"),
        ((), "operand-needed", "coverlayout lay FILE"),
        (("a", "b"), "operand-too-many", "a b"),
    ],
)
def test_what_is_typed_wrong_is_named(words: tuple[str, ...], code: str, named: str) -> None:
    found = fault(*words)
    assert found.code == code
    assert named in str(found)


def test_help_tells_every_flag(capsys: pytest.CaptureFixture[str]) -> None:
    assert read(VERB, ["--help"]) is None
    shown = capsys.readouterr().out
    for word in ("coverlayout lay FILE", "--gap 3mm", "from 0 %", "several times", "--json", "100 %"):
        assert word in shown
    assert read(VERB, ["-h"]) is None


def test_flags_stand_under_their_headings(capsys: pytest.CaptureFixture[str]) -> None:
    flaw = VERB.flags[1]
    assert read(replace(VERB, headings=(("the cloth", (flaw,)),)), ["--help"]) is None
    before, after = capsys.readouterr().out.split("the cloth:")
    assert "--gap 3mm" in before
    assert "--json" in before
    # As it is typed: in quotes where there are blanks.
    assert '--flaw "0,0 1,0 0,1 mm"' in after
    assert "--gap" not in after


def test_the_help_of_the_command_tells_every_verb() -> None:
    assert "lay     place everything" in written([("lay", "place everything")])


def test_what_was_given_can_be_asked_for() -> None:
    found = given("a", "--json", "--gap", "3mm")
    assert found.has("--json")
    assert found.one("--json") == ""
    assert not found.has("--flaw")
    assert found.one("--flaw") is None
    assert found.first_of(["--flaw", "--gap", "--json"]) == "--gap"
    assert found.first_of(["--flaw"]) is None
    assert Given("x").values == {}


def test_a_number_is_above_nothing_and_not_beyond_the_most() -> None:
    assert as_number("2.5", flag="--seconds", like="10", most=100) == 2.5
    assert as_number(" 2 ", flag="--books", like="2", most=100, whole=True) == 2
    for text in ("0", "-1", "nan", "inf", "1e3", "101", "", "x", "٣", "1" * 30):
        with pytest.raises(BadInput) as caught:
            as_number(text, flag="--seconds", like="10", most=100)
        assert caught.value.code == "number-wrong"
    with pytest.raises(BadInput):
        as_number("2.5", flag="--books", like="2", most=100, whole=True)


def test_a_word_is_one_of_those_listed() -> None:
    side = Given("a", {"--side": ("Back",)})
    assert one_word(side, "--side", ("print", "back"), "print") == "back"
    assert one_word(Given("a"), "--side", ("print", "back"), "print") == "print"
    with pytest.raises(BadInput) as caught:
        one_word(side, "--side", ("left", "right"), "left")
    assert "left, right" in str(caught.value)


def test_a_length_is_read_or_usual() -> None:
    assert one_length(Given("a", {"--gap": ("1in",)}), "--gap", 0.0) == 25.4
    assert one_length(Given("a"), "--gap", 7.0) == 7.0
    with pytest.raises(BadInput):
        one_length(Given("a", {"--gap": ("-1",)}), "--gap", 0.0)
