"""The page of proposals: each as it will look when it is made and filled, its blanks, and what it is worth in words."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.begin.design.designing import Designed
from foldwright.begin.design.drafting import draft_of_proposal
from foldwright.begin.design.model import DesignWish, Proposal
from foldwright.begin.design.ranking import fit_of, spare
from foldwright.begin.design.telling import tell_form, tell_how_it_lies, tell_numbers, tell_room, tell_taken, tell_wish
from foldwright.begin.draft.writing import write_draft
from foldwright.document.catalogue import Catalogue
from foldwright.document.model import Document
from foldwright.recipe.facts.writing import write_cross

_LABELS = ("title", "picks", "explained")


def design_page(wish: DesignWish, designed: Designed, words: Catalogue, theme: str) -> bytes:
    """The page, ready to write: each proposal is made a document as any recipe is, for its pictures. Raises
    ThemeError."""
    from foldwright.render.web.proposals import Proposed, proposals_page

    def proposed(number: int, proposal: Proposal) -> Proposed:
        facts, blanks = tell_facts(proposal, wish, words), tell_blanks(proposal)
        drawn, badge = _document(proposal, wish, words), tell_badge(proposal, designed, words)
        return Proposed(number, tell_form(proposal.form, words), facts, blanks, drawn, badge)

    shown = [proposed(number, proposal) for number, proposal in enumerate(designed.all, 1)]
    said = {name: words.say(f"command.design.page.{name}") for name in _LABELS}
    said |= {"heading": words.say("command.design.page.heading", **tell_wish(wish)), "language": words.language}
    said |= {"next": words.say("command.design.next")}
    return proposals_page(shown, [*tell_taken(wish, words)], wish.rules.system, said, theme)


def _document(proposal: Proposal, wish: DesignWish, words: Catalogue) -> Document:
    from foldwright.pipeline import check_recipe, compose_document

    text = write_draft(draft_of_proposal(wish, proposal, words), words)
    checked = check_recipe(text, "proposal", "proposal")
    assert checked.understood is not None
    return compose_document(checked.understood, (), {"proposal": text})


def tell_badge(proposal: Proposal, designed: Designed, words: Catalogue) -> str:
    """What marks the best of a form. Those of one form stand in order of merit; a box and a band cannot be compared."""
    found = designed.proposals[proposal.form]
    called = words.say(f"command.design.form-called.{proposal.form}")
    return words.say("command.design.page.best", form=called) if len(found) > 1 and proposal is found[0] else ""


def tell_blanks(proposal: Proposal) -> tuple[str, ...]:
    """What each of its blanks measures."""
    return tuple(f"{blank.name}, {write_cross(blank.size)}" for blank in proposal.blanks)


def tell_facts(proposal: Proposal, wish: DesignWish, words: Catalogue) -> tuple[str, ...]:
    """A sentence for each thing there is to choose by."""
    return tuple(fact[:1].upper() + fact[1:] for fact in _facts(proposal, wish, words))


def _facts(proposal: Proposal, wish: DesignWish, words: Catalogue) -> Iterator[str]:
    """What there is to choose by: how many a sheet gives, how the things fit, how hard the numbers are."""
    yield _out_of(proposal, wish, words)
    yield tell_how_it_lies(proposal, wish, words)
    if sides := spare(proposal.form, proposal.room):
        side, most = max(sides, key=lambda one: one[1])
        said = words.say(f"command.design.side.{side}")
        yield words.say(f"command.design.fit.{fit_of(most)}", room=tell_room((most,), wish, words), side=said)
    yield tell_numbers(proposal, wish, words, "page")


def _out_of(proposal: Proposal, wish: DesignWish, words: Catalogue) -> str:
    """How many come out of a sheet, the sheet that gives most first; sheets that give the same together."""
    alike: dict[Fraction, list[str]] = {}
    for sheet, count in zip(wish.sheets, proposal.a_sheet, strict=True):
        alike.setdefault(count, []).append(sheet.name)

    def told(count: Fraction, names: list[str]) -> str:
        key = "no-sheet" if not count else "sheets-for-one" if count < 1 else "from-one-sheet"
        number = count.denominator if count < 1 else int(count)
        return words.say(f"command.design.page.{key}", count=number, sheets=words.say("list.or").join(names))

    return words.say("list.comma").join(told(*one) for one in sorted(alike.items(), reverse=True))
