"""What stands on a handout besides what stands on a card: lines to fill in, what is on the table, room for notes."""

from __future__ import annotations

from types import SimpleNamespace

from foldwright.document.in_class import ClassDocument
from foldwright.measure.length import System
from foldwright.render.paper.content import BlockPart, Content, Matter


class ClassContent(Content):
    """The blocks of a handout in one unit system."""

    bare = frozenset({"fields", "table", "notes"})

    def __init__(self, made: ClassDocument, system: System, large_print: bool = False) -> None:
        super().__init__(made.document, system)
        self._prepared = made.prepared
        self._large_print = large_print
        self.lined = made.lined
        """Whether there are lines to fill in: for a name and a day, and for notes."""

    def table(self) -> tuple[str, ...]:
        """The groups of what is on the table, those that hold anything."""
        held = {"ready": self._prepared, "supplies": self.document.supplies, "tools": self.document.tools}
        return tuple(name for name, things in held.items() if things)

    def _together(self, text: str) -> str:
        # A line of large print on small paper may be too short for them.
        return text if self._large_print else super()._together(text)

    def _ready(self, _number: int) -> Matter:
        optional = self._label["optional"]
        things = [
            SimpleNamespace(
                name=piece.name, amount=self._label["comma"].join([piece.done, *([optional] if piece.optional else [])])
            )
            for piece in self._prepared
        ]
        return self._group("ready", things)

    def _supplies(self, _number: int) -> Matter:
        # What it is made of and where it came from is no matter now: there it lies.
        return self._group("supplies", [self._supply(supply, line=True) for supply in self.document.supplies])

    def _tools(self, _number: int) -> Matter:
        optional = self._label["optional"]
        things = [
            SimpleNamespace(name=self._html(tool.name), amount=optional if tool.optional else "")
            for tool in self.document.tools
        ]
        return self._group("tools", things)

    def _group(self, name: str, things: list[SimpleNamespace]) -> Matter:
        return Matter(
            "group", {"heading": self._label[name]}, {"things": (BlockPart("list", things), BlockPart("line", things))}
        )
