"""Writing a recipe that is begun here: on the first sheet on which it is right, and never over anything."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.draft.model import ASKED_OF_THE_AUTHOR, Draft
from foldwright.begin.draft.writing import write_draft
from foldwright.cli.telling import Teller
from foldwright.cli.writing import cannot_write
from foldwright.document.catalogue import catalogue
from foldwright.document.words import plain
from foldwright.finding import Finding, Wrong
from foldwright.measure.length import System
from foldwright.outputs.reading import read_studio_file
from foldwright.outputs.sources import Source, slug_of
from foldwright.outputs.texts import RECIPE
from foldwright.pipeline import Checked, check_recipe, compose_document

_DRAWING_MM, _DRAWING_PT = 150.0, 9.0
"""How wide a drawing beside a recipe is, and its figures: half a sheet of paper."""


class Begun(Struct, frozen=True):
    """A draft as text, and what was found in it; thoughts are hushed in the text and kept here to be told once."""

    source: Source
    text: str
    checked: Checked
    thoughts: tuple[Finding, ...] = ()

    @property
    def findings(self) -> tuple[Finding, ...]:
        return self.checked.findings


def source_for(title: str, into: Path) -> Source:
    return Source(into / slug_of(title), RECIPE, slug_of(title), into)


type Hushing = Callable[[Sequence[str]], str]
"""The text of a recipe in which thoughts of these codes are hushed."""


def drafted(make: Callable[[], Draft]) -> Hushing:
    """The text of a draft, which is made when it is wanted."""

    def text(codes: Sequence[str]) -> str:
        draft = make()
        return write_draft(replace(draft, hush=(*draft.hush, *codes)), catalogue())

    return text


def there_already(title: str, into: Path) -> Wrong | None:
    """What is wrong with a name whose folder is there."""
    folder = source_for(title, into).folder
    return Wrong.of("new.there-already", path=str(folder)) if folder.exists() else None


def new_title(said: str, into: Path) -> str | Wrong:
    """The name of a recipe that is not there yet."""
    return (there_already(said, into) or said) if said else Wrong.of("new.no-name")


def begin(texts: Sequence[Hushing], source: Source) -> Begun:
    """The first of some texts (one for each sheet that may be tried) in which nothing is found.

    If there is none, the first in which there are only thoughts, with those hushed that may be; else the last as it is.
    """
    last: Begun | None = None
    with_thoughts: tuple[Hushing, Begun] | None = None
    for text in texts:
        last = _checked(text(()), source)
        if not last.findings:
            return last
        if with_thoughts is None and not last.checked.wrong:
            with_thoughts = text, last
    if with_thoughts is not None:
        text, begun = with_thoughts
        thoughts = tuple(finding for finding in begun.findings if finding.code not in ASKED_OF_THE_AUTHOR)
        hushed = _checked(text(tuple(dict.fromkeys(finding.code for finding in thoughts))), source)
        return replace(hushed, thoughts=thoughts)
    assert last is not None
    return last


def _checked(text: str, source: Source) -> Begun:
    studio = read_studio_file(source.studio)
    return Begun(source, text, check_recipe(text, source.name, source.slug, studio))


def say_thoughts(teller: Teller, begun: Begun) -> None:
    """The thoughts about a recipe that is begun: those hushed in it, and those its author has to answer."""
    names = {begun.source.name: begun.text}
    if begun.thoughts:
        teller.findings(begun.thoughts, names)
        teller.words("recover.hushed")
    teller.findings(begun.findings, names)


def drawings(begun: Begun, system: System) -> Mapping[str, bytes]:
    """The flat plan of every piece as an SVG file of its name."""
    from foldwright.outputs.piece_files import file_names
    from foldwright.render.drawing.svg import draw

    assert begun.checked.understood is not None
    document = compose_document(begun.checked.understood, (), {begun.source.name: begun.text})
    pictures = [piece.picture for piece in document.pieces if piece.picture]
    files = {}
    for name, picture in zip(file_names(picture.name for picture in pictures), pictures, strict=True):
        labels = getattr(picture.labels, system.value)
        describes = getattr(picture.describes, system.value)
        drawn = draw(
            picture.scene, labels, _DRAWING_MM, _DRAWING_PT, plain(picture.title, system), describes, picture.words
        )
        files[f"{name}-drawing.svg"] = drawn.encode()
    return files


def write_begun(begun: Begun, files: Mapping[str, bytes], complaints: Teller) -> bool:
    """Write a recipe's new folder; whether it was done. Nothing is ever written over."""
    folder = begun.source.folder
    if folder.exists():
        complaints.words("new.there-already", path=str(folder))
        return False
    try:
        folder.mkdir(parents=True)
        for name, data in {RECIPE: begun.text.encode(), **files}.items():
            with (folder / name).open("xb") as file:
                file.write(data)
    except OSError as trouble:
        wrong: Wrong = cannot_write(folder, trouble)
        complaints.words(f"wrong.{wrong.message}", **dict(wrong.facts))
        return False
    return True
