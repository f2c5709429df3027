"""The lines of notes: what each is about, before its numbers are looked at.

A line is about the whole sample (`title: ...`), or a fact of a piece (`base fold: tray`), or about what was measured.
A piece may stand over its lines as a heading. A line goes on in deeper ones, and in a list below it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.begin.recover.notes.tokens import Token, tokens_of
from foldwright.begin.recover.notes.words import UNIT_IN_LETTERS
from foldwright.finding import Place
from foldwright.measure.length import Unit
from foldwright.measure.numbers import tidy
from foldwright.measure.weight import GRADES
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.limits import LONGEST_WORD, MOST_FACTS
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.pieces.piece import PIECE_WORDS

SAMPLE_WORDS = (
    "title", "summary", "measured in", "read to", "within", "made in", "card", "weight", "thickness", "sheet",
)  # fmt: skip
"""What may be said of the sample as a whole."""
_OTHERS = {
    "name": "title", "called": "title", "project": "title", "units": "measured in", "unit": "measured in",
    "all in": "measured in", "all measurements in": "measured in", "measurements in": "measured in",
    "read within": "within", "ruler": "read to", "ruler marked in": "read to", "ruler marks": "read to",
    "marks": "read to", "read to the nearest": "read to", "to the nearest": "read to", "give or take": "within",
    "accuracy": "within", "tolerance": "within", "cut to": "made in", "made to": "made in", "cut in": "made in",
    "maker works in": "made in", "made of": "card", "paper": "card",
}  # fmt: skip
FACTS = {word: fact for word, fact in PIECE_WORDS.spellings.items() if word not in ("across", "down", "size", "inside")}
"""What else may be said of a piece, as a recipe has it."""

_SAID = "|".join(sorted(map(re.escape, (*SAMPLE_WORDS, *_OTHERS)), key=len, reverse=True))
_OF_ALL = re.compile(rf"(?P<word>{_SAID})\s*[:=](?=\s|$)\s*", re.IGNORECASE)
_ALL_IN = re.compile(
    r"(?:(?:all|everything|measurements?|readings?|sizes?|numbers?|units?|dimensions?|is|are|noted|given|measured|taken"
    rf"|the|my|these)\s+){{1,6}}(?:in\s+)?(?P<unit>{UNIT_IN_LETTERS})(?:\s+throughout)?\.?",
    re.IGNORECASE,
)
_MADE_IN = re.compile(
    r"(?:(?:it|they|probably|the|is|was|are|were) ){0,4}(?:made|cut|maker works) (?:in|to|on) (?P<said>[^:]+)",
    re.IGNORECASE,
)
_OFF = re.compile(
    r"(?:(?:all|everything|i|read|measured) ){0,4}"
    r"(?:to the nearest|read to|to|(?P<within>within|give or take|±|\+/-)) ?(?P<said>[^:|]+)",
    re.IGNORECASE,
)
_FACT_WORDS = "|".join(sorted(map(re.escape, FACTS), key=len, reverse=True))
_FACT = re.compile(rf"(?:(?P<piece>[^:\n]*\S)\s+)?(?P<word>{_FACT_WORDS})\s*:(?=\s|$)\s*", re.IGNORECASE)
_REMARK = re.compile(
    r"(?:^|(?<=[^\S\n][^\S\n])|(?<=\t)"
    rf"|(?<=[^\S\n])(?=#[^\S\n](?![0-9]|(?:{'|'.join(GRADES)})\b)))#(?![0-9])[^\n]*",
    re.IGNORECASE | re.MULTILINE,
)
_PIECE = re.compile(r"(?:piece|part)\s*[:=]\s*", re.IGNORECASE)
_BULLET = re.compile(r"\s*(?:[-*•–·‣+]\s+|\(?[0-9]{1,2}[.)]\s+|[a-z]\)\s+|\[[ xX]?\]\s+)+")
_RULE = re.compile(r"\s*\|?\s*(?:[-–—=_*:]\s*){3,}(?:\|\s*(?:[-–—=_*:]\s*)*)*")
_SIDED = frozenset({"across", "down", "length", "size", "from", "each", "scores"})
_NUMBERED = frozenset({"number", "unread", "times"})
_HEADING_WORDS = 3
_LOOKED_BACK = 20
_ENDS_OPEN = re.compile(r"[|,+;/&]\s*$|\band\s*$|->\s*$|→\s*$", re.IGNORECASE)


class NoteLine(Struct, frozen=True):
    """A line of notes. `word` is what it says of the whole sample or of a piece; empty where it was measured.

    `piece` is whose fact it is, or the heading over it; `phrase` all of it, and `value` what stands behind the word.
    A sentence `follows` where another stands before it on its line. `unit` is that of the heading.
    """

    phrase: Phrase
    word: str
    piece: str
    value: Phrase
    of_all: bool = False
    tokens: tuple[Token, ...] = ()
    follows: bool = False
    unit: Unit | None = None


class NotedLines(Struct):
    """The lines, and what stands over or between them: headings by name, and remarks nobody has to read."""

    lines: list[NoteLine] = field(default_factory=list)
    headings: list[Phrase] = field(default_factory=list)
    remarks: list[Phrase] = field(default_factory=list)


class _Row(Struct, frozen=True):
    """A line of the text that says something, without its bullet and its remark."""

    indent: int
    phrase: Phrase
    tokens: tuple[Token, ...]
    bullet: bool
    above: bool
    """Whether the line before it says something too."""

    @property
    def first_number(self) -> int:
        kinds = [token.kind for token in self.tokens]
        return next((at for at, kind in enumerate(kinds) if kind in _NUMBERED), len(kinds))

    @property
    def has_number(self) -> bool:
        return self.first_number < len(self.tokens)

    @property
    def colon(self) -> int | None:
        """Where a colon stands before all numbers."""
        before = self.tokens[: self.first_number]
        return next((at for at, token in enumerate(before) if token.kind == "colon"), None)

    @property
    def is_sided(self) -> bool:
        return any(token.kind in _SIDED for token in self.tokens)

    @property
    def words(self) -> int:
        return sum(1 for token in self.tokens if token.kind == "word")

    @property
    def of_all(self) -> re.Match[str] | None:
        match = _OF_ALL.match(tidy(self.phrase.text))
        # `card:` with nothing behind it stands over the lines of a card.
        return match if match and match.end() < len(self.phrase.text) else None

    @property
    def fact(self) -> re.Match[str] | None:
        match = _FACT.match(tidy(self.phrase.text[:LONGEST_WORD]))
        if match and match["piece"] and any(token.kind in _SIDED for token in tokens_of(match["piece"])):
            return None
        # `folds: 5/8 in, 3 1/2 in` are places; a form, or angles, have no unit.
        measured = match and match["word"].lower() in ("fold", "folds") and any(token.unit for token in self.tokens)
        return None if measured else match


def read_lines(text: str, file: str, complaints: Complaints) -> NotedLines:
    """The lines of notes, in order."""
    if len(text) > MOST_FACTS:
        kept = text[: text.rfind("\n", 0, MOST_FACTS) + 1 or MOST_FACTS]
        complaints.fault("too-many-facts", Place(file, len(kept), len(kept)), limit=MOST_FACTS)
        text = kept
    bare = _REMARK.sub(lambda remark: " " * len(remark[0]), text)
    return _LineGatherer(bare, file).gathered(list(_rows(bare, file)))


def _rows(text: str, file: str) -> Iterator[_Row]:
    at, above = 0, False
    for line in text.split("\n"):
        plain = tidy(line)
        if not plain.strip() or _RULE.fullmatch(plain):
            above = False
        else:
            bullet = _BULLET.match(plain)
            skipped = bullet.end() if bullet and plain[bullet.end() :].strip() else len(plain) - len(plain.lstrip())
            said = Phrase(line, file, at).part(skipped)
            indent = len(line[: len(line) - len(line.lstrip())].expandtabs(4))
            yield _Row(indent, said, tuple(tokens_of(said.text)), bool(bullet), above)
            above = True
        at += len(line) + 1


class _LineGatherer:
    """Goes through the rows once; a line takes in the rows that belong to it."""

    def __init__(self, text: str, file: str) -> None:
        self._text = text
        self._file = file
        self._noted = NotedLines()
        self._heading: _Heading | None = None
        self._open: tuple[_Row, bool, bool] | None = None
        """The row that the last line began with, whether it is a fact, and whether a list stands below it."""
        self._end = 0

    def gathered(self, rows: Sequence[_Row]) -> NotedLines:
        for number, row in enumerate(rows):
            if self._goes_on(row):
                self._end = row.phrase.end
                continue
            self._close()
            following = rows[number + 1] if number + 1 < len(rows) else None
            if self._heading and row.indent <= self._heading.indent and self._heading.deeper:
                self._heading = None
            if self._stands_over(row):
                self._headed(row, following)
            else:
                self._open = row, bool(row.fact or row.of_all), False
                self._end = row.phrase.end
        self._close()
        return self._noted

    def _goes_on(self, row: _Row) -> bool:
        """Whether a row belongs to the line before it."""
        if self._open is None:
            return False
        first, fact, listed = self._open
        deeper = row.indent > first.indent
        own = bool(row.of_all or row.fact) or row.is_sided
        if fact:
            return deeper
        if own and not (deeper and not row.is_sided):
            return False
        if row.of_all or row.fact:
            return False
        if deeper and row.has_number:
            return True
        last = self._text[max(self._end - _LOOKED_BACK, 0) : self._end]
        if row.above and _ENDS_OPEN.search(last) and row.has_number:
            return True
        may_list = first.is_sided and row.has_number and row.colon is None and (listed or not first.has_number)
        if may_list and (row.above or not listed):
            self._open = first, fact, True
            return True
        return deeper and row.words == 0

    def _stands_over(self, row: _Row) -> bool:
        """Whether a row is a heading, or a remark: nothing was measured there."""
        if row.has_number or row.of_all or row.fact or row.is_sided or _statement(row.phrase):
            return False
        ends = row.colon is not None and (row.colon == len(row.tokens) - 1 or _PIECE.match(row.phrase.text) is not None)
        return row.colon is None or ends

    def _headed(self, row: _Row, following: _Row | None) -> None:
        name = row.phrase.part(0, len(row.phrase.text.rstrip(" :.\t")))
        if match := _PIECE.match(name.text):
            name = name.part(match.end())
        unit = next((token for token in row.tokens if token.kind == "unit"), None)
        words = [token for token in row.tokens if token.kind in ("word", "panel")]
        if words and not _PIECE.match(row.phrase.text):
            name = row.phrase.part(words[0].start, words[-1].end)
        plain = all(token.kind in ("word", "filler", "colon", "panel", "stop", "unit") for token in row.tokens)
        if not name.text or not plain or row.words > _HEADING_WORDS or not row.words:
            self._noted.remarks.append(row.phrase)
            return
        deeper = following is not None and following.indent > row.indent
        self._heading = _Heading(name.plain, row.indent, deeper, unit.unit if unit else None)
        self._noted.headings.append(name)

    def _close(self) -> None:
        """The line that was gathered."""
        if self._open is None:
            return
        row, self._open = self._open[0], None
        phrase = Phrase(self._text[row.phrase.start : self._end], self._file, row.phrase.start)
        heading = self._heading or _Heading("", 0, False, None)
        self._noted.lines += (replace(line, unit=heading.unit) for line in _lines(row, phrase, heading.name))


class _Heading(Struct, frozen=True):
    """A piece over its lines: those that stand deeper, or all to the next heading. `unit` is that of their numbers."""

    name: str
    indent: int
    deeper: bool
    unit: Unit | None


def _lines(row: _Row, phrase: Phrase, piece: str) -> Iterator[NoteLine]:
    """A line, or each of its sentences."""
    tokens = list(row.tokens) if phrase == row.phrase else tokens_of(phrase.text)
    stops = [token for token in tokens if token.kind == "stop" and phrase.text[token.end : token.end + 1].isspace()]
    if row.of_all or row.fact or not stops:
        yield _line(row, phrase, piece, tokens)
        return
    start = 0
    for end in (*(token.start for token in stops), len(phrase.text)):
        part = phrase.part(start, end)
        own = tokens_of(part.text)
        if own and all(token.kind in ("word", "filler") for token in own) and len(own) <= _HEADING_WORDS:
            # `Base. Across: ...`
            piece = part.plain
        elif said := _statement(part):
            yield NoteLine(part, said[0], "", said[1], True)
        elif part.text.strip(" ."):
            yield NoteLine(part, "", piece, part, False, tuple(own), start > 0)
        start = end + 1


def _line(row: _Row, phrase: Phrase, piece: str, tokens: Sequence[Token]) -> NoteLine:
    if match := row.of_all:
        word = " ".join(match["word"].lower().split())
        return NoteLine(phrase, _OTHERS.get(word, word), "", _unquoted(phrase.part(match.end())), True)
    if match := row.fact:
        own = match["piece"] or piece
        return NoteLine(phrase, FACTS[match["word"].lower()], own, _unquoted(phrase.part(match.end())))
    if said := _statement(phrase):
        return NoteLine(phrase, said[0], "", said[1], True)
    return NoteLine(phrase, "", piece, phrase, False, tuple(tokens))


def _statement(phrase: Phrase) -> tuple[str, Phrase] | None:
    """What a line without a colon says of the whole sample: `all in mm`, `made in eighths`, `read to 1/16 in`."""
    plain = tidy(phrase.text).rstrip(" .")
    if match := _ALL_IN.fullmatch(plain):
        return "measured in", phrase.part(match.start("unit"), match.end("unit"))
    if match := _MADE_IN.fullmatch(plain):
        return "made in", phrase.part(match.start("said"), match.end("said"))
    if match := _OFF.fullmatch(plain):
        return "within" if match["within"] else "read to", phrase.part(match.start("said"), match.end("said"))
    return None


def _unquoted(value: Phrase) -> Phrase:
    """A value without quotes round the whole of it."""
    text = value.text
    quoted = len(text) > 1 and text[0] == text[-1] and text[0] in "\"'" and text[0] not in text[1:-1]
    return value.part(1, -1) if quoted else value
