"""Straight quotation marks and apostrophes, as they are typed, made into printed ones: “so”, it’s.

Behind a number they are feet and inches, and stay as they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from foldwright.document.words import Heavy, Linked, MeasureInWords, Plain, Run, Runs, Slanted, Typed

_STRAIGHT = re.compile("['\"]")
_BEFORE_WORDS = re.compile(r"[\s(\[{<–—/“‘-]")
_CLOSES = re.compile(r"(?<=\S)'(?!\w)")
_OPAQUE = "x"
"""Stands for what is no text of its own: a measure, something to type."""


def curled(text: str) -> str:
    """The text with printed marks, character for character as long."""
    if not _STRAIGHT.search(text):
        return text
    made: list[str] = []
    quoted = False
    for at, letter in enumerate(text):
        if letter == '"':
            letter = _double(text, at, quoted)
            quoted = letter == "“" or (quoted and letter == '"')
        elif letter == "'":
            letter = _single(text, at)
        made.append(letter)
    return "".join(made)


def curled_runs(runs: Runs) -> Runs:
    """The same for runs, each mark seen among what stands before and behind it."""
    flat = "".join(map(_flat, runs))
    return _taken(runs, iter(curled(flat))) if _STRAIGHT.search(flat) else runs


def _double(text: str, at: int, quoted: bool) -> str:
    before = text[at - 1 : at]
    if not before or _BEFORE_WORDS.match(before):
        return "“"
    if not before.isnumeric():
        return "”"
    # Behind a number: the end of what is quoted only where no other mark could be that.
    others = text.find('"', at + 1)
    opens = others < 0 or _BEFORE_WORDS.match(text[others - 1])
    return "”" if quoted and opens else '"'


def _single(text: str, at: int) -> str:
    before, after = text[at - 1 : at], text[at + 1 : at + 2]
    if before.isnumeric():
        return "’" if after == "s" else "'"
    if before and not _BEFORE_WORDS.match(before) and before != '"':
        return "’"
    # At the beginning of a word: a quotation if it ends somewhere, else a letter that was left out ('tis).
    return "‘" if _CLOSES.search(text, at + 1) else "’"


def _flat(run: Run) -> str:
    match run:
        case Plain(text):
            return text
        case Typed() | MeasureInWords():
            return _OPAQUE
        case Slanted(children) | Heavy(children) | Linked(children=children):
            return "".join(map(_flat, children))
        case _:
            return " "


def _taken(runs: Runs, letters: Iterator[str]) -> Runs:
    """The runs again, their letters taken from `letters` in turn."""
    made: list[Run] = []
    for run in runs:
        match run:
            case Plain(text):
                made.append(Plain("".join(next(letters) for _ in text)))
            case Slanted(children):
                made.append(Slanted(_taken(children, letters)))
            case Heavy(children):
                made.append(Heavy(_taken(children, letters)))
            case Linked(href, children):
                made.append(Linked(href, _taken(children, letters)))
            case _:
                next(letters)
                made.append(run)
    return tuple(made)
