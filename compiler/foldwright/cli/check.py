"""`foldwright check`: everything that is the matter with some recipes, and, if asked, the measures in their words."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from msgspec.structs import replace

from foldwright.cli.calls import CheckCall
from foldwright.cli.report import Report, as_data
from foldwright.cli.telling import WRONG_CALL, Teller, told_as_shown
from foldwright.finding import Finding, Strength
from foldwright.outputs.checking import check_texts
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sizes import sizes_of
from foldwright.outputs.sources import Source, find_sources
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Checked, Understood, check_in_size, in_text_order


def check(call: CheckCall) -> int:
    """Check some recipes; the exit status. Of one recipe alone the pieces are told without asking."""
    sources, wrong = find_sources(map(Path, call.paths))
    complaints = Teller("stderr")
    for one in wrong:
        complaints.words(f"wrong.{one.message}", **dict(one.facts))
    as_json = call.format == "json"
    call = replace(call, pieces=call.pieces or as_json or len(sources) == 1)
    reports = [one for source in sources for one in reports_of(source, call)]
    if as_json:
        sys.stdout.buffer.write(as_data(reports, call.measures))
        sys.stdout.buffer.flush()
    elif reports:
        _tell(Teller(), reports, call.measures)
    if wrong:
        return WRONG_CALL
    return 1 if any(one.wrong for one in reports) else 0


def reports_of(source: Source, call: CheckCall) -> Iterator[Report]:
    """What there is to tell of a recipe as it is written, and of each of its sizes what is not the same there."""
    texts = read_texts(source)
    written = check_texts(texts, source.surroundings, strict=call.strict)
    understood = written.understood
    photos = _photo_findings(understood, source) if understood else ()
    yield _report(source, texts, replace(written, findings=(*written.findings, *photos)), call)
    if texts.text is None or understood is None:
        return
    read = source.surroundings.read
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
        shown = replace(texts, shown={**texts.shown, source.name: one.shown})
        yield _report(one, shown, replace(checked, findings=new), replace(call, measures=False))


def _report(source: Source, texts: Texts, checked: Checked, call: CheckCall) -> Report:
    report = Report(source, told_as_shown(in_text_order(checked.findings), texts.by_name, texts.shown))
    understood = checked.understood
    if understood and call.measures:
        from foldwright.cli.measures import measures_of, passed_over_of

        text = texts.text or ""
        report = replace(report, measures=measures_of(understood, text), passed_over=passed_over_of(understood, text))
    if understood and call.pieces:
        from foldwright.cli.pieces import pieces_of

        report = replace(report, pieces=pieces_of(understood))
    return report


def _photo_findings(understood: Understood, source: Source) -> tuple[Finding, ...]:
    recipe = understood.recipe
    if recipe.photo is None and all(step.photo is None for step in recipe.steps):
        return ()
    from foldwright.render.photos import check_photos

    return check_photos(recipe, source.surroundings.read)


def _tell(teller: Teller, reports: Sequence[Report], measures: bool) -> None:
    for one in reports:
        if measures and not one.source.size:
            from foldwright.cli.measures import tell_measures

            tell_measures(teller, one.source.shown, one.measures, one.passed_over)
        teller.told(one.told)
        if one.pieces:
            from foldwright.cli.pieces import tell_pieces

            tell_pieces(teller, one.pieces, one.source.shown if len(reports) > 1 else "")
    strengths = [told.strength for one in reports for told in one.told]
    teller.total(strengths, len({one.source.path for one in reports}))
