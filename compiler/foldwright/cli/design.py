"""`foldwright design`: blanks for what goes inside, of which one becomes a recipe; or another size of a recipe."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from pathlib import Path
from shlex import quote

from msgspec.structs import replace

from foldwright.begin.design.designing import Designed, design
from foldwright.begin.design.drafting import draft_of_proposal
from foldwright.begin.design.model import FORMS, DesignWish, Proposal
from foldwright.begin.design.telling import (
    ProposalLine,
    tell_form,
    tell_proposals,
    tell_taken,
    tell_why_not,
    tell_wish,
)
from foldwright.begin.design.wishing import read_wish
from foldwright.begin.options import DesignOptions, SizeOptions
from foldwright.begin.resize.sizing import NewSize, resize, size_change, size_name_wrong, what_works, with_new_size
from foldwright.begin.resize.telling import tell_note
from foldwright.cli.beginning import AnswerError, ask, begin_in, tell_wrong, write_begun
from foldwright.cli.calls import DesignCall
from foldwright.cli.telling import INDENT, StyledLine, Teller, told_as_shown
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import Told
from foldwright.finding import Strength, Wrong
from foldwright.finding.changes import Change
from foldwright.mending.saved import as_saved
from foldwright.outputs.checking import check_texts
from foldwright.outputs.new_folders import cannot_write, studio_beside
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source, find_sources
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Understood

_SHOWN, _ALL = 3, 12
"""How many proposals of each form are shown, and with --all."""
_EXAMPLE, _CARD, _ANY = "3 caramels of 1 1/8 x 3/4 x 1/2 in", "white card, 270 g/m2", "all"
"""What is suggested to whom is asked."""


def design_blanks(call: DesignCall) -> int:
    """Propose blanks and begin a recipe of the one that is taken, or work out another size; the exit status."""
    if call.resize or call.scale or call.holds:
        return _resize_recipe(call)
    into = Path(call.into)
    studio = studio_beside(into)
    wish = read_wish(call, studio)
    if isinstance(wish, Wrong):
        return tell_wrong(wish)
    designed = design(wish, _ALL if call.all else _SHOWN, studio)
    if not designed.all:
        return _tell_none(designed, wish)
    if call.take:
        if isinstance(number := _number(call.take, len(designed.all)), Wrong):
            return tell_wrong(number)
        return _begin(wish, designed.all[number - 1], call.name, into)
    teller = Teller()
    _tell_table(teller, designed, wish)
    teller.words("design.next")
    said = studio.theme if studio else None
    return _write_page(wish, designed, Path(call.html), call.theme or (said.value if said else "")) if call.html else 0


def ask_and_design(title: str, into: Path) -> int:
    """Ask what goes inside, show what would hold it, begin a recipe of the one that is chosen; the exit status."""
    studio = studio_beside(into)

    def wished(things: str, card: str = "", form: str = _ANY) -> DesignWish | Wrong:
        form = "" if form.casefold() == _ANY else form
        return read_wish(DesignOptions(things=(things,), form=form, card=card), studio)

    def known(said: str, wish: DesignWish | Wrong) -> str | Wrong:
        return wish if isinstance(wish, Wrong) else said

    try:
        things = ask("", "new.ask-things", _EXAMPLE, lambda said: known(said, wished(said)))
        card = ask("", "design.ask-card", _CARD, lambda said: known(said, wished(things, said)))
        wish = ask("", "design.ask-form", _ANY, lambda said: wished(things, card, said), forms=FORMS)
        designed = design(wish, _SHOWN, studio)
        if not designed.all:
            return _tell_none(designed, wish)
        _tell_table(Teller(), designed, wish)
        number = ask("", "design.ask-which", "1", lambda said: _number(said, len(designed.all)))
    except AnswerError as stopped:
        return tell_wrong(stopped.wrong)
    return _begin(wish, designed.all[number - 1], title, into)


def _number(said: str, most: int) -> int | Wrong:
    number = int(said) if said.isascii() and said.isdecimal() and len(said) < 4 else 0
    return number if 1 <= number <= most else Wrong.of("design.take-which", said=said, most=most)


def _begin(wish: DesignWish, proposal: Proposal, title: str, into: Path) -> int:
    draft = draft_of_proposal(wish, proposal, catalogue(), title)
    return write_begun(*begin_in(draft, into), not_well="design.not-well", draw=wish.rules.system)


def _write_page(wish: DesignWish, designed: Designed, path: Path, theme: str) -> int:
    from foldwright.begin.design.page import design_page
    from foldwright.render.themes import DEFAULT_THEME, ThemeError

    try:
        data = design_page(wish, designed, catalogue(), theme or DEFAULT_THEME)
    except ThemeError as trouble:
        why = catalogue().say(f"{trouble.code}.says", **trouble.facts)
        return tell_wrong(Wrong.of("design.page-theme", why=why))
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    except OSError as trouble:
        Teller("stderr").wrong(cannot_write(path, trouble))
        return 1
    Teller().words("design.wrote-page", path=str(path))
    return 0


# --- in the terminal ------------------------------------------------------------------------------------------------


def _tell_none(designed: Designed, wish: DesignWish) -> int:
    complaints = Teller("stderr")
    complaints.words("design.nothing", **tell_wish(wish))
    for note in tell_taken(wish, catalogue()):
        complaints.text(note)
    for why in tell_why_not(designed, catalogue()):
        complaints.text(why)
    return 1


def _tell_table(teller: Teller, designed: Designed, wish: DesignWish) -> None:
    """The proposals by form, in a table where there is room for one."""
    words = catalogue()
    teller.words("design.heading", **tell_wish(wish))
    for note in tell_taken(wish, words):
        teller.text(note)
    rows = tell_proposals(designed, wish, words)
    heads = [words.say(f"command.design.column.{name}") for name in ("number", "blank", "across", "down")]
    heads += [sheet.name for sheet in wish.sheets]
    heads += [words.say(f"command.design.column.{name}") for name in ("to-measure", "fit")]
    cells = [_cells(row) for row in rows]
    widths = [max(len(line[column]) for block in (*cells, [heads]) for line in block) for column in range(len(heads))]
    narrow = teller.terminal and sum(widths) + 2 * len(widths) > teller.width
    form = ""
    for row, block in zip(rows, cells, strict=True):
        if row.form != form:
            form = row.form
            teller.say([StyledLine(""), StyledLine(tell_form(form, words), "bold")])
            teller.say([StyledLine(INDENT + _aligned(heads, widths), "dim")] if not narrow else [])
        if narrow:
            teller.say(StyledLine(one) for line in _listed(row, wish) for one in teller.wrapped(line, INDENT))
        else:
            teller.say(StyledLine(INDENT + _aligned(line, widths)) for line in block)
        teller.say(StyledLine(one) for one in teller.wrapped(row.lies, INDENT * 4))
    teller.say([StyledLine("")])
    for why in tell_why_not(designed, words):
        teller.text(why)
    teller.words("design.legend")


def _listed(row: ProposalLine, wish: DesignWish) -> Iterator[str]:
    """The same where there is no room for a table."""
    words = catalogue()
    for number, (name, size, across, down) in enumerate(row.blanks):
        panels = "; ".join(part for part in (across, down) if part)
        yield f"{'' if number else f'{row.number}. '}{name} {size}: {panels}"
    sheets = words.listed([f"{count} ({sheet.name})" for count, sheet in zip(row.sheets, wish.sheets, strict=True)])
    yield words.say("command.design.narrow", sheets=sheets, numbers=row.numbers, fit=row.fit)


def _cells(row: ProposalLine) -> list[list[str]]:
    """A line for each blank; the numbers of the proposal stand beside the first."""
    own = [*row.sheets, row.numbers, row.fit]
    return [
        ["" if number else str(row.number), f"{name} {size}", across, down, *([""] * len(own) if number else own)]
        for number, (name, size, across, down) in enumerate(row.blanks)
    ]


def _aligned(cells: Sequence[str], widths: Sequence[int]) -> str:
    """A line of the table: the number of the proposal to the right of its column, all else to the left."""
    first, *others = zip(cells, widths, strict=True)
    return "  ".join((first[0].rjust(first[1]), *(cell.ljust(width) for cell, width in others))).rstrip()


# --- another size of a recipe -----------------------------------------------------------------------------------------


def _resize_recipe(call: DesignCall) -> int:
    """Work out another size of a recipe, and add it to the recipe if it is called anything; the exit status."""
    if not call.resize or bool(call.scale) == bool(call.holds):
        return tell_wrong(Wrong.of("design.resize-what"))
    sources, wrong = find_sources([Path(call.resize)])
    if not wrong and len(sources) != 1:
        wrong = (Wrong.of("one-recipe-wanted", path=call.resize),)
    for one in wrong:
        Teller("stderr").wrong(one)
    if wrong:
        return 2
    source = sources[0]
    texts = read_texts(source)
    written = _written(source, texts)
    if written is None:
        return 1
    name = call.called.strip() or catalogue().say("command.design.size-called")
    if any(size.name.value.casefold() == name.casefold() for size in written.recipe.sizes):
        return tell_wrong(Wrong.of("design.size-there", size=name))
    if size_name_wrong(texts, source.surroundings, name, written):
        return tell_wrong(Wrong.of("design.size-name", size=name))
    asked = SizeOptions(scale=call.scale, holds=call.holds, numbers=call.numbers, clearance=call.clearance)
    resized = resize(written, asked)
    if isinstance(resized, Wrong):
        return tell_wrong(resized)
    new = with_new_size(texts, source.surroundings, name, written, resized)
    if len(new.entry) == 1:
        Teller("stderr").words("design.nothing-differs")
        return 1
    keep = bool(call.called.strip()) and not new.wrong
    _tell_size(source, texts, new, keep)
    if new.wrong:
        complaints = Teller("stderr")
        complaints.words("design.size-not-right")
        if note := what_works(texts, source.surroundings, name, written, asked):
            complaints.text(tell_note(note, catalogue()))
        return 1
    return _keep(source, texts, new, name) if keep else _end(Teller(), "design.size-keep")


def _written(source: Source, texts: Texts) -> Understood | None:
    """The recipe as it is written; one with anything wrong in it is told of and not gone on with."""
    checked = check_texts(texts, source.surroundings)
    strong = [finding for finding in checked.findings if finding.strength > Strength.THOUGHT]
    if not strong:
        return checked.understood
    complaints = Teller("stderr")
    complaints.findings(strong, texts.by_name, texts.shown)
    complaints.words("design.mend-first")
    return None


def _tell_size(source: Source, texts: Texts, new: NewSize, keep: bool) -> None:
    """The entry, what was taken to be meant, and what is found in the new size."""
    teller = Teller()
    teller.words("design.size-entry", path=source.shown)
    lines = ["", f"{INDENT}sizes:", *(INDENT * 2 + line for line in new.entry), ""]
    teller.say(StyledLine(line) for line in lines)
    for note in new.notes:
        teller.text(tell_note(note, catalogue()))
    told = told_as_shown(new.checked.findings, {source.name: new.text}, texts.shown)
    teller.told(told if keep else _as_it_is_now(told, size_change(texts.text or "", new.entry), texts))
    for note in new.broken:
        Teller("stderr").text(tell_note(note, catalogue()))


def _as_it_is_now(told: Sequence[Told], change: Change, texts: Texts) -> list[Told]:
    """Findings with the lines of the recipe as it is without the new size, but for those in what it would add."""
    added = change.new.count("\n")
    last = (texts.text or "").count("\n", 0, change.start) + added
    own = texts.shown.get(texts.name, texts.name)
    return [replace(one, line=one.line - added) if one.file == own and one.line > last else one for one in told]


def _keep(source: Source, texts: Texts, new: NewSize, name: str) -> int:
    if wrong := _write_over(source.folder / source.text, size_change(texts.text or "", new.entry)):
        Teller("stderr").wrong(wrong)
        return 1
    facts = {"path": source.shown, "size": name, "folder": str(source.folder), "typed": quote(name)}
    return _end(Teller(), "design.size-kept", **facts)


def _end(teller: Teller, message: str, **facts: object) -> int:
    teller.words(message, **facts)
    return 0


def _write_over(path: Path, change: Change) -> Wrong | None:
    """The recipe with its new size, in one move: the old text stays whole until the new one is."""
    fresh = path.with_name(f".{path.name}.new")
    try:
        fresh.write_bytes(as_saved(path.read_bytes(), [change]))
        os.replace(fresh, path)
    except OSError as trouble:
        fresh.unlink(missing_ok=True)
        return cannot_write(path, trouble)
    return None
