"""What `foldwright recover` says: the blank, what was taken for granted, how far readings are off, how sure it is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from foldwright.begin.recover.model import Assumed, SampleSide
from foldwright.begin.recover.recovering import Doubt, Off, Recovered, Recovery
from foldwright.cli.telling import INDENT, StyledLine, Teller
from foldwright.document.catalogue import catalogue
from foldwright.measure.length import Length
from foldwright.measure.writing import plain_cross, write_readable

_HARDLY = 10
"""A reading that is off by less than this part of what it may be is hardly off."""


def say_recovered(teller: Teller, recovered: Recovered, assumed: Iterable[Assumed], text: str) -> None:
    words = catalogue()
    teller.words("recover.answer", system=words.say(f"command.recover.in.{recovered.system.value}"))
    _say_pieces(teller, text)
    taken = [words.say(f"command.recover.assumed.{one.code}", **dict(one.facts)) for one in assumed]
    _list(teller, "assumed-heading", taken)
    _list(teller, "offs-heading", [_off_said(off, recovered) for off in recovered.offs])
    _list(teller, "sure-heading", list(_how_sure(recovered)))


def _say_pieces(teller: Teller, text: str) -> None:
    """The entry under `pieces:`, as it stands in the recipe."""
    _, _, below = text.partition("\npieces:\n")
    entry = below.partition("\n---\n")[0]
    teller.say(StyledLine(f"{INDENT}{line}") for line in ["pieces:", *entry.splitlines()])
    teller.say([StyledLine("")])


def _list(teller: Teller, heading: str, lines: list[str]) -> None:
    if not lines:
        return
    teller.words(f"recover.{heading}")
    for line in lines:
        teller.say(StyledLine(one) for one in teller.wrapped(line, INDENT))
    teller.say([StyledLine("")])


def _off_said(off: Off, recovered: Recovered) -> str:
    words = catalogue()
    known = next(one for one in recovered.pieces if one.piece.name == off.piece)
    side = next(one for one in known.piece.sides if one.side == off.side)
    facts = {
        "piece": off.piece,
        "side": off.side,
        "span": _span(side, off.reading.start, off.reading.end),
        "said": off.reading.length,
        "answer": off.answer,
        "by": _plainly(Length(abs(off.by.mm), off.by.unit)),
    }
    hardly = abs(off.by.mm) * _HARDLY < off.reading.bound.mm
    how = "exact" if not off.by.mm else "hardly" if hardly else "short" if off.by.mm > 0 else "long"
    return words.say(f"command.recover.off-{how}", **facts)


def _plainly(length: Length) -> str:
    return plain_cross([write_readable(length)])


def _span(side: SampleSide, start: int, end: int) -> str:
    words = catalogue()
    first, last = ("left", "right") if side.side == "across" else ("top", "bottom")
    if start == 0 and end == side.count:
        return words.say("command.recover.span.whole", first=first, last=last)
    if end == start + 1:
        name = side.names[start]
        key = "named-panel" if name else "panel"
        return words.say(f"command.recover.span.{key}", number=end, name=name)
    if start == 0:
        return words.say("command.recover.span.from-edge", edge=first, score=end)
    if end == side.count:
        return words.say("command.recover.span.to-edge", edge=last, score=start)
    return words.say("command.recover.span.between", one=start, other=end)


def _how_sure(recovered: Recovered) -> Iterator[str]:
    words = catalogue()
    other = words.say(f"command.recover.in.{recovered.system.other.value}")
    points = _points(recovered.points)
    if recovered.against is None:
        yield words.say("command.recover.points-alone", points=points, other=other)
    else:
        yield words.say("command.recover.points", points=points, other=other, more=_points(recovered.against))
    if recovered.doubt:
        yield _doubt_said(recovered.doubt, recovered)
    elif recovered.proven:
        yield words.say("command.recover.no-doubt")
    if not recovered.proven:
        yield words.say("command.recover.not-proven")


def _doubt_said(doubt: Doubt, recovered: Recovered) -> str:
    known = next(one for one in recovered.pieces if one.piece.name == doubt.piece)
    side = next(one for one in known.piece.sides if one.side == doubt.side)
    return catalogue().say(
        "command.recover.doubt",
        more=_points(doubt.more),
        piece=doubt.piece,
        side=doubt.side,
        span=_span(side, doubt.start, doubt.end),
        this=doubt.this,
        other=doubt.other,
    )


def _points(points: Fraction) -> str:
    return f"{float(points):.1f}"


def say_nearest(answer: Recovery, complaints: Teller) -> None:
    """What would do if every reading might be off by more."""
    if answer.nearest is None or answer.read_to is None:
        return
    rows = []
    for known in answer.nearest.pieces:
        for side in known.piece.sides:
            row = known.row(side.side)
            rows.append(
                catalogue().say(
                    "command.recover.nearest-row",
                    piece=known.piece.name,
                    side=side.side,
                    row=" | ".join(write_readable(one).number for one in row),
                    unit=row[0].unit.symbol,
                )
            )
    complaints.words("recover.nearest", read_to=_plainly(answer.read_to))
    for line in rows:
        complaints.text(INDENT + line)
    complaints.words("recover.nearest-how", read_to=_plainly(answer.read_to))
