"""How the papers of a recipe look in its pictures: their colours by the words of the recipe, and told apart in grey."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.scene import Face, PaperLook, Scene
from foldwright.recipe.model import Recipe, Supply
from foldwright.vocabulary import kind_of
from foldwright.vocabulary.colours import lightness, lit, mixed, paper_words

_UNKNOWN = "#dcd8cf"
_WHITE = "#ffffff"
_GROUND = "#efece5"
"""What is printed on, where no colour of it is said."""
_FIGURES = {
    "gingham": "#8fa9b5",
    "dots": "#8fa0ab",
    "stripes": "#9fb0b8",
    "leaf": "#8fa383",
    "stars": "#c9a552",
    "floral": "#d298a0",
    "map": "#93aeb0",
}
"""What is printed, where no colour of it is said: our own choice."""
_ON_WHITE = frozenset({"gingham", "dots", "stripes"})
"""Of these one colour is the figure's: red gingham is red on white. A navy paper with stars is navy."""
_TOLD_APART = 4.5
"""How much two papers of a recipe differ in lightness (CIE L*), so that they differ in grey: by eye, no source."""
_DARKEST, _LIGHTEST = 20.0, 94.0
"""The lightness of good sides: a back is lighter yet, and a line shows on the darkest."""
_OPAQUE = {"clear sheet": 0.3, "vellum": 0.75}
"""What one sees through: how much it hides in a picture, by eye, no source."""
_BACK = 0.3
_LEAST_BACK = 4.0
"""A card coloured through has a back a little lighter, so that the sides are told apart."""
_WHITE_BEHIND = ("white core", "white back", "white inside", "one side", "plain back")


class Papers(Struct, frozen=True):
    """Every paper of a recipe in order of mention, and which one each piece is cut from."""

    looks: tuple[PaperLook, ...]
    of_piece: Mapping[str, int]

    def painted(self, scene: Scene) -> Scene:
        """A scene whose faces know their papers."""
        return replace(scene, papers=self.looks)

    def painted_flat(self, scene: Scene, piece: str) -> Scene:
        """The same of one that shows a single piece lying flat."""
        number = self.of_piece.get(piece, 0)

        def of_piece(face: Face) -> Face:
            return replace(face, paper=number) if not face.shade else face

        return replace(scene, faces=tuple(map(of_piece, scene.faces)), papers=self.looks)


def papers_of(recipe: Recipe) -> Papers:
    """The papers the pieces are cut from; two plain ones nearly as light as one another are drawn a little farther
    apart."""
    names = {piece.name.value: piece.supply.value if piece.supply else "" for piece in recipe.pieces}
    order = list(dict.fromkeys(names.values()))
    supplies = {supply.name.value.casefold(): supply for supply in recipe.supplies}
    looks = [_look(name, supplies.get(name.casefold())) for name in order]
    plain = [number for number, look in enumerate(looks) if not look.pattern]
    fronts = told_apart([looks[number].front for number in plain])
    for number, front in zip(plain, fronts, strict=True):
        looks[number] = _backed(looks[number], front)
    return Papers(tuple(looks), {piece: order.index(supply) for piece, supply in names.items()})


def _look(name: str, supply: Supply | None) -> PaperLook:
    """By its colour, if that is said, else by its name and what it is. Its back is white or, if it has its own
    colour, not decided yet."""
    kind = supply.kind.value if supply and supply.kind else ""
    said = paper_words(f"{name} {kind}")
    named = paper_words(supply.colours[0].value) if supply and supply.colours else said
    tones, pattern = named.tones or said.tones, said.pattern or named.pattern
    known = kind_of(kind or name)
    printed = bool(pattern) or "patterned" in (known.name if known else "")
    told = f"{name} {supply.note.value if supply and supply.note else ''}".casefold()
    white = printed or any(words in told for words in _WHITE_BEHIND)
    if not pattern:
        opaque = _OPAQUE.get(known.name if known else "", 1.0)
        return PaperLook(tones[0] if tones else _UNKNOWN, _WHITE if white else "", opaque=opaque)
    if len(tones) > 1:
        light, dark = sorted(tones[:2], key=lightness, reverse=True)
        ground, figure = (light, dark) if pattern in _ON_WHITE - {"dots"} else tones[:2]
    elif tones and pattern in _ON_WHITE:
        ground, figure = _GROUND, tones[0]
    elif tones:
        ground, figure = tones[0], mixed(tones[0], "#000000" if lightness(tones[0]) > 60 else _WHITE, 0.5)
    else:
        ground, figure = _GROUND, _FIGURES[pattern]
    return PaperLook(ground, _WHITE, pattern, figure)


def _backed(look: PaperLook, front: str) -> PaperLook:
    light = lightness(front)
    back = look.back or lit(front, max(light + _LEAST_BACK, light + _BACK * (100 - light)))
    return replace(look, front=front, back=back)


def told_apart(tones: Sequence[str]) -> list[str]:
    """The tones in their order of lightness, each at least so much lighter than the one before; few are changed."""
    gap = min(_TOLD_APART, (_LIGHTEST - _DARKEST) / max(1, len(tones)))
    order = sorted(range(len(tones)), key=lambda number: (lightness(tones[number]), number))
    levels = [lightness(tones[number]) for number in order]
    low = _DARKEST
    for at, level in enumerate(levels):
        levels[at] = low = max(level, low)
        low += gap
    high = _LIGHTEST
    for at in range(len(levels) - 1, -1, -1):
        levels[at] = high = min(levels[at], high)
        high -= gap
    moved = {number: lit(tones[number], level) for number, level in zip(order, levels, strict=True)}
    return [moved[number] for number in range(len(tones))]
