"""Reading one part of a line: its number, or what it says of numbers elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.recover.notes.numbers import NumberReader
from foldwright.begin.recover.notes.parts import DOUBTS, SILENT, WAYS, NotedBound, ReadPart
from foldwright.begin.recover.notes.tokens import Token
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.limits import MOST_PANELS
from foldwright.recipe.facts.phrase import Phrase

_MOST_TOKENS = 60
"""Between two marks: a sentence about a number has fewer."""


class PartReader(Struct, frozen=True):
    """Reads the parts of one line; what cannot be read is complained of."""

    whole: Phrase
    complaints: Complaints

    def read(self, mark: Token | None, part: Sequence[Token], last: bool) -> list[ReadPart]:
        """What a part says; nothing (and a finding) when it cannot be understood. `last` is the last of the line."""
        part = _with_units_counted(part)
        kinds = {token.kind for token in part}
        if len(part) > _MOST_TOKENS or "odd" in kinds:
            self.complaints.fault("reading-unreadable", self._phrase(part[:_MOST_TOKENS]))
        elif "unclear-gap" in kinds:
            self.complaints.fault("reading-spaces-unclear", self._phrase(part))
        elif "unclear-slash" in kinds:
            self.complaints.fault("reading-slash-unclear", self._phrase(part))
        elif "unclear-comma" in kinds:
            self.complaints.fault("reading-comma-unclear", self._phrase(part))
        elif part[0].kind != "dash":
            return self._read(mark, part, last)
        elif "number" not in kinds:
            # A dash stands for what was not read.
            return self._read(mark, [Token("unread", part[0].start, part[0].end), *part[1:]], last)
        elif (mark is None and part[1].blank) or (mark and mark.kind == "line"):
            return self._read(mark, part[1:], last)
        else:
            self.complaints.fault("reading-unreadable", self._phrase(part))
        return []

    def _phrase(self, part: Sequence[Token]) -> Phrase:
        return self.whole.part(part[0].start, part[-1].end)

    def _read(self, mark: Token | None, part: Sequence[Token], last: bool) -> list[ReadPart]:
        at = next((at for at, token in enumerate(part) if token.kind in ("number", "unread")), len(part))
        before = [token for token in part[:at] if token.kind not in SILENT]
        if at == len(part):
            return self._without_number(mark, part, before)
        if before and before[-1].kind in ("marks", "within") and part[at].kind == "number":
            return self._bound_of_all(mark, part, at, before)
        reader = NumberReader(self.whole, part, at, self.complaints)
        number = reader.number(before, last)
        times = self._times(part, before)
        if number is None or times is None:
            return []
        ways = tuple(token for token in before if token.kind in WAYS or token.kind == "count")
        opens = reader.listed and not last
        read = ReadPart(mark, ways, number, tuple(reader.ways), times, reader.panel, reader.bound, opens=opens)
        if reader.rest is None:
            return [read]
        more = self._read(None, part[reader.rest :], last)
        return [read, *more] if more else []

    def _times(self, part: Sequence[Token], before: Sequence[Token]) -> int | None:
        """For how many panels the number stands; None (and a finding) when there cannot be so many."""
        times = next((token for token in before if token.kind == "times"), None)
        count = times.value if times else Fraction(1)
        if isinstance(count, Fraction) and count.denominator == 1 and 0 < count <= MOST_PANELS:
            return int(count)
        said = self.whole.text[times.start : times.end].split() if times else [""]
        self.complaints.fault("odd-number-of-panels", self._phrase(part), text=said[0], most=MOST_PANELS)
        return None

    def _without_number(self, mark: Token | None, part: Sequence[Token], before: list[Token]) -> list[ReadPart]:
        """Words about numbers elsewhere: a unit, a doubt, how they were measured."""
        unit = next((token.unit for token in before if token.kind == "unit"), None)
        rest = [token for token in before if token.kind not in ("unit", "of")]
        if all(token.kind in WAYS or token.kind in DOUBTS or token.kind == "count" for token in rest):
            return [ReadPart(mark, tuple(rest), None, (), unit=unit)]
        said = self._phrase(part)
        if mark and mark.kind == "dash":
            self.complaints.fault("reading-named-oddly", said, name=said.plain)
        else:
            self.complaints.fault("reading-unreadable", said)
        return []

    def _bound_of_all(self, mark: Token | None, part: Sequence[Token], at: int, before: list[Token]) -> list[ReadPart]:
        """`read to 1/16 in`: a part of its own is about the whole line."""
        number = part[at]
        others = [token for token in (*before[:-1], *part[at + 1 :]) if token.kind not in SILENT]
        if others or not isinstance(number.value, Fraction):
            self.complaints.fault("read-to-what", self._phrase(part))
            return []
        bound = NotedBound(number.value, number.unit, before[-1].kind == "marks")
        return [ReadPart(mark, (), None, (), bound=bound)]


def _with_units_counted(part: Sequence[Token]) -> Sequence[Token]:
    """The tokens, a unit alone as one of it where it says how well a number was read: `to the nearest mm`."""
    done = list(part)
    for at, (token, following) in enumerate(pairwise(part), 1):
        if token.kind in ("marks", "within") and following.kind == "unit":
            done[at] = replace(following, kind="number", value=Fraction(1))
    return done
