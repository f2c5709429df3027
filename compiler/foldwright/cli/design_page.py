"""The page of proposals: each is made a sheet as any recipe is, for its pictures."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.begin.design.designing import Designed
from foldwright.begin.design.drafting import draft_of
from foldwright.begin.design.model import DesignWish, Proposal
from foldwright.begin.draft.writing import write_draft
from foldwright.cli.saying_designed import ProposalLine, titled, wish_said
from foldwright.document.catalogue import catalogue
from foldwright.document.model import Document
from foldwright.pipeline import check_recipe, compose_document
from foldwright.render.web.proposals import Proposed, proposals_page


def page_of(wish: DesignWish, designed: Designed, rows: Sequence[ProposalLine]) -> bytes:
    """The page, ready to write."""
    words = catalogue()
    shown = [_proposed(wish, proposal, row) for proposal, row in zip(designed.all, rows, strict=True)]
    label = {name: words.say(f"command.design.column.{name}") for name in ("number", "points", "proportion")}
    label |= {name: words.say(f"command.design.page.{name}") for name in ("title", "form", "pictures")}
    label |= {"heading": words.say("command.design.heading", **wish_said(wish)).rstrip(":") + "."}
    label |= {"legend": words.say("command.design.legend"), "language": words.language}
    return proposals_page(shown, [sheet.name for sheet in wish.sheets], wish.system, label)


def _proposed(wish: DesignWish, proposal: Proposal, row: ProposalLine) -> Proposed:
    words = catalogue()
    lines = [f"{name} {size}" for name, size, _, _ in row.blanks]
    key = "goes-into" if row.form == "card" else "lies"
    lines.append(words.say(f"command.design.{key}", lies=row.lies, room=row.room))
    form = words.say(f"command.design.form-called.{row.form}")
    return Proposed(row.number, form, tuple(lines), row.sheets, row.points, row.proportion, _sheet_of(wish, proposal))


def _sheet_of(wish: DesignWish, proposal: Proposal) -> Document:
    title, summary = titled(wish, proposal)
    text = write_draft(draft_of(wish, proposal, title, summary), catalogue())
    checked = check_recipe(text, "proposal", "proposal")
    assert checked.understood is not None
    return compose_document(checked.understood, (), {"proposal": text})
