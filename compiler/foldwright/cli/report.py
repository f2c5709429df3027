"""What `foldwright check` found: told in the terminal, or printed as JSON for other programs.

The types below are that JSON. findings.schema.json beside this module is made of them (`start.py schemas`).
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated, Literal

import msgspec
from msgspec import UNSET, Meta, Struct, UnsetType

from foldwright.cli.telling import extent
from foldwright.document.told import Told
from foldwright.finding import Strength
from foldwright.outputs.sources import Source

SCHEMA = Path(__file__).with_name("findings.schema.json")

type Text = Annotated[str, Meta(min_length=1)]
type Sentences = tuple[Text, ...]
type FromOne = Annotated[int, Meta(ge=1)]
type FromNothing = Annotated[int, Meta(ge=0)]
type StrengthName = Literal["fault", "misfit", "thought"]


class FindingEntry(Struct, frozen=True, forbid_unknown_fields=True):
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


class PieceEntry(Struct, frozen=True, forbid_unknown_fields=True):
    """A piece that could be laid flat, as it was understood, in the recipe's own units."""

    name: str
    count: FromOne
    supply: Annotated[str, Meta(description="What it is cut from; empty when that is not said.")]
    optional: bool
    doubtful: Annotated[bool, Meta(description="Whether its own numbers disagree.")]
    work: Annotated[Sentences, Meta(description="Its cuts, scores and holes.")]
    worked_out: Annotated[Sentences, Meta(description="How its blank follows from the room inside.")]
    fit: Annotated[Sentences, Meta(description="Its borders, and the room where it goes over or into something.")]


class MeasureEntry(Struct, frozen=True, forbid_unknown_fields=True):
    """A measure found in the words, and how it was understood."""

    line: FromOne
    column: FromOne
    said: Text
    understood: Text
    exact_mm: Annotated[
        tuple[Annotated[str, Meta(pattern="^[0-9]+(/[0-9]+)?$")], ...],
        Meta(min_length=1, description="Exact fractions of a millimetre."),
    ]
    meant: Annotated[str, Meta(description="Which length of which piece each was taken for.")]
    why: Annotated[str, Meta(min_length=1, description="What made it a measure.")]


class PassedOverEntry(Struct, frozen=True, forbid_unknown_fields=True):
    """What looked like a measure and was not taken for one, and why."""

    line: FromOne
    column: FromOne
    said: Text
    why: Text


class RecipeEntry(Struct, frozen=True, forbid_unknown_fields=True):
    """A recipe, or one of its sizes."""

    recipe: Annotated[str, Meta(description="The recipe's text, by the path of the call.")]
    findings: tuple[FindingEntry, ...]
    pieces: tuple[PieceEntry, ...]
    size: Annotated[str | UnsetType, Meta(description="Which size this is; absent for the recipe as written.")] = UNSET
    measures: Annotated[tuple[MeasureEntry, ...] | UnsetType, Meta(description="Only with --measures.")] = UNSET
    passed_over: Annotated[tuple[PassedOverEntry, ...] | UnsetType, Meta(description="Only with --measures.")] = UNSET


class Tally(Struct, frozen=True, forbid_unknown_fields=True):
    """How many findings of each strength there are in all."""

    fault: FromNothing
    misfit: FromNothing
    thought: FromNothing


class CheckData(Struct, frozen=True, forbid_unknown_fields=True):
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
        return any(one.strength > Strength.THOUGHT for one in self.told)


def as_data(reports: Sequence[Report], measures: bool) -> bytes:
    """The reports as JSON text; `measures` when they were asked for."""
    counts = Counter(_STRENGTHS[told.strength] for one in reports for told in one.told)
    tally = Tally(counts["fault"], counts["misfit"], counts["thought"])
    data = CheckData("foldwright findings", 1, tuple(_entry(one, measures) for one in reports), tally)
    return msgspec.json.format(msgspec.json.encode(data), indent=2) + b"\n"


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
    )


def _sayable(path: str) -> str:
    """A path as text that can be written: the system lets bytes stand in it that are no letters."""
    return path.encode("utf-8", "replace").decode("utf-8")


def schema_text() -> str:
    """The JSON Schema (draft 2020-12) of `CheckData`, as it stands in findings.schema.json."""
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **msgspec.json.schema(CheckData)}
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def write_schema() -> Path:
    """Write findings.schema.json anew; where it is."""
    SCHEMA.write_text(schema_text(), encoding="utf-8")
    return SCHEMA
