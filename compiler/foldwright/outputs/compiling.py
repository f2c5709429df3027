"""From a recipe's texts to the files of its output folder: the pipeline, then each output that was wished for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from msgspec import Struct, field

from foldwright.document.data import as_json
from foldwright.document.model import Document, Photograph
from foldwright.document.spelling import language_of
from foldwright.finding import Finding, Strength
from foldwright.measure.length import System
from foldwright.outputs.names import ON_PAPER
from foldwright.outputs.sizes import checked as checked_in_size
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import Texts
from foldwright.outputs.wishes import BuildWish, load_all_of
from foldwright.pipeline import Understood, compose_document, in_text_order, unhushed
from foldwright.recipe.model import Recipe, Studio
from foldwright.render.photos import ReadyPhoto, prepare_photos
from foldwright.render.themes import DEFAULT_THEME, ThemeError, built_in_themes
from foldwright.render.web.tutorial import tutorial
from foldwright.render.web.view import Image
from foldwright.surroundings import Surroundings

if TYPE_CHECKING:
    from foldwright.outputs.paper_notes import Note


class MadeFiles(Struct, frozen=True):
    """Files by name, and all that was found. No files when there was nothing to make them of.

    `notes` say what was chosen for those on paper.
    """

    files: Mapping[str, bytes] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    faulty: bool = False
    notes: tuple[Note, ...] = ()


class OutputSource(Struct, frozen=True):
    """All an output is made from. `texts` are the files that findings point into.

    `spelled` is the document again for each unit system, spelled for who reads papers in it.
    """

    document: Document
    spelled: Mapping[System, Document]
    understood: Understood
    photos: Mapping[str, ReadyPhoto]
    theme: str
    wish: BuildWish
    texts: Mapping[str, str]

    @property
    def recipe(self) -> Recipe:
        return self.understood.recipe


def make(source: Source, texts: Texts, wish: BuildWish, surroundings: Surroundings) -> MadeFiles:
    """Compile one recipe, whose photographs are among its `surroundings`.

    With a fault in it the page is still made, as a draft; what would be handed on is not. What does not go on paper
    is found last and says nothing against the other outputs.
    """
    if texts.text is None:
        return MadeFiles(findings=texts.findings)
    checked = checked_in_size(source, texts, read=surroundings.read)
    if checked.understood is None:
        return MadeFiles(findings=in_text_order((*texts.findings, *checked.findings)))
    recipe = checked.understood.recipe
    photos, photo_findings = prepare_photos(recipe, surroundings.read)
    theme, theme_findings = _theme(source, recipe.studio, wish)
    findings = in_text_order((*texts.findings, *checked.findings, *photo_findings, *theme_findings))
    spelled = _spelled(checked.understood, findings, texts.by_name, wish)
    document = spelled[recipe.system if recipe.system in wish.systems else wish.systems[0]]
    faulty = any(finding.strength is Strength.FAULT for finding in findings)
    ready = OutputSource(document, spelled, checked.understood, photos, theme, wish, texts.by_name)
    made = [_tried(_OUTPUTS[name], ready) for name in wish.outputs if not (faulty and name in _FINISHED_ONLY)]
    files = {name: data for one in made for name, data in one.files.items()}
    more = unhushed((finding for one in made for finding in one.findings), recipe)
    notes = tuple(note for one in made for note in one.notes)
    return MadeFiles(files, in_text_order((*findings, *more)), faulty, notes)


def _spelled(
    understood: Understood, findings: tuple[Finding, ...], texts: Mapping[str, str], wish: BuildWish
) -> Mapping[System, Document]:
    """The document for each unit system; one for both where they are spelled alike."""
    by_language: dict[str, Document] = {}
    found: dict[System, Document] = {}
    for system in wish.systems:
        language = language_of(understood.recipe.studio, system)
        if language not in by_language:
            by_language[language] = compose_document(understood, findings, texts, system)
        found[system] = by_language[language]
    return found


def _tried(output: Callable[[OutputSource], MadeFiles], ready: OutputSource) -> MadeFiles:
    """One output; a theme of the user's own may turn out unfit only when it is used."""
    try:
        return output(ready)
    except ThemeError as trouble:
        said = ready.recipe.studio.theme
        place = said.place if said and not ready.wish.theme else None
        return MadeFiles(findings=(Finding.of(trouble.code, Strength.MISFIT, place, **trouble.facts),))


def _theme(source: Source, studio: Studio, wish: BuildWish) -> tuple[str, tuple[Finding, ...]]:
    """The theme to use; the studio's may name a folder beside the studio file."""
    said = studio.theme
    if wish.theme or said is None or not said.value:
        return wish.theme or DEFAULT_THEME, ()
    name = said.value
    if name not in built_in_themes() and source.studio is not None:
        name = str(source.studio.parent / name)
    try:
        load_all_of(name, wish.outputs)
    except ThemeError as trouble:
        facts = {**trouble.facts, "theme": said.value}
        return DEFAULT_THEME, (Finding.of(trouble.code, Strength.MISFIT, said.place, **facts),)
    return name, ()


def _tutorial(ready: OutputSource) -> MadeFiles:
    def show(photo: Photograph) -> Image | None:
        prepared = ready.photos.get(photo.path)
        if prepared is None:
            return None
        return Image(prepared.address, prepared.width, prepared.height, photo.shows)

    return MadeFiles({"tutorial.html": tutorial(ready.document, ready.theme, show, ready.wish.systems)})


def _fragment(ready: OutputSource) -> MadeFiles:
    from foldwright.render.web.fragment import fragment

    made = fragment(ready.document, ready.photos, ready.wish.systems, ready.wish.pictures_at)
    return MadeFiles({"fragment.html": made.html.encode("utf-8"), **made.files})


def _card(ready: OutputSource) -> MadeFiles:
    from foldwright.outputs.papers import cards

    made = cards(ready.spelled, ready.recipe, ready.photos, ready.theme, ready.wish, ready.texts)
    return MadeFiles(made.files, made.findings, notes=made.notes)


def _handout(ready: OutputSource) -> MadeFiles:
    from foldwright.outputs.papers import handouts

    made = handouts(ready.spelled, ready.recipe, ready.photos, ready.theme, ready.wish, ready.texts)
    return MadeFiles(made.files, made.findings, notes=made.notes)


def _template(ready: OutputSource) -> MadeFiles:
    from foldwright.outputs.templates import templates

    made = templates(ready.spelled, ready.understood, ready.theme, ready.wish, ready.texts)
    return MadeFiles(made.files, made.findings, notes=made.notes)


def _pieces(ready: OutputSource) -> MadeFiles:
    from foldwright.outputs.piece_files import piece_files

    return MadeFiles(piece_files(ready.understood))


def _sheet(ready: OutputSource) -> MadeFiles:
    return MadeFiles({"sheet.json": as_json(ready.document).encode("utf-8")})


_OUTPUTS: Mapping[str, Callable[[OutputSource], MadeFiles]] = {
    "tutorial": _tutorial,
    "fragment": _fragment,
    "card": _card,
    "handout": _handout,
    "template": _template,
    "pieces": _pieces,
    "sheet": _sheet,
}
_FINISHED_ONLY = frozenset({"fragment", "pieces", *ON_PAPER})
"""Outputs that would be handed on as they are: not made of a recipe with a fault."""
