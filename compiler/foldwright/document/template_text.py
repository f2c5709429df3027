"""The words of a template. Where they name lengths, in one unit system."""

from __future__ import annotations

from collections.abc import Sequence

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
        self.title = self.say("title", title=document.head.title)
        self.units = document.labels[f"in-{system.value}"]
        self.panel_names = self._words.below("page.plan")
        """The words for panels that are named by code."""

    def say(self, name: str, **facts: object) -> str:
        """A sentence of a template, its slots filled with the facts (`foldwright.document.catalogue`)."""
        return self._words.say(f"template.{name}", **facts)

    def under(self, piece: PieceLine) -> Runs:
        """`base × 2 · 5 × 4 1/4 in`."""
        name = "template.under-many" if piece.count > 1 else "template.under"
        return sentence(self._words, name, None, piece=piece.name, many=str(piece.count), size=piece.size or "")

    def shows(self, piece: PieceLine) -> str:
        """What stands for a piece's picture where it cannot be seen."""
        work = " ".join(plain(line, self.system) for line in piece.work)
        return self.say("shows", piece=piece.name, work=work).strip()

    def tile(self, piece: str, tile: str, count: int, onto: Sequence[str]) -> str:
        """What stands under a tile, and which ones it is laid on."""
        return self.say("tile" if onto else "tile-last", piece=piece, tile=tile, count=count, parts=tuple(onto))
