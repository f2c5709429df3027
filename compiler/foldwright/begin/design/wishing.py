"""What a person asks for, in the words of a call or of one sentence, as a wish.

A tray for three treats of 1 1/8 x 3/4 x 1/2 in, card of 270 g/m2, easy numbers to 1/8 in, out of A4
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.begin.design.model import FORMS, THICKEST, DesignWish, Things
from foldwright.begin.design.things import read_things
from foldwright.begin.draft.blanks import CLEARANCES, STEPS, BlankRules
from foldwright.begin.draft.card import read_card
from foldwright.begin.draft.model import SHEETS, UNITS, WEIGHTS
from foldwright.begin.options import DesignOptions
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import tidy
from foldwright.measure.paper import named_sheet, paper_meant
from foldwright.measure.reading import read_length
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.writing import write_cross
from foldwright.recipe.model import NamedSheet, Studio

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
    "gift box": "lid",
    "paper box": "lid",
    "card box": "lid",
    "tuck carton": "tuck box",
    "bag": "gift bag",
    "paper bag": "gift bag",
    "belly band": "band",
    "wrapper": "band",
    "sleeve": "drawer",
    **{form: form for form in FORMS},
}
_FORM = "|".join(sorted(map(re.escape, _FORM_WORDS), key=len, reverse=True))
_PLAIN = (
    "small little tiny large big nice pretty cute neat simple plain open single sturdy flat low tall shallow long "
    "thin slim narrow wide decorative favour favor treat party keepsake presentation handmade"
).split()
"""What a form may be called besides, which says nothing of its size."""
_CALLED = rf"(?:an?|the|one|some)?\s*(?:(?:{'|'.join(_PLAIN)})\s+)*(?P<form>{_FORM})"
_ASKED = (
    r"(?:please\s+)?(?:put|pack|hold"
    r"|(?:i|we)(?:'d| would)?\s+(?:need|want|like|have|am looking for|are looking for)(?:\s+to\s+have)?"
    r"|can you (?:make|design)(?: me)?|make(?: me)?|design(?: me)?|looking for|there (?:is|are))\s+"
)
_FOR = re.compile(
    rf"(?:{_ASKED})?(?:{_CALLED}|something|packaging|a home|room)\s+"
    r"(?:for|to (?:hold|fit|put|go round|go around)|that (?:holds|fits|takes)|which holds|holding|around)\s+",
    re.IGNORECASE,
)
_ASKED_FIRST = re.compile(_ASKED, re.IGNORECASE)
_INTO = re.compile(rf",?\s+(?:(?:that\s+)?(?:to\s+)?goe?s?\s+)?(?:in|into|inside)\s+{_CALLED}\s*$", re.IGNORECASE)
_MEANT = re.compile(
    r"(?<=[\w)\"']),?\s+(?:for\s+\w|as\s+an?\s+(?:gift|present|favou?r|treat|thank|keepsake))[^0-9,;\n]*$",
    re.IGNORECASE,
)
"""Whom or what it is for, said behind it all."""
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
_COMMA = re.compile(r",(?![0-9])\s*|(?<![0-9]),\s*")
_OR = re.compile(r"\s+or\s+|\s*,(?![0-9])\s*", re.IGNORECASE)
_ARTICLE = re.compile(r"^(?:an?|the)\s+", re.IGNORECASE)


def read_wish(asked: DesignOptions, studio: Studio | None = None) -> DesignWish | Wrong:
    """The wish. A sentence among its things may say card, numbers and sheets too; options of the call come first."""
    if (long := next((text for text in asked.things if len(text) > MOST_LETTERS), None)) is not None:
        return Wrong.of("design.sentence-too-long", said=long[:_QUOTED].strip(), most=MOST_LETTERS)
    asked = _from_sentences(asked)
    if asked.units and asked.units.casefold() not in UNITS:
        return Wrong.of("design.wish-units-unknown", units=asked.units)
    said = UNITS.get(asked.units.casefold())
    if isinstance(read := read_things(asked.things, said), Wrong):
        return read
    things, unit = read.things, said or _unit(asked, read.things)
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
    things = _apart(things, (card.name, catalogue().say("draft.tape", width="", use="").partition(":")[0]))
    error = studio.hand_error.value.mm if studio and studio.hand_error else None
    rules = BlankRules(step, clearance, card.thickness, error)
    return DesignWish(things, forms, rules, card, sheets, read.taken)


def _from_sentences(asked: DesignOptions) -> DesignOptions:
    """`A tray for three treats of ..., card of ..., out of ...`: its parts, where the call has no option for them."""
    things: list[str] = []
    found = {word: getattr(asked, word) for word in ("form", "card", "numbers", "sheet", "clearance")}
    for text in asked.things:
        lines = [_without_options(line, found) for line in tidy(text).strip().splitlines()]
        said = _of_form(" \n ".join(filter(None, lines)).strip(" .\n"), found)
        if said or not text.strip():
            things.append(said)
    return DesignOptions(things=tuple(things), units=asked.units, **found)


def _without_options(line: str, found: dict[str, str]) -> str:
    """What is left of a line once the parts that say card, numbers, sheets or room are put with these."""
    left = []
    for part in _COMMA.split(line):
        plain = part.strip(" .").removeprefix("and ")
        for word, pattern in _PARTS.items():
            if match := pattern.fullmatch(plain):
                name = match["name"].strip() if word == "card" else ""
                said = f"{'plain card' if name == 'card' else name}, {match['said']}" if name else match["said"]
                found[word] = found[word] or said
                break
        else:
            left.append(part.strip())
    return ", ".join(filter(None, left))


def _of_form(said: str, found: dict[str, str]) -> str:
    """What is said of the things alone, once the form they are for is put with the options."""
    for pattern in (_FOR, _INTO):
        match = pattern.match(said) if pattern is _FOR else pattern.search(said)
        if match:
            found["form"] = found["form"] or (match["form"] or "")
            said = said[: match.start()] + said[match.end() :]
    if match := _ASKED_FIRST.match(said):
        said = said[match.end() :]
    return _MEANT.sub("", said) if re.search("[0-9]", _MEANT.sub("", said)) else said


def _apart(things: Sequence[Things], others: Sequence[str]) -> tuple[Things, ...]:
    """The things by names that no other supply of the recipe has."""
    taken = {name.casefold() for name in others}
    return tuple(replace(one, name=f"{one.name} 2") if one.name.casefold() in taken else one for one in things)


# --- all the rest ---------------------------------------------------------------------------------------------------


def _unit(asked: DesignOptions, things: Sequence[Things]) -> Unit:
    """The unit that all numbers come out in where nobody says: that of the step, else of the things."""
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
    thick = sum((one.thick.mm * one.count for one in things), Fraction(0))
    thin = thick <= THICKEST[things[0].size[0].unit.system].mm
    return ("envelope", "card") if thin and all(one.flat for one in things) else FORMS


def _sheets(said: str) -> tuple[NamedSheet, ...] | Wrong:
    sheets = []
    for part in filter(None, _OR.split(said.strip())):
        size = paper_meant(part)
        if size is None:
            return Wrong.of("design.wish-sheet-unknown", sheet=part)
        name = part if named_sheet(part) else write_cross(size)
        sheets.append(NamedSheet(name, *size))
    return tuple(sheets) if sheets else Wrong.of("design.wish-sheet-unknown", sheet=said)
