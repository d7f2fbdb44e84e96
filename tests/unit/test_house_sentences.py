"""Every code that the program says has one sentence with its figures, and every sentence is said somewhere."""

from __future__ import annotations

import ast
import re
import string
import tomllib
from collections import Counter
from collections.abc import Iterator
from functools import cache

from source_tree import ROOT, Module, modules

SPEAKERS = {"BadInput", "FileTrouble", "CoverlayoutError", "Remark", "Remark.of", "sentence"}
TABLE = tomllib.loads((ROOT / "resources/sentences/english.toml").read_text(encoding="utf-8"))
SENTENCES = {code: words for area in TABLE.values() for code, words in area.items()}


def said_in(module: Module) -> Iterator[tuple[ast.Call, ast.expr]]:
    """Every call that says a code, with the expressions that may be the code."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Call) and node.args and ast.unparse(node.func).removeprefix("errors.") in SPEAKERS:
            code = node.args[0]
            yield from (
                (node, choice) for choice in ([code.body, code.orelse] if isinstance(code, ast.IfExp) else [code])
            )


def pattern(code: ast.expr) -> str | None:
    """What the code looks like: itself, a pattern where a part is filled in, None where it comes from elsewhere."""
    if isinstance(code, ast.Constant) and isinstance(code.value, str):
        return re.escape(code.value)
    if isinstance(code, ast.JoinedStr):
        return "".join(re.escape(str(part.value)) if isinstance(part, ast.Constant) else ".+" for part in code.values)
    return None


@cache
def all_said() -> list[tuple[Module, ast.Call, ast.expr, str | None]]:
    return [(module, call, code, pattern(code)) for module in modules() for call, code in said_in(module)]


def figures_of(words: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(words) if name}


def test_codes_are_unique_and_in_plain_form() -> None:
    count = Counter(code for area in TABLE.values() for code in area)
    assert [code for code, number in count.items() if number > 1] == []
    assert [code for code in SENTENCES if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", code)] == []


def test_sentences_are_one_plain_line() -> None:
    odd = [code for code, words in SENTENCES.items() if not words.strip() or "\n" in words or words != words.strip()]
    assert odd == []


def test_every_code_has_its_sentence() -> None:
    lines = [
        f"{module.path}:{call.lineno} {ast.unparse(code)} has no sentence"
        for module, call, code, like in all_said()
        if like is not None and not any(re.fullmatch(like, known) for known in SENTENCES)
    ]
    assert not lines, "\n" + "\n".join(lines)


def test_every_sentence_gets_its_figures() -> None:
    lines = []
    for module, call, code, _ in all_said():
        given = {keyword.arg for keyword in call.keywords}
        if not isinstance(code, ast.Constant) or code.value not in SENTENCES or None in given:
            continue
        lacking = figures_of(SENTENCES[code.value]) - given
        if lacking and ast.unparse(call.func) not in ("Remark", "sentence"):
            lines.append(f"{module.path}:{call.lineno} {code.value} is said without {', '.join(sorted(lacking))}")
    assert not lines, "\n" + "\n".join(lines)


def test_every_sentence_is_said_somewhere() -> None:
    constants = {
        node.value
        for module in modules()
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    filled_in = [node for module in modules() for node in ast.walk(module.tree) if isinstance(node, ast.JoinedStr)]
    patterns = [like for like in map(pattern, filled_in) if like and re.match(r"[a-z]\w*\\-", like)]
    endings = {
        like.removeprefix(".+").replace("\\", "") for like in map(pattern, filled_in) if like and like[:4] == ".+\\-"
    }
    endings |= {ending for ending in constants if re.fullmatch(r"(-[a-z]+)+", ending)}

    def is_said(code: str) -> bool:
        """As it stands, by a pattern, or as another code that is said with an ending put to it."""
        if code in constants or any(re.fullmatch(like, code) for like in patterns):
            return True
        return any(is_said(code.removesuffix(ending)) for ending in endings if code.endswith(ending))

    assert [code for code in SENTENCES if not is_said(code)] == []
