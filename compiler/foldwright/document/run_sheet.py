"""The run sheet of a recipe: what is done and said when, for who teaches or records it live.

Its times are those of the plan. All that has to be got ready is done beforehand; the clock begins with the first move.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.in_class import PreparedPiece, class_document, spent_by
from foldwright.document.model import CautionText, Document, Picture, Reminder, StepText
from foldwright.document.quote_marks import curled
from foldwright.document.wording import sentence, span_words
from foldwright.document.words import Passage, Runs
from foldwright.plan.times import StepSpan, StepTime, Times, timetable
from foldwright.recipe.facts.clocks import write_clock
from foldwright.recipe.facts.moments import write_moment
from foldwright.recipe.words import Text

SMALL_MM = 60
"""A piece whose shorter side is no longer lies hidden under the hands that hold it (a reasoned guess)."""
_AS_A_WHOLE = frozenset(
    "cut fold roll turn bend wrap band post put-to fill lid drawer join press-flat colour paint spray heat".split()
)
"""Pictures of what is seen well from afar, as hands or the whole piece move. All else happens within a finger's
breadth: what is glued, threaded and cut into, one fold among several, what is read off a rule (a reasoned guess)."""
_MOST_CLOSE_UPS = 2
"""More there is no time for while one works (a reasoned guess)."""
_NOTHING_DONE = frozenset({"made", "rolled", "joined"})
"""Pictures of how it looks by now."""


class RunStep(Struct, frozen=True):
    """One step. `clock` is when it begins: empty for an optional one, which no time is planned for. `number` is that in
    the whole recipe. `resting` says until when what it leaves has to rest."""

    number: int
    heading: Runs
    clock: str
    lasts: str
    say: Passage
    """What to say: the step's short words, where it has any."""
    resting: str = ""
    on_the_table: tuple[Runs, ...] = ()
    cleared: tuple[Runs, ...] = ()
    close_ups: tuple[Runs, ...] = ()
    reminder: Reminder | None = None
    optional: bool = False


class RunSheet(Struct, frozen=True):
    """All of it. `ready` is what is got ready before the clock begins, and `ready_lasts` how long several such things
    take; `cautions` are those that no step reminds of."""

    document: Document
    whole: str
    ready: tuple[Runs, ...]
    ready_lasts: str
    cautions: tuple[CautionText, ...]
    estimated: str
    steps: tuple[RunStep, ...]
    labels: Mapping[str, str]


def run_sheet(document: Document, times: Times, begins: int | None = None, in_class: bool = False) -> RunSheet | None:
    """The run sheet; None where nothing is left to do. `begins` is a time of day in seconds, None for a clock that
    begins at nought. With `in_class` it has only what is done in class, the rest being ready."""
    words = catalogue(document.language)
    prepared: tuple[PreparedPiece, ...] = ()
    numbers = tuple(step.number for step in document.steps)
    if in_class:
        made = class_document(document)
        if made is None:
            return None
        document, prepared, numbers = made.document, made.prepared, made.numbers
    if not document.steps:
        return None
    steps = dict(zip(numbers, document.steps, strict=True))
    planned = [time for time in times.steps if time.number in steps]
    wanted = [time for time in planned if not time.optional]
    spans = timetable(replace(time, get_ready=0) for time in wanted)
    writer = _Writer(document, words, begins, steps)
    ready = [time for time in wanted if time.get_ready]
    return RunSheet(
        document=document,
        whole=writer.whole(spans),
        ready=(*(_made_ready(piece, words) for piece in prepared), *map(writer.got_ready, ready)),
        ready_lasts=span_words(words, sum(time.get_ready for time in ready)) if len(ready) > 1 else "",
        cautions=tuple(_of_the_whole(document)),
        estimated=words.say("run-sheet.estimated") if any(time.estimated for time in wanted) else "",
        steps=tuple(writer.steps(planned, {span.number: span for span in spans})),
        labels=words.below("run-sheet.label"),
    )


def _of_the_whole(document: Document) -> Iterator[CautionText]:
    """The cautions that no step reminds of."""
    reminded = {caution.code for step in document.steps for caution in step.cautions if caution.reminder}
    return (caution for caution in document.cautions if caution.code not in reminded)


def _made_ready(piece: PreparedPiece, words: Catalogue) -> Runs:
    return (Text(words.say("run-sheet.made-ready", piece=piece.name, done=piece.done)),)


def _without_stop(title: Runs) -> Runs:
    """A sentence as a line of a list."""
    *rest, last = title
    return (*rest, Text(last.text.removesuffix("."))) if isinstance(last, Text) else title


class _Writer:
    """Words the steps of a document, by their numbers in the whole recipe."""

    def __init__(self, document: Document, words: Catalogue, begins: int | None, steps: Mapping[int, StepText]) -> None:
        self._document = document
        self._words = words
        self._begins = begins
        self._steps = steps
        self._names: dict[str, Runs] = {
            **{supply.said: supply.name for supply in document.supplies},
            **{tool.said: tool.name for tool in document.tools},
        }

    def whole(self, spans: Sequence[StepSpan]) -> str:
        """From when until when."""
        ends = max((span.rests for span in spans), default=0)
        lasts = span_words(self._words, ends) if ends else ""
        return self._words.say("run-sheet.whole", begins=self._clock(0), ends=self._clock(ends), lasts=lasts)

    def got_ready(self, time: StepTime) -> Runs:
        """What is to be done before for a step."""
        lasts = span_words(self._words, time.get_ready)
        heading = self._steps[time.number].heading
        return sentence(self._words, "run-sheet.get-ready", number=time.number, heading=heading, lasts=lasts)

    def steps(self, planned: Sequence[StepTime], spans: Mapping[int, StepSpan]) -> Iterator[RunStep]:
        """Every step, with what is not needed any more by then."""
        texts = list(self._steps.values())
        gone: set[str] = set()
        for at, time in enumerate(planned):
            step = self._steps[time.number]
            span = spans.get(time.number)
            spent = spent_by(self._document, texts[:at], texts[at:]) - gone
            gone |= spent
            yield RunStep(
                number=time.number,
                heading=step.heading,
                clock=self._clock(span.begins) if span else "",
                lasts=step.time.hands_on.words if step.time.hands_on else "",
                say=step.wordings[-1],
                resting=self._resting(time, span) if span and time.waiting else "",
                on_the_table=(*self._pieces(step), *(name for said, name in self._names.items() if said in step.needs)),
                cleared=tuple(name for said, name in self._names.items() if said in spent),
                close_ups=tuple(self._close_ups(step)),
                reminder=step.reminder,
                optional=step.optional,
            )

    def _clock(self, seconds: int) -> str:
        return write_moment(seconds) if self._begins is None else write_clock(self._begins + seconds)

    def _resting(self, time: StepTime, span: StepSpan) -> str:
        facts = {"until": self._clock(span.rests), "number": time.meanwhile}
        return self._words.say(f"run-sheet.resting{'-meanwhile' if time.meanwhile in self._steps else ''}", **facts)

    def _pieces(self, step: StepText) -> Iterator[Runs]:
        """The pieces it works on; one that is only now cut out lies there as a sheet."""
        for piece in self._document.pieces:
            if piece.name in step.pieces and piece.supply not in step.needs:
                several = self._words.say("page.piece.several", piece=curled(piece.name), count=piece.count)
                yield (Text(several if piece.count > 1 else curled(piece.name)),)

    def _close_ups(self, step: StepText) -> Iterator[Runs]:
        """What a viewer would miss from afar, in the order of the work."""
        worth = [one for one in step.pictures if self._is_close(one)]
        # Of several, numbers are heard as well as seen.
        best = sorted(worth, key=lambda one: one.kind.startswith("score"))[:_MOST_CLOSE_UPS]
        yield from (self._close_up(one) for one in worth if one in best)

    def _close_up(self, picture: Picture) -> Runs:
        """What the picture's title says, where that needs no picture beside it."""
        key = f"run-sheet.close-up.{picture.kind}"
        if self._words.has(key):
            return (Text(self._words.say(key, piece=curled(picture.piece))),)
        return _without_stop(picture.title)

    def _is_close(self, picture: Picture) -> bool:
        if picture.kind in _NOTHING_DONE:
            return False
        piece = next((one for one in self._document.pieces if one.name == picture.piece), None)
        sides = [side.exact.mm for side in (piece.across, piece.down) if side] if piece else []
        return picture.kind not in _AS_A_WHOLE or bool(sides and min(sides) <= SMALL_MM)
