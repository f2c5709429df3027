"""Findings with their mends: what to type, delete or add, as changes of the text each of them stands in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from msgspec.structs import replace

from foldwright.finding import Finding, Mend, Strength
from foldwright.finding.changes import changed
from foldwright.mending.matter import Matter
from foldwright.mending.table import WAYS
from foldwright.mending.ways import named

_HUSHED = named("hush", "{code}")


def with_mends(findings: Iterable[Finding], texts: Mapping[str, str], recipe: str = "") -> Iterator[Finding]:
    """The findings, those about one of these texts (by name) with their mends.

    A thought about the text called `recipe` may be hushed there: that is offered last.
    """
    for finding in findings:
        place = finding.place
        if place is None or place.file not in texts:
            yield finding
            continue
        matter = Matter(finding, place, texts[place.file])
        mends = list(WAYS[finding.code](matter)) if finding.code in WAYS else []
        if place.file == recipe and finding.strength is Strength.THOUGHT:
            mends += (replace(one, hides=True) for one in _HUSHED(matter))
        yield replace(finding, mends=tuple(_that_change(mends, matter.text))) if mends else finding


def _that_change(mends: Iterable[Mend], text: str) -> Iterator[Mend]:
    """Each once, and none that leaves the text as it is."""
    for mend in dict.fromkeys(mends):
        if changed(text, mend.changes) != text:
            yield mend
