"""A document as HTML to paste into a blog: only plain tags that sanitisers keep, pictures as files of their own.

Nothing depends on a style. Numbers are plain text, the other unit system in brackets. It is lean: of each step the one
picture that says most, a plan only of a piece there is something to score, fold or cut out of, every thing said once:
of cautions what is to be done, before the steps what holds for the finished thing, at a step what its tools ask for.
How long each step takes, and what to measure when, is in the tutorial.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from html import escape

from markupsafe import Markup as Html
from msgspec import Struct, field

from foldwright.document.model import Document, Photograph, Picture, PieceLine, Readiness, StepText
from foldwright.document.quote_marks import curled
from foldwright.document.words import MeasureInWords, Passage, Runs, plain, plain_passage
from foldwright.measure.length import System
from foldwright.recipe.words import Break, Code, Paragraph, SectionKind, Strong, Text, flat_runs
from foldwright.render.markup import PlainMarkup, link
from foldwright.render.photos import ReadyPhoto
from foldwright.render.themes import base_template, filled
from foldwright.render.web.blog_choice import drawing_of, plan_steps
from foldwright.render.web.blog_pictures import WIDTH, BlogDrawing, draw_for_blog, small_png
from foldwright.render.web.tutorial import BOTH_SYSTEMS, in_order

type DrawTogether = Callable[[Picture, Sequence[System]], BlogDrawing]
_NOT_PLAIN = re.compile(r"[^a-z0-9]+")


class Fragment(Struct, frozen=True):
    """`html` and the picture files it names."""

    html: str
    files: dict[str, bytes] = field(default_factory=dict)


class _Shown(Struct, frozen=True):
    """An image as the fragment shows it: its address, how wide it is shown, what it shows, what stands under it.

    Its height is not told. A blog that holds pictures to its column by their width alone would pull one with a height
    out of shape, and few say what the height becomes then; a width by itself keeps the shape in all of them.
    """

    source: str
    width: int
    shows: str
    caption: Runs = ()
    step: int = 0
    tells_all: bool = False
    """Whether every length of it stands in it in all systems."""


def fragment(
    document: Document,
    photos: Mapping[str, ReadyPhoto],
    systems: tuple[System, ...] = BOTH_SYSTEMS,
    pictures_at: str = "",
    draw: DrawTogether = draw_for_blog,
) -> Fragment:
    """The fragment; `pictures_at` is put before the name of every picture (`https://harbourstreet.example/pictures/`)."""
    order = in_order(document, systems)
    words = PlainMarkup(order, heading=4)
    files = _PictureFiles(photos, order, pictures_at, draw)
    finished, plans = files.finished(document), files.plans(document)
    licence = escape(document.head.licence, quote=False)
    before = [section for section in document.sections if section.kind is SectionKind.BEFORE]
    html = filled(
        base_template("fragment.html"),
        "base",
        document=document,
        label=document.labels,
        draft=document.standing is Readiness.DRAFT,
        finished=finished,
        pieces=[(piece, _said_of(piece, plans.get(piece.name, ()))) for piece in document.pieces],
        plans=[plan for all_of in plans.values() for plan in all_of if not plan.step],
        before=before,
        cautions=[caution for caution in document.cautions if not caution.reminder],
        steps=[(step, files.of_step(document, step, plans)) for step in document.steps],
        sections=[section for section in document.sections if section not in before],
        rounding=[note for system in order for note in document.rounding.of(system)],
        licence=Html(link(document.head.licence_address, licence) if document.head.licence_address else licence),
        curled=curled,
        runs=lambda runs: Html(words.runs(runs)),
        passage=lambda passage: Html(words.passage(passage)),
        phrases=lambda phrases: Html(words.phrases(phrases)),
        led=_led,
    )
    return Fragment("".join(html), files.made)


def _said_of(piece: PieceLine, plans: tuple[_Shown, ...]) -> tuple[Runs, ...]:
    """What is said of a piece beside its size: its work, unless its plan tells all of it, and where it is laid."""
    return (
        *(() if any(plan.tells_all for plan in plans) else _work(piece)),
        *piece.lies,
        *([piece.note] if piece.note else []),
    )


def _work(piece: PieceLine) -> tuple[Runs, ...]:
    """Without the line that says how large to cut it."""
    return tuple(line for line in piece.work if piece.size not in (getattr(run, "phrases", None) for run in line))


def _led(word: str, passage: Passage) -> Passage:
    """A passage with a word before it in strong type, on the same line if it begins with one."""
    lead: Runs = (Strong((Text(word),)),)
    match passage:
        case (Paragraph(runs), *rest):
            return (Paragraph((*lead, Text(": "), *runs)), *rest)
        case _:
            return (Paragraph(lead), *passage)


class _PictureFiles:
    """Makes the picture files as they are asked for, and says how to show each."""

    def __init__(
        self, photos: Mapping[str, ReadyPhoto], systems: tuple[System, ...], pictures_at: str, draw: DrawTogether
    ) -> None:
        self._photos = photos
        self._systems = systems
        self._at = pictures_at if not pictures_at or pictures_at.endswith("/") else f"{pictures_at}/"
        self._draw = draw
        self.made: dict[str, bytes] = {}

    def finished(self, document: Document) -> tuple[_Shown, ...]:
        """The finished thing: its photograph, or the drawing of it."""
        drawn = document.finished
        shown = self._photo(document.photo)
        return shown or ((self._drawn("finished", drawn, drawn.describes.of(self._systems[0])),) if drawn else ())

    def plans(self, document: Document) -> dict[str, tuple[_Shown, ...]]:
        """By piece, its plan; one for each system where figures that run from a corner are in no words."""
        steps = plan_steps(document)
        return {
            piece.name: tuple(self._plans(number, piece, piece.picture, steps[piece.name]))
            for number, piece in enumerate(document.pieces, 1)
            if piece.picture and piece.name in steps
        }

    def _plans(self, number: int, piece: PieceLine, picture: Picture, step: int) -> Iterator[_Shown]:
        stem = f"{number}-{_file_name(piece.name)}"
        yield self._plan(stem, piece, picture, self._systems, step)
        if any(one.running for one in picture.scene.dimensions):
            for system in self._systems[1:]:
                yield self._plan(f"{stem}-{system.value}", piece, picture, (system,), step)

    def of_step(
        self, document: Document, step: StepText, plans: Mapping[str, tuple[_Shown, ...]]
    ) -> tuple[_Shown, ...]:
        """The plans that belong to a step; its photograph, or the drawing that says most of it."""
        own = self._systems[0]
        here = tuple(plan for all_of in plans.values() for plan in all_of if plan.step == step.number)
        photo = self._photo(step.photo)
        picture = None if photo else drawing_of(document, step, plans)
        if picture is None:
            return (*here, *photo)
        said = f"{plain(step.heading, own)}. {plain_passage(step.words, own)}"
        caption = () if plain(picture.title, own).rstrip(".") in said else picture.title
        return (*here, self._drawn(picture.name, picture, picture.describes.of(own), caption))

    def _photo(self, photo: Photograph | None) -> tuple[_Shown, ...]:
        """The photograph; nothing where there is none to show."""
        prepared = self._photos.get(photo.path) if photo else None
        if photo is None or prepared is None:
            return ()
        number = list(self._photos).index(photo.path) + 1
        name = f"photo-{number}.{'jpg' if prepared.kind == 'jpeg' else prepared.kind}"
        self.made[name] = prepared.data
        return (_Shown(self._at + name, min(WIDTH, prepared.width), photo.shows),)

    def _drawn(self, stem: str, picture: Picture, shows: str, caption: Runs = ()) -> _Shown:
        return _Shown(self._file(stem, self._draw(picture, self._systems)), WIDTH, shows, caption)

    def _file(self, stem: str, drawing: BlogDrawing) -> str:
        """The address of its file, which is made."""
        name = f"{stem}.png"
        self.made[name] = small_png(drawing.svg)
        return self._at + name

    def _plan(self, stem: str, piece: PieceLine, picture: Picture, systems: tuple[System, ...], step: int) -> _Shown:
        """Its words are for those who cannot see it: in both systems, as it is drawn."""
        drawing = self._draw(picture, systems)
        tells_all = drawing.tells_all and systems == self._systems
        lines = (*piece.panels, *(_work(piece) if tells_all else ()))
        said = " ".join([f"{self._text(picture.title)}.", *map(self._text, lines)])
        return _Shown(self._file(stem, drawing), WIDTH, said, step=step, tells_all=tells_all)

    def _text(self, runs: Runs) -> str:
        """Runs as plain text, a measure in the other system in brackets."""

        def text(run: Text | MeasureInWords | Code | Break) -> str:
            if not isinstance(run, MeasureInWords):
                return plain((run,), self._systems[0])
            first, *others = dict.fromkeys(run.phrases.of(system).plain for system in self._systems)
            return first + "".join(f" ({other})" for other in others)

        return "".join(map(text, flat_runs(runs)))


def _file_name(piece: str) -> str:
    return _NOT_PLAIN.sub("-", piece.lower()).strip("-") or "piece"
