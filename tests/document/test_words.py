"""What the program says is plain: no text of the catalogue has a word or a turn that readers stumble over.

The words are kept here, each with what to say instead; a text in which one stands is named with its file.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from foldwright.document.catalogue import _FOLDER

PLAIN = {
    r"\bunless (?:you|you or the studio) say\b": "Default: ...",
    r"\bthoughts?\b": "suggestion",
    r"\bfaults?\b": "error",
    r"\bmisfits?\b": "won’t fit",
    r"\bgiddy\b": "dizzy",
    r"\bwhen you have done\b": "when you finish",
    r"\b(?:a|last) hair\b": "a little, or a length",
    r"\b(?:a|the|no|every|each|this|its|found) measures?\b(?! \d)": "measurement; `measure` is what one does",
    r"\bmeasures (?:in|of|found|are)\b": "measurements",
    r"\bmeasures in\b": "Units",
    r"\bshel(?:f|ves)\b": "stock",
    r"\bthe matter\b": "a problem; wrong",
    r"\bto hear no more\b": "to hide",
    r"\bsay back\b": "show how it was understood",
    r"(?<!there )\b(?:is|are|be) no (?:length|number|file|point|price|sheet|piece|unit|option)\b": "is not a ...",
    r"\b(?:it|that|text\}\"?|said\}\"?) is nothing\b": "is zero",
    r"\b(?:less than|above|over|of) nothing\b": "zero",
    r"\bnothing need be done\b": "you do not have to change anything",
    r"\bneed not\b": "do not have to",
    r"\bnobody says\b": "I do not know; the recipe does not say",
    r"\bwhat sticks\b": "glue and tape",
    r"\bset by\b": "made with",
    r"\bslow hands\b": "slower makers",
    r"\btypefaces?\b": "font",
    r"\bmoneys\b": "currencies",
    r"\balas\b|\bthereof\b|\bthereby\b|\bhereby\b|\bwhereof\b|\bhitherto\b": "leave it out",
    r"\bso as to\b": "to",
    r"\blest\b": "so that ... not",
    r"\bclose on each other\b": "can pinch",
}
"""What is not to be said (a pattern, in any case), and what is said instead."""
STRAIGHT = re.compile(r"[A-Za-z]'[A-Za-z]|(?<![A-Za-z])'[^'\n]+'|\"\{")
"""A straight apostrophe in a word, or straight marks round words or round a fact."""
TYPED = re.compile(r"  \S.*?(?=  |$)", re.MULTILINE)
"""What is to be typed stands behind two spaces, and has the marks that a keyboard has."""


def texts(path: str, content: Any) -> Iterator[tuple[str, str]]:
    """Every text below a table of a catalogue's file, by its dotted name."""
    if isinstance(content, str):
        yield path, content
        return
    for name, below in content.items():
        yield from texts(f"{path}.{name}" if path else name, below)


def told(file: Path) -> Iterator[tuple[str, str]]:
    """The texts of a file, without what is to be typed: the example of a command."""
    for key, text in texts("", tomllib.loads(file.read_text(encoding="utf-8"))):
        if not key.endswith(".example"):
            yield key, text


FILES = sorted(_FOLDER.joinpath("en").glob("*.toml"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_no_text_has_words_that_readers_stumble_over(file: Path) -> None:
    odd = [
        f"{key}: “{found[0]}” in “{text.strip()}”; better: {better}"
        for key, text in told(file)
        for pattern, better in PLAIN.items()
        if (found := re.search(pattern, text, re.IGNORECASE))
    ]
    assert odd == []


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_apostrophes_and_quotation_marks_are_curly(file: Path) -> None:
    assert [f"{key}: {text}" for key, text in told(file) if STRAIGHT.search(TYPED.sub("", text))] == []


@pytest.mark.parametrize(
    "text",
    [
        "Measures in {known}",
        "The first sheet unless you say.",
        "{piece} fills it to the last hair",
        "a measure in the words",
        "all of it is on the shelf",
        '"{text}" is no length: it is nothing',
        "A fault, a misfit, a thought",
    ],
)
def test_the_old_turns_are_found(text: str) -> None:
    assert any(re.search(pattern, text, re.IGNORECASE) for pattern in PLAIN)


@pytest.mark.parametrize("text", ["the recipe's folder", "type 'short:' words", "don't", 'I do not know "{said}"'])
def test_straight_marks_are_found(text: str) -> None:
    assert STRAIGHT.search(text)


@pytest.mark.parametrize("text", ["the recipe’s folder", "“short:” words", 'such as "1/8 in"', 'type:  "{said}"'])
def test_curly_marks_and_what_is_to_type_are_let_be(text: str) -> None:
    assert not STRAIGHT.search(TYPED.sub("", text))


def test_every_finding_is_whole_sentences() -> None:
    """What is said of a recipe ends as a sentence does, unless its last words are to be typed or a fact."""
    unfinished = [
        key
        for file in FILES
        if file.stem.startswith("findings-")
        for key, text in told(file)
        if not key.startswith("understood-")
        and not text.endswith((".", "?", "!", ".)"))
        and "  " not in text
        and not re.search(r"such as|like this", text)
    ]
    assert unfinished == []
