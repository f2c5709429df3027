"""From a worked-out recipe to its document: all there is to say as data, in both unit systems, every word written."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache

from msgspec.structs import replace

from foldwright.bind.words import Binding
from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.cautions import cautions_of
from foldwright.document.findings import tell
from foldwright.document.measures import Measures
from foldwright.document.model import Document, Head, Picture, PieceLine, Readiness, SectionText
from foldwright.document.papers import papers_of
from foldwright.document.pictures import by_step, ranked_pictures
from foldwright.document.pieces import piece_lines
from foldwright.document.quote_marks import curled
from foldwright.document.step_lists import trials_by_step
from foldwright.document.steps import photograph, step_texts, totals
from foldwright.document.supplies import supply_line, tool_line
from foldwright.document.typeset import typesetter
from foldwright.document.wording import date_words
from foldwright.document.words import Both
from foldwright.figures.model import Figures, Note
from foldwright.finding import Finding, Strength
from foldwright.finding.unplaced import unplaced
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.workshop import left_handed
from foldwright.geometry.pieces import Flat
from foldwright.measure.length import Length, System
from foldwright.measure.printed import Printed
from foldwright.measure.steps import BETWEEN_LINES
from foldwright.measure.writing import write_at
from foldwright.memory import Memory
from foldwright.plan.times import Times
from foldwright.recipe.model import Recipe, Said
from foldwright.recipe.words import Section

_PIECES: Memory[tuple[PieceLine, ...]] = Memory(4)
_PICTURES: Memory[Mapping[int, tuple[Picture, ...]]] = Memory(4)
"""By language. Their measures are those of the figures; how the words are bound is no affair of theirs."""
_CC = re.compile(r"CC[ -](BY(?:-(?:SA|ND|NC|NC-SA|NC-ND))?)[ -](\d\.\d)", re.IGNORECASE)
_CC0 = re.compile(r"CC0(?:[ -]1\.0)?", re.IGNORECASE)


def compose(
    recipe: Recipe,
    flat: Flat,
    binding: Binding,
    figures: Mapping[System, Figures],
    times: Times,
    findings: Sequence[Finding] = (),
    pictures: Sequence[StepPicture] = (),
    sources: Mapping[str, str] | None = None,
    language: str = "en",
    sheets: Mapping[str, int] | None = None,
) -> Document:
    """The document of a recipe and the `pictures` of its steps; `sources` are the texts that findings point into.

    `sheets` says how many are enough for what is cut from a supply.
    """
    enough = sheets or {}
    words = catalogue(language)
    measures = Measures(figures, binding, typesetter(language), recipe.supplies)
    papers = papers_of(recipe)
    pieces = _PIECES.of(
        language,
        (unplaced(recipe.pieces), replace(flat, findings=()), papers, figures),
        lambda: piece_lines(recipe, flat, papers, measures, words),
    )
    cautions = cautions_of(recipe, measures, words)
    told = pictures, _text(recipe.makes), papers, left_handed(recipe)
    drawn = _PICTURES.of(language, (told, figures), lambda: by_step(*told, measures, words))
    finished = next(iter(drawn.get(0, ())), None)
    trials = trials_by_step(recipe, flat, measures, words)
    steps = step_texts(recipe, times, pieces, drawn, trials, cautions, measures, words)
    photo = photograph(recipe.photo)
    return Document(
        language=language,
        slug=recipe.slug,
        system=recipe.system,
        head=_head(recipe, measures, words),
        labels=_labels(language),
        intro=measures.passage(recipe.intro),
        photo=photo,
        supplies=tuple(supply_line(one, enough.get(one.name.value, 0), measures, words) for one in recipe.supplies),
        tools=tuple(tool_line(tool, measures) for tool in recipe.tools),
        pieces=pieces,
        cautions=cautions.full,
        steps=steps,
        sections=tuple(_section(section, measures) for section in recipe.sections),
        totals=totals(times.whole, words),
        class_totals=totals(times.in_class, words),
        rounding=Both(*(_rounding_notes(figures[system], words) for system in System)),
        finished=finished,
        shown=ranked_pictures(photo, finished, pieces, steps),
        findings=tuple(tell(finding, sources or {}, words) for finding in findings),
        standing=Readiness.DRAFT if any(one.strength > Strength.THOUGHT for one in findings) else Readiness.READY,
        theme=_text(recipe.studio.theme),
        papers=tuple(paper.value for paper in recipe.studio.papers),
        keep=recipe.keep,
    )


@cache
def _labels(language: str) -> Mapping[str, str]:
    """The words of the page's own furniture."""
    words = catalogue(language)
    return {**words.below("page.label"), "local-rules": words.say("caution.local")}


def _head(recipe: Recipe, measures: Measures, words: Catalogue) -> Head:
    studio = recipe.studio
    revised, revised_words = date_words(_text(recipe.revised), words.say("page.date"), words.locale)
    licence = _text(studio.licence)
    return Head(
        title=curled(recipe.title.value),
        summary=measures.text(_text(recipe.summary)),
        credit=curled(_text(recipe.credit)),
        licence=licence,
        licence_address=licence_address(licence),
        revised=revised,
        revised_words=revised_words,
        makes=curled(_text(recipe.makes)),
        level=curled(_text(recipe.level)),
        audience=curled(_text(recipe.audience)),
        studio=curled(_text(studio.name)),
        author=curled(_text(studio.author)),
        address=_address(_text(studio.address), recipe.slug),
        video=_text(recipe.video),
        published=recipe.published.value.isoformat() if recipe.published else "",
        tags=tuple(curled(tag.value) for tag in recipe.tags),
        seasons=tuple(curled(season.value) for season in recipe.seasons),
        video_seconds=recipe.video_length.value if recipe.video_length else 0,
    )


def _text(said: Said[str] | None) -> str:
    return said.value if said else ""


def _address(studio: str, slug: str) -> str:
    """Where the page will lie when it is published under the studio's address."""
    return f"{studio.rstrip('/')}/{slug}/" if studio.startswith(("http://", "https://")) else ""


def _section(section: Section, measures: Measures) -> SectionText:
    return SectionText(section.kind, measures.text(section.heading.value), measures.passage(section.words))


def licence_address(name: str) -> str:
    """The deed of a licence given by its short name (creativecommons.org); empty for any other words."""
    if found := _CC.fullmatch(name.strip()):
        return f"https://creativecommons.org/licenses/{found[1].lower()}/{found[2]}/"
    return "https://creativecommons.org/publicdomain/zero/1.0/" if _CC0.fullmatch(name.strip()) else ""


_IN_THE_WORDS = "words"
_SILENT = frozenset({"disagree-as-written"})
"""Told by a finding already, at the place the author wrote it."""


def _rounding_notes(figures: Figures, words: Catalogue) -> tuple[str, ...]:
    """One sentence for each note, in the order of the figures; notes that read the same are said once."""
    told = (_told(note, words) for note in figures.notes if note.code not in _SILENT)
    return tuple(dict.fromkeys(told))


def _told(note: Note, words: Catalogue) -> str:
    pieces = dict.fromkeys(name.piece for name in note.lengths)
    named = tuple(words.say("page.note.the-words") if piece == _IN_THE_WORDS else piece for piece in pieces)
    facts = {name: _most(fact) if name == "most" and isinstance(fact, Length) else fact for name, fact in note.facts}
    return words.say(f"page.note.{note.code}", pieces=named, **facts)


def _most(length: Length) -> Printed:
    """A limit as a reader can use it: on the finest step, and up, never down (as ASME A112.18.1, A.2(e) has it)."""
    step = BETWEEN_LINES[length.unit.system][-1]
    return write_at(-(-length.mm // step) * step, length.unit, step)
