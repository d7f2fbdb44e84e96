"""Finding actions by words: in any order, in any case, with small slips, and by other words for the same thing."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cached_property

from coverlayout.ui.keyboard.synonyms import SYNONYMS

__all__ = ["Sought", "found", "plain"]

# Words that carry no meaning in a question such as "how do I turn the cloth".
_SMALL_WORDS = frozenset(
    ("a", "an", "and", "by", "can", "do", "for", "from", "how", "i", "is", "it", "me", "my", "of", "the", "to")
)
# How good a match is: the word itself, its beginning, another word for it, within a word, a slip of the fingers.
_ITSELF, _BEGINNING, _MEANING, _WITHIN, _SLIP = 1.0, 0.85, 0.6, 0.5, 0.4
# Shorter pieces of words, or words with more slips than that, would match almost anything.
_LEAST_LETTERS, _LEAST_LIKENESS = 4, 0.75
# How much a word counts by where it stands.
_IN_WORDS, _IN_MENU, _IN_TIP, _IN_KEYS = 4.0, 1.5, 1.0, 4.0


def plain(text: str) -> str:
    """Lower case without accents; signs other than those in keys fall away.

    >>> plain("Départ …  PLACE!"), plain("Ctrl+K")
    ('depart place', 'ctrl+k')
    """
    bare = "".join(letter for letter in unicodedata.normalize("NFKD", text.casefold()) if not _is_accent(letter))
    return " ".join(re.findall(r"[\w+←→↑↓]+", bare))


def _is_accent(letter: str) -> bool:
    return unicodedata.combining(letter) != 0


@dataclass(frozen=True)
class Sought:
    """What can be found: its words, the menu it stands in, what its tip says, and its keys as they are told."""

    words: str
    menu: str = ""
    tip: str = ""
    keys: str = ""

    @cached_property
    def weighed(self) -> tuple[tuple[str, float], ...]:
        """Every word it can be found by, with its weight."""
        places = ((self.words, _IN_WORDS), (self.menu, _IN_MENU), (self.tip, _IN_TIP))
        return tuple((word, weight) for text, weight in places for word in plain(text).split())

    @cached_property
    def said(self) -> str:
        """Its words as they are looked through for several that stand together."""
        return f" {plain(self.words)} "

    @cached_property
    def plain_keys(self) -> frozenset[str]:
        """Its keys, each as one word."""
        return frozenset(plain(key).replace(" ", "") for key in self.keys.split(", ") if key)


def found(query: str, among: Sequence[Sought], synonyms: Mapping[str, tuple[str, ...]] = SYNONYMS) -> tuple[int, ...]:
    """Where in the list the things lie that every word of the query leads to, best first; all when it has no words.

    >>> found("rotate", (Sought("Lay out for me"), Sought("Turn"), Sought("Turn the cloth over")))
    (1, 2)
    """
    asked = plain(query).split()
    words = [word for word in asked if word not in _SMALL_WORDS] or asked
    if not words:
        return tuple(range(len(among)))
    # A word written rightly is no slip for another: slips count only where nothing else is found.
    for slips in (False, True):
        meant = [_meant(word, synonyms, slips=slips) for word in words]
        scores = [_score(meant, each) for each in among]
        if any(scores):
            break
    # A sort keeps the order of the menus among those that match as well.
    return tuple(sorted((at for at, score in enumerate(scores) if score > 0), key=lambda at: -scores[at]))


@dataclass(frozen=True)
class _Meant:
    """A word asked for, our words for it, and those of our words that stand together; with `slips` nearly so too."""

    word: str
    ours: frozenset[str]
    together: tuple[str, ...]
    slips: bool


def _score(words: Sequence[_Meant], sought: Sought) -> float:
    """Above 0 when every word is met, or what it means; what says it in fewer words is worth a little more."""
    each = [_best(word, sought) for word in words]
    if not each or min(each) <= 0:
        return 0.0
    return sum(each) - 0.02 * len(sought.said.split())


def _best(meant: _Meant, sought: Sought) -> float:
    by_key = _IN_KEYS if meant.word in sought.plain_keys else 0.0
    together = _IN_WORDS * _BEGINNING if any(each in sought.said for each in meant.together) else 0.0
    return max((by_key, together, *(weight * _likeness(meant, other) for other, weight in sought.weighed)))


def _likeness(meant: _Meant, other: str) -> float:
    """How well a word asked for meets a word that is there, 0 to 1."""
    word = meant.word
    if word == other:
        return _ITSELF
    if other.startswith(word):
        return _BEGINNING
    if other in meant.ours:
        return _MEANING
    if len(word) >= _LEAST_LETTERS and word in other:
        return _WITHIN
    return _SLIP if meant.slips and _alike(word, other) else 0.0


def _meant(word: str, synonyms: Mapping[str, tuple[str, ...]], *, slips: bool) -> _Meant:
    """A word with ours for it, for what it begins, or (with `slips`) for one that is written nearly so."""
    known = [each for each in synonyms if _begins(each, word) or (slips and _alike(word, each))]
    ours = {each for one in known for each in synonyms[one]}
    return _Meant(
        word,
        frozenset(each for each in ours if " " not in each),
        tuple(f" {each} " for each in sorted(ours) if " " in each),
        slips,
    )


def _begins(other: str, word: str) -> bool:
    return other == word or (len(word) >= _LEAST_LETTERS and other.startswith(word))


def _alike(word: str, other: str) -> bool:
    """The same word but for a slip; short words must be right."""
    if min(len(word), len(other)) < _LEAST_LETTERS or abs(len(word) - len(other)) > 2:
        return False
    match = SequenceMatcher(None, word, other)
    # Bounds from above first: nearly all pairs of words are told apart by them.
    return all(likeness() >= _LEAST_LIKENESS for likeness in (match.real_quick_ratio, match.quick_ratio, match.ratio))
