"""What a booklet is made as, once everybody has been asked: its own facts, the call, the studio."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.booklet.facts import BookletFacts
from foldwright.finding import Finding, Said, Strength
from foldwright.measure.length import System
from foldwright.outputs.model import BuildWish
from foldwright.outputs.sources import slug_of
from foldwright.recipe.facts.addresses import shortened
from foldwright.recipe.facts.complaints import nearest
from foldwright.recipe.studio import Studio
from foldwright.render.paper.booklet.saddle import PAPER_THICKNESS_MM, SaddleFormat, saddle_format
from foldwright.render.paper.papers import PAPERS, Paper, default_paper, paper_named
from foldwright.render.paper.typesetting import letters_of
from foldwright.render.themes import built_in_themes

_FACES = ("sans", "serif", "sans-semibold", "serif-semibold")
"""Those that the words of a booklet may be set in."""


class BookletWish(Struct, frozen=True):
    """One booklet: `name` is that of its files, `slugs` are its recipes in order.

    `saddle` is how its pages lie on sheets to fold, None where nobody asked. An empty `theme` is the studio's.
    """

    name: str
    title: str
    slugs: tuple[str, ...]
    as_cards: bool
    paper: Paper
    system: System
    templates: bool
    theme: str = ""
    foreword: str = ""
    saddle: SaddleFormat | None = None
    thickness_mm: Fraction = PAPER_THICKNESS_MM
    thickness_said: bool = False

    @property
    def outputs(self) -> tuple[str, ...]:
        """Which outputs of a recipe its pages are like."""
        return ("card" if self.as_cards else "handout", "template")

    @property
    def build(self) -> BuildWish:
        """What its recipes are compiled for."""
        return BuildWish(self.outputs, (self.system,), self.theme)


def booklet_wish(
    facts: BookletFacts, known: Sequence[str], call: BuildWish, studio: Studio | None, saddle: bool
) -> BookletWish | tuple[Finding, ...]:
    """The wish, or what is wrong with what was asked; `known` are the recipes at hand, by their folders' names."""
    papers = tuple(paper.value for paper in studio.papers) if studio else ()
    paper, system = _paper_and_system(facts, call, papers)
    findings = [*_unknown(facts.recipes, known), *_missing_letters(facts)]
    asked = call.on_paper.papers
    if asked and not facts.paper and not call.on_paper.large_papers:
        sizes = {"paper": asked[0].name, "known": tuple(one.name for one in PAPERS if not one.small)}
        findings.append(Finding.of("booklet-paper-small", Strength.FAULT, facts.title.place, **sizes))
    looks = built_in_themes()
    if facts.theme and facts.theme.value not in looks:
        near = {"nearest": nearest(facts.theme.value, looks) or looks[0], "known": looks}
        findings.append(Finding.of("booklet-theme", Strength.FAULT, facts.theme.place, said=facts.theme.value, **near))
    sheets = None
    if saddle or facts.saddle or facts.sheet:
        sheets = SaddleFormat(facts.sheet.value, paper) if facts.sheet else saddle_format(paper, papers)
    if facts.sheet and sheets and not sheets.holds:
        names = {"sheet": facts.sheet.value.name, "paper": paper.name}
        findings.append(Finding.of("booklet-sheet-small", Strength.FAULT, facts.sheet.place, **names))
    if findings:
        return tuple(findings)
    return BookletWish(
        name=f"booklet-{shortened(slug_of(facts.title.value))}",
        title=facts.title.value,
        slugs=tuple(slug_of(one.value) for one in facts.recipes),
        as_cards=facts.as_cards,
        paper=paper,
        system=system,
        templates=facts.templates,
        theme=facts.theme.value if facts.theme else call.theme,
        foreword=facts.foreword.value if facts.foreword else "",
        saddle=sheets,
        thickness_mm=facts.thickness.value.mm if facts.thickness else PAPER_THICKNESS_MM,
        thickness_said=facts.thickness is not None,
    )


def _paper_and_system(facts: BookletFacts, call: BuildWish, papers: Sequence[str]) -> tuple[Paper, System]:
    """Its own facts go before the call, the call before the studio; one that nobody says follows from the other."""
    asked = facts.paper or next(iter(call.on_paper.large_papers), None)
    system = facts.system or (call.systems[0] if len(call.systems) == 1 else None)
    if asked:
        return asked, system or asked.system
    of_studio = next((paper for paper in map(paper_named, papers) if paper and not paper.small), None)
    paper = of_studio if of_studio and system is None else default_paper(system or System.METRIC, papers)
    return paper, system or paper.system


def _missing_letters(facts: BookletFacts) -> Iterator[Finding]:
    """What its own words have that cannot be printed."""
    known = frozenset[int].intersection(*map(letters_of, _FACES))
    for said in filter(None, (facts.title, facts.foreword)):
        letters = dict.fromkeys(one for one in said.value if ord(one) not in known and not one.isspace())
        if letters:
            yield Finding.of("booklet-letters", Strength.FAULT, said.place, letters=tuple(letters))


def _unknown(recipes: Sequence[Said[str]], known: Sequence[str]) -> list[Finding]:
    """Recipes that are not at hand, and those named twice."""
    found: list[Finding] = []
    seen: set[str] = set()
    for one in recipes:
        slug = slug_of(one.value)
        if slug in seen:
            found.append(Finding.of("booklet-recipe-twice", Strength.FAULT, one.place, said=one.value))
        elif slug not in known:
            near = nearest(slug, known)
            code = "booklet-recipe-unknown" if near else "booklet-recipe-missing"
            facts = {"nearest": near} if near else {}
            found.append(Finding.of(code, Strength.FAULT, one.place, said=one.value, known=tuple(known), **facts))
        seen.add(slug)
    return found
