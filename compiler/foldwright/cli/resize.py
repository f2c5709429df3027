"""`foldwright design --resize`: another size of a recipe, larger or smaller or round other contents."""

from __future__ import annotations

import os
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

from msgspec import Struct

from foldwright.begin.design.changes import size_entry, with_size
from foldwright.begin.design.resizing import Resized, ResizeNote, fitted, holder_of, scaled
from foldwright.begin.design.wishing import CLEARANCES, STEPS, DesignOptions, Unclear, read_wish, words_of
from foldwright.cli.telling import INDENT, StyledLine, Teller
from foldwright.cli.writing import cannot_write
from foldwright.document.catalogue import catalogue
from foldwright.finding import Strength, Wrong
from foldwright.measure.length import Length
from foldwright.measure.reading import read_length, read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.measure.writing import plain_cross, write_exact
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source, find_sources
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Checked, Understood, check_in_size, check_recipe
from foldwright.surroundings import Folder

_LEAST, _MOST = Fraction(1, 10), Fraction(10)
"""Nobody makes a box a tenth or ten times as large (a reasoned guess)."""


class Goal(Struct, frozen=True):
    """What is wanted: so many times as large, or room for other things; `called` is the size's name when it is kept."""

    scale: str = ""
    holds: str = ""
    numbers: str = ""
    clearance: str = ""
    called: str = ""


def resize(path: Path, goal: Goal) -> int:
    """Work out another size of the recipe at `path`; the exit status."""
    complaints = Teller("stderr")
    sources, wrong = find_sources([path])
    if not wrong and len(sources) != 1:
        wrong = (Wrong.of("one-recipe-wanted", path=str(path)),)
    for one in wrong:
        complaints.words(f"wrong.{one.message}", **dict(one.facts))
    if wrong:
        return 2
    source = sources[0]
    texts = read_texts(source)
    written = _written(source, texts, complaints)
    if written is None or texts.text is None:
        return 1
    name = goal.called.strip() or catalogue().say("command.design.size-called")
    if any(size.name.value.casefold() == name.casefold() for size in written.recipe.sizes):
        complaints.words("design.size-there", size=name)
        return 2
    resized = _resized(written, goal)
    if isinstance(resized, Unclear):
        complaints.words(f"design.{resized.code}", **resized.facts)
        return 2
    entry = size_entry(name, written.recipe, resized)
    return _answer(source, texts, texts.text, name, entry, resized, bool(goal.called.strip()))


def _written(source: Source, texts: Texts, complaints: Teller) -> Understood | None:
    """The recipe as it is written; one with a fault or a misfit is told of and not gone on with."""
    findings = texts.findings
    checked: Checked | None = None
    if texts.text is not None:
        read = Folder(source.folder).read
        checked = check_recipe(texts.text, source.name, source.slug, texts.studio, False, read)
        findings += checked.findings
    strong = [finding for finding in findings if finding.strength > Strength.THOUGHT]
    if strong:
        complaints.findings(strong, texts.by_name, texts.shown)
        complaints.words("design.mend-first")
        return None
    return checked.understood if checked else None


def _resized(written: Understood, goal: Goal) -> Resized | Unclear:
    system = written.recipe.system
    step = read_length(goal.numbers, STEPS[system].unit) if goal.numbers else STEPS[system]
    clearance = read_length(goal.clearance, STEPS[system].unit) if goal.clearance else CLEARANCES[system]
    if isinstance(step, Unreadable) or isinstance(clearance, Unreadable):
        return Unclear("wish-length", {"said": goal.numbers if isinstance(step, Unreadable) else goal.clearance})
    if goal.holds:
        return _with_room(written, goal.holds, step, clearance)
    scale = read_number(goal.scale.strip().removesuffix("x"))
    if isinstance(scale, Unreadable) or not _LEAST <= scale <= _MOST:
        return Unclear("scale-odd", {"said": goal.scale})
    return scaled(written.recipe, written.flat, scale, step)


def _with_room(written: Understood, holds: str, step: Length, clearance: Length) -> Resized | Unclear:
    wish = read_wish(DesignOptions((holds,), units=written.recipe.system.value))
    if isinstance(wish, Unclear):
        return wish
    things = wish.things[:1]
    holder = holder_of(written.recipe, written.flat)
    if holder is None:
        return Unclear("nothing-holds", {"title": written.recipe.title.value})
    if things[0].envelope:
        return Unclear("thing-unreadable", {"said": holds})
    blank, held = holder
    resized = fitted(written.recipe, written.flat, blank, held, things, step, clearance.mm)
    if held:
        return resized
    note = ResizeNote.of("says-nothing-of-contents", piece=blank.piece, things=tuple(words_of(things)))
    return Resized(resized.pieces, resized.supplies, (*resized.notes, note))


# --- the answer -----------------------------------------------------------------------------------------------------


def _answer(
    source: Source, texts: Texts, text: str, name: str, entry: Sequence[str], resized: Resized, keep: bool
) -> int:
    teller, complaints = Teller(), Teller("stderr")
    if len(entry) == 1:
        complaints.words("design.nothing-differs")
        return 1
    changed = with_size(text, entry)
    checked = _in_size(source, texts, changed, name)
    teller.words("design.size-entry", path=source.shown)
    teller.say(
        [
            StyledLine(""),
            StyledLine(f"{INDENT}sizes:"),
            *(StyledLine(f"{INDENT * 2}{line}") for line in entry),
            StyledLine(""),
        ]
    )
    for note in resized.notes:
        teller.text(catalogue().say(f"command.design.{note.code}", **_told(note)))
    sources = {source.name: changed}
    if checked.findings:
        teller.findings(checked.findings, sources, texts.shown)
    if checked.wrong:
        complaints.words("design.size-not-right")
        return 1
    if not keep:
        teller.words("design.size-keep")
        return 0
    if trouble := _written_over(source.folder / source.text, changed):
        complaints.words(f"wrong.{trouble.message}", **dict(trouble.facts))
        return 1
    teller.words("design.size-kept", path=source.shown, size=name, folder=str(source.folder))
    return 0


def _told(note: ResizeNote) -> dict[str, object]:
    """The facts of a note; sizes as `A x B`."""

    def told(fact: object) -> object:
        if isinstance(fact, tuple) and fact and all(isinstance(one, Length) for one in fact):
            return plain_cross([write_exact(one) for one in fact])
        return fact

    return {word: told(fact) for word, fact in note.facts}


def _in_size(source: Source, texts: Texts, text: str, name: str) -> Checked:
    """What the new size has the matter with it that the recipe as written has not."""
    read = Folder(source.folder).read
    written = check_recipe(text, source.name, source.slug, texts.studio, False, read)
    assert written.understood is not None
    checked = check_in_size(text, source.name, source.slug, name, written.understood, texts.studio, read)
    known = set(written.findings)
    return Checked(checked.understood, tuple(finding for finding in checked.findings if finding not in known))


def _written_over(path: Path, text: str) -> Wrong | None:
    """The recipe with its new size, in one move: the old text stays whole until the new one is."""
    fresh = path.with_name(f".{path.name}.new")
    try:
        fresh.write_text(text, encoding="utf-8", newline="\n")
        os.replace(fresh, path)
    except OSError as trouble:
        fresh.unlink(missing_ok=True)
        return cannot_write(path, trouble)
    return None
