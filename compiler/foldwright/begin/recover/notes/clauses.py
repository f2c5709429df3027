"""A line of notes as runs of the ruler: which side each of its numbers is of, and how it was measured there.

A line may speak of both sides, of two edges and of the whole (`across: 5/8 | 2 7/8 | 5/8, down: 1 3/4 | 3/4 | 1 3/4`),
and in sentences (`4 1/8 in across, with scores 5/8 in from each end`). What stands before a number holds from there
on; what stands behind it holds for what came before.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from foldwright.begin.recover.model import SIDES
from foldwright.begin.recover.notes.gathering import GatheredRuns
from foldwright.begin.recover.notes.heads import LineHead, piece_named_again
from foldwright.begin.recover.notes.noted import ALL_ROUND, EDGE_WAYS, EDGES, NotedLine, NotedRun, RunManner
from foldwright.begin.recover.notes.part_reading import PartReader
from foldwright.begin.recover.notes.parts import (
    DOUBTS,
    WAYS,
    NotedBound,
    ReadPart,
    filled_parts,
    is_range,
    once_each,
    parts_of,
    unclear_dash,
)
from foldwright.begin.recover.notes.sides import crossed_sides, find_sides
from foldwright.begin.recover.notes.tokens import Token
from foldwright.begin.recover.notes.unclear import is_unclear, whole_or_middle
from foldwright.measure.length import Unit
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.limits import MOST_PANELS
from foldwright.recipe.facts.phrase import Phrase

_SIDED = (*SIDES, "length")
_SINGLE = (RunManner.UNSAID, RunManner.SINGLY)
_ADJECTIVES = frozenset({"wide", "high", "tall", "long"})
"""Said of one number, where each has a unit of its own."""
_SIZES = frozenset("wide width widths w breadth breadths high height heights h tall long length".split())
"""Said of how large a thing is, and not of where a ruler lay."""
_WHICH = dict(zip("first second third fourth fifth 1st 2nd 3rd 4th 5th".split(), (*range(5), *range(5)), strict=True))
"""How many stand before."""
_FAR_ENDS = frozenset({"end", "far end", "right end", "bottom end", "cut", "cut edge", "cut line"})
_MOST_TOLD = 10
"""Of what is wrong with one line."""
_MOST_NUMBERS = 4 * MOST_PANELS
"""Of one line."""
_OTHER_END = {RunManner.FROM_START: RunManner.FROM_END, RunManner.FROM_END: RunManner.FROM_START}


def read_line(whole: Phrase, head: LineHead, panel: str, meant: str, complaints: Complaints) -> NotedLine | None:
    """The runs of a line; None (and a finding) when a number or a word of it cannot be understood.

    `panel` is the one it is about, if any; `meant` the side that the sentence before was about.
    """
    reader = _ClauseReader(whole, meant, complaints)
    reader.head(head.words, panel)
    body, other = piece_named_again(whole, head.piece, head.body)
    if other:
        complaints.fault("another-name-on-the-line", other, name=other.plain)
        return None
    return reader.read(body)


class _ClauseReader:
    """Goes through the parts of a line, with the run that is being gathered."""

    def __init__(self, whole: Phrase, meant: str, complaints: Complaints) -> None:
        self._whole = whole
        self._complaints = complaints
        self._into = GatheredRuns(NotedRun(meant=meant))
        self._bound: NotedBound | None = None
        self._unit: Unit | None = None
        self._lengthwise = False
        self._ordered = True
        self._size: tuple[str, ...] = ()
        self._of_size = False
        """Whether the line begins with `size`: two numbers with a cross between are wanted."""

    @property
    def _run(self) -> NotedRun:
        return self._into.run

    # --- before the numbers -------------------------------------------------------------------------------------------

    def head(self, head: Sequence[Token], panel: str) -> None:
        """The words before the numbers."""
        kinds = [token.kind for token in head]
        if "cross" in kinds and (order := [kind for kind in kinds if kind in (*SIDES, "length")]):
            self._lengthwise = "length" in order
            self._size = crossed_sides(order)
            head = [token for token in head if token.kind not in (*SIDES, "length", "cross")]
        self._unit = next((token.unit for token in head if token.kind == "unit"), None)
        self._before(head)
        self._run.panel = panel

    # --- the parts ----------------------------------------------------------------------------------------------------

    def read(self, body: Sequence[Token]) -> NotedLine | None:
        """The runs of the line."""
        found = len(self._complaints.findings)
        if unclear := unclear_dash(body):
            one, other = unclear
            said = self._whole.part(one.start, other.end)
            if is_range(one, other):
                self._complaints.fault("reading-dash-range", said)
            else:
                self._complaints.fault("reading-dash-unclear", said)
            return None
        reader = PartReader(self._whole, self._complaints)
        parts = list(filled_parts(list(parts_of(once_each(body))), self._whole, self._complaints))
        for number, (mark, part) in enumerate(parts, 1):
            if mark and mark.kind == "equals":
                self._equals(number == len(parts))
            self._parts(reader.read(mark, part, number == len(parts)))
            if len(self._complaints.findings) - found > _MOST_TOLD:
                return None
            if self._into.count > _MOST_NUMBERS:
                self._complaints.fault("too-many-panels", self._whole, word="", most=MOST_PANELS)
                return None
        return self._line() if len(self._complaints.findings) == found else None

    def _equals(self, last: bool) -> None:
        """`1 + 2 + 1 = 4`, or `4 = 1 + 2 + 1`: the number that is alone is the whole."""
        if len(self._run.numbers) == 1 and not last:
            self._into.last_is_whole()
        else:
            self._into.whole_next = True

    def _line(self) -> NotedLine | None:
        runs = self._into.finished()
        if is_unclear(self._whole, runs, self._complaints):
            return None
        left = find_sides(runs)
        if not runs:
            self._complaints.fault("nothing-read", self._whole)
        elif self._of_size and not any(run.way is RunManner.WHOLE for run in runs):
            self._complaints.fault("size-of-two", self._whole)
        elif middle := whole_or_middle(runs):
            self._complaints.fault("whole-or-middle", self._whole, number=middle.plain)
        elif left is not None:
            return NotedLine(runs, self._bound, self._unit, self._lengthwise, self._ordered, tuple(left))
        return None

    def _parts(self, parts: Sequence[ReadPart]) -> None:
        for part in parts:
            self._bound = part.bound or self._bound
            self._unit = part.unit or self._unit
            crossed = part.mark is not None and part.mark.kind == "cross"
            if crossed and part.number and not self._is_sided(part):
                self._cross(part)
                continue
            if self._run.ends and self._run.numbers and part.number:
                # `left and right 5/8, middle 2 7/8`
                self._into.open()
            if self._run.closed and part.number and not self._is_whole(part) and not self._is_next_score(part):
                self._into.open()
            self._mark(part)
            self._before(part.before)
            if part.number is None:
                self._doubted(part)
                continue
            if self._run.scores and part.number.name.casefold() in _FAR_ENDS:
                # `fold at 2 cm, fold at 8 cm, end 10 cm`
                self._into.add_whole(replace(part.number, name=""))
            elif self._into.whole_next:
                self._into.add_whole(part.number)
            else:
                self._into.add(part, part.number)
            self._behind(part.behind)
            if part.opens and len(self._run.numbers) == 1 and not self._run.closed:
                # `105 (16 / 73 / 16) mm`
                self._into.last_is_whole()

    @staticmethod
    def _is_whole(part: ReadPart) -> bool:
        """`edge at 105` stays with the run before it, unless it names a side."""
        sided = any(word.kind in _SIDED for word in (*part.before, *part.behind))
        return not sided and any(word.kind in ("whole", "edge") for word in part.before)

    def _is_next_score(self, part: ReadPart) -> bool:
        """`first score 20 mm from the left, second 80 mm`, but not `second 20 mm from the right`."""
        return self._run.scores and not part.behind and any(word.kind == "ordinal" for word in part.before)

    def _doubted(self, part: ReadPart) -> None:
        """`2 7/8, not sure`: a doubt of its own is about the number before it."""
        for token in part.before:
            if token.kind in DOUBTS and self._run.numbers:
                self._run.numbers[-1] = replace(self._run.numbers[-1], doubt=token.kind)
            elif token.kind in DOUBTS:
                self._unclear(token)

    def _mark(self, part: ReadPart) -> None:
        if part.mark is None or not self._run.numbers:
            return
        self._run.arrows = self._run.arrows or part.mark.kind == "arrow"
        self._run.bars = self._run.bars or part.mark.kind in ("bar", "plus")
        self._run.glued = self._run.glued or (part.mark.kind == "comma" and part.mark.glued)
        if part.mark.kind == "gap":
            self._run.gaps.append(part.mark.blanks)

    def _is_sided(self, part: ReadPart) -> bool:
        """Whether a part behind a cross names its own side: `4 1/8 wide x 4 1/4 high`."""
        own = any(token.kind in (*SIDES, "length") for token in (*part.before, *part.behind))
        return own and (self._run.closed or bool(self._run.side))

    def _cross(self, part: ReadPart) -> None:
        """`5 x 4 1/4 in`: both sides at once, unless other numbers say that it cannot be."""
        numbers = self._run.numbers
        if not numbers and self._into.wholes and not self._run.side:
            # `whole: 4 1/8 x 4 1/4 in`
            numbers += self._into.wholes.pop()[0].numbers
        if part.number is None or self._run.side or len(numbers) != 1 or self._run.closed:
            code = "reading-times-or-size" if self._run.side else "size-of-two"
            self._complaints.fault(code, self._whole)
            return
        if any(word.kind in _SIDED for word in (*part.before, *part.behind)):
            # `3 x 5/8 across`
            self._complaints.fault("reading-times-or-size", self._whole)
            return
        if name := numbers[0].name or part.number.name:
            self._complaints.fault("reading-named-oddly", self._whole, name=name)
            return
        first, _ = numbers.pop(), self._into.runs.pop()
        order = self._size or SIDES
        self._ordered = bool(self._size) or self._of_size
        for side, number in zip(order, (first, part.number), strict=True):
            self._into.runs.append(self._into.lone(RunManner.WHOLE, side, number))
        self._into.begin(NotedRun())
        self._behind([word for word in part.behind if word.kind != "whole"])

    # --- words about numbers ------------------------------------------------------------------------------------------

    def _before(self, words: Sequence[Token]) -> None:
        """Words before a number: what is said from here on."""
        for word in (word for word in words if word.kind in WAYS or word.kind == "count"):
            if word.kind in ("whole", "edge"):
                self._into.whole_next = True
                continue
            if word.kind == "ordinal":
                self._ordered_so(word)
                continue
            if word.kind != "scores" or not self._run.scores or self._run.closed:
                # `score 5/8, score 3 1/2` goes on with one run.
                self._into.start()
            if word.kind == "count" or (word.kind == "scores" and word.value is not None):
                self._run.counted = word
            self._said(word)

    def _ordered_so(self, word: Token) -> None:
        """`first score 5/8, second 3 1/2`: they must stand in that order."""
        run = self._run
        if not run.follows_scores and _WHICH.get(word.detail, len(run.numbers)) != len(run.numbers):
            self._unclear(word)

    def _said(self, word: Token) -> None:
        """How the numbers of a run were measured."""
        run = self._run
        match word.kind:
            case "across" | "down" | "length" | "backwards":
                run.side = self._side(word)
                run.sized = self._whole.text[word.start : word.end].lower() in _SIZES
            case "from":
                self._from(word)
            case "running":
                run.way = RunManner.FROM_START
            case "each" | "all-round":
                self._each(word)
            case "scores":
                run.scores = True
                run.way = RunManner.FROM_START if run.way in _SINGLE else run.way
            case "singly":
                run.way = RunManner.SINGLY
                run.between = self._whole.text[word.start : word.end].lower().startswith("between")
            case "size":
                self._of_size = True
            case "square":
                self._complaints.fault("size-of-two", self._whole)

    def _side(self, word: Token) -> str:
        if word.kind == "length":
            self._lengthwise = True
        if word.kind == "backwards":
            self._run.backwards = True
            return "across" if self._whole.text[word.start : word.end].lower().startswith("r") else "down"
        return word.kind

    def _from(self, word: Token) -> None:
        run = self._run
        if word.detail in EDGE_WAYS:
            side, way = EDGE_WAYS[word.detail]
            if run.side and run.side != side:
                facts = {"side": run.side, "edge": word.detail, "known": EDGES.get(run.side, ())}
                self._complaints.fault("from-which-edge", self._whole.part(word.start, word.end), **facts)
                return
            run.side, run.way = side, way
        elif word.detail:
            before = [one.way for one in self._into.runs if one is not run and one.way in _OTHER_END]
            run.way = _OTHER_END[before[-1]] if before else RunManner.FROM_END
        else:
            run.way = RunManner.FROM_START

    def _each(self, word: Token) -> None:
        self._run.way = RunManner.EACH_END
        if word.kind == "all-round":
            self._run.side = ALL_ROUND
            return
        said = self._whole.text[word.start : word.end].lower()
        self._run.ends = not self._run.scores and "from" not in said
        implied = "across" if "left" in said else "down" if "top" in said else ""
        if implied:
            self._run.side = self._run.side or implied

    def _behind(self, words: Sequence[Token]) -> None:
        """Words behind a number: what is said of the numbers before."""
        if any(word.kind == "whole" for word in words) and self._run.numbers:
            self._whole_behind(next((word for word in words if word.kind in _SIDED), None))
            return
        for word in words:
            run = self._run
            if word.kind in _SIDED:
                self._sided_behind(word)
            elif word.kind == "from":
                self._from_behind(word)
            elif word.kind in ("each", "all-round"):
                if len(run.numbers) > 1 and not run.scores:
                    # `width 4 1/8, flaps 5/8 each side`: the last alone.
                    self._into.part_last()
                self._each(word)
                self._run.closed = True
            elif word.kind == "square":
                if not self._into.squared():
                    self._complaints.fault("size-of-two", self._whole)
            elif word.kind == "edge" and run.way not in _SINGLE:
                self._into.last_is_whole()
            elif word.kind in ("running", "scores", "singly"):
                self._said(word)
                run.closed = word.kind == "running"
            elif word.kind != "size":
                self._unclear(word)

    def _from_behind(self, word: Token) -> None:
        run = self._run
        if run.way is RunManner.UNSAID or run.scores:
            run.scores = run.scores or run.follows_scores
            self._from(word)
            run.closed = True
        elif EDGE_WAYS.get(word.detail) != (run.side, run.way):
            self._unclear(word)

    def _unclear(self, word: Token) -> None:
        self._complaints.fault("reading-unreadable", self._whole.part(word.start, word.end))

    def _sided_behind(self, word: Token) -> None:
        side, run = self._side(word), self._run
        adjective = self._whole.text[word.start : word.end].lower() in _ADJECTIVES
        alone = adjective and len(run.numbers) > 1 and run.numbers[-2].unit is not None
        if run.numbers and ((run.side and run.side != side) or alone):
            # `4 of 66 mm, 90 mm high`: only the last is of this side.
            self._into.part_last()
            run = self._run
        run.side = side
        run.closed = run.sized = True
        if run.follows_scores and run.way is RunManner.UNSAID and not any(number.name for number in run.numbers):
            run.scores, run.way = True, RunManner.FROM_START

    def _whole_behind(self, side: Token | None) -> None:
        """`4 1/8 overall across`: from here on that side is meant."""
        number = self._run.numbers.pop()
        own = self._side(side) if side else ""
        whole = self._into.lone(RunManner.WHOLE, own or self._run.side, number)
        whole.meant = whole.side or self._run.meant
        self._into.wholes.append((whole, self._run))
        if own:
            self._into.open()
            self._run.meant = own
