"""The runs of the ruler on one line of notes, as they stand there: words and numbers, no lengths yet."""

from __future__ import annotations

from enum import Enum

from msgspec import Struct, field

from foldwright.begin.recover.model import SIDES
from foldwright.begin.recover.notes.parts import NotedBound, NotedNumber
from foldwright.begin.recover.notes.tokens import Token
from foldwright.finding import Place
from foldwright.measure.length import Unit


class RunManner(Enum):
    """How a run was measured."""

    UNSAID = "unsaid"
    """Most likely panel by panel: the numbers must show it."""
    SINGLY = "singly"
    FROM_START = "from start"
    """Each number from the left (or top) edge."""
    FROM_END = "from end"
    EACH_END = "each end"
    """Each number is measured in from the left (or top) edge, and in from the other edge too."""
    WHOLE = "whole"
    PANEL = "panel"
    """One panel, by its name or number."""


EDGE_WAYS = {"left": ("across", RunManner.FROM_START), "right": ("across", RunManner.FROM_END),
             "top": ("down", RunManner.FROM_START), "bottom": ("down", RunManner.FROM_END)}  # fmt: skip
"""The edge a ruler is laid at: of which side, and how that is measured."""
EDGES = {side: tuple(edge for edge, (of, _) in EDGE_WAYS.items() if of == side) for side in SIDES}
"""The edges a side is measured from."""
ALL_ROUND = "all round"
"""The side of a run that is about both."""
OPEN = "open"
"""The side of a run while only other lines can tell it."""


class NotedRun(Struct):
    """The numbers of one run as they are gathered. `side` is empty while nobody said which; `meant` is the side that
    the words before were about.

    `scores` is whether they are score lines, the last too; `arrows`, `bars` and `gaps` are what stands between them, a
    gap by its blanks; `glued` whether a comma has no blank about it; `counted` how many panels it was said to have;
    `backwards` whether it begins at the right, or the bottom. It is `closed` when something behind its numbers was said
    of them, and `follows_scores` where scores were spoken of before.
    """

    way: RunManner = RunManner.UNSAID
    side: str = ""
    meant: str = ""
    numbers: list[NotedNumber] = field(default_factory=list)
    panel: str = ""
    scores: bool = False
    arrows: bool = False
    bars: bool = False
    glued: bool = False
    gaps: list[int] = field(default_factory=list)
    counted: Token | None = None
    closed: bool = False
    follows_scores: bool = False
    backwards: bool = False
    place: Place | None = None


class NotedLine(Struct, frozen=True):
    """The runs of a line, how well it could be read and the unit of its bare numbers, as far as it says so.

    `lengthwise` is whether it speaks of a length, as of a side; not `ordered` is a size whose order nobody said.
    `taken` are the runs of which only the other numbers tell the side.
    """

    runs: tuple[NotedRun, ...]
    bound: NotedBound | None
    unit: Unit | None
    lengthwise: bool = False
    ordered: bool = True
    taken: tuple[NotedRun, ...] = ()
