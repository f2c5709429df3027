"""A document as plain data for `sheet.json`; texts that hold measures stand once per unit system."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

from foldwright.document import model
from foldwright.document import sheet_data as sheet
from foldwright.document.data_format import encoded
from foldwright.document.film import chapters_of
from foldwright.document.findings import Told
from foldwright.document.words import Both, Passage, Runs, plain, plain_passage
from foldwright.finding import Strength
from foldwright.measure.length import System
from foldwright.vocabulary import Signal

_STRENGTHS: Mapping[Strength, Literal["fault", "misfit", "thought"]]
_STRENGTHS = {Strength.FAULT: "fault", Strength.MISFIT: "misfit", Strength.THOUGHT: "thought"}
_SIGNALS: Mapping[Signal, Literal["notice", "caution", "warning"]]
_SIGNALS = {Signal.NOTICE: "notice", Signal.CAUTION: "caution", Signal.WARNING: "warning"}


def as_json(document: model.Document) -> str:
    """The text of `sheet.json`."""
    return encoded(as_data(document), indent=2)


def as_data(document: model.Document) -> sheet.SheetData:
    """Everything the compiler worked out about a recipe."""
    head = document.head
    return sheet.SheetData(
        version=7,
        language=document.language,
        slug=document.slug,
        written_in=document.system,
        draft=document.standing is model.Readiness.DRAFT,
        title=head.title,
        summary=_words(head.summary),
        credit=head.credit,
        licence=sheet.LicenceData(head.licence, head.licence_address),
        revised=head.revised,
        published=head.published,
        tags=head.tags,
        seasons=head.seasons,
        makes=head.makes,
        level=head.level,
        audience=head.audience,
        studio=head.studio,
        author=head.author,
        address=head.address,
        video=head.video,
        chapters=tuple([sheet.ChapterData(one.step, one.title, one.start, one.end) for one in chapters_of(document)]),
        photo=_photo(document.photo),
        intro=_passage(document.intro),
        supplies=tuple(map(_supply, document.supplies)),
        tools=tuple([sheet.ToolData(_words(one.name), one.optional, _instead(one.instead)) for one in document.tools]),
        pieces=tuple(map(_piece, document.pieces)),
        cautions=tuple(map(_caution, document.cautions)),
        steps=tuple(map(_step, document.steps)),
        sections=tuple(
            [sheet.SectionData(one.kind, _words(one.heading), _passage(one.words)) for one in document.sections]
        ),
        time=_time(document.totals),
        rounding=sheet.RoundingData(document.rounding.imperial, document.rounding.metric),
        finished=_drawing(document.finished) if document.finished else None,
        pictures=tuple([_shown(shown, document) for shown in document.shown]),
        findings=tuple(map(_finding, document.findings)),
    )


def _words(runs: Runs) -> sheet.WordsData:
    return sheet.WordsData(plain(runs, System.IMPERIAL), plain(runs, System.METRIC))


def _lines(lines: Iterable[Runs]) -> tuple[sheet.WordsData, ...]:
    return tuple(map(_words, lines))


def _passage(passage: Passage) -> sheet.WordsData:
    return sheet.WordsData(plain_passage(passage, System.IMPERIAL), plain_passage(passage, System.METRIC))


def _texts(texts: Both[str]) -> sheet.WordsData:
    return sheet.WordsData(texts.imperial, texts.metric)


def _length(quantity: model.Quantity | None) -> sheet.LengthData | None:
    if quantity is None:
        return None
    return sheet.LengthData(quantity.exact.mm, quantity.printed.imperial.plain, quantity.printed.metric.plain)


def _panel(panel: model.PanelLine) -> sheet.PanelData:
    printed = panel.length.printed
    return sheet.PanelData(panel.name, panel.length.exact.mm, printed.imperial.plain, printed.metric.plain)


def _seconds(span: model.TimeSpan | None) -> int:
    return span.seconds if span else 0


def _time(totals: model.TotalsInWords) -> sheet.TimeData:
    return sheet.TimeData(
        hands_on=totals.hands_on.seconds,
        get_ready=_seconds(totals.get_ready),
        waiting=_seconds(totals.waiting),
        elapsed=totals.elapsed.seconds,
        estimated=totals.estimated,
    )


def _shown(shown: model.PlacedPicture, document: model.Document) -> sheet.PictureData:
    drawing = document.picture(shown) if shown.drawing else None
    return sheet.PictureData(shown.step, shown.piece, _photo(shown.photo), _drawing(drawing) if drawing else None)


def _drawing(picture: model.Picture) -> sheet.DrawingData:
    return sheet.DrawingData(picture.name, picture.kind, _words(picture.title), _texts(picture.describes))


def _photo(photo: model.Photograph | None) -> sheet.PhotoData | None:
    return sheet.PhotoData(photo.path, photo.shows) if photo else None


def _instead(all_: tuple[model.Substitute, ...]) -> tuple[sheet.InsteadData, ...]:
    return tuple([sheet.InsteadData(_words(one.name), _words(one.remark)) for one in all_])


def _supply(supply: model.SupplyLine) -> sheet.SupplyData:
    return sheet.SupplyData(
        name=_words(supply.name),
        kind=supply.kind,
        amount=_words(supply.amount),
        details=_words(supply.details),
        packs=_lines(supply.packs),
        colours=supply.colours,
        contains=supply.contains,
        optional=supply.optional,
        instead=_instead(supply.instead),
        note=_words(supply.note),
    )


def _piece(piece: model.PieceLine) -> sheet.PieceData:
    return sheet.PieceData(
        name=piece.name,
        count=piece.count,
        from_=piece.supply,
        optional=piece.optional,
        size=sheet.SizeData(_length(piece.across), _length(piece.down)),
        across=tuple(map(_panel, piece.panels_across)),
        down=tuple(map(_panel, piece.panels_down)),
        work=_lines(piece.work),
        worked_out=_lines(piece.rows),
        fit=_lines(piece.fit),
        picture=_texts(piece.picture.describes) if piece.picture else None,
        note=_words(piece.note),
    )


def _caution(caution: model.CautionText) -> sheet.CautionData:
    return sheet.CautionData(
        code=caution.code,
        signal=_SIGNALS[caution.signal],
        hazard=caution.hazard,
        consequence=caution.consequence,
        avoid=caution.avoid,
        reminder=caution.reminder,
        own=_passage(caution.own),
    )


def _step(step: model.StepText) -> sheet.StepData:
    time = step.time
    return sheet.StepData(
        number=step.number,
        heading=_words(step.heading),
        words=_passage(step.words),
        short=_passage(step.wordings[-1]) if len(step.wordings) > 1 else None,
        when=step.when,
        hands_on=_seconds(time.hands_on),
        get_ready=_seconds(time.get_ready),
        waiting=_seconds(time.waiting),
        estimated=time.estimated,
        meanwhile=_words(step.meanwhile),
        optional=step.optional,
        pieces=step.pieces,
        cautions=tuple(map(_caution, step.cautions)),
        drawings=tuple(map(_drawing, step.pictures)),
        checks=_lines(step.trials),
        tip=_passage(step.tip),
        photo=_photo(step.photo),
        video=step.video,
    )


def _finding(told: Told) -> sheet.FindingData:
    return sheet.FindingData(
        code=told.code,
        strength=_STRENGTHS[told.strength],
        file=told.file,
        line=told.line,
        column=told.column,
        said=told.said,
        says=told.says,
        understood=told.understood,
        remedy=told.remedy,
    )
