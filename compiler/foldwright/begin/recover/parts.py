"""One part of a line of notes, between two bars or commas: a number, how it was read, and the words about it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.begin.recover.tokens import BETWEEN, Token
from foldwright.measure.length import Unit
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.limits import MOST_PANELS
from foldwright.recipe.facts.phrase import Phrase

WAYS = frozenset(
    {"across", "down", "backwards", "length", "each", "all-round", "from", "running", "scores", "edge", "whole", "singly", "size", "square"}
)
"""Words that say which side a number is of, or how it was measured there."""
_PARTING = frozenset({"across", "down", "length", "whole", "from"})
"""Words that may stand between two numbers with no mark between: they are about the second."""
DOUBTS = frozenset({"about", "over", "under"})
_BOUNDS = frozenset({"marks", "within", "to"})
_SILENT = frozenset({"filler", "again", "colon", "open", "close"})
_NAME = re.compile(r"[^\W\d_]+(?:[ '’\"./&()-]+[^\W\d_]+)*\)?(?:(?<=panel|strip) [0-9]+)?", re.IGNORECASE)
_DECIMALS = re.compile(r"[0-9]*[.,][0-9]")
_MOST_TOKENS = 60
"""Between two marks: a sentence about a number has fewer."""
_NO_NAMES = frozenset(
    "twice thrice once double half plus minus less more over under same other one two three four five six seven eight "
    "nine ten eleven twelve".split()
)
"""Words that say something about a number, and name no panel."""
_MOST_WORDS = 5
"""Of a panel's name."""


class NotedNumber(Struct, frozen=True):
    """A number as it was noted, its unit still to be found; `value` is None where none could be read.

    `doubt` is `about`, `over`, `under` or nothing; `other` the second of two that were noted for one reading; `bound`
    how far it may be off, and `marks` whether that is the distance of the ruler's marks. `loose` is how many blanks
    stand between its whole and its fraction, `comma` how many digits behind a decimal comma. It is `perhaps_inches`
    where a whole number stands before `in from`. `wide` is all of it, with its name and how often it stands.
    """

    phrase: Phrase
    value: Fraction | None
    unit: Unit | None = None
    doubt: str = ""
    other: tuple[Fraction, Unit | None] | None = None
    bound: tuple[Fraction, Unit | None] | None = None
    marks: bool = False
    name: str = ""
    loose: int = 0
    fraction: bool = False
    comma: int = 0
    perhaps_inches: bool = False
    wide: Phrase | None = None


class NotedBound(Struct, frozen=True):
    """What is said of how well all of a line could be read."""

    value: Fraction
    unit: Unit | None
    marks: bool


class ReadPart(Struct, frozen=True):
    """What a part says: words before its number and behind it, the number as often as it stands for a panel.

    `panel` is which panel it is of, if that is said by number; `mark` is what stands before the part. It `opens` where
    more numbers follow in brackets.
    """

    mark: Token | None
    before: tuple[Token, ...]
    number: NotedNumber | None
    behind: tuple[Token, ...]
    times: int = 1
    panel: int = 0
    bound: NotedBound | None = None
    unit: Unit | None = None
    opens: bool = False


def parts_of(tokens: Sequence[Token]) -> Iterator[tuple[Token | None, list[Token]]]:
    """The tokens between the marks, each run with the mark before it."""
    mark: Token | None = None
    part: list[Token] = []
    for token in tokens:
        between = token.kind == "and" and any(one.kind == "between" for one in part) and _numbers(part) == 1
        placeholder = token.kind == "dash" and not part and (mark is None or mark.kind not in ("dash", "gap"))
        if between:
            part.append(Token("or", token.start, token.end))
        elif placeholder:
            part.append(token)
        elif token.kind in BETWEEN:
            yield mark, part
            mark, part = token, []
        else:
            part.append(token)
    yield mark, part


def _numbers(part: Sequence[Token]) -> int:
    return sum(1 for token in part if token.kind == "number")


class PartReader(Struct, frozen=True):
    """Reads the parts of one line; what cannot be read is complained of."""

    whole: Phrase
    complaints: Complaints

    def read(self, mark: Token | None, part: Sequence[Token], last: bool) -> list[ReadPart]:
        """What a part says; nothing (and a finding) when it cannot be understood. `last` is the last of the line."""
        if len(part) > _MOST_TOKENS:
            self.complaints.fault("reading-unreadable", self._phrase(part[:_MOST_TOKENS]))
            return []
        wrong = next((token for token in part if token.kind in ("odd", "unclear", "unclear-comma")), None)
        if wrong and wrong.kind == "unclear":
            self.complaints.fault("reading-slash-unclear", self._phrase(part))
            return []
        if wrong and wrong.kind == "unclear-comma":
            self.complaints.fault("reading-comma-unclear", self._phrase(part))
            return []
        if wrong:
            self.complaints.fault("reading-unreadable", self._phrase(part))
            return []
        if part and part[0].kind == "dash":
            if _numbers(part) == 0:
                part = [Token("unread", part[0].start, part[0].end), *part[1:]]
            elif mark is None or mark.kind == "line":
                part = part[1:]
            else:
                self.complaints.fault("reading-unreadable", self._phrase(part))
                return []
        return self._read(mark, part, last)

    def _phrase(self, part: Sequence[Token]) -> Phrase:
        start, end = part[0].start, part[-1].end
        return self.whole.part(start, end)

    def _read(self, mark: Token | None, part: Sequence[Token], last: bool) -> list[ReadPart]:
        at = next((at for at, token in enumerate(part) if token.kind in ("number", "unread")), len(part))
        before = [token for token in part[:at] if token.kind not in _SILENT]
        if at == len(part):
            return self._without_number(mark, part, before)
        if before and before[-1].kind in _BOUNDS and before[-1].kind != "to" and part[at].kind == "number":
            return self._bound_of_all(mark, part, at, before)
        reader = _NumberReader(self, part, at)
        number = reader.number(before, last)
        if number is None:
            return []
        times = next((token for token in before if token.kind == "times"), None)
        count = times.value if times else Fraction(1)
        if not isinstance(count, Fraction) or count.denominator > 1 or not 0 < count <= MOST_PANELS:
            text = self.whole.text[times.start : times.end] if times else ""
            self.complaints.fault("odd-number-of-panels", self._phrase(part), text=text.split()[0], most=MOST_PANELS)
            return []
        ways = tuple(token for token in before if token.kind in WAYS or token.kind == "count")
        ways_behind = tuple(reader.ways)
        read = ReadPart(
            mark, ways, number, ways_behind, int(count), reader.panel, reader.bound, opens=reader.listed and not last
        )
        if reader.rest is None:
            return [read]
        more = self._read(None, part[reader.rest :], last)
        return [read, *more] if more else []

    def _without_number(self, mark: Token | None, part: Sequence[Token], before: list[Token]) -> list[ReadPart]:
        unit = next((token.unit for token in before if token.kind == "unit"), None)
        rest = [token for token in before if token.kind not in ("unit", "of")]
        if all(token.kind in WAYS or token.kind in DOUBTS or token.kind in ("count", "panel") for token in rest):
            panel = next((token for token in rest if token.kind == "panel"), None)
            if panel:
                self.complaints.fault("nothing-read", self._phrase(part))
                return []
            return [ReadPart(mark, tuple(rest), None, (), unit=unit)]
        if mark and mark.kind == "dash":
            self.complaints.fault("reading-named-oddly", self._phrase(part), name=self._phrase(part).plain)
        else:
            self.complaints.fault("reading-unreadable", self._phrase(part))
        return []

    def _bound_of_all(self, mark: Token | None, part: Sequence[Token], at: int, before: list[Token]) -> list[ReadPart]:
        """`read to 1/16 in`: a part of its own is about the whole line."""
        number = part[at]
        others = [token for token in (*before[:-1], *part[at + 1 :]) if token.kind not in _SILENT]
        if any(token.kind not in ("number", "or") for token in others):
            self.complaints.fault("reading-unreadable", self._phrase(part))
            return []
        if not isinstance(number.value, Fraction):
            self.complaints.fault("read-to-what", self._phrase(part))
            return []
        bound = NotedBound(number.value, number.unit, before[-1].kind == "marks")
        return [ReadPart(mark, (), None, (), bound=bound)]


class _NumberReader:
    """Reads the number of a part, at `at`, and the words round it."""

    def __init__(self, reader: PartReader, part: Sequence[Token], at: int) -> None:
        self._reader = reader
        self._part = part
        self._at = at
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
        self._words: list[Token] = []
        self._named_before = False

    def number(self, before: Sequence[Token], last: bool) -> NotedNumber | None:
        """The number; None (and a finding) when it, or a word beside it, cannot be understood."""
        token = self._part[self._at]
        if isinstance(token.value, Unreadable):
            self._complaints.unreadable(token.value, self._phrase())
            return None
        self._named_before = any(one.kind == "word" for one in before)
        if not self._before(before) or not self._behind(last):
            return None
        name = self._name([one for one in before if one.kind in ("word", "panel")])
        if name is None:
            return None
        start = next((one.start for one in before if one.kind in DOUBTS or one.kind == "between"), token.start)
        phrase = self._reader.whole.part(start, self._part[self._end].end)
        if "(" in phrase.text and ")" not in phrase.text and self._part[self._end + 1 :]:
            phrase = self._reader.whole.part(start, self._part[self._end + 1].end)
        starts = [one.start for one in before if one.kind in ("word", "panel", "times")]
        ends = [one.end for one in self._words]
        wide = self._reader.whole.part(min([*starts, start]), max([*ends, self._part[self._end].end]))
        perhaps = self._perhaps_inches(token)
        return NotedNumber(
            phrase,
            token.value,
            None if perhaps else token.unit or self._unit,
            self._doubt,
            self._other,
            self._own,
            self._marks,
            name,
            token.blanks,
            _is_fraction(token, self._said(token)),
            int(token.detail or 0),
            perhaps,
            wide,
        )

    @property
    def _complaints(self) -> Complaints:
        return self._reader.complaints

    def _phrase(self) -> Phrase:
        return self._reader._phrase(self._part)

    def _before(self, before: Sequence[Token]) -> bool:
        for token in before:
            if token.kind in DOUBTS:
                self._doubt = token.kind
            elif token.kind in ("unit", "to", "or", "marks", "within", "dash") or (
                token.kind == "of" and not any(one.kind in ("times", "word", *WAYS) for one in before)
            ):
                self._complaints.fault("reading-unreadable", self._phrase())
                return False
        return True

    def _behind(self, last: bool) -> bool:
        at, part = self._at + 1, self._part
        opened = False
        while at < len(part):
            token, following = part[at], part[at + 1] if at + 1 < len(part) else None
            if token.kind in ("open", "close"):
                opened = token.kind == "open"
                if opened and following and following.kind == "number":
                    if not self._converted(at):
                        self.rest, self.listed = at + 1, True
                        return True
                    at += 2
            elif following and following.kind == "number" and token.kind in ("or", "marks", "within", "to"):
                if not self._second(token, following, last and not opened and at + 2 >= len(part)):
                    return False
                at += 1
            elif token.kind == "number" and self._named_before and self._words and not self.ways:
                # `left 5/8 floor 2 7/8`: names stand before their numbers.
                self.rest = part.index(self._words[0])
                self._words = []
                return True
            elif token.kind == "number":
                if self._words or not self.ways or not all(one.kind in _PARTING for one in self.ways):
                    name = " ".join(self._reader.whole.part(one.start, one.end).plain for one in self._words)
                    self._complaints.fault("reading-named-oddly", self._phrase(), name=name)
                    return False
                # `W 105 mm H 108 mm`: these words are about the next number.
                self.rest = next(one for one in range(self._at, at) if part[one].kind in WAYS)
                self.ways = []
                return True
            elif token.kind == "of" and following and following.kind == "number" and not (self._words or self.ways):
                text = self._said(part[self._at])
                self._complaints.fault("odd-number-of-panels", self._phrase(), text=text, most=MOST_PANELS)
                return False
            elif token.kind in DOUBTS:
                self._doubt, self._end = token.kind, at
            elif token.kind == "unit":
                self._unit = token.unit
            elif token.kind in WAYS:
                self.ways.append(token)
            elif token.kind in ("word", "panel"):
                self._words.append(token)
            elif token.kind not in _SILENT and not (token.kind == "of" and at + 1 < len(part)):
                self._complaints.fault("reading-named-oddly", self._phrase(), name=self._said(token))
                return False
            elif token.kind == "of":
                self._words.append(token)
            at += 1
        return True

    def _perhaps_inches(self, token: Token) -> bool:
        following = self._part[self._at + 1].kind if self._at + 1 < len(self._part) else ""
        whole = isinstance(token.value, Fraction) and token.value.denominator == 1
        return whole and following in ("from", "each") and self._said(token).lower().endswith(" in")

    def _said(self, token: Token) -> str:
        return self._reader.whole.part(token.start, token.end).plain

    def _converted(self, at: int) -> bool:
        """`5/8 in (16 mm)`: the same length once more, in other units."""
        token = self._part[self._at]
        inside = self._part[at + 1 : at + 3]
        if len(inside) < 2 or inside[0].kind != "number" or inside[1].kind != "close":
            return False
        one, other = token.value, inside[0].value
        if not (token.unit and inside[0].unit and isinstance(one, Fraction) and isinstance(other, Fraction)):
            return False
        apart = abs(one * token.unit.mm - other * inside[0].unit.mm)
        return token.unit.system is not inside[0].unit.system and apart <= _SAME

    def _second(self, word: Token, number: Token, ends_line: bool) -> bool:
        """A second number of a part: what it may be as well, or how well the first could be read."""
        first = self._part[self._at].value
        if not isinstance(number.value, Fraction) or not isinstance(first, Fraction):
            self._complaints.fault("reading-unreadable", self._phrase())
            return False
        said = number.value, number.unit
        nearer = number.value > first
        if self._other or self._own:
            self._complaints.fault("reading-unreadable", self._phrase())
            return False
        if word.kind == "or" or (word.kind == "to" and nearer):
            self._other = said
        elif word.kind == "to" and number.value * 2 > first and not number.unit:
            self._complaints.fault("reading-unreadable", self._phrase())
            return False
        elif ends_line and word.kind in ("marks", "within") and self._said(word)[0].isalpha():
            # At the end of a line such words are about all of it.
            self.bound = NotedBound(*said, word.kind == "marks")
        else:
            self._own, self._marks = said, word.kind != "within"
        if word.kind in ("or", "to") and self._other:
            self._end = self._part.index(number)
        return True

    def _name(self, before: Sequence[Token]) -> str | None:
        """What the panel is called; None (and a finding) when that can be no name."""
        tokens = [*before, *self._words]
        if not tokens:
            return ""
        if len(tokens) == 1 and tokens[0].kind == "panel" and self._said(tokens[0]).lower().startswith(("panel", "n", "#")):
            assert isinstance(tokens[0].value, Fraction)
            self.panel = int(tokens[0].value)
            return ""
        group = before or self._words
        said = self._reader.whole.part(group[0].start, group[-1].end)
        closes = self._reader.whole.text[said.end - self._reader.whole.start :][:1] == ")" and "(" in said.text
        name = said.plain + (")" if closes else "")
        inside = [one for one in self._part if group[0].start <= one.start < group[-1].end]
        plain = all(one.kind in ("word", "panel", "open", "close") for one in inside)
        plain = plain and not _NO_NAMES.intersection(name.lower().split())
        if (before and self._words) or not plain or not _NAME.fullmatch(name) or len(group) > _MOST_WORDS:
            self._complaints.fault("reading-named-oddly", self._phrase(), name=name)
            return None
        return name


_SAME = Fraction(3, 2)
"""Millimetres: no farther apart are a length in inches and the same in whole millimetres (half a mark, and half of a
sixteenth)."""


def _is_fraction(token: Token, said: str) -> bool:
    """Whether a number is written as only inches are: with a fraction, and no decimals."""
    return isinstance(token.value, Fraction) and token.value.denominator > 1 and not _DECIMALS.search(said)


def unclear_dash(tokens: Sequence[Token]) -> tuple[Token, Token] | None:
    """The two numbers between which a dash may as well belong to one number: `1 - 1/2` and `3-4`, standing alone.

    `5/8 - 2 7/8 - 5/8` is three numbers, `1-1/2` is one.
    """
    unsure: list[tuple[Token, Token]] = []
    sure = 0
    for at, token in enumerate([*tokens, Token("line", 0, 0)]):
        if token.kind in BETWEEN and token.kind not in ("dash", "gap"):
            if len(unsure) == 1 and not sure:
                return unsure[0]
            unsure, sure = [], 0
        elif token.kind == "dash" and 0 < at < len(tokens) - 1:
            one, other = tokens[at - 1], tokens[at + 1]
            whole = one.kind == "number" and one.unit is None and _plain(one).denominator == 1
            tight = not token.blank and not other.blank
            below = isinstance(other.value, Fraction) and other.value < 1
            if other.kind == "number" and whole and (below or tight):
                unsure.append((one, other))
            elif other.kind == "number":
                sure += 1
    return None


def _plain(token: Token) -> Fraction:
    return token.value if isinstance(token.value, Fraction) else Fraction(0)
