"""The parts of a line of notes, between bars or commas: a number in each, how it was read, and the words about it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.begin.recover.notes.tokens import BETWEEN, Token
from foldwright.measure.length import Unit
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.phrase import Phrase

WAYS = frozenset(
    "across down backwards length each all-round from running scores edge whole singly size square ordinal".split()
)
"""Words that say which side a number is of, or how it was measured there."""
DOUBTS = frozenset({"about", "over", "under"})
_SAME = Fraction(3, 2)
"""Millimetres: no farther apart are a length in inches and the same in whole millimetres (half a mark, and half of a
sixteenth)."""
_A_LITTLE = Fraction(11, 10)
"""By no more than a tenth (a reasoned guess)."""
SILENT = frozenset({"filler", "again", "colon", "open", "close"})
"""Words and marks that say nothing about a number."""


class NotedNumber(Struct, frozen=True):
    """A number as it was noted, its unit still to be found; `value` is None where none could be read.

    `doubt` is `about`, `over`, `under` or nothing; `other` the second of two that were noted for one reading; `bound`
    how far it may be off, and `marks` whether that is the distance of the ruler's marks. `loose` is how many blanks
    stand between its whole and its fraction, `comma` how many digits behind a decimal comma. It is `perhaps_inches`
    where a whole number stands before `in from`, and `counted` where it was said of how many panels. `wide` is all of
    it, with its name and how often it stands.
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
    counted: bool = False
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


def filled_parts(
    parts: Sequence[tuple[Token | None, list[Token]]], whole: Phrase, complaints: Complaints
) -> Iterator[tuple[Token | None, Sequence[Token]]]:
    """The parts that say something; what stands behind `= ` is one of its own, and so is an empty cell."""
    for at, (mark, part) in enumerate(parts):
        following = parts[at + 1][0] if at + 1 < len(parts) else None
        numbered = next((place for place, token in enumerate(part) if token.kind == "number"), len(part))
        equals = next((place for place, token in enumerate(part[numbered:], numbered) if token.kind == "equals"), 0)
        plain = [token for token in part if token.kind != "equals"]
        if equals:
            yield mark, part[:equals]
            behind = [token for token in part[equals:] if token.kind != "equals"]
            if behind:
                yield part[equals], behind
            else:
                complaints.fault("nothing-read", whole)
        elif plain:
            yield mark, plain
        elif mark and following and mark.kind == following.kind == "bar":
            yield mark, [Token("unread", mark.end, mark.end)]
        elif mark and mark.kind == "cross":
            said = whole.text[mark.start : mark.end]
            complaints.fault("reading-named-oddly", whole, name=said)


def is_same(one: Token, other: Token) -> bool:
    """Whether two numbers are the same length in inches and in millimetres."""
    if not (one.unit and other.unit and isinstance(one.value, Fraction) and isinstance(other.value, Fraction)):
        return False
    apart = abs(one.value * one.unit.mm - other.value * other.unit.mm)
    return one.unit.system is not other.unit.system and apart <= _SAME


def once_each(tokens: Sequence[Token]) -> list[Token]:
    """The tokens without a length that is the one before it in other units: `16 mm / 5/8 in`, `16 mm = 5/8 in`."""
    done: list[Token] = []
    for token in tokens:
        if len(done) > 1 and done[-1].kind in ("slash", "equals") and is_same(done[-2], token):
            done.pop()
        else:
            done.append(token)
    return done


def _numbers(part: Sequence[Token]) -> int:
    return sum(1 for token in part if token.kind == "number")


def unclear_dash(tokens: Sequence[Token]) -> tuple[Token, Token] | None:
    """The two numbers between which a dash may as well belong to one number (`1 - 1/2` and `3-4`, standing alone), or
    be read as `to` (`62-63`).

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
            if other.kind == "number" and ((whole and (below or tight)) or is_range(one, other)):
                unsure.append((one, other))
            elif other.kind == "number":
                sure += 1
    return None


def is_range(one: Token, other: Token) -> bool:
    """Whether the second number is so little larger that both may be the ends of where one number lies."""
    low, high = _plain(one), _plain(other)
    return one.kind == other.kind == "number" and 0 < low < high <= low * _A_LITTLE


def _plain(token: Token) -> Fraction:
    return token.value if isinstance(token.value, Fraction) else Fraction(0)
