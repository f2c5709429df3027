"""What is around a caret: the recipe as it is read, the piece and the step meant, values to put in in its units."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache

from msgspec import Struct

from foldwright.authoring.places import EntryPlace, StepPlace
from foldwright.authoring.placing import HERE, TO_HERE, Page, step_of
from foldwright.document.catalogue import Catalogue
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, Strip
from foldwright.geometry.pieces import lay_flat
from foldwright.measure.length import System
from foldwright.recipe.model import Piece, Recipe, Supply
from foldwright.recipe.reading import read_recipe
from foldwright.vocabulary import SupplyKind, kind_of


def _pop_up(wide: str, fold: str, sides: tuple[str, str], downs: tuple[str, str, str]) -> dict[str, str]:
    """A step across the fold of a page: as far below the fold as it is deep, as far above it as it is high."""
    head, crown, foot = downs
    return {"wide": wide, "fold": fold, "left": sides[0], "right": sides[1], "head": head, "crown": crown, "foot": foot}


_TYPED_OVER = str.maketrans({"‹": HERE, "›": TO_HERE})
_VALUES: dict[System, dict[str, str]] = {
    System.IMPERIAL: {
        "weight": "100 lb cover",
        "sheet": "8 1/2 x 11 in or A4",
        "square": "12 x 12 in",
        "board": "1/16 in",
        "cord": "20 in",
        "narrow": "1/4 in",
        "tape": "12 in",
        "envelope": "5 3/4 x 4 3/8 in",
        "sweet": "1 x 5/8 x 1/2 in",
        "card": "3 3/8 x 2 1/8 in",
        "candle": "1 1/2 in round x 1 1/2 in",
        "size": "3 x 4 in",
        "border": "1/8 in",
        "gap": "1/16 in",
        "deep": "3/4 in",
        "band": "1 in",
        "flap": "1/2 in",
        "trim": "1/16 in",
        "spine": "8 1/4 x 6 in",
        "leaves": "4 back | 1/4 spine | 4 front",
        "page": "4 x 5 in",
        **_pop_up("4", "2 1/2", ("1 1/4", "2 3/4"), ("1 1/4", "2", "3 1/4")),
    },
    System.METRIC: {
        "weight": "270 g/m2",
        "sheet": "A4 or 8 1/2 x 11 in",
        "square": "305 x 305 mm",
        "board": "1.5 mm",
        "cord": "500 mm",
        "narrow": "6 mm",
        "tape": "300 mm",
        "envelope": "162 x 114 mm",
        "sweet": "25 x 16 x 12 mm",
        "card": "86 x 54 mm",
        "candle": "38 mm round x 36 mm",
        "size": "80 x 100 mm",
        "border": "3 mm",
        "gap": "1 mm",
        "deep": "20 mm",
        "band": "25 mm",
        "flap": "12 mm",
        "trim": "1 mm",
        "spine": "206 x 150 mm",
        "leaves": "100 back | 6 spine | 100 front",
        "page": "100 x 130 mm",
        **_pop_up("100", "65", ("32", "68"), ("35", "55", "85")),
    },
}
"""Sizes of what is usual, to be typed over (common practice, no source)."""
_HOLES: dict[System, tuple[dict[str, str], dict[str, str]]] = {
    System.IMPERIAL: (
        {"hole": "1/4 in", "slot": "1 x 1/8 in", "window": "1 1/2 x 1 in", "notch": "3/4 in"},
        {"hole": "1/8 in", "slot": "1/4 x 1/16 in", "window": "3/8 x 1/4 in", "notch": "1/4 in"},
    ),
    System.METRIC: (
        {"hole": "6 mm", "slot": "25 x 3 mm", "window": "40 x 25 mm", "notch": "20 mm"},
        {"hole": "3 mm", "slot": "6 x 1 mm", "window": "10 x 6 mm", "notch": "6 mm"},
    ),
}
"""Holes for a panel of usual size, and for a small one."""
_SMALL = 50
"""Millimetres: a panel that is narrower gets the smaller holes."""


class Around(Struct, frozen=True):
    """One text with the caret at an offset, read. `words` are the catalogue's."""

    page: Page
    offset: int
    recipe: Recipe | None
    blanks: Mapping[str, Blank]
    words: Catalogue

    @classmethod
    def of(cls, text: str, offset: int, words: Catalogue) -> Around:
        """The text as it is."""
        page, recipe, blanks = _read(text)
        return cls(page, offset, recipe, blanks, words)

    @property
    def system(self) -> System:
        """The units the recipe is written in."""
        return self.recipe.system if self.recipe else System.IMPERIAL

    @property
    def step(self) -> StepPlace | None:
        """The step the caret stands in, or the nearest."""
        return step_of(self.page.places, self.offset)

    # --- pieces and supplies ----------------------------------------------------------------------------------------

    def names(self, section: str) -> tuple[str, ...]:
        """The names in a section."""
        place = self.page.places.sections.get(section)
        return tuple(entry.name for entry in place.entries) if place else ()

    def new_name(self, section: str, name: str) -> str:
        """A name that nothing of a section has: `box`, else `box 2`."""
        taken = {one.casefold() for one in (*self.names("supplies"), *self.names("pieces"), *self.names(section))}
        return next(
            one for one in (name, *(f"{name} {n}" for n in range(2, len(taken) + 3))) if one.casefold() not in taken
        )

    def piece(self, name: str) -> Piece | None:
        """The piece of a name, as it was read."""
        found = self.recipe.pieces if self.recipe else ()
        return next((one for one in found if one.name.value.casefold() == name.casefold()), None)

    def entry(self, suits: Callable[[Piece, Blank | None], bool] = lambda _piece, _blank: True) -> EntryPlace | None:
        """The piece that is meant: the one the caret stands in, if it suits, else the last that does."""
        place = self.page.places.sections.get("pieces")
        suiting = [one for one in (place.entries if place else ()) if self._suits(one, suits)]
        here = next((one for one in suiting if one.whole[0] <= self.offset < one.whole[1]), None)
        return here or next(reversed(suiting), None)

    def _suits(self, entry: EntryPlace, suits: Callable[[Piece, Blank | None], bool]) -> bool:
        piece = self.piece(entry.name)
        return piece is not None and suits(piece, self.blanks.get(piece.name.value))

    def other(self, name: str) -> str:
        """Another piece for one to lie on or fit into: the one before it, else the one behind it."""
        names = self.names("pieces")
        at = next((number for number, one in enumerate(names) if one == name), len(names))
        others = (*reversed(names[:at]), *names[at + 1 :])
        return next(iter(others), self.words.say("authoring.name.base"))

    def supply(self, fits: Callable[[SupplyKind], bool]) -> str:
        """The first supply of a kind; empty where there is none."""
        kinds = ((one, kind_of(one.kind.value if one.kind else one.name.value)) for one in self._supplies())
        return next((one.name.value for one, kind in kinds if kind and fits(kind)), "")

    def _supplies(self) -> tuple[Supply, ...]:
        return self.recipe.supplies if self.recipe else ()

    # --- words --------------------------------------------------------------------------------------------------------

    def values(self, name: str = "") -> dict[str, str]:
        """What may stand in the slots of what is put in, about the piece of that name."""
        blank = self.blanks.get(name)
        panel = "" if blank and blank.boxed else _panel_of(blank)
        walls = blank.down if blank and blank.boxed else ()
        other = self.other(name)
        return {
            **_VALUES[self.system],
            **_HOLES[self.system][_is_small(blank)],
            "piece": name or self.words.say("authoring.name.piece"),
            "other": other,
            "on": self.face_of(other),
            "centred": f"centred on {panel}" if panel else "centred",
            "first": walls[0].called if walls else "top",
            "last": walls[-1].called if walls else "bottom",
            "held": self.supply(goes_inside) or self.words.say("authoring.name.fill"),
            "title": self.recipe.title.value if self.recipe else "",
        }

    def face_of(self, name: str) -> str:
        """The face of a piece on which something can lie: the piece, and a panel where it has several."""
        return f"{name} {_panel_of(self.blanks.get(name))}".rstrip()

    def filled(self, key: str, values: Mapping[str, str]) -> str:
        """A text of the catalogue with its slots filled, and marked where it is typed over."""
        parts = self.words.parts(key)
        return "".join(values[part] if at % 2 else part.translate(_TYPED_OVER) for at, part in enumerate(parts))


def goes_inside(kind: SupplyKind) -> bool:
    """Whether it is something to fill in."""
    return kind.food or (kind.small and not kind.adhesive) or kind.name == "gift card"


@lru_cache(maxsize=4)
def _read(text: str) -> tuple[Page, Recipe | None, Mapping[str, Blank]]:
    """A click follows the last one in the same text."""
    page = Page.of(text)
    recipe = read_recipe(page.text, "", "").recipe
    blanks = lay_flat(recipe).blanks if recipe else ()
    return page, recipe, {blank.piece: blank for blank in blanks}


def _widest(row: Sequence[Strip]) -> Strip:
    """The panel of a row that most room is on; of several the last, which no glue flap lies behind."""
    return max((strip for strip in reversed(row) if strip.role != GLUE_FLAP), key=lambda one: one.long, default=row[0])


def _panel_of(blank: Blank | None) -> str:
    """The panel that something lies on, as it is called; empty where that is the whole piece."""
    if blank is None:
        return ""
    row = max((blank.across, blank.down), key=len)
    if len(row) == 1:
        return next((face.name for face in blank.faces if face.name), "")
    widest = _widest(row)
    return widest.called or f"panel {row.index(widest) + 1}"


def _is_small(blank: Blank | None) -> bool:
    return blank is not None and (
        bool(blank.made) or min(_widest(blank.across).long, _widest(blank.down).long) < _SMALL
    )
