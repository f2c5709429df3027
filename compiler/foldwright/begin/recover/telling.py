"""A recovered blank in words: what was taken for granted, how far each reading is off, how sure it all is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.begin.draft.model import DraftNote
from foldwright.begin.recover.model import SampleSide
from foldwright.begin.recover.recovering import Off, Recovered
from foldwright.document.catalogue import Catalogue
from foldwright.measure.length import Length
from foldwright.measure.writing import plain_cross, write_readable

_HARDLY = 10
"""A reading that is off by less than this part of what it may be is hardly off."""


class ToldList(Struct, frozen=True):
    """Some sentences under a heading."""

    heading: str
    lines: tuple[str, ...]


def tell_recovered(recovered: Recovered, assumed: Sequence[DraftNote], words: Catalogue) -> tuple[ToldList, ...]:
    """All that is to be said of an answer, besides its pieces; what has nothing to say is left out."""
    taken = tuple(words.say(f"command.recover.assumed.{one.code}", **dict(one.facts)) for one in assumed)
    lists = (
        ("assumed", taken),
        ("offs", tuple(_off(off, words) for off in recovered.offs)),
        ("sure", tuple(_how_sure(recovered, words))),
    )
    return tuple(ToldList(words.say(f"command.recover.{name}-heading"), lines) for name, lines in lists if lines)


def tell_panels(recovered: Recovered, words: Catalogue) -> Iterator[str]:
    """A line for each side of each piece."""
    for known in recovered.pieces:
        for side in known.piece.sides:
            row = known.row(side.side)
            panels = " | ".join(write_readable(one).number for one in row)
            facts = {"piece": known.piece.name, "side": side.side, "row": panels, "unit": row[0].unit.symbol}
            yield words.say("command.recover.nearest-row", **facts)


def tell_length(length: Length) -> str:
    """`1/32 in`, on one line."""
    return plain_cross([write_readable(length)])


def _off(off: Off, words: Catalogue) -> str:
    hardly = abs(off.by.mm) * _HARDLY < off.reading.bound.mm
    how = "exact" if not off.by.mm else "hardly" if hardly else "short" if off.by.mm > 0 else "long"
    return words.say(
        f"command.recover.off-{how}",
        piece=off.piece,
        side=off.side.side,
        span=_span(off.side, off.reading.start, off.reading.end, words),
        said=off.reading.length,
        answer=off.answer,
        by=tell_length(Length(abs(off.by.mm), off.by.unit)),
    )


def _span(side: SampleSide, start: int, end: int, words: Catalogue) -> str:
    first, last = ("left", "right") if side.side == "across" else ("top", "bottom")
    if start == 0 and end == side.count:
        return words.say("command.recover.span.whole", first=first, last=last)
    if end == start + 1:
        return side.names[start] or words.say("command.recover.span.panel", number=end)
    if start == 0:
        return words.say("command.recover.span.from-edge", edge=first, score=end)
    if end == side.count:
        return words.say("command.recover.span.to-edge", edge=last, score=start)
    return words.say("command.recover.span.between", one=start, other=end)


def _how_sure(recovered: Recovered, words: Catalogue) -> Iterator[str]:
    other = words.say(f"command.recover.in.{recovered.system.other.value}")
    points = _points(recovered.points)
    if recovered.against is None:
        yield words.say("command.recover.points-alone", points=points, other=other)
    else:
        yield words.say("command.recover.points", points=points, other=other, more=_points(recovered.against))
    if doubt := recovered.doubt:
        yield words.say(
            "command.recover.doubt",
            more=_points(doubt.more),
            piece=doubt.piece,
            side=doubt.side.side,
            span=_span(doubt.side, doubt.start, doubt.end, words),
            this=doubt.this,
            other=doubt.other,
        )
    elif recovered.proven:
        yield words.say("command.recover.no-doubt")
    if not recovered.proven:
        yield words.say("command.recover.not-proven")


def _points(points: Fraction) -> str:
    return f"{float(points):.1f}"
