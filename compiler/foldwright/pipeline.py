"""The whole compiler, a stage a line: text, recipe, blanks, bound measures, figures, times and sheets, the sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from foldwright.bind.bare import is_within, with_measures
from foldwright.bind.words import Binding, bind_words
from foldwright.figures.closing import close
from foldwright.figures.model import Figures
from foldwright.figures.relied_on import with_what_is_relied_on
from foldwright.finding import Finding, Strength
from foldwright.geometry.folding.pieces import Folding, fold_pieces
from foldwright.geometry.outlines.files import Read, read_outlines
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.measure.length import Length, System
from foldwright.measure.steps import STEPS
from foldwright.memory import Memory
from foldwright.plan.sheets import Sheets, check_sheets, check_trimmer, sheets_needed
from foldwright.plan.times import Times, add_up
from foldwright.recipe.apart import amounts_apart
from foldwright.recipe.coherence import check_names, unknown_hushes
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.model import Recipe, Studio
from foldwright.recipe.reading import Reading, read_recipe

if TYPE_CHECKING:
    from foldwright.document.model import Document
    from foldwright.geometry.pictures.step_picture import StepPicture


_FIGURES: Memory[Figures] = Memory(len(System))


class Understood(Struct, frozen=True):
    """A recipe and all that follows from it before a figure is printed."""

    recipe: Recipe
    flat: Flat
    folding: Folding
    binding: Binding
    sheets: Sheets
    times: Times
    figures: Mapping[System, Figures]
    """Every length of the pieces and of the words as it stands on the page of each unit system."""


class Checked(Struct, frozen=True):
    """What is known after checking. `understood` is None when the text holds no recipe at all."""

    understood: Understood | None
    findings: tuple[Finding, ...]

    @property
    def recipe(self) -> Recipe | None:
        return self.understood.recipe if self.understood else None

    @property
    def wrong(self) -> bool:
        """Whether anything is stronger than a thought."""
        return any(finding.strength > Strength.THOUGHT for finding in self.findings)


def check_recipe(
    text: str, file: str, slug: str, studio: Studio | None = None, strict: bool = False, read: Read | None = None
) -> Checked:
    """Read a recipe and find everything that is the matter with it. `strict` also tells measures that match nothing.

    `read` hands over files of the recipe's folder; without it those a piece is outlined by are not looked for.
    """

    def bind(recipe: Recipe, flat: Flat, folding: Folding) -> Binding:
        return bind_words(recipe, _as_told(recipe, flat, folding), strict)

    return _checked(read_recipe(text, file, slug, studio), text, read, bind)


def check_in_size(
    text: str,
    file: str,
    slug: str,
    size: str,
    written: Understood,
    studio: Studio | None = None,
    read: Read | None = None,
) -> Checked:
    """The same for one of the sizes a recipe comes in; `written` is the recipe as it is written.

    Its words follow: what they say of a piece they say of the piece as it is in this size.
    """
    from foldwright.bind.following import follow

    def bind(recipe: Recipe, flat: Flat, _folding: Folding) -> Binding:
        return follow(written.binding, written.flat, flat, written.recipe, recipe, text)

    return _checked(read_recipe(text, file, slug, studio, size), text, read, bind)


def _checked(
    reading: Reading, text: str, read: Read | None, bind: Callable[[Recipe, Flat, Folding], Binding]
) -> Checked:
    if reading.recipe is None:
        return Checked(None, in_text_order(reading.findings))
    recipe = reading.recipe
    outlines, unfit = read_outlines(recipe, read)
    flat = lay_flat(recipe, outlines)
    folding = fold_pieces(recipe, flat)
    binding = bind(recipe, flat, folding)
    recipe = with_measures(recipe, binding.bare)
    read_well = (
        one for one in reading.findings if one.code != "unit-forgotten" or not is_within(one.place, binding.bare)
    )
    figures = {system: _printed(recipe, flat, folding, binding, system) for system in System}
    flat = with_what_is_relied_on(recipe, flat, figures, folding.rooms)
    sheets = check_sheets(recipe, flat)
    names = (*check_names(recipe), *unknown_hushes(recipe, known_codes() if recipe.hushed else ()))
    cuts = check_trimmer(recipe, flat)
    found = (
        *read_well,
        *unfit,
        *names,
        *amounts_apart(recipe),
        *flat.findings,
        *folding.findings,
        *binding.findings,
        *sheets.findings,
        *cuts,
    )
    return Checked(
        Understood(recipe, flat, folding, binding, sheets, add_up(recipe), figures),
        in_text_order(_mended(unhushed(found, recipe), text, recipe.file)),
    )


def _mended(findings: tuple[Finding, ...], text: str, file: str) -> Iterable[Finding]:
    """The findings with what puts them right; where there are none, nothing has to be loaded for it."""
    if not findings:
        return ()
    from foldwright.mending.mends import with_mends

    return with_mends(findings, {file: text}, file)


def check_captions(understood: Understood, captions: str, file: str, text: str) -> tuple[Finding, ...]:
    """What the captions of a recipe's video say: where steps begin, and lengths that it has not or has otherwise.

    `text` is the recipe's own, in which a moment may be put.
    """
    from foldwright.bind.spoken import check_spoken
    from foldwright.recipe.captions import read_captions

    recipe, flat = understood.recipe, _as_told(understood.recipe, understood.flat, understood.folding)
    complaints = Complaints()
    cues = read_captions(captions, file, complaints)
    found = check_spoken(recipe, flat, cues, lengths_known(understood)) if cues else ()
    return tuple(_mended(unhushed((*complaints.findings, *found), recipe), text, recipe.file))


def lengths_known(understood: Understood) -> frozenset[Fraction]:
    """Every length of a recipe in millimetres: of its pieces, its words and what is bought, exact and as printed."""
    recipe = understood.recipe
    said = (length.mm for tie, _ in understood.binding.ties for length in tie.heard.measure.lengths)
    printed = (figure.mm for figures in understood.figures.values() for figure in figures.printed.values())
    sold = (length.mm for supply in recipe.supplies for length in supply.lengths)
    return frozenset((*(length.mm for length in understood.flat.lengths.by_id.values()), *said, *printed, *sold))


def draw_steps(understood: Understood) -> tuple[StepPicture, ...]:
    """The pictures of a checked recipe, in no language yet."""
    from foldwright.geometry.pictures.story import step_pictures

    spoken = frozenset(name for names in understood.binding.ids.values() for name in names)
    return step_pictures(understood.recipe, understood.flat, understood.folding, spoken)


def compose_document(
    understood: Understood,
    findings: Iterable[Finding],
    sources: Mapping[str, str],
    system: System | None = None,
    pictures: tuple[StepPicture, ...] | None = None,
) -> Document:
    """The document of a checked recipe, in both unit systems. `sources` are the texts that findings point into.

    Its words are spelled for who reads it in `system`; in the recipe's own, when None. Its `pictures` are drawn, unless
    they have been.
    """
    from foldwright.document.compose import compose
    from foldwright.document.spelling import language_of

    recipe, flat = understood.recipe, understood.flat
    return compose(
        recipe,
        flat,
        understood.binding,
        understood.figures,
        understood.times,
        tuple(findings),
        draw_steps(understood) if pictures is None else pictures,
        sources,
        language_of(recipe.studio, system or recipe.system),
        sheets_needed(recipe, understood.sheets),
    )


def _as_told(recipe: Recipe, flat: Flat, folding: Folding) -> Flat:
    """The pieces with every length that no ruler has, since it was worked out, as it is printed in its own unit.

    That is the number an author reads and types; the exact one nobody sees.
    """
    lengths = flat.lengths.by_id
    odd = [name for name in flat.lengths.worked_out if lengths[name].mm % STEPS[lengths[name].unit.system][-1]]
    systems = {lengths[name].unit.system for name in odd}
    printed = {system: _printed(recipe, flat, folding, None, system) for system in systems}
    told = {name: Length(printed[lengths[name].unit.system][name].mm, lengths[name].unit) for name in odd}
    return replace(flat, lengths=replace(flat.lengths, by_id={**lengths, **told})) if odd else flat


def _printed(recipe: Recipe, flat: Flat, folding: Folding, binding: Binding | None, system: System) -> Figures:
    free, tied = (binding.free, binding.relations) if binding else ({}, ())
    lengths = replace(
        flat.lengths,
        by_id={**flat.lengths.by_id, **folding.lengths, **free},
        relations=(*flat.lengths.relations, *folding.relations, *tied),
        worked_out=flat.lengths.worked_out | folding.worked_out,
    )
    reads, numbers = recipe.studio.trimmer.reads, recipe.studio.numbers
    asked = lengths, system, reads.value if reads else None, numbers.value.steps.get(system) if numbers else None
    return _FIGURES.of(system, asked, lambda: close(*asked))


def unhushed(findings: Iterable[Finding], recipe: Recipe) -> tuple[Finding, ...]:
    """The findings without those thoughts that the author has asked not to hear again."""
    hushed = {code.value for code in recipe.hushed}
    return tuple(one for one in findings if one.strength > Strength.THOUGHT or one.code not in hushed)


@cache
def known_codes() -> frozenset[str]:
    """Every name a finding may have; the catalogue knows them all, and is opened only for who hushes something."""
    from foldwright.document.catalogue import catalogue

    return frozenset(name.removesuffix(".says") for name in catalogue().names() if name.endswith(".says"))


def in_text_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings in the order of the text; what has no place comes last, the stronger first; nothing is told twice."""

    def where(finding: Finding) -> tuple[str, int, int]:
        place = finding.place
        return ("\U0010ffff", 0, -finding.strength) if place is None else (place.file, place.start, -finding.strength)

    return tuple(sorted(dict.fromkeys(findings), key=where))
