"""One paragraph of Markdown to runs of words.py, with the place in the file of every measure found in it.

Markdown-it does not say where in a paragraph its tokens came from, so the state it works on is given a memory for
that here. Measures are looked for in the paragraph as a whole (the act may be in bold and the number not), but never
reach over the edge of an emphasis, a link or a code span.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Sequence
from itertools import accumulate
from typing import Literal

from markdown_it import MarkdownIt
from markdown_it.rules_inline import StateInline
from markdown_it.token import Token
from msgspec import Struct, field

from foldwright.finding import Place
from foldwright.measure.belief import BOUNDARY, CLOSED
from foldwright.measure.prose import NOTHING, BareNumbers, FoundMeasure, ProseMeasures, find_measures
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.words import Bare, Break, Code, Emphasis, Inline, Link, Measure, NotMeasured, Strong, Text
from foldwright.vocabulary import length_acts


def _any_address(url: str) -> bool:  # noqa: ARG001 (Markdown-it asks about each)
    """Every address is let through to be judged below, so that a dropped one can be told of."""
    return True


MARKDOWN = MarkdownIt("commonmark", {"html": False, "linkify": False, "typographer": False, "maxNesting": 60})
MARKDOWN.disable(["inline", "text_join", "fragments_join", "lheading", "code"])
MARKDOWN.validateLink = _any_address  # type: ignore[method-assign]

_WITHOUT_LINKS = MarkdownIt("commonmark", {"html": False, "linkify": False, "typographer": False})
_WITHOUT_LINKS.disable(["fragments_join", "link", "image"])
_MOST_BRACKETS = 200
"""Markdown-it looks through the rest of a paragraph for every `[`; where there are more, none begins a link."""

DEEPEST = 8
"""Emphasis inside emphasis, quotes inside quotes, lists inside lists: no more than this, for any of them."""

_MARKUP = re.compile(r"[\\`*_\[<&]")
_ADDRESS = re.compile(r"(?:https?://|www\.)\S+|[\w.+-]+@[\w-]+\.[\w.]+", re.IGNORECASE)
_SAFE_ADDRESS = re.compile(r"(?:https?://|mailto:|#)", re.IGNORECASE)
_WHOLE_NUMBERS = re.compile(r"[0-9]+(?: ?(?:[x×✕⨉]|by) ?[0-9]+)+", re.IGNORECASE)
"""`arrange 3 x 4` is no measure, but `4 1/4 x 5 1/2` can be nothing else."""
_RUN_OF_BLANKS = re.compile(r"[ \t\r\n]+")
_SOFT_BREAK = re.compile(r" ?\n[ \t]*")


class Lines(Struct, frozen=True):
    """Where the lines of a paragraph's text stand in the file: parallel offsets into the paragraph and the file."""

    starts: tuple[int, ...]
    places: tuple[int, ...]

    def of(self, offset: int) -> int:
        line = bisect_right(self.starts, offset) - 1
        return self.places[line] + offset - self.starts[line]


class WordNotes(Struct):
    """What was noticed while words were read; handed from paragraph to paragraph and filled."""

    file: str
    complaints: Complaints = field(default_factory=Complaints)
    not_measured: list[NotMeasured] = field(default_factory=list)

    def thought(self, code: str, start: int, end: int, **facts: object) -> None:
        self.complaints.thought(code, Place(self.file, start, end), **facts)


class _PlacedState(StateInline):
    """Remembers, for every token that holds text, the offset in the paragraph it came from."""

    _pending_at = 0
    _last_mark = (-1, 0)

    def append_pending(self, text: str) -> None:
        if not self._pending and not self._pending_buffer:
            self._pending_at = self.pos
        super().append_pending(text)

    def pushPending(self) -> Token:  # noqa: N802 (the name is Markdown-it's)
        token = super().pushPending()
        token.meta = {"at": self._pending_at}
        return token

    def push(self, ttype: str, tag: str, nesting: Literal[-1, 0, 1]) -> Token:
        token = super().push(ttype, tag, nesting)
        # The marks of one run (`***`) are pushed one by one while the position stands at the first.
        at, count = self._last_mark
        self._last_mark = (self.pos, count + 1 if ttype == "text" and at == self.pos else 0)
        token.meta = {"at": self.pos + self._last_mark[1]}
        return token


class _CharacterRun(Struct, frozen=True):
    """Characters that stand together, from `at` in the paragraph, `width` characters wide there."""

    text: str
    at: int
    width: int
    closed: bool = False
    """An address or a picture's words: shown, but not searched for measures."""


class _Stop(Struct, frozen=True):
    """A line end the author asked for: at `at` in the paragraph."""

    at: int


class _InlineMark(Struct, frozen=True):
    """The beginning of an emphasis or a link, with how to build it (None: its runs stay as they are), or its end."""

    build: _Build | None
    opens: bool


type _Build = Callable[[tuple[Inline, ...]], Inline]
type _Piece = _CharacterRun | _InlineMark | Code | _Stop


def read_inline(content: str, lines: Lines, notes: WordNotes, env: dict[str, object]) -> tuple[Inline, ...]:
    """The runs of one paragraph. `content` is its Markdown, `lines` says where that stands in the file."""
    if not content:
        return ()
    marked = is_marked(content)
    pieces = list(_pieces(content, lines, notes, env)) if marked else _plain_pieces(content)
    if any(isinstance(piece, _Stop) for piece in pieces):
        pieces = _without_stops_in_measures(pieces)
    flat = _flat(pieces)
    found = find_measures(flat, length_acts())
    if found is NOTHING and not marked:
        return (Text("".join(piece.text for piece in pieces if isinstance(piece, _CharacterRun)).replace("\n", " ")),)
    return _Weaver(pieces, flat, found, lines, notes).weave()


def is_marked(content: str) -> bool:
    """Whether a paragraph may be more than its plain words."""
    return _MARKUP.search(content) is not None or "  \n" in content


def plain_text(children: Iterable[Inline]) -> str:
    """The words of some runs without any marks."""
    parts: list[str] = []
    for child in children:
        match child:
            case Text(text) | Code(text):
                parts.append(text)
            case Measure():
                parts.append(child.said)
            case Break():
                parts.append(" ")
            case _:
                parts.append(plain_text(child.children))
    return "".join(parts)


def _flat(pieces: Sequence[_Piece]) -> str:
    """The pieces as one text, one character for each that has none of its own."""
    flat = "".join(map(_as_sentence, pieces)) if len(pieces) > 1 else _as_sentence(pieces[0])
    if "@" in flat or "www." in flat or "://" in flat:
        flat = _ADDRESS.sub(lambda found: CLOSED * len(found[0]), flat)
    return flat


def _without_stops_in_measures(pieces: Sequence[_Piece]) -> list[_Piece]:
    """Two blanks at the end of a line ask for a line end; within a measure nobody can have meant one."""
    without = [_line_end(piece.at, piece.at + 1) if isinstance(piece, _Stop) else piece for piece in pieces]
    starts = accumulate(map(_width, pieces), initial=0)
    found = find_measures(_flat(without), length_acts()).measures
    within = {at for one in found for at in range(one.start, one.end)}
    return [bare if start in within else piece for start, piece, bare in zip(starts, pieces, without, strict=False)]


def _as_sentence(piece: _Piece) -> str:
    if isinstance(piece, _CharacterRun):
        return CLOSED * len(piece.text) if piece.closed else piece.text
    return CLOSED if isinstance(piece, Code) else BOUNDARY


def _width(piece: _Piece) -> int:
    return len(piece.text) if isinstance(piece, _CharacterRun) else 1


def _plain_pieces(content: str) -> list[_Piece]:
    """The pieces of a paragraph without any Markdown in it: one, unless there are blanks at the ends of its lines."""
    if "\n" not in content or ("\n " not in content and " \n" not in content and "\n\t" not in content):
        return [_CharacterRun(content, 0, len(content))]
    pieces: list[_Piece] = []
    at = 0
    for found in _SOFT_BREAK.finditer(content):
        pieces += (
            _CharacterRun(content[at : found.start()], at, found.start() - at),
            _line_end(found.start(), found.end()),
        )
        at = found.end()
    pieces.append(_CharacterRun(content[at:], at, len(content) - at))
    return pieces


def _line_end(start: int, end: int) -> _CharacterRun:
    return _CharacterRun("\n", start, end - start)


def _pieces(content: str, lines: Lines, notes: WordNotes, env: dict[str, object]) -> Iterable[_Piece]:
    """The pieces of a paragraph with Markdown in it, in order."""
    markdown = MARKDOWN if content.count("[") <= _MOST_BRACKETS else _WITHOUT_LINKS
    state = _PlacedState(content, markdown, env, [])
    markdown.inline.tokenize(state)
    for rule in markdown.inline.ruler2.getRules(""):
        rule(state)
    depth = 0
    in_address = False
    for token in state.tokens:
        at: int = token.meta.get("at", 0)
        if token.nesting > 0:
            depth += 1
            in_address = token.markup == "autolink"
            yield _InlineMark(_builder(token, content, at, lines, notes) if depth <= DEEPEST else None, opens=True)
        elif token.nesting < 0:
            depth -= 1
            in_address = False
            yield _InlineMark(None, opens=False)
        else:
            yield _leaf(token, content, at, in_address, lines, notes)


def _leaf(token: Token, content: str, at: int, in_address: bool, lines: Lines, notes: WordNotes) -> _Piece:
    match token.type:
        case "code_inline":
            return Code(token.content)
        case "softbreak":
            found = _SOFT_BREAK.match(content, at)
            return _line_end(at, found.end() if found else at + 1)
        case "hardbreak":
            return _Stop(at)
        case "image":
            notes.thought("picture-in-words", lines.of(at), lines.of(at + 2), shows=token.content)
            return _CharacterRun(token.content.replace("\n", " "), at, 0, closed=True)
        case "text_special":
            return _CharacterRun(token.content, at, len(token.markup))
        case _:
            return _CharacterRun(token.content, at, len(token.content), closed=in_address)


def _builder(token: Token, content: str, at: int, lines: Lines, notes: WordNotes) -> _Build | None:
    """What an opening mark makes of the runs up to its end; None when they stand for themselves."""
    if token.type == "em_open":
        return Emphasis
    if token.type == "strong_open":
        return Strong
    address = str(token.attrs.get("href", ""))
    if _SAFE_ADDRESS.match(address):
        return lambda children: Link(address, children)
    end = content.find("]", at)
    notes.thought("link-dropped", lines.of(at), lines.of(end if end > at else at + 1), address=address)
    return None


class _Weaver:
    """Puts the measures found in the sentence back among the pieces it was made of."""

    def __init__(self, pieces: list[_Piece], flat: str, found: ProseMeasures, lines: Lines, notes: WordNotes) -> None:
        self._pieces = pieces
        self._flat = flat
        self._found = found
        self._lines = lines
        self._notes = notes
        self._starts = list(accumulate(map(_width, pieces[:-1]), initial=0))
        self._shown = "".join(piece.text if isinstance(piece, _CharacterRun) else BOUNDARY for piece in pieces)
        every: list[FoundMeasure | BareNumbers] = [*found.measures, *found.bare]
        self._measures = iter(sorted(every, key=lambda one: one.start))
        self._next = next(self._measures, None)
        self._out: list[Inline] = []

    def weave(self) -> tuple[Inline, ...]:
        self._tell_of_the_rest()
        open_marks: list[tuple[_Build | None, list[Inline]]] = []
        said = 0
        for start, piece in zip(self._starts, self._pieces, strict=True):
            if isinstance(piece, _CharacterRun):
                continue
            self._say(said, start)
            said = start + 1
            match piece:
                case _InlineMark(build, opens=True):
                    open_marks.append((build, self._out))
                    self._out = []
                case _InlineMark():
                    build, outer = open_marks.pop()
                    inner = tuple(self._out)
                    outer.extend((build(inner),) if build else inner)
                    self._out = outer
                case _Stop():
                    self._out.append(Break())
                case _:
                    self._out.append(piece)
        self._say(said, len(self._shown))
        return tuple(self._out)

    def _say(self, start: int, end: int) -> None:
        """Keep the characters from `start` to `end` (counted in the sentence), the measures among them as measures."""
        while self._next is not None and self._next.start < end:
            self._say_text(start, self._next.start)
            self._out.append(self._measure(self._next))
            start = self._next.end
            self._next = next(self._measures, None)
        self._say_text(start, end)

    def _say_text(self, start: int, end: int) -> None:
        """Characters without measures, less the backslashes that cancelled some."""
        if start == end:
            return
        cancelled = self._found.cancelled
        parts: list[str] = []
        for at in cancelled[bisect_left(cancelled, start) : bisect_left(cancelled, end)]:
            parts.append(self._shown[start:at])
            start = at + 1
        parts.append(self._shown[start:end])
        self._out.append(Text("".join(parts).replace("\n", " ")))

    def _place(self, start: int, end: int) -> Place:
        return Place(self._notes.file, self._in_file(start, after=False), self._in_file(end - 1, after=True))

    def _in_file(self, at: int, after: bool) -> int:
        """Where a character of the sentence stands in the file, or where it ends."""
        number = bisect_right(self._starts, at) - 1
        piece = self._pieces[number]
        assert isinstance(piece, _CharacterRun)
        if piece.width == len(piece.text):
            return self._lines.of(piece.at + at - self._starts[number]) + after
        return self._lines.of(piece.at + piece.width - 1) + 1 if after else self._lines.of(piece.at)

    def _measure(self, found: FoundMeasure | BareNumbers) -> Measure | Text:
        said = _RUN_OF_BLANKS.sub(" ", self._flat[found.start : found.end])
        place = self._place(found.start, found.end)
        if isinstance(found, BareNumbers):
            return Text(said, Bare(place, found.shape, found.values, found.joiners))
        return Measure(said, place, found.shape, found.lengths, found.joiners, found.hyphenated, found.why)

    def _tell_of_the_rest(self) -> None:
        """What was passed over is kept for the listing; what cannot be meant so is asked about."""
        for passed in self._found.passed_over:
            said = _RUN_OF_BLANKS.sub(" ", self._flat[passed.start : passed.end])
            place = self._place(passed.start, passed.end)
            self._notes.not_measured.append(NotMeasured(said, place, passed.why))
            if passed.complaint and passed.complaint.code != "zero-length":
                facts = {"text": said, **dict(passed.complaint.facts)}
                self._notes.complaints.thought(passed.complaint.code, place, said=said, **facts)
            elif passed.why == "no-unit-of-its-own":
                self._notes.complaints.thought("unit-said-once", place, said=said)
            elif passed.why == "in-or-inches":
                self._notes.complaints.thought("in-or-inches", place, said=said)
            elif passed.why == "no-unit" and not _WHOLE_NUMBERS.fullmatch(said):
                self._notes.complaints.thought("unit-forgotten", place, said=said)
