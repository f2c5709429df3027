"""What an author says of the pieces of a recipe: typed, every value with its place, nothing computed."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from foldwright.finding import Place, Said
from foldwright.measure.length import Length


class Dims(Struct, frozen=True):
    """Across x down (a third number for solid things), as written.

    Of something `round` that is bought, its diameter and how long or high it is; of a ball, its diameter alone.
    """

    lengths: tuple[Length, ...]
    round: bool = False


class PanelFact(Struct, frozen=True):
    """One panel of a row: a name (may be empty) and a length, or None for `rest`."""

    name: str
    length: Length | None
    place: Place
    unread: bool = False
    """It could not be read, and was complained of; it is taken for `rest` so that the others can be drawn."""


class RelativeSize(Struct, frozen=True):
    """`1/8 in smaller on every side than base front`: `by` is signed; `every_side` or in all; `other` as written."""

    by: Length
    every_side: bool
    other: str
    depth: Length | None = None


class Hole(Struct, frozen=True):
    """`shape` is round, slot, window, or half round, vee or square notch; `size` one or two lengths (of a notch: along
    its edge, deep); `position` the author's words, kept whole.

    Of `corner slots` and `half-moon slots` the size is that of the card they hold; empty where only its name is said.
    """

    shape: str
    size: tuple[Length, ...]
    position: HolePosition
    holds: str = ""
    """What slots are for, by its name."""


class PlaceBeside(Struct, frozen=True):
    """A place on a piece called by its name (`outline corner 3`), and how far from it: so much `right`, `left`, `above`
    or `below`.
    """

    of: str
    away: tuple[tuple[str, Length], ...] = ()


class Repeat(Struct, frozen=True):
    """So many `times` in all, one so far `apart` from the next, `across` (to the right) or `down`."""

    times: int
    apart: Length
    side: str


class HolePosition(Struct, frozen=True):
    """Where a hole is. Offsets are (edge it is measured from, length, `middle` or `edge` of the hole)."""

    centred: bool = False
    panel: str = ""
    offsets: tuple[tuple[str, Length, str], ...] = ()
    every_panel: bool = False
    mirrored: bool = False
    edge: str = ""
    """The edge of the piece a notch is cut into: left, right, top or bottom."""
    assumed: bool = False
    """Nobody says where it is, which was complained of; it is taken to be in the middle."""
    at: PlaceBeside | None = None
    """Where its middle is, if that is said by a place with a name."""
    repeat: Repeat | None = None


class DrawnLine(Struct, frozen=True):
    """One entry of `lines:`: a kind, points in the piece's own unit from its top left corner (or named places)."""

    kind: str
    points: tuple[tuple[Length, Length] | PlaceBeside, ...]
    arc: bool = False
    mirrored: bool = False
    every_panel: bool = False
    angle: Fraction | None = None
    """Degrees it is folded to: above nothing towards you, below away; None when nobody says."""
    repeat: Repeat | None = None


class Placement(Struct, frozen=True):
    """`goes on`, `goes round`, `fits over`, `slides in`, `woven with`, `glued`: piece (or supply), panels, face."""

    face: str
    """`inside`, `outside`, or empty when not said."""
    piece: str
    panel: str = ""
    remark: str = ""


class Gluing(Struct, frozen=True):
    """`strip 1 to inside of card front`: `own_panel` is what stands before `to`, without the piece's own name (`1`)."""

    own_panel: str
    to: Placement


class Flaps(Struct, frozen=True):
    """`joined` names the panels the corner flaps stay joined to; `trim` is taken off their free edge.

    They are tucked inside the walls beside them unless they are said to lie `outside`.
    """

    joined: tuple[str, ...]
    trim: Length | None = None
    outside: bool = False


class Fold(Struct, frozen=True):
    """`form` is a word (`tray`), or empty with `angles` given per score line. `remarks` are the facts after it."""

    form: str
    angles: tuple[Fraction, ...] = ()
    remarks: tuple[str, ...] = ()


class Piece(Struct, frozen=True):
    """A piece that is cut, as its author wrote it; `geometry` lays it flat."""

    name: Said[str]
    supply: Said[str] | None = None
    """`from:`."""
    count: Said[int] | None = None
    size: Said[Dims] | None = None
    relative: Said[RelativeSize] | None = None
    band: Said[Length] | None = None
    """`size: rest x 30 mm`: how wide a band is whose length follows from what it goes round."""
    inside: Said[Dims] | None = None
    inside_relative: Said[RelativeSize] | None = None
    finished: Said[Dims] | None = None
    across: tuple[PanelFact, ...] = ()
    down: tuple[PanelFact, ...] = ()
    across_place: Place | None = None
    down_place: Place | None = None
    flaps: Said[Flaps] | None = None
    corners: Said[str] | None = None
    fold: Said[Fold] | None = None
    outline: Said[str] | None = None
    holes: tuple[Said[Hole], ...] = ()
    lines: tuple[Said[DrawnLine], ...] = ()
    stacked: Said[int] | None = None
    """How many alike are glued on one another to make one; they are in `count`."""
    goes_on: tuple[Said[Placement], ...] = ()
    goes_round: tuple[Said[Placement], ...] = ()
    fits_over: tuple[Said[Placement], ...] = ()
    slides_in: tuple[Said[Placement], ...] = ()
    woven_with: tuple[Said[Placement], ...] = ()
    glued: tuple[Said[Gluing], ...] = ()
    holds: tuple[Said[str], ...] = ()
    grain: Said[str] | None = None
    upright: Said[str] | None = None
    """`this way up`."""
    unread: frozenset[str] = frozenset()
    """Facts in which something could not be read, which was complained of: nothing that follows from them is told."""
    thickness: Said[Length] | None = None
    optional: bool = False
    note: Said[str] | None = None

    def place_of_line(self, number: int) -> Place:
        """Where a line is said, counted from 1; those beyond its `lines` are drawn in the file of its outline."""
        if number <= len(self.lines):
            return self.lines[number - 1].place
        return (self.outline or self.name).place
