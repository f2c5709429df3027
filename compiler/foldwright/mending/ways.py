"""How a text is put right, as small makers that the table puts together: type this instead, add that, take this away.

A way is asked with a matter and tells one or more mends, the likeliest first; none where it does not fit.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator

from foldwright.finding import Mend
from foldwright.finding.changes import Change
from foldwright.mending.layout import fact_rows
from foldwright.mending.matter import Matter, Span

type Way = Callable[[Matter], Iterable[Mend]]

_PART_BEFORE = re.compile(r",[^\S\n]*$")
_PART_AFTER = re.compile(r"[^\S\n]*,[^\S\n]*")
_PARTS_CELLS = re.compile(r'[,;\t"]')
_LINE = re.compile(r"^(?P<blank>[^\S\n]*)[^\n]*\n?", re.MULTILINE)


def at(start: int, end: int, new: str) -> Mend:
    """A mend of one change."""
    return Mend((Change(start, end, new),))


def _each(matter: Matter, templates: Iterable[str], change: Callable[[str], Iterable[Change]]) -> Iterator[Mend]:
    for template in templates:
        for new in matter.filled(template):
            if changes := tuple(change(new)):
                yield Mend(changes)


def instead(*templates: str, of: str = "", first: bool = False) -> Way:
    """The place, or what the fact `of` quotes in it, gives way to a text; each of several texts is a mend."""

    def way(matter: Matter) -> Iterator[Mend]:
        spans = matter.spans(of, first)
        return _each(matter, templates, lambda new: (Change(start, end, new) for start, end in spans))

    return way


def cell(template: str) -> Way:
    """The place, a cell of a table, gives way to a text, in quotation marks where it holds what parts cells."""

    def way(matter: Matter) -> Iterator[Mend]:
        start, end = matter.place.start, matter.place.end
        bare = matter.text[start - 1 : start] != '"'
        for new in matter.filled(template):
            doubled = new.replace('"', '""')
            yield at(start, end, f'"{doubled}"' if bare and _PARTS_CELLS.search(new) else doubled)

    return way


def behind(*templates: str, of: str = "") -> Way:
    """A text is added behind the place, or behind what the fact `of` quotes in it."""

    def way(matter: Matter) -> Iterator[Mend]:
        spans = matter.spans(of)
        return _each(matter, templates, lambda new: (Change(end, end, new) for _, end in spans))

    return way


def before(*templates: str) -> Way:
    """A text is added before the place."""

    def way(matter: Matter) -> Iterator[Mend]:
        start = matter.place.start
        return _each(matter, templates, lambda new: (Change(start, start, new),))

    return way


def fact(*templates: str) -> Way:
    """A fact is added to the supply or piece that the place belongs to."""

    def way(matter: Matter) -> Iterator[Mend]:
        rows = fact_rows(matter.text)
        return _each(matter, templates, lambda new: filter(None, [rows.with_fact(matter.place.start, new)]))

    return way


def top(*templates: str) -> Way:
    """A fact of the whole recipe is added, or put in the place of what it says so far."""

    def way(matter: Matter) -> Iterator[Mend]:
        rows = fact_rows(matter.text)
        return _each(matter, templates, lambda new: filter(None, [rows.with_top(new)]))

    return way


def named(word: str, *templates: str) -> Way:
    """A name is added to a list of names at the top, such as `tools`."""

    def way(matter: Matter) -> Iterator[Mend]:
        rows = fact_rows(matter.text)
        return _each(matter, templates, lambda new: filter(None, [rows.with_named(word, new)]))

    return way


def delete(of: str = "", first: bool = False) -> Way:
    """The place goes, or what the fact `of` quotes in it."""

    def way(matter: Matter) -> Iterator[Mend]:
        if spans := matter.spans(of, first):
            yield Mend(tuple(Change(start, end, "") for start, end in spans))

    return way


def delete_part(matter: Matter) -> Iterator[Mend]:
    """The place goes, and the comma that parts it from its neighbour."""
    start, end = _part(matter.text, (matter.place.start, matter.place.end))
    yield at(start, end, "")


def delete_from_row(matter: Matter) -> Iterator[Mend]:
    """The place goes out of a row of names, and with the last of them the fact."""
    text, (start, end) = matter.text, _part(matter.text, (matter.place.start, matter.place.end))
    line_start, line_end = text.rfind("\n", 0, start) + 1, text.find("\n", end) + 1 or len(text)
    before, after = text[line_start:start], text[end:line_end]
    alone = not after.strip() and (before.rstrip().endswith(":") or before.strip() in ("", "-"))
    yield at(line_start, line_end, "") if alone else at(start, end, "")


def _part(text: str, span: Span) -> Span:
    start, end = span
    if found := _PART_BEFORE.search(text, text.rfind("\n", 0, start) + 1, start):
        return found.start(), end
    if found := _PART_AFTER.match(text, end):
        return start, found.end()
    return span


def delete_match(pattern: re.Pattern[str]) -> Way:
    """All that looks like this in the place goes."""

    def way(matter: Matter) -> Iterator[Mend]:
        found = pattern.finditer(matter.text, matter.place.start, matter.place.end)
        if changes := tuple(Change(match.start(), match.end(), "") for match in found):
            yield Mend(changes)

    return way


def delete_fact(matter: Matter) -> Iterator[Mend]:
    """The fact that the place begins goes: its line and all that stands under it, or its part of a line."""
    text, start = matter.text, matter.place.start
    line_start = text.rfind("\n", 0, start) + 1
    if text[line_start:start].strip():
        yield from delete_part(matter)
        return
    yield at(line_start, _end_below(text, line_start, start - line_start), "")


def _end_below(text: str, line_start: int, indent: int) -> int:
    """Where the first line begins that is not pushed in further than the line that begins at `line_start`."""
    for line in _LINE.finditer(text, text.find("\n", line_start) + 1 or len(text)):
        if len(line["blank"]) <= indent:
            return line.start()
    return len(text)


def either(*ways: Way) -> Way:
    """The mends of several ways, one after the other."""
    return lambda matter: (mend for way in ways for mend in way(matter))
