"""A proposal as a draft: the recipe it becomes."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.begin.design.lying import solid
from foldwright.begin.design.model import DesignWish, Panels, Proposal, Things
from foldwright.begin.draft.model import Draft, DraftContents, DraftPiece
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.facts.writing import write_cross, write_length, write_panels
from foldwright.recipe.model import NamedSheet
from foldwright.vocabulary import kind_of

TOLD_IN_THE_TABLE = ("no-trim-to-spare", "sheet-yields-half", "sheet-too-small")
"""Thoughts about sheets that the table of proposals has told already."""
_TAPE_WIDTH = {System.IMPERIAL: "1/4 in", System.METRIC: "6 mm"}
_WHOLE_TAPE = {System.IMPERIAL: Unit.INCH.mm, System.METRIC: Fraction(10)}
"""Tape is told in whole inches or centimetres, and a little more than is needed."""


def draft_of(wish: DesignWish, proposal: Proposal, title: str, summary: str) -> Draft:
    """The recipe of a proposal."""
    holder = proposal.blanks[0].name
    holds = proposal.lying is not None and proposal.form != "card"
    parts = tuple(_part(wish, blank, holder if holds else "") for blank in proposal.blanks)
    tape = _tape(wish, proposal)
    sheets = " or ".join(sheet.name for sheet in fitting(wish, proposal))
    names = [blank.name for blank in proposal.blanks]
    return Draft(
        title=title,
        summary=summary,
        system=wish.system,
        card=wish.card,
        card_facts=", ".join(fact for fact in ("cardstock", wish.card_facts, f"sheet {sheets}") if fact),
        parts=parts,
        makes=f"1 {proposal.form if proposal.form in ('envelope', 'card') else 'box'}",
        tape=write_length(tape) if tape else "",
        tape_width=_TAPE_WIDTH[wish.system],
        supplies=tuple(_contents(things, holder) for things in wish.things) if holds else (),
        over=(("lid", holder),) if "lid" in names else (),
        into=((holder, "sleeve"),) if "sleeve" in names else (),
    )


def fitting(wish: DesignWish, proposal: Proposal) -> tuple[NamedSheet, ...]:
    """The sheets of the wish that the blanks come out of."""
    return tuple(sheet for sheet, number in zip(wish.sheets, proposal.a_sheet, strict=True) if number)


def _part(wish: DesignWish, blank: Panels, holder: str) -> DraftPiece:
    facts = [("from", wish.card), ("size", write_cross(blank.size))]
    for side, row, names in (("across", blank.across, blank.across_names), ("down", blank.down, blank.down_names)):
        if len(row) > 1:
            facts.append((side, write_panels(row, names)))
    facts += blank.facts
    if blank.name == holder:
        facts.append(("holds", ", ".join(things.name for things in wish.things)))
    return DraftPiece(blank.name, blank.form, tuple(facts), blank.trim)


def _contents(things: Things, into: str) -> DraftContents:
    kind = kind_of(things.name)
    size = things.size if not things.flat else (*things.size, Length(solid(things)[2], Unit.MILLIMETRE))
    facts = [f"kind {kind.name}" if kind else "", f"use {things.count}", f"size {write_cross(size)}"]
    return DraftContents(things.name, ", ".join(fact for fact in facts if fact).removeprefix("kind "), into)


def _tape(wish: DesignWish, proposal: Proposal) -> Length | None:
    needed = sum((mm for blank in proposal.blanks for mm in _strips(blank)), Fraction(0))
    if not needed:
        return None
    whole = _WHOLE_TAPE[wish.system]
    return Length(-(-needed // whole) * whole, wish.unit)


def _strips(blank: Panels) -> Iterator[Fraction]:
    """How long the strips of tape are that a blank takes: one on each flap, one along a sleeve, two on an envelope."""
    if blank.form in ("tray", "lid"):
        yield from (blank.across[0].mm,) * 4
    elif blank.form == "sleeve":
        yield blank.down[0].mm
    elif blank.form == "envelope":
        yield from (blank.down[-1].mm,) * 2
