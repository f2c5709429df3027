"""The document for a class: its own steps numbered anew, and what lies on the table when it begins.

Steps done before class are left out with their photographs, and the cautions they alone bring. A hazard met at one of
them and again is told where it is first met in class, and a plan stands at the first step in class that works on its
piece. The table holds more than is needed rather than less: a supply or tool is left off only when a step before class
is known to need it and none in class can be.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.catalogue import catalogue
from foldwright.document.cautions import said_in_full, said_once
from foldwright.document.model import CautionText, Document, PlacedPicture, StepText
from foldwright.document.quote_marks import curled
from foldwright.document.words import plain, plain_passage
from foldwright.measure.length import System
from foldwright.recipe.model import When
from foldwright.recipe.words import SectionKind
from foldwright.vocabulary import act_of
from foldwright.vocabulary.names import plain_words


class PreparedPiece(Struct, frozen=True):
    """A piece made ready before class: its name, with the count of several, and what was done (`cut and scored`)."""

    name: str
    done: str
    optional: bool = False


class ClassDocument(Struct, frozen=True):
    """`document` holds the steps done in class; its supplies and tools are those on the table, beside what is prepared.

    `numbers` are those its steps have in the whole document. `lined` if there are lines to fill in.
    """

    document: Document
    prepared: tuple[PreparedPiece, ...]
    numbers: tuple[int, ...]
    lined: bool = True

    def whole(self, shown: PlacedPicture) -> PlacedPicture:
        """A picture as the whole document has it: with the number that its step has there, if it is a step's own."""
        return replace(shown, step=self.numbers[shown.step - 1]) if shown.step else shown


def class_document(document: Document) -> ClassDocument | None:
    """None when no step is done in class."""
    own = [step for step in document.steps if step.when is When.IN_CLASS]
    before = [step for step in document.steps if step.when is not When.IN_CLASS]
    if not own:
        return None
    steps = tuple(_renumbered(own))
    spent = spent_by(document, before, own)
    return ClassDocument(
        replace(
            document,
            supplies=tuple(supply for supply in document.supplies if supply.said not in spent),
            tools=tuple(tool for tool in document.tools if tool.said not in spent),
            cautions=_cautions(document, own),
            steps=steps,
            sections=tuple(section for section in document.sections if section.kind is not SectionKind.TEACHER),
            totals=document.class_totals,
            shown=tuple(_shown(document.shown, own)),
        ),
        tuple(_prepared(document, before)),
        tuple(step.number for step in own),
    )


def whole_document(document: Document) -> ClassDocument:
    """All steps and all that is needed, for who reads it in a book; nothing for the teacher, nothing to fill in."""
    words = catalogue(document.language)
    labels = {**document.labels, "on-the-table": words.say("booklet.needed")}
    sections = tuple(section for section in document.sections if section.kind is not SectionKind.TEACHER)
    whole = replace(document, sections=sections, labels=labels)
    return ClassDocument(whole, (), tuple(step.number for step in document.steps), lined=False)


def _renumbered(own: Sequence[StepText]) -> Iterator[StepText]:
    headings = [step.heading for step in own]
    cautions = said_once(step.hazards for step in own)
    for number, (step, told) in enumerate(zip(own, cautions, strict=True), 1):
        meanwhile = step.meanwhile if step.meanwhile in headings else ()
        yield replace(step, number=number, cautions=told, meanwhile=meanwhile)


def _cautions(document: Document, own: Sequence[StepText]) -> tuple[CautionText, ...]:
    """In full what the whole brings, and what the steps in class do."""
    of_steps = {caution.code for step in document.steps for caution in step.hazards}
    whole = [caution for caution in document.cautions if caution.code not in of_steps]
    return said_in_full(whole, (step.hazards for step in own))


def _shown(shown: Sequence[PlacedPicture], own: Sequence[StepText]) -> Iterator[PlacedPicture]:
    """The pictures that have a place in class, still the one needed most first."""
    number_of = {step.number: number for number, step in enumerate(own, 1)}
    first: dict[str, int] = {}
    for number, step in enumerate(own, 1):
        for name in step.pieces:
            first.setdefault(name, number)
    for one in shown:
        place = number_of.get(one.step, first.get(one.piece, 0)) if one.step else 0
        if place or not one.step:
            yield replace(one, step=place)


def spent_by(document: Document, before: Sequence[StepText], own: Sequence[StepText]) -> set[str]:
    """Supplies and tools of some steps that are used up, or put away, when their `own` steps begin."""
    if not all(step.done and all(act_of(done.act) for done in step.done) for step in own):
        # A step whose acts nobody knows could need anything.
        return set()
    needed = {name for step in before for name in step.needs} - {name for step in own for name in step.needs}
    cut_from = {piece.supply for piece in document.pieces}
    said = {word for step in own for text in _said(step, document.system) for word in plain_words(text)}
    # `The tape` may well be the strong tape; but `the card` is a piece by now.
    return {name for name in needed if name in cut_from or plain_words(name)[-1] not in said}


def _said(step: StepText, system: System) -> Iterator[str]:
    yield plain(step.heading, system)
    yield from (plain_passage(words, system) for words in step.wordings)
    yield from (done.act for done in step.done)


def _prepared(document: Document, before: Sequence[StepText]) -> Iterator[PreparedPiece]:
    """The pieces on which work was done that can be seen, in the order of the list of pieces."""
    words = catalogue(document.language)
    for piece in document.pieces:
        done = dict.fromkeys(done.word for step in before for done in step.done if done.piece == piece.name)
        if told := [word for word in done if word]:
            name = words.say("page.piece.several", piece=curled(piece.name), count=piece.count)
            yield PreparedPiece(name if piece.count > 1 else curled(piece.name), words.listed(told), piece.optional)
