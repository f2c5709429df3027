"""A recipe as its author wrote it: typed, every value with its place, nothing computed.

Its pieces are told in `pieces_said`.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from msgspec import Struct, field

from foldwright.finding import Said as Said
from foldwright.measure.amounts import Dimension, Quantity, quantity
from foldwright.measure.length import Length, System
from foldwright.recipe.pieces_said import Dims as Dims
from foldwright.recipe.pieces_said import DrawnLine as DrawnLine
from foldwright.recipe.pieces_said import Flaps as Flaps
from foldwright.recipe.pieces_said import Fold as Fold
from foldwright.recipe.pieces_said import Gluing as Gluing
from foldwright.recipe.pieces_said import Hole as Hole
from foldwright.recipe.pieces_said import HolePosition as HolePosition
from foldwright.recipe.pieces_said import PanelFact as PanelFact
from foldwright.recipe.pieces_said import Piece as Piece
from foldwright.recipe.pieces_said import PlaceBeside as PlaceBeside
from foldwright.recipe.pieces_said import Placement as Placement
from foldwright.recipe.pieces_said import RelativeSize as RelativeSize
from foldwright.recipe.pieces_said import Repeat as Repeat
from foldwright.recipe.studio import Studio as Studio
from foldwright.recipe.words import Block, Keep, NotMeasured, Section


class Amount(Struct, frozen=True):
    """How much of a supply. `number` is exact, in the unit as written; `length` is set when the dimension is length.

    Of a count the unit is empty; `noun` is what it counts (`sheets`, `squares`), empty when the author gave none.
    """

    dimension: Dimension
    number: Fraction
    unit: str
    noun: str = ""
    length: Length | None = None

    @property
    def quantity(self) -> Quantity:
        """As pint has it, to be added up and converted."""
        return quantity(self.number, self.unit)


class Price(Struct, frozen=True):
    """An amount of money exactly as written, and the sign or code beside it (`$`, `GBP`), if any."""

    amount: Decimal
    money: str = ""


class NamedSheet(Struct, frozen=True):
    """One of the sheets a supply is sold in: `A4`, or a size; lengths across x down as written or as the name says.

    `price` is what one sheet of this size costs, where that is said, and `money` the sign or code written with it.
    """

    name: str
    across: Length
    down: Length
    price: Decimal | None = None
    money: str = ""


class Weight(Struct, frozen=True):
    """A paper weight: `number` of `unit` (`lb` with a `grade` such as cover, or `g/m2`)."""

    number: Fraction
    unit: str
    grade: str = ""


class Pack(Struct, frozen=True):
    """So much at a time, its price if that is said, and the sign or code written with the price."""

    amount: Amount
    price: Decimal | None = None
    money: str = ""


class Instead(Struct, frozen=True):
    """What may stand in: a name and the remark the author put in brackets."""

    name: str
    remark: str = ""


class Supply(Struct, frozen=True):
    """A thing the recipe uses up, as its author wrote it."""

    name: Said[str]
    kind: Said[str] | None = None
    weight: Said[Weight] | None = None
    thickness: Said[Length] | None = None
    sheets: tuple[Said[NamedSheet], ...] = ()
    grain: Said[str] | None = None
    pattern: Said[str] | None = None
    size: Said[Dims] | None = None
    width: Said[Length] | None = None
    use: Said[Amount] | None = None
    little: bool = False
    """`use: a little`."""
    packs: tuple[Said[Pack], ...] = ()
    instead: tuple[Said[Instead], ...] = ()
    colours: tuple[Said[str], ...] = ()
    optional: bool = False
    contains: tuple[Said[str], ...] = ()
    upright: bool = False
    """`this way up`: it may not lie on its side."""
    note: Said[str] | None = None

    @property
    def lengths(self) -> tuple[Length, ...]:
        """Every length that is said of it."""
        sheets = [length for sheet in self.sheets for length in (sheet.value.across, sheet.value.down)]
        amounts = [one.value for one in (self.width, self.thickness) if one]
        used = [self.use.value.length] if self.use and self.use.value.length else []
        return (*sheets, *(self.size.value.lengths if self.size else ()), *amounts, *used)


class Tool(Struct, frozen=True):
    """A tool, and what else will do."""

    name: Said[str]
    instead: tuple[Said[Instead], ...] = ()
    optional: bool = False


class When(Enum):
    """Whether a step is done in class or beforehand."""

    IN_CLASS = "in class"
    BEFORE_CLASS = "before class"


class Doing(Struct, frozen=True):
    """One act and what it is done to: `act` in its plain form as the vocabulary has it, `subjects` are piece names.

    `things` are supplies that are named with it (`thread ribbon`).
    """

    act: str
    subjects: tuple[str, ...]
    things: tuple[str, ...] = ()


class Wait(Struct, frozen=True):
    """How long nothing can be done, and what is done meanwhile."""

    seconds: int
    meanwhile: str = ""


class Photo(Struct, frozen=True):
    """A photograph beside the recipe, and what it shows."""

    path: Said[str]
    shows: Said[str] | None = None


class Step(Struct, frozen=True):
    """One `##` heading. `number` counts from 1; times are whole seconds.

    `measured` are the times it took when somebody looked at the clock, one for each making.
    """

    number: int
    heading: Said[str]
    do: Said[str] | None = None
    doings: tuple[Doing, ...] = ()
    time: Said[int] | None = None
    measured: tuple[Said[int], ...] = ()
    get_ready: Said[int] | None = None
    when: When = When.IN_CLASS
    wait: Said[Wait] | None = None
    within: Said[int] | None = None
    photo: Photo | None = None
    video: Said[str] | None = None
    tip: Said[tuple[Block, ...]] | None = None
    caution: Said[tuple[Block, ...]] | None = None
    short: Said[tuple[Block, ...]] | None = None
    share: Said[tuple[int, str]] | None = None
    """`share: 3 trimmers`."""
    uses: tuple[Said[str], ...] = ()
    """Supplies or tools named by `with:`."""
    optional: bool = False
    words: tuple[Block, ...] = ()


class Size(Struct, frozen=True):
    """One size of a project; one that is `as_written` is the recipe without any change."""

    name: Said[str]
    as_written: bool = False


class Recipe(Struct, frozen=True):
    """One recipe, read. `file` is the name findings use; `slug` names the output folder."""

    file: str
    slug: str
    title: Said[str]
    makes: Said[str] | None = None
    measured_in: Said[System] | None = None
    summary: Said[str] | None = None
    credit: Said[str] | None = None
    level: Said[str] | None = None
    revised: Said[str] | None = None
    tags: tuple[Said[str], ...] = ()
    seasons: tuple[Said[str], ...] = ()
    published: Said[date] | None = None
    """The day from which a library lists it; None for one it does not list."""
    was: tuple[Said[str], ...] = ()
    """What its folder was called before, as it stands in addresses."""
    video: Said[str] | None = None
    """The address of a video of it."""
    video_length: Said[int] | None = None
    """How long that is, in seconds."""
    captions: Said[str] | None = None
    """The file of its captions, beside the recipe."""
    photo: Photo | None = None
    """A picture of the finished thing."""
    audience: Said[str] | None = None
    """`for:` who makes it or gets it, in the author's words (`children under three` matters to cautions)."""
    studio: Studio = field(default_factory=Studio)
    supplies: tuple[Supply, ...] = ()
    tools: tuple[Tool, ...] = ()
    pieces: tuple[Piece, ...] = ()
    intro: tuple[Block, ...] = ()
    steps: tuple[Step, ...] = ()
    sections: tuple[Section, ...] = ()
    not_measured: tuple[NotMeasured, ...] = ()
    """What looked like a measure in the words and was not taken for one."""
    sizes: tuple[Size, ...] = ()
    """The sizes it comes in; empty in a recipe that is itself read in one of them."""
    size: str = ""
    """Which of its sizes this is; empty for the recipe as written, even when that has a name."""
    keep: tuple[Keep, ...] = ()
    """What is to be left out last where there is little room, what matters most first."""
    hushed: tuple[Said[str], ...] = ()
    """Codes of thoughts the author does not want to hear again."""

    @property
    def other_sizes(self) -> tuple[str, ...]:
        """The names of the sizes it comes in besides the one it is written in."""
        return tuple(size.name.value for size in self.sizes if not size.as_written)

    @property
    def system(self) -> System:
        """The unit system the recipe was written in: as it says, or as its first piece is measured."""
        if self.measured_in:
            return self.measured_in.value
        sizes = (piece.size or piece.inside for piece in self.pieces)
        first = next((size.value.lengths[0] for size in sizes if size), None)
        return first.unit.system if first else System.IMPERIAL
