"""What an event is asked for: what the options come to, each read once."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct

from foldwright.event.options import KitOptions
from foldwright.event.plan.model import Wishes
from foldwright.event.plan.money import OtherCost
from foldwright.event.render.grids import LEAST_LABEL, MOST_LABEL, Across, LabelSheet
from foldwright.finding import Wrong
from foldwright.measure.length import Length, System, Unit, system_named
from foldwright.measure.reading import read_length, read_lengths_cross, read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.amounts import read_price
from foldwright.recipe.facts.clocks import read_clock
from foldwright.recipe.facts.days import day_of
from foldwright.recipe.model import Price
from foldwright.render.paper.papers import PAPERS, Paper, paper_named

MOST_KITS, MOST_HELPERS, MOST_AT_A_TABLE = 10_000, 50, 100
"""More than that is no event; the program says so and stops."""
GUESTS = "guests"
"""As many kits as the list of guests asks for."""
MOST_LETTERS = 80
"""Of an event's name and of its place: both stand in one line at the foot of a page."""
MOST_TRIM = 50
"""Millimetres: who takes off more has another sheet in mind."""
MOST_EFFORT = 50
"""Fifty times the usual work, which takes minutes where nothing is proven."""
_PERCENT = re.compile(r"([0-9]{1,3}(?:[.,][0-9]{1,3})?) ?%?")


class KitWish(Struct, frozen=True):
    """What the options come to. `system` and `paper` are None where nobody said.

    `plan` still lacks the unit system and the money, which the recipes say. `sums` are the sums of money as typed, each
    after its option, with its sign or word for money if it has one.
    """

    options: KitOptions
    kits: tuple[int, ...]
    spare: Fraction
    samples: int
    system: System | None
    paper: Paper | None
    called: str
    on: date | None
    at: str
    labels: LabelSheet | None
    sums: tuple[tuple[str, str, str], ...]
    plan: Wishes


def read_wish(options: KitOptions, recipes: int) -> KitWish | tuple[Wrong, ...]:
    """What the options come to for so many recipes, or all that is wrong with them."""
    wrong: list[Wrong] = []

    def well[T](read: Callable[..., T | Wrong], text: str, otherwise: T, *more: object) -> T:
        """What an option comes to; `otherwise` where nobody said it, or it is wrong."""
        reading = read(text, *more) if text else otherwise
        if isinstance(reading, Wrong):
            wrong.append(reading)
            return otherwise
        return reading

    none: tuple[SaidCost, ...] = ()
    fee, costs = well(_fee, options.fee, None), well(_costs, options.cost, none)
    wish = KitWish(
        options,
        kits=well(lambda _: _kits(options.kits, recipes, options.names), "for", ()),
        spare=well(_share, options.spare, Fraction(0), "kit-spare", Fraction(1)),
        samples=well(_whole, "" if options.samples == "0" else options.samples, 0, "kit-samples", MOST_KITS),
        system=well(_system, options.units, None),
        paper=well(_paper, options.paper, None),
        called=well(_line, options.called, "", "kit-called"),
        on=well(_day, options.on, None),
        at=well(_line, options.at, "", "kit-at"),
        labels=well(_labels, options.labels, None),
        sums=(*((("fee", options.fee, fee.money),) if fee else ()), *(("cost", one.said, one.money) for one in costs)),
        plan=Wishes(
            system=System.METRIC,
            helpers=well(_whole, options.helpers, 1, "kit-helpers", MOST_HELPERS),
            trim=well(_small, options.trim, Fraction(0), "kit-trim"),
            spool_end=well(_small, options.ends, Fraction(0), "kit-ends"),
            learning=well(_learning, options.learning, None),
            fee=fee.amount if fee else None,
            margin=well(_share, options.margin, None, "kit-margin", Fraction(99, 100)),
            per_table=well(_whole, options.per_table, 8, "kit-per-table", MOST_AT_A_TABLE),
            begins=well(_clock, options.begins, 14 * 3600),
            effort=well(_whole, options.effort, 1, "kit-effort", MOST_EFFORT),
            fewest=well(_fewest, options.fewest, ""),
            costs=tuple(one.cost for one in costs),
        ),
    )
    return tuple(wrong) if wrong else wish


def _kits(text: str, recipes: int, names: str) -> tuple[int, ...] | Wrong:
    """`100`, or one number for each recipe: `60,40`; none for `guests`, whose list says it.

    `1,000` is two numbers where two are wanted, and else one.
    """
    if text.strip().casefold() == GUESTS:
        return () if names else Wrong.of("kit-for-guests")
    parts = [part.strip() for part in re.split(r",|\s+", text) if part.strip()]
    if len(parts) != recipes:
        parts = [part.strip() for part in re.split(r",(?![0-9]{3}(?![0-9]))|\s+", text) if part.strip()]
    if len(parts) != recipes:
        return Wrong.of("kit-for-each", said=text or '""', count=recipes)
    numbers = [_whole(part, "kit-for", MOST_KITS) for part in parts]
    bad = next((number for number in numbers if isinstance(number, Wrong)), None)
    return bad or tuple(number for number in numbers if not isinstance(number, Wrong))


def _whole(text: str, message: str, most: int) -> int | Wrong:
    plain = text.strip().replace(",", "")
    if plain.isascii() and plain.isdecimal() and len(plain) < 10 and 1 <= int(plain) <= most:
        return int(plain)
    return Wrong.of(message, said=text, most=most)


def _share(text: str, message: str, most: Fraction) -> Fraction | Wrong:
    """`5%`, `5` or `0.05`, which are the same."""
    match = _PERCENT.fullmatch(text.strip())
    if match is None:
        return Wrong.of(message, said=text)
    number = Fraction(match[1].replace(",", "."))
    share = number if number < 1 and "%" not in text else number / 100
    return share if share <= most else Wrong.of(message, said=text)


def _learning(text: str) -> Fraction | Wrong:
    share = _share(text, "kit-learning", Fraction(1))
    if isinstance(share, Wrong) or not Fraction(1, 2) < share <= 1:
        return Wrong.of("kit-learning", said=text)
    return share


def _fee(text: str) -> Price | Wrong:
    price = read_price(text)
    return Wrong.of("kit-fee", said=text) if isinstance(price, Unreadable) or price.amount <= 0 else price


def _costs(text: str) -> tuple[SaidCost, ...] | Wrong:
    costs = read_costs(text)
    return Wrong.of("kit-cost", said=costs) if isinstance(costs, str) else costs


def _system(text: str) -> System | Wrong:
    system = system_named(text)
    return system if isinstance(system, System) else Wrong.of("kit-units", said=text)


def _paper(text: str) -> Paper | Wrong:
    paper = paper_named(text)
    large = tuple(one.name for one in PAPERS if not one.small)
    return paper if paper and not paper.small else Wrong.of("kit-paper", said=text, known=large)


def _fewest(text: str) -> str | Wrong:
    said = text.strip().casefold()
    return said if said in ("", "sheets", "cuts") else Wrong.of("kit-fewest", said=text)


def _clock(text: str) -> int | Wrong:
    seconds = read_clock(text)
    return Wrong.of("kit-begins", said=text) if seconds is None else seconds


_YEARS = range(1900, 2200)
"""In which anybody may plan an event (a reasoned guess); far outside them calendars come to an end."""


def _day(text: str) -> date | Wrong:
    day = day_of(text)
    return day if day and day.year in _YEARS else Wrong.of("kit-on", said=text)


def _line(text: str, message: str) -> str | Wrong:
    """A name or a place, which stands on every paper in one line."""
    line = " ".join(text.split())
    return line if len(line) <= MOST_LETTERS else Wrong.of(message, said=line, most=MOST_LETTERS)


def _small(text: str, message: str) -> Fraction | Wrong:
    length = read_length(text)
    if not isinstance(length, Length) or length.mm < 0 or length.mm > MOST_TRIM:
        return Wrong.of(message, said=text)
    return length.mm


def _labels(text: str) -> LabelSheet | Wrong:
    return read_label_sheet(text) or Wrong.of("kit-labels", said=text, least=LEAST_LABEL, most=MOST_LABEL)


_BETWEEN_COSTS = re.compile(r"[;\n]|,(?![0-9])")
"""Digits on both sides make a decimal comma."""
_COST = re.compile(
    r"(?P<name>.*?[^\W\d_].*?)(?:\s*[:=]\s*|\s+)(?:at\s+)?"
    r"(?P<before>[£$€¥]|[A-Z]{3}\s)?\s*(?P<number>[0-9][0-9.,]*)(?:\s*(?P<after>[£$€¥]|[^\W\d_]+))??"
    r"(?P<each>\s+(?:each(?:\s+kit)?|(?:a|per)\s+kit|apiece))?"
)
_LONGEST = 200
"""Characters of one cost: a name and a number need no more."""


class SaidCost(Struct, frozen=True):
    """A cost, and the sign or word for money it was typed with, if any."""

    cost: OtherCost
    said: str
    money: str


def read_costs(text: str) -> tuple[SaidCost, ...] | str:
    """`hall 80, teacher 120, bags 0.10 each`: all of them, or the first that cannot be read, as it was typed."""
    found = []
    for part in (part.strip() for part in _BETWEEN_COSTS.split(text) if part.strip()):
        match = _COST.fullmatch(part) if len(part) <= _LONGEST else None
        price = read_price(match["number"]) if match else None
        if match is None or price is None or isinstance(price, Unreadable) or price.amount <= 0:
            return part
        money = (match["before"] or match["after"] or "").strip()
        found.append(SaidCost(OtherCost(match["name"].strip(), price.amount, match["each"] is not None), part, money))
    return tuple(found)


_MOST_MARGIN = 100
"""Millimetres of a margin or a gap: a larger one would leave no room for labels."""
_BETWEEN = re.compile(r",\s+|;\s*")
"""A comma with no space after it is a decimal comma."""
_COUNTS = re.compile(r"([0-9]{1,2}) across,? (?:by |and |x )?([0-9]{1,2}) down")
_PAIR = re.compile(r"(margin|gap)s?:? (.+)")
_LENGTH = re.compile(
    r"(?P<number>[1-9][0-9]* [0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?)"
    r"(?: ?(?P<unit>(?!top|side|left|across|down)[a-z\"]+))?(?: (?P<way>top|side|left|across|down))?(?: and|,)?(?: |$)"
)
_DOWN, _ACROSS = ("top", "down"), ("side", "left", "across")


def read_label_sheet(text: str) -> LabelSheet | None:
    """`4 x 2 in`; `3 across 7 down, 63.5 x 38.1 mm, margins 15.1 7.2, gaps 0 2.5`. None where it is neither.

    Of two margins the first is the top one, of two gaps the first is that between rows; one is for both directions.
    """
    parts = [part.strip().casefold() for part in _BETWEEN.split(text) if part.strip()]
    parts = _whole_counts(parts)
    counts = [found for part in parts if (found := _COUNTS.fullmatch(part))]
    pairs = [found for part in parts if (found := _PAIR.fullmatch(part))]
    sizes = [part for part in parts if not _COUNTS.fullmatch(part) and not _PAIR.fullmatch(part)]
    lengths = read_lengths_cross(sizes[0]) if len(sizes) == 1 else None
    named = {found[1]: found[2] for found in pairs}
    if lengths is None or isinstance(lengths, Unreadable) or len(lengths) != 2 or len(counts) > 1:
        return None
    if len(named) < len(pairs) or not all(LEAST_LABEL <= side.mm <= MOST_LABEL for side in lengths):
        return None
    asked: dict[str, tuple[Fraction, Fraction] | None] = {}
    for word, said in named.items():
        if (asked_for := _pair(said, lengths[-1].unit)) is None:
            return None
        asked[word] = asked_for
    return _sheet(lengths[0].mm, lengths[1].mm, counts[0] if counts else None, asked)


def _whole_counts(parts: list[str]) -> list[str]:
    """`3 across, 7 down` is one part, whatever parts it."""
    for number, (one, other) in enumerate(pairwise(parts)):
        if one.endswith(" across") and other.endswith(" down"):
            return [*parts[:number], f"{one} {other}", *parts[number + 2 :]]
    return parts


def _sheet(
    width: Fraction,
    height: Fraction,
    counts: re.Match[str] | None,
    asked: Mapping[str, tuple[Fraction, Fraction] | None],
) -> LabelSheet | None:
    across, down = (int(counts[1]), int(counts[2])) if counts else (None, None)
    if 0 in (across, down):
        return None
    margin, gap = asked.get("margin"), asked.get("gap") or (Fraction(0), Fraction(0))
    return LabelSheet(
        Across(width, across, margin and margin[1], gap[1]), Across(height, down, margin and margin[0], gap[0])
    )


def _pair(text: str, unit: Unit) -> tuple[Fraction, Fraction] | None:
    """Down and across in millimetres; a number without a unit is in that of the label's size."""
    found, at = [], 0
    while at < len(text):
        match = _LENGTH.match(text, at)
        length = match and _length(match["number"], match["unit"], unit)
        if match is None or length is None or length > _MOST_MARGIN:
            return None
        found.append((match["way"], length))
        at = match.end()
    if len(found) == 1 and found[0][0] is None:
        return found[0][1], found[0][1]
    if len(found) != 2:
        return None
    (first, one), (second, other) = found
    if first in _ACROSS and second not in _ACROSS:
        return other, one
    return None if second in _DOWN or first in _ACROSS else (one, other)


def _length(number: str, unit: str | None, otherwise: Unit) -> Fraction | None:
    """Unlike other lengths, it may be nothing."""
    if unit is None:
        plain = read_number(number)
        return None if isinstance(plain, Unreadable) else plain * otherwise.mm
    length = read_length(f"{number} {unit}")
    if isinstance(length, Unreadable):
        zero = read_number(number)
        return Fraction(0) if zero == 0 else None
    return length.mm
