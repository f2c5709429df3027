"""A recovered sample as a draft, and in words: what was taken for granted, how far readings are off, how sure it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.draft.model import SHEETS, WEIGHTS, Draft, DraftNote, Panels
from foldwright.begin.recover.model import Sample, SampleSide
from foldwright.begin.recover.recovering import SURE, Doubt, Off, Recovered, RecoveredPiece
from foldwright.document.catalogue import Catalogue
from foldwright.measure.length import Length, Unit
from foldwright.measure.plainness import MARKS
from foldwright.measure.writing import plain_cross, write_readable

_FEWEST = 4
"""Of three equal panels nobody can say whether they fold to and fro or one over the other."""
_RELATIONS = ("fits over", "slides in", "goes round", "goes on")
_LEAST_PLAY = Fraction(3, 2)
"""Millimetres by which one piece must be larger than another to go over it, whatever its card (a careful guess)."""
_A_QUARTER, _AN_EIGHTH = Fraction(1, 4), Fraction(1, 8)
"""By no more than this part of it: what has more room than that was made for something else (a reasoned guess)."""
_MEETING = Fraction(9, 10)
"""Together a gate's leaves are about as wide as its middle: they meet, or leave a little of it to be seen."""


def draft_of_sample(sample: Sample, recovered: Recovered, title: str) -> tuple[Draft, tuple[DraftNote, ...]]:
    """The draft, and everything that was taken for granted on the way to it."""
    assumed = list(sample.assumed)
    # `card: blue card, 270 g/m2` says more than its name.
    card, _, more = (part.strip() for part in (sample.fact("card") or "white card").partition(","))
    facts = [more, *(f"{word} {said}" for word in ("weight", "thickness") if (said := sample.fact(word)))]
    if not any(facts):
        facts = [f"weight {WEIGHTS[recovered.system]}"]
        assumed.append(DraftNote.of("card-weighs", card=card, weight=WEIGHTS[recovered.system]))
    draft = Draft(
        title=title,
        summary=sample.fact("summary"),
        system=recovered.system,
        card=card,
        card_facts=", ".join(filter(None, facts)),
        sheets=(sample.fact("sheet"),) if sample.fact("sheet") else SHEETS[recovered.system],
        parts=_together([_part(known, assumed) for known in recovered.pieces], assumed),
    )
    return draft, tuple(assumed)


def _part(known: RecoveredPiece, assumed: list[DraftNote]) -> Panels:
    said = dict(known.piece.facts)
    name = known.piece.name
    form = said.get("fold", "").partition(",")[0].strip().casefold()
    if not form and (form := form_of(known.across, known.down)):
        assumed.append(DraftNote.of("folds-to", piece=name, form=form))
        said["fold"] = form
    across, down = (side.names for side in known.piece.sides)
    joined: tuple[str, ...] = ()
    boxed = len(known.across) == 3 and len(known.down) == 3
    if form in ("tray", "lid") and boxed and not said.keys() & {"flaps", "corners"}:
        # The outer panels by their own names where both have one, else by what they answer to.
        own = down[0], down[-1]
        joined = own if all(own) and own[0] != own[1] else ("top", "bottom")
        assumed.append(DraftNote.of("flaps-joined-to", piece=name, panels=joined))
    if form == "sleeve":
        across, down = _with_glue_flap(known.across, across), _with_glue_flap(known.down, down)
    return Panels(name, form, known.across, known.down, across, down, joined, None, tuple(said.items()))


def _with_glue_flap(row: Sequence[Length], names: tuple[str, ...]) -> tuple[str, ...]:
    flap = _glue_flap_in(row)
    if flap is None or any("glue" in name for name in names):
        return names
    return tuple(name or ("glue flap" if number == flap else "") for number, name in enumerate(names))


# --- what it folds to -----------------------------------------------------------------------------------------------


def form_of(across: Sequence[Length], down: Sequence[Length]) -> str:
    """What a blank most likely folds to when nobody says: empty when that is not plain from its panels."""
    if len(across) == 3 and len(down) == 3:
        return "tray"
    if len(across) > 1 and len(down) > 1:
        return ""
    row = across if len(across) > 1 else down
    if _glue_flap_in(row) is not None:
        return "sleeve"
    if len(row) == 2:
        return "card"
    if len(row) == 3 and row[0] == row[2] and _MEETING * row[1].mm <= row[0].mm * 2 <= row[1].mm:
        return "gate"
    if len(row) == 3 and max(row).mm < 2 * min(row).mm:
        return "tri-fold"
    return "accordion" if len(row) >= _FEWEST and len(set(row)) == 1 else ""


def _glue_flap_in(row: Sequence[Length]) -> int | None:
    """Which panel of a row that goes once round is the glue flap, counted from nought; None when it has none."""
    if len(row) == 5:
        for flap, walls in ((4, row[:4]), (0, row[1:])):
            if walls[0] == walls[2] and walls[1] == walls[3] and row[flap].mm < min(walls[0], walls[1]).mm * 2:
                return flap
    return None


# --- what goes with what ----------------------------------------------------------------------------------------------


def _together(parts: Sequence[Panels], assumed: list[DraftNote]) -> tuple[Panels, ...]:
    """Of two pieces of which nobody says so: the drawer that plainly slides into the sleeve, the lid over the box."""
    if len(parts) != 2 or any(part.fact(word) for part in parts for word in _RELATIONS):
        return tuple(parts)
    for at, (inner, outer) in enumerate((parts, (parts[1], parts[0]))):
        guessed = DraftNote.of("folds-to", piece=outer.name, form="tray")
        if inner.form != "tray" or not _boxed(inner):
            continue
        if outer.form == "sleeve" and _slides_in(inner, outer):
            assumed.append(DraftNote.of("slides-in", piece=inner.name, other=outer.name))
            inner = _with(inner, inner.form, ("slides in", outer.name))
        elif (outer.form == "lid" or guessed in assumed) and _boxed(outer) and _covers(outer, inner):
            assumed[:] = [one for one in assumed if one != guessed]
            assumed.append(DraftNote.of("fits-over", piece=outer.name, other=inner.name))
            outer = _with(outer, "lid", ("fits over", inner.name))
        else:
            continue
        return (outer, inner) if at else (inner, outer)
    return tuple(parts)


def _boxed(part: Panels) -> bool:
    return len(part.across) == len(part.down) == 3


def _with(part: Panels, form: str, fact: tuple[str, str]) -> Panels:
    facts = {**dict(part.facts), "fold": form} | dict([fact])
    return replace(part, form=form, facts=tuple(facts.items()))


def _slides_in(drawer: Panels, sleeve: Panels) -> bool:
    """Whether one side of the floor and the height go into the two sides of the sleeve, and nearly fill them."""
    row = sleeve.across if len(sleeve.across) == 5 else sleeve.down
    flap = _glue_flap_in(row)
    if flap is None:
        return False
    round_it = row[1].mm, row[2].mm
    high = drawer.across[0].mm
    return any(
        _just_over(wide, floor.mm, _A_QUARTER) and _just_over(tall, high, _A_QUARTER)
        for wide, tall in (round_it, round_it[::-1])
        for floor in (drawer.across[1], drawer.down[1])
    )


def _covers(lid: Panels, box: Panels) -> bool:
    """Whether the lid is a little larger than the box, both ways."""
    floors = (sorted((part.across[1].mm, part.down[1].mm)) for part in (lid, box))
    return all(_just_over(larger, floor, _AN_EIGHTH) for larger, floor in zip(*floors, strict=True))


def _just_over(larger: Fraction, smaller: Fraction, most: Fraction) -> bool:
    return _LEAST_PLAY <= larger - smaller <= smaller * most


# --- in words ---------------------------------------------------------------------------------------------------------


_HARDLY = 10
"""A reading that is off by less than this part of what it may be is hardly off."""
_HUNDRED = 100


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
    chance = _in_a_hundred(recovered.chance)
    yield words.say("command.recover.nearly-sure" if chance == _HUNDRED else "command.recover.chance", chance=chance)
    if elsewhere := _in_a_hundred(recovered.elsewhere):
        yield words.say("command.recover.elsewhere", chance=elsewhere, other=other)
    unit = recovered.offs[0].reading.length.unit
    for what, mm in (("zero", recovered.zero), ("fold", recovered.fold)):
        if by := _on_marks(abs(mm), unit):
            yield words.say(f"command.recover.{what}-{'more' if mm > 0 else 'less'}", by=tell_length(by))
    if recovered.doubt:
        yield tell_doubt(recovered.doubt, words)
    elif recovered.chance >= SURE:
        yield words.say("command.recover.no-doubt")
    else:
        yield words.say("command.recover.many-others")


def _in_a_hundred(chance: float) -> int:
    return min(round(chance * _HUNDRED), _HUNDRED)


def _on_marks(mm: float, unit: Unit) -> Length | None:
    """What was reckoned of a ruler or a fold, on the finest mark of a ruler; None where it is less than that."""
    mark = MARKS[unit.system][-1].mm
    marks = round(mm / float(mark))
    return Length(marks * mark, unit) if marks else None


def tell_doubt(doubt: Doubt, words: Catalogue) -> str:
    """Which one measurement would tell two blanks apart."""
    return words.say(
        "command.recover.doubt",
        chance=_in_a_hundred(doubt.chance),
        piece=doubt.piece,
        side=doubt.side.side,
        span=_span(doubt.side, doubt.start, doubt.end, words),
        this=doubt.this,
        other=doubt.other,
    )
