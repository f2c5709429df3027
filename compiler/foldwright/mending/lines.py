"""Lines, dashes and blanks of the facts put right: what a table of texts cannot say."""

from __future__ import annotations

import re
from collections.abc import Iterator

from foldwright.finding import Mend
from foldwright.finding.changes import Change
from foldwright.mending.layout import fact_rows
from foldwright.mending.matter import Matter
from foldwright.mending.ways import at
from foldwright.recipe.facts.lines import ONE_SPACE_REMARK
from foldwright.recipe.facts.unprintable import TURNING, UNPRINTABLE
from foldwright.recipe.reading import RECIPE_WORDS


def opened(matter: Matter) -> Iterator[Mend]:
    """Three dashes above the facts."""
    yield at(matter.place.start, matter.place.start, "---\n")


def closed(matter: Matter) -> Iterator[Mend]:
    """Three dashes between the facts and the steps."""
    start = matter.place.start
    lead = "" if matter.text[:start].endswith("\n") or not start else "\n"
    yield at(start, start, f"{lead}---\n")


def second_space(matter: Matter) -> Iterator[Mend]:
    """A second space before the `#` of a remark."""
    if found := ONE_SPACE_REMARK.search(matter.said):
        start = matter.place.start + found.start()
        yield at(start, start, " ")


def indents(matter: Matter) -> Iterator[Mend]:
    """The line pushed in as far as one level or the other."""
    line_start = matter.text.rfind("\n", 0, matter.place.start) + 1
    for name in ("best", "other"):
        columns = matter.facts[name]
        assert isinstance(columns, int)
        yield at(line_start, matter.place.start, " " * columns)


def spaces_for_tab(matter: Matter) -> Iterator[Mend]:
    """Spaces for the tab: under the line above where that waits for more, else level with it or with one before."""
    rows = fact_rows(matter.text)
    number = rows.at(matter.place.start)
    if not number:
        return
    row, above = rows.rows[number], rows.rows[number - 1]
    levels = [rows.rows[one].blank for one in reversed(rows.chain(number - 1))]
    for blank in [*levels, f"{above.blank}  "] if above.value else [f"{above.blank}  ", *levels]:
        if "\t" not in blank:
            yield at(row.line_start, row.start, blank)


def pushed_in(matter: Matter) -> Iterator[Mend]:
    """Two spaces before this line and those that follow it under the same section."""
    rows = fact_rows(matter.text)
    number = rows.at(matter.place.start)
    if number is None:
        return
    first = rows.rows[number]
    belonging = []
    for row in rows.rows[number:]:
        if row.indent < first.indent or (row.indent == first.indent and RECIPE_WORDS.word_of(row.word)):
            break
        belonging.append(row)
    yield Mend(tuple(Change(row.line_start, row.line_start, "  ") for row in belonging))


def colon(matter: Matter) -> Iterator[Mend]:
    """A colon between the word and its value, which are one line."""
    value = matter.fact("value")
    head = matter.said.removesuffix(value).rstrip() if value and matter.said.endswith(value) else matter.said
    if "\n" not in matter.said and (value == "" or head != matter.said):
        end = matter.place.start + len(head)
        blank = len(value) and not matter.said[len(head)].isspace()
        stray = len(value) - len(value.lstrip(": ")) if blank else 0
        yield at(end, end + stray, ": " if blank else ":")


def printable_here(matter: Matter) -> Iterator[Mend]:
    """Every such character of the line goes; the line is told of once."""
    line_end = matter.text.find("\n", matter.place.start)
    yield from _without(UNPRINTABLE, matter, matter.place.start, line_end if line_end >= 0 else len(matter.text))


def printable_from_here(matter: Matter) -> Iterator[Mend]:
    """Every character from the place on that no page can show goes."""
    yield from _without(UNPRINTABLE, matter, matter.place.start, len(matter.text))


def turned_back(matter: Matter) -> Iterator[Mend]:
    """Every mark that turns the writing goes: one of a pair is of no use."""
    yield from _without(TURNING, matter, 0, len(matter.text))


def _without(pattern: re.Pattern[str], matter: Matter, start: int, end: int) -> Iterator[Mend]:
    found = tuple(Change(match.start(), match.end(), "") for match in pattern.finditer(matter.text, start, end))
    if found:
        yield Mend(found)


def line_gone(matter: Matter) -> Iterator[Mend]:
    """The whole line that the place is in goes."""
    start = matter.text.rfind("\n", 0, matter.place.start) + 1
    end = matter.text.find("\n", max(matter.place.start, matter.place.end - 1))
    yield at(start, end + 1 if end >= 0 else len(matter.text), "")


def trimmed_away(matter: Matter) -> Iterator[Mend]:
    """The place goes, and the blanks before it."""
    start = len(matter.text[: matter.place.start].rstrip(" \t"))
    yield at(start, matter.place.end, "")


def sign_gone(matter: Matter) -> Iterator[Mend]:
    """The place goes, and the blanks behind it."""
    behind = matter.text[matter.place.end :]
    yield at(matter.place.start, matter.place.end + len(behind) - len(behind.lstrip(" \t")), "")


def size_of_these(matter: Matter) -> Iterator[Mend]:
    """The size of those counted before it, or one more of that size."""
    start, end, said = matter.place.start, matter.place.end, matter.said
    counted = re.search(rf"\b{re.escape(matter.fact('count'))}\b[^,;\n]*[,;]\s*$", matter.text[:start])
    if counted:
        yield at(counted.start(), end, f"{matter.fact('count')} of {said}")
    yield at(start, start, "1 of ")
