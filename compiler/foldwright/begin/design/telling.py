"""Proposals in words and figures: a row for each, and why there is none of a form."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.begin.design.designing import Designed
from foldwright.begin.design.drafting import size_of, words_of
from foldwright.begin.design.model import SHEET_OF_PAPER, DesignWish, Proposal, ThingsLying
from foldwright.begin.draft.model import Panels
from foldwright.document.catalogue import Catalogue
from foldwright.measure.length import Length
from foldwright.measure.steps import STEPS
from foldwright.measure.writing import plain_cross, write_exact
from foldwright.recipe.facts.writing import write_cross, write_length, write_panels, write_row


class ProposalLine(Struct, frozen=True):
    """One proposal in words: its number, its blanks, what comes out of each sheet, its points and proportion.

    `blanks` have a name, a size, and panels across and down. `lies` is how the things lie in it and what is left.
    """

    number: int
    form: str
    blanks: tuple[tuple[str, str, str, str], ...]
    sheets: tuple[str, ...]
    points: str
    proportion: str
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
    for message in dict.fromkeys(why.message for why in designed.why_not.values()):
        alike = {form: why for form, why in designed.why_not.items() if why.message == message}
        forms = [words.say(f"command.design.form-called.{form}") for form in alike]
        facts = dict(next(iter(alike.values())).facts)
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
        points=f"{float(proposal.points):g}",
        proportion=f"{float(proposal.proportion):.1f}",
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


def _lying(lying: ThingsLying, wish: DesignWish, words: Catalogue) -> str:
    parts = []
    for things, (grid, way) in zip(wish.things, lying.rows, strict=True):
        unit = things.size[0].unit
        size = plain_cross([write_exact(Length(side, unit)) for side in way if side != SHEET_OF_PAPER])
        size = size_of(things) if things.round else size
        key = "one" if things.count == 1 else "flat" if grid[2] == 1 else "layers"
        if lying.staggered and things.round and things.count > 1:
            key = "in-the-gaps" if grid[2] == 1 else "in-the-gaps-layers"
        wide, deep, high = grid
        facts = {"name": things.called or things.name, "wide": wide, "deep": deep, "high": high, "size": size}
        parts.append(words.say(f"command.design.lie-{key}", **facts))
    return words.listed(parts)
