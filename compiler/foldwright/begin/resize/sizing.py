"""Another size of a recipe, as a call asks for it: worked out, written as an entry of the recipe, and checked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.design.drafting import words_of
from foldwright.begin.design.wishing import read_length_of, read_wish
from foldwright.begin.draft.blanks import CLEARANCES, STEPS
from foldwright.begin.draft.model import DraftNote
from foldwright.begin.options import DesignOptions, SizeOptions
from foldwright.begin.resize.resizing import Resized, fitted, holder_of, scaled
from foldwright.finding import Wrong
from foldwright.measure.length import Length
from foldwright.measure.reading import read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.outputs.checking import check_texts
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Checked, Understood
from foldwright.recipe.facts.writing import WrittenFact, fact_lines, piece_measures, supply_measures
from foldwright.recipe.model import Recipe
from foldwright.surroundings import Surroundings

_LEAST, _MOST = Fraction(1, 10), Fraction(10)
"""Nobody makes a box a tenth or ten times as large (a reasoned guess)."""


class NewSize(Struct, frozen=True):
    """A recipe's text with one size more. `entry` is what was added to it, `notes` what is to be said of it.

    `checked` has what is found in the new size and not in the recipe as it is written.
    """

    entry: tuple[str, ...]
    text: str
    notes: tuple[DraftNote, ...]
    checked: Checked


def resize(written: Understood, asked: SizeOptions) -> Resized | Wrong:
    """The pieces and supplies of a recipe in the size that is wanted."""
    system = written.recipe.system
    if isinstance(step := read_length_of(asked.numbers, STEPS[system]), Wrong):
        return step
    if isinstance(clearance := read_length_of(asked.clearance, CLEARANCES[system]), Wrong):
        return clearance
    if asked.holds:
        return _with_room(written, asked.holds, step, clearance)
    scale = read_number(asked.scale.strip().removesuffix("x"))
    if isinstance(scale, Unreadable) or not _LEAST <= scale <= _MOST:
        return Wrong.of("design.scale-odd", said=asked.scale)
    return scaled(written.recipe, written.flat, scale, step)


def _with_room(written: Understood, holds: str, step: Length, clearance: Length) -> Resized | Wrong:
    wish = read_wish(DesignOptions(things=(holds,), units=written.recipe.system.value))
    if isinstance(wish, Wrong):
        return wish
    holder = holder_of(written.recipe, written.flat)
    if holder is None:
        return Wrong.of("design.nothing-holds", title=written.recipe.title.value)
    things = wish.things[:1]
    if things[0].envelope:
        return Wrong.of("design.thing-unreadable", said=holds)
    blank, held = holder
    resized = fitted(written.recipe, written.flat, blank, held, things, step, clearance.mm)
    if held:
        return resized
    note = DraftNote.of("says-nothing-of-contents", piece=blank.piece, things=tuple(words_of(things)))
    return replace(resized, notes=(*resized.notes, note))


def with_new_size(texts: Texts, surroundings: Surroundings, name: str, recipe: Recipe, resized: Resized) -> NewSize:
    """The size called `name`, checked in the text that has it. `recipe` is the recipe that the texts say."""
    assert texts.text is not None
    entry = size_entry(name, recipe, resized)
    longer = replace(texts, text=with_size(texts.text, entry))
    known = set(check_texts(longer, surroundings).findings)
    checked = check_texts(longer, surroundings, name)
    new = tuple(finding for finding in checked.findings if finding not in known)
    return NewSize(entry, longer.text or "", resized.notes, replace(checked, findings=new))


# --- as an entry under `sizes:` ---------------------------------------------------------------------------------------


def size_entry(name: str, recipe: Recipe, resized: Resized) -> tuple[str, ...]:
    """The entry, its lines pushed in below its name; only the name when nothing differs."""
    lines = [f"{name}:"]
    for old, new in zip(recipe.pieces, resized.pieces, strict=True):
        lines += _differing(old.name.value, piece_measures(old), piece_measures(new))
    for one, other in zip(recipe.supplies, resized.supplies, strict=True):
        lines += _differing(one.name.value, supply_measures(one), supply_measures(other))
    return tuple(lines)


def _differing(name: str, old: Iterable[WrittenFact], new: Iterable[WrittenFact]) -> Iterator[str]:
    known = set(old)
    differ = [fact for fact in new if fact not in known]
    if differ:
        yield f"  {name}:"
        yield from (f"    {line}" for line in fact_lines(differ))


def with_size(text: str, entry: Sequence[str]) -> str:
    """A recipe's text with the entry under `sizes:`, at the end of its facts; nothing else is changed."""
    lines = text.splitlines(keepends=True)
    fences = [number for number, line in enumerate(lines) if line.rstrip() == "---"]
    end = fences[1]
    pushed = [f"  {line}\n" for line in entry]
    there = next((number for number in range(fences[0], end) if lines[number].rstrip() == "sizes:"), None)
    if there is None:
        return "".join([*lines[:end], "\n", "sizes:\n", *pushed, *lines[end:]])
    after = next((number for number in range(there + 1, end) if lines[number][:1] not in (" ", "\n", "#")), end)
    while not lines[after - 1].strip():
        after -= 1
    return "".join([*lines[:after], *pushed, *lines[after:]])
