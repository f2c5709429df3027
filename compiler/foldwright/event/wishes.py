"""What an event is asked for: the options as they were typed, and what they come to."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

from msgspec import Struct

from foldwright.event.costs import SaidCost, read_costs
from foldwright.event.facts.clock import read_clock
from foldwright.event.label_sheets import read_label_sheet
from foldwright.event.options import KitOptions
from foldwright.event.render.grids import LEAST_LABEL, MOST_LABEL, LabelSheet
from foldwright.finding import Wrong
from foldwright.measure.length import Length, System, system_named
from foldwright.measure.reading import read_length
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.amounts import read_price
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
    """What they come to. `system` and `paper` are None where nobody said."""

    kits: tuple[int, ...]
    helpers: int
    spare: Fraction
    samples: int
    fee: Price | None
    margin: Fraction | None
    costs: tuple[SaidCost, ...]
    system: System | None
    paper: Paper | None
    per_table: int
    begins: int
    called: str
    on: date | None
    at: str
    learning: Fraction | None
    trim: Fraction
    spool_end: Fraction
    effort: int
    fewest: str
    labels: LabelSheet | None
    name_line: bool


class _WrongError(Exception):
    def __init__(self, message: str, **facts: object) -> None:
        super().__init__(message)
        self.wrong = Wrong.of(message, **facts)


def kit_wish(asked: KitOptions, recipes: int) -> KitWish | tuple[Wrong, ...]:
    """What the options come to, or all that is wrong with them."""
    wrong: list[Wrong] = []

    def read[T](reading: T | _WrongError, otherwise: T) -> T:
        if isinstance(reading, _WrongError):
            wrong.append(reading.wrong)
            return otherwise
        return reading

    wish = KitWish(
        kits=read(_kits(asked.kits, recipes, asked.names), ()),
        helpers=read(_whole(asked.helpers or "1", "kit-helpers", MOST_HELPERS), 1),
        spare=read(_share(asked.spare or "0", "kit-spare", Fraction(1)), Fraction(0)),
        samples=read(_whole(asked.samples, "kit-samples", MOST_KITS), 0) if asked.samples not in ("", "0") else 0,
        fee=read(_fee(asked.fee), None),
        margin=read(_share(asked.margin, "kit-margin", Fraction(99, 100)), None) if asked.margin else None,
        costs=read(_costs(asked.cost), ()),
        system=read(_system(asked.units), None),
        paper=read(_paper(asked.paper), None),
        per_table=read(_whole(asked.per_table or "8", "kit-per-table", MOST_AT_A_TABLE), 8),
        begins=read(_clock(asked.begins or "14:00"), 0),
        called=read(_line(asked.called, "kit-called"), ""),
        on=read(_day(asked.on), None),
        at=read(_line(asked.at, "kit-at"), ""),
        learning=read(_learning(asked.learning), None),
        trim=read(_small(asked.trim, "kit-trim"), Fraction(0)),
        spool_end=read(_small(asked.ends, "kit-ends"), Fraction(0)),
        effort=read(_whole(asked.effort or "1", "kit-effort", MOST_EFFORT), 1),
        fewest=read(_fewest(asked.fewest), ""),
        labels=read(_labels(asked.labels), None),
        name_line=asked.name_line,
    )
    return tuple(wrong) if wrong else wish


def _kits(text: str, recipes: int, names: str) -> tuple[int, ...] | _WrongError:
    """`100`, or one number for each recipe: `60,40`; none for `guests`, whose list says it.

    `1,000` is two numbers where two are wanted, and else one.
    """
    if text.strip().casefold() == GUESTS:
        return () if names else _WrongError("kit-for-guests")
    parts = [part.strip() for part in re.split(r",|\s+", text) if part.strip()]
    if len(parts) != recipes:
        parts = [part.strip() for part in re.split(r",(?![0-9]{3}(?![0-9]))|\s+", text) if part.strip()]
    if len(parts) != recipes:
        return _WrongError("kit-for-each", said=text or '""', count=recipes)
    numbers = [_whole(part, "kit-for", MOST_KITS) for part in parts]
    bad = next((number for number in numbers if isinstance(number, _WrongError)), None)
    return bad or tuple(number for number in numbers if not isinstance(number, _WrongError))


def _whole(text: str, message: str, most: int) -> int | _WrongError:
    plain = text.strip().replace(",", "")
    if plain.isascii() and plain.isdecimal() and len(plain) < 10 and 1 <= int(plain) <= most:
        return int(plain)
    return _WrongError(message, said=text, most=most)


def _share(text: str, message: str, most: Fraction) -> Fraction | _WrongError:
    """`5%`, `5` or `0.05`, which are the same."""
    match = _PERCENT.fullmatch(text.strip())
    if match is None:
        return _WrongError(message, said=text)
    number = Fraction(match[1].replace(",", "."))
    share = number if number < 1 and "%" not in text else number / 100
    return share if share <= most else _WrongError(message, said=text)


def _learning(text: str) -> Fraction | _WrongError | None:
    if not text:
        return None
    share = _share(text, "kit-learning", Fraction(1))
    if isinstance(share, _WrongError) or not Fraction(1, 2) < share <= 1:
        return _WrongError("kit-learning", said=text)
    return share


def _fee(text: str) -> Price | _WrongError | None:
    if not text:
        return None
    price = read_price(text)
    return _WrongError("kit-fee", said=text) if isinstance(price, Unreadable) or price.amount <= 0 else price


def _costs(text: str) -> tuple[SaidCost, ...] | _WrongError:
    costs = read_costs(text)
    return _WrongError("kit-cost", said=costs) if isinstance(costs, str) else costs


def _system(text: str) -> System | _WrongError | None:
    if not text:
        return None
    system = system_named(text)
    return system if isinstance(system, System) else _WrongError("kit-units", said=text)


def _paper(text: str) -> Paper | _WrongError | None:
    if not text:
        return None
    paper = paper_named(text)
    large = tuple(one.name for one in PAPERS if not one.small)
    return paper if paper and not paper.small else _WrongError("kit-paper", said=text, known=large)


def _fewest(text: str) -> str | _WrongError:
    said = text.strip().casefold()
    return said if said in ("", "sheets", "cuts") else _WrongError("kit-fewest", said=text)


def _clock(text: str) -> int | _WrongError:
    seconds = read_clock(text)
    return _WrongError("kit-begins", said=text) if seconds is None else seconds


def _day(text: str) -> date | _WrongError | None:
    if not text:
        return None
    return day_of(text) or _WrongError("kit-on", said=text)


def _line(text: str, message: str) -> str | _WrongError:
    """A name or a place, which stands on every paper in one line."""
    line = " ".join(text.split())
    return line if len(line) <= MOST_LETTERS else _WrongError(message, said=line, most=MOST_LETTERS)


def _small(text: str, message: str) -> Fraction | _WrongError:
    if not text:
        return Fraction(0)
    length = read_length(text)
    if not isinstance(length, Length) or length.mm < 0 or length.mm > MOST_TRIM:
        return _WrongError(message, said=text)
    return length.mm


def _labels(text: str) -> LabelSheet | _WrongError | None:
    if not text:
        return None
    return read_label_sheet(text) or _WrongError("kit-labels", said=text, least=LEAST_LABEL, most=MOST_LABEL)
