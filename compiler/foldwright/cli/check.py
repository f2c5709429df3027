"""`foldwright check`: everything that is the matter with some recipes, and, if asked, the measures in their words."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from foldwright.cli.measures import FoundMeasure, found_measures
from foldwright.cli.sources import Source, find_sources, read_texts
from foldwright.cli.telling import Line, Teller
from foldwright.finding import Finding, LineTable, Strength
from foldwright.pipeline import Checked, check_recipe
from foldwright.sheet.catalogue import catalogue
from foldwright.sheet.findings import tell
from foldwright.sheet.model import Told


@dataclass(frozen=True, slots=True)
class Heard:
    """A finding in words, in the file as the caller named it; `extent` is how many characters it speaks of."""

    told: Told
    shown: str
    extent: int


@dataclass(frozen=True, slots=True)
class Report:
    source: Source
    heard: tuple[Heard, ...]
    measures: tuple[FoundMeasure, ...]

    @property
    def wrong(self) -> bool:
        return any(one.told.strength > Strength.THOUGHT for one in self.heard)


def check(paths: Sequence[Path], *, measures: bool, strict: bool, as_json: bool) -> int:
    """Check the recipes at `paths`; the exit status."""
    sources, wrong = find_sources(paths)
    complaints = Teller("stderr")
    for one in wrong:
        complaints.words(f"wrong.{one.message}", **dict(one.facts))
    reports = [report(source, strict, measures) for source in sources]
    if as_json:
        sys.stdout.buffer.write(as_data(reports, measures).encode("utf-8", "replace"))
        sys.stdout.buffer.flush()
    elif reports:
        _say(Teller(), reports, measures)
    if wrong:
        return 2
    return 1 if any(one.wrong for one in reports) else 0


def report(source: Source, strict: bool, measures: bool) -> Report:
    texts = read_texts(source)
    findings = texts.findings
    found: tuple[FoundMeasure, ...] = ()
    if texts.text is not None:
        checked: Checked = check_recipe(texts.text, source.name, source.slug, texts.studio, strict)
        findings += checked.findings
        if measures and checked.recipe is not None:
            found = found_measures(checked, texts.text)
    return Report(source, heard(findings, texts.by_name, texts.shown), found)


def heard(findings: Sequence[Finding], texts: dict[str, str], shown: dict[str, str]) -> tuple[Heard, ...]:
    """Findings in words, under the names of files as the caller typed them."""
    told = [tell(finding, texts) for finding in findings]
    extents = [_extent(finding, texts) for finding in findings]
    return tuple(Heard(one, shown.get(one.file, one.file), extent) for one, extent in zip(told, extents, strict=True))


def _extent(finding: Finding, texts: dict[str, str]) -> int:
    """How many characters of its first line a finding speaks of."""
    place = finding.place
    if place is None or place.file not in texts:
        return 1
    table = LineTable(texts[place.file])
    line, column = table.line_and_column(place.start)
    return max(1, min(place.end - place.start, len(table.line(line)) - column + 1))


def _say(teller: Teller, reports: Sequence[Report], measures: bool) -> None:
    for one in reports:
        if measures:
            _say_measures(teller, one)
        say_heard(teller, one.heard)
    strengths = [heard.told.strength for one in reports for heard in one.heard]
    teller.total(strengths, len(reports))


def say_heard(teller: Teller, heard: Sequence[Heard]) -> None:
    """Findings grouped by file, each file once."""
    for shown in dict.fromkeys(one.shown for one in heard):
        teller.findings(shown, [(one.told, one.extent) for one in heard if one.shown == shown])


def _say_measures(teller: Teller, one: Report) -> None:
    if not one.measures:
        teller.words("measures.none", file=one.source.shown)
        return
    teller.words("measures.heading", file=one.source.shown)
    words = catalogue()
    for measure in one.measures:
        line = words.say("command.measures.line", line=measure.line)
        said = words.say("command.measures.understood", said=measure.said, understood=measure.understood)
        meant = words.say("command.measures.meant", meant=measure.meant) if measure.meant else ""
        teller.say([Line(f"  {line:>9}  {said}{meant}")])
    teller.words("measures.cancelled")
    teller.say([Line("")])


def as_data(reports: Sequence[Report], measures: bool) -> str:
    """The same for other programs; findings.schema.json beside this file describes it."""
    files = []
    for one in reports:
        entry: dict[str, object] = {
            "recipe": one.source.shown,
            "findings": [_finding_data(heard) for heard in one.heard],
        }
        if measures:
            entry["measures"] = [_measure_data(measure) for measure in one.measures]
        files.append(entry)
    counts = {
        strength.name.lower(): sum(heard.told.strength is strength for one in reports for heard in one.heard)
        for strength in sorted(Strength, reverse=True)
    }
    data = {"format": "foldwright findings", "version": 1, "recipes": files, "in_all": counts}
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def _finding_data(heard: Heard) -> dict[str, object]:
    told = heard.told
    return {
        "file": heard.shown,
        "line": told.line,
        "column": told.column,
        "length": heard.extent,
        "strength": told.strength.name.lower(),
        "code": told.code,
        "says": told.says,
        "understood": told.understood,
        "remedy": told.remedy,
        "line_text": told.line_text,
    }


def _measure_data(measure: FoundMeasure) -> dict[str, object]:
    return {
        "line": measure.line,
        "column": measure.column,
        "said": measure.said,
        "understood": measure.understood,
        "exact_mm": list(measure.exact_mm),
        "meant": measure.meant,
    }
