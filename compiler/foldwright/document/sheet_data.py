"""The format of `sheet.json`, as types: their fields are its keys, their docstrings stand in its JSON Schema."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta, field

from foldwright.document.data_format import Count, DataPart, Exact, Ordinal, Seconds
from foldwright.measure.length import System
from foldwright.recipe.model import When
from foldwright.recipe.words import SectionKind


class WordsData(DataPart, frozen=True):
    """The same words for readers of either unit system; both empty when there are none."""

    imperial: str
    metric: str


class LengthData(DataPart, frozen=True):
    """A length: exact, and as printed in either unit system, e.g. `4 1/8 in` and `105 mm`."""

    exact_mm: Exact
    imperial: str
    metric: str


class PanelData(DataPart, frozen=True):
    """A panel and its length; its name may be empty."""

    name: str
    exact_mm: Exact
    imperial: str
    metric: str


class LicenceData(DataPart, frozen=True):
    """Under which terms the project may be used; both empty when nothing is said."""

    name: str
    address: str


class PhotoData(DataPart, frozen=True):
    """A photograph of the recipe's folder, and what it shows."""

    file: str
    shows: str


class DrawingData(DataPart, frozen=True):
    """A drawn picture, what kind of work it shows (`score-across`, `fold`, `made`, ...), and the same in words."""

    name: str
    kind: str
    title: WordsData
    shows: WordsData


class PictureData(DataPart, frozen=True):
    """A picture at its place: the plan of a piece, a photograph or a drawing, and its step (0: it belongs to none)."""

    step: Count
    piece: str
    photo: PhotoData | None
    drawing: DrawingData | None


class InsteadData(DataPart, frozen=True):
    """What may stand in, and what to mind then."""

    name: WordsData
    remark: WordsData


class SupplyData(DataPart, frozen=True):
    """A supply; how it is sold is told without prices."""

    name: WordsData
    kind: str
    amount: WordsData
    details: WordsData
    packs: tuple[WordsData, ...]
    colours: str
    contains: str
    optional: bool
    instead: tuple[InsteadData, ...]
    note: WordsData


class ToolData(DataPart, frozen=True):
    """A tool, or several named together."""

    name: WordsData
    optional: bool
    instead: tuple[InsteadData, ...]


class SizeData(DataPart, frozen=True):
    """A blank as it lies flat; null where a side is not known."""

    across: LengthData | None
    down: LengthData | None


class PieceData(DataPart, frozen=True, kw_only=True):
    """A piece of paper as it lies flat."""

    name: str
    count: Ordinal
    from_: Annotated[str, Meta(description="The supply it is cut from.")] = field(name="from")
    optional: bool
    size: SizeData
    across: Annotated[tuple[PanelData, ...], Meta(description="From left to right; empty when there is only one.")]
    down: Annotated[tuple[PanelData, ...], Meta(description="From top to bottom; empty when there is only one.")]
    work: Annotated[tuple[WordsData, ...], Meta(description="The list of cuts, scores and holes.")]
    worked_out: Annotated[
        tuple[WordsData, ...],
        Meta(description="How a blank follows from the room inside and the card's thickness; empty for a given size."),
    ]
    fit: Annotated[
        tuple[WordsData, ...],
        Meta(description="Borders on what it lies on, and the room left where it goes over or into something."),
    ]
    picture: Annotated[WordsData | None, Meta(description="The flat plan in words.")]
    note: WordsData


class CautionData(DataPart, frozen=True):
    """A caution; `own` is the author's, and the other texts are empty then."""

    code: str
    signal: Literal["notice", "caution", "warning"]
    hazard: str
    consequence: str
    avoid: str
    reminder: Annotated[str, Meta(description="A short sentence for the step where it arises.")]
    own: WordsData


class StepData(DataPart, frozen=True):
    """A step, with its times for one making."""

    number: Ordinal
    heading: WordsData
    words: WordsData
    short: Annotated[WordsData | None, Meta(description="The words for small cards, where there are others.")]
    when: When
    hands_on: Seconds
    get_ready: Annotated[Seconds, Meta(description="Whole seconds, once, however many are made.")]
    waiting: Annotated[Seconds, Meta(description="Whole seconds in which nobody is busy.")]
    estimated: Annotated[bool, Meta(description="Whether any of these times is not the author's own.")]
    meanwhile: Annotated[WordsData, Meta(description="Heading of the step the wait may overlap.")]
    optional: bool
    pieces: tuple[str, ...]
    cautions: Annotated[tuple[CautionData, ...], Meta(description="Those that arise here first, and the author's own.")]
    drawings: Annotated[tuple[DrawingData, ...], Meta(description="What the step does to paper, in drawn pictures.")]
    checks: Annotated[tuple[WordsData, ...], Meta(description="What to measure before a piece is glued.")]
    tip: WordsData
    photo: PhotoData | None
    video: str


class ChapterData(DataPart, frozen=True):
    """A part of the video: the step it shows (0: what comes before the first), and its moments in seconds."""

    step: Count
    title: str
    start: Seconds
    end: Annotated[Seconds | None, Meta(description="Null where nobody says how long the video is.")]


class SectionData(DataPart, frozen=True):
    """Words that belong to no step."""

    kind: SectionKind
    heading: WordsData
    words: WordsData


class TimeData(DataPart, frozen=True):
    """Times of all steps together, for one making."""

    hands_on: Seconds
    get_ready: Seconds
    waiting: Seconds
    elapsed: Annotated[Seconds, Meta(description="From the first move to the last, waits overlapped where they may.")]
    estimated: bool


class RoundingData(DataPart, frozen=True):
    """What had to give when numbers were rounded, for readers."""

    imperial: tuple[str, ...]
    metric: tuple[str, ...]


class FindingData(DataPart, frozen=True):
    """A finding: what is the matter, where, and what to do. Line and column are 0 when the place is not known."""

    code: Annotated[str, Meta(pattern="^[a-z][a-z0-9]*(-[a-z0-9]+)*$")]
    strength: Literal["fault", "misfit", "thought"]
    file: str
    line: Count
    column: Count
    said: Annotated[str, Meta(description="The author's own words at that place.")]
    says: str
    understood: str
    remedy: str


class SheetData(DataPart, frozen=True):
    """Everything that was worked out about one recipe. A key that is added, goes or changes its meaning raises the
    version. Texts are empty where there is nothing to say.
    """

    version: Literal[7]
    language: Annotated[str, Meta(description="Language of the words, as in HTML's lang.")]
    slug: Annotated[str, Meta(description="Name of the recipe's folder.")]
    written_in: System
    draft: Annotated[bool, Meta(description="Whether something is wrong with the recipe; see findings.")]
    title: Annotated[str, Meta(min_length=1)]
    summary: WordsData
    credit: str
    licence: LicenceData
    revised: Annotated[str, Meta(pattern=r"^(\d{4}-\d\d-\d\d)?$")]
    published: Annotated[str, Meta(pattern=r"^(\d{4}-\d\d-\d\d)?$")]
    tags: tuple[str, ...]
    seasons: Annotated[tuple[str, ...], Meta(description="Seasons of the year and feasts.")]
    makes: str
    level: str
    audience: str
    studio: str
    author: str
    address: str
    video: str
    chapters: Annotated[tuple[ChapterData, ...], Meta(description="Of the video, in its order.")]
    photo: PhotoData | None
    intro: WordsData
    supplies: tuple[SupplyData, ...]
    tools: tuple[ToolData, ...]
    pieces: tuple[PieceData, ...]
    cautions: Annotated[
        tuple[CautionData, ...], Meta(description="Those of the whole and of all steps, each once, the gravest first.")
    ]
    steps: tuple[StepData, ...]
    sections: tuple[SectionData, ...]
    time: TimeData
    rounding: RoundingData
    finished: Annotated[DrawingData | None, Meta(description="The finished thing; null when nothing is put together.")]
    pictures: Annotated[
        tuple[PictureData, ...],
        Meta(description="Every picture there is room for on paper, the one needed most first."),
    ]
    findings: tuple[FindingData, ...]
