"""Where a new line goes: a supply under its section, a fact under its entry, a step behind another, facts in its block.

What is put in is text of our own in which `HERE` and `TO_HERE` stand about the part to be typed over.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from foldwright.authoring.places import (
    EntryPlace,
    FactPlace,
    Places,
    Span,
    StepPlace,
    line_after,
    line_start,
    places_of,
    with_plain_ends,
)
from foldwright.finding.changes import Change
from foldwright.recipe.reading import SECTIONS

HERE, TO_HERE = "\x02", "\x03"
"""No recipe holds these characters (`recipe/facts/unprintable` puts others in their stead)."""
_FENCE = "```"


class Insertion(Struct, frozen=True):
    """Changes of the text, and what is selected after them: offsets into the changed text. There may be nothing to
    change: what was asked for stands there already, and is selected.
    """

    changes: tuple[Change, ...]
    select: Span


class Page(Struct, frozen=True):
    """A text with line ends of one character, where things stand in it, and how its lines really end."""

    text: str
    places: Places
    line_end: str = "\n"

    @classmethod
    def of(cls, text: str) -> Page:
        """A text as it is."""
        line_end = "\r\n" if "\r\n" in text else "\r" if "\r" in text else "\n"
        return cls(with_plain_ends(text), places_of(text), line_end)


def put_in(page: Page, at: int, new: str) -> Insertion:
    """Lines of ours before the line that begins at an offset."""
    begun = at > 0 and page.text[at - 1] != "\n"
    return replaced(page, (at, at), "\n" + new if begun else new)


def replaced(page: Page, span: Span, new: str, *others: Change) -> Insertion:
    """Text of ours in place of some of the page's, beside `others` that change no more of what is selected."""
    new = new.replace("\n", page.line_end)
    bare = new.replace(HERE, "").replace(TO_HERE, "")
    changes = tuple(sorted((Change(*span, bare), *others)))
    before = sum(len(one.new) - (one.end - one.start) for one in others if one.start < span[0])
    begin = new.find(HERE)
    end = new.find(TO_HERE) - len(HERE)
    start = span[0] + before
    if begin < 0:
        behind = start + len(bare.rstrip("\r\n"))
        return Insertion(changes, (behind, behind))
    return Insertion(changes, (start + begin, start + end))


def shown(fact: FactPlace) -> Insertion:
    """What is there already."""
    return Insertion((), fact.value)


# --- facts ----------------------------------------------------------------------------------------------------------


def put_entry(page: Page, section: str, lines: Sequence[str]) -> Insertion | None:
    """A supply, tool, piece or size behind the last one: the lines of its facts are pushed in below its first.

    None where the section stands in braces, which no line can be put into.
    """
    place = page.places.sections.get(section)
    if place is None:
        inset = "  - " if section == "tools" else "  "
        return _put_at_top(page, section, f"{section}:\n" + _pushed_in(lines, inset))
    return None if place.closed else put_in(page, place.whole[1], _pushed_in(lines, place.inset))


def _pushed_in(lines: Sequence[str], inset: str) -> str:
    first, *others = lines
    below = " " * len(inset.expandtabs(2)) + "  " if "\t" not in inset else inset + "\t"
    return "".join((f"{inset}{first}\n", *(f"{below}{line}\n" for line in others)))


def put_fact(page: Page, entry: EntryPlace, lines: Sequence[str], word: str) -> Insertion:
    """A fact under the last of an entry's; where it has one of that word, that is shown."""
    there = entry.fact(word)
    if there:
        return shown(there)
    return put_in(page, entry.whole[1], "".join(f"{entry.inset}{line}\n" for line in lines))


def put_row(page: Page, entry: EntryPlace, word: str, row: str) -> Insertion:
    """One more of what a piece may have several of: a hole, a line."""
    there = entry.fact(word)
    if there is None:
        return put_fact(page, entry, (f"{word}: {row}",), word)
    said = page.text[slice(*there.value)]
    if not said or said[0] in "\"'{[|>" or there.shared:
        return shown(there)
    if said[0] == "-":
        start = line_start(page.text, there.value[0])
        inset = page.text[start : there.value[0]] if start > there.whole[0] else entry.inset
        return put_in(page, there.whole[1], f"{inset}- {row}\n")
    return put_in(page, there.whole[1], f"{entry.inset}  {row}\n")


def put_top(page: Page, lines: Sequence[str], word: str) -> Insertion:
    """A fact of the whole recipe, behind the last of those before the sections."""
    there = next((fact for fact in page.places.facts if fact.word == word), None)
    if there:
        return shown(there)
    sections = [place.whole[0] for place in page.places.sections.values()]
    first = min(sections, default=None)
    before = [fact.whole[1] for fact in page.places.facts if first is None or fact.whole[1] <= first]
    new = "".join(f"{line}\n" for line in lines)
    if before:
        return put_in(page, max(before), new)
    return put_in(page, first, new) if first is not None else _put_at_top(page, "", new)


def _put_at_top(page: Page, section: str, new: str) -> Insertion:
    """Lines at their place among the sections, an empty line between; between dashes of their own if there are none."""
    front, found = page.places.front, page.places.sections
    if front is None:
        return put_in(page, 0, f"---\n{new}---\n\n")
    number = SECTIONS.index(section) if section else 0
    before = [found[word].whole[1] for word in SECTIONS[:number] if word in found]
    after = [found[word].whole[0] for word in SECTIONS[number + 1 :] if word in found]
    if before:
        return put_in(page, max(before), "\n" + new)
    if after:
        return put_in(page, min(after), new + "\n")
    last = max((fact.whole[1] for fact in page.places.facts), default=line_after(page.text, front[0]))
    return put_in(page, last, ("\n" if section and page.places.facts else "") + new)


# --- words ----------------------------------------------------------------------------------------------------------


def step_of(places: Places, offset: int) -> StepPlace | None:
    """The step an offset stands in; else the nearest one, the first for what stands before them all."""
    before = [step for step in places.steps if step.start <= offset]
    return before[-1] if before else places.steps[0] if places.steps else None


def put_step(page: Page, offset: int, heading: str, facts: Sequence[str], words: str = "") -> Insertion:
    """A step behind the one an offset stands in; behind all of them from anywhere else."""
    steps, chapters = page.places.steps, page.places.chapters
    within = next((step for step in steps if step.start <= offset < step.end), None)
    last = within or (steps[-1] if steps else None)
    at = last.end if last else min((chapter.start for chapter in chapters), default=len(page.text))
    block = "\n".join(facts)
    if facts and _fenced(page):
        block = f"{_FENCE}step\n{block}\n{_FENCE}"
    parts = [f"## {heading}" + ("\n" + block if block and not _fenced(page) else "")]
    parts += [block] if block and _fenced(page) else []
    return _put_chapter(page, at, "\n\n".join([*parts, *([words] if words else [])]))


def _fenced(page: Page) -> bool:
    """Whether facts stand between fences in this recipe; in one that has none they may as well."""
    return any(step.fenced for step in page.places.steps) or all(step.block is None for step in page.places.steps)


def _put_chapter(page: Page, at: int, chapter: str) -> Insertion:
    """With an empty line before it and behind it, as far as the text has none."""
    before = page.text[:at]
    lines = before[len(before.rstrip()) :].count("\n") if before.strip() else 2
    gap = "\n" * max(2 - lines, 0)
    rest = "\n\n" if page.text[at:].strip() else "\n"
    return replaced(page, (at, at), f"{gap}{chapter}{rest}")


def put_in_step(page: Page, step: StepPlace, lines: Sequence[str], word: str) -> Insertion:
    """A fact behind the last of a step's, in a block that is made where it has none."""
    there = step.fact(word)
    if there:
        return shown(there)
    new = "".join(f"{line}\n" for line in lines)
    if step.block:
        first = page.text[step.facts[0].whole[0] :] if step.facts else ""
        indent = first[: len(first) - len(first.lstrip(" "))]
        return put_in(page, step.block[1], "".join(f"{indent}{line}\n" for line in lines))
    at = line_after(page.text, step.start)
    bare = page.text[at : line_after(page.text, at)].strip()
    block = f"\n{_FENCE}step\n{new}{_FENCE}\n" if _fenced(page) else new
    return put_in(page, at, block + ("\n" if bare else ""))


def put_section(page: Page, kind: object, chapter: str) -> Insertion:
    """Tips, notes or their like behind all else; where they are, more can be said at their end."""
    there = next((one for one in page.places.chapters if one.kind is kind), None)
    if there:
        end = there.start + len(page.text[there.start : there.end].rstrip())
        return Insertion((), (end, end))
    return _put_chapter(page, len(page.text), chapter)
