"""The words to put beside a video: what it shows, its chapters, what one needs, the sizes, where the tutorial is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.film import Chapter
from foldwright.document.model import Document, PieceLine, SupplyLine
from foldwright.document.quote_marks import curled
from foldwright.document.words import Both, MeasureInWords, Runs, SetMeasure, plain, plain_passage
from foldwright.measure.length import System
from foldwright.recipe.facts.moments import write_moment
from foldwright.recipe.words import flat_runs


def video_description(document: Document, chapters: Sequence[Chapter], systems: Sequence[System]) -> str:
    """Plain text, a paragraph for each part; the measures in each of `systems`, the recipe's own first."""
    words = catalogue(document.language)
    order = sorted(systems, key=lambda system: system is not document.system)
    parts = (
        _lines("", [document.head.title, _both(document.head.summary, order, words)]),
        _lines(words.say("video.chapters"), [f"{write_moment(one.start)} {one.title}" for one in chapters]),
        _lines(words.say("video.supplies"), [_supply(one, order, words) for one in document.supplies]),
        _lines(words.say("video.tools"), [_both(one.name, order, words) for one in document.tools]),
        _lines(words.say("video.sizes"), [_piece(one, order, words) for one in document.pieces if one.size]),
        _lines(words.say("video.cautions"), list(_cautions(document, order[0], words))),
        _lines("", list(_whence(document, words))),
    )
    return "\n".join(part for part in parts if part)


def _lines(heading: str, lines: Sequence[str]) -> str:
    """A paragraph, its heading above; nothing where it has no lines."""
    said = [line for line in lines if line]
    return "".join(f"{line}\n" for line in ([heading, *said] if heading else said)) if said else ""


def _both(runs: Runs, systems: Sequence[System], words: Catalogue) -> str:
    """One line; every measure in it in one system, and in brackets in the other."""
    return "".join(
        _measure(run.phrases, systems, words) if isinstance(run, MeasureInWords) else plain((run,), systems[0])
        for run in flat_runs(runs)
    )


def _measure(measure: Both[SetMeasure], systems: Sequence[System], words: Catalogue) -> str:
    """In both systems where that is not the same."""
    texts = list(dict.fromkeys(measure.of(system).plain for system in systems))
    return words.say("video.in-both", one=texts[0], other=texts[1]) if len(texts) > 1 else texts[0]


def _supply(supply: SupplyLine, systems: Sequence[System], words: Catalogue) -> str:
    name = _both(supply.name, systems, words)
    amount = _both(supply.amount, systems, words)
    line = words.say("video.supply", name=name, amount=amount) if amount else name
    return words.say("video.optional", thing=line) if supply.optional else line


def _piece(piece: PieceLine, systems: Sequence[System], words: Catalogue) -> str:
    assert piece.size is not None
    size = _measure(piece.size, systems, words)
    return words.say("video.piece", name=curled(piece.name), size=size, count=piece.count)


def _cautions(document: Document, system: System, words: Catalogue) -> Iterator[str]:
    """In short: how to avoid what may hurt, and the author's own words."""
    own = [caution for step in document.steps for caution in step.cautions if caution.own]
    for caution in (*document.cautions, *own):
        text = plain_passage(caution.own, system) if caution.own else caution.brief
        yield words.say("video.caution", signal=caution.signal_word, text=text)


def _whence(document: Document, words: Catalogue) -> Iterator[str]:
    head = document.head
    if head.address:
        yield words.say("video.tutorial", address=head.address)
    if head.credit:
        yield words.say("video.credit", credit=head.credit)
    if head.licence:
        licence = f"{head.licence}, {head.licence_address}" if head.licence_address else head.licence
        yield words.say("video.licence", licence=licence)
