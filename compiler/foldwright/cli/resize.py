"""`foldwright design --resize`: another size of a recipe, larger or smaller or round other contents."""

from __future__ import annotations

import os
from pathlib import Path

from foldwright.begin.draft.model import DraftNote
from foldwright.begin.options import SizeOptions
from foldwright.begin.resize.sizing import NewSize, resize, with_new_size
from foldwright.cli.beginning import tell_wrong
from foldwright.cli.calls import DesignCall
from foldwright.cli.telling import INDENT, StyledLine, Teller
from foldwright.cli.writing import cannot_write
from foldwright.document.catalogue import catalogue
from foldwright.finding import Strength, Wrong
from foldwright.measure.length import Length
from foldwright.measure.writing import plain_cross, write_exact
from foldwright.outputs.checking import check_texts
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source, find_sources
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Understood


def resize_recipe(call: DesignCall) -> int:
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
    asked = SizeOptions(scale=call.scale, holds=call.holds, numbers=call.numbers, clearance=call.clearance)
    resized = resize(written, asked)
    if isinstance(resized, Wrong):
        return tell_wrong(resized)
    new = with_new_size(texts, source.surroundings, name, written.recipe, resized)
    return _answer(source, texts, new, name, bool(call.called.strip()))


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


def _answer(source: Source, texts: Texts, new: NewSize, name: str, keep: bool) -> int:
    teller, complaints = Teller(), Teller("stderr")
    if len(new.entry) == 1:
        complaints.words("design.nothing-differs")
        return 1
    teller.words("design.size-entry", path=source.shown)
    lines = ["", f"{INDENT}sizes:", *(INDENT * 2 + line for line in new.entry), ""]
    teller.say(StyledLine(line) for line in lines)
    for note in new.notes:
        teller.text(_note(note))
    teller.findings(new.checked.findings, {source.name: new.text}, texts.shown)
    if new.checked.wrong:
        complaints.words("design.size-not-right")
        return 1
    if not keep:
        teller.words("design.size-keep")
        return 0
    if wrong := _write_over(source.folder / source.text, new.text):
        complaints.wrong(wrong)
        return 1
    teller.words("design.size-kept", path=source.shown, size=name, folder=str(source.folder))
    return 0


def _note(note: DraftNote) -> str:
    """A note in words; sizes as `A x B`."""

    def told(fact: object) -> object:
        if isinstance(fact, tuple) and fact and all(isinstance(one, Length) for one in fact):
            return plain_cross([write_exact(one) for one in fact])
        return fact

    return catalogue().say(f"command.design.{note.code}", **{word: told(fact) for word, fact in note.facts})


def _write_over(path: Path, text: str) -> Wrong | None:
    """The recipe with its new size, in one move: the old text stays whole until the new one is."""
    fresh = path.with_name(f".{path.name}.new")
    try:
        fresh.write_text(text, encoding="utf-8", newline="\n")
        os.replace(fresh, path)
    except OSError as trouble:
        fresh.unlink(missing_ok=True)
        return cannot_write(path, trouble)
    return None
