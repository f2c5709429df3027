"""`foldwright design`: blanks for what goes inside, in a table or on a page; the one chosen becomes a recipe."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from msgspec import Struct

from foldwright.begin.design.designing import Designed, design
from foldwright.begin.design.drafting import draft_of
from foldwright.begin.design.model import DesignWish, Proposal
from foldwright.begin.design.wishing import DesignOptions, Unclear, read_wish
from foldwright.cli.beginning import begin, drafted, drawings, say_thoughts, source_for, write_begun
from foldwright.cli.saying_designed import say_none, say_table, table_of, titled
from foldwright.cli.telling import Teller
from foldwright.cli.writing import cannot_write
from foldwright.outputs.reading import read_studio_file

SHOWN, ALL = 3, 12
"""How many proposals of each form are shown, and with --all."""


class Call(Struct, frozen=True):
    """What is to be done with the proposals: `take` one, as text; a page of pictures at `html`."""

    take: str = ""
    name: str = ""
    html: str = ""
    into: Path = Path("recipes")
    everything: bool = False


def design_blanks(asked: DesignOptions, call: Call) -> int:
    """Propose blanks, and begin a recipe of the one that is taken; the exit status."""
    complaints = Teller("stderr")
    studio = read_studio_file(source_for("x", call.into).studio)
    wish = read_wish(asked, studio)
    if isinstance(wish, Unclear):
        complaints.words(f"design.{wish.code}", **wish.facts)
        return 2
    designed = design(wish, ALL if call.everything else SHOWN, studio)
    if not designed.all:
        say_none(complaints, designed, wish)
        return 1
    if call.take:
        return _take(wish, designed, call, complaints)
    say_table(Teller(), designed, wish)
    return _write_page(wish, designed, Path(call.html), complaints) if call.html else 0


def _take(wish: DesignWish, designed: Designed, call: Call, complaints: Teller) -> int:
    proposals = designed.all
    number = int(call.take) if call.take.isascii() and call.take.isdecimal() and len(call.take) < 4 else 0
    if not 1 <= number <= len(proposals):
        complaints.words("design.take-which", said=call.take, most=len(proposals))
        return 2
    return begin_recipe(wish, proposals[number - 1], call.name, call.into, complaints)


def begin_recipe(wish: DesignWish, proposal: Proposal, name: str, into: Path, complaints: Teller) -> int:
    """Write the recipe of a proposal with drawings of its blanks; the exit status."""
    title, summary = titled(wish, proposal)
    source = source_for(name or title, into)
    begun = begin([drafted(partial(draft_of, wish, proposal, name or title, summary))], source)
    if begun.checked.wrong:
        complaints.words("design.not-well")
        complaints.findings(begun.findings, {source.name: begun.text})
        return 1
    teller = Teller()
    say_thoughts(teller, begun)
    if not write_begun(begun, drawings(begun, wish.system), complaints):
        return 2
    teller.words("new.wrote", path=source.shown, folder=str(source.folder))
    return 0


def _write_page(wish: DesignWish, designed: Designed, path: Path, complaints: Teller) -> int:
    from foldwright.cli.design_page import page_of

    data = page_of(wish, designed, table_of(designed, wish))
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    except OSError as trouble:
        wrong = cannot_write(path, trouble)
        complaints.words(f"wrong.{wrong.message}", **dict(wrong.facts))
        return 1
    Teller().words("design.wrote-page", path=str(path))
    return 0
