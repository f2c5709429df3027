"""What every paper of an event is written from, and what lengths, supplies, jobs and pieces are called on all."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal, localcontext
from fractions import Fraction
from typing import ClassVar

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.document.model import Document
from foldwright.document.typeset import typesetter
from foldwright.event.document.model import PaperWords
from foldwright.event.plan.cutting import Missing
from foldwright.event.plan.jobs import PlannedJob, What, sheets_in
from foldwright.event.plan.money import rounded
from foldwright.event.plan.planning import Event
from foldwright.event.plan.timeline import TaskSpan
from foldwright.measure.amounts import AMOUNT_UNITS, Dimension
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.portions import Portion, Rounding, in_system, measured_out
from foldwright.measure.steps import STEPS
from foldwright.measure.writing import write_readable
from foldwright.recipe.model import Amount
from foldwright.vocabulary.names import singular

_PLAIN_PART = 8
"""A sum with smaller parts than eighths or hundredths is rounded: nobody measures so (common practice, no source)."""


class LengthWriter(Struct, frozen=True):
    """Writes millimetres in the unit of a system."""

    system: System
    words: Catalogue

    @property
    def unit(self) -> Unit:
        return Unit.INCH if self.system is System.IMPERIAL else Unit.MILLIMETRE

    def length(self, mm: Fraction) -> str:
        """`4 1/4 in`, `108 mm`."""
        return self.words.worded(write_readable(Length(mm, self.unit)))

    def written(self, length: Length) -> str:
        """In its own unit."""
        return self.words.worded(write_readable(length))

    def plainest(self, mm: Fraction, step: Fraction) -> str:
        """In the folder's unit where that shows it, else in the other where that is a round number: `2 mm`."""
        other = Unit.MILLIMETRE if self.unit is Unit.INCH else Unit.INCH
        if mm % step and not mm % STEPS[self.system.other][-1]:
            return self.words.worded(write_readable(Length(mm, other)))
        return self.length(mm)

    def bare(self, mm: Fraction) -> str:
        """The same without its unit."""
        return write_readable(Length(mm, self.unit)).number

    def size(self, width: Fraction, height: Fraction) -> str:
        """`5 x 4 1/4 in`."""
        return self.words.say("event.size", across=self.bare(width), down=self.length(height))

    def used(self, amount: Amount) -> str:
        """How much of a supply one kit takes: as written in its own system, else as it can be measured out."""
        return self._portion(in_system(amount.number, amount.unit, self.system))

    def sold(self, amount: Amount) -> str:
        """What a pack holds: as written, since so it stands in the shop, and in the folder's own system."""
        written = Portion(amount.number, amount.unit)
        here = in_system(amount.number, amount.unit, self.system, Rounding.DOWN)
        if here == written:
            return self._portion(written)
        return self.words.say("event.sold", written=self._portion(written), here=self._portion(here))

    def reckoned(self, number: Fraction, unit: str, rounding: Rounding) -> str:
        """A sum or what is left of one: plain numbers of the folder's system stay; empty where nothing is left."""
        portion = Portion(number, unit)
        if AMOUNT_UNITS[unit].system is not self.system or not _is_plain(number) or unit == Unit.MILLIMETRE.symbol:
            portion = measured_out(number, unit, self.system, rounding)
        return self._portion(portion) if portion.number else ""

    def _portion(self, portion: Portion) -> str:
        if AMOUNT_UNITS[portion.unit].dimension is Dimension.LENGTH:
            return self.words.worded(write_readable(Length.of(portion.number, Unit(portion.unit))))
        return typesetter(self.words.language).amount(portion.number, portion.unit).plain


def _is_plain(number: Fraction) -> bool:
    return number.denominator <= _PLAIN_PART or not 100 % number.denominator


class EventSource(Struct, frozen=True):
    """A planned event, the documents of its recipes at the event (in the same order), and the catalogue."""

    event: Event
    documents: Sequence[Document]
    words: Catalogue

    @property
    def lengths(self) -> LengthWriter:
        """Writes lengths in the unit of the folder."""
        return LengthWriter(self.event.wishes.system, self.words)


class SectionWriter:
    """Writes with the words of one table of the catalogue: `section` is its name below `event`."""

    section: ClassVar[str]

    def __init__(self, source: EventSource) -> None:
        self._event, self._words, self._lengths = source.event, source.words, source.lengths

    def _say(self, key: str, **facts: object) -> str:
        return self._words.say(f"event.{self.section}.{key}", **facts)

    def _columns(self, *names: str) -> tuple[str, ...]:
        return tuple(self._say(f"column-{name}") for name in names)

    def _recipe(self, number: int) -> str:
        """The title of a recipe."""
        return self._event.makings[number].title


def called(supply: str, colour: str, words: Catalogue) -> str:
    """A supply, with its colour where it comes in several."""
    return words.say("event.shopping.colour", supply=supply, colour=colour) if colour else supply


MOST_RANGES = 3
"""Of numbers on one line."""


class JobWords(SectionWriter):
    """The jobs of an event, by their numbers."""

    section = "job"

    def __init__(self, source: EventSource) -> None:
        super().__init__(source)
        self._jobs = {job.number: job for job in source.event.jobs.jobs}

    def name(self, number: int) -> str:
        """`Cut slate card, layout 1`; whose it is where there are several recipes."""
        job = self._jobs[number]
        if job.what is What.SHEETS:
            plan = self._event.sheets[job.plan]
            return self._say("sheets", supply=called(plan.supply, plan.colour, self._words), layout=job.layout + 1)
        if job.what is What.STEP:
            return self.step(job.recipe, job.step)
        told = self._say(job.what.value, supply=job.supply)
        return self._say("of-recipe", job=told, recipe=self._recipe(job.recipe)) if self._many else told

    def step(self, recipe: int, step: int) -> str:
        """A step of a recipe, whose it is where there are several."""
        heading = self._event.makings[recipe].recipe.steps[step - 1].heading.value
        return self._say("step-of" if self._many else "step", step=step, heading=heading, recipe=self._recipe(recipe))

    @property
    def _many(self) -> bool:
        return len(self._event.makings) > 1

    def part(self, run: Sequence[TaskSpan]) -> str:
        """`sheets 9 to 16`, `kits 1 to 10 and 21 to 40`; only how many where there are too many runs of numbers."""
        job = self._jobs[run[0].task]
        ranges = [self._numbers(job, span) for span in run]
        count = sum(last - first + 1 for first, last in ranges)
        if len(ranges) > MOST_RANGES:
            return self._say(f"many-{job.what.value}", count=count)
        told = [self._say("range", count=last - first + 1, first=first, last=last) for first, last in ranges]
        return self._say(f"part-{job.what.value}", count=count, numbers=self._words.listed(told))

    def _numbers(self, job: PlannedJob, span: TaskSpan) -> tuple[int, int]:
        if job.what is not What.SHEETS:
            return span.first, span.first + span.count - 1
        plan = self._event.sheets[job.plan]
        return sheets_in(plan, plan.work[job.layout], span.first, span.count)

    def job(self, number: int) -> PlannedJob:
        return self._jobs[number]


def not_whole(event: Event, words: Catalogue) -> tuple[PaperWords, ...]:
    """What a paper has to say first; nothing where everything can be had."""
    if not event.missing:
        return ()
    told = missing_words(event, words)
    return (PaperWords(words.say("event.missing.heading"), (*told, words.say("event.missing.not-whole"))),)


def missing_words(event: Event, words: Catalogue) -> tuple[str, ...]:
    """A sentence for every piece and length that cannot be had."""
    lengths = LengthWriter(event.wishes.system, words)
    return tuple(_said(one, lengths, words) for one in event.missing)


def _said(one: Missing, lengths: LengthWriter, words: Catalogue) -> str:
    supply = called(one.supply, one.colour, words)
    if not one.piece:
        return words.say("event.missing.length", count=one.count, length=lengths.length(one.width), supply=supply)
    size = lengths.size(one.width, one.height)
    key = "scarce" if one.scarce else "piece"
    return words.say(f"event.missing.{key}", count=one.count, piece=one.piece, size=size, supply=supply)


_TO_VES = ("alf", "eaf", "elf", "nife")


def named(name: str, count: int) -> str:
    """`birdhouse fronts`, `boxes`; as it is for one, and where its last word is no word of small letters.

    The rule is that of English; a name that is in the plural already stays.
    """
    before, space, last = name.rpartition(" ")
    if count == 1 or not (last.isascii() and last.isalpha() and last[-1:].islower()) or singular(last) != last:
        return name
    return f"{before}{space}{_plural(last)}"


def _plural(word: str) -> str:
    if word.endswith(_TO_VES):
        return word.removesuffix("e")[:-1] + "ves"
    if word.endswith("y") and word[-2:-1] not in ("", "a", "e", "i", "o", "u"):
        return word[:-1] + "ies"
    return word + ("es" if word.endswith(("s", "x", "z", "ch", "sh")) else "s")


_SPACE = re.compile(r"(?<=[^\W\d_])(?=\d)|(?<=\d)(?=[^\W\d_])")
"""Where letters of a currency meet a figure, a space that does not break goes between (UTS 35, currencySpacing)."""


class Money(Struct, frozen=True):
    """`currency` is an ISO 4217 code, or empty where the studio has not said; `digits` are those of its minor unit."""

    currency: str
    digits: int
    language: str

    def said(self, exact: Fraction | None) -> str:
        """`€12.50`: to the minor unit, half to even; a dash for what is not counted."""
        return "–" if exact is None else self._written(rounded(exact, self.digits))

    def as_written(self, price: Decimal | None) -> str:
        """A price with all its figures: `€0.125`; a dash where none is said."""
        if price is None:
            return "–"
        exact = Fraction(price)
        digits = self.digits
        while (exact * 10**digits).denominator > 1:
            digits += 1
        return self._written(rounded(exact, digits))

    def _written(self, sum_of_money: Decimal) -> str:
        from babel.numbers import format_currency, format_decimal

        digits = -int(sum_of_money.as_tuple().exponent)
        usual = digits == self.digits
        own = None if usual else f"¤#,##0.{'0' * digits}"
        with localcontext() as exact:
            exact.prec = max(exact.prec, len(sum_of_money.as_tuple().digits) + 2)
            if not self.currency:
                pattern = "#,##0." + "0" * digits if digits else "#,##0"
                return str(format_decimal(sum_of_money, format=pattern, locale=self.language))
            return _SPACE.sub("\u00a0", format_currency(sum_of_money, self.currency, own, self.language, usual))

    def percent(self, share: Fraction) -> str:
        """`32.5%`, rounded down to a tenth, so that no more is promised than there is."""
        from babel.numbers import format_percent

        tenths = Decimal(int(share * 1000 // 1)) / 1000
        return str(format_percent(tenths, format="#,##0.#%", locale=self.language))


def currency_of(money: str) -> tuple[str, int]:
    """The code of the money as ISO 4217 has it, and the digits of its minor unit; empty for what is no code."""
    from babel import Locale
    from babel.numbers import get_currency_precision

    code = money.strip().upper()
    known = code in Locale("en").currencies
    return (code, get_currency_precision(code)) if known else ("", 2)
