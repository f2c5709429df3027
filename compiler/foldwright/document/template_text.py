"""The words of a template. Where they name lengths, in one unit system."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from foldwright.document.catalogue import catalogue
from foldwright.document.model import Document, PieceLine
from foldwright.document.wording import sentence
from foldwright.document.words import Runs, plain
from foldwright.measure.length import System


class TemplateText:
    """What a template says, sentence by sentence."""

    def __init__(self, document: Document, system: System) -> None:
        self._words = catalogue(document.language)
        self.system = system
        self._sheet = document
        self.title = self._words.say("template.title", title=document.head.title)
        self.units = document.labels[f"in-{system.value}"]

    def __getitem__(self, name: str) -> str:
        """A sentence without anything to fill in."""
        return self._words.say(f"template.{name}")

    @property
    def panel_names(self) -> Mapping[str, str]:
        """The words for panels that are named by code."""
        return self._words.below("page.plan")

    def line_name(self, kind: str) -> str:
        return self._sheet.labels[f"{kind}-line"]

    def page(self, number: int, count: int) -> str:
        return self._words.say("template.page", number=number, count=count)

    def under(self, piece: PieceLine) -> Runs:
        """`base × 2 · 5 × 4 1/4 in`."""
        name = "template.under-many" if piece.count > 1 else "template.under"
        return sentence(self._words, name, None, piece=piece.name, many=str(piece.count), size=piece.size or "")

    def shows(self, piece: PieceLine) -> str:
        work = " ".join(plain(line, self.system) for line in piece.work)
        return self._words.say("template.shows", piece=piece.name, work=work).strip()

    def shows_tile(self, piece: str, tile: str) -> str:
        return self._words.say("template.shows-tile", piece=piece, tile=tile)

    def tile(self, piece: str, tile: str, count: int, onto: Sequence[str]) -> str:
        """What stands under a tile, and which ones it is laid on."""
        name = "template.tile" if onto else "template.tile-last"
        return self._words.say(name, piece=piece, tile=tile, count=count, parts=tuple(onto))

    def map(self, piece: str, rows: int, columns: int) -> str:
        return self._words.say("template.map", piece=piece, rows=rows, columns=columns)
