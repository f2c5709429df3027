"""Characters that no page can hold: refused where they are typed, and never passed on."""

from __future__ import annotations

import re

from foldwright.finding import Place
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.phrase import Phrase

UNPRINTABLE = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff"
    + "".join(f"{chr(plane + 0xFFFE)}{chr(plane + 0xFFFF)}" for plane in range(0x10000, 0x110000, 0x10000))
    + "]"
)
"""Control characters but tab and line ends, lone surrogates, noncharacters: what XML 1.0 (2.2) forbids or warns of."""
TURNING = re.compile("[\u202a-\u202e\u2066-\u2069]")
"""The explicit directional formatting characters of the Unicode Bidirectional Algorithm (UAX 9, 2)."""
_MOST_TOLD = 10
"""Lines."""
_STAND_IN = "\ufffd"


def printable(text: str) -> str:
    """The text, each such character replaced by one that can be seen (by a space where it was one)."""
    return UNPRINTABLE.sub(lambda found: " " if found[0].isspace() else _STAND_IN, text)


def told_of_unprintable(text: str, where: Phrase, complaints: Complaints) -> str:
    """The text as it can be printed, as long as before. `where` is what it is told of."""
    for character in dict.fromkeys(UNPRINTABLE.findall(text)):
        complaints.fault(
            "unprintable", Phrase(printable(where.text), where.file, where.start), character=_named(character)
        )
    return printable(text)


def gated(text: str, file: str, complaints: Complaints) -> str:
    """A whole file's text as it can be printed, as long as before. Told once for each line, up to ten."""
    if text.replace("\n", "").isprintable():
        # By far the most texts; asked of Python it takes a hundredth of the time.
        return text
    by_line: dict[int, re.Match[str]] = {}
    for found in UNPRINTABLE.finditer(text):
        by_line.setdefault(text.rfind("\n", 0, found.start()), found)
    told = list(by_line.values())
    for found in told[:_MOST_TOLD]:
        complaints.fault("unprintable", Place(file, found.start(), found.end()), character=_named(found[0]))
    for found in told[_MOST_TOLD : _MOST_TOLD + 1]:
        place = Place(file, found.start(), found.end())
        complaints.fault("unprintable-more", place, count=len(told) - _MOST_TOLD)
    if turning := TURNING.search(text):
        complaints.thought("writing-turned", Place(file, turning.start(), turning.end()), character=_named(turning[0]))
    return printable(text)


def _named(character: str) -> str:
    """`U+001B`, as the Unicode Standard writes it."""
    return f"U+{ord(character):04X}"
