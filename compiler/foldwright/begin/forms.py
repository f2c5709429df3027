"""What `foldwright new` offers: from a form and a size to the draft of a recipe that is right as it stands."""

from __future__ import annotations

from msgspec import Struct

from foldwright.begin.draft.blanks import (
    CLEARANCES,
    STEPS,
    BlankRules,
    card_of,
    gate_of,
    lid_over,
    rosette_of,
    sleeve_of,
    tray_of,
    tri_fold_of,
)
from foldwright.begin.draft.card import DraftCard, read_card
from foldwright.begin.draft.model import SHEETS, UNIT, UNITS, WEIGHTS, Draft, DraftSupply, Panels
from foldwright.begin.draft.worked_out import blank_size
from foldwright.begin.options import FORMS, MADE
from foldwright.document.catalogue import Catalogue
from foldwright.finding import Wrong
from foldwright.measure.length import Length, System
from foldwright.measure.plainness import MARKS
from foldwright.measure.reading import read_lengths_cross
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.writing import write_cross
from foldwright.recipe.model import Studio

SIZES = {
    "box": "solid",
    "lid": "solid",
    "sleeve": "solid",
    "card": "front",
    "booklet": "page",
    "tag": "flat",
    "gate": "front",
    "tri-fold": "front",
    "rosette": "wheel",
    **dict.fromkeys(("tuck box", "hinged box", "gift bag", "pyramid"), "made"),
    **dict.fromkeys(("hexagonal box", "octagonal box"), "sided"),
    **dict.fromkeys(("envelope", "pocket"), "flat"),
    "gable-top": "roofed",
    "pillow box": "pillow",
    "cube": "side",
    "prism": "prism",
    "tube": "tube",
    "cone": "cone",
}
"""Which size each form is asked for."""
EXAMPLES = {
    System.IMPERIAL: {
        "solid": "3 x 2 x 1 in",
        "front": "4 x 5 1/4 in",
        "page": "2 1/2 x 4 in",
        "flat": "2 x 4 in",
        "made": "2 x 1 1/2 x 3 in",
        "roofed": "2 x 1 1/2 x 2 in",
        "sided": "3 x 1 1/2 in",
        "pillow": "3 x 4 x 1 in",
        "side": "2 in",
        "prism": "1 1/2 x 3 in",
        "tube": "2 x 4 in",
        "cone": "3 x 4 in",
        "wheel": "2 in",
    },
    System.METRIC: {
        "solid": "80 x 50 x 25 mm",
        "front": "100 x 140 mm",
        "page": "65 x 90 mm",
        "flat": "50 x 100 mm",
        "made": "60 x 40 x 80 mm",
        "roofed": "60 x 40 x 60 mm",
        "sided": "70 x 40 mm",
        "pillow": "80 x 100 x 25 mm",
        "side": "50 mm",
        "prism": "40 x 80 mm",
        "tube": "50 x 100 mm",
        "cone": "80 x 100 mm",
        "wheel": "60 mm",
    },
}
"""A size of each kind, suggested to who has none in mind."""
STARTS = {
    "sample": frozenset({"sample", "samples"}),
    "treat": frozenset({"treat", "treats", "sweet", "sweets", "gift", "present", "contents", "inside"}),
}
"""What somebody may have instead of a form in mind, and the words that say so."""
_HOLES = {
    System.IMPERIAL: "round 1/4 in, centred, middle 1/2 in from the top",
    System.METRIC: "round 6 mm, centred, middle 12 mm from the top",
}
_TWINE = {System.IMPERIAL: "10 in", System.METRIC: "250 mm"}
_FEWEST_PANELS, _MOST_PANELS = 4, 12
_FEWEST_SIDES, _MOST_SIDES = 3, 12
_TIED = frozenset({"tag", "pyramid"})
"""What twine is tied to, or holds together."""


class FormAnswers(Struct, frozen=True):
    """What was answered: the form, its size in one unit, for a booklet how many panels and for a prism how many
    sides, and what the card is called."""

    title: str
    form: str
    size: tuple[Length, ...]
    panels: int
    card: str

    @property
    def system(self) -> System:
        """The system the size was given in."""
        return self.size[0].unit.system


def draft_of_form(answers: FormAnswers, words: Catalogue, studio: Studio | None = None) -> Draft:
    """The draft of a form: sizes as answered, all others so that what goes together goes together."""
    system = answers.system
    card = read_card(f"white card, {WEIGHTS[system]}", studio)
    assert isinstance(card, DraftCard)
    error = studio.hand_error.value.mm if studio and studio.hand_error else None
    intro = f"draft.intro.{answers.form}"
    rules = BlankRules(_step(answers), CLEARANCES[system], card.thickness, error)
    twine = DraftSupply("twine", f"twine, use {_TWINE[system]}", answers.form, "tie")
    return Draft(
        title=answers.title,
        summary=words.say(f"draft.summary.{answers.form}"),
        system=system,
        card=answers.card,
        card_facts=f"weight {WEIGHTS[system]}",
        sheets=SHEETS[system],
        parts=_parts(answers, rules),
        level="beginner" if answers.form == "tag" else "easy",
        intro=words.say(intro) if words.has(intro) else "",
        supplies=(twine,) if answers.form in _TIED else (),
    )


def _step(answers: FormAnswers) -> Length:
    """The coarsest easy number that every answer is a multiple of, so that what follows is no odder than they are."""
    marks = (mark.mm for mark in MARKS[answers.system] if mark.mm <= STEPS[answers.system].mm)
    *coarse, finest = marks
    step = next((mark for mark in coarse if not any(length.mm % mark for length in answers.size)), finest)
    return Length(step, answers.size[0].unit)


def _made(answers: FormAnswers, rules: BlankRules) -> Panels:
    """A piece that says its finished size alone; its blank as it is laid, or none where there is none of that size."""
    form = f"prism, {answers.panels} sides" if answers.form == "prism" else answers.form
    blank = blank_size(form, "finished", answers.size, rules.thickness) or answers.size[:1] * 2
    facts = (("fold", form), ("finished", write_cross(answers.size)))
    return Panels(answers.form.rsplit(" ", 1)[-1], answers.form, blank[:1], blank[1:], facts=facts)


def _parts(answers: FormAnswers, rules: BlankRules) -> tuple[Panels, ...]:
    if answers.form in MADE:
        return (_made(answers, rules),)
    if answers.form == "rosette":
        return (rosette_of(rules, answers.size[0]),)
    across, down, *deep = answers.size
    match answers.form:
        case "box":
            return (tray_of(rules, (across, down, deep[0]), "box"),)
        case "lid":
            base = tray_of(rules, (across, down, deep[0]), "base")
            return base, lid_over(rules, base)
        case "sleeve":
            return (sleeve_of(rules, (across, down, deep[0])),)
        case "card":
            return (card_of((across, down)),)
        case "gate":
            return (gate_of((across, down)),)
        case "tri-fold":
            return (tri_fold_of(rules, (across, down)),)
        case "booklet":
            folds = (("fold", "accordion, first fold up"),)
            return (Panels("strip", "accordion", (across,) * answers.panels, (down,), facts=folds),)
        case _:
            return (Panels("tag", "tag", (across,), (down,), facts=(("holes", _HOLES[answers.system]),)),)


# --- reading the answers --------------------------------------------------------------------------------------------


def read_form(said: str) -> str | Wrong:
    """A form; or, in whatever words, that there is a sample, or something that is to go inside."""
    if said.lower() in FORMS:
        return said.lower()
    words = said.lower().replace("'", " ").split()
    start = next((start for start, names in STARTS.items() if not names.isdisjoint(words)), "")
    return start or Wrong.of("new.form-unknown", form=said, forms=FORMS)


def read_units(said: str) -> System | Wrong:
    """Inches or millimetres, in whatever words."""
    unit = UNITS.get(said.casefold())
    return unit.system if unit else Wrong.of("new.units-unknown", units=said)


def units_of(size: str) -> str:
    """The units a size was written in; empty when it does not say."""
    lengths = read_lengths_cross(size) if size else ()
    return "" if isinstance(lengths, Unreadable) or not lengths else lengths[0].unit.system.value


def read_size(said: str, form: str, system: System) -> tuple[Length, ...] | Wrong:
    """The size a form is asked for, in the one unit the recipe will have; bare numbers are in that unit."""
    example = EXAMPLES[system][SIZES[form]]
    lengths = read_lengths_cross(said, UNIT[system])
    if isinstance(lengths, Unreadable):
        return Wrong.of("new.size-unreadable", size=said, example=example)
    wanted = len(example.split(" x "))
    if len(lengths) != wanted:
        return Wrong.of("new.size-numbers", wanted=wanted, example=example)
    return tuple(Length(length.mm, UNIT[system]) for length in lengths)


def read_panels(said: str) -> int | Wrong:
    """How many panels a booklet has: an even number."""
    number = int(said) if said.isascii() and said.isdecimal() and len(said) < 4 else 0
    well = _FEWEST_PANELS <= number <= _MOST_PANELS and number % 2 == 0
    return number if well else Wrong.of("new.panels-unreadable", panels=said)


def read_sides(said: str) -> int | Wrong:
    """How many sides a prism has."""
    number = int(said) if said.isascii() and said.isdecimal() and len(said) < 4 else 0
    well = _FEWEST_SIDES <= number <= _MOST_SIDES
    return number if well else Wrong.of("new.sides-unreadable", sides=said, least=_FEWEST_SIDES, most=_MOST_SIDES)
