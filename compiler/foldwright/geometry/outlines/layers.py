"""What a line of an outline file is: told by the name of its layer or class, the innermost that says anything.

Drawing programs keep a layer's name in one of four places: an attribute called `label` (whatever its namespace),
`data-name`, `class` and `id`. All of them are looked at, in this order.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.geometry.outlines.gate import plain_tag

if TYPE_CHECKING:
    from collections.abc import Iterator
    from xml.etree.ElementTree import Element

LAYERS = ("cut", "score", "valley", "mountain", "perforation", "glue")
_FOLDS = frozenset({"score", "valley", "mountain"})
_FLATTEST = 180
_STEEP = 15
"""Fewer folds of a kind than this have numbers of their own, and no box is folded to less (a reasoned guess)."""
_NEAR = 0.8
"""How much alike two words are before one is taken for a slip of the other; a reasoned guess, no source."""
_NAME = re.compile(
    rf"(?P<kind>{'|'.join(LAYERS)})s?(?:[\s_-]*(?:line|fold|area)s?)?"
    r"(?:[\s_.-]*(?P<number>\d+(?:\.\d+)?)[\s_]*(?P<degrees>°|deg(?:ree)?s?)?)?_?"
)
"""A name and the number a program, or a person, has put behind it: `score`, `Scores`, `valley fold 2`, `cut_1_`."""
_OTHER_WORDS = re.compile(r"(?:fold|crease|dashe|dash|bend)(?:d|s|ing)?(?:[\s_-]*lines?)?")
"""What people call a line that is folded, without saying which way."""
_ANGLE = re.compile(r"\s*(?P<minus>[-\u2212]?)\s*(?P<number>\d{1,3}(?:\.\d{1,6})?)\s*(?:°|deg(?:ree)?s?)?\s*")


class Mark(Struct, frozen=True):
    """The kind of a line (empty where no layer says one) and the degrees it is folded to, without a sign; `back` where
    a minus was written before them. `doubtful` is a name whose number was taken for one in a row, and may be an angle.
    """

    kind: str = ""
    degrees: Fraction | None = None
    back: bool = False
    doubtful: str = ""

    @property
    def angle(self) -> Fraction | None:
        """Above nothing towards who looks at the good side (a valley), below away from them."""
        if self.degrees is None or self.kind not in _FOLDS:
            return None
        return -self.degrees if self.back or self.kind == "mountain" else self.degrees


class LayerError(Exception):
    """A layer's name or angle that cannot be used: the finding's code and its facts."""

    def __init__(self, code: str, **facts: object) -> None:
        super().__init__(code)
        self.code, self.facts = code, facts


def marked(element: Element, around: Mark) -> Mark:
    """What an element says of the lines in it, else what is said `around` it. Raises LayerError."""
    names = list(_names(element))
    found = next((mark for name, is_class in names if (mark := _read(name, is_class))), None)
    if found is None:
        for name, _ in names:
            if near := _nearly(name):
                raise LayerError("outline-layer-unknown", said=name.strip(), nearest=near, known=LAYERS)
        found = around
    elif found.degrees is None:
        found = Mark(found.kind, around.degrees, around.back, found.doubtful)
    said = element.get("data-angle")
    if said is None:
        return found
    angle = _ANGLE.fullmatch(said)
    if angle is None or Fraction(angle["number"]) > _FLATTEST:
        raise LayerError("outline-angle", said=said, element=called(element), most=_FLATTEST)
    return Mark(found.kind, Fraction(angle["number"]), bool(angle["minus"]))


def called(element: Element) -> str:
    """An element as somebody finds it in the file."""
    name = element.get("id")
    return f'<{plain_tag(element.tag)} id="{name[:40]}">' if name else f"<{plain_tag(element.tag)}>"


def _names(element: Element) -> Iterator[tuple[str, bool]]:
    """Every name it has, and whether that is a class."""
    yield from ((value, False) for name, value in element.attrib.items() if plain_tag(name) == "label")
    yield element.get("data-name", ""), False
    yield from ((one, True) for one in element.get("class", "").split())
    yield element.get("id", ""), False


def _read(name: str, is_class: bool) -> Mark | None:
    match = _NAME.fullmatch(name.strip().casefold())
    if match is None:
        return None
    kind = match["kind"]
    turns = match["degrees"] or (is_class and kind in ("valley", "mountain"))
    if not match["number"] or not turns:
        steep = match["number"] and kind in ("valley", "mountain") and Fraction(match["number"]) >= _STEEP
        return Mark(kind, doubtful=name.strip() if steep else "")
    if (degrees := Fraction(match["number"])) > _FLATTEST:
        raise LayerError("outline-angle", said=name, element=name, most=_FLATTEST)
    return Mark(kind, degrees)


def _nearly(name: str) -> str:
    """The layer that a name nearly is, or nothing. Three letters are too few to tell a slip of `cut` from a word."""
    from difflib import get_close_matches

    plain = re.sub(r"[\s_.-]*\d*_?$", "", name.strip().casefold())
    if _OTHER_WORDS.fullmatch(plain):
        return "score"
    known = [spelt for layer in LAYERS[1:] for spelt in (layer, f"{layer}s")]
    close = get_close_matches(plain, known, 1, _NEAR)
    return close[0].removesuffix("s") if close else ""
