"""One run of the ruler: `5/8, 3 1/2, 4 1/8; whole: 4 1/8; read to 1/16 in`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.length import Length, System, Unit
from foldwright.measure.numbers import FRACTION, NUMBER, VULGAR, WORD_NUMBER, tidy
from foldwright.measure.reading import UNIT_WORDS, read_length, read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.limits import MOST_PANELS
from foldwright.recipe.facts.phrase import Phrase

_UNIT = "|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True))
_WHOLE = re.compile(
    r"(?:(?:the )?(?:whole|overall|in all|total)\s*:?|=(?!>))\s*(?P<rest>\S.*)", re.IGNORECASE | re.DOTALL
)
_READ_TO = re.compile(
    r"(?:read\s+(?:to|within)|to|within|give or take|plus or minus|±|\+/-)\s*:?\s*(?P<rest>\S.*)",
    re.IGNORECASE | re.DOTALL,
)
_LENGTH = rf"(?P<length>{NUMBER}(?:(?:\s*|-)(?P<unit>{_UNIT})(?![a-z]))?)\.?"
_BOUND = (
    r"(?:\s*[(,]?\s*(?:±|\+/-|(?:read )?(?:to|within)\s|give or take\s)\s*"
    rf"(?P<bound>{NUMBER}\s*(?:{_UNIT})?)\s*\)?)?"
)
_NUMBER_FIRST = re.compile(rf"{_LENGTH}{_BOUND}(?:\s+(?P<name>[^\d\s].*))?", re.IGNORECASE | re.DOTALL)
_NAME_FIRST = re.compile(rf"(?P<name>[^\W\d][^\d]*?)[\s:=]+{_LENGTH}{_BOUND}", re.IGNORECASE | re.DOTALL)
_WITH_UNIT = re.compile(rf"{NUMBER}(?:\s*|-)(?:{_UNIT})(?![a-z])", re.IGNORECASE)
_TIMES = re.compile(
    rf"(?P<times>{NUMBER}|{WORD_NUMBER})\s+(?:equal\s+|even\s+)?(?:panels?\s+|strips?\s+)?of\s+", re.IGNORECASE
)
_TIMES_OR_SIZE = re.compile(rf"(?:{NUMBER}|{_UNIT})\s*(?:x|by|times|@)\s*{NUMBER}", re.IGNORECASE)
_NAME = re.compile(r"[^\W\d_]+(?:[ '’\"./&()-]+[^\W\d_]+)*(?:(?<=panel|strip) [0-9]+)?", re.IGNORECASE)
_NO_NAME = re.compile(r"\b(?:of|x|by|times|to|from)\b| -|- ", re.IGNORECASE)
"""What stands in no panel's name: words and marks that say something about numbers."""
_END = re.compile(r"\s*;\s*|\s*(?==(?!>))")
_BETWEEN = re.compile(
    r"\s*\|\s*|\s+\+\s+|,(?![0-9])\s*|(?<![0-9]),\s*|\s+/\s+|\s+and\s+(?![0-9]+/[0-9])"
    rf"|\s*\n\s*+(?!(?:{_UNIT})(?![a-z]))",
    re.IGNORECASE,
)
_CROSS = re.compile(r"\s+(?:x|by)\s+", re.IGNORECASE)
_A_NUMBER = f"(?=[0-9{''.join(VULGAR)}]|\\.[0-9])"
_ARROW = re.compile(r"\s*(?:-+>|=+>|[→⟶⇒➔➞▸>])\s*")
_DASH = re.compile(rf"(?<![/\s])(?P<blank>\s*)-+(?P<blanks>\s*){_A_NUMBER}")
_WHOLE_BEFORE = re.compile(r"(?:^|[^0-9./])[0-9]+$")
_FRACTION_AFTER = re.compile(f"{FRACTION}(?![0-9])")
_FRACTION = re.compile(r"[0-9]/[0-9]|[½⅓⅔¼¾⅛⅜⅝⅞]")

READ_TO = {
    System.IMPERIAL: Length.of(Fraction(1, 32), Unit.INCH),
    System.METRIC: Length.of(Fraction(1, 2), Unit.MILLIMETRE),
}
"""How far a reading may be off when nobody says."""


class NumberCustoms(Struct, frozen=True):
    """How numbers are meant unless a line says otherwise: the unit of bare ones, and how far each system's are off."""

    unit: Unit | None
    bounds: Mapping[System, Length]


class RowItem(Struct, frozen=True):
    """One number of a run; `name` is the panel's, empty when it has none."""

    length: Length
    bound: Length
    name: str
    said: Phrase


class MeasuredRow(Struct, frozen=True):
    """The numbers of a line, and what it says the whole is. `guessed` when a bare fraction was taken for inches.

    `arrows` when they stand between its numbers: as people draw them from panel to panel, or on from one edge.
    """

    items: tuple[RowItem, ...]
    whole: tuple[RowItem, ...] = ()
    guessed: bool = False
    arrows: bool = False


class _BareNumber(Struct, frozen=True):
    """A number as it stands: its text, its own bound if it has one, its panel's name."""

    phrase: Phrase
    length: str
    unit: Unit | None
    bound: str
    name: str


def read_row(value: Phrase, customs: NumberCustoms, complaints: Complaints, cross: bool = False) -> MeasuredRow | None:
    """A line of readings; None (and a finding) when a number of it cannot be read. `cross` is for `A x B`."""
    lists: list[Phrase] = []
    wholes: list[Phrase] = []
    read_to = ""
    for one in _parts_of(value, cross):
        if match := _WHOLE.fullmatch(one.text):
            wholes.append(one.part(match.start("rest")))
        elif match := _READ_TO.fullmatch(tidy(one.text)):
            read_to = match["rest"]
        elif one.text:
            lists.append(one)
    between = [one for part in lists for one in part.split(_ARROW) if one.text]
    listed = [number for one in between for number in _numbers(one, complaints)]
    bare = [number for number in listed if number is not None]
    whole = [number for part in wholes if (number := _bare(part, complaints))]
    if len(bare) < len(listed) or len(whole) < len(wholes):
        return None
    numbers = [*bare, *whole]
    if not numbers:
        complaints.fault("nothing-read", value)
        return None
    row = _measured(numbers, len(bare), read_to, customs, complaints)
    return replace(row, arrows=len(between) > len(lists)) if row else None


def _numbers(part: Phrase, complaints: Complaints) -> list[_BareNumber | None]:
    """The numbers of a part, some of which may stand for several: `4 of 66 mm`, `5/8 - 2 7/8 - 5/8`."""
    numbers: list[_BareNumber | None] = []
    parts = _at_dashes(part)
    if parts is None:
        complaints.fault("reading-dash-unclear", part)
        return [None]
    for one in parts:
        times = _TIMES.match(tidy(one.text))
        count = read_number(times["times"]) if times else 1
        if isinstance(count, Unreadable) or count not in range(1, MOST_PANELS + 1):
            complaints.fault("odd-number-of-panels", one, text=times["times"] if times else "", most=MOST_PANELS)
            return [None]
        numbers += [_bare(one.part(times.end()) if times else one, complaints)] * int(count)
    return numbers


def _bare(part: Phrase, complaints: Complaints) -> _BareNumber | None:
    text = tidy(part.text)
    if _TIMES_OR_SIZE.search(text):
        complaints.fault("reading-times-or-size", part)
        return None
    match = _NUMBER_FIRST.fullmatch(text) or _NAME_FIRST.fullmatch(text)
    if match is None:
        complaints.fault("reading-unreadable", part)
        return None
    unit = UNIT_WORDS[match["unit"].lower()] if match["unit"] else None
    name = " ".join((match["name"] or "").strip(" ()\"'").split())
    last = name.rpartition(" ")[2].lower()
    if unit is None and last in UNIT_WORDS:
        # `3/4 right end in`: the unit of the line, written behind the last name.
        unit, name = UNIT_WORDS[last], name[: -len(last)].rstrip()
    if name and (not _NAME.fullmatch(name) or _NO_NAME.search(name)):
        complaints.fault("reading-named-oddly", part, name=name)
        return None
    return _BareNumber(part, match["length"], unit, match["bound"] or "", name)


def _measured(
    numbers: Sequence[_BareNumber], listed: int, read_to: str, customs: NumberCustoms, complaints: Complaints
) -> MeasuredRow | None:
    """The numbers with their units: a bare one takes that of the next number that has one, else of the one before."""
    fractions = any(_FRACTION.search(tidy(one.length)) for one in numbers)
    guessed = False
    items: list[RowItem] = []
    for number, one in enumerate(numbers):
        beside = (
            [*numbers[number:listed], *reversed(numbers[:number])] if number < listed else [one, *reversed(numbers)]
        )
        unit = next((near.unit for near in (*beside, *numbers) if near.unit), customs.unit)
        if unit is None and fractions:
            unit, guessed = Unit.INCH, True
        length = read_length(one.length, unit)
        said = one.bound or read_to
        bound = read_length(said, unit) if said else customs.bounds[unit.system if unit else System.IMPERIAL]
        for wrong in (length, bound):
            if isinstance(wrong, Unreadable):
                code = "reading-without-unit" if wrong.code == "no-unit" else "reading-unreadable"
                complaints.fault(code, one.phrase)
                return None
        assert isinstance(length, Length)
        assert isinstance(bound, Length)
        if bound.mm * 2 > length.mm:
            complaints.fault("reading-too-vague", one.phrase, bound=bound)
            return None
        items.append(RowItem(length, bound, one.name, one.phrase))
    return MeasuredRow(tuple(items[:listed]), tuple(items[listed:]), guessed)


def only_fractions(values: Sequence[Phrase]) -> bool:
    """Whether no number has a unit and one is a fraction, as only inches are written."""
    texts = [tidy(value.text) for value in values]
    return any(_FRACTION.search(text) for text in texts) and not any(_WITH_UNIT.search(text) for text in texts)


def lone_length(value: Phrase) -> Iterator[Length]:
    """The lengths of `1/32 in or 0.5 mm`."""
    for part in re.split(r"\s+or\s+|,(?![0-9])\s*", tidy(value.text)):
        length = read_length(part)
        if isinstance(length, Length):
            yield length


# --- where one number ends and the next begins ------------------------------------------------------------------------


def _parts_of(value: Phrase, cross: bool) -> Iterator[Phrase]:
    """The parts of a line at everything but dashes and arrows. `whole` and `read to` may stand behind any of them."""
    for one in value.split(_END):
        yield from one.split(_CROSS if cross else _BETWEEN)


def _at_dashes(part: Phrase) -> list[Phrase] | None:
    """The parts between the dashes that part numbers; None when a dash may as well belong to one number.

    `5/8 - 2 7/8 - 5/8` is three numbers, `1-1/2` is one; `1 - 1/2` and `3-4` alone may be either.
    """
    text = tidy(part.text)
    sure: list[re.Match[str]] = []
    unsure: list[re.Match[str]] = []
    for dash in _DASH.finditer(text):
        tight = not dash["blank"] and not dash["blanks"]
        whole = _WHOLE_BEFORE.search(text[: dash.start()]) is not None
        fraction = _FRACTION_AFTER.match(text, dash.end()) is not None
        if whole and fraction and tight:
            continue
        (unsure if whole and (fraction or tight) else sure).append(dash)
    if len(unsure) == 1 and not sure:
        return None
    parts: list[Phrase] = []
    start = 0
    for dash in sorted((*sure, *unsure), key=re.Match.start):
        parts.append(part.part(start, dash.start()))
        start = dash.end()
    return [*parts, part.part(start)]
