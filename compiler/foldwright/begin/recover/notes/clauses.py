"""A line of notes as runs of the ruler: which side each of its numbers is of, and how it was measured there.

A line may speak of both sides, of two edges and of the whole (`across: 5/8 | 2 7/8 | 5/8, down: 1 3/4 | 3/4 | 1 3/4`),
and in sentences (`4 1/8 in across, with scores 5/8 in from each end`). What stands before a number holds from there
on; what stands behind it holds for what came before.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from foldwright.begin.recover.model import SIDES
from foldwright.begin.recover.notes.heads import LineHead
from foldwright.begin.recover.notes.noted import ALL_ROUND, EDGE_WAYS, EDGES, NotedLine, NotedRun, RunManner
from foldwright.begin.recover.notes.part_reading import PartReader
from foldwright.begin.recover.notes.parts import (
    DOUBTS,
    WAYS,
    NotedBound,
    NotedNumber,
    ReadPart,
    is_range,
    parts_of,
    unclear_dash,
)
from foldwright.begin.recover.notes.sides import find_sides
from foldwright.begin.recover.notes.tokens import Token
from foldwright.measure.length import Unit
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.limits import MOST_PANELS
from foldwright.recipe.facts.phrase import Phrase

_SIDED = (*SIDES, "length")
_SINGLE = (RunManner.UNSAID, RunManner.SINGLY)
_ADJECTIVES = frozenset({"wide", "high", "tall", "long"})
"""Said of one number, where each has a unit of its own."""
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
    return reader.read(head.body)


class _ClauseReader:
    """Goes through the parts of a line, with the run that is being gathered."""

    def __init__(self, whole: Phrase, meant: str, complaints: Complaints) -> None:
        self._whole = whole
        self._complaints = complaints
        self._run = NotedRun(meant=meant)
        self._runs: list[NotedRun] = [self._run]
        self._bound: NotedBound | None = None
        self._unit: Unit | None = None
        self._lengthwise = False
        self._ordered = True
        self._size: tuple[str, str] | None = None
        self._whole_next = False
        self._of_size = False
        """Whether the line begins with `size`: two numbers with a cross between are wanted."""
        self._wholes: list[tuple[NotedRun, NotedRun]] = []
        """Each whole, and the run beside which it stands."""
        self._count = 0

    # --- before the numbers -------------------------------------------------------------------------------------------

    def head(self, head: Sequence[Token], panel: str) -> None:
        """The words before the numbers."""
        kinds = [token.kind for token in head]
        if "cross" in kinds and (order := [kind for kind in kinds if kind in (*SIDES, "length")]):
            self._crossed_head(order)
            head = [token for token in head if token.kind not in (*SIDES, "length", "cross")]
        self._unit = next((token.unit for token in head if token.kind == "unit"), None)
        self._before(head)
        self._run.panel = panel

    def _crossed_head(self, order: list[str]) -> None:
        """`W x H: 105 x 108 mm`."""
        if "length" in order:
            self._lengthwise = True
        sides = [one if one in SIDES else "" for one in order]
        if len(sides) == 2 and "" in sides and set(sides) != {""}:
            known = sides[1 - sides.index("")]
            sides[sides.index("")] = SIDES[1 - SIDES.index(known)]
        if len(sides) == 2 and set(sides) == set(SIDES):
            self._size = sides[0], sides[1]

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
        parts = list(self._filled(list(parts_of(body))))
        for number, (mark, part) in enumerate(parts, 1):
            if mark and mark.kind == "equals":
                self._equals(number == len(parts))
            self._parts(reader.read(mark, part, number == len(parts)))
            if len(self._complaints.findings) - found > _MOST_TOLD:
                return None
            if self._count > _MOST_NUMBERS:
                self._complaints.fault("too-many-panels", self._whole, word="", most=MOST_PANELS)
                return None
        return self._line() if len(self._complaints.findings) == found else None

    def _equals(self, last: bool) -> None:
        """`1 + 2 + 1 = 4`, or `4 = 1 + 2 + 1`: the number that is alone is the whole."""
        if len(self._run.numbers) == 1 and not last:
            self._last_is_whole()
        else:
            self._whole_next = True

    def _filled(
        self, parts: Sequence[tuple[Token | None, list[Token]]]
    ) -> Iterator[tuple[Token | None, Sequence[Token]]]:
        """The parts that say something; what stands behind `= ` is one of its own, and so is an empty cell."""
        for at, (mark, part) in enumerate(parts):
            following = parts[at + 1][0] if at + 1 < len(parts) else None
            numbered = next((place for place, token in enumerate(part) if token.kind == "number"), len(part))
            equals = next((place for place, token in enumerate(part[numbered:], numbered) if token.kind == "equals"), 0)
            plain = [token for token in part if token.kind != "equals"]
            if equals:
                yield mark, part[:equals]
                behind = [token for token in part[equals:] if token.kind != "equals"]
                if behind:
                    yield part[equals], behind
                else:
                    self._complaints.fault("nothing-read", self._whole)
            elif plain:
                yield mark, plain
            elif mark and following and mark.kind == following.kind == "bar":
                yield mark, [Token("unread", mark.end, mark.end)]
            elif mark and mark.kind == "cross":
                said = self._whole.text[mark.start : mark.end]
                self._complaints.fault("reading-named-oddly", self._whole, name=said)

    def _line(self) -> NotedLine | None:
        for whole, beside in self._wholes:
            whole.side = whole.side or beside.side
        wholes = [whole for whole, _ in self._wholes]
        runs = tuple(run for run in (*self._runs, *wholes) if run.numbers)
        half = next((run for run in runs if run.glued and _may_be_mixed(run)), None)
        if half:
            first, last = (number.phrase for number in half.numbers)
            said = self._whole.part(first.start - self._whole.start, last.end - self._whole.start)
            self._complaints.fault("reading-comma-unclear", said)
        elif not runs:
            self._complaints.fault("nothing-read", self._whole)
        elif self._of_size and not any(run.way is RunManner.WHOLE for run in runs):
            self._complaints.fault("size-of-two", self._whole)
        elif (left := find_sides(runs)) is not None:
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
            if self._run.closed and part.number and not self._is_whole(part):
                self._open()
            self._mark(part)
            self._before(part.before)
            if part.number is None:
                self._doubted(part)
                continue
            if self._whole_next:
                self._add_whole(part.number)
            else:
                self._add(part, part.number)
            self._behind(part.behind)
            if part.opens and len(self._run.numbers) == 1 and not self._run.closed:
                # `105 (16 / 73 / 16) mm`
                self._last_is_whole()

    @staticmethod
    def _is_whole(part: ReadPart) -> bool:
        """`edge at 105` stays with the run before it, unless it names a side."""
        sided = any(word.kind in _SIDED for word in (*part.before, *part.behind))
        return not sided and any(word.kind in ("whole", "edge") for word in part.before)

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
        if not numbers and self._wholes and not self._run.side:
            # `whole: 4 1/8 x 4 1/4 in`
            numbers += self._wholes.pop()[0].numbers
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
        first, _ = numbers.pop(), self._runs.pop()
        order = self._size or SIDES
        self._ordered = self._size is not None or self._of_size
        for side, number in zip(order, (first, part.number), strict=True):
            self._runs.append(self._new(RunManner.WHOLE, side, number))
        self._run = NotedRun()
        self._runs.append(self._run)
        self._behind([word for word in part.behind if word.kind != "whole"])

    def _new(self, way: RunManner, side: str, number: NotedNumber) -> NotedRun:
        return NotedRun(way, side, side, [number], closed=True, place=number.phrase.place)

    def _open(self) -> None:
        """A run of its own for what follows, about the same side as far as nobody says otherwise."""
        last = self._run
        self._run = NotedRun(meant=last.side or last.meant, follows_scores=last.scores or last.follows_scores)
        self._runs.append(self._run)

    # --- words about numbers ------------------------------------------------------------------------------------------

    def _before(self, words: Sequence[Token]) -> None:
        """Words before a number: what is said from here on."""
        for word in (word for word in words if word.kind in WAYS or word.kind == "count"):
            if word.kind in ("whole", "edge"):
                self._whole_next = True
                continue
            if word.kind != "scores" or not self._run.scores or self._run.closed:
                # `score 5/8, score 3 1/2` goes on with one run.
                self._start()
            if word.kind == "count" or (word.kind == "scores" and word.value is not None):
                self._run.counted = word
            self._said(word)

    def _said(self, word: Token) -> None:
        """How the numbers of a run were measured."""
        run = self._run
        match word.kind:
            case "across" | "down" | "length" | "backwards":
                run.side = self._side(word)
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
            case "size":
                self._of_size = True
            case "square":
                self._complaints.fault("size-of-two", self._whole)

    def _start(self) -> None:
        self._whole_next = False
        if self._run.numbers:
            self._open()

    def _side(self, word: Token) -> str:
        if word.kind == "length":
            self._lengthwise = True
        if word.kind == "backwards":
            self._run.backwards = True
            return "across" if self._whole.text[word.start : word.end].lower().startswith("right") else "down"
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
            before = [one.way for one in self._runs if one is not run and one.way in _OTHER_END]
            run.way = _OTHER_END[before[-1]] if before else RunManner.FROM_END
        else:
            run.way = RunManner.FROM_START

    def _each(self, word: Token) -> None:
        self._run.way = RunManner.EACH_END
        if word.kind == "all-round":
            self._run.side = ALL_ROUND
            return
        said = self._whole.text[word.start : word.end].lower()
        implied = "across" if "left" in said else "down" if "top" in said else ""
        if implied:
            self._run.side = self._run.side or implied

    def _add(self, part: ReadPart, number: NotedNumber) -> None:
        run = self._run
        run.place = run.place or number.phrase.place
        if not run.numbers and number.value == 0:
            # The ruler lay at this edge with its nought, so all others are measured from there.
            run.way = RunManner.FROM_START if run.way in (RunManner.UNSAID, RunManner.SINGLY) else run.way
            return
        if part.panel and part.panel != len(run.numbers) + 1:
            self._single_panel(part, number)
            return
        run.numbers += [number] * part.times
        self._count += part.times

    def _single_panel(self, part: ReadPart, number: NotedNumber) -> None:
        run = self._run
        alone = NotedRun(RunManner.PANEL, run.side, run.meant, [number], str(part.panel), place=number.phrase.place)
        self._runs.insert(len(self._runs) - 1, alone)

    def _add_whole(self, number: NotedNumber) -> None:
        self._whole_next = False
        if number.value == 0:
            return
        side, meant = self._run.side, self._run.meant
        whole = self._new(RunManner.WHOLE, side, number)
        whole.meant = side or meant
        self._wholes.append((whole, self._run))

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
                    self._part_last()
                self._each(word)
                self._run.closed = True
            elif word.kind == "square":
                self._squared()
            elif word.kind == "edge" and run.way not in _SINGLE:
                self._last_is_whole()
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
            self._part_last()
            run = self._run
        run.side = side
        run.closed = True
        if run.follows_scores and run.way is RunManner.UNSAID and not any(number.name for number in run.numbers):
            run.scores, run.way = True, RunManner.FROM_START

    def _whole_behind(self, side: Token | None) -> None:
        """`4 1/8 overall across`: from here on that side is meant."""
        number = self._run.numbers.pop()
        own = self._side(side) if side else ""
        whole = self._new(RunManner.WHOLE, own or self._run.side, number)
        whole.meant = whole.side or self._run.meant
        self._wholes.append((whole, self._run))
        if own:
            self._open()
            self._run.meant = own

    def _part_last(self) -> None:
        """Make a run of its own of the last number."""
        number = self._run.numbers.pop()
        self._open()
        self._run.numbers.append(number)
        self._run.place = number.phrase.place

    def _last_is_whole(self) -> None:
        if self._run.numbers:
            number = self._run.numbers.pop()
            self._add_whole(number)

    def _squared(self) -> None:
        """`4 in square`."""
        if len(self._run.numbers) != 1 or self._run.side:
            self._complaints.fault("size-of-two", self._whole)
            return
        number = self._run.numbers.pop()
        for side in SIDES:
            self._runs.insert(-1, self._new(RunManner.WHOLE, side, number))


def _may_be_mixed(run: NotedRun) -> bool:
    """`3,1/2`: two panels, or three and a half."""
    if len(run.numbers) != 2 or run.numbers[0].unit:
        return False
    whole, part = (number.value for number in run.numbers)
    return whole is not None and part is not None and whole.denominator == 1 and part < 1
