"""What cannot be had, in the same words on every paper whose numbers are not whole for it."""

from __future__ import annotations

from foldwright.document.catalogue import Catalogue
from foldwright.event.document.jobs import called
from foldwright.event.document.lengths import LengthWriter
from foldwright.event.document.model import PaperWords
from foldwright.event.plan.cutting import Missing
from foldwright.event.plan.planning import Event


def not_whole(event: Event, words: Catalogue) -> tuple[PaperWords, ...]:
    """What a paper has to say first; nothing where everything can be had."""
    if not event.missing:
        return ()
    told = missing_words(event, words)
    return (PaperWords(words.say("event.missing.heading"), (*told, words.say("event.missing.not-whole"))),)


def missing_words(event: Event, words: Catalogue) -> tuple[str, ...]:
    """A sentence for every piece and length that cannot be had."""
    lengths = LengthWriter(event.wishes.system, words)
    return tuple(_said(one, lengths, words) for one in event.missing)


def _said(one: Missing, lengths: LengthWriter, words: Catalogue) -> str:
    supply = called(one.supply, one.colour, words)
    if not one.piece:
        return words.say("event.missing.length", count=one.count, length=lengths.length(one.width), supply=supply)
    size = lengths.size(one.width, one.height)
    key = "scarce" if one.scarce else "piece"
    return words.say(f"event.missing.{key}", count=one.count, piece=one.piece, size=size, supply=supply)
