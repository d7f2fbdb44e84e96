"""Flags of the command line: what each verb takes, read strictly, every fault in one sentence that names the flag."""

from __future__ import annotations

import argparse
import difflib
import textwrap
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from coverlayout.errors import BadInput, FileTrouble
from coverlayout.units import Least, parse_length

__all__ = [
    "JSON",
    "Flag",
    "Given",
    "Verb",
    "as_number",
    "one_length",
    "one_word",
    "read",
    "tell",
    "written",
]

Word = TypeVar("Word", bound=str)


@dataclass(frozen=True)
class Flag:
    """One flag: `like` shows a right value and is empty for a flag without one; only a few flags repeat."""

    name: str
    help: str
    like: str = ""
    repeats: bool = False


JSON = Flag("--json", "one JSON object on stdout, and nothing else there")


@dataclass(frozen=True)
class Given:
    """What was typed after a verb: the operand, and the values of each flag in their order."""

    operand: str
    values: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def has(self, name: str) -> bool:
        """True when the flag was given."""
        return name in self.values

    def one(self, name: str) -> str | None:
        """The flag's value, None when it was not given."""
        return self.values[name][-1] if name in self.values else None

    def all(self, name: str) -> tuple[str, ...]:
        """Every value of a flag that repeats, in order."""
        return self.values.get(name, ())

    def first_of(self, names: Sequence[str]) -> str | None:
        """The first of some flags that was given, None when none was."""
        return next((name for name in names if name in self.values), None)


@dataclass(frozen=True)
class Verb:
    """A verb of the command line: its operand (FILE or OUT), its flags, what it does; `run` answers the exit code.

    `headings` put flags under a heading of the help; those under none come first.
    """

    name: str
    operand: str
    summary: str
    flags: tuple[Flag, ...]
    run: Callable[[Given], int]
    headings: tuple[tuple[str, tuple[Flag, ...]], ...] = ()

    @property
    def like(self) -> str:
        """How the verb is typed, for sentences."""
        return f"coverlayout {self.name} {self.operand}"


def read(verb: Verb, words: Sequence[str], later: frozenset[str] = frozenset()) -> Given | None:
    """What was typed after the verb; None after `--help`, which is then shown.

    A value that begins with a minus is understood with and without `=`. `later` names flags that are not to be had yet.
    BadInput: a flag that is unknown, cut short, without its value, given twice; no operand or more than one.
    """
    if "--help" in words or "-h" in words:
        tell(_parser(verb).format_help().rstrip())
        return None
    operands, values = _sorted(verb, words, later)
    if len(operands) > 1:
        raise BadInput("operand-too-many", like=verb.like, found=_shown(operands))
    if not "".join(operands).strip():
        raise BadInput("operand-needed", like=verb.like)
    found: dict[str, list[str]] = {}
    for name, value in values:
        found.setdefault(name, []).append("" if value is None else value)
    return Given(operands[0], {name: tuple(given) for name, given in found.items()})


def _shown(operands: Sequence[str]) -> str:
    return " ".join(operands)[:60]


def _parser(verb: Verb) -> argparse.ArgumentParser:
    """The verb as argparse knows it, to write the help: it would take `-3%` for a flag and words its faults its way."""
    parser = argparse.ArgumentParser(
        prog=f"coverlayout {verb.name}",
        usage=f"{verb.like} [flags]",
        description=verb.summary,
        allow_abbrev=False,
        formatter_class=_wide,
    )
    parser.add_argument("operand", metavar=verb.operand)
    headed = {flag for _, flags in verb.headings for flag in flags}
    _tell_flags(parser, [flag for flag in verb.flags if flag not in headed])
    for heading, flags in verb.headings:
        _tell_flags(parser.add_argument_group(heading), flags)
    return parser


def _wide(prog: str) -> argparse.HelpFormatter:
    """Lines long enough for most flags to stand on one."""
    return argparse.RawDescriptionHelpFormatter(prog, max_help_position=36, width=118)


def _tell_flags(part: argparse._ActionsContainer, flags: Sequence[Flag]) -> None:
    for flag in flags:
        text = flag.help + (" (may be given several times)" if flag.repeats else "")
        if flag.like:
            # As it is typed: a value with blanks wants quotes.
            like = f'"{flag.like}"' if " " in flag.like else flag.like
            part.add_argument(flag.name, metavar=like, help=_percent(text))
        else:
            part.add_argument(flag.name, help=_percent(text), action="store_true")


def _percent(text: str) -> str:
    return text.replace("%", "%%")


def _sorted(verb: Verb, words: Sequence[str], later: frozenset[str]) -> tuple[list[str], list[tuple[str, str | None]]]:
    """Operands, and flags with their values in the order they were typed."""
    flags = {flag.name: flag for flag in verb.flags}
    operands: list[str] = []
    values: list[tuple[str, str | None]] = []
    rest = iter(words)
    for word in rest:
        if word == "--":
            operands += rest
        elif not word.startswith("-") or word == "-":
            operands.append(word)
        else:
            name, equals, value = word.partition("=")
            flag = _known(verb, flags, name, later)
            if any(seen == name for seen, _ in values) and not flag.repeats:
                raise BadInput("flag-twice", flag=name)
            values.append((name, _value(flag, value if equals else None, rest, flags)))
    return operands, values


def _known(verb: Verb, flags: Mapping[str, Flag], name: str, later: frozenset[str]) -> Flag:
    if name in flags:
        return flags[name]
    if name in later:
        raise BadInput("flag-later", flag=name)
    near = difflib.get_close_matches(name, flags, n=1, cutoff=0.6)
    if near:
        raise BadInput("flag-unknown-near", flag=name[:40], near=near[0])
    raise BadInput("flag-unknown", flag=name[:40], verb=verb.name)


def _value(flag: Flag, value: str | None, rest: Iterator[str], flags: Mapping[str, Flag]) -> str | None:
    """The flag's value: after its `=`, or the next word, unless that is a flag itself."""
    if not flag.like:
        if value is not None:
            raise BadInput("flag-takes-none", flag=flag.name)
        return None
    if value is None:
        value = next(rest, "")
        if value.partition("=")[0] in flags or value == "--":
            value = ""
    if not value.strip():
        raise BadInput("flag-needs-value", flag=flag.name, like=flag.like)
    return value


def one_word(given: Given, flag: str, words: tuple[Word, ...], usual: Word) -> Word:
    """The flag's word, `usual` when it was not given; BadInput for any other word."""
    text = given.one(flag)
    if text is None:
        return usual
    for word in words:
        if text.strip().lower() == word:
            return word
    raise BadInput("word-unknown", where=flag, found=text.strip()[:40], words=", ".join(words))


def one_length(given: Given, flag: str, usual_mm: float, least: Least = "0") -> float:
    """The flag's length in mm, `usual_mm` when it was not given; BadInput for no length or one below `least`."""
    text = given.one(flag)
    return usual_mm if text is None else parse_length(text, where=flag, like="3mm", least=least)


def as_number(text: str, *, flag: str, like: str, most: float, whole: bool = False) -> float:
    """A plain number above 0 and up to `most` (a count, seconds); BadInput naming the flag otherwise."""
    plain = text.strip()
    digits = plain if whole else plain.replace(".", "", 1)
    number = float(plain) if digits.isdecimal() and digits.isascii() and len(digits) < 12 else 0.0
    if not 0 < number <= most:
        raise BadInput("number-wrong", where=flag, found=text.strip()[:40], like=like, most=f"{most:.9g}")
    return number


def tell(text: str) -> None:
    """Write to stdout. FileTrouble when the disk refuses; a reader that went away stays a BrokenPipeError."""
    try:
        print(text, flush=True)
    except BrokenPipeError:
        raise
    except OSError as fault:
        raise FileTrouble("output-refused", why=fault.strerror or "") from fault


def written(verbs: Sequence[tuple[str, str]]) -> str:
    """The help of the whole command: how it is started, and each verb with what it does."""
    lines = ["usage: coverlayout [FILE]", "       coverlayout VERB ...", ""]
    lines += textwrap.wrap(
        "Lay a repeating print on cloth at true scale and cut hand-bound book covers from it. "
        "Without a verb the window opens, with a project if one is named.",
        width=100,
    )
    lines += ["", "verbs:", *(f"  {name:<8}{summary}" for name, summary in verbs), ""]
    lines += ["`coverlayout VERB --help` tells the flags of a verb."]
    return "\n".join(lines)
