"""Markdown to the blocks of words.py. HTML shows as text, pictures become their words, unsafe links lose their address.

Every measure found carries its place in the file, in whatever list, quotation or emphasis it stands.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from markdown_it.token import Token

from foldwright.finding import Place
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.prose.inline import DEEPEST, MARKDOWN, Lines, WordNotes, read_inline
from foldwright.recipe.words import Block, Inline, Items, Paragraph, Preformatted, Quote, Rule, Subheading

type _ReadNested = Callable[[Token], Block]

LINE_END = re.compile(r"\r\n|\r|\n")
_BLOCK_MARK = r"[ \t]*(?:[-+*>#`~_\[]|[0-9]{1,9}[.)](?:[ \t\n]|\Z))"
_BLOCK_MARK_FIRST = re.compile(_BLOCK_MARK)
# Beginning with the line end, not with a look at each character, this is searched for ten times as fast.
_BLOCK_MARK_LATER = re.compile("\n" + _BLOCK_MARK)
_BLANK_LINES = re.compile(r"\n(?:[ \t]*\n)+")
_HEADING_MARK = re.compile(r"#{1,6}[ \t]+")


def read_words(markdown: str, offset: int, notes: WordNotes) -> tuple[Block, ...]:
    """The blocks of some Markdown; what there is to say about it goes to `notes`."""
    if _has_blocks(markdown):
        return _TokenReader(markdown, offset, notes).read()
    return _plain_paragraphs(markdown, offset, notes)


def _has_blocks(markdown: str) -> bool:
    """Whether there may be more than paragraphs with blank lines between them (or odd line ends)."""
    if "\r" in markdown or "\0" in markdown:
        return True
    return _BLOCK_MARK_FIRST.match(markdown) is not None or _BLOCK_MARK_LATER.search(markdown) is not None


def _plain_paragraphs(text: str, offset: int, notes: WordNotes) -> tuple[Block, ...]:
    """What Markdown-it would make of paragraphs with blank lines between them, in a fraction of its time."""
    paragraphs: list[Block] = []
    start = 0
    for end, following in [*(found.span() for found in _BLANK_LINES.finditer(text)), (len(text), len(text))]:
        whole = text[start:end]
        content = whole.strip()
        if content:
            place = offset + start + len(whole) - len(whole.lstrip())
            paragraphs.append(Paragraph(read_inline(content, Lines((0,), (place,)), notes, {})))
        start = following
    return tuple(paragraphs)


def read_line(phrase: Phrase, notes: WordNotes) -> tuple[Block, ...]:
    """The value of a line (`tip: ...`) as one paragraph, whatever its first characters look like."""
    return (Paragraph(read_inline(phrase.text, Lines((0,), (phrase.start,)), notes, {})),)


class _TokenReader:
    """Walks Markdown-it's flat list of block tokens once."""

    def __init__(self, markdown: str, offset: int, notes: WordNotes) -> None:
        self._markdown = markdown
        self._offset = offset
        self._notes = notes
        self._env: dict[str, object] = {}
        self._line_starts = [0, *(found.end() for found in LINE_END.finditer(markdown))]
        self._tokens = MARKDOWN.parse(markdown, self._env)
        self._at = 0
        self._depth = 0

    def read(self) -> tuple[Block, ...]:
        return self._blocks_until("")

    def _blocks_until(self, closing: str) -> tuple[Block, ...]:
        blocks: list[Block] = []
        while self._at < len(self._tokens):
            token = self._tokens[self._at]
            self._at += 1
            if token.type == closing:
                break
            block = self._block(token)
            if block is not None:
                blocks.append(block)
        return tuple(blocks)

    def _block(self, token: Token) -> Block | None:
        match token.type:
            case "paragraph_open":
                children = self._inline()
                return Paragraph(children) if children else None
            case "heading_open":
                return Subheading(int(token.tag[1:]), self._inline())
            case "bullet_list_open" | "ordered_list_open":
                return self._nested(token, self._items)
            case "blockquote_open":
                return self._nested(token, self._quote)
            case "fence" | "code_block":
                return Preformatted(token.content)
            case "hr":
                return Rule()
        return None

    def _nested(self, token: Token, read: _ReadNested) -> Block | None:
        """Something that holds blocks; too deep, it is told of and left out."""
        if self._depth < DEEPEST:
            self._depth += 1
            block = read(token)
            self._depth -= 1
            return block
        start, end = self._lines_of(token)
        place = Place(self._notes.file, start, end)
        self._notes.complaints.fault("nested-too-deep", place, most=DEEPEST)
        closing = token.type.replace("_open", "_close")
        while not (self._tokens[self._at].type == closing and self._tokens[self._at].level == token.level):
            self._at += 1
        self._at += 1
        return None

    def _items(self, token: Token) -> Block:
        items: list[tuple[Block, ...]] = []
        closing = token.type.replace("_open", "_close")
        while self._tokens[self._at].type != closing:
            self._at += 1
            items.append(self._blocks_until("list_item_close"))
        self._at += 1
        return Items(token.type == "ordered_list_open", tuple(items))

    def _quote(self, _: Token) -> Block:
        return Quote(self._blocks_until("blockquote_close"))

    def _inline(self) -> tuple[Inline, ...]:
        """The runs of the inline token that comes next; its closing token is passed too."""
        token = self._tokens[self._at]
        self._at += 2
        return read_inline(token.content, self._places(token), self._notes, self._env)

    def _places(self, token: Token) -> Lines:
        """Where each line of an inline token stands: Markdown-it has only taken marks and blanks off its ends."""
        assert token.map is not None
        starts, places = [], []
        at = 0
        contents = token.content.split("\n")
        for number, content in enumerate(contents, start=self._first_line(token.map, contents[0].rstrip())):
            said = content.rstrip()
            line_start, line = self._line(number)
            if token.map[1] - token.map[0] == 1 and (mark := _HEADING_MARK.search(line)) and self._in_heading():
                column = line.find(said, mark.end() if said else 0)
            else:
                column = len(line.rstrip()) - len(said)
            starts.append(at)
            # A tab may have become more blanks than there is room for; what stands behind them is placed all the same.
            places.append(self._offset + line_start + column)
            at += len(content) + 1
        return Lines(tuple(starts), tuple(places))

    def _first_line(self, lines: list[int], said: str) -> int:
        """The line a paragraph's text begins in: before it may stand lines of odd blanks, which are taken off."""
        first, after = lines
        while first + 1 < after and not self._line(first)[1].replace("\0", "\ufffd").rstrip().endswith(said):
            first += 1
        return first

    def _in_heading(self) -> bool:
        return self._tokens[self._at - 1].type == "heading_close"

    def _line(self, number: int) -> tuple[int, str]:
        start = self._line_starts[number]
        end = self._line_starts[number + 1] if number + 1 < len(self._line_starts) else len(self._markdown)
        return start, self._markdown[start:end].rstrip("\r\n")

    def _lines_of(self, token: Token) -> tuple[int, int]:
        first, after = token.map or (0, 1)
        start, _ = self._line(first)
        last_start, last = self._line(min(after, len(self._line_starts)) - 1)
        return self._offset + start, self._offset + last_start + len(last)
