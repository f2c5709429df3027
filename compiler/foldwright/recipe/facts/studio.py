"""What is the same for every recipe of a studio: `studio.yaml`, any line of which a recipe may overrule."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from msgspec.structs import fields, replace

from foldwright.finding import Finding, Said
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.paper import paper_meant
from foldwright.measure.reading import read_length
from foldwright.measure.steps import EXACT
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.amounts import read_thickness
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.known import Fact, Known, gather, spellings_in
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.source import split
from foldwright.recipe.facts.structure import Node, read_structure
from foldwright.recipe.facts.unprintable import gated
from foldwright.recipe.facts.values import choice_of, length_of, read_with, row_of, said_value, text_of
from foldwright.recipe.facts.web import is_home
from foldwright.recipe.studio import NumberSteps, Studio, Trimmer

STUDIO_WORDS = Known(
    spellings_in(
        """studio: name; author: authors; licence: license; money: currency; papers: paper; theme; trimmer;
        card thickness: thickness of card, our card; hand; hand error; address: website, web address;
        numbers: round to, rounding; spelling"""
    )
)
_TRIMMER_WORDS = Known(spellings_in("bed: length; reads: marks, scale"), first="bed")
HANDS = spellings_in("right: right hand, right-handed; left: left hand, left-handed")
SPELLINGS = spellings_in("American: american english, us, usa; British: british english, uk")
_NOTHING_SAID = Studio()
PAPERS = ("letter", "half letter", "4x6", "legal", "tabloid", "A3", "A4", "A5", "A6", "B5")
"""What is offered when a paper is not known."""
_STEPS_OFFERED = ("whole mm", "1/2 mm", "1/16 in", "exact")
"""What is offered when `numbers` says something else."""
_NAME_OF_A_HOST = re.compile(r"[\w-]+(?:\.[\w-]+)+(?:/|$)")
_APART = re.compile(r"\s*(?:,|\band\b|\bor\b)\s*")
_SPELT = (("whole ", "1 "), ("half a ", "1/2 "), ("half ", "1/2 "), ("tenths of a ", "1/10 "))
_COARSEST = {System.METRIC: Fraction(10), System.IMPERIAL: Unit.INCH.mm / 2}
"""Nobody rounds further than to whole centimetres or halves of an inch (a reasoned guess)."""
_FINE = {System.METRIC: Unit.MILLIMETRE, System.IMPERIAL: Unit.INCH}


def read_studio(text: str, file: str) -> tuple[Studio, tuple[Finding, ...]]:
    """The studio file: the same facts, with or without lines of dashes round them."""
    complaints = Complaints()
    text = gated(text, file, complaints)
    parts = split(text)
    start = parts.front_offset
    lines = read_structure(parts.front if start else text, file, start, complaints)
    facts = gather(Node(None, None, lines), STUDIO_WORDS, complaints)
    studio = studio_of(facts, complaints)
    return studio, tuple(sorted(complaints.findings, key=lambda finding: finding.place.start if finding.place else 0))


def studio_of(facts: Mapping[str, Fact], complaints: Complaints) -> Studio:
    """The studio's facts, from its own file or from the top of a recipe."""
    thickness = said_value(facts.get("card thickness"), complaints)
    return Studio(
        name=text_of(facts.get("studio"), complaints),
        author=text_of(facts.get("author"), complaints),
        licence=text_of(facts.get("licence"), complaints),
        money=text_of(facts.get("money"), complaints),
        papers=_papers(said_value(facts.get("papers"), complaints), complaints),
        theme=text_of(facts.get("theme"), complaints),
        trimmer=_trimmer(facts.get("trimmer"), complaints),
        card_thickness=read_with(thickness, "card thickness", read_thickness, complaints),
        hand_error=length_of(said_value(facts.get("hand error"), complaints), "hand error", complaints),
        hand=choice_of(facts.get("hand"), HANDS, complaints),
        address=_address(text_of(facts.get("address"), complaints), complaints),
        numbers=_numbers(said_value(facts.get("numbers"), complaints), complaints),
        spelling=choice_of(facts.get("spelling"), SPELLINGS, complaints),
    )


def overruled(studio: Studio, own: Studio) -> Studio:
    """The studio with whatever the recipe says for itself."""
    if own == _NOTHING_SAID:
        return studio
    said = {
        field.name: getattr(own, field.name)
        for field in fields(Studio)
        if field.name != "trimmer" and getattr(own, field.name) != getattr(_NOTHING_SAID, field.name)
    }
    trimmer = Trimmer(own.trimmer.bed or studio.trimmer.bed, own.trimmer.reads or studio.trimmer.reads)
    return replace(studio, **said, trimmer=trimmer)


def _address(said: Said[str] | None, complaints: Complaints) -> Said[str] | None:
    """Where the studio publishes; what no page can lie under is asked about and left out."""
    if said is None or is_home(said.value):
        return said
    whole = f"https://{said.value}"
    if _NAME_OF_A_HOST.match(said.value) and is_home(whole):
        complaints.thought("address-without-scheme", said.place, said=said.value, meant=whole)
    else:
        complaints.thought("address-odd", said.place, said=said.value)
    return None


def _papers(value: Phrase | None, complaints: Complaints) -> tuple[Said[str], ...]:
    papers = []
    for part in row_of(value):
        if paper_meant(part.plain):
            papers.append(Said(part.plain, part.place))
        else:
            complaints.fault("unknown-paper", part, nearest=nearest(part.plain, PAPERS) or "A4", known=PAPERS)
    return tuple(papers)


def _trimmer(fact: Fact | None, complaints: Complaints) -> Trimmer:
    """`bed 12 in, reads 1/16 in`, on one line or on two."""
    if fact is None:
        return Trimmer()
    facts = gather(fact.node, _TRIMMER_WORDS, complaints)
    return Trimmer(
        bed=length_of(said_value(facts.get("bed"), complaints), "bed", complaints),
        reads=length_of(said_value(facts.get("reads"), complaints), "reads", complaints),
    )


def _numbers(value: Phrase | None, complaints: Complaints) -> Said[NumberSteps] | None:
    """One step for either unit system, or for both."""
    if value is None:
        return None
    text = " ".join(value.text.casefold().split())
    if text == "exact":
        steps = {system: Length(step, _FINE[system]) for system, step in EXACT.items()}
        return Said(NumberSteps(steps, value.text), value.place)
    found: dict[System, Length] = {}
    for part in _APART.split(text):
        step = read_length(_spelt_out(part))
        if isinstance(step, Unreadable) or step.mm > _COARSEST[step.unit.system] or step.unit.system in found:
            complaints.fault("numbers-how", value, known=_STEPS_OFFERED)
            return None
        found[step.unit.system] = step
    return Said(NumberSteps(found, value.text), value.place)


def _spelt_out(part: str) -> str:
    part = part.removeprefix("to ").removeprefix("the ").removeprefix("nearest ")
    for words, number in _SPELT:
        if part.startswith(words):
            return number + part.removeprefix(words)
    return part if any(map(str.isdigit, part)) else f"1 {part}"
