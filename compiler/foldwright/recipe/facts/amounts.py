"""How much of a supply: `36 in`, `2 squares`, `50 ml`, `a little`; packs and prices; weights and sheets of paper."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from msgspec.structs import replace

from foldwright.measure.amounts import AMOUNT_WORDS, Dimension, amount_unit
from foldwright.measure.length import Length, Unit, millimetres
from foldwright.measure.numbers import NUMBER, squeezed, tidy
from foldwright.measure.paper import named_sheet
from foldwright.measure.reading import UNIT_WORDS, read_length, read_lengths_cross, read_number
from foldwright.measure.spelled import ONE, TEEN, TEN, WORD_NUMBER
from foldwright.measure.unit_table import UNITS
from foldwright.measure.unreadable import Unreadable
from foldwright.measure.weight import POUND_WORDS, WEIGHT_WORD
from foldwright.recipe.facts.complaints import nearest
from foldwright.recipe.model import Amount, NamedSheet, Pack, Price, Weight

_LENGTHS = [word for word in UNIT_WORDS if word.isalpha() and word != "in"]
"""All that can only be a unit: `2 in all` counts."""
_LEAD = re.compile(
    rf"(?P<number>-?\s*{NUMBER}|{WORD_NUMBER}\b|(?P<one>an?)(?= dozen))(?P<rest>.*)", re.IGNORECASE | re.DOTALL
)
_DOZEN = re.compile(r"dozen\b(?: of\b)? ?", re.IGNORECASE)
_NO_NOUN = re.compile(
    rf"(?:{'|'.join((ONE, TEEN, TEN, 'hundred', 'thousand', 'million', *_LENGTHS))})(?![^\W_])", re.IGNORECASE
)
"""`two thousand beads` are no two, and `20 mm beads` no twenty of something."""
_NOUN = re.compile(r"[^\W\d_]+(?:[ -][^\W\d_]+){0,3}")
_AT = re.compile(r"\s+(?:at|for)\s+|\s*@\s*", re.IGNORECASE)
_CURRENCY = r"(?:[£$€¥]|[A-Z]{3}\b)"
_PRICE = re.compile(
    rf"(?:(?P<before>{_CURRENCY})\s*)?(?P<number>[^\s£$€¥]+)(?:\s*(?P<after>{_CURRENCY}))?"
    r"(?:\s+(?:each|a pack|a sheet))?"
)
_DECIMAL = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_WEIGHT = re.compile(
    rf"(?P<sign>\#)?\s*(?P<number>{NUMBER})[ -]*"
    rf"(?P<unit>{WEIGHT_WORD})?(?![a-z])"
    r"\s*(?P<grade>.*)",
    re.IGNORECASE | re.DOTALL,
)
_NO_GRADE = re.compile(r"(?:card ?stock|card|paper|stock|per square metre|a square metre)?", re.IGNORECASE)
_SHEETS = (50, 3000)
"""Millimetres: no sheet of paper that is sold has a side outside of these (common practice, no source)."""

LITTLE = frozenset({"a little", "little", "some", "a bit", "a dab", "a drop", "as needed"})

_LONG_UNITS = tuple(word for word in (*UNIT_WORDS, *AMOUNT_WORDS) if len(word) > 3)


_remembered = lru_cache(maxsize=2048)
"""The same few amounts, sheets and weights stand in every recipe of a studio."""


@_remembered
def read_amount(text: str) -> Amount | Unreadable:
    """A number alone counts; a unit after it measures; any other word is what is counted."""
    whole = squeezed(text)
    match = _LEAD.fullmatch(whole)
    number = Fraction(1) if match and match["one"] else read_number(match["number"] if match else whole)
    if isinstance(number, Unreadable):
        return number
    if match is None:
        return Unreadable("no-number", (("text", whole),))
    rest = match["rest"].strip().rstrip(".")
    word = rest.lower().removeprefix("-")
    if word in UNIT_WORDS or any(character in "'\"" or character.isdigit() for character in rest.replace("2", "")):
        length = read_length(whole)
        if isinstance(length, Unreadable):
            return length
        return Amount(Dimension.LENGTH, length.value, length.unit.symbol, length=length)
    if number == 0:
        return Unreadable("no-amount", (("text", whole),))
    if unit := amount_unit(word):
        return Amount(unit.dimension, number, unit.symbol)
    return _counted(number, rest, whole)


def _counted(number: Fraction, noun: str, whole: str) -> Amount | Unreadable:
    if dozens := _DOZEN.match(noun):
        number, noun = 12 * number, noun[dozens.end() :]
    if noun and (not _NOUN.fullmatch(noun) or _NO_NOUN.match(noun)):
        number_again = read_number(whole)
        return number_again if isinstance(number_again, Unreadable) else Unreadable("no-number", (("text", whole),))
    if len(noun) > 3 and (misspelt := nearest(noun, _LONG_UNITS, 0.85)):
        return Unreadable("unknown-unit", (("text", whole), ("word", noun), ("nearest", misspelt)))
    return Amount(Dimension.COUNT, number, "", noun=noun)


@_remembered
def read_pack(text: str) -> Pack | Unreadable:
    """`24 sheets at 8.40`; the price may be missing."""
    amount_text, *price_texts = _AT.split(text.strip(), maxsplit=1)
    amount = read_amount(amount_text.removeprefix("of ").strip())
    if isinstance(amount, Unreadable):
        return amount
    if not price_texts:
        return Pack(amount)
    price = read_price(price_texts[0])
    return price if isinstance(price, Unreadable) else Pack(amount, price.amount, price.money)


@_remembered
def read_price(text: str) -> Price | Unreadable:
    """An amount of money, exactly as written: `8.40`, `8,40`, `£7.50`, `7.50 GBP`."""
    match = _PRICE.fullmatch(text.strip())
    figures = match["number"] if match else text.strip()
    number = read_number(figures)
    if isinstance(number, Unreadable):
        return number
    if match is None or not _DECIMAL.fullmatch(figures):
        return Unreadable("no-price", (("text", text.strip()),))
    return Price(Decimal(figures.replace(",", ".")), match["before"] or match["after"] or "")


@_remembered
def read_weight(text: str) -> Weight | Unreadable:
    """`100 lb cover`, `110# cover`, `#110 cover`, `220 g/m2`."""
    whole = squeezed(text)
    match = _WEIGHT.fullmatch(whole)
    if match is None:
        number = read_number(whole)
        return number if isinstance(number, Unreadable) else Unreadable("weight-without-unit", (("text", whole),))
    number = read_number(match["number"])
    if isinstance(number, Unreadable):
        return number
    if number == 0:
        return Unreadable("no-amount", (("text", whole),))
    unit = (match["unit"] or match["sign"] or "").lower()
    grade = match["grade"].strip(" ()")
    if unit.startswith("g"):
        return Weight(number, "g/m2")
    if unit.rstrip(".") in POUND_WORDS:
        return Weight(number, "lb", "" if _NO_GRADE.fullmatch(grade) else grade.lower())
    return Unreadable("weight-without-unit", (("text", whole),))


@_remembered
def read_sheet(text: str, unit: Unit | None = None) -> NamedSheet | Unreadable:
    """A sheet by its name (`A4`) or by its size, across x down."""
    name = " ".join(text.split())
    named = named_sheet(name)
    if named:
        return NamedSheet(name, *named)
    if not any(character.isdigit() for character in name):
        return Unreadable("unknown-sheet", (("text", name),))
    lengths = _sheet_lengths(name, unit)
    if isinstance(lengths, Unreadable):
        return lengths
    if len(lengths) != 2:
        return Unreadable("sheet-needs-two", (("text", name),))
    return NamedSheet(name, *lengths)


@_remembered
def read_sold_sheet(text: str, unit: Unit | None = None) -> NamedSheet | Unreadable:
    """A sheet with what one costs: `A4 at 0.20`; the price may be missing."""
    sheet_text, *price_texts = _AT.split(text.strip(), maxsplit=1)
    sheet = read_sheet(sheet_text, unit)
    if isinstance(sheet, Unreadable) or not price_texts:
        return sheet
    price = read_price(price_texts[0])
    return price if isinstance(price, Unreadable) else replace(sheet, price=price.amount, money=price.money)


def _sheet_lengths(name: str, unit: Unit | None) -> tuple[Length, ...] | Unreadable:
    """Bare numbers are in `unit`, unless no sheet is of that size: `8 1/2 x 11` are inches among millimetres too."""
    lengths = read_lengths_cross(name, unit)
    others = (Unit.INCH, Unit.MILLIMETRE) if unit and isinstance(read_lengths_cross(name), Unreadable) else ()
    for other in others:
        if isinstance(lengths, Unreadable) or all(_SHEETS[0] <= length.mm <= _SHEETS[1] for length in lengths):
            break
        lengths = read_lengths_cross(name, other)
    return lengths


@_remembered
def read_thickness(text: str) -> Length | Unreadable:
    """A thickness, in points of card as well."""
    whole = " ".join(tidy(text).lower().split())
    for ending in UNITS["mil"][3]:
        if whole.endswith(ending):
            number = read_number(whole.removesuffix(ending).strip())
            if not isinstance(number, Unreadable) and number > 0:
                return Length(number * millimetres("mil"), Unit.INCH)
    return read_length(text)
