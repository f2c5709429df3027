"""From a recipe's texts to the files of its output folder: the pipeline, then each output that was wished for.

Nothing here knows the command line or a folder: texts come in, files by name go out, with all that was found and what
was chosen as data. `texts.texts_of` takes texts held in memory; `wishes.wish_of` makes a wish of options as typed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct, field

from foldwright.document.model import Document
from foldwright.document.spelling import language_of
from foldwright.finding import Finding, Strength
from foldwright.measure.length import System
from foldwright.outputs.checking import check_texts
from foldwright.outputs.entry import Entry, entry_of
from foldwright.outputs.model import Before, BuildWish, MadeFiles, MadePart, OutputSource
from foldwright.outputs.table import OUTPUTS, Output
from foldwright.outputs.taken import key_of
from foldwright.outputs.texts import Texts
from foldwright.outputs.wishes import load_all_of
from foldwright.pipeline import Understood, compose_document, draw_steps, in_text_order, unhushed
from foldwright.recipe.model import Studio
from foldwright.render.photos import prepare_photos
from foldwright.render.themes import DEFAULT_THEME, ThemeError, built_in_themes
from foldwright.surroundings import Surroundings

if TYPE_CHECKING:
    from foldwright.outputs.paper_notes import Note


class MadeRecipe(Struct, frozen=True):
    """What came of one recipe: files by name, all that was found, and each output by its name.

    No files when there was nothing to make them of, or all of them stay. `entry` is what a library knows of it, `sizes`
    are those it comes in, each with whether it is the recipe as it is written.
    """

    files: Mapping[str, bytes] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    faulty: bool = False
    parts: Mapping[str, MadePart] = field(default_factory=dict)
    entry: Entry | None = None
    sizes: tuple[tuple[str, bool], ...] = ()

    @property
    def notes(self) -> tuple[Note, ...]:
        """What was chosen for those files on paper that were made."""
        return tuple(note for part in self.parts.values() for note in part.notes)


def compile_recipe(
    texts: Texts, wish: BuildWish, surroundings: Surroundings, size: str = "", before: Before | None = None
) -> MadeRecipe:
    """Compile one recipe, in one of its sizes if that is said; its photographs are among its `surroundings`.

    With a fault in it the page is still made, as a draft; what would be handed on is not. What does not go on paper
    is found last and says nothing against the other outputs. An output whose key was the same `before` stays.
    """
    source, findings = compiled(texts, wish, surroundings, size)
    if source is None:
        return MadeRecipe(findings=findings)
    recipe = source.recipe
    faulty = any(finding.strength is Strength.FAULT for finding in findings)
    wanted = [output for output in map(OUTPUTS.__getitem__, wish.outputs) if output.draft or not faulty]
    made = {output.name: _part(output, source, before or Before()) for output in wanted}
    files = {name: data for _, one in made.values() for name, data in one.files.items()}
    more = unhushed((finding for _, one in made.values() for finding in one.findings), recipe)
    parts = {name: part for name, (part, _) in made.items()}
    sizes = tuple((one.name.value, one.as_written) for one in recipe.sizes)
    return MadeRecipe(files, in_text_order((*findings, *more)), faulty, parts, entry_of(source), sizes)


def compiled(
    texts: Texts, wish: BuildWish, surroundings: Surroundings, size: str = ""
) -> tuple[OutputSource | None, tuple[Finding, ...]]:
    """What the outputs of a recipe are made from, and what was found; None where the recipe cannot be understood."""
    checked = check_texts(texts, surroundings, size)
    if checked.understood is None:
        return None, checked.findings
    recipe = checked.understood.recipe
    photos, photo_findings = prepare_photos(recipe, surroundings.read)
    theme, theme_findings = theme_of(recipe.studio, wish.theme, wish.outputs, surroundings)
    findings = in_text_order((*checked.findings, *photo_findings, *theme_findings))
    spelled = _Spelled(checked.understood, findings, texts.by_name, wish)
    document = spelled[recipe.system if recipe.system in wish.systems else wish.systems[0]]
    return OutputSource(document, spelled, checked.understood, photos, theme, wish, texts.by_name), findings


def _part(output: Output, source: OutputSource, before: Before) -> tuple[MadePart, MadeFiles]:
    """One output, unless it was made from the same before.

    What is found while it is made has its place in the text, which may be another one next time: it gets no key.
    """
    key = key_of(output.name, source, before.program) if before.program else ""
    if key and before.keys.get(output.name) == key:
        return MadePart(key, stays=True), MadeFiles()
    made = _tried(output, source)
    return MadePart("" if made.findings else key, tuple(made.files), made.notes), made


class _Spelled(Mapping[System, Document]):
    """The document for each unit system, composed when it is asked for; one for both where they are spelled alike."""

    def __init__(
        self, understood: Understood, findings: tuple[Finding, ...], texts: Mapping[str, str], wish: BuildWish
    ) -> None:
        self._understood, self._findings, self._texts, self._systems = understood, findings, texts, wish.systems
        self._pictures = draw_steps(understood)
        self._by_language: dict[str, Document] = {}

    def __getitem__(self, system: System) -> Document:
        if system not in self._systems:
            raise KeyError(system)
        language = language_of(self._understood.recipe.studio, system)
        if language not in self._by_language:
            of = self._understood, self._findings, self._texts, system, self._pictures
            self._by_language[language] = compose_document(*of)
        return self._by_language[language]

    def __iter__(self) -> Iterator[System]:
        return iter(self._systems)

    def __len__(self) -> int:
        return len(self._systems)


def _tried(output: Output, source: OutputSource) -> MadeFiles:
    """One output; a theme of the user's own may turn out unfit only when it is used."""
    try:
        return output.make(source)
    except ThemeError as trouble:
        return MadeFiles(findings=(unfit(trouble, source.recipe.studio, source.wish.theme),))


def unfit(trouble: ThemeError, studio: Studio, wished: str) -> Finding:
    """What is told of a theme that cannot be used after all."""
    place = studio.theme.place if studio.theme and not wished else None
    return Finding.of(trouble.code, Strength.MISFIT, place, **trouble.facts)


def theme_of(
    studio: Studio, wished: str, outputs: Sequence[str], surroundings: Surroundings
) -> tuple[str, tuple[Finding, ...]]:
    """The theme to use for some outputs: the one wished for, else the studio's, which may be one of its own."""
    said = studio.theme
    if wished or said is None or not said.value:
        return wished or DEFAULT_THEME, ()
    theme = said.value if said.value in built_in_themes() else surroundings.theme(said.value)
    try:
        if theme is None:
            raise ThemeError("no-such-theme", themes=built_in_themes())
        load_all_of(theme, outputs)
    except ThemeError as trouble:
        facts = {**trouble.facts, "theme": said.value}
        return DEFAULT_THEME, (Finding.of(trouble.code, Strength.MISFIT, said.place, **facts),)
    return theme, ()
