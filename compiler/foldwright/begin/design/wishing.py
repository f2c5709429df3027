"""What a person asks for, in the words of a call or of one sentence, as a wish.

A tray for three treats of 1 1/8 x 3/4 x 1/2 in, card of 270 g/m2, easy numbers to 1/8 in, out of A4
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from msgspec.structs import replace

from foldwright.begin.design.model import FORMS, DesignWish, Things
from foldwright.begin.draft.blanks import CLEARANCES, STEPS, BlankRules
from foldwright.begin.draft.card import plain_name, read_card
from foldwright.begin.draft.model import SHEETS, UNITS, WEIGHTS
from foldwright.begin.options import DesignOptions
from foldwright.finding import Wrong
from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import WORD_NUMBER, tidy
from foldwright.measure.paper import named_sheet, paper_meant
from foldwright.measure.reading import read_length, read_lengths_cross, read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.writing import write_cross
from foldwright.recipe.model import NamedSheet, Studio

MOST_THINGS = 200
"""Of one kind in one box."""
MOST_KINDS = 6
MOST_LETTERS = 1000
"""Of a sentence: who pastes a page into the field is told so at once, whatever it would take to read it."""
_QUOTED = 40
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
    "tuck carton": "tuck box",
    "bag": "gift bag",
    "paper bag": "gift bag",
    "belly band": "band",
    "wrapper": "band",
    "sleeve": "drawer",
    **{form: form for form in FORMS},
}
_FORM = "|".join(sorted(map(re.escape, _FORM_WORDS), key=len, reverse=True))
_FOR = re.compile(rf"(?:design\s+)?(?:an?\s+|the\s+)?(?P<form>{_FORM})\s+(?:for|to hold|that holds)\s+", re.IGNORECASE)
_NAMED = re.compile(
    rf"(?:(?P<count>{WORD_NUMBER}|an?|[0-9]+)\s+)?(?:(?P<name>[^\W\d][^\d]*?)[\s:,.(-]*)??"
    r"(?:\b(?:of|each|measuring|that is|that are|about)\b[\s:(-]*)*(?P<size>[0-9.½¼¾⅓⅔⅛⅜⅝⅞][^()]*)\)?",
    re.IGNORECASE,
)
"""`3 caramels of 1 1/8 x 3/4 x 1/2 in`, and every other way of putting a name before a size."""
_SIDE = re.compile(
    r"\s*\b(?:long|wide|high|tall|deep|thick)\b(?P<more>(?:\s*(?:,|and|by|[x×]))*\s*(?=[0-9]))?", re.IGNORECASE
)
"""`3 in long, 2 in wide and 1 in high` is `3 in x 2 in x 1 in`."""
_SIDE_BEFORE = re.compile(r"[0-9¼½¾⅛⅜⅝⅞]\s*[a-z\"']*\s*$")
_CROSS = "[0-9¼½¾⅛⅜⅝⅞] ?(?:[x×]|by) ?[0-9½¼¾⅛⅜⅝⅞]"
"""What is so long and so wide goes inside: `a gift card of 3 3/8 x 2 1/8 in` is no card to make it of."""
_PARTS = {
    word: re.compile(rf"{pattern}\s+(?P<said>\S.*)", re.IGNORECASE)
    for word, pattern in (
        ("card", rf"(?:out of |from |in )?(?P<name>[\w ]*\bcard(?:stock)?|paper)\s+of(?!.*{_CROSS})"),
        ("numbers", r"(?:easy |round |plain )?numbers?\s+(?:to|in steps of)"),
        ("clearance", r"(?:with\s+)?(?:a\s+)?(?:clearance|room)\s+(?:of|to spare(?: of)?)"),
        ("sheet", r"(?:cut )?(?:out of|from)"),
    )
}
"""What a sentence says besides its things, by the word of the option."""
_ROUND = re.compile(
    r"(?:\b(?:in diameter|diameter|round|dia)\b\.?|[øØ⌀])(?P<more>(?<![øØ⌀])\s*,?\s*(?=[0-9]))?", re.IGNORECASE
)
"""A thing that is round says so beside its diameter: `24 mm round`, `40 mm round x 110 mm`."""
_DIGITS = "0123456789 "
_COMMA = re.compile(r",(?![0-9])\s*|(?<![0-9]),\s*")
_OR = re.compile(r"\s+or\s+|\s*,(?![0-9])\s*", re.IGNORECASE)
_ARTICLE = re.compile(r"^(?:an?|the)\s+", re.IGNORECASE)
_PLURAL = re.compile(r"(?<=[a-z])s$")


def read_wish(asked: DesignOptions, studio: Studio | None = None) -> DesignWish | Wrong:
    """The wish. A sentence among its things may say card, numbers and sheets too; options of the call come first."""
    if (long := next((text for text in asked.things if len(text) > MOST_LETTERS), None)) is not None:
        return Wrong.of("design.sentence-too-long", said=long[:_QUOTED].strip(), most=MOST_LETTERS)
    asked = _from_sentences(asked)
    if isinstance(things := read_things(asked.things), Wrong):
        return things
    if isinstance(unit := _unit(asked, things), Wrong):
        return unit
    system = unit.system
    if isinstance(step := read_length_of(asked.numbers, STEPS[system]), Wrong):
        return step
    if isinstance(clearance := read_length_of(asked.clearance, CLEARANCES[system]), Wrong):
        return clearance
    if isinstance(forms := _forms(asked.form) if asked.form else _fitting_forms(things), Wrong):
        return forms
    if isinstance(sheets := _sheets(asked.sheet or SHEETS[system][0]), Wrong):
        return sheets
    if isinstance(card := read_card(asked.card or f"white card, {WEIGHTS[system]}", studio), Wrong):
        return card
    error = studio.hand_error.value.mm if studio and studio.hand_error else None
    rules = BlankRules(step, clearance, card.thickness, error)
    return DesignWish(things, forms, rules, card, sheets)


def _from_sentences(asked: DesignOptions) -> DesignOptions:
    """`A tray for three treats of ..., card of ..., out of ...`: its parts, where the call has no option for them."""
    things: list[str] = []
    found = {word: getattr(asked, word) for word in ("form", "card", "numbers", "sheet", "clearance")}
    for text in asked.things:
        for part in _parts(text):
            rest = part
            if match := _FOR.match(part):
                found["form"] = found["form"] or match["form"]
                rest = part[match.end() :]
            for word, pattern in _PARTS.items():
                if match := pattern.fullmatch(rest):
                    name = match["name"].strip() if word == "card" else ""
                    said = f"{'plain card' if name == 'card' else name}, {match['said']}" if name else match["said"]
                    found[word] = found[word] or said
                    break
            else:
                things.append(rest)
    return DesignOptions(things=tuple(things), units=asked.units, **found)


def _parts(text: str) -> list[str]:
    """What stands between commas; a size that stands alone belongs to the thing before it: `a soap, 3 x 2 x 1 in`."""
    parts: list[str] = []
    for part in filter(None, (one.strip(" .") for one in _COMMA.split(_SIDE.sub(_uncalled, text)))):
        alone = not isinstance(read_lengths_cross(_ROUND.sub(_crossed, part).removesuffix(" each")), Unreadable)
        if parts and not re.search("[0-9]", parts[-1].lstrip(_DIGITS)) and (alone or part.startswith("each ")):
            parts[-1] = f"{parts[-1]} of {part.removesuffix(' each')}"
        else:
            parts.append(part.removeprefix("and "))
    return parts


def _uncalled(match: re.Match[str]) -> str:
    """A side without its word; `a long candle` keeps it."""
    return _crossed(match) if _SIDE_BEFORE.search(match.string, 0, match.start()) else match[0]


def _crossed(match: re.Match[str]) -> str:
    """What stands between two sides once their words are gone."""
    return " x " if match["more"] is not None and _SIDE_BEFORE.search(match.string, 0, match.start()) else " "


# --- things ---------------------------------------------------------------------------------------------------------


def read_things(texts: Sequence[str]) -> tuple[Things, ...] | Wrong:
    """`3 caramels of 1 1/8 x 3/4 x 1/2 in` in each text, or the name of an envelope."""
    found: list[Things] = []
    for text in texts:
        if isinstance(read := _things(text), Wrong):
            return read
        found.append(read)
    if not found:
        return Wrong.of("design.nothing-to-hold")
    if len(found) > MOST_KINDS:
        return Wrong.of("design.too-many-kinds", count=len(found), most=MOST_KINDS)
    return tuple(_distinct(found))


def _things(text: str) -> Things | Wrong:
    typed = " ".join(tidy(text).split())
    said = " ".join(_ROUND.sub(_crossed, typed).split())
    is_round = bool(_ROUND.search(typed))
    called = _ARTICLE.sub("", said)
    if "envelope" in said.lower() and (envelope := named_sheet(called)):
        return Things(called, 1, envelope, called)
    plain_size = read_lengths_cross(said)
    alone = not isinstance(plain_size, Unreadable) and len(plain_size) > (0 if is_round else 1)
    match = None if alone else _NAMED.fullmatch(said)
    count_said, name, size_said = (match["count"], match["name"], match["size"]) if match else ("", "", said)
    size = read_lengths_cross(size_said)
    name = "" if name in ("x", "times") else name
    if isinstance(size, Unreadable) or not (1 if is_round else 2) <= len(size) <= (2 if is_round else 3):
        sized = re.search("[0-9]", text.lstrip(_DIGITS))
        return Wrong.of("design.thing-unreadable" if sized else "design.thing-without-size", said=text)
    count = _count(count_said or "1")
    if count is None:
        return Wrong.of("design.how-many-things", said=text, most=MOST_THINGS)
    plain = plain_name(name or "treat")
    if "envelope" in plain.lower() and len(size) == 2:
        return Wrong.of("design.envelope-without-name", said=text)
    if count == 1:
        return Things(plain, count, size, round=is_round)
    # What nobody named is a treat; several are treats.
    return Things(_PLURAL.sub("", plain), count, size, called=plain if name else f"{plain}s", round=is_round)


def _count(said: str) -> int | None:
    number = read_number("1" if said.lower() in ("a", "an") else said)
    return None if isinstance(number, Unreadable) or number not in range(1, MOST_THINGS + 1) else int(number)


def _distinct(things: Sequence[Things]) -> list[Things]:
    """Names that are each used once: two treats of different sizes become `treat` and `treat 2`."""
    seen: Counter[str] = Counter()
    named: list[Things] = []
    for one in things:
        seen[one.name] += 1
        number = seen[one.name]
        named.append(one if number == 1 else replace(one, name=f"{one.name} {number}"))
    return named


# --- all the rest ---------------------------------------------------------------------------------------------------


def _unit(asked: DesignOptions, things: Sequence[Things]) -> Unit | Wrong:
    """The unit that all numbers come out in: the one that is named, else that of the step, else of the things."""
    if asked.units:
        return UNITS.get(asked.units.casefold()) or Wrong.of("design.wish-units-unknown", units=asked.units)
    step = read_length(asked.numbers) if asked.numbers else None
    return step.unit if isinstance(step, Length) else things[0].size[0].unit


def read_length_of(said: str, usual: Length) -> Length | Wrong:
    """A step or a clearance, in the unit of the usual one, which it is when nothing is said."""
    length = read_length(said, usual.unit) if said else usual
    return (
        Wrong.of("design.wish-length", said=said) if isinstance(length, Unreadable) else Length(length.mm, usual.unit)
    )


def _forms(said: str) -> tuple[str, ...] | Wrong:
    found = []
    for part in filter(None, (one.strip().casefold() for one in re.split(r",|\s+or\s+|\s+and\s+(?!a lid)", said))):
        form = _FORM_WORDS.get(_ARTICLE.sub("", part))
        if form is None:
            return Wrong.of("design.wish-form-unknown", form=part, known=FORMS)
        found.append(form)
    return tuple(dict.fromkeys(found)) or Wrong.of("design.wish-form-unknown", form=said, known=FORMS)


def _fitting_forms(things: Sequence[Things]) -> tuple[str, ...]:
    """What is designed when nobody says: a card for an envelope, an envelope or a card for what is flat, else all."""
    if all(one.envelope for one in things):
        return ("card",)
    return ("envelope", "card") if all(one.flat for one in things) else FORMS


def _sheets(said: str) -> tuple[NamedSheet, ...] | Wrong:
    sheets = []
    for part in filter(None, _OR.split(said.strip())):
        size = paper_meant(part)
        if size is None:
            return Wrong.of("design.wish-sheet-unknown", sheet=part)
        name = part if named_sheet(part) else write_cross(size)
        sheets.append(NamedSheet(name, *size))
    return tuple(sheets) if sheets else Wrong.of("design.wish-sheet-unknown", sheet=said)
