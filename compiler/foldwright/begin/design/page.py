"""The page of proposals: each is made a document as any recipe is, for its pictures."""

from __future__ import annotations

from foldwright.begin.design.designing import Designed
from foldwright.begin.design.drafting import draft_of_proposal
from foldwright.begin.design.model import DesignWish, Proposal
from foldwright.begin.design.telling import ProposalLine, tell_form, tell_proposals, tell_wish
from foldwright.begin.draft.writing import write_draft
from foldwright.document.catalogue import Catalogue
from foldwright.document.model import Document
from foldwright.pipeline import check_recipe, compose_document
from foldwright.render.web.proposals import Proposed, proposals_page


def design_page(wish: DesignWish, designed: Designed, words: Catalogue) -> bytes:
    """The page, ready to write."""
    rows = tell_proposals(designed, wish, words)
    shown = [_proposed(wish, proposal, row, words) for proposal, row in zip(designed.all, rows, strict=True)]
    label = {name: words.say(f"command.design.column.{name}") for name in ("number", "points", "proportion")}
    label |= {name: words.say(f"command.design.page.{name}") for name in ("title", "form", "pictures")}
    label |= {"heading": words.say("command.design.heading", **tell_wish(wish)).rstrip(":") + "."}
    label |= {"legend": words.say("command.design.legend"), "language": words.language}
    return proposals_page(shown, [sheet.name for sheet in wish.sheets], wish.rules.system, label)


def _proposed(wish: DesignWish, proposal: Proposal, row: ProposalLine, words: Catalogue) -> Proposed:
    lines = (*(f"{name} {size}" for name, size, _, _ in row.blanks), row.lies)
    drawn = _document_of(wish, proposal, words)
    return Proposed(row.number, tell_form(row.form, words), lines, row.sheets, row.points, row.proportion, drawn)


def _document_of(wish: DesignWish, proposal: Proposal, words: Catalogue) -> Document:
    text = write_draft(draft_of_proposal(wish, proposal, words), words)
    checked = check_recipe(text, "proposal", "proposal")
    assert checked.understood is not None
    return compose_document(checked.understood, (), {"proposal": text})
