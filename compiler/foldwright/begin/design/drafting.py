"""A proposal as a draft: the recipe it becomes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.begin.design.model import DesignWish, Proposal, Things
from foldwright.begin.draft.model import Draft, DraftSupply
from foldwright.document.catalogue import Catalogue
from foldwright.recipe.facts.writing import write_cross, write_length
from foldwright.vocabulary import kind_of
from foldwright.vocabulary.contents import Posture

TOLD_IN_THE_TABLE = ("no-trim-to-spare", "sheet-yields-half", "sheet-too-small", "thickness-estimated")
"""Suggestions about sheets and their card that the table of proposals has told already."""


def draft_of_proposal(wish: DesignWish, proposal: Proposal, words: Catalogue, title: str = "") -> Draft:
    """The recipe of a proposal, on the sheets of the wish that its blanks come out of."""
    things = words.listed(list(words_of(wish.things)))
    key = f"summary-{proposal.form}" if proposal.form in ("card", "band") else "summary"
    fitting = (sheet.name for sheet, number in zip(wish.sheets, proposal.a_sheet, strict=True) if number)
    holds = proposal.lying is not None and proposal.form != "card"
    return Draft(
        title=title or title_of(wish, proposal, words),
        summary=words.say(f"command.design.{key}", things=things, envelope=proposal.envelope),
        system=wish.rules.system,
        card=wish.card.name,
        card_facts=wish.card.facts,
        sheets=(" or ".join(fitting),),
        parts=proposal.blanks,
        supplies=tuple(_contents(one, proposal) for one in wish.things) if holds else (),
    )


def title_of(wish: DesignWish, proposal: Proposal, words: Catalogue) -> str:
    """What a recipe of the proposal is called when nobody says."""
    names = words.listed([one.envelope or one.name for one in wish.things])
    title = words.say(f"command.design.title.{proposal.form}", things=names)
    return title[:1].upper() + title[1:]


def words_of(things: Sequence[Things]) -> Iterator[str]:
    """`3 treats of 1 1/8 x 3/4 x 1/2 in`, for each kind."""
    for one in things:
        yield f"1 {one.envelope}" if one.envelope else f"{one.count} {one.called or one.name} of {size_of(one)}"


def size_of(things: Things) -> str:
    """`40 mm round x 110 mm`, `1 x 5/8 x 1/2 in`, as a recipe has it."""
    if not things.round:
        return write_cross(things.size)
    diameter, *long = map(write_length, things.size)
    return " x ".join((f"{diameter} round", *long))


def _contents(things: Things, proposal: Proposal) -> DraftSupply:
    kind = kind_of(things.name)
    size = size_of(things)
    if things.flat:
        size = write_cross((*things.size, things.thick))
    upright = "this way up" if things.posture is Posture.UPRIGHT else ""
    facts = (kind.name if kind else "", f"use {things.count}", f"size {size}", upright)
    step = "wrap" if proposal.form == "band" else "fill"
    said = ", ".join(fact for fact in facts if fact)
    return DraftSupply(things.name, said, proposal.blanks[0].name, step, things.called)
