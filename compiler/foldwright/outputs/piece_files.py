"""Every piece as files for machines and other programs: SVG and DXF at true size, FOLD with its folds."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import chain, count

from foldwright.document.catalogue import catalogue
from foldwright.document.spelling import language_of
from foldwright.geometry.contours import contours_of
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.folding.subdividing import net_of
from foldwright.outputs.model import MadeFiles
from foldwright.pipeline import Understood
from foldwright.render.machine.dxf import piece_dxf
from foldwright.render.machine.fold import piece_fold
from foldwright.render.machine.svg import piece_svg

_NOT_PLAIN = re.compile(r"[^a-z0-9]+")


def piece_files(understood: Understood) -> MadeFiles:
    """Three files for every piece, exactly as it is: no figure of a page is rounded into them."""
    blanks = [blank for blank in understood.flat.blanks if not blank.doubtful]
    files: dict[str, bytes] = {}
    for blank, stem in zip(blanks, file_names(blank.piece for blank in blanks), strict=True):
        files |= _files(stem, blank, understood)
    return MadeFiles(files)


def _files(stem: str, blank: Blank, understood: Understood) -> dict[str, bytes]:
    words = catalogue(language_of(understood.recipe.studio, understood.recipe.system))
    contours = contours_of(blank)
    title = words.say("file.title", piece=blank.piece, title=understood.recipe.title.value)
    net = understood.folding.nets.get(blank.piece) or net_of(blank, {})
    return {
        f"{stem}.svg": piece_svg(contours, title, words.say("file.describes"), words.below("file.layer")),
        f"{stem}.dxf": piece_dxf(contours),
        f"{stem}.fold": piece_fold(net, contours.height, title, words.say("file.describes-fold"), "foldwright"),
    }


def file_names(pieces: Iterable[str]) -> list[str]:
    """A plain name for each piece, no two alike: `birdhouse-front`."""
    found: list[str] = []
    for piece in pieces:
        plain = _NOT_PLAIN.sub("-", piece.lower()).strip("-") or "piece"
        names = chain([plain], (f"{plain}-{number}" for number in count(2)))
        found.append(next(name for name in names if name not in found))
    return found
