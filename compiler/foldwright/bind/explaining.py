"""Saying of every measure how it was understood, as data for `check --measures`."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from foldwright.bind.resolving import Resolved
from foldwright.bind.spans import PieceLength, PieceSpans, SpanKind
from foldwright.finding import Finding, Place
from foldwright.measure.length import Length


class Meaning(Struct, frozen=True):
    """How one length of a measure was understood: a code of the catalogue and the facts its sentence needs."""

    code: str
    facts: tuple[tuple[str, object], ...] = ()


class Explained(Struct, frozen=True):
    """A measure as said, its lengths, and one `Meaning` for each of them."""

    place: Place
    said: str
    lengths: tuple[Length, ...]
    understood: tuple[Meaning, ...]


def explain(resolved: Resolved, told: list[Finding], known: Mapping[str, PieceSpans]) -> Explained:
    """What was understood of a measure and of each length in it, for whoever asks to see."""
    measure, sheet = resolved.heard.measure, resolved.sheet
    unbound = Meaning("understood-bought", (("supply", sheet),)) if sheet else Meaning("understood-free")
    doubtful = {dict(finding.facts).get("said") for finding in told}
    understood = tuple(
        Meaning("understood-doubtful", (("length", length),))
        if length in doubtful
        else _of_span(span, known[span.id.piece])
        if span
        else unbound
        for length, span in zip(measure.lengths, resolved.spans, strict=True)
    )
    return Explained(measure.place, measure.said, measure.lengths, understood)


def _of_span(span: PieceLength, spans: PieceSpans) -> Meaning:
    facts: tuple[tuple[str, object], ...] = (("piece", span.id.piece), ("side", span.side))
    if span.kind is SpanKind.PANEL and (name := _panel_name(span, spans)):
        return Meaning("understood-named-panel", (*facts, ("panel", name)))
    code = {
        SpanKind.PANEL: "understood-panel",
        SpanKind.SCORE: f"understood-score-{span.side}",
        SpanKind.SCORE_BACK: f"understood-score-back-{span.side}",
    }.get(span.kind)
    return Meaning(code, (*facts, ("number", span.number), ("count", 1))) if code else _of_a_feature(span, facts)


def _of_a_feature(span: PieceLength, facts: tuple[tuple[str, object], ...]) -> Meaning:
    """A length of a hole, a border or a flap, or one that has no better name than its own."""
    side, place, number, of = span.side, span.id.place, span.id.number, span.id.of
    match span.kind:
        case SpanKind.SIZE:
            return Meaning("understood-size", facts)
        case SpanKind.HOLE:
            return Meaning(f"understood-hole-{place}", (*facts, ("number", number)))
        case SpanKind.HOLE_PLACE:
            return Meaning("understood-place-of-hole", (*facts, ("number", number), ("of", of), ("edge", place)))
        case SpanKind.BORDER:
            return Meaning(f"understood-{side}", (*facts, ("under", of)))
        case _ if (side, place) == ("flap", "trim"):
            return Meaning("understood-flap-trim", facts)
        case _ if of:
            return Meaning("understood-line", (*facts, ("number", number), ("point", of), ("place", place)))
        case _:
            code = "understood-numbered" if number else "understood-other"
            return Meaning(code, (*facts, ("place", place), ("number", number)))


def _panel_name(span: PieceLength, spans: PieceSpans) -> str:
    strips = () if spans.blank is None else spans.blank.across if span.side == "across" else spans.blank.down
    return strips[span.number - 1].name if 0 < span.number <= len(strips) else ""
