"""Which room of a recipe an offset is in, and the word and the value that are being typed there.

Only the lines above count, so that the line under the hand may be as unfinished as it likes.
"""

from __future__ import annotations

import re

from msgspec import Struct

from foldwright.authoring.places import StepPlace, is_below, line_after, line_start, step_at, with_plain_ends
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.known import Known, one_line_facts, split_at_commas
from foldwright.recipe.facts.lines import FactLine, read_lines
from foldwright.recipe.facts.source import split
from foldwright.recipe.facts.supplies import SUPPLY_WORDS
from foldwright.recipe.pieces.piece import PIECE_WORDS
from foldwright.recipe.prose.body import STEP_WORDS
from foldwright.recipe.reading import RECIPE_WORDS, SECTIONS

KNOWN = {"top": RECIPE_WORDS, "supply": SUPPLY_WORDS, "piece": PIECE_WORDS, "step": STEP_WORDS}
"""The rooms in which facts may stand, and the facts."""
_ONE_OF = {"supplies": "supply", "pieces": "piece"}
_DASHES = re.compile(r"[-–—]{2,}|\.\.\.")


class Whereabouts(Struct, frozen=True):
    """`room` is one of those of facts, or `supplies`, `tools`, `pieces`, `sizes`, `size` where a name is typed, or
    `words`, or empty where nothing of a recipe may stand.

    `entry` is the supply, piece or tool the line belongs to. Where a value is typed, `fact` is its word and `value` its
    beginning; else `fact` is empty and `value` is where the word or name itself begins.
    """

    room: str
    value: int
    fact: str = ""
    entry: str = ""
    step: StepPlace | None = None
    shared: bool = False
    """Other facts may follow on the same line: the word of one may be typed as well as the value of `fact`."""

    @property
    def known(self) -> Known | None:
        """The facts that may stand here."""
        return KNOWN.get(self.room)


def whereabouts(text: str, offset: int) -> Whereabouts:
    """Where an offset is."""
    text = with_plain_ends(text)
    offset = min(max(offset, 0), len(text))
    start = line_start(text, offset)
    parts = split(text)
    end = parts.front_offset + len(parts.front)
    if parts.slip == "no-facts" and not text[:start].strip() and not text[start:offset].lstrip().startswith("#"):
        return _in_front("", text, 0, start, offset)
    if parts.slip != "no-facts" and parts.front_offset <= start and offset <= end:
        return _in_front(text[parts.front_offset : start], text, parts.front_offset, start, offset)
    return _in_words(text, start, offset) if offset > parts.body_offset else Whereabouts("", offset)


# --- facts ----------------------------------------------------------------------------------------------------------


def _in_front(above: str, text: str, begin: int, start: int, offset: int) -> Whereabouts:
    typed = text[start:offset]
    if _DASHES.match(typed.strip()):
        return Whereabouts("", offset)
    line = _line(text, start, offset)
    parents = _parents(
        above, begin, len(typed[: len(typed) - len(typed.lstrip())].expandtabs(2)), bool(line and line.dash)
    )
    words = [parent.key.plain if parent.key else "" for parent in parents]
    top = (RECIPE_WORDS.word_of(words[0]) or "") if words else ""
    first = line.column - line.indent + _indented(text, start) if line else offset
    if not words:
        return _in_entry("top", "", line, first, offset)
    if top not in SECTIONS:
        return Whereabouts("top", first, top)
    if top == "sizes":
        return _in_size(words, line, first, offset)
    if top == "tools":
        return Whereabouts("tools", first)
    room = _ONE_OF[top]
    if len(words) == 1:
        return _in_named(top, room, line, first, offset)
    if len(words) == 2:
        return _in_entry(room, words[1], line, first, offset)
    return Whereabouts(room, first, KNOWN[room].word_of(words[2]) or "", words[1])


def _in_size(words: list[str], line: FactLine | None, first: int, offset: int) -> Whereabouts:
    """A size names pieces and supplies again, with what is different; which of the two is not known here."""
    if len(words) == 1:
        return Whereabouts("sizes", first)
    if len(words) == 2:
        return _in_named("size", "piece", line, first, offset)
    return _in_entry("piece", words[2], line, first, offset)


def _line(text: str, start: int, offset: int) -> FactLine | None:
    """The line as far as it is typed."""
    found = read_lines(text[start:offset], "", start)
    return found[0] if found else None


def _indented(text: str, start: int) -> int:
    rest = text[start:]
    return start + len(rest) - len(rest.lstrip(" \t"))


def _parents(above: str, begin: int, column: int, dash: bool) -> list[FactLine]:
    """The lines that a line at a column stands under, the outermost first."""
    found: list[FactLine] = []
    for line in read_lines(above, "", begin):
        while found and not is_below(line.indent, bool(line.dash), found[-1]):
            found.pop()
        found.append(line)
    while found and not is_below(column, dash, found[-1]):
        found.pop()
    return found


def _in_entry(room: str, entry: str, line: FactLine | None, first: int, offset: int) -> Whereabouts:
    """A line with one fact: its word, or behind the colon its value."""
    if line is None or line.key is None:
        return Whereabouts(room, first, "", entry)
    value = line.value.start if line.value else offset
    return Whereabouts(room, value, KNOWN[room].word_of(line.key.text) or "", entry)


def _in_named(section: str, room: str, line: FactLine | None, first: int, offset: int) -> Whereabouts:
    """A line with a name and facts between commas behind it: the last of them is being typed."""
    if line is None or line.key is None:
        return Whereabouts(section, first)
    known, name = KNOWN[room], line.key.plain
    if line.value is None:
        return Whereabouts(room, offset, known.first, name, shared=True)
    last = split_at_commas(line.value)[-1]
    begin = last.start if last.text else offset
    opened = known.opened(last.text)
    if (opened and last.end < offset) or (opened and opened[1] < len(last.text)):
        behind = last.text[opened[1] :]
        at = last.start + opened[1] + len(behind) - len(behind.lstrip(" :"))
        return Whereabouts(room, min(at, offset), opened[0], name)
    if begin == line.value.start:
        return Whereabouts(room, begin, known.first, name, shared=True)
    before = [fact.word for fact in one_line_facts(line.value, known, Complaints())]
    row = before[-1] if before and before[-1] in known.rows else ""
    return Whereabouts(room, begin, row, name, shared=True)


# --- words ----------------------------------------------------------------------------------------------------------


def _in_words(text: str, start: int, offset: int) -> Whereabouts:
    step = step_at(text, offset)
    if step is None or start <= step.start or not _is_in_facts(step, text, start, offset):
        return Whereabouts("words", offset, step=step)
    begin = step.block[0] if step.block else start
    line = _line(text, start, offset)
    first = _indented(text, start) if line else offset
    typed = text[start:offset]
    parents = _parents(text[begin:start], begin, len(typed) - len(typed.lstrip()), False)
    if parents:
        word = STEP_WORDS.word_of(parents[0].key.text) if parents[0].key else ""
        return Whereabouts("step", first, word or "", step=step)
    found = _in_entry("step", "", line, first, offset)
    return Whereabouts("step", found.value, found.fact, step=step)


def _is_in_facts(step: StepPlace, text: str, start: int, offset: int) -> bool:
    """Whether facts may stand on a line; the one right behind them may become one."""
    if step.block is None:
        return not text[line_after(text, step.start) : start].strip()
    return step.block[0] <= start <= step.block[1] and not text[start:offset].lstrip().startswith(("`", "~"))
