"""Bars, flaps and places of a piece put right: what a table of texts cannot say."""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec.structs import replace

from foldwright.finding import Mend
from foldwright.finding.changes import Change
from foldwright.mending.layout import fact_rows
from foldwright.mending.matter import Matter
from foldwright.mending.ways import at, delete_fact, fact

_TURN = re.compile(
    r"\b(?P<turn>smaller|less|narrower|shorter|tighter|bigger|larger|more|wider|longer|looser)\b"
    r"(?P<where>.*?)(?=\s+than\b|$)",
    re.IGNORECASE | re.DOTALL,
)
_HOW_FLAPS_LIE = re.compile(
    r",\s*(?=trim|glued|stuck|taped|tucked|folded|lying|(?:on the )?(?:in|out)side)", re.IGNORECASE
)
_NUMBER_FIRST = re.compile(r"[0-9½⅓⅔¼¾⅕-⅞]")
_LAST_WORD = re.compile(
    r"(?:^[^\S\n]*|[,:{][^\S\n]+)(?P<word>[a-z][a-z ]*?)\s*(?::\s*|\s+)$", re.IGNORECASE | re.MULTILINE
)


def outer_bars(matter: Matter) -> Iterator[Mend]:
    """The bars at both ends, and the blanks beside them."""
    said, start = matter.said, matter.place.start
    head = len(said) - len(said[1:].lstrip())
    tail = len(said[:-1].rstrip())
    yield Mend((Change(start, start + head, ""), Change(start + tail, matter.place.end, "")))


def empty_panel(matter: Matter) -> Iterator[Mend]:
    """`rest` between the bars; or without the bar that has nothing beside it."""
    text, here = matter.text, matter.place.start
    following = here + len(text[here:]) - len(text[here:].lstrip(" \t"))
    line_start = text.rfind("\n", 0, here) + 1
    bar = following if text[following : following + 1] == "|" else text.rfind("|", line_start, here)
    if bar < 0:
        return
    if bar == following:
        blank = "" if text[here - 1 : here] in " \t|" and text[here - 1 : here] != "|" else " "
        yield at(here, here, f"{blank}rest{'' if following > here else ' '}")
    else:
        yield at(here, here, "rest" if text[here - 1 : here] in " \t" else " rest")
    lead = len(text[line_start:bar]) - len(text[line_start:bar].rstrip(" \t"))
    yield at(bar - lead, bar + 1, "")


def how_far(matter: Matter) -> Iterator[Mend]:
    """`on every side` or `in all` behind the word that says smaller or larger."""
    if found := _TURN.search(matter.said):
        start = matter.place.start
        for where in (" on every side", " in all"):
            yield at(start + found.end("turn"), start + found.end("where"), where)


def middle_or_edge(matter: Matter) -> Iterator[Mend]:
    """Which point of the hole is so far from the edge, said before the number."""
    if found := _NUMBER_FIRST.search(matter.said):
        start = matter.place.start + found.start()
        yield at(start, start, "middle ")
        yield at(start, start, "edge ")


def line_kind(matter: Matter) -> Iterator[Mend]:
    """The first word gives way to the kind it is nearest to; before points, which have none, it is added."""
    first = re.match(r"\S+", matter.said)
    kind, start = matter.fact("nearest"), matter.place.start
    if first and (first[0].casefold() == "from" or first[0][0].isdigit()):
        yield at(start, start, f"{kind} ")
    elif first:
        yield at(start, start + first.end(), kind)


def fact_of_value(matter: Matter) -> Iterator[Mend]:
    """The fact whose value the place is goes, with its word: its line, or its part of a line."""
    text, start = matter.text, matter.place.start
    line_start = text.rfind("\n", 0, start) + 1
    word = _LAST_WORD.search(text, line_start, start)
    if word:
        whole = replace(matter.place, start=word.start("word"))
        yield from delete_fact(Matter(matter.finding, whole, text))


def flaps_added(matter: Matter) -> Iterator[Mend]:
    """`flaps: joined to` either pair of opposite walls, where their names tell them apart."""
    yield from fact(*(f"flaps: joined to {names}" for names in _walls(matter)))(matter)


def flaps_joined(matter: Matter) -> Iterator[Mend]:
    """The names of the walls give way to those of two opposite ones; how the flaps lie stays."""
    start = matter.place.start
    rest = _HOW_FLAPS_LIE.search(matter.said)
    for names in _walls(matter):
        yield at(start, start + rest.start() if rest else matter.place.end, f"joined to {names}")


def _walls(matter: Matter) -> list[str]:
    pairs = [matter.facts.get("one"), matter.facts.get("other")]
    names = [name for pair in pairs if isinstance(pair, tuple) for name in pair]
    return [matter.fact("one"), matter.fact("other")] if len(set(names)) == len(names) else []


def how_it_lies(matter: Matter) -> Iterator[Mend]:
    """`centred` or `lined up at the bottom` for the words behind the place that do not say it."""
    said = matter.fact("said")
    start = matter.text.find(said, matter.place.end) if said else -1
    if start >= 0:
        for where in ("centred", "lined up at the bottom"):
            yield at(start, start + len(said), where)


def slots_for_it(matter: Matter) -> Iterator[Mend]:
    """The name of what the slots hold for the size they say, among the holes of the piece."""
    shape, what = matter.fact("shape"), matter.fact("what")
    said = re.compile(rf"\b{re.escape(shape)} for (?P<size>[^,;\n]*[^,;\s])", re.IGNORECASE)
    begin, end = fact_rows(matter.text).extent(matter.place.start)
    if found := said.search(matter.text, begin, end):
        yield at(found.start("size"), found.end("size"), what)
