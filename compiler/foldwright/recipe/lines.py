"""The lines of the facts, one by one: how far in, the word before the colon, and the text after it as it stands.

Nothing the author typed as a value is looked into here: colons, quotes, stars and number signs are text. A remark
begins with `#` at the start of a line or after two spaces (or a tab). A value goes on in deeper lines without a word
of their own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.weight import GRADES
from foldwright.recipe.phrase import Phrase

_REMARK = re.compile(r"(?:^[^\S\n]*|[^\S\n]{2,}|\t)#")
_GRADES = "|".join(GRADES)
ONE_SPACE_REMARK = re.compile(rf"(?<=\S)[^\S\n]#[^\S\n](?!(?<=[0-9] # )(?:{_GRADES})\b)", re.IGNORECASE)
"""What may have been meant as a remark; `110 # cover` is a weight."""
_DASH = re.compile(r"-(?:\s+|$)")
_COLON = re.compile(r":(?=\s|$)")
_GLUED = re.compile(r"([^\W\d](?:[^\W\d]|[ _-](?=[^\W\d])){0,30})\s*:(?!//|:)(?=\S)")
"""A word and its colon with no space after it; `3:40` and addresses are none."""
_BLOCK_MARK = re.compile(r"[|>][+-]?")
_CLOSING = {"{": "}", "[": "]"}


class Line(Struct, frozen=True):
    """`indent` counts columns; `dash` is the width of a list dash and the space behind it, nought when there is none.

    `key` is None for a list entry and for a line that lacks its colon; both then have a `value` (but for a dash alone).
    `phrase` is the first line as it stands, without indent and remark.
    """

    phrase: Phrase
    indent: int
    dash: int
    key: Phrase | None
    value: Phrase | None
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

    def longer(self, more: Phrase) -> Line:
        return replace(self, value=more if self.value is None else self.value.joined(more))


def read_lines(text: str, file: str, offset: int) -> list[Line]:
    """The lines that say something, continued values joined; `offset` is where `text` begins in the file."""
    bare = list(_bare_lines(text, file, offset))
    lines: list[Line] = []
    block = False
    brackets = _Brackets()
    for number, (indent, phrase) in enumerate(bare):
        last = lines[-1] if lines else None
        deeper = last is not None and indent > last.indent
        if last and ((block and deeper) or brackets.take_in(phrase.text, deeper)):
            lines[-1] = last.longer(phrase)
            continue
        line = _read_line(phrase, indent, expects_key=last is None or indent <= last.indent + 1 or last.header)
        leads = number + 1 < len(bare) and bare[number + 1][0] > indent
        stands_alone = line.key is not None or line.dash or (leads and last is not None and last.header)
        if last and deeper and not stands_alone and (last.key or last.dash):
            lines[-1] = last.longer(phrase)
            continue
        block = line.value is not None and leads and bool(_BLOCK_MARK.fullmatch(line.value.text))
        lines.append(replace(line, value=None) if block else line)
        brackets.begin(line.value.text if line.value else "")
    return lines


def _bare_lines(text: str, file: str, offset: int) -> Iterator[tuple[int, Phrase]]:
    """The lines that are not empty: how far in, and the text without indent, remark and trailing space."""
    tab = _tab_width(text)
    start = offset
    for raw in text.split("\n"):
        bare = raw
        if "#" in raw and (remark := _REMARK.search(raw)):
            bare = raw[: remark.start()]
        stripped = bare.lstrip()
        if stripped:
            indent = len(bare) - len(stripped)
            width = indent if tab == 1 else sum(tab if blank == "\t" else 1 for blank in bare[:indent])
            yield width, Phrase(stripped.rstrip(), file, start + indent)
        start += len(raw) + 1


def _tab_width(text: str) -> int:
    """A tab stands for one level: as many columns as the shallowest line indented by spaces."""
    if "\t" not in text:
        return 1
    spaces = [len(run) for run in re.findall(r"^ +(?=\S)", text, re.MULTILINE)]
    return min(spaces, default=2)


class _Brackets:
    """Whether the value of the last line began with `{` or `[` that still stands open."""

    def __init__(self) -> None:
        self._opening = ""
        self._open = 0

    def begin(self, value: str) -> None:
        self._opening = value[:1] if value[:1] in _CLOSING else ""
        self._open = self._count(value) if self._opening else 0

    def take_in(self, text: str, deeper: bool) -> bool:
        """Whether a line goes on inside the bracket; one that is no deeper can only close it."""
        inside = self._open > 0 and (deeper or text[0] == _CLOSING[self._opening])
        if inside:
            self._open += self._count(text)
        return inside

    def _count(self, text: str) -> int:
        return text.count(self._opening) - text.count(_CLOSING[self._opening])


def _read_line(phrase: Phrase, indent: int, expects_key: bool) -> Line:
    text = phrase.text
    dash = _DASH.match(text) if text[0] == "-" else None
    width = max(dash.end(), len("- ")) if dash else 0
    # A colon with nothing in front is no word's colon.
    colon = _COLON.search(text, width + 1)
    if colon is None and expects_key and not dash:
        colon = _GLUED.match(text)
    begin = colon.end() if colon else width
    key = _unquoted(phrase.part(width, begin - 1)) if begin > width else None
    value = phrase.part(begin) if begin < len(text) else None
    asked = value is not None and "#" in text and bool(ONE_SPACE_REMARK.search(value.text))
    return Line(phrase, indent, width, key, value, asked)


def _unquoted(key: Phrase) -> Phrase:
    """`"charcoal card"` before a colon is the name without its quotes."""
    text = key.text
    return key.part(1, -1) if len(text) > 2 and text[0] == text[-1] and text[0] in "\"'" else key
