"""`foldwright new`: a few questions, and a recipe that is right as it stands.

What is about to be written is first checked as any recipe is; if anything at all is found, the next larger sheet is
tried. Thoughts are told and hushed; if anything is wrong, nothing is written.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import partial
from pathlib import Path

from msgspec import Struct

from foldwright.begin.draft.model import SHEETS
from foldwright.cli.asking import Asking
from foldwright.cli.beginning import Begun, begin, new_title, say_thoughts, source_for, write_begun
from foldwright.cli.calls import FORMS
from foldwright.cli.telling import Teller
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.reading import read_lengths_cross
from foldwright.measure.unreadable import Unreadable
from foldwright.measure.writing import write_exact
from foldwright.outputs.sources import Source, slug_of
from foldwright.outputs.texts import RECIPE

_SOLID, _FRONT, _PAGE, _FLAT = "size-solid", "size-front", "size-page", "size-flat"
_SIZES = {"box": _SOLID, "lid": _SOLID, "sleeve": _SOLID, "card": _FRONT, "booklet": _PAGE, "tag": _FLAT}
"""Which size each form is asked for."""
STARTS = {
    "sample": frozenset({"sample", "samples"}),
    "treat": frozenset({"treat", "treats", "sweet", "sweets", "gift", "present", "contents", "inside"}),
}
"""What somebody may have instead of a form in mind, and the words that say so."""
_NOT_IN_NAMES = {ord(mark): " " for mark in ":,|#"}
"""Marks that mean something in the facts; a card's name is better without them."""
_GAPS = (Fraction(1), Fraction(3, 2), Fraction(2))
"""How many times the usual gap of a lid is tried: thick card and tall walls ask for more."""
_FEWEST_PANELS, _MOST_PANELS = 4, 12


class StudioCustoms(Struct, frozen=True):
    """What a studio that works in one unit would write by itself; plain defaults, none of them matters to the sums."""

    unit: Unit
    word: str
    weight: str
    sheets: tuple[str, ...]
    solid: str
    front: str
    page: str
    flat: str
    gap: Fraction
    """A lid's floor is wider than the base's by this: common practice, no source."""
    lid_depth: Fraction
    flap: Fraction
    extras: dict[str, str]


IMPERIAL = StudioCustoms(
    unit=Unit.INCH,
    word="inches",
    weight="100 lb cover",
    sheets=SHEETS[System.IMPERIAL],
    solid="3 x 2 x 1 in",
    front="4 x 5 1/4 in",
    page="2 1/2 x 4 in",
    flat="2 x 4 in",
    gap=Fraction(1, 8),
    lid_depth=Fraction(3, 4),
    flap=Fraction(1, 2),
    extras={"tape": "1/4 in", "tape_use": "12 in", "twine": "10 in", "hole": "1/4 in", "hole_down": "1/2 in"},
)
METRIC = StudioCustoms(
    unit=Unit.MILLIMETRE,
    word="millimetres",
    weight="270 g/m2",
    sheets=SHEETS[System.METRIC],
    solid="80 x 50 x 25 mm",
    front="100 x 140 mm",
    page="65 x 90 mm",
    flat="50 x 100 mm",
    gap=Fraction(3),
    lid_depth=Fraction(20),
    flap=Fraction(12),
    extras={"tape": "6 mm", "tape_use": "300 mm", "twine": "250 mm", "hole": "6 mm", "hole_down": "12 mm"},
)


def new(name: str, *, form: str, size: str, panels: str, units: str, card: str, into: Path) -> int:
    """Ask for what the options leave open, check the recipe they make, write it; the exit status."""
    complaints = Teller("stderr")
    asking = Asking()
    begun = _begun(asking, name, form, into)
    if not isinstance(begun, Wrong) and begun[1] in STARTS:
        return _from_something(begun[0], begun[1], into)
    answers = begun if isinstance(begun, Wrong) else _answers(asking, *begun, size, panels, units, card)
    if isinstance(answers, Wrong):
        complaints.words(answers.message, **dict(answers.facts))
        return 2
    recipe = begin_with(answers, into)
    if recipe.checked.wrong:
        complaints.words("new.not-well")
        complaints.findings(recipe.findings, {recipe.source.name: recipe.text})
        return 1
    teller = Teller()
    say_thoughts(teller, recipe)
    if not write_begun(recipe, {}, complaints):
        return 1
    teller.words("new.wrote", path=recipe.source.shown, folder=str(recipe.source.folder))
    return 0


def begin_with(answers: Answers, into: Path) -> Begun:
    """The recipe on the smallest sheet on which it is right, with the smallest gap at which its lid goes on."""
    gaps = _GAPS if answers.form == "lid" else _GAPS[:1]
    ways = [partial(answers.text, sheet, gap) for sheet in answers.customs.sheets for gap in gaps]
    return begin(ways, source_for(answers.title, into))


class Answers(Struct, frozen=True):
    title: str
    form: str
    customs: StudioCustoms
    size: tuple[Length, ...]
    panels: int
    card: str

    def text(self, sheet: str, gap: Fraction, hushed: Sequence[str] = ()) -> str:
        """The recipe, with every sum already done."""
        slots = {
            "title": self.title,
            "units": self.customs.word,
            "card": self.card,
            "weight": self.customs.weight,
            "sheet": sheet,
            "panels": str(self.panels),
            "hush": f"\nhush: {', '.join(hushed)}" if hushed else "",
            **self.customs.extras,
            **self._numbers(gap * self.customs.gap),
        }
        return catalogue().say(f"new-recipe.{self.form}", **slots)

    def _numbers(self, gap: Fraction) -> dict[str, str]:
        unit = self.customs.unit
        across, down = (length.mm / unit.mm for length in self.size[:2])
        depth = self.size[2].mm / unit.mm if len(self.size) > 2 else Fraction(0)
        lid_across, lid_down = across + gap, down + gap
        lid_depth = min(depth, self.customs.lid_depth)
        sides = {
            "box_size": (across + 2 * depth, down + 2 * depth),
            "lid_size": (lid_across + 2 * lid_depth, lid_down + 2 * lid_depth),
            "sleeve_size": (2 * across + 2 * depth + self.customs.flap, down),
            "card_size": (2 * across, down),
            "strip_size": (self.panels * across, down),
            "tag_size": (across, down),
        }
        single = {
            "across": across,
            "down": down,
            "depth": depth,
            "lid_across": lid_across,
            "lid_down": lid_down,
            "lid_depth": lid_depth,
            "flap": self.customs.flap,
        }
        numbers = {name: self._number(value) for name, value in single.items()}
        base, lid = self._trim(depth, down), self._trim(lid_depth, lid_down)
        numbers |= {"trim": base and f", trimmed {base}", "lid_trim": lid and f", trimmed {lid}"}
        off = (("base" if self.form == "lid" else self.form, base), ("lid", lid if self.form == "lid" else ""))
        numbers["take_off"] = "".join(
            " " + catalogue().say("command.new.take-off", trim=trim, piece=piece) for piece, trim in off if trim
        )
        for name, (one, other) in sides.items():
            numbers[name] = f"{self._number(one)} x {self._number(other)} {unit.symbol}"
        return numbers

    def _trim(self, depth: Fraction, end: Fraction) -> str:
        """What is taken off corner flaps that would lie on each other, so that they only meet behind their end."""
        over = 2 * depth - end
        return f"{self._number(over / 2)} {self.customs.unit.symbol}" if over > 0 else ""

    def _number(self, value: Fraction) -> str:
        return write_exact(Length(value * self.customs.unit.mm, self.customs.unit)).number


def _begun(asking: Asking, name: str, form: str, into: Path) -> tuple[str, str] | Wrong:
    """The name, and what it is: a form, or what somebody has to start from."""
    title = asking.ask(name, "new.ask-name", "", partial(new_title, into=into))
    if isinstance(title, Wrong):
        return title
    chosen = asking.ask(form, "new.ask-form", FORMS[0], _form, forms=FORMS)
    return chosen if isinstance(chosen, Wrong) else (title, chosen)


def _from_something(title: str, start: str, into: Path) -> int:
    """Go on with the questions of who has a sample, or a treat; the exit status."""
    if start == "sample":
        from foldwright.cli.recover import ask_and_recover

        return ask_and_recover(title, None, into)
    from foldwright.cli.asking_treat import begin_from_treat

    source = Source(into / slug_of(title), RECIPE, slug_of(title), into)
    return begin_from_treat(title, source.studio, into)


def _answers(asking: Asking, title: str, chosen: str, size: str, panels: str, units: str, card: str) -> Answers | Wrong:
    customs = asking.ask(units or _unit_in(size), "new.ask-units", IMPERIAL.word, _customs)
    if isinstance(customs, Wrong):
        return customs
    kind = _SIZES[chosen]
    example = {_SOLID: customs.solid, _FRONT: customs.front, _PAGE: customs.page, _FLAT: customs.flat}[kind]
    lengths = asking.ask(
        size, f"new.ask-{kind}", example, partial(_size, unit=customs.unit, solid=kind == _SOLID, example=example)
    )
    if isinstance(lengths, Wrong):
        return lengths
    number = asking.ask(panels, "new.ask-panels", "4", _panels) if chosen == "booklet" else _FEWEST_PANELS
    if isinstance(number, Wrong):
        return number
    stuff = asking.ask(card, "new.ask-card", "white card", _stuff)
    return stuff if isinstance(stuff, Wrong) else Answers(title, chosen, customs, lengths, number, stuff)


def _form(said: str) -> str | Wrong:
    """A form; or, in whatever words, that there is a sample, or something that is to go inside."""
    words = said.lower().replace("'", " ").split()
    start = next((start for start, names in STARTS.items() if not names.isdisjoint(words)), "")
    if start:
        return start
    return said.lower() if said.lower() in FORMS else Wrong.of("new.form-unknown", form=said, forms=FORMS)


def _customs(said: str) -> StudioCustoms | Wrong:
    for customs in (IMPERIAL, METRIC):
        if said.lower() in (customs.word, customs.unit.symbol, customs.unit.system.value):
            return customs
    return Wrong.of("new.units-unknown", units=said)


def _size(said: str, unit: Unit, solid: bool, example: str) -> tuple[Length, ...] | Wrong:
    lengths = read_lengths_cross(said, unit)
    if isinstance(lengths, Unreadable):
        return Wrong.of("new.size-unreadable", size=said, example=example)
    wanted = 3 if solid else 2
    return lengths if len(lengths) == wanted else Wrong.of("new.size-numbers", count=wanted, example=example)


def _panels(said: str) -> int | Wrong:
    number = int(said) if said.isascii() and said.isdecimal() and len(said) < 4 else 0
    well = _FEWEST_PANELS <= number <= _MOST_PANELS and number % 2 == 0
    return number if well else Wrong.of("new.panels-unreadable", panels=said)


def _stuff(said: str) -> str | Wrong:
    """What it is made of, without the marks that mean something in the facts."""
    return " ".join(said.translate(_NOT_IN_NAMES).split())


def _unit_in(size: str) -> str:
    """The units a size was written in, when it says so."""
    lengths = read_lengths_cross(size) if size else ()
    if isinstance(lengths, Unreadable) or not lengths:
        return ""
    return IMPERIAL.word if lengths[0].unit.system is System.IMPERIAL else METRIC.word
