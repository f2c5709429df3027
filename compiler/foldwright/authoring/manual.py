"""The manual by its words: what the guide's own tables, lists and paragraphs say of a fact, a form or an act.

Nothing is written a second time here: each entry is a row or a paragraph of the guide, as it stands there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from enum import IntEnum
from functools import cache

from msgspec import Struct
from msgspec.structs import replace

from foldwright.guide import PAGES, read_page
from foldwright.recipe.facts.supplies import SUPPLY_WORDS
from foldwright.recipe.pieces.piece import FORMS, PIECE_WORDS
from foldwright.recipe.prose.body import STEP_WORDS
from foldwright.recipe.reading import RECIPE_WORDS

_PICTURE = re.compile(r" ?!\[(?P<says>[^\]]*)\]\(pictures/(?P<file>[^)]+)\)")
_LINK = re.compile(r"\[([^\]]+)\]\([^)]+\)")
_CODE = re.compile(r"(?<!`)`([^`\n]+)`(?!`)")
_BOLD = re.compile(r"\*\*`?([^*`]+?)[.`]*\*\*")
_BLOCKS = re.compile(
    r"^```+\w*\n(?P<example>(?:(?!```).*\n)*)```+$|^(?P<head>##+ .*)$|(?P<prose>(?:^(?!```|#|<!--).+\n?)+)",
    re.MULTILINE,
)
_BOLD_OPENING = re.compile(r"^\*\*[^*`]+\.\*\* ")
_OPENING = re.compile(r"`[^`\n]+`(?:, `[^`\n]+`)*")
_ITEM = re.compile(r"^- ", re.MULTILINE)
_ROW = re.compile(r"^\| *(.*?) *\|$", re.MULTILINE)
_CELLS = re.compile(r"(?<=[^\\]) \| ")
_REMARKED = re.compile(r"^ *(?P<fact>(?P<word>[a-z ]+): [^#\n]*?) {2,}# (?P<says>.*)$", re.MULTILINE)
_SENTENCE = re.compile(r".*?[.!](?=\s+[A-Z`]|\s*$)", re.DOTALL)
_NAMES_TOGETHER = re.compile(r",| and ")
_OF_RECIPES = "writing"
"""The page that speaks of recipes; others may use the same words of other files."""
_MOST_TOGETHER = 3
"""A paragraph that opens with more words than that lists them, and is about none."""

ROOMS = {
    "top": frozenset(RECIPE_WORDS.words),
    "supply": frozenset(SUPPLY_WORDS.words),
    "piece": frozenset(PIECE_WORDS.words),
    "step": frozenset(STEP_WORDS.words),
    "form": frozenset(FORMS),
}
"""The words that may stand in each room of a recipe; `form` is what may stand after `fold:`."""


class _Defines(IntEnum):
    """How plainly a passage is about a word, plainest first."""

    SECTION = 0
    """The section has its name."""
    ROW = 1
    BOLD = 2
    REMARK = 3
    OPENING = 4
    HEADING = 5
    MENTION = 6


class Passage(Struct, frozen=True):
    """What the guide says of some words: Markdown without its pictures, and the first of these by its file.

    `room` is where the words stand that the section (or table) speaks of, one of `ROOMS`; empty where of none.
    """

    words: tuple[str, ...]
    text: str
    page: str
    section: str
    room: str = ""
    picture: str = ""
    pictured: str = ""
    """What the picture shows."""
    plainness: _Defines = _Defines.MENTION

    @property
    def line(self) -> str:
        """Its first sentence."""
        text = _BOLD_OPENING.sub("", self.text)
        sentence = _SENTENCE.match(text)
        return " ".join((sentence[0] if sentence else text).split())


def passage_of(word: str, room: str = "") -> Passage | None:
    """What the guide says of a word, in the section that speaks of its room if there is one."""

    def fitness(passage: Passage) -> tuple[bool, bool, bool, int]:
        in_turn = passage.page != _OF_RECIPES, passage.plainness is not _Defines.SECTION, passage.room != room
        return (*in_turn, passage.plainness)

    return min(_by_word().get(word.casefold(), ()), key=fitness, default=None)


@cache
def passages() -> tuple[Passage, ...]:
    """All of the guide, page by page."""
    return tuple(passage for page in PAGES for passage in _of_page(page))


@cache
def _by_word() -> dict[str, tuple[Passage, ...]]:
    words: dict[str, tuple[Passage, ...]] = {}
    for passage in passages():
        for word in passage.words:
            words[word.casefold()] = (*words.get(word.casefold(), ()), passage)
    return words


def _of_page(page: str) -> Iterator[Passage]:
    section, found, heads = "", list[Passage](), True
    for block in _BLOCKS.finditer(read_page(page)):
        if block["head"]:
            yield from _with_room(found)
            section, found, heads = block["head"].lstrip("# "), [], True
        elif block["example"] is not None:
            found += [_remark(one, page, section) for one in _REMARKED.finditer(block["example"])]
        elif block["prose"].startswith("|"):
            yield from _with_room(_table(block["prose"], page, section))
            yield from _with_room(_rows(block["prose"], page, section))
        else:
            for item in filter(None, map(str.strip, _ITEM.split(block["prose"]))):
                found += _paragraph(item, page, section, heads)
                heads = False
    yield from _with_room(found)


def _with_room(found: Iterable[Passage]) -> Iterator[Passage]:
    """The passages with the room that most of their words belong to, by how many of its own words that is."""
    found = list(found)
    said = {word for passage in found for word in passage.words}
    most, room = max((len(said & words) / len(words) ** 0.5, room) for room, words in ROOMS.items())
    yield from (replace(passage, room=room if most else "") for passage in found)


def _table(table: str, page: str, section: str) -> Iterator[Passage]:
    """What a table is about, if its first column has a word for that: all that the column has."""
    head, _, *rows = (_CELLS.split(row[1])[0] for row in _ROW.finditer(table))
    words = tuple(_name(span) for span in _CODE.findall(head))
    if words:
        yield _passage(words, ", ".join(rows), page, section, _Defines.ROW)


def _rows(table: str, page: str, section: str) -> Iterator[Passage]:
    for row in list(_ROW.finditer(table))[2:]:
        first, second, *_ = _CELLS.split(row[1])
        words = tuple(dict.fromkeys(_name(span) for span in _CODE.findall(first)))
        pictures = list(_PICTURE.finditer(row[1]))
        if ": " in first:
            # An example of the fact says half of it.
            second = f"{first}: {second}"
        if len(pictures) == len(words):
            for word, picture in zip(words, pictures, strict=True):
                yield _passage((word,), second, page, section, _Defines.ROW, picture)
        else:
            yield _passage(words, second, page, section, _Defines.ROW, *pictures[:1])


def _remark(found: re.Match[str], page: str, section: str) -> Passage:
    return _passage((found["word"].strip(),), f"`{found['fact']}`: {found['says']}.", page, section, _Defines.REMARK)


def _paragraph(text: str, page: str, section: str, heads: bool) -> Iterator[Passage]:
    """A paragraph: about the words it opens with, or those of its heading if it comes first; others it mentions."""
    bold = [_name(word) for word in _BOLD.findall(text)]
    spans = [_name(span) for span in _CODE.findall(text)]
    opening = _OPENING.match(text)
    opened = [_name(span) for span in _CODE.findall(opening[0])] if opening else []
    headed = [_name(part) for part in _NAMES_TOGETHER.split(section)] if heads else []
    about = {
        _Defines.SECTION: headed if len(headed) == 1 else [],
        _Defines.HEADING: headed,
        _Defines.BOLD: bold if _BOLD.match(text) else [],
        _Defines.OPENING: opened if len(opened) <= _MOST_TOGETHER else [],
        _Defines.MENTION: [*bold, *spans],
    }
    for plainness, words in about.items():
        if words:
            yield _passage(tuple(dict.fromkeys(words)), text, page, section, plainness, _PICTURE.search(text))


def _passage(
    words: tuple[str, ...],
    text: str,
    page: str,
    section: str,
    plainness: _Defines,
    picture: re.Match[str] | None = None,
) -> Passage:
    bare = _LINK.sub(r"\1", _PICTURE.sub("", text)).strip()
    file, says = (picture["file"], picture["says"]) if picture else ("", "")
    return Passage(words, bare, page, section, "", file, says, plainness)


def _name(span: str) -> str:
    """The word a span is about: `fold` of `fold: tray`, `accordion` of `accordion, first fold up`."""
    return span.partition(":")[0].partition(",")[0].strip().casefold()
