"""`foldwright check`: everything that is the matter with some recipes, and, if asked, the measures in their words."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from msgspec.structs import replace

from foldwright.cli.calls import CheckCall
from foldwright.cli.report import Report, as_data
from foldwright.cli.telling import WRONG_CALL, Teller, told_as_shown, unheard
from foldwright.finding import Wrong
from foldwright.outputs.checking import check_every_size
from foldwright.outputs.reading import in_size, read_texts
from foldwright.outputs.sources import Source, find_sources
from foldwright.outputs.spoken import heard
from foldwright.pipeline import Understood


def check(call: CheckCall) -> int:
    """Check some recipes; the exit status. Of one recipe alone the pieces are told without asking."""
    sources, wrong = find_sources(map(Path, call.paths))
    complaints = Teller("stderr")
    for one in wrong:
        complaints.wrong(one)
    as_json = call.format == "json"
    if call.mend and as_json:
        return complaints.refuse([Wrong.of("mend-as-json")])
    if call.captions and len(sources) > 1:
        return complaints.refuse([Wrong.of("captions-of-which", captions=call.captions)])
    if call.mend and (stopped := _mended(sources, call.strict, call.captions)):
        complaints.wrong(stopped)
        return 1
    call = replace(call, pieces=call.pieces or as_json or len(sources) == 1)
    reports = [one for source in sources for one in reports_of(source, call)]
    if as_json:
        with unheard(sys.stdout):
            sys.stdout.buffer.write(as_data(reports, call.measures).encode())
            sys.stdout.buffer.flush()
    elif reports:
        _tell(Teller(), reports, call.measures)
    if wrong:
        return WRONG_CALL
    return 1 if any(one.wrong for one in reports) else 0


def _mended(sources: Sequence[Source], strict: bool, captions: str) -> Wrong | None:
    from foldwright.cli.mending import mend

    return mend(sources, strict, captions)


def reports_of(source: Source, call: CheckCall) -> Iterator[Report]:
    """What there is to tell of a recipe as it is written, and of each of its sizes what is not the same there."""
    texts = read_texts(source)
    for size, checked in check_every_size(texts, source.surroundings, call.strict):
        if not size:
            texts, checked = heard(texts, checked, source.surroundings, call.captions)
        # Told of under the name of the recipe as written, so that what is the same is told once, and shown by its size.
        one = in_size(source, size) if size else source
        told = told_as_shown(checked.findings, texts.by_name, {**texts.shown, source.name: one.shown})
        report = Report(one, told)
        if checked.understood:
            report = _with_lists(report, checked.understood, texts.text or "", call)
        yield report


def _with_lists(report: Report, understood: Understood, text: str, call: CheckCall) -> Report:
    """The same with what was asked for besides the findings."""
    if call.measures or call.pieces:
        from foldwright.cli.listing import measures_of, passed_over_of, pieces_of

        if call.measures and not report.source.size:
            measures, passed_over = measures_of(understood, text), passed_over_of(understood, text)
            report = replace(report, measures=measures, passed_over=passed_over)
        report = replace(report, pieces=pieces_of(understood) if call.pieces else ())
    return report


def _tell(teller: Teller, reports: Sequence[Report], measures: bool) -> None:
    for one in reports:
        if measures and not one.source.size:
            from foldwright.cli.listing import tell_measures

            tell_measures(teller, one.source.shown, one.measures, one.passed_over)
        teller.told(one.told)
        if one.pieces:
            from foldwright.cli.listing import tell_pieces

            tell_pieces(teller, one.pieces, one.source.shown if len(reports) > 1 else "")
    strengths = [told.strength for one in reports for told in one.told]
    teller.total(strengths, len({one.source.path for one in reports}))
