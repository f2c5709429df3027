"""A number of notes with the words round it: its panel's name, a doubt, how well it could be read."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

from foldwright.begin.recover.notes.parts import DOUBTS, SILENT, WAYS, NotedBound, NotedNumber
from foldwright.begin.recover.notes.tokens import Token
from foldwright.measure.length import Unit
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.limits import MOST_PANELS
from foldwright.recipe.facts.phrase import Phrase

_PARTING = frozenset({"across", "down", "length", "whole", "edge", "from"})
"""Words that may stand between two numbers with no mark between: they are about the second."""
_SECOND = frozenset({"or", "marks", "within", "to"})
"""Words between a number and a second one about the same."""
_NAMING = frozenset({"word", "panel", "of"})
_NAME = re.compile(r"[^\W\d_]+(?:[ '’\"./&()-]+[^\W\d_]+)*\)?(?:(?<=panel|strip) [0-9]+)?", re.IGNORECASE)
_NO_NAMES = frozenset(
    "every off from per twice thrice once double half plus minus less more over under same other one two three four "
    "five six seven eight nine ten eleven twelve".split()
)
"""Words that say something about a number, and name no panel."""
_NUMBERED = ("panel", "n", "#")
"""How the number of a panel begins that is no name: `strip 2` is one."""
_MOST_WORDS = 5
"""Of a panel's name."""
_DECIMALS = re.compile(r"[0-9]*[.,][0-9]")
_SAME = Fraction(3, 2)
"""Millimetres: no farther apart are a length in inches and the same in whole millimetres (half a mark, and half of a
sixteenth)."""


class NumberReader:
    """Reads the number that stands at `at` in a part. What is found besides is in its attributes.

    `ways` are the words behind it that say how it was measured, `panel` its panel's number, `bound` how well all of the
    line could be read. `rest` is where another number begins that has no mark before it, `listed` whether in brackets.
    """

    def __init__(self, whole: Phrase, part: Sequence[Token], at: int, complaints: Complaints) -> None:
        self._whole = whole
        self._part = part
        self._at = at
        self._complaints = complaints
        self.ways: list[Token] = []
        self.panel = 0
        self.bound: NotedBound | None = None
        self.rest: int | None = None
        self.listed = False
        self._doubt = ""
        self._end = at
        self._other: tuple[Fraction, Unit | None] | None = None
        self._own: tuple[Fraction, Unit | None] | None = None
        self._marks = False
        self._unit: Unit | None = None
        self._names: list[Token] = []
        self._words: list[Token] = []

    def number(self, before: Sequence[Token], last: bool) -> NotedNumber | None:
        """The number; None (and a finding) when it, or a word beside it, cannot be understood."""
        token = self._part[self._at]
        if isinstance(token.value, Unreadable):
            self._complaints.unreadable(token.value, self._phrase())
            return None
        self._names = [one for one in before if one.kind in ("word", "panel")]
        if not self._before(before) or not self._behind(last):
            return None
        name = self._name()
        if name is None:
            return None
        start = next((one.start for one in before if one.kind in DOUBTS or one.kind == "between"), token.start)
        phrase = self._as_said(start)
        starts = [one.start for one in before if one.kind in ("word", "panel", "times")]
        wide = self._whole.part(
            min([*starts, start]), max([one.end for one in self._words] + [self._part[self._end].end])
        )
        perhaps = self._perhaps_inches(token)
        unit = None if perhaps else token.unit or self._unit
        fraction = isinstance(token.value, Fraction) and token.value.denominator > 1
        return NotedNumber(
            phrase=phrase,
            value=token.value,
            unit=unit,
            doubt=self._doubt,
            other=self._other,
            bound=self._own,
            marks=self._marks,
            name=name,
            loose=token.blanks,
            fraction=fraction and not _DECIMALS.search(self._said(token)),
            comma=int(token.detail or 0),
            perhaps_inches=perhaps,
            wide=wide,
        )

    def _phrase(self) -> Phrase:
        return self._whole.part(self._part[0].start, self._part[-1].end)

    def _said(self, token: Token) -> str:
        return self._whole.part(token.start, token.end).plain

    def _as_said(self, start: int) -> Phrase:
        """The number with its words of doubt, and the bracket that closes round them."""
        phrase = self._whole.part(start, self._part[self._end].end)
        if "(" in phrase.text and ")" not in phrase.text and self._part[self._end + 1 :]:
            return self._whole.part(start, self._part[self._end + 1].end)
        return phrase

    def _fault(self) -> bool:
        self._complaints.fault("reading-unreadable", self._phrase())
        return False

    def _oddly(self, name: str) -> bool:
        self._complaints.fault("reading-named-oddly", self._phrase(), name=name)
        return False

    # --- words before it, and behind it -------------------------------------------------------------------------------

    def _before(self, before: Sequence[Token]) -> bool:
        named = any(one.kind in ("times", "word", *WAYS) for one in before)
        for token in before:
            if token.kind in DOUBTS:
                self._doubt = token.kind
            elif token.kind in ("unit", "dash", *_SECOND) or (token.kind == "of" and not named):
                return self._fault()
        return True

    def _behind(self, last: bool) -> bool:
        """Go through what stands behind the number; no more than to the next one that is not about the same."""
        at, part = self._at + 1, self._part
        opened = False
        while at < len(part) and self.rest is None:
            token = part[at]
            numbered = at + 1 < len(part) and part[at + 1].kind == "number"
            if token.kind == "open" and numbered:
                if self._converted(at):
                    at += 2
                else:
                    self.rest, self.listed = at + 1, True
            elif token.kind in ("open", "close"):
                opened = token.kind == "open"
            elif token.kind in _SECOND and numbered:
                if not self._second(token, part[at + 1], last and not opened and at + 2 >= len(part)):
                    return False
                at += 1
            elif token.kind == "number":
                if not self._another(at):
                    return False
            elif not self._word(token, numbered, at):
                return False
            at += 1
        return True

    def _word(self, token: Token, numbered: bool, at: int) -> bool:
        """A word behind the number; whether it is understood."""
        if token.kind in DOUBTS:
            self._doubt, self._end = token.kind, at
        elif token.kind == "unit":
            self._unit = token.unit
        elif token.kind in WAYS:
            self.ways.append(token)
        elif token.kind == "of" and numbered and not (self._words or self.ways):
            text = self._said(self._part[self._at])
            self._complaints.fault("odd-number-of-panels", self._phrase(), text=text, most=MOST_PANELS)
            return False
        elif token.kind in _NAMING:
            self._words.append(token)
        elif token.kind not in SILENT:
            return self._oddly(self._said(token))
        return True

    def _another(self, at: int) -> bool:
        """Another number with no mark before it; whether it is plain what the words between are about."""
        if self._names and self._words and not self.ways:
            # `left 5/8 floor 2 7/8`: names stand before their numbers.
            self.rest, self._words = self._part.index(self._words[0]), []
            return True
        if self._words or not self.ways or not all(one.kind in _PARTING for one in self.ways):
            return self._oddly(" ".join(map(self._said, self._words)))
        # `W 105 mm H 108 mm`: these words are about the next number.
        self.rest = next(one for one in range(self._at, at) if self._part[one].kind in WAYS)
        self.ways = []
        return True

    def _perhaps_inches(self, token: Token) -> bool:
        following = self._part[self._at + 1].kind if self._at + 1 < len(self._part) else ""
        whole = isinstance(token.value, Fraction) and token.value.denominator == 1
        return whole and following in ("from", "each") and self._said(token).lower().endswith(" in")

    def _converted(self, at: int) -> bool:
        """`5/8 in (16 mm)`: the same length once more, in other units."""
        token = self._part[self._at]
        inside = self._part[at + 1 : at + 3]
        if len(inside) < 2 or inside[1].kind != "close":
            return False
        one, other = token.value, inside[0].value
        if not (token.unit and inside[0].unit and isinstance(one, Fraction) and isinstance(other, Fraction)):
            return False
        apart = abs(one * token.unit.mm - other * inside[0].unit.mm)
        return token.unit.system is not inside[0].unit.system and apart <= _SAME

    def _second(self, word: Token, number: Token, ends_line: bool) -> bool:
        """A second number of a part: what it may be as well, or how well the first could be read."""
        first = self._part[self._at].value
        if not isinstance(number.value, Fraction) or not isinstance(first, Fraction) or self._other or self._own:
            return self._fault()
        said = number.value, number.unit
        if word.kind == "or" or (word.kind == "to" and number.value > first):
            self._other, self._end = said, self._part.index(number)
        elif word.kind == "to" and number.value * 2 > first and not number.unit:
            return self._fault()
        elif ends_line and word.kind in ("marks", "within") and self._said(word)[0].isalpha():
            # At the end of a line such words are about all of it.
            self.bound = NotedBound(*said, word.kind == "marks")
        else:
            self._own, self._marks = said, word.kind != "within"
        return True

    # --- its name -----------------------------------------------------------------------------------------------------

    def _name(self) -> str | None:
        """What the panel is called; None (and a finding) when that can be no name."""
        tokens = [*self._names, *self._words]
        if not tokens:
            return ""
        number = tokens[0].value
        if len(tokens) == 1 and isinstance(number, Fraction) and self._said(tokens[0]).lower().startswith(_NUMBERED):
            self.panel = int(number)
            return ""
        group = self._names or self._words
        said = self._whole.part(group[0].start, group[-1].end)
        closes = "(" in said.text and self._whole.text[said.end - self._whole.start :].startswith(")")
        name = said.plain + (")" if closes else "")
        inside = [one for one in self._part if group[0].start <= one.start < group[-1].end]
        plain = all(one.kind in ("word", "panel", "open", "close") for one in inside)
        plain = plain and len(group) <= _MOST_WORDS and not _NO_NAMES.intersection(name.lower().split())
        if (self._names and self._words) or not plain or not _NAME.fullmatch(name):
            self._oddly(name)
            return None
        return name
