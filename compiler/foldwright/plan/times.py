"""Adding up the time a recipe takes: hands-on, getting ready, waiting, and how long it is from first to last."""

from __future__ import annotations

from collections.abc import Container, Iterable

from msgspec import Struct

from foldwright.recipe.coherence import step_named
from foldwright.recipe.facts.durations import usual_time
from foldwright.recipe.model import Recipe, Step, When
from foldwright.vocabulary import act_of
from foldwright.vocabulary.acts import STEP_SECONDS, Act


class StepTime(Struct, frozen=True):
    """Whole seconds for one making. The flags say which were estimated because the author gave none.

    `meanwhile` is the number of the step the wait may overlap, 0 when nothing may. `optional` steps are in no total.
    """

    number: int
    hands_on: int
    get_ready: int
    waiting: int
    when: When
    optional: bool = False
    hands_on_estimated: bool = False
    waiting_estimated: bool = False
    meanwhile: int = 0

    @property
    def estimated(self) -> bool:
        return self.hands_on_estimated or self.waiting_estimated


class Totals(Struct, frozen=True):
    """Sums in seconds over some steps; `elapsed` is from first move to last, waits overlapped where they may be."""

    hands_on: int = 0
    get_ready: int = 0
    waiting: int = 0
    elapsed: int = 0
    estimated: bool = False


class Times(Struct, frozen=True):
    """`whole` is one person making one from beginning to end; the others count only the steps of their own time."""

    steps: tuple[StepTime, ...]
    whole: Totals
    in_class: Totals

    @property
    def estimated(self) -> bool:
        """Whether any time is not the author's own."""
        return self.whole.estimated


def add_up(recipe: Recipe) -> Times:
    """The times of a recipe for one making; what the author left out is estimated from the acts (vocabulary)."""
    counts = {piece.name.value: piece.count.value if piece.count else 1 for piece in recipe.pieces}
    steps = tuple(_step_time(step, recipe, counts) for step in recipe.steps)
    return Times(steps, _totals(steps), _totals(step for step in steps if step.when is When.IN_CLASS))


def class_totals(times: Times, beforehand: Container[int]) -> Totals:
    """Of the steps in class, without those by number that are done beforehand after all."""
    in_class = (step for step in times.steps if step.when is When.IN_CLASS)
    return _totals(step for step in in_class if step.number not in beforehand)


def _step_time(step: Step, recipe: Recipe, counts: dict[str, int]) -> StepTime:
    acts = _acts(step, counts)
    estimate = sum(act.seconds * times for act, times in acts) if acts else STEP_SECONDS
    given = step.time.value if step.time else _measured(step)
    waiting = step.wait.value.seconds if step.wait else max((act.waiting for act, _ in acts), default=0)
    other = step_named(recipe.steps, step.wait.value.meanwhile) if step.wait and step.wait.value.meanwhile else None
    return StepTime(
        number=step.number,
        hands_on=estimate if given is None else given,
        get_ready=step.get_ready.value if step.get_ready else 0,
        waiting=waiting,
        when=step.when,
        optional=step.optional,
        hands_on_estimated=given is None,
        waiting_estimated=step.wait is None and waiting > 0,
        meanwhile=other.number if other and other.number > step.number else 0,
    )


def _measured(step: Step) -> int | None:
    """How long it usually took, if that was measured."""
    return usual_time([reading.value for reading in step.measured]) if step.measured else None


def _acts(step: Step, counts: dict[str, int]) -> list[tuple[Act, int]]:
    """The acts of a step and how often each is done: once for every piece, as many as there are of it."""
    found = [
        (act, sum(counts.get(piece, 1) for piece in doing.subjects) or 1)
        for doing in step.doings
        if (act := act_of(doing.act))
    ]
    first = step.heading.value.split()[:1]
    return found or [(act, 1) for word in first if (act := act_of(word.strip(",.:;")))]


def _totals(steps: Iterable[StepTime]) -> Totals:
    chosen = [step for step in steps if not step.optional]
    return Totals(
        hands_on=sum(step.hands_on for step in chosen),
        get_ready=sum(step.get_ready for step in chosen),
        waiting=sum(step.waiting for step in chosen),
        elapsed=_elapsed(chosen),
        estimated=any(step.estimated for step in chosen),
    )


class StepSpan(Struct, frozen=True):
    """When a step is done, in seconds from the first move: its work, and until when what it leaves has to rest.

    `rests` is when the work ends where nothing has to.
    """

    number: int
    begins: int
    ends: int
    rests: int


def timetable(steps: Iterable[StepTime]) -> tuple[StepSpan, ...]:
    """One person goes through the steps in order; a wait holds up every later step but the one it may overlap."""
    clock = 0
    waits: list[tuple[int, int]] = []
    spans: list[StepSpan] = []
    for step in steps:
        begins = max([clock, *(end for end, meanwhile in waits if meanwhile != step.number)])
        waits = [(end, meanwhile) for end, meanwhile in waits if end > begins]
        clock = begins + step.get_ready + step.hands_on
        spans.append(StepSpan(step.number, begins, clock, clock + step.waiting))
        if step.waiting:
            waits.append((clock + step.waiting, step.meanwhile))
    return tuple(spans)


def _elapsed(steps: list[StepTime]) -> int:
    return max((span.rests for span in timetable(steps)), default=0)
