"""Places on a piece that are called by name, how far something is from one, and how often a thing is repeated:
`12 mm right of outline corner 3`, `middle of the top edge of front`, `repeat 5 times every 20 mm across`.
"""

from __future__ import annotations

import re

from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import NUMBER, tidy
from foldwright.measure.reading import UNIT_WORDS, read_number
from foldwright.measure.spelled import WORD_NUMBER
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.model import PlaceBeside, Repeat

_UNIT = "|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True))
SIZED = rf"{NUMBER}(?:\s*(?:{_UNIT})(?![a-z]))?"
"""A number and its unit, in tidied text, without groups."""
_WAY = r"(?:to\s+the\s+)?(?P<{way}>right|left|above|below|under|up|down)"
_AWAY = rf"(?P<{{far}}>{SIZED})\s+{_WAY}"
_BETWEEN = r"\s*(?:,\s*and\b|,|and\b)\s*"
_BESIDE = re.compile(
    _AWAY.format(far="far", way="way")
    + rf"(?:(?:\s+(?:of|from))?{_BETWEEN}"
    + _AWAY.format(far="far2", way="way2")
    + r")?(?:\s+(?:of|from)\b)?\s+",
    re.IGNORECASE,
)
_THEN = re.compile(
    _BETWEEN + _AWAY.format(far="far", way="way") + r"(?:\s+(?:of\s+|from\s+)?it\b|(?=\s*(?:$|,|to\b|through\b)))",
    re.IGNORECASE,
)
"""`, 5 mm below it` behind the name of a place."""
_ALONE = re.compile(_AWAY.format(far="far", way="way") + r"(?:\s+(?:of\s+|from\s+)?it)?", re.IGNORECASE)
_NAME_END = re.compile(r"\s*(?:,|->|→|;|\b(?:to|through|by way of|and(?=\s+\d))\b|-\s|$)", re.IGNORECASE)
_NAME = re.compile(
    r".*\b(?:middle|centre|center|corners?|edge|end|start|beginning|left|right|top|bottom)\b.*", re.IGNORECASE
)
_WAYS = {"under": "below", "down": "below", "up": "above"}
_REPEAT = re.compile(
    rf"(?:and\s+)?repeat(?:ed)?\s+(?P<times>\d{{1,4}}|{WORD_NUMBER})(?:\s+times)?(?:\s*,)?\s+(?:every\s+)?(?P<apart>{SIZED})"
    r"(?:\s+apart)?\s+(?:(?:to\s+the\s+)?(?P<across>across|right)|(?P<down>down(?:wards)?))",
    re.IGNORECASE,
)
_SIZED = re.compile(rf"(?P<number>{NUMBER})\s*(?P<unit>[a-z\"']*)", re.IGNORECASE)


def length_of(text: str, unit: Unit | None) -> Length | Unreadable:
    """A length that may be nought, which no other length may; a bare number is in the piece's own unit."""
    match = _SIZED.fullmatch(text.strip())
    number = read_number(match["number"] if match else text)
    if isinstance(number, Unreadable):
        return number
    own = UNIT_WORDS.get(match["unit"].lower()) if match and match["unit"] else unit
    return Length.of(number, own) if own else Unreadable("no-unit", (("text", text),))


def read_place(text: str, at: int, unit: Unit | None) -> tuple[PlaceBeside, int] | Unreadable:
    """The place that a tidied text names from `at` on, with what stands before and behind its name; where it ends."""
    start, away = at, []
    if match := _BESIDE.match(text, at):
        away += [(match["far"], match["way"])]
        away += [(match["far2"], match["way2"])] if match["far2"] else []
        at = match.end()
    end = _NAME_END.search(text, at)
    name, at = text[at : end.start() if end else len(text)].strip(), end.start() if end else len(text)
    if not _NAME.fullmatch(name):
        return Unreadable("no-point", (("text", name or text[start:]),))
    if away and (match := _THEN.match(text, at)):
        away.append((match["far"], match["way"]))
        at = match.end()
    lengths = [(_way(way), length_of(far, unit)) for far, way in away]
    kept = []
    for way, length in lengths:
        if isinstance(length, Unreadable):
            return length
        kept.append((way, length))
    return PlaceBeside(_plain(name), tuple(kept)), at


def read_away(text: str, unit: Unit | None) -> tuple[str, Length] | Unreadable | None:
    """`5 mm below it`, which goes on with a place named before; None for anything else."""
    match = _ALONE.fullmatch(tidy(text))
    if match is None:
        return None
    length = length_of(match["far"], unit)
    return length if isinstance(length, Unreadable) else (_way(match["way"]), length)


def read_repeat(text: str, unit: Unit | None) -> Repeat | Unreadable | None:
    """How often a line or hole is made in all, how far apart, and which way; None where it cannot be read."""
    match = _REPEAT.fullmatch(tidy(text).strip())
    times = read_number(match["times"]) if match else None
    if match is None or times is None or isinstance(times, Unreadable) or times.denominator > 1 or times < 2:
        return None
    apart = length_of(match["apart"], unit)
    if isinstance(apart, Unreadable):
        return apart
    return Repeat(int(times), apart, "across" if match["across"] else "down") if apart.mm > 0 else None


def _way(word: str) -> str:
    plain = word.casefold()
    return _WAYS.get(plain, plain)


def _plain(name: str) -> str:
    """`the roof's top edge` is the top edge of roof."""
    plain = " ".join(name.casefold().split()).removeprefix("the ")
    owned = re.fullmatch(
        r"((?:middle|centre|center|start|end) of )?(?:the )?(?P<panel>.+?)(?:'s|s') (?P<part>.+)", plain
    )
    if owned is None:
        return plain
    return f"{owned[1] or ''}{owned['part']} of {owned['panel']}"
