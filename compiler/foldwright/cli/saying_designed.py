"""What `foldwright design` says: a table of proposals in figures, and why a form has none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.begin.design.designing import Designed
from foldwright.begin.design.lying import SHEET_OF_PAPER
from foldwright.begin.design.model import DesignWish, Panels, Proposal, ThingsLying
from foldwright.begin.design.wishing import words_of
from foldwright.cli.telling import INDENT, StyledLine, Teller
from foldwright.document.catalogue import catalogue
from foldwright.measure.length import Length, System
from foldwright.measure.steps import STEPS
from foldwright.measure.writing import plain_cross, write_exact
from foldwright.recipe.facts.writing import write_cross, write_length, write_panels, write_row


class ProposalLine(Struct, frozen=True):
    """One proposal in words: its number, its blanks, what comes out of each sheet, its points and proportion.

    `blanks` have a name, a size, and panels across and down. `lies` is how the things lie, `room` what is left.
    """

    number: int
    form: str
    blanks: tuple[tuple[str, str, str, str], ...]
    sheets: tuple[str, ...]
    points: str
    proportion: str
    lies: str
    room: str


def table_of(designed: Designed, wish: DesignWish) -> tuple[ProposalLine, ...]:
    """A row for each proposal, numbered through."""
    return tuple(_row(number, proposal, wish) for number, proposal in enumerate(designed.all, 1))


def _row(number: int, proposal: Proposal, wish: DesignWish) -> ProposalLine:
    words = catalogue()
    return ProposalLine(
        number=number,
        form=proposal.form,
        blanks=tuple(_blank(blank) for blank in proposal.blanks),
        sheets=tuple(_out_of(count) for count in proposal.a_sheet),
        points=f"{float(proposal.points):g}",
        proportion=words.say("command.design.proportion", number=f"{float(proposal.proportion):.1f}"),
        lies=_lies(proposal.lying, wish) if proposal.lying and proposal.form != "card" else proposal.envelope,
        room=_room(proposal.room, wish.system, wish),
    )


def _blank(blank: Panels) -> tuple[str, str, str, str]:
    rows = [write_panels(row) if len(row) > 1 else "" for row in (blank.across, blank.down)]
    return blank.name, write_cross(blank.size), rows[0], rows[1]


def _out_of(count: Fraction) -> str:
    """`4`, or `1 in 2` where a set takes two sheets."""
    words = catalogue()
    if not count:
        return words.say("command.design.none-out")
    if count < 1:
        return words.say("command.design.sheets-a-set", count=count.denominator)
    return str(count.numerator)


def _lies(lying: ThingsLying, wish: DesignWish) -> str:
    words = catalogue()
    parts = []
    for things, (grid, way) in zip(wish.things, lying.rows, strict=True):
        unit = things.size[0].unit
        size = plain_cross([write_exact(Length(side, unit)) for side in way if side != SHEET_OF_PAPER])
        key = "one" if things.count == 1 else "flat" if grid[2] == 1 else "layers"
        parts.append(
            words.say(
                f"command.design.lie-{key}",
                name=things.called or things.name,
                wide=grid[0],
                deep=grid[1],
                high=grid[2],
                size=size,
            )
        )
    return words.listed(parts)


def _room(room: Sequence[Fraction], system: System, wish: DesignWish) -> str:
    """What is left, on the marks of a fine ruler and never more than there is."""
    step = STEPS[system][-1]
    lengths = [Length(max(left, Fraction(0)) // step * step, wish.unit) for left in room]
    return catalogue().listed([write_exact(length).plain for length in lengths])


# --- in the terminal ------------------------------------------------------------------------------------------------


def say_table(teller: Teller, designed: Designed, wish: DesignWish, closing: bool = True) -> None:
    """The table; `closing` also says how to begin a recipe from it."""
    words = catalogue()
    teller.words("design.heading", **wish_said(wish))
    rows = table_of(designed, wish)
    heads = [words.say(f"command.design.column.{name}") for name in ("number", "blank", "across", "down")]
    heads += [sheet.name for sheet in wish.sheets]
    heads += [words.say(f"command.design.column.{name}") for name in ("points", "proportion")]
    cells = [_cells(row) for row in rows]
    widths = [max(len(line[column]) for block in (*cells, [heads]) for line in block) for column in range(len(heads))]
    narrow = teller.terminal and sum(widths) + 2 * len(widths) > teller.width
    form = ""
    for row, block in zip(rows, cells, strict=True):
        if row.form != form:
            form = row.form
            teller.say([StyledLine(""), StyledLine(words.say(f"command.design.form-called.{form}"), "bold")])
            if not narrow:
                teller.say([StyledLine(INDENT + _aligned(heads, widths), "dim")])
        if narrow:
            teller.say(StyledLine(one) for line in _listed(row, wish) for one in teller.wrapped(line, INDENT))
        else:
            teller.say(StyledLine(INDENT + _aligned(line, widths)) for line in block)
        key = "lies" if row.form != "card" else "goes-into"
        teller.say(StyledLine(one) for one in teller.wrapped(_below(key, row), INDENT * 4))
    teller.say([StyledLine("")])
    for why in _why_not(designed):
        teller.text(why)
    teller.words("design.legend")
    if closing:
        teller.words("design.next")


def _listed(row: ProposalLine, wish: DesignWish) -> Iterator[str]:
    """The same where there is no room for a table."""
    words = catalogue()
    for number, (name, size, across, down) in enumerate(row.blanks):
        panels = "; ".join(part for part in (across, down) if part)
        lead = f"{row.number}. " if not number else ""
        yield f"{lead}{name} {size}: {panels}"
    sheets = words.listed([f"{count} ({sheet.name})" for count, sheet in zip(row.sheets, wish.sheets, strict=True)])
    yield words.say("command.design.narrow", sheets=sheets, points=row.points, proportion=row.proportion)


def _cells(row: ProposalLine) -> list[list[str]]:
    """A line for each blank; the numbers of the proposal stand beside the first."""
    lines = []
    for number, (name, size, across, down) in enumerate(row.blanks):
        first = number == 0
        sides = [*row.sheets, row.points, row.proportion] if first else [""] * (len(row.sheets) + 2)
        lines.append([str(row.number) if first else "", f"{name} {size}", across, down, *sides])
    return lines


def _aligned(cells: Sequence[str], widths: Sequence[int]) -> str:
    number, *others = (
        cell.rjust(width) if not place else cell.ljust(width)
        for place, (cell, width) in enumerate(zip(cells, widths, strict=True))
    )
    return "  ".join((number, *others)).rstrip()


def _below(key: str, row: ProposalLine) -> str:
    return catalogue().say(f"command.design.{key}", lies=row.lies, room=row.room)


def wish_said(wish: DesignWish) -> dict[str, object]:
    """The wish as the facts of a sentence."""
    return {
        "things": tuple(words_of(wish.things)),
        "card": f"{wish.card} ({wish.card_facts})",
        "step": write_length(wish.step),
        "clearance": write_length(wish.clearance),
    }


def _why_not(designed: Designed) -> Iterator[str]:
    words = catalogue()
    for code in dict.fromkeys(code for code, _ in designed.why_not.values()):
        names = [
            words.say(f"command.design.short-form.{form}") for form, why in designed.why_not.items() if why[0] == code
        ]
        forms = write_row(names, words.say("command.design.or"))
        facts = next(why[1] for why in designed.why_not.values() if why[0] == code)
        told = {name: write_cross(fact) if name == "size" else fact for name, fact in facts.items()}  # type: ignore[arg-type]
        yield words.say(f"command.design.{code}", forms=forms, **told)


def say_none(complaints: Teller, designed: Designed, wish: DesignWish) -> None:
    complaints.words("design.nothing", **wish_said(wish))
    for why in _why_not(designed):
        complaints.text(why)


def titled(wish: DesignWish, proposal: Proposal) -> tuple[str, str]:
    """A title and a summary for the recipe of a proposal, to be changed by whoever goes on with it."""
    words = catalogue()
    names = words.listed([one.envelope or one.name for one in wish.things])
    things = words.listed(list(words_of(wish.things)))
    title = words.say(f"command.design.title.{proposal.form}", things=names)
    key = "summary-card" if proposal.form == "card" else "summary"
    return title[:1].upper() + title[1:], words.say(f"command.design.{key}", things=things, envelope=proposal.envelope)
