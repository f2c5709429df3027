"""What a person reads in the terminal: findings by file in the order of the text, and a closing sum.

Words only; colour is added where the output is a terminal, and never carries a meaning alone.
"""

from __future__ import annotations

import os
import re
import sys
import textwrap
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from shutil import get_terminal_size
from typing import TextIO

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.findings import Told, tell
from foldwright.finding import Finding, Strength, Wrong

WIDEST = 100
WRONG_CALL = 2
"""The exit status of a call that is wrong, as distinct from a recipe."""
INDENT = "  "
_SIGNS = {
    Strength.FAULT: ("✗", "x", "bold red"),
    Strength.MISFIT: ("≠", "!", "bold yellow"),
    Strength.THOUGHT: ("·", "-", "cyan"),
}
"""For each strength a sign, the same for terminals that only know ASCII, and a style."""
_HELD = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|ft|yd|mm|cm|m|pt)\b)")
"""The spaces inside a measure, at which no line should end."""
_TYPED = re.compile(r"(?<=  )[^ ].{0,48}?(?=  |$)")
"""What is to be typed stands behind two spaces; a line that ended within it could not be typed as it is."""
_HOLDING = "\u00a0"
_UNSEEN = frozenset("\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Marks that turn the direction of writing: in a message they could make the author's words read otherwise."""
_IN_ASCII = str.maketrans({"\u2018": "'", "\u2019": "'", "\u201c": '"', "\u201d": '"', "\u00d7": "x"})
"""The catalogue's own marks for terminals that only know ASCII; what else they lack they show as `?`."""


class StyledLine(Struct, frozen=True):
    """A line of output and its style, which only a terminal sees."""

    text: str
    style: str = ""


_OF_LISTS = ("guests-", "stock-", "library-")
"""What is told of lists of guests, shelves and libraries cannot be hushed: only a recipe has a place to say so."""


def told_as_shown(findings: Iterable[Finding], texts: Mapping[str, str], shown: Mapping[str, str]) -> tuple[Told, ...]:
    """Findings in words, under the names of files as the caller typed them."""
    told = (tell(finding, texts) for finding in findings)
    return tuple(replace(one, file=shown.get(one.file, one.file)) for one in told)


@contextmanager
def unheard(stream: TextIO) -> Iterator[None]:
    """Lets the command go on in silence when whoever read what it says has had enough (`foldwright build ... | head`):
    what there is to do is done, and the exit status says how it went."""
    try:
        yield
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


class Teller:
    """Says things on standard output (or another stream): wrapped, coloured if that is a terminal."""

    def __init__(self, stream: str = "stdout") -> None:
        self._stream = getattr(sys, stream)
        self._stream.reconfigure(errors="replace")
        self.terminal = self._stream.isatty()
        self.width = min(get_terminal_size().columns, WIDEST) if self.terminal else WIDEST
        self.plain = "utf" not in (self._stream.encoding or "").lower()

    def say(self, lines: Iterable[StyledLine]) -> None:
        """Print lines as they are, styled where a terminal shows it; to nobody, once nobody listens."""
        with unheard(self._stream):
            self._say(lines)

    def _say(self, lines: Iterable[StyledLine]) -> None:
        if self.plain:
            lines = [replace(line, text=line.text.translate(_IN_ASCII)) for line in lines]
        if not (self.terminal and "NO_COLOR" not in os.environ):
            for line in lines:
                print(line.text, file=self._stream)
            self._stream.flush()
            return
        from rich.console import Console
        from rich.text import Text

        console = Console(file=self._stream, highlight=False, soft_wrap=True)
        for line in lines:
            console.print(Text(line.text, style=line.style))

    def words(self, key: str, **facts: object) -> None:
        """Say one text of the catalogue."""
        self.text(catalogue().say(f"command.{key}", **facts))

    def refuse(self, wrong: Iterable[Wrong]) -> int:
        """Say all that is wrong with a call, of which nothing was done; the exit status of such calls."""
        for one in wrong:
            self.wrong(one)
        self.words("wrong-call")
        return WRONG_CALL

    def wrong(self, wrong: Wrong) -> None:
        """Say one thing that is wrong with a call."""
        self.words(f"wrong.{wrong.message}", **dict(wrong.facts))

    def text(self, text: str) -> None:
        """Print a text, wrapped."""
        self.say(StyledLine(line) for line in self.wrapped(seen(text), ""))

    def wrapped(self, text: str, indent: str) -> list[str]:
        """Lines no wider than the terminal; line ends in the text are kept."""
        lines: list[str] = []
        for line in text.splitlines():
            hanging = indent + line[: len(line) - len(line.lstrip())]
            folded = textwrap.wrap(
                _TYPED.sub(lambda typed: typed[0].replace(" ", _HOLDING), _HELD.sub(_HOLDING, line.strip())),
                self.width,
                initial_indent=hanging,
                subsequent_indent=hanging,
                break_long_words=False,
                break_on_hyphens=False,
            )
            lines += [one.replace(_HOLDING, " ") for one in folded] or [""]
        return lines

    def findings(
        self, findings: Iterable[Finding], texts: Mapping[str, str], shown: Mapping[str, str] | None = None
    ) -> None:
        """Tell findings in `texts`, under the names by which files are `shown`."""
        self.told(told_as_shown(findings, texts, shown or {}))

    def told(self, told: Sequence[Told]) -> None:
        """Tell findings that are in words already, grouped by file."""
        for file in dict.fromkeys(one.file for one in told):
            self._file(file, [one for one in told if one.file == file])

    def told_alone(self, told: Told) -> None:
        """Tell one finding under the name of its file."""
        self.say([StyledLine(seen(told.file), "bold"), *self._finding(told)])

    def _file(self, file: str, told: Sequence[Told]) -> None:
        self.say([StyledLine(seen(file), "bold")])
        for one in told:
            self.say(self._finding(one))
        thoughts = dict.fromkeys(one.code for one in told if one.strength is Strength.THOUGHT)
        codes = [code for code in thoughts if not code.startswith(_OF_LISTS)]
        if codes:
            hush = catalogue().say("command.hush", count=len(codes), codes=", ".join(codes))
            self.say(StyledLine(line, "dim") for line in self.wrapped(hush, INDENT))
        self.say([StyledLine("")])

    def _finding(self, told: Told) -> Iterator[StyledLine]:
        sign, ascii_sign, style = _SIGNS[told.strength]
        words = catalogue()
        strength = words.say(f"command.strength.{told.strength.name.lower()}")
        where = words.say("command.where", line=told.line) if told.line else ""
        yield StyledLine(f"{INDENT}{ascii_sign if self.plain else sign} {strength}{where}", style)
        if told.line_text.strip():
            line, marker = marked(told.line_text, told.column - 1, extent(told), self.width - 8)
            yield StyledLine(f"{INDENT * 2}| {line}")
            yield StyledLine(f"{INDENT * 2}| {marker}", style)
        for text in (told.says, told.understood, told.remedy):
            if text:
                yield from (StyledLine(line) for line in self.wrapped(seen(text), INDENT * 2))

    def total(self, strengths: Iterable[Strength], recipes: int) -> None:
        """The closing line: how many of each, in how many recipes."""
        self.say([StyledLine(total(catalogue(), Counter(strengths), recipes))])


def total(words: Catalogue, counts: Counter[Strength], recipes: int) -> str:
    """The last line: how many findings of each strength, and in how many recipes."""
    found = (strength for strength in sorted(Strength, reverse=True) if counts[strength])
    counted = tuple(words.say(f"command.counted.{one.name.lower()}", count=counts[one]) for one in found)
    where = words.say("command.counted.recipe", count=recipes) if recipes != 1 else ""
    if not counted:
        return words.say("command.total.well-all", recipes=where) if where else words.say("command.total.well")
    return words.say("command.total.found-all" if where else "command.total.found", counted=counted, recipes=where)


_SIGNS_TO_A_COLUMN = 4
"""Of a letter with its accents, more than which are shown of no line that is too long."""


def extent(told: Told) -> int:
    """How many characters of its line a finding speaks of."""
    return max(1, len(told.said.partition("\n")[0]))


def seen(text: str) -> str:
    """Text fit for a terminal: nothing in it can move the cursor, colour the screen or turn the writing round."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(
        character
        if character == "\n" or not (unicodedata.category(character) in ("Cc", "Cs") or character in _UNSEEN)
        else " "
        if character == "\t"
        else "\N{REPLACEMENT CHARACTER}"
        for character in text
    )


def marked(line: str, start: int, extent: int, width: int) -> tuple[str, str]:
    """The author's line and a row of carets under the words meant, cut to `width` around them."""
    line = seen(line.rstrip().replace("\n", " "))
    end = max(start + 1, min(start + extent, len(line)))
    first = max(0, min(start - 8, len(line) - width + 1)) if cells(line) > width else 0
    head = "…" if first else ""
    body = head + line[first + len(head) :]
    if cells(body) > width:
        # A line may be a whole file: what is cut off sign by sign must be short by then.
        body = body[: _SIGNS_TO_A_COLUMN * width]
        while cells(body) >= width:
            body = body[:-1]
        body += "…"
    before = body[: max(0, start - first)]
    under = body[max(0, start - first) : max(1, end - first)]
    return body, " " * cells(before) + "^" * max(1, cells(under))


def cells(text: str) -> int:
    """How many columns a terminal gives a text: none for combining marks, two for wide characters."""
    return sum(
        0 if unicodedata.combining(character) else 2 if unicodedata.east_asian_width(character) in "WF" else 1
        for character in text
    )
