"""What a person asks for, in the words of a call or of one sentence, as a wish.

A tray for three treats of 1 1/8 x 3/4 x 1/2 in, card of 270 g/m2, easy numbers to 1/8 in, out of A4
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.design.model import FORMS, DesignWish, Things
from foldwright.begin.draft.model import SHEETS
from foldwright.finding import Strength
from foldwright.geometry.flat.thickness import thickness_of
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.numbers import WORD_NUMBER, tidy
from foldwright.measure.paper import named_sheet, paper_meant
from foldwright.measure.reading import read_length, read_lengths_cross, read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.writing import write_cross
from foldwright.recipe.model import NamedSheet, Studio
from foldwright.recipe.reading import read_recipe

CARDS = {System.IMPERIAL: "white card, 100 lb cover", System.METRIC: "white card, 270 g/m2"}
STEPS = {System.IMPERIAL: Length.of(Fraction(1, 8), Unit.INCH), System.METRIC: Length.of(1, Unit.MILLIMETRE)}
"""Numbers that are easy to set a trimmer to (common practice, no source)."""
CLEARANCES = {System.IMPERIAL: Length.of(Fraction(1, 16), Unit.INCH), System.METRIC: Length.of(1, Unit.MILLIMETRE)}
MOST_THINGS = 200
"""Of one kind in one box."""
MOST_KINDS = 6
_FORM_WORDS = {
    "open box": "tray",
    "tray with lid": "lid",
    "tray with a lid": "lid",
    "box with lid": "lid",
    "box with a lid": "lid",
    "drawer with sleeve": "drawer",
    "drawer with a sleeve": "drawer",
    "drawer box": "drawer",
    "card for an envelope": "card",
    "box": "lid",
    "sleeve": "drawer",
    **{form: form for form in FORMS},
}
_FORM = "|".join(sorted(map(re.escape, _FORM_WORDS), key=len, reverse=True))
_FOR = re.compile(rf"(?:design\s+)?(?:an?\s+|the\s+)?(?P<form>{_FORM})\s+(?:for|to hold|that holds)\s+", re.IGNORECASE)
_OF = re.compile(
    rf"(?:(?P<count>{WORD_NUMBER}|an?|[0-9]+)\s+)?(?:(?P<name>[^\W\d][^\d]*?)\s+)?of\s+(?P<size>[0-9.½¼¾⅓⅔⅛⅜⅝⅞].*)",
    re.IGNORECASE,
)
_COUNT_ONLY = re.compile(
    rf"(?P<count>[0-9]+|{WORD_NUMBER})\s+(?P<name>[^\W\d][^\d]*?)[:,]?\s+(?P<size>[0-9½¼¾⅛⅜⅝⅞].*)", re.IGNORECASE
)
_CARD_OF = re.compile(
    r"(?:out of |from |in )?(?P<name>[\w ]*\bcard(?:stock)?|paper)\s+of\s+(?P<facts>\S.*)", re.IGNORECASE
)
_NUMBERS_TO = re.compile(r"(?:easy |round |plain )?numbers?\s+(?:to|in steps of)\s+(?P<step>\S.*)", re.IGNORECASE)
_OUT_OF = re.compile(r"(?:cut )?(?:out of|from)\s+(?P<sheets>\S.*)", re.IGNORECASE)
_ROOM = re.compile(
    r"(?:with\s+)?(?:a\s+)?(?:clearance|room)\s+(?:of|to spare(?: of)?)\s+(?P<clearance>\S.*)", re.IGNORECASE
)
_COMMA = re.compile(r",(?![0-9])\s*|(?<![0-9]),\s*")
_OR = re.compile(r"\s+or\s+|\s*,(?![0-9])\s*", re.IGNORECASE)
_PLURAL = re.compile(r"(?<=[a-z])s$")
_IN_NAMES = {ord(mark): " " for mark in ":,|#"}


_SMALLEST = """---
title: x
supplies:
  {name}: cardstock, {facts}
pieces:
  x:
    from: {name}
    size: 1 x 1 in
---
## x
"""
"""The smallest recipe of a card."""


class DesignOptions(Struct, frozen=True):
    """What a call says, as text; empty where it says nothing."""

    things: tuple[str, ...] = ()
    forms: str = ""
    card: str = ""
    numbers: str = ""
    sheet: str = ""
    clearance: str = ""
    units: str = ""


class Unclear(Struct, frozen=True):
    """What cannot be understood of a wish: the name of a message and its facts."""

    code: str
    facts: Mapping[str, object]


def read_wish(asked: DesignOptions, studio: Studio | None = None) -> DesignWish | Unclear:
    """The wish. A sentence among its things may say card, numbers and sheets too; options of the call come first."""
    asked = _from_sentences(asked)
    things = [_things(text) for text in asked.things]
    for one in things:
        if isinstance(one, Unclear):
            return one
    known = _distinct([one for one in things if isinstance(one, Things)])
    if not known:
        return Unclear("nothing-to-hold", {})
    if len(known) > MOST_KINDS:
        return Unclear("too-many-kinds", {"count": len(known), "most": MOST_KINDS})
    system = _system(asked, known)
    if system is None:
        return Unclear("wish-units-unknown", {"units": asked.units})
    step = _length(asked.numbers, STEPS[system])
    clearance = _length(asked.clearance, CLEARANCES[system])
    if step is None or clearance is None:
        return Unclear("wish-length", {"said": asked.numbers if step is None else asked.clearance})
    forms = _forms(asked.forms or ", ".join(_fitting_forms(known)))
    if isinstance(forms, Unclear):
        return forms
    sheets = _sheets(asked.sheet or SHEETS[system][0])
    if isinstance(sheets, Unclear):
        return sheets
    card = _card(asked.card or CARDS[system], studio)
    if isinstance(card, Unclear):
        return card
    name, facts, thickness = card
    error = studio.hand_error.value.mm if studio and studio.hand_error else None
    return DesignWish(tuple(known), forms, system, step, clearance, name, facts, thickness, sheets, error)


def _from_sentences(asked: DesignOptions) -> DesignOptions:
    """`A tray for three treats of ..., card of ..., out of ...`: its parts, where the call has no option for them."""
    things: list[str] = []
    found = {"forms": asked.forms, "card": asked.card, "numbers": asked.numbers, "sheet": asked.sheet}
    found["clearance"] = asked.clearance
    for text in asked.things:
        for part in filter(None, (one.strip(" .") for one in _COMMA.split(text))):
            rest = part
            if match := _FOR.match(part):
                found["forms"] = found["forms"] or match["form"]
                rest = part[match.end() :]
            for word, pattern, group in (
                ("card", _CARD_OF, ""),
                ("numbers", _NUMBERS_TO, "step"),
                ("clearance", _ROOM, "clearance"),
                ("sheet", _OUT_OF, "sheets"),
            ):
                if match := pattern.fullmatch(rest):
                    name = match["name"].strip() if word == "card" else ""
                    said = f"{'plain card' if name == 'card' else name}, {match['facts']}" if name else match[group]
                    found[word] = found[word] or said
                    break
            else:
                things.append(rest)
    return DesignOptions(tuple(things), units=asked.units, **found)


# --- things ---------------------------------------------------------------------------------------------------------


def _things(text: str) -> Things | Unclear:
    said = " ".join(tidy(text).split())
    if "envelope" in said.lower() and (
        envelope := named_sheet(re.sub(r"^(?:an?|the)\s+", "", said, flags=re.IGNORECASE))
    ):
        return Things("envelope", 1, envelope, re.sub(r"^(?:an?|the)\s+", "", said, flags=re.IGNORECASE))
    plain_size = read_lengths_cross(said)
    alone = not isinstance(plain_size, Unreadable) and len(plain_size) > 1
    match = None if alone else _OF.fullmatch(said) or _COUNT_ONLY.fullmatch(said)
    count_said, name, size_said = (match["count"], match["name"], match["size"]) if match else ("", "", said)
    size = read_lengths_cross(size_said)
    name = "" if name in ("x", "times") else name
    if isinstance(size, Unreadable) or not 2 <= len(size) <= 3:
        return Unclear("thing-unreadable", {"said": text})
    count = _count(count_said or "1")
    if count is None:
        return Unclear("how-many-things", {"said": text, "most": MOST_THINGS})
    plain = " ".join((name or "treat").translate(_IN_NAMES).split())
    if "envelope" in plain.lower() and len(size) == 2:
        return Unclear("envelope-without-name", {"said": text})
    if count == 1:
        return Things(plain, count, size)
    # What nobody named is a treat; several are treats.
    return Things(_PLURAL.sub("", plain), count, size, called=plain if name else f"{plain}s")


def _count(said: str) -> int | None:
    number = read_number("1" if said.lower() in ("a", "an") else said)
    if isinstance(number, Unreadable) or number.denominator != 1 or not 1 <= number <= MOST_THINGS:
        return None
    return int(number)


def _distinct(things: Sequence[Things]) -> list[Things]:
    """Names that are each used once: two treats of different sizes become `treat` and `treat 2`."""
    seen: dict[str, int] = {}
    named: list[Things] = []
    for one in things:
        seen[one.name] = seen.get(one.name, 0) + 1
        number = seen[one.name]
        named.append(one if number == 1 else replace(one, name=f"{one.name} {number}"))
    return named


# --- all the rest ---------------------------------------------------------------------------------------------------


def _system(asked: DesignOptions, things: Sequence[Things]) -> System | None:
    if asked.units:
        words = {"in": System.IMPERIAL, "inches": System.IMPERIAL, "mm": System.METRIC, "millimetres": System.METRIC}
        words |= {system.value: system for system in System}
        return words.get(asked.units.casefold())
    step = read_length(asked.numbers) if asked.numbers else None
    return step.unit.system if isinstance(step, Length) else things[0].size[0].unit.system


def _length(said: str, usual: Length) -> Length | None:
    if not said:
        return usual
    length = read_length(said, usual.unit)
    return None if isinstance(length, Unreadable) else Length(length.mm, usual.unit)


def _forms(said: str) -> tuple[str, ...] | Unclear:
    if not said:
        return FORMS
    found = []
    for part in filter(None, (one.strip().casefold() for one in re.split(r",|\s+or\s+|\s+and\s+(?!a lid)", said))):
        form = _FORM_WORDS.get(re.sub(r"^an?\s+", "", part))
        if form is None:
            return Unclear("wish-form-unknown", {"form": part, "known": FORMS})
        found.append(form)
    return tuple(dict.fromkeys(found))


def _fitting_forms(things: Sequence[Things]) -> tuple[str, ...]:
    """What is designed when nobody says: a card for an envelope, an envelope or a card for what is flat, else all."""
    if all(one.envelope for one in things):
        return ("card",)
    return ("envelope", "card") if all(one.flat for one in things) else FORMS


def _sheets(said: str) -> tuple[NamedSheet, ...] | Unclear:
    sheets = []
    for part in filter(None, _OR.split(said.strip())):
        size = paper_meant(part)
        if size is None:
            return Unclear("wish-sheet-unknown", {"sheet": part})
        name = part if named_sheet(part) else write_cross(size)
        sheets.append(NamedSheet(name, *size))
    return tuple(sheets) if sheets else Unclear("wish-sheet-unknown", {"sheet": said})


def _card(said: str, studio: Studio | None) -> tuple[str, str, Fraction] | Unclear:
    """The card's name, its facts as a recipe has them, and its thickness: read as in any recipe."""
    parts = [part.strip() for part in re.split(r"[,:](?![0-9])\s*", said) if part.strip()]
    name, facts = (parts[0], parts[1:]) if not parts[0][0].isdigit() else ("white card", parts)
    shown = ", ".join(facts)
    text = _SMALLEST.format(name=name, facts=shown)
    read = read_recipe(text, "card", "card", studio)
    recipe = read.recipe
    if any(one.strength > Strength.THOUGHT for one in read.findings) or recipe is None or len(recipe.supplies) != 1:
        return Unclear("card-unreadable", {"card": said})
    thickness = thickness_of(recipe.pieces[0], {name.casefold(): recipe.supplies[0]}, recipe.studio)
    if thickness is None:
        return Unclear("card-how-thick", {"card": said})
    return name, shown, thickness.length.mm


def words_of(things: Sequence[Things]) -> Iterator[str]:
    """`3 treats of 1 1/8 x 3/4 x 1/2 in`, for each kind."""
    for one in things:
        yield one.envelope or f"{one.count} {one.called or one.name} of {write_cross(one.size)}"
