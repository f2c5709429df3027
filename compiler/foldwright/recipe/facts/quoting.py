"""The lines of the facts as YAML that says the same, every value in quotes, and where each word of it was typed."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, field

from foldwright.recipe.facts.flow import QUOTED, flow_from
from foldwright.recipe.facts.lines import FactLine, ValueKind
from foldwright.recipe.facts.phrase import Phrase

NO_WORD = "~"
"""Stands for the word before the colon where there is none. The author's are in quotes, so none is taken for it."""
OWN = "="
"""The word for what stands on the line itself when more stands below it: YAML 1.1's own sign for a default value."""
BELOW = "<<"
"""The word for the list below a line that has a value."""
_LINE_ENDS = str.maketrans(dict.fromkeys("\n\r\x85\u2028\u2029\ufeff", " "))
"""What ends a line in YAML 1.1, and the mark it lets stand only at the beginning."""


class QuotedText(Struct):
    """`places` has every word, value and opening bracket by the offset at which it begins in the YAML."""

    parts: list[str] = field(default_factory=list)
    length: int = 0
    places: dict[int, Phrase] = field(default_factory=dict)

    @property
    def yaml(self) -> str:
        return "".join(self.parts)

    def add(self, text: str) -> None:
        self.parts.append(text)
        self.length += len(text)

    def text(self, phrase: Phrase) -> None:
        """A run of text as it stands."""
        self.places[self.length] = phrase
        text = phrase.text if phrase.text.isprintable() else phrase.text.translate(_LINE_ENDS)
        self.add("'" + text.replace("'", "''") + "'")

    def verbatim(self, phrase: Phrase) -> None:
        """A string that the author put into quotes."""
        self.places[self.length] = phrase
        self.add(phrase.text)

    def value(self, line: FactLine) -> None:
        if line.value is None:
            return
        if line.kind is ValueKind.TEXT:
            self.text(line.value)
        elif line.kind is ValueKind.QUOTED:
            self.verbatim(line.value)
        else:
            self._flow(line.value)

    def word(self, line: FactLine) -> None:
        if line.key is None:
            self.add(NO_WORD)
        elif QUOTED.fullmatch(line.key.text):
            self.verbatim(line.key)
        else:
            self.text(line.key)
        self.add(":")

    def _flow(self, whole: Phrase) -> None:
        for token in flow_from(whole.text, 0) or ():
            phrase = whole.part(token.start, token.end)
            if token.kind == "plain":
                self.text(phrase)
            elif token.kind == "quoted":
                self.verbatim(phrase)
            elif token.kind == "open":
                self.places[self.length] = phrase
                self.add(phrase.text[0])
            else:
                self.add(phrase.text + " ")


def quoted(lines: Sequence[FactLine]) -> QuotedText:
    """The lines, whose indents fit together, as YAML."""
    written = QuotedText()
    for number, line in enumerate(lines):
        following = lines[number + 1] if number + 1 < len(lines) else None
        written.add(" " * line.indent + "-".ljust(line.dash) if line.dash else " " * line.indent)
        written.word(line)
        if following is None or not _stands_below(following, line):
            written.add(" ")
            written.value(line)
        elif line.value is not None:
            written.add("\n" + " " * following.indent + OWN + ": ")
            written.value(line)
            if following.dash:
                written.add("\n" + " " * following.indent + BELOW + ":")
        written.add("\n")
    return written


def _stands_below(following: FactLine, line: FactLine) -> bool:
    """Dashes may stand right under the word they belong to."""
    return following.indent >= line.column if following.dash else following.indent > line.column
