"""The table of outputs: a row for each says all that the rest of the program knows of it.

A new output is a function from `OutputSource` to `MadeFiles`, a row here, and its words (`command.build.only` names
all rows). What a row's function needs is imported when it is called, so that `--help` can read the table.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:
    from foldwright.outputs.model import MadeFiles, OutputSource


class Output(Struct, frozen=True):
    """One kind of thing a build makes.

    `on_paper` is what the typesetter sets, on papers, dressed by the theme's page of the same name. A `draft` has it
    too; what has not would be handed on as it is, and is not made of a recipe with an error. What is not `usual` is
    made only where it is named. `options` are the fields of `BuildOptions` that are about it alone.
    """

    name: str
    make: Callable[[OutputSource], MadeFiles]
    on_paper: bool = False
    draft: bool = False
    usual: bool = True
    options: tuple[str, ...] = ()


def _tutorial(source: OutputSource) -> MadeFiles:
    from foldwright.outputs.pages import tutorial_page

    return tutorial_page(source)


def _fragment(source: OutputSource) -> MadeFiles:
    from foldwright.outputs.pages import fragment_files

    return fragment_files(source)


def _card(source: OutputSource) -> MadeFiles:
    from foldwright.outputs.papers import cards

    return cards(source)


def _handout(source: OutputSource) -> MadeFiles:
    from foldwright.outputs.papers import handouts

    return handouts(source)


def _template(source: OutputSource) -> MadeFiles:
    from foldwright.outputs.papers import templates

    return templates(source)


def _pieces(source: OutputSource) -> MadeFiles:
    from foldwright.outputs.piece_files import piece_files

    return piece_files(source.understood)


def _sheet(source: OutputSource) -> MadeFiles:
    from foldwright.outputs.pages import document_data

    return document_data(source)


def _share(source: OutputSource) -> MadeFiles:
    from foldwright.outputs.sharing import share_files

    return share_files(source)


def _run_sheet(source: OutputSource) -> MadeFiles:
    from foldwright.outputs.run_sheets import run_sheets

    return run_sheets(source)


def _video(source: OutputSource) -> MadeFiles:
    from foldwright.outputs.films import video_files

    return video_files(source)


_ROWS = (
    Output("tutorial", _tutorial, draft=True),
    Output("fragment", _fragment, options=("pictures_at",)),
    Output("card", _card, on_paper=True, options=("up", "back", "larger_paper")),
    Output("handout", _handout, on_paper=True, options=("large_print", "pages")),
    Output("template", _template, on_paper=True, options=("mirror",)),
    Output("pieces", _pieces),
    Output("share", _share),
    Output("sheet", _sheet, draft=True),
    Output("video", _video),
    Output("run-sheet", _run_sheet, on_paper=True, usual=False, options=("begins", "in_class")),
)
OUTPUTS = {output.name: output for output in _ROWS}
