"""The document of a recipe: all there is to say as data, in both unit systems, every word written, nothing laid out.

Texts that differ between the systems stand as `Both`, or inside runs as `MeasureInWords`. Where a small card may want
fewer words there are alternatives, the fullest first, and `Document.shown` has the pictures in the order they are
needed.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum

from msgspec import Struct, field

from foldwright.document.findings import Told
from foldwright.document.words import Both, Passage, Runs, SetMeasure
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Scene
from foldwright.measure.length import Length, System
from foldwright.recipe.facts.addresses import PAGE as PAGE
from foldwright.recipe.model import When
from foldwright.recipe.words import Keep, Paragraph, SectionKind, Text
from foldwright.vocabulary import Signal


class Quantity(Struct, frozen=True):
    """A length as data: exact, and as printed in each system."""

    exact: Length
    printed: Both[SetMeasure]


class Picture(Struct, frozen=True):
    """A drawn picture: what it shows, what its dimensions read in each system, and the same in words."""

    name: str
    scene: Scene
    labels: Both[Mapping[LengthId, str]]
    title: Runs
    describes: Both[str]
    words: Mapping[str, str] = field(default_factory=dict)
    """Words for what the picture names by code."""
    kind: str = "plan"
    """`plan` for a piece as it lies flat, else what a step does to it (see `pictures.step_picture.StepPicture`)."""
    piece: str = ""
    stages: tuple[Scene, ...] = ()
    """For a page that can move: the way to what it shows, in one frame."""
    largest: float = 2.0
    """How large it may be drawn, as a part of true size: less where it stands among others that are to show by their
    sizes which is the larger."""
    enlarged: bool = False
    """Whether it is drawn larger than those others all the same."""
    told_scale: str = ""
    """The scale the page tells: it is drawn to `largest` exactly then."""


class Photograph(Struct, frozen=True):
    """A photograph of the recipe's folder, by the name the author wrote, and what it shows."""

    path: str
    shows: str


class PlacedPicture(Struct, frozen=True):
    """A picture at its place: the plan of `piece`, a photograph, or the step picture named, in a step (0: in none)."""

    step: int
    piece: str = ""
    photo: Photograph | None = None
    drawing: str = ""


class Substitute(Struct, frozen=True):
    """What may stand in, and what to mind then."""

    name: Runs
    remark: Runs = ()


class SupplyLine(Struct, frozen=True):
    """One supply. `amount` and `details` are empty when there is nothing to say; `said` is its name as written."""

    name: Runs
    kind: str
    amount: Runs
    details: Runs
    instead: tuple[Substitute, ...] = ()
    colours: str = ""
    contains: str = ""
    optional: bool = False
    note: Runs = ()
    packs: tuple[Runs, ...] = ()
    """How it is sold, without prices: those are the studio's own affair."""
    said: str = ""


class ToolLine(Struct, frozen=True):
    """One tool, or several on one line. `said` is the name as written."""

    name: Runs
    instead: tuple[Substitute, ...] = ()
    optional: bool = False
    said: str = ""


class PanelLine(Struct, frozen=True):
    """A panel of a row: its name (may be empty) and its length."""

    name: str
    length: Quantity


class PieceLine(Struct, frozen=True):
    """One piece as it lies flat, with what was understood of it, a sentence each.

    `work` is the list of its cuts, scores and holes; `rows` show how a blank worked out from an inside adds up, `fit`
    how the piece goes with others and what room is left.
    """

    name: str
    count: int
    supply: str
    across: Quantity | None
    down: Quantity | None
    size: Both[SetMeasure] | None
    panels_across: tuple[PanelLine, ...]
    panels_down: tuple[PanelLine, ...]
    work: tuple[Runs, ...]
    picture: Picture | None
    rows: tuple[Runs, ...] = ()
    fit: tuple[Runs, ...] = ()
    optional: bool = False
    note: Runs = ()
    work_kinds: tuple[str, ...] = ()
    """Of each line of `work`: cut, score, slit or hole."""
    lies: tuple[Runs, ...] = ()
    """Of `fit`, what whoever lays it in its place has to know."""
    panels: tuple[Runs, ...] = ()
    """What a plan's dimensions say, in words: the panels of a row one after another, a sentence to a row."""


class CautionText(Struct, frozen=True):
    """One caution: signal word, what can hurt, what comes of it, how to avoid it.

    `own` holds the words of an author's own caution; the other texts are empty then. `brief` is what stands where there
    is little room: how to avoid it, and of what is eaten every allergen. `reminder` is a sentence for the step where it
    arises; empty for what lies in the finished thing.
    """

    code: str
    signal: Signal
    signal_word: str
    hazard: str = ""
    consequence: str = ""
    avoid: str = ""
    own: Passage = ()
    brief: str = ""
    reminder: str = ""


class Reminder(Struct, frozen=True):
    """The cautions of a step in one: the gravest signal word, the author's own words, then a short line of the rest."""

    signal: Signal
    signal_word: str
    words: Passage


class TimeSpan(Struct, frozen=True):
    """A time: whole seconds for data, words for people."""

    seconds: int
    words: str


class StepTimeInWords(Struct, frozen=True):
    """Hands-on time, getting ready and waiting, apart; None where there is none. `estimated` when nobody gave it."""

    hands_on: TimeSpan | None
    get_ready: TimeSpan | None
    waiting: TimeSpan | None
    estimated: bool
    line: str
    """All of it as one line of words."""
    in_hand: str = ""
    """The same without getting ready."""


class Done(Struct, frozen=True):
    """What a step has done to a piece: the act in its plain form, and the word for the piece after it (`scored`).

    The piece is empty when the act is done to none; the word, when nothing is to be seen of it, as of turning over.
    """

    act: str
    piece: str
    word: str


class StepText(Struct, frozen=True):
    """One step. `wordings` are alternatives, the fullest first; there is always one."""

    number: int
    heading: Runs
    wordings: tuple[Passage, ...]
    time: StepTimeInWords
    when: When
    when_words: str
    cautions: tuple[CautionText, ...] = ()
    """What arises here for the first time, and the author's own words of warning."""
    pieces: tuple[str, ...] = ()
    """Names of the pieces it works on, in order."""
    shows: tuple[str, ...] = ()
    """Names of the pieces whose flat plan belongs beside it."""
    pictures: tuple[Picture, ...] = ()
    """Drawn pictures of what it does to paper, in the order of the work."""
    trials: tuple[Runs, ...] = ()
    """What to measure before a piece is glued, or once it is folded."""
    tip: Passage = ()
    photo: Photograph | None = None
    video: str = ""
    """The moment in the project's video, or an address."""
    moment: int | None = None
    """That moment in seconds from its beginning."""
    optional: bool = False
    meanwhile: Runs = ()
    """The heading of the step its wait may overlap."""
    hazards: tuple[CautionText, ...] = ()
    """Every caution its work calls for, also those an earlier step reminds of."""
    done: tuple[Done, ...] = ()
    """What is done in it, and to which pieces."""
    needs: tuple[str, ...] = ()
    """Supplies and tools it is known to need, by their names as written."""

    @property
    def words(self) -> Passage:
        return self.wordings[0]

    @property
    def reminder(self) -> Reminder | None:
        if not self.cautions:
            return None
        gravest = max(self.cautions, key=lambda caution: caution.signal)
        own = tuple(part for caution in self.cautions for part in caution.own)
        line = Text(" ".join(caution.reminder for caution in self.cautions if caution.reminder))
        match own:
            case _ if not line.text:
                words: Passage = own
            case (*others, Paragraph(runs)):
                words = (*others, Paragraph((*runs, Text(" "), line)))
            case _:
                words = (*own, Paragraph((line,)))
        return Reminder(gravest.signal, gravest.signal_word, words)


class SectionText(Struct, frozen=True):
    """Tips, notes and the like."""

    kind: SectionKind
    heading: Runs
    words: Passage


class Readiness(Enum):
    """Whether a document may be handed out."""

    READY = "ready"
    DRAFT = "draft"
    """Something is wrong with the recipe; it says so at its head."""


class Head(Struct, frozen=True):
    """What stands at the top and the foot of every sheet. Texts may be empty."""

    title: str
    summary: Runs
    credit: str
    licence: str
    licence_address: str
    revised: str
    revised_words: str
    makes: str
    level: str
    audience: str
    studio: str
    author: str
    address: str
    video: str
    published: str = ""
    """The day as ISO 8601 has it."""
    tags: tuple[str, ...] = ()
    seasons: tuple[str, ...] = ()
    video_seconds: int = 0
    """How long the video is; 0 where nobody says."""
    occasion: str = ""
    """The event it is handed out at: its name, day and place in one line."""

    @property
    def page_address(self) -> str:
        """Of the page itself; `address` is that of its folder, which is short enough to be typed and leads to it."""
        return f"{self.address}{PAGE}" if self.address else ""


class TotalsInWords(Struct, frozen=True):
    """Time for one making, all steps together."""

    hands_on: TimeSpan
    get_ready: TimeSpan | None
    waiting: TimeSpan | None
    elapsed: TimeSpan
    """From the first move to the last, waits overlapped where they may."""
    estimated: bool
    line: str


class Document(Struct, frozen=True):
    """`system` is the one the recipe was written in. `labels` are the words of the page's own furniture, by name."""

    language: str
    slug: str
    system: System
    head: Head
    labels: Mapping[str, str]
    intro: Passage
    photo: Photograph | None
    supplies: tuple[SupplyLine, ...]
    tools: tuple[ToolLine, ...]
    pieces: tuple[PieceLine, ...]
    cautions: tuple[CautionText, ...]
    """Those of the whole and of all steps, each once, the gravest first."""
    steps: tuple[StepText, ...]
    sections: tuple[SectionText, ...]
    totals: TotalsInWords
    class_totals: TotalsInWords
    """The steps done in class alone."""
    rounding: Both[tuple[str, ...]]
    """What had to give when the numbers were rounded."""
    finished: Picture | None = None
    """The finished thing, drawn."""
    shown: tuple[PlacedPicture, ...] = ()
    """Every picture, the one needed most first: where there is little room, the last go first."""
    findings: tuple[Told, ...] = ()
    standing: Readiness = Readiness.READY
    theme: str = ""
    papers: tuple[str, ...] = field(default=())
    keep: tuple[Keep, ...] = ()
    """What is left out last where paper is short, what matters most first."""

    @property
    def cautioned(self) -> bool:
        """Whether it warns of anything."""
        return bool(self.cautions or any(step.cautions for step in self.steps))

    def picture(self, shown: PlacedPicture) -> Picture | None:
        """The drawn picture that is shown; None for a photograph."""
        if shown.drawing:
            drawings = [picture for step in self.steps for picture in step.pictures]
            drawings += [self.finished] if self.finished else []
            return next((one for one in drawings if one.name == shown.drawing), None)
        return next((piece.picture for piece in self.pieces if piece.name == shown.piece), None)
