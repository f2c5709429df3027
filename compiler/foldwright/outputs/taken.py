"""What each output is made from, and a key of that: where the key is the same, so are the files.

A key leaves out what an output does not look at, so that a changed word does not have the template set anew. An output
that is not in the table has no key, and is made anew whenever its recipe is compiled.
"""

from __future__ import annotations

import hashlib
import io
import pickle
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from msgspec import msgpack

from foldwright.document.spelling import language_of
from foldwright.document.template_text import TemplateText
from foldwright.geometry.contours import contours_of
from foldwright.geometry.folding.subdividing import net_of
from foldwright.geometry.scene import Scene
from foldwright.outputs.model import OutputSource
from foldwright.render.photos import name_of
from foldwright.render.themes import content_of

type Takes = Callable[[OutputSource], object]
"""All that an output is made from but the program itself: values, as deep as they go."""


def key_of(output: str, source: OutputSource, program: str) -> str:
    """What the files of an output are known by; `program` is what the program itself is known by.

    Empty where there is none.
    """
    takes = TAKEN.get(output)
    return digest_of((program, output, takes(source))) if takes else ""


def digest_of(values: object) -> str:
    """A digest of values that is the same for equal ones, and only for those; it knows their classes by name.

    Pickle goes through them twenty times as fast as Python could. In its `fast` manner it writes out again what it has
    written before, so that it does not matter which of two equal values are one object. Only sets, whose order is
    random, must not be among them. Scenes are most of it, and msgspec goes through them faster still.
    """
    written = io.BytesIO()
    pickler = pickle.Pickler(written, protocol=5)
    pickler.fast = True
    pickler.dispatch_table = _SCENES
    pickler.dump(values)
    return hashlib.blake2b(written.getbuffer(), digest_size=16).hexdigest()


def _of_scene(scene: Scene) -> tuple[type[bytes], tuple[bytes]]:
    return bytes, (msgpack.encode(scene),)


_SCENES: dict[type, Callable[[Any], Any]] = {Scene: _of_scene}
"""What stands in the place of a scene: all in it is of the types its classes name, so that the bytes say everything."""


def _look(source: OutputSource) -> object:
    """A look of the user's own is known by its files; ours come with the program."""
    return Path(source.theme).name, content_of(source.theme)


def _photos(source: OutputSource) -> object:
    return {path: (name_of(photo.data), photo.width, photo.height) for path, photo in source.photos.items()}


def _tutorial(source: OutputSource) -> object:
    wish = source.wish
    return source.document, _look(source), _photos(source), wish.systems, wish.in_library, "share" in wish.outputs


def _fragment(source: OutputSource) -> object:
    return source.document, _photos(source), source.wish.systems, source.wish.pictures_at


def _card(source: OutputSource) -> object:
    how = source.wish.on_paper
    return _on_paper(source), how.papers, how.up, how.back, how.larger


def _handout(source: OutputSource) -> object:
    how = source.wish.on_paper
    return _on_paper(source), how.papers, how.large_print, how.pages


def _on_paper(source: OutputSource) -> object:
    """What all papers for reading are made from."""
    documents = tuple(source.spelled[system] for system in source.wish.systems)
    return documents, _look(source), _photos(source), source.wish.systems


def _template(source: OutputSource) -> object:
    """The pieces, what stands under them and at the head and foot: nothing of the steps."""
    from foldwright.outputs.papers import designs_of

    how = source.wish.on_paper
    sheets: list[object] = []
    for system in source.wish.systems:
        document = source.spelled[system]
        head = document.head
        designs = tuple(designs_of(document, source.understood, TemplateText(document, system)))
        stands = (head.title, head.author, head.licence, head.revised_words)
        sheets.append((system, document.language, document.labels, document.papers, stands, designs))
    return tuple(sheets), _look(source), how.papers, how.mirror


def _pieces(source: OutputSource) -> object:
    understood = source.understood
    blanks = [blank for blank in understood.flat.blanks if not blank.doubtful]
    nets = [understood.folding.nets.get(blank.piece) or net_of(blank, {}) for blank in blanks]
    drawn = [(blank.piece, contours_of(blank), net) for blank, net in zip(blanks, nets, strict=True)]
    return language_of(source.recipe.studio, source.recipe.system), source.recipe.title.value, drawn


def _sheet(source: OutputSource) -> object:
    return source.document


def _run_sheet(source: OutputSource) -> object:
    how = source.wish.on_paper
    return _on_paper(source), source.understood.times, how.papers, how.begins, how.in_class


def _video(source: OutputSource) -> object:
    # Whether a file or a page is named is told at its place; that it is missing only where nothing else is made.
    named = source.recipe.video.place if source.recipe.video else source.recipe.title.place
    return source.document, source.wish.systems, source.wish.outputs == ("video",), named


TAKEN: Mapping[str, Takes] = {
    "tutorial": _tutorial,
    "fragment": _fragment,
    "card": _card,
    "handout": _handout,
    "template": _template,
    "pieces": _pieces,
    "sheet": _sheet,
    "video": _video,
    "run-sheet": _run_sheet,
}
