"""Another size of a recipe, as a call asks for it: worked out, written as an entry of the recipe, and checked."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.design.drafting import words_of
from foldwright.begin.design.wishing import read_length_of, read_wish
from foldwright.begin.draft.blanks import CLEARANCES, STEPS
from foldwright.begin.draft.model import DraftNote
from foldwright.begin.options import DesignOptions, SizeOptions
from foldwright.begin.resize.checking import overhangs_lost, too_narrow, words_left_behind
from foldwright.begin.resize.fitting import holder_of, ways_fitted
from foldwright.begin.resize.model import Resized
from foldwright.begin.resize.scaling import scaled, ways_scaled
from foldwright.finding import Strength, Wrong
from foldwright.finding.changes import Change, changed
from foldwright.measure.length import Length, System
from foldwright.measure.reading import read_length, read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.outputs.checking import check_texts
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Checked, Understood
from foldwright.recipe.facts.writing import WrittenFact, fact_lines, piece_measures, supply_measures, write_length
from foldwright.recipe.model import Recipe
from foldwright.surroundings import Surroundings

_LEAST, _MOST = Fraction(1, 10), Fraction(10)
"""Nobody makes a box a tenth or ten times as large (a reasoned guess)."""


_SIZES = re.compile(r"sizes:(\s+#.*)?")
_PARTS = 100
"""A scale is looked for in hundredths,"""
_LOOK = 4
"""and so many of them beyond the last that works."""


class NewSize(Struct, frozen=True):
    """A recipe's text with one size more. `entry` is what was added to it, `notes` what is to be said of it.

    `checked` has what is found in the new size and not in the recipe as it is written, `broken` what is not as it was
    meant to be though every check is passed.
    """

    entry: tuple[str, ...]
    text: str
    notes: tuple[DraftNote, ...]
    checked: Checked
    broken: tuple[DraftNote, ...] = ()

    @property
    def faults(self) -> int:
        """How much is wrong with it."""
        return len(self.broken) + sum(finding.strength > Strength.THOUGHT for finding in self.checked.findings)

    @property
    def wrong(self) -> bool:
        """Whether it cannot be made as it is."""
        return self.faults > 0


def resize(written: Understood, asked: SizeOptions) -> Iterator[Resized] | Wrong:
    """The pieces and supplies of a recipe in the size that is wanted: each way to make it, the first to try first."""
    system = written.recipe.system
    if isinstance(step := _step(asked.numbers, system), Wrong):
        return step
    if isinstance(clearance := read_length_of(asked.clearance, CLEARANCES[system]), Wrong):
        return clearance
    if asked.holds:
        return _with_room(written, asked.holds, step, clearance)
    if isinstance(scale := read_scale(asked.scale), Wrong):
        return scale
    return ways_scaled(written.recipe, written.flat, scale, step)


def _step(said: str, system: System) -> Length | Wrong:
    """What every number is to be a multiple of, in the units of the recipe: others fall on none of its marks."""
    step = read_length_of(said, STEPS[system])
    read = read_length(said, STEPS[system].unit) if said else None
    if isinstance(read, Length) and read.unit.system is not system:
        return Wrong.of("design.numbers-in-other-units", said=said, usual=write_length(STEPS[system]))
    return step


def read_scale(said: str) -> Fraction | Wrong:
    """`1.5`, `3/4`, `1.5x`, `150 %`."""
    text = said.strip().casefold().removesuffix("x").strip()
    percent = text.endswith("%")
    number = read_number(text.removesuffix("%").strip())
    scale = number / 100 if percent and not isinstance(number, Unreadable) else number
    if isinstance(scale, Unreadable) or not _LEAST <= scale <= _MOST:
        return Wrong.of("design.scale-odd", said=said)
    return scale


def _with_room(written: Understood, holds: str, step: Length, clearance: Length) -> Iterator[Resized] | Wrong:
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
    ways = ways_fitted(written.recipe, written.flat, blank, held, things[0], step, clearance.mm)
    if held:
        return ways
    note = DraftNote.of("says-nothing-of-contents", piece=blank.piece, things=tuple(words_of(things)))
    return (replace(resized, notes=(*resized.notes, note)) for resized in ways)


def size_name_wrong(texts: Texts, surroundings: Surroundings, name: str, written: Understood) -> bool:
    """Whether a recipe cannot have a size of that name: there is one, or what is written under it would not be read."""
    longer = replace(texts, text=with_size(texts.text or "", (f"{name}:", "  level: easy")))
    tried = check_texts(longer, surroundings)
    sizes = tried.recipe.other_sizes if tried.recipe else ()
    return tried.wrong or sizes != (*written.recipe.other_sizes, name)


def with_new_size(
    texts: Texts, surroundings: Surroundings, name: str, written: Understood, ways: Iterator[Resized]
) -> NewSize:
    """The size called `name`, checked in the text that has it: the first way in which nothing is wrong, or else the
    one in which least is. `written` is the recipe that the texts say."""
    tried: list[NewSize] = []
    for resized in ways:
        tried.append(_checked(texts, surroundings, name, written, resized))
        if not tried[-1].wrong:
            return tried[-1]
    return min(tried, key=lambda new: new.faults)


def _checked(texts: Texts, surroundings: Surroundings, name: str, written: Understood, resized: Resized) -> NewSize:
    assert texts.text is not None
    entry = size_entry(name, written.recipe, resized)
    longer = replace(texts, text=with_size(texts.text, entry))
    known = set(check_texts(longer, surroundings).findings)
    checked = check_texts(longer, surroundings, name)
    new = tuple(finding for finding in checked.findings if finding not in known)
    assert longer.text is not None
    now = checked.understood
    if now is None:
        return NewSize(entry, longer.text, resized.notes, replace(checked, findings=new))
    words = dict(words_left_behind(written, now, longer.text))
    # The note says more than the thought that a number is the same in every size.
    new = tuple(one for one in new if one.strength > Strength.THOUGHT or one.place not in words)
    broken = (*too_narrow(written.flat, now.flat), *overhangs_lost(written.flat, now.flat))
    notes = (*resized.notes, *dict.fromkeys(words.values()))
    return NewSize(entry, longer.text, notes, replace(checked, findings=new), broken)


# --- the largest and the smallest size that works ---------------------------------------------------------------------


def what_works(
    texts: Texts, surroundings: Surroundings, name: str, written: Understood, asked: SizeOptions
) -> DraftNote | None:
    """The scale, in hundredths, that comes nearest to the one asked for and in which nothing is wrong; that there is
    none; nothing where no scale was asked for."""
    scale = read_scale(asked.scale) if asked.scale else None
    step = _step(asked.numbers, written.recipe.system)
    if scale is None or isinstance(scale, Wrong) or isinstance(step, Wrong):
        return None

    def works(hundredths: int) -> bool:
        tried = ways_scaled(written.recipe, written.flat, Fraction(hundredths, _PARTS), step)
        return not with_new_size(texts, surroundings, name, written, tried).wrong

    away = 1 if scale > 1 else -1
    most = int(abs(scale - 1) * _PARTS)
    good, bad = 0, most + 1
    # Halving finds a border between works and does not; rounding may leave a few more that work beyond it.
    while bad - good > 1:
        middle = (good + bad) // 2
        good, bad = (middle, bad) if works(_PARTS + away * middle) else (good, middle)
    beyond = next((far for far in range(min(good + _LOOK, most), good, -1) if works(_PARTS + away * far)), good)
    found = Fraction(_PARTS + away * beyond, _PARTS)
    if scaled(written.recipe, written.flat, found, step).pieces == written.recipe.pieces:
        return DraftNote.of("none-larger" if away > 0 else "none-smaller")
    return DraftNote.of("scale-largest" if away > 0 else "scale-smallest", scale=f"{float(found):g}")


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
    return changed(text, [size_change(text, entry)])


def size_change(text: str, entry: Sequence[str]) -> Change:
    """What is put into a recipe's text for the entry, and where."""
    lines = text.splitlines(keepends=True)
    fences = [number for number, line in enumerate(lines) if line.rstrip() == "---"]
    end = fences[1]
    pushed = "".join(f"  {line}\n" for line in entry)
    there = next((number for number in range(fences[0], end) if _SIZES.fullmatch(lines[number].rstrip())), None)
    after = end
    if there is not None:
        after = next((number for number in range(there + 1, end) if lines[number][:1] not in (" ", "\n", "#")), end)
        while not lines[after - 1].strip():
            after -= 1
    at = sum(map(len, lines[:after]))
    return Change(at, at, pushed if there is not None else f"\nsizes:\n{pushed}")
