"""What `foldwright check` found: told in the terminal, or printed as JSON for other programs.

The types below are that JSON. findings.schema.json beside this module is made of them (`foldwright.schemas`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from foldwright.cli.telling import extent
from foldwright.document.data_format import Count, DataPart, Exact, Ordinal, encoded
from foldwright.document.findings import Told, ToldMend
from foldwright.finding import Strength
from foldwright.outputs.sources import Source

type Text = Annotated[str, Meta(min_length=1)]
type Sentences = tuple[Text, ...]
type StrengthName = Literal["fault", "misfit", "thought"]


class ChangeEntry(DataPart, frozen=True):
    """The characters from `start` up to, not including, `end` give way to `new`."""

    start: Annotated[int, Meta(ge=0, description="From 0, in characters of the file; a line end counts as one.")]
    end: Annotated[int, Meta(ge=0, description="Counted likewise.")]
    new: str


class MendEntry(DataPart, frozen=True):
    """One way to put it right: changes of `file`, made together."""

    label: Annotated[str, Meta(min_length=1, description="What it does, in a few words.")]
    changes: Annotated[tuple[ChangeEntry, ...], Meta(min_length=1)]


class FindingEntry(DataPart, frozen=True):
    """Something that is the matter with a recipe, or a thought about it."""

    file: str
    line: Annotated[int, Meta(ge=0, description="From 1; 0 when it concerns the whole file.")]
    column: Annotated[int, Meta(ge=0, description="From 1, in characters.")]
    length: Annotated[int, Meta(ge=1, description="How many characters of the line are meant.")]
    strength: StrengthName
    code: Annotated[str, Meta(pattern="^[a-z0-9]+(-[a-z0-9]+)*$", description="What `hush:` takes.")]
    says: Text
    understood: str
    remedy: str
    line_text: Annotated[str, Meta(description="The author's own line.")]
    mends: Annotated[tuple[MendEntry, ...], Meta(description="Ways to put it right, the likeliest first.")]


class PieceEntry(DataPart, frozen=True):
    """A piece that could be laid flat, as it was understood, in the recipe's own units."""

    name: str
    count: Annotated[int, Meta(ge=1)]
    supply: Annotated[str, Meta(description="What it is cut from; empty when that is not said.")]
    optional: bool
    doubtful: Annotated[bool, Meta(description="Whether its own numbers disagree.")]
    work: Annotated[Sentences, Meta(description="Its cuts, scores and holes.")]
    worked_out: Annotated[Sentences, Meta(description="How its blank follows from the room inside.")]
    fit: Annotated[Sentences, Meta(description="Its borders, and the room where it goes over or into something.")]


class MeasureEntry(DataPart, frozen=True):
    """A measure found in the words, and how it was understood."""

    line: Ordinal
    column: Ordinal
    said: Text
    understood: Text
    exact_mm: Annotated[tuple[Exact, ...], Meta(min_length=1)]
    meant: Annotated[str, Meta(description="Which length of which piece each was taken for.")]
    why: Annotated[str, Meta(min_length=1, description="What made it a measure.")]


class PassedOverEntry(DataPart, frozen=True):
    """What looked like a measure and was not taken for one, and why."""

    line: Ordinal
    column: Ordinal
    said: Text
    why: Text


class RecipeEntry(DataPart, frozen=True):
    """A recipe, or one of its sizes."""

    recipe: Annotated[str, Meta(description="The recipe's text, by the path of the call.")]
    findings: tuple[FindingEntry, ...]
    pieces: tuple[PieceEntry, ...]
    size: Annotated[str | UnsetType, Meta(description="Which size this is; absent for the recipe as written.")] = UNSET
    measures: Annotated[tuple[MeasureEntry, ...] | UnsetType, Meta(description="Only with --measures.")] = UNSET
    passed_over: Annotated[tuple[PassedOverEntry, ...] | UnsetType, Meta(description="Only with --measures.")] = UNSET


class Tally(DataPart, frozen=True):
    """How many findings of each strength there are in all."""

    fault: Count
    misfit: Count
    thought: Count


class CheckData(DataPart, frozen=True):
    """What `foldwright check --format json` prints."""

    format: Literal["foldwright findings"]
    version: Annotated[Literal[1], Meta(description="Grows when a name is taken away or changes its meaning.")]
    recipes: Annotated[tuple[RecipeEntry, ...], Meta(description="One entry a recipe, in the order of the call.")]
    in_all: Tally


_STRENGTHS: Mapping[Strength, StrengthName] = {
    Strength.FAULT: "fault",
    Strength.MISFIT: "misfit",
    Strength.THOUGHT: "thought",
}


class Report(Struct, frozen=True):
    """What there is to tell of one recipe, or of what differs in one of its sizes."""

    source: Source
    told: tuple[Told, ...]
    measures: tuple[MeasureEntry, ...] = ()
    passed_over: tuple[PassedOverEntry, ...] = ()
    pieces: tuple[PieceEntry, ...] = ()

    @property
    def wrong(self) -> bool:
        """Whether anything is stronger than a thought."""
        return any(one.strength > Strength.THOUGHT for one in self.told)


def as_data(reports: Sequence[Report], measures: bool) -> str:
    """The reports as JSON text; `measures` when they were asked for."""
    counts = Counter(_STRENGTHS[told.strength] for one in reports for told in one.told)
    tally = Tally(counts["fault"], counts["misfit"], counts["thought"])
    data = CheckData("foldwright findings", 1, tuple(_entry(one, measures) for one in reports), tally)
    return encoded(data, indent=2)


def _entry(report: Report, measures: bool) -> RecipeEntry:
    listed = measures and not report.source.size
    return RecipeEntry(
        recipe=_sayable(report.source.path),
        findings=tuple(_finding(told) for told in report.told),
        pieces=report.pieces,
        size=report.source.size or UNSET,
        measures=report.measures if listed else UNSET,
        passed_over=report.passed_over if listed else UNSET,
    )


def _finding(told: Told) -> FindingEntry:
    return FindingEntry(
        file=_sayable(told.file),
        line=told.line,
        column=told.column,
        length=extent(told),
        strength=_STRENGTHS[told.strength],
        code=told.code,
        says=_sayable(told.says),
        understood=told.understood,
        remedy=told.remedy,
        line_text=told.line_text,
        mends=tuple(_mend(mend) for mend in told.mends),
    )


def _mend(mend: ToldMend) -> MendEntry:
    changes = (ChangeEntry(one.start, one.end, one.new) for one in mend.changes)
    return MendEntry(mend.label, tuple(changes))


def _sayable(path: str) -> str:
    """A path as text that can be written: the system lets bytes stand in it that are no letters."""
    return path.encode("utf-8", "replace").decode("utf-8")
