"""All there is to do before class, for all recipes together: sheets to cut, lengths, steps, labels, bags to pack."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from enum import Enum
from fractions import Fraction

from msgspec import Struct

from foldwright.event.facts.stock import ShelfLine
from foldwright.event.plan.balancing import Precedence, Task
from foldwright.event.plan.cutting import SheetPlan, SheetWork
from foldwright.event.plan.model import Making, shares
from foldwright.measure.amounts import Dimension
from foldwright.plan.times import StepTime
from foldwright.recipe.model import Recipe, Step, When
from foldwright.vocabulary import kind_of
from foldwright.vocabulary.names import plain_words


class Bags(Struct, frozen=True):
    """So many bags alike, and the colour in them of each supply that comes in several."""

    count: int
    colours: dict[str, str]


def bags_of(making: Making, packed: frozenset[str]) -> tuple[Bags, ...]:
    """As few kinds as can be: each colour goes into as many bags as are planned of it, one colour after the other.

    `packed` are the supplies that go into bags, or of which pieces do; one kind where none has several colours.
    """
    names = _colours(making.recipe, packed)
    if not names:
        return (Bags(making.all_kits, {}),)
    found = Counter(zip(*(_by_bag(colours, making.all_kits) for colours in names.values()), strict=True))
    return tuple(Bags(count, dict(zip(names, colours, strict=True))) for colours, count in found.items())


def _by_bag(colours: Sequence[str], bags: int) -> Iterator[str]:
    """The colour of each bag, from the first to the last."""
    for colour, share in zip(colours, shares(bags, len(colours)), strict=True):
        yield from [colour] * share


def _colours(recipe: Recipe, packed: frozenset[str]) -> dict[str, list[str]]:
    return {
        supply.name.value: [said.value for said in supply.colours]
        for supply in recipe.supplies
        if len(supply.colours) > 1 and supply.name.value in packed
    }


def supplies_in_bag(recipe: Recipe) -> tuple[str, ...]:
    """What goes into each bag, counted or cut to length; not what sticks and comes off a roll or out of a bottle."""
    found = []
    for supply in recipe.supplies:
        kind = kind_of(supply.kind.value if supply.kind else supply.name.value)
        shared = (
            kind is not None
            and kind.adhesive
            and (supply.use is None or supply.use.value.dimension is not Dimension.COUNT)
        )
        if supply.use is not None and not shared and not supply.sheets:
            found.append(supply.name.value)
    return tuple(found)


SET_STOP, CUT_THROUGH, CUT_LENGTH, STICK_LABEL, OPEN_BAG, PUT_IN = 20, 10, 10, 10, 10, 3
"""Seconds to set the stop, for one cut through a stack, to measure and cut a length, to stick on a bag label, to open
and close a bag, and for each thing that goes in (common practice, no source)."""
_TRIMMER = "trimmer"


class What(Enum):
    """What a job before class is about."""

    SHEETS = "sheets"
    LENGTHS = "lengths"
    STEP = "step"
    LABELS = "labels"
    BAGS = "bags"


class PlannedJob(Struct, frozen=True):
    """A task and what it is: layout `layout` of plan `plan` (both from 0), lengths of `supply`, step `step` (from 1).

    `recipe` (from 0) is whose it is, -1 for sheets, which may be cut for several. Sheets are counted in stacks.
    """

    task: Task
    what: What
    recipe: int = -1
    step: int = 0
    plan: int = -1
    layout: int = -1
    supply: str = ""

    @property
    def number(self) -> int:
        return self.task.number


class Jobs(Struct, frozen=True):
    """In order of work. `cut` are the steps (recipe, step) that the cutting plan does, `partly_cut` those it begins.

    `trimmers` is how many there are; `trimmers_said` is False where nobody says and one is reckoned with.
    """

    jobs: tuple[PlannedJob, ...]
    cut: tuple[tuple[int, int], ...]
    partly_cut: tuple[tuple[int, int], ...]
    trimmers: int
    trimmers_said: bool

    @property
    def tasks(self) -> tuple[Task, ...]:
        return tuple(job.task for job in self.jobs)


def jobs_of(
    makings: Sequence[Making],
    plans: Sequence[SheetPlan],
    in_bags: Sequence[Sequence[str]],
    cut: Sequence[Collection[int]],
    shelf: Mapping[str, ShelfLine],
) -> Jobs:
    """For each recipe, `in_bags` are the supplies that go into a bag, `cut` the steps that the cutting plan does."""
    trimmers = _trimmers(makings, shelf)
    made = _JobLister(makings, plans, trimmers or 1)
    for number in range(len(plans)):
        made.sheets(number)
    for recipe, supplies in enumerate(in_bags):
        made.lengths(recipe, supplies)
    for recipe, steps in enumerate(cut):
        made.steps(recipe, steps)
    for recipe, supplies in enumerate(in_bags):
        made.bags(recipe, supplies)
    return Jobs(tuple(made.jobs), tuple(made.cut), tuple(made.partly_cut), trimmers or 1, trimmers > 0)


def stacks_of(plan: SheetPlan, work: SheetWork) -> int:
    """Stacks to cut for a layout: its sheets, so many at once, rounded up."""
    return -(-work.layout.copies // plan.at_once)


def sheets_in(plan: SheetPlan, work: SheetWork, first: int, stacks: int) -> tuple[int, int]:
    """From which sheet to which (both from 1) so many stacks hold, the first stack of them given."""
    return (first - 1) * plan.at_once + 1, min((first + stacks - 1) * plan.at_once, work.layout.copies)


def _trimmers(makings: Sequence[Making], shelf: Mapping[str, ShelfLine]) -> int:
    """What the shelf says, else the most that a step shares; 0: nobody says."""
    for name, line in shelf.items():
        words = plain_words(name)
        if words and words[-1] == _TRIMMER and line.counted is not None:
            return line.counted
    shared = (step.share for making in makings for step in making.recipe.steps)
    return max((said.value[0] for said in shared if said and _machine(said.value[1]) == _TRIMMER), default=0)


def _machine(name: str) -> str:
    """One name for a machine in all recipes: `paper trimmers` is the trimmer."""
    words = plain_words(name)
    return _TRIMMER if _TRIMMER in words else " ".join(words)


class _JobLister:
    def __init__(self, makings: Sequence[Making], plans: Sequence[SheetPlan], trimmers: int) -> None:
        self._makings, self._plans, self._trimmers = makings, plans, trimmers
        self.jobs: list[PlannedJob] = []
        self.cut: list[tuple[int, int]] = []
        self.partly_cut: list[tuple[int, int]] = []
        self._kits: dict[tuple[int, str], Fraction] = {}
        self._pieces: dict[tuple[int, str], list[Precedence]] = {}
        """By recipe and piece, what must be cut for so many kits."""
        self._lengths: dict[tuple[int, str], int] = {}
        self._steps: dict[tuple[int, int], int] = {}
        """The task of a length, and of a step, by recipe."""

    @property
    def _next(self) -> int:
        return len(self.jobs) + 1

    def sheets(self, number: int) -> None:
        """The layouts of a supply one after the other, a trimmer to each who cuts."""
        plan = self._plans[number]
        given: Counter[int] = Counter()
        for layout, work in enumerate(plan.work):
            held = Counter(work.layout.whole.pieces())
            if work.cuts:
                strokes = sum(cut.times * -(-cut.count // work.layout.copies) for cut in work.cuts)
                task = Task(
                    self._next,
                    strokes * CUT_THROUGH,
                    machine=_TRIMMER,
                    machines=self._trimmers,
                    count=stacks_of(plan, work),
                    set_up=len(work.cuts) * SET_STOP,
                )
                self._given(plan, held, given, task.number)
                self.jobs.append(PlannedJob(task, What.SHEETS, plan=number, layout=layout))
            for kind, each in held.items():
                given[kind] += each * work.layout.copies
        for kind, one in enumerate(plan.wanted):
            whose = one.recipe, one.piece
            self._kits[whose] = self._kits.get(whose, Fraction(0)) + Fraction(one.count, self._each(plan, kind))

    def _each(self, plan: SheetPlan, kind: int) -> int:
        """How many of a piece one kit has."""
        one = plan.wanted[kind]
        pieces = self._makings[one.recipe].recipe.pieces
        return next((piece.count.value for piece in pieces if piece.name.value == one.piece and piece.count), 1)

    def _given(self, plan: SheetPlan, held: Mapping[int, int], given: Mapping[int, int], task: int) -> None:
        """The kits for which this layout gives the pieces, after those of the layouts and colours before it."""
        for kind, each in held.items():
            one = plan.wanted[kind]
            whose, per_kit = (one.recipe, one.piece), self._each(plan, kind)
            start = self._kits.get(whose, Fraction(0)) + Fraction(given.get(kind, 0), per_kit)
            need = Precedence(task, start, Fraction(each * plan.at_once, per_kit))
            self._pieces.setdefault(whose, []).append(need)

    def lengths(self, recipe: int, in_bag: Sequence[str]) -> None:
        """What comes off spools for the bags, one length for each kit."""
        making = self._makings[recipe]
        for supply in making.recipe.supplies:
            use = supply.use.value if supply.use else None
            if use is None or use.dimension is not Dimension.LENGTH or supply.name.value not in in_bag:
                continue
            task = Task(self._next, CUT_LENGTH, count=making.all_kits)
            self._lengths[recipe, supply.name.value] = task.number
            self.jobs.append(PlannedJob(task, What.LENGTHS, recipe, supply=supply.name.value))

    def steps(self, recipe: int, cut: Collection[int]) -> None:
        """Steps before class, but those of which the cutting plan leaves nothing to do, and optional ones."""
        making = self._makings[recipe]
        worked = making.understood
        before = [step for step in worked.recipe.steps if step.when is When.BEFORE_CLASS and not step.optional]
        self.cut += [(recipe, step.number) for step in before if step.number in cut]
        steps = [step for step in before if step.number not in cut]
        for step in steps:
            after = [
                self._steps[recipe, other.number]
                for other in steps
                if other.number < step.number and _follows(step, other)
            ]
            task = self._step(recipe, step, worked.times.steps[step.number - 1], after)
            self._steps[recipe, step.number] = task.number
            self.jobs.append(PlannedJob(task, What.STEP, recipe, step.number))
            if any(
                (recipe, piece) in self._pieces
                for doing in step.doings
                if doing.act == "cut"
                for piece in doing.subjects
            ):
                self.partly_cut.append((recipe, step.number))

    def _step(self, recipe: int, step: Step, time: StepTime, after: Sequence[int]) -> Task:
        machines, machine = step.share.value if step.share else (0, "")
        machine = _machine(machine)
        return Task(
            number=self._next,
            seconds=time.hands_on,
            get_ready=time.get_ready,
            wait=time.waiting,
            after=(*after, *self._measured(recipe, step)),
            machine=machine,
            machines=self._trimmers if machine == _TRIMMER else machines,
            count=self._makings[recipe].all_kits,
            needs=self._cut_for(recipe, _subjects(step)),
        )

    def _measured(self, recipe: int, step: Step) -> Iterator[int]:
        """The lengths a step needs: those it names; all, where it names no piece."""
        named = {said.value.casefold() for said in step.uses}
        for (whose, supply), task in self._lengths.items():
            if whose == recipe and (not _subjects(step) or supply.casefold() in named):
                yield task

    def _cut_for(self, recipe: int, pieces: set[str]) -> tuple[Precedence, ...]:
        """The cutting that gives such pieces; all of the recipe's, where none is named."""
        found = dict.fromkeys(
            need
            for (whose, piece), needs in self._pieces.items()
            if whose == recipe and (piece in pieces or not pieces)
            for need in needs
        )
        return tuple(found)

    def bags(self, recipe: int, in_bag: Sequence[str]) -> None:
        """A label on each bag, then all that goes into it, when everything else of the kit is done."""
        making = self._makings[recipe]
        kits = making.all_kits
        labels = Task(self._next, STICK_LABEL, count=kits)
        self.jobs.append(PlannedJob(labels, What.LABELS, recipe))
        before = [number for (whose, _), number in (*self._steps.items(), *self._lengths.items()) if whose == recipe]
        task = Task(
            self._next,
            OPEN_BAG + PUT_IN * _things(making.recipe, in_bag),
            after=(*before, labels.number),
            count=kits,
            needs=self._cut_for(recipe, set()),
        )
        self.jobs.append(PlannedJob(task, What.BAGS, recipe))


def _things(recipe: Recipe, in_bag: Sequence[str]) -> int:
    """Pieces, and supplies by their number; what is no number is one thing."""
    pieces = sum(piece.count.value if piece.count else 1 for piece in recipe.pieces)
    uses = [supply.use.value for supply in recipe.supplies if supply.use and supply.name.value in in_bag]
    counted = (use.number if use.dimension is Dimension.COUNT and use.number.denominator == 1 else 1 for use in uses)
    return pieces + sum(map(int, counted))


def _follows(step: Step, other: Step) -> bool:
    """Steps that work on the same piece keep their order; one that names no piece comes after all before it."""
    mine, its = _subjects(step), _subjects(other)
    return not mine or not its or not mine.isdisjoint(its)


def _subjects(step: Step) -> set[str]:
    return {subject for doing in step.doings for subject in doing.subjects}
