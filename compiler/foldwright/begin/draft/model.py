"""What every way to begin ends in: the pieces of a recipe, what they are made of, and what goes into them."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from foldwright.measure.length import Length, System, Unit

SHEETS = {
    System.IMPERIAL: ("8 1/2 x 11 in or A4", "8 1/2 x 11 in", "12 x 12 in", "11 x 17 in", "18 x 24 in"),
    System.METRIC: ("A4 or 8 1/2 x 11 in", "A4", "305 x 305 mm", "A3", "A2"),
}
"""Sheets to try one after the other when nobody says, the handiest first (common practice, no source)."""
WEIGHTS = {System.IMPERIAL: "100 lb cover", System.METRIC: "270 g/m2"}
"""Card when nobody says which."""
UNIT = {System.IMPERIAL: Unit.INCH, System.METRIC: Unit.MILLIMETRE}
"""The unit of all numbers of a recipe that is begun in a system."""
UNITS = {
    **dict.fromkeys(("inches", "inch", "in", "imperial"), Unit.INCH),
    **dict.fromkeys(("millimetres", "millimeters", "millimetre", "millimeter", "mm", "metric"), Unit.MILLIMETRE),
    **dict.fromkeys(("centimetres", "centimeters", "centimetre", "centimeter", "cm"), Unit.CENTIMETRE),
}
"""What people call the units they measure in, in small letters."""


class DraftNote(Struct, frozen=True):
    """Something to be said of what was begun: a code of the catalogue and the facts of its message."""

    code: str
    facts: tuple[tuple[str, object], ...] = ()

    @classmethod
    def of(cls, code: str, **facts: object) -> DraftNote:
        """A note with its facts by name."""
        return cls(code, tuple(facts.items()))


class Panels(Struct, frozen=True):
    """A piece: its rows of panels, good side up, and the names of the panels (empty where they need none).

    `form` is what it folds to, empty when it stays flat or nobody knows. Its corner flaps stay `joined` to the panels
    of these names, and `trim` is taken off their free edges. `facts` are all others, as a recipe writes them (`fold`).
    """

    name: str
    form: str
    across: tuple[Length, ...]
    down: tuple[Length, ...]
    across_names: tuple[str, ...] = ()
    down_names: tuple[str, ...] = ()
    joined: tuple[str, ...] = ()
    trim: Length | None = None
    facts: tuple[tuple[str, str], ...] = ()

    @property
    def size(self) -> tuple[Length, Length]:
        """The blank across and down."""
        return sum(self.across[1:], start=self.across[0]), sum(self.down[1:], start=self.down[0])

    @property
    def scored(self) -> bool:
        """Whether any side has more than one panel."""
        return len(self.across) > 1 or len(self.down) > 1

    @property
    def is_made(self) -> bool:
        """Whether its blank is worked out from its finished size or its inside."""
        return bool(self.fact("finished") or self.fact("inside"))

    def fact(self, word: str) -> str:
        """One of the other facts; empty when there is none."""
        return dict(self.facts).get(word, "")


class DraftSupply(Struct, frozen=True):
    """A supply besides card and tape: its facts on one line, and the piece it goes into or is tied to.

    `step` is the step in which that is done: `fill` or `tie`. `called` is what several of it are called in words.
    """

    name: str
    facts: str
    piece: str
    step: str = "fill"
    called: str = ""


class Draft(Struct, frozen=True):
    """A recipe that is still to be written: one making of it, measured in one unit system.

    `card` and `card_facts` are the supply that all parts are cut from. `sheets` are the sheets it may be cut from, as
    a recipe writes them: each is an attempt, and the first on which all is well is taken.
    """

    title: str
    summary: str
    system: System
    card: str
    card_facts: str
    sheets: tuple[str, ...]
    parts: tuple[Panels, ...]
    level: str = ""
    intro: str = ""
    supplies: tuple[DraftSupply, ...] = ()

    def pairs(self, word: str) -> Iterator[tuple[str, str]]:
        """Each part that says it `fits over`, `slides in` or `goes on` another part of the draft, and that part."""
        for part in self.parts:
            said = part.fact(word).casefold()
            named = [one.name for one in self.parts if one is not part and one.name.casefold() in said]
            if named:
                yield part.name, max(named, key=len)
