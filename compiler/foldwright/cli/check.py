"""`foldwright check`: everything that is the matter with some recipes, and, if asked, the measures in their words."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from foldwright.cli.calls import CheckCall
from foldwright.cli.telling import WRONG_CALL, Teller
from foldwright.document.findings import tell
from foldwright.document.told import Told
from foldwright.finding import Finding, Strength
from foldwright.outputs.sizes import sizes_of
from foldwright.outputs.sources import Source, find_sources
from foldwright.outputs.texts import Texts, read_texts
from foldwright.pipeline import Checked, check_in_size, check_recipe, in_text_order
from foldwright.surroundings import Folder

if TYPE_CHECKING:
    from foldwright.cli.measures import MeasureLine, PassedOverLine
    from foldwright.cli.pieces import PieceSaid
    from foldwright.recipe.model import Recipe


class Report(Struct, frozen=True):
    source: Source
    told: tuple[Told, ...]
    measures: tuple[MeasureLine, ...]
    passed_over: tuple[PassedOverLine, ...]
    pieces: tuple[PieceSaid, ...] = ()

    @property
    def wrong(self) -> bool:
        return any(one.strength > Strength.THOUGHT for one in self.told)


def check(call: CheckCall) -> int:
    """Check some recipes; the exit status. Of one recipe alone the pieces are told without asking."""
    sources, wrong = find_sources(map(Path, call.paths))
    as_json = call.format == "json"
    complaints = Teller("stderr")
    for one in wrong:
        complaints.words(f"wrong.{one.message}", **dict(one.facts))
    pieces = call.pieces or as_json or len(sources) == 1
    reports = [one for source in sources for one in reports_of(source, call.strict, call.measures, pieces)]
    if as_json:
        from foldwright.cli.report_data import as_data

        sys.stdout.buffer.write(as_data(reports, call.measures).encode("utf-8", "replace"))
        sys.stdout.buffer.flush()
    elif reports:
        _say(Teller(), reports, call.measures)
    if wrong:
        return WRONG_CALL
    return 1 if any(one.wrong for one in reports) else 0


def reports_of(source: Source, strict: bool, measures: bool, pieces: bool) -> list[Report]:
    """What there is to say of a recipe as it is written, and of each of its sizes what is not the same there."""
    texts = read_texts(source)
    if texts.text is None:
        return [Report(source, told_as_shown(in_text_order(texts.findings), texts.by_name, texts.shown), (), ())]
    read = Folder(source.folder).read
    written = check_recipe(texts.text, source.name, source.slug, texts.studio, strict, read)
    reports = [_report(source, texts, written, measures, pieces)]
    understood = written.understood
    if understood is None or not understood.recipe.sizes:
        return reports
    known = set(written.findings)
    thoughts = {(finding.code, finding.place) for finding in written.findings}
    for one in sizes_of(source, understood.recipe):
        # Under the name of the recipe as written, so that what is the same is told once.
        checked = check_in_size(texts.text, source.name, source.slug, one.size, understood, texts.studio, read)
        new = tuple(
            finding
            for finding in checked.findings
            if finding not in known
            and not (finding.strength is Strength.THOUGHT and (finding.code, finding.place) in thoughts)
        )
        thoughts |= {(finding.code, finding.place) for finding in new}
        shown = replace(texts, shown={**texts.shown, source.name: one.shown}, findings=())
        reports.append(_report(one, shown, replace(checked, findings=new), False, pieces))
    return reports


def _report(source: Source, texts: Texts, checked: Checked, measures: bool, pieces: bool) -> Report:
    findings = texts.findings
    found: tuple[MeasureLine, ...] = ()
    passed: tuple[PassedOverLine, ...] = ()
    said: tuple[PieceSaid, ...] = ()
    if texts.text is not None:
        findings += checked.findings
        if checked.understood is not None:
            findings += _photo_findings(checked.understood.recipe, source) if not source.size else ()
            if measures:
                from foldwright.cli.measures import found_measures, passed_over

                found = found_measures(checked.understood, texts.text)
                passed = passed_over(checked.understood, texts.text)
            if pieces:
                from foldwright.cli.pieces import pieces_said

                said = pieces_said(checked.understood)
    told = told_as_shown(in_text_order(findings), texts.by_name, texts.shown)
    return Report(source, told, found, passed, said)


def _photo_findings(recipe: Recipe, source: Source) -> tuple[Finding, ...]:
    if recipe.photo is None and all(step.photo is None for step in recipe.steps):
        return ()
    from foldwright.render.photos import check_photos

    return check_photos(recipe, Folder(source.folder).read)


def told_as_shown(findings: Sequence[Finding], texts: Mapping[str, str], shown: Mapping[str, str]) -> tuple[Told, ...]:
    """Findings in words, under the names of files as the caller typed them."""
    told = (tell(finding, texts) for finding in findings)
    return tuple(replace(one, file=shown.get(one.file, one.file)) for one in told)


def _say(teller: Teller, reports: Sequence[Report], measures: bool) -> None:
    for one in reports:
        if measures and not one.source.size:
            from foldwright.cli.measures import say_measures

            say_measures(teller, one.source.shown, one.measures, one.passed_over)
        say_told(teller, one.told)
        if one.pieces:
            from foldwright.cli.pieces import say_pieces

            say_pieces(teller, one.pieces, one.source.shown if len(reports) > 1 else "")
    strengths = [told.strength for one in reports for told in one.told]
    teller.total(strengths, len({one.source.path for one in reports}))


def say_told(teller: Teller, told: Sequence[Told]) -> None:
    """Findings grouped by file, each file once."""
    for file in dict.fromkeys(one.file for one in told):
        teller.findings(file, [one for one in told if one.file == file])
