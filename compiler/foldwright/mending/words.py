"""Headings, blocks of facts and measures in the words put right: what a table of texts cannot say."""

from __future__ import annotations

import re
from collections.abc import Iterator

from foldwright.finding import Mend, Place
from foldwright.mending.matter import Matter
from foldwright.mending.ways import at

_FENCE = re.compile(r"(?P<blank> {0,3})(?P<marks>`{3,}|~{3,})")
_FACT = re.compile(r" {0,3}[A-Za-z](?:[A-Za-z ]{0,20}[A-Za-z])?[ \t]*:(?!//)")
_MORE_OF_A_FACT = re.compile(r"(?: {2,}|\t)\S|[ \t]*#")
_MEANWHILE = re.compile(r"[,;]?\s*(?:and\s+)?\bmeanwhile\b.*", re.IGNORECASE | re.DOTALL)
_BLANK_LINES = re.compile(r"(?:[^\S\n]*\n)*")
_UNIT_AFTER = re.compile(r".{0,80}?[0-9½⅓⅔¼¾⅕-⅞]\s?(?P<unit>inches|inch|in|mm|cm)\b", re.DOTALL)
_OUNCES = re.compile(r"(?<![\w])(?<!fl )oz\b", re.IGNORECASE)


def second_sign(matter: Matter) -> Iterator[Mend]:
    """`##` for `#`; a title, which stands at the top already, goes instead."""
    sign = matter.text.rfind("#", 0, matter.place.start)
    line_start = matter.text.rfind("\n", 0, sign) + 1
    line_end = matter.text.find("\n", matter.place.end)
    if matter.text[line_start:sign].strip():
        return
    step = at(sign, sign, "#")
    title = at(line_start, line_end + 1 if line_end >= 0 else len(matter.text), "")
    yield from (step,) if matter.facts.get("is_step") else (title, step)


def closing_fence(matter: Matter) -> Iterator[Mend]:
    """The marks that end a block of facts, below its last fact."""
    fence = _FENCE.match(matter.said)
    end = _end_of_facts(matter.text, matter.place.end)
    if fence:
        lead = "" if matter.text[:end].endswith("\n") else "\n"
        yield at(end, end, f"{lead}{fence['blank']}{fence['marks']}\n")


def _end_of_facts(text: str, start: int) -> int:
    """Where the first line begins that is no fact, below the line that ends at or behind `start`."""
    at_line = first = text.find("\n", start) + 1 or len(text)
    while at_line < len(text):
        end = text.find("\n", at_line) + 1 or len(text)
        line = text[at_line:end].rstrip("\n")
        if not _FACT.match(line) and (at_line == first or not _MORE_OF_A_FACT.match(line)):
            break
        at_line = end
    return at_line


def block_gone(matter: Matter) -> Iterator[Mend]:
    """A block of facts that stands where there is no step goes, with its marks."""
    line_start = matter.text.rfind("\n", 0, matter.place.start) + 1
    opening = matter.text.rfind("\n", 0, max(line_start - 1, 0)) + 1
    fence = _FENCE.match(matter.text, opening)
    if not fence:
        return
    closing = re.compile(rf"^ {{0,3}}{fence['marks']}[^\n]*\n?", re.MULTILINE).search(matter.text, line_start)
    if closing:
        yield at(opening, closing.end(), "")


def no_meanwhile(matter: Matter) -> Iterator[Mend]:
    """Without `meanwhile` and the step it names."""
    if found := _MEANWHILE.search(matter.said):
        yield at(matter.place.start + found.start(), matter.place.start + found.end(), "")


def moment(matter: Matter) -> Iterator[Mend]:
    """Where the step begins in the video, behind the other facts of the step, or in a block of its own."""
    line_end = matter.text.find("\n", matter.place.end)
    if line_end < 0:
        return
    blank = _BLANK_LINES.match(matter.text, line_end)
    begins = blank.end() if blank else line_end
    fact = f"video: {matter.fact('moment')}\n"
    fence = _FENCE.match(matter.text, begins)
    if fence:
        at_fence = matter.text.find("\n", begins)
        end = _end_of_facts(matter.text, max(at_fence - 1, begins))
        yield at(end, end, fence["blank"] + fact)
    elif _FACT.match(matter.text, begins):
        end = _end_of_facts(matter.text, begins - 2)
        yield at(end, end, fact)
    else:
        yield at(line_end + 1, line_end + 1, f"\n{fact}")


def unit_of_its_own(matter: Matter) -> Iterator[Mend]:
    """The unit of the size that follows, behind this one too."""
    if found := _UNIT_AFTER.match(matter.text, matter.place.end):
        yield at(matter.place.end, matter.place.end, f" {found['unit']}")


def inches(matter: Matter) -> Iterator[Mend]:
    """`inches` for the little word; or a backslash, for what is no size."""
    start, end = matter.place.start, matter.place.end
    if matter.said[-2:].casefold() == "in":
        yield at(end, end, "ches")
    yield at(start, start, "\\")


def fluid_ounces(matter: Matter) -> Iterator[Mend]:
    """Ounces of what is poured, on whichever side they stand."""
    there = matter.facts.get("there")
    places = [matter.place, *([there] if isinstance(there, Place) and there.file == matter.place.file else [])]
    for place in places:
        for found in _OUNCES.finditer(matter.text, place.start, place.end):
            yield at(found.start(), found.start(), "fl ")


def just_envelope(matter: Matter) -> Iterator[Mend]:
    """`envelope` without the name of another one."""
    name = re.escape(matter.fact("name"))
    named = re.compile(rf"\b(?P<one>a\s+)?{name}[\s-]+(?=envelope)", re.IGNORECASE)
    if found := named.search(matter.text, matter.place.start):
        yield at(found.start(), found.end(), (found["one"] or "").replace("a", "an").replace("A", "An"))
