"""The lines of the facts, one by one: how far in, the word before the colon, and the text after it as it stands.

Nothing the author typed as a value is looked into here: colons, stars and number signs are text, and so are quotes and
brackets that do not stand round the whole of it. A remark begins with `#` at the start of a line or after two spaces
(or a tab). A value goes on in deeper lines without a word of their own.

Quotes, braces and brackets round the whole of a value are as YAML has them. A decimal comma parts nothing there, nor
does a comma in round brackets. What is not well formed is no flow: it stays the author's text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import Enum

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.weight import GRADES
from foldwright.recipe.facts.limits import DEEPEST, LONGEST_WORD
from foldwright.recipe.facts.phrase import Phrase

_REMARK = re.compile(r"(?:^[^\S\n]*|[^\S\n]{2,}|\t)#")
_GRADES = "|".join(GRADES)
ONE_SPACE_REMARK = re.compile(rf"(?<=\S)[^\S\n]#[^\S\n](?!(?<=[0-9] # )(?:{_GRADES})\b)", re.IGNORECASE)
"""What may have been meant as a remark; `110 # cover` is a weight."""
_NOTHING_MORE = re.compile(r"[^\S\n]*(?:[^\S\n]#[^\n]*)?$", re.MULTILINE)
_DASH = re.compile(r"-(?:\s+|$)")
_COLON = re.compile(r":(?=\s|$)")
_AFTER_QUOTES = re.compile(r"\s*:(?=\s|$)")
_GLUED = re.compile(r"([^\W\d](?:[^\W\d]|[ _-](?=[^\W\d])){0,30})\s*:(?!//|:)(?=\S)")
"""A word and its colon with no space after it; `3:40` and addresses are none."""
_BLOCK_MARK = re.compile(r"[|>](?:[+-]?[1-9]?|[1-9][+-])")
_CLOSING = {"{": "}", "[": "]"}
_OPENING = frozenset("\"'{[")
_LINE = re.compile(r"[^\n]*\n?")
_DOUBLE = (
    r'"(?:[^"\\]|\\(?:[0abtnvfre "/\\N_LP\n]|x[0-9a-fA-F]{2}|u(?![dD][89a-fA-F])[0-9a-fA-F]{4}'
    r'|U00(?:0[1-9a-fA-F]|10)[0-9a-fA-F]{4}))*+"'
)
QUOTED = re.compile(rf"{_DOUBLE}|'(?:[^']|'')*+'")
"""A whole quoted string, with the escapes of YAML 1.1 (5.7) and no others."""
_TOKEN = re.compile(
    rf"""(?P<blank>\s++|(?:(?<=\s\s)|(?<=[\n\t]))\#[^\n]*)
    |(?P<open>[\[{{])|(?P<close>[\]}}])|(?P<comma>,)|(?P<colon>:(?=[\s,\[\]{{}}]))
    |(?P<quoted>{_DOUBLE}|'(?:[^']|'')*+')(?=\s*+[,:\]}}])
    |(?P<plain>(?:\([^()\n]*\)|(?<=[0-9]),(?=[0-9])|(?<=\S)[ ]?\[[^\[\]{{}}\n]*\]|:(?![\s,\[\]{{}}])|(?<!\s\s)\#
        |[^\s,:\#\[\]{{}}]|[^\S\n](?![,\]}}]))++)""",
    re.VERBOSE,
)
_LETTERS = {"open": "o", "close": "c", "comma": ",", "colon": ":", "quoted": "p", "plain": "p"}
_NOT_FLOW = re.compile(r"[pc][po]|[o,:c]:|[o,],|:p:")
"""Neighbours that YAML has not: two values without a comma, a colon without a word, an empty place."""


class ValueKind(Enum):
    """What a value is: text as it stands, or a quoted string or braces and brackets as YAML has them."""

    TEXT = "text"
    QUOTED = "quoted"
    FLOW = "flow"


class Token(Struct, frozen=True):
    """`kind` is one of open, close, quoted, plain, comma, colon; of what opens, `end` is where it closes again."""

    kind: str
    start: int
    end: int


def flow_from(text: str, start: int) -> list[Token] | None:
    """The tokens of the braces or brackets that open at `start`, to their end; None where there is no such thing."""
    tokens: list[Token] = []
    opened: list[int] = []
    letters, at = "", start
    while token := _TOKEN.match(text, at):
        at = token.end()
        kind = token.lastgroup or ""
        if kind == "blank":
            continue
        letters += _LETTERS[kind]
        if _NOT_FLOW.search(letters, max(len(letters) - 3, 0)):
            return None
        if kind == "colon" and not _is_word(text[tokens[-1].start : tokens[-1].end]):
            return None
        if kind == "open":
            opened.append(len(tokens))
        tokens.append(Token(kind, token.start(), at))
        if kind == "close":
            opening = tokens[opened[-1]]
            if _CLOSING[text[opening.start]] != token[0]:
                return None
            tokens[opened.pop()] = Token("open", opening.start, at)
        if not opened:
            return tokens
        if len(opened) > DEEPEST:
            return None
    return None


def _is_word(text: str) -> bool:
    """Whether it can stand before a colon."""
    return len(text) <= LONGEST_WORD and "\n" not in text


class FactLine(Struct, frozen=True):
    """`indent` counts columns; `dash` is the width of a list dash and the space behind it, nought when there is none.

    `key` is None for a list entry and for a line that lacks its colon; both then have a `value` (but for a dash alone).
    `phrase` is the first line as it stands, without indent and remark.
    """

    phrase: Phrase
    indent: int
    dash: int
    key: Phrase | None
    value: Phrase | None
    kind: ValueKind = ValueKind.TEXT
    tab: bool = False
    """The indent has a tab in it."""
    asked: bool = False
    """A `#` after a single space: it may have been meant as a remark."""

    @property
    def column(self) -> int:
        """Where the first word of the line stands."""
        return self.indent + self.dash

    @property
    def header(self) -> bool:
        """A word with nothing after its colon."""
        return self.value is None


class _TextRow(Struct, frozen=True):
    """A line that says something: its first character, its end without remark and space, and the next line's start."""

    indent: int
    tab: bool
    start: int
    end: int
    following: int


def read_lines(text: str, file: str, offset: int, tab: int = 2) -> list[FactLine]:
    """The lines that say something, continued values joined; `offset` is where `text` begins in the file.

    `tab` is how many columns a tab takes.
    """
    return _LineReader(text, file, offset, tab).read()


class _LineReader:
    """Goes through the rows once; a value takes in the rows that belong to it."""

    def __init__(self, text: str, file: str, offset: int, tab: int) -> None:
        self._text = text
        self._file = file
        self._offset = offset
        self._tab = tab
        self._rows = list(self._bare_rows())

    def _bare_rows(self) -> Iterator[_TextRow]:
        at = 0
        while at < len(self._text):
            line = _LINE.match(self._text, at)
            raw = line[0] if line else ""
            remark = _REMARK.search(raw) if "#" in raw else None
            bare = raw[: remark.start()] if remark else raw
            stripped = bare.lstrip()
            if stripped:
                blank = bare[: len(bare) - len(stripped)]
                start = at + len(blank)
                width = len(blank.expandtabs(self._tab))
                yield _TextRow(width, "\t" in blank, start, start + len(stripped.rstrip()), at + len(raw))
            at += len(raw)

    def read(self) -> list[FactLine]:
        lines: list[FactLine] = []
        more: list[Phrase] = []
        number = 0
        while number < len(self._rows):
            row = self._rows[number]
            last = lines[-1] if lines else None
            deeper = last is not None and row.indent > last.indent
            bare = last is not None and last.header and not more
            line, after = self._line(number, last is None or row.indent <= last.indent + 1 or bare)
            leads = number + 1 < len(self._rows) and self._rows[number + 1].indent > row.indent
            stands_alone = line.key is not None or line.dash or (leads and bare)
            if last and deeper and not stands_alone and (last.key or last.dash):
                if bare and line.kind is not ValueKind.TEXT:
                    lines[-1], number = replace(last, value=line.value, kind=line.kind), after
                else:
                    more.append(line.phrase)
                    number += 1
                continue
            self._close(lines, more)
            lines.append(line)
            number = after
        self._close(lines, more)
        return lines

    @staticmethod
    def _close(lines: list[FactLine], more: list[Phrase]) -> None:
        """The last line with what its value goes on with."""
        if more:
            first = [lines[-1].value] if lines[-1].value else []
            lines[-1] = replace(lines[-1], value=Phrase.run([*first, *more]), kind=ValueKind.TEXT)
            more.clear()

    def _phrase(self, start: int, end: int) -> Phrase:
        return Phrase(self._text[start:end], self._file, self._offset + start)

    def _line(self, number: int, expects_key: bool) -> tuple[FactLine, int]:
        """The line that begins with a row, and the number of the row after it."""
        row = self._rows[number]
        phrase = self._phrase(row.start, row.end)
        text = phrase.text
        dash = _DASH.match(text) if text[0] == "-" else None
        width = max(dash.end(), len("- ")) if dash else 0
        if text[width : width + 1] in _OPENING:
            value, kind, end = self._value(number, row.start + width)
            if kind is not ValueKind.TEXT:
                return FactLine(phrase, row.indent, width, None, value, kind, row.tab), self._row_from(number + 1, end)
        key, begin = _key_of(phrase, width, expects_key and not dash)
        begin += len(text[begin:]) - len(text[begin:].lstrip())
        if begin >= len(text):
            return FactLine(phrase, row.indent, width, key, None, tab=row.tab), number + 1
        value, kind, end = self._value(number, row.start + begin)
        asked = kind is ValueKind.TEXT and "#" in text and bool(ONE_SPACE_REMARK.search(text, begin))
        return FactLine(phrase, row.indent, width, key, value, kind, row.tab, asked), self._row_from(number + 1, end)

    def _row_from(self, number: int, end: int) -> int:
        while number < len(self._rows) and self._rows[number].start < end:
            number += 1
        return number

    def _value(self, number: int, start: int) -> tuple[Phrase, ValueKind, int]:
        """The value that begins at `start`, what it is, and where it ends."""
        row = self._rows[number]
        opening = self._text[start]
        if opening in "\"'" and (quoted := QUOTED.match(self._text, start)) and self._ends_a_line(row, quoted.end()):
            return self._phrase(start, quoted.end()), ValueKind.QUOTED, quoted.end()
        if opening in _CLOSING:
            flow = flow_from(self._text, start)
            if flow and self._ends_a_line(row, flow[0].end):
                return self._phrase(start, flow[0].end), ValueKind.FLOW, flow[0].end
            return self._bracketed(number, start)
        if opening in "|>" and _BLOCK_MARK.fullmatch(self._text, start, row.end):
            lines = list(self._block(row))
            if lines:
                return Phrase.run(lines, "\n" if opening == "|" else " "), ValueKind.TEXT, lines[-1].end - self._offset
        return self._phrase(start, row.end), ValueKind.TEXT, row.following

    def _ends_a_line(self, row: _TextRow, end: int) -> bool:
        """Whether nothing but a remark follows, and every line in between is deeper, or begins with what closes it."""
        if not _NOTHING_MORE.match(self._text, end):
            return False
        between = self._text[row.following : end].split("\n") if end > row.following else []
        return all(self._indent(line) > row.indent or line.strip() in ("", "}", "]") for line in between)

    def _indent(self, line: str) -> int:
        return len(line[: len(line) - len(line.lstrip())].expandtabs(self._tab))

    def _block(self, row: _TextRow) -> Iterator[Phrase]:
        """The deeper lines below, whatever is in them."""
        at = row.following
        while at < len(self._text):
            line = self._text[at : self._text.find("\n", at) + 1 or None]
            bare = line.strip()
            if bare and self._indent(line) <= row.indent:
                return
            if bare:
                start = at + line.index(bare[0])
                yield self._phrase(start, start + len(bare))
            at += len(line)

    def _bracketed(self, number: int, start: int) -> tuple[Phrase, ValueKind, int]:
        """Text that begins with a bracket: deeper rows belong to it while that stands open."""
        row = self._rows[number]
        opening = self._text[start]
        closing = _CLOSING[opening]
        parts = [self._phrase(start, row.end)]
        still_open = parts[0].text.count(opening) - parts[0].text.count(closing)
        while still_open > 0 and (number := number + 1) < len(self._rows):
            below = self._rows[number]
            if below.indent <= row.indent and self._text[below.start] != closing:
                break
            parts.append(self._phrase(below.start, below.end))
            still_open += parts[-1].text.count(opening) - parts[-1].text.count(closing)
        return Phrase.run(parts), ValueKind.TEXT, parts[-1].end - self._offset


def _key_of(phrase: Phrase, width: int, may_be_glued: bool) -> tuple[Phrase | None, int]:
    """The word before the colon, if there is one, and where what follows begins."""
    text = phrase.text
    quoted = QUOTED.match(text, width)
    colon = _AFTER_QUOTES.match(text, quoted.end()) if quoted and len(quoted[0]) > 2 else None
    # A colon with nothing in front is no word's colon.
    colon = colon or _COLON.search(text, width + 1)
    if colon is None and may_be_glued:
        colon = _GLUED.match(text)
    if colon is None or colon.end() - width > LONGEST_WORD:
        return None, width
    return phrase.part(width, colon.end() - 1), colon.end()
