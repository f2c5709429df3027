"""The papers of an event: each a title and parts to work from, nothing laid out."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction

from msgspec import Struct

from foldwright.event.plan.cuts import WorkedLayout
from foldwright.measure.length import System
from foldwright.pack.cutting.model import Rectangle


class Tick(Struct, frozen=True):
    """A line with a box to tick. `aside` is what else to know of it."""

    text: str
    aside: str = ""


class Ticks(Struct, frozen=True):
    """Lines to tick under a heading."""

    heading: str
    lines: tuple[Tick, ...]


class PaperWords(Struct, frozen=True):
    """Paragraphs under a heading, which may be empty."""

    heading: str
    paragraphs: tuple[str, ...]


class PaperTable(Struct, frozen=True):
    """Rows under named columns. `figures` are the columns whose entries are numbers; `foot` sums up."""

    heading: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    figures: frozenset[int] = frozenset()
    foot: tuple[str, ...] = ()
    ticked: bool = False


class SheetPicture(Struct, frozen=True):
    """A sheet with the cuts that are made of it, to be drawn. `names` are the pieces by their index.

    `keep` and `waste` are what is written on offcuts, `fence` and `stop` on what the sheet lies against. `worked` says
    where the letters and numbers of the cuts stand.
    """

    width: Fraction
    height: Fraction
    trim: Fraction
    whole: Rectangle
    worked: WorkedLayout
    names: tuple[str, ...]
    keep: str
    waste: str
    fence: str
    stop: str
    sides: tuple[str, str]
    """Its size across and down, in words."""
    describes: str


class CutWork(Struct, frozen=True):
    """Sheets that are cut alike: a picture, the cuts in working order, and what there must be in the end."""

    heading: str
    picture: SheetPicture
    cuts: tuple[Tick, ...]
    check: str


class LaneSpan(Struct, frozen=True):
    """Work of one helper from one second to another."""

    start: int
    end: int
    helper: int


class Lanes(Struct, frozen=True):
    """Who does what when: a named lane for each job in the order in which they begin, and times written under them."""

    heading: str
    names: tuple[str, ...]
    lanes: tuple[tuple[LaneSpan, ...], ...]
    finish: int
    marks: tuple[tuple[int, str], ...]
    note: str
    """What the numbers in the lanes are; empty where one helper does it all."""
    describes: str


class Beside(Struct, frozen=True):
    """Short parts that stand side by side, where there is room."""

    columns: tuple[tuple[Ticks | PaperWords | PaperTable, ...], ...]


type EventPart = Ticks | PaperWords | PaperTable | CutWork | Lanes | Beside


class For(Enum):
    """Whose paper it is. Only the studio's own may have prices."""

    STUDIO = "studio"
    HELPERS = "helpers"


class PaperText(Struct, frozen=True):
    """What a paper says. `shorter` is said instead of `parts` where they do not go on the one page it must stay on."""

    summary: str
    parts: tuple[EventPart, ...]
    shorter: tuple[EventPart, ...] = ()


class EventPaper(Struct, frozen=True):
    """One paper of the folder; `slug` names its file, `whom` says who gets its `copies`."""

    slug: str
    title: str
    summary: str
    parts: tuple[EventPart, ...]
    whose: For = For.HELPERS
    one_page: bool = False
    shorter: tuple[EventPart, ...] = ()
    copies: int = 1
    whom: str = ""
    number: int = 1
    """Its place among the papers of the folder."""


class LabelText(Struct, frozen=True):
    """What stands on one bag's label. `name` is that of who gets it, and comes first; `slug` tells whose picture."""

    title: str
    lines: tuple[str, ...]
    warning: str
    foot: str
    name: str = ""
    slug: str = ""


class CardText(Struct, frozen=True):
    """What stands on a place card; `aside` is for whoever serves, in small letters at its foot."""

    name: str
    table: str = ""
    aside: str = ""


class Occasion(Struct, frozen=True):
    """What the event is called, its day (also as ISO 8601 has it), where it is; `line` is all of it in words.

    Empty where nobody said.
    """

    called: str = ""
    day: str = ""
    date: str = ""
    place: str = ""
    line: str = ""


NO_OCCASION = Occasion()


class EventDocument(Struct, frozen=True):
    """All of it, and the words of the furniture round it."""

    language: str
    title: str
    summary: str
    papers: tuple[EventPaper, ...]
    labels: tuple[tuple[LabelText, int], ...]
    """A label and how many of it, for each kind of bag of each recipe."""
    furniture: dict[str, str]
    system: System = System.METRIC
    occasion: Occasion = NO_OCCASION
