"""What a page's content stream paints, and which mark each thing painted stands under (ISO 32000-1, 14.6)."""

from __future__ import annotations

from collections.abc import Iterator

import pikepdf
from msgspec import Struct

_PATHS = frozenset(("S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh"))
"""The operators that put a path or a shading on the page (ISO 32000-1, table 60 and 77)."""
_TEXTS = frozenset(("Tj", "TJ", "'", '"'))
ARTIFACT = "Artifact"


class Mark(Struct, frozen=True):
    """One marked-content sequence. `inside` is the mark around it that counts (an MCID or an artifact), if any."""

    page: int
    tag: str
    mcid: int | None
    inside: str
    in_form: bool


class Painted(Struct, frozen=True):
    """A page's marks in order, what is painted under none of them, and how many characters it shows."""

    marks: tuple[Mark, ...]
    loose: tuple[str, ...]
    characters: int


def painted(page: pikepdf.Page, number: int) -> Painted:
    """Walks the content of page `number`, and of the form XObjects it draws, once for each time they are drawn."""
    walker = _Walker(number)
    walker.walk(page.obj, page.obj.get("/Resources", pikepdf.Dictionary()), in_form=False)
    return Painted(tuple(walker.marks), tuple(walker.loose), walker.characters)


class _Walker:
    def __init__(self, number: int) -> None:
        self.number = number
        self.marks: list[Mark] = []
        self.loose: list[str] = []
        self.characters = 0
        self.open: list[str] = []
        """A name for each mark that is open; empty for those that say nothing about structure."""

    def walk(self, stream: pikepdf.Object, resources: pikepdf.Object, *, in_form: bool) -> None:
        bytes_a_character = 1
        for operands, operator in _instructions(stream):
            name = str(operator)
            if name in ("BMC", "BDC"):
                self.begin(operands, resources, in_form=in_form)
            elif name == "EMC":
                self.open.pop()
            elif name == "Tf":
                font = resources.Font[operands[0]]
                bytes_a_character = 2 if font.Subtype == "/Type0" else 1
            elif name in _TEXTS:
                shown = sum(len(bytes(text)) for text in _strings(operands)) // bytes_a_character
                self.characters += shown
                self.paint("text" if shown else "")
            elif name in _PATHS:
                self.paint("a path")
            elif name == "INLINE IMAGE":
                self.paint("a picture")
            elif name == "Do":
                self.draw(resources.XObject[operands[0]], resources)

    def begin(self, operands: list[pikepdf.Object], resources: pikepdf.Object, *, in_form: bool) -> None:
        tag = str(operands[0]).removeprefix("/")
        facts = operands[1] if len(operands) > 1 else pikepdf.Dictionary()
        if isinstance(facts, pikepdf.Name):
            facts = resources.Properties[facts]
        mcid = int(facts.MCID) if "/MCID" in facts else None
        self.marks.append(Mark(self.number, tag, mcid, self.around(), in_form))
        self.open.append(tag if tag == ARTIFACT else f"{tag} {mcid}" if mcid is not None else "")

    def around(self) -> str:
        return next((name for name in reversed(self.open) if name), "")

    def paint(self, what: str) -> None:
        if what and not self.around():
            self.loose.append(what)

    def draw(self, drawn: pikepdf.Object, resources: pikepdf.Object) -> None:
        if drawn.Subtype == "/Image":
            self.paint("a picture")
        else:
            self.walk(drawn, drawn.get("/Resources", resources), in_form=True)


def _instructions(stream: pikepdf.Object) -> Iterator[tuple[list[pikepdf.Object], pikepdf.Operator]]:
    for instruction in pikepdf.parse_content_stream(stream):
        yield list(instruction.operands), instruction.operator


def _strings(operands: list[pikepdf.Object]) -> Iterator[pikepdf.Object]:
    for operand in operands:
        if isinstance(operand, pikepdf.String):
            yield operand
        elif isinstance(operand, pikepdf.Array):
            yield from (part for part in operand if isinstance(part, pikepdf.String))
