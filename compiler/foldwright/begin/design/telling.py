"""Proposals in words and figures: a row for each, and why there is none of a form."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.begin.design.designing import Designed
from foldwright.begin.design.drafting import size_of, words_of
from foldwright.begin.design.made import MADE
from foldwright.begin.design.model import DesignWish, Joined, Proposal, Things, ThingsLying, solid
from foldwright.begin.design.ranking import fit_of, spare
from foldwright.begin.draft.model import Panels
from foldwright.document.catalogue import Catalogue
from foldwright.measure.length import Length
from foldwright.measure.plainness import MARKS
from foldwright.measure.steps import STEPS
from foldwright.measure.writing import plain_cross, write_exact
from foldwright.pack.model import Size
from foldwright.recipe.facts.writing import write_cross, write_length, write_panels, write_row


class ProposalLine(Struct, frozen=True):
    """One proposal in words: its number, its blanks, what comes out of each sheet, what there is to measure, its fit.

    `blanks` have a name, a size, and panels across and down. `lies` is how the things lie in it and what is left.
    """

    number: int
    form: str
    blanks: tuple[tuple[str, str, str, str], ...]
    sheets: tuple[str, ...]
    numbers: str
    fit: str
    lies: str


def tell_proposals(designed: Designed, wish: DesignWish, words: Catalogue) -> tuple[ProposalLine, ...]:
    """A row for each proposal, numbered through."""
    return tuple(_row(number, proposal, wish, words) for number, proposal in enumerate(designed.all, 1))


def tell_form(form: str, words: Catalogue) -> str:
    """A form as a heading: `Tray with lid`."""
    called = words.say(f"command.design.form-called.{form}")
    return called[:1].upper() + called[1:]


def tell_wish(wish: DesignWish) -> dict[str, object]:
    """The wish as the facts of a sentence."""
    return {
        "things": tuple(words_of(wish.things)),
        "card": f"{wish.card.name} ({wish.card.facts})",
        "step": write_length(wish.rules.step),
        "clearance": write_length(wish.rules.clearance),
    }


def tell_why_not(designed: Designed, words: Catalogue, table: str = "command") -> Iterator[str]:
    """A sentence for each reason why there is none of some forms; those of the command line where `table` has none."""
    for why in dict.fromkeys(designed.why_not.values()):
        message = why.message
        alike = [form for form, other in designed.why_not.items() if other == why]
        forms = [words.say(f"command.design.form-called.{form}") for form in alike]
        facts = dict(why.facts)
        if "size" in facts:
            facts["size"] = write_cross(facts["size"])  # type: ignore[arg-type]
        key = f"{table}.{message}"
        key = key if words.has(key) else f"command.{message}"
        yield words.say(key, forms=write_row(forms, words.say("command.design.or")), **facts)


def tell_how_it_lies(proposal: Proposal, wish: DesignWish, words: Catalogue) -> str:
    """How the things lie in what is proposed, or what it goes round or into."""
    if proposal.form == "band":
        return words.say("command.design.goes-round", name=wish.things[0].name)
    if proposal.lying and proposal.form != "card":
        return _lying(proposal.lying, wish, words)
    return words.say("command.design.goes-into", envelope=proposal.envelope)


def tell_taken(wish: DesignWish, words: Catalogue) -> Iterator[str]:
    """A sentence for each thing that was taken for granted."""
    for note in wish.taken:
        yield words.say(f"command.design.taken.{note.code}", **{word: _told(fact) for word, fact in note.facts})


def _told(fact: object) -> object:
    """A length or a size as a recipe has it."""
    if isinstance(fact, tuple):
        return write_cross(fact)
    return write_length(fact) if isinstance(fact, Length) else fact


def tell_numbers(proposal: Proposal, wish: DesignWish, words: Catalogue, part: str) -> str:
    """How many different numbers there are to measure, and on which marks of a ruler they all lie."""
    rows = ((*blank.across, *blank.down) for blank in proposal.blanks)
    lengths = {length.mm for row in rows for length in row}
    if proposal.form in MADE:
        lengths = {length.mm for length in proposal.inside}
    marks = (mark.mm for mark in MARKS[wish.rules.system] if not any(length % mark.mm for length in lengths))
    finest = next(marks, None)
    if finest is None:
        return words.say(f"command.design.{part}.numbers", count=len(lengths))
    step = write_length(Length(finest, wish.rules.unit))
    return words.say(f"command.design.{part}.numbers-on-marks", count=len(lengths), step=step)


def tell_room(room: Sequence[Fraction], wish: DesignWish, words: Catalogue) -> str:
    """What is left, on the marks of a fine ruler and never more than there is."""
    step = STEPS[wish.rules.system][-1]
    lengths = [Length(max(left, Fraction(0)) // step * step, wish.rules.unit) for left in room]
    return words.listed([write_exact(length).plain for length in lengths])


def _row(number: int, proposal: Proposal, wish: DesignWish, words: Catalogue) -> ProposalLine:
    lies, room = tell_how_it_lies(proposal, wish, words), tell_room(proposal.room, wish, words)
    if proposal.room:
        key = "smaller" if proposal.form == "card" else "lies"
        lies = words.say(f"command.design.{key}", lies=lies, room=room)
    return ProposalLine(
        number=number,
        form=proposal.form,
        blanks=tuple(_blank(blank) for blank in proposal.blanks),
        sheets=tuple(_out_of(count, words) for count in proposal.a_sheet),
        numbers=tell_numbers(proposal, wish, words, "column"),
        fit=_fit(proposal, words),
        lies=lies,
    )


def _blank(blank: Panels) -> tuple[str, str, str, str]:
    across, down = (write_panels(row) if len(row) > 1 else "" for row in (blank.across, blank.down))
    if inside := blank.fact("inside"):
        across = f"inside {inside}"
    return blank.name, write_cross(blank.size), across, down


def _out_of(count: Fraction, words: Catalogue) -> str:
    """`4`, or `1 in 2` where a set takes two sheets."""
    if not count:
        return words.say("command.design.none-out")
    return words.say("command.design.sheets-a-set", number=count.denominator) if count < 1 else str(count.numerator)


def _fit(proposal: Proposal, words: Catalogue) -> str:
    """How close it fits on the side that is loosest; nothing of what it goes round."""
    sides = spare(proposal.form, proposal.room)
    return words.say(f"command.design.column.{fit_of(max(left for _, left in sides))}") if sides else ""


def _lying(lying: ThingsLying, wish: DesignWish, words: Catalogue) -> str:
    said = ""
    for number, (things, (grid, way)) in enumerate(zip(wish.things, lying.rows, strict=True)):
        one = words.say(f"command.design.lie-{_key(things, grid, lying)}", **_facts(things, grid, way, words))
        if not number:
            said = one
            continue
        joined = lying.joined[number - 1]
        key = joined.name.lower()
        if joined is Joined.ON and not all(before.bears for before in wish.things[:number]):
            key = "under"
        said = words.say(f"command.design.joined.{key}", before=said, other=one)
    return said


def _key(things: Things, grid: tuple[int, int, int], lying: ThingsLying) -> str:
    wide, deep, high = grid
    if things.count == 1:
        return "one"
    if lying.staggered and things.round:
        return "in-the-gaps" if high == 1 else "in-the-gaps-layers"
    if sorted(grid)[1] == 1:
        return ("row", "file", "stack")[grid.index(max(grid))]
    even = "" if wide * deep * high == things.count else "-or-fewer"
    return f"flat{even}" if high == 1 else f"layers{even}"


def _facts(things: Things, grid: tuple[int, int, int], way: Size, words: Catalogue) -> dict[str, object]:
    unit = things.size[0].unit
    sides = [side for side in way if not (things.flat and side == things.thick.mm)]
    size = size_of(things) if things.round else plain_cross([write_exact(Length(side, unit)) for side in sides])
    how = words.say(f"command.design.way.{_way(things, way)}{'' if things.count == 1 else '-each'}")
    wide, deep, high = grid
    facts = {"name": things.called or things.name, "count": things.count, "wide": wide, "deep": deep, "high": high}
    return {**facts, "size": size, "how": how}


def _way(things: Things, way: Size) -> str:
    """Whether it lies on its largest side, stands on its smallest, or on edge; of something round, by its ends."""
    if things.round:
        diameter, long = solid(things)[1:]
        if diameter == long:
            return "lies"
        if things.stands and way[2] == long:
            return "stands"
        on_end = way[2] == long
        return ("stands" if on_end else "lies") if long > diameter else ("lies" if on_end else "edge")
    if things.stands and way[2] == solid(things)[2]:
        return "stands"
    return "lies" if way[2] == min(way) else "stands" if way[2] == max(way) else "edge"
