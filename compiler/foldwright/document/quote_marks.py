"""Straight quotation marks and apostrophes, as they are typed, made into printed ones: “so”, it’s.

Behind a number they are feet and inches, and stay as they are.
"""

from __future__ import annotations

import re
from itertools import islice

from foldwright.document.words import MeasureInWords, Runs
from foldwright.recipe.words import Break, Code, Text, changed_runs, flat_runs

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
    leaves = [(run, _flat(run)) for run in flat_runs(runs)]
    flat = "".join(text for _, text in leaves)
    if not _STRAIGHT.search(flat):
        return runs
    letters = iter(curled(flat))
    made = [(run, "".join(islice(letters, len(text)))) for run, text in leaves]
    texts = iter([text for run, text in made if not isinstance(run, Code | Break)])

    def taken(run: Text | MeasureInWords, _after: str) -> Runs:
        text = next(texts)
        return (Text(text),) if isinstance(run, Text) else (run,)

    return changed_runs(runs, taken)


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


def _flat(run: Text | MeasureInWords | Code | Break) -> str:
    return run.text if isinstance(run, Text) else " " if isinstance(run, Break) else _OPAQUE
