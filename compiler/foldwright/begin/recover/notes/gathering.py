"""The runs of a line as they are gathered: where a new one begins, and which numbers are wholes."""

from __future__ import annotations

from msgspec import Struct, field

from foldwright.begin.recover.model import SIDES
from foldwright.begin.recover.notes.noted import NotedRun, RunManner
from foldwright.begin.recover.notes.parts import NotedNumber, ReadPart


class GatheredRuns(Struct):
    """The runs of a line so far, in order; `run` is the last, to which the next number belongs.

    `wholes` has each whole, and the run beside which it stands; `whole_next` is whether the next number is one. `count`
    is how many panels all numbers stand for.
    """

    run: NotedRun
    runs: list[NotedRun] = field(default_factory=list)
    wholes: list[tuple[NotedRun, NotedRun]] = field(default_factory=list)
    whole_next: bool = False
    count: int = 0

    def __post_init__(self) -> None:
        self.runs.append(self.run)

    @staticmethod
    def lone(way: RunManner, side: str, number: NotedNumber) -> NotedRun:
        """A run of one number, to which no other belongs."""
        return NotedRun(way, side, side, [number], closed=True, place=number.phrase.place)

    def open(self) -> None:
        """A run of its own for what follows, about the same side as far as nobody says otherwise."""
        last = self.run
        self.begin(NotedRun(meant=last.side or last.meant, follows_scores=last.scores or last.follows_scores))

    def begin(self, run: NotedRun) -> None:
        """From here on numbers belong to this run."""
        self.run = run
        self.runs.append(run)

    def start(self) -> None:
        """Words before a number say something new."""
        self.whole_next = False
        if self.run.numbers:
            self.open()

    def add(self, part: ReadPart, number: NotedNumber) -> None:
        """A number to the run, as often as it stands for a panel."""
        run = self.run
        run.place = run.place or number.phrase.place
        if not run.numbers and number.value == 0:
            # The ruler lay at this edge with its nought, so all others are measured from there.
            run.way = RunManner.FROM_START if run.way in (RunManner.UNSAID, RunManner.SINGLY) else run.way
            return
        if part.panel and part.panel != len(run.numbers) + 1:
            self._single_panel(part, number)
            return
        run.numbers += [number] * part.times
        self.count += part.times

    def _single_panel(self, part: ReadPart, number: NotedNumber) -> None:
        run = self.run
        alone = NotedRun(RunManner.PANEL, run.side, run.meant, [number], str(part.panel), place=number.phrase.place)
        self.runs.insert(len(self.runs) - 1, alone)

    def add_whole(self, number: NotedNumber) -> None:
        """A number from edge to edge."""
        self.whole_next = False
        if number.value == 0:
            return
        side, meant = self.run.side, self.run.meant
        whole = self.lone(RunManner.WHOLE, side, number)
        whole.meant = side or meant
        self.wholes.append((whole, self.run))

    def part_last(self) -> None:
        """Make a run of its own of the last number."""
        number = self.run.numbers.pop()
        self.open()
        self.run.numbers.append(number)
        self.run.place = number.phrase.place

    def last_is_whole(self) -> None:
        """The last number goes from edge to edge."""
        if self.run.numbers:
            number = self.run.numbers.pop()
            self.add_whole(number)

    def squared(self) -> bool:
        """`4 in square`: the one number is both wholes; whether it can be."""
        if len(self.run.numbers) != 1 or self.run.side:
            return False
        number = self.run.numbers.pop()
        for side in SIDES:
            self.runs.insert(-1, self.lone(RunManner.WHOLE, side, number))
        return True

    def finished(self) -> tuple[NotedRun, ...]:
        """All runs that have numbers, the wholes last."""
        for run in self.runs:
            if run.between and len(run.numbers) == 1:
                # `3 1/2 between the scores`
                run.way, run.panel = RunManner.PANEL, "middle"
        for whole, beside in self.wholes:
            whole.side = whole.side or beside.side
        return tuple(run for run in (*self.runs, *(whole for whole, _ in self.wholes)) if run.numbers)
