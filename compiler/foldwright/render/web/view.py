"""What a theme's templates are given: texts ready to place, and flags. The contract with themes, VERSION by hand.

Every attribute that holds HTML is Markup and already escaped; every other is plain text that autoescape will escape.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from html import escape
from itertools import count, repeat
from types import SimpleNamespace

from markupsafe import Markup as Html
from msgspec import structs

from foldwright.document import model
from foldwright.document.film import at_moment
from foldwright.document.findings import Told
from foldwright.document.quote_marks import curled
from foldwright.document.words import Both, Runs, plain
from foldwright.finding import Strength
from foldwright.geometry.scene import LineKind
from foldwright.measure.length import System
from foldwright.memory import Memory
from foldwright.recipe.words import SectionKind
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.drawing.svg import draw_legend, draw_stages, kinds_in
from foldwright.render.markup import SAFE_SCHEMES, UNIT_CLASS, Markup
from foldwright.render.themes import PhotographRooms, Room
from foldwright.render.web.drawings import InPage, reference
from foldwright.render.web.images import Image, Show

VERSION = 1
STAGES_MM = 86.0
"""How wide a piece that is folded on the page is drawn, and how high at most."""
_THUMB_PX = 240
"""Pixels across a photograph in the strip of steps: sharp on a screen of two dots to the pixel."""
_AGAIN_PX = 720
"""The same of one that stands in the head already."""
NO_ROOMS = PhotographRooms((), (), ())
_NOTHING = Html("")
_STAGES: Memory[str] = Memory(64)


type Draw = Callable[[model.Picture, System], str]
"""A picture in one system as SVG text."""


def view_of(
    document: model.Document,
    systems: tuple[System, ...],
    draw: Draw,
    show: Show,
    plates: bool = False,
    manner: DrawingManner = DrawingManner.PLAIN,
    rooms: PhotographRooms = NO_ROOMS,
    drawings: InPage | None = None,
) -> SimpleNamespace:
    """The sheet as templates see it, for a page that can show `systems`, the first of them first.

    With `plates` the pictures of steps are numbered throughout, as those of a book are. `manner` is that in which what
    is folded on the page is shown when it is done. `rooms` are for photographs that come as files;
    `drawings` say where drawings are.
    """
    return _PageView(document, systems, draw, show, plates, manner, rooms, drawings or InPage()).page()


class _PageView:
    def __init__(
        self,
        document: model.Document,
        systems: tuple[System, ...],
        draw: Draw,
        show: Show,
        plates: bool,
        manner: DrawingManner,
        rooms: PhotographRooms,
        drawings: InPage,
    ) -> None:
        self._manner = manner
        self._drawings = drawings
        self._rooms = rooms
        self._images: list[Image] = []
        self._sheet = document
        self._systems = systems
        self._words = Markup(systems)
        self._draw = draw
        self._show = show
        self._numbers = {piece.name: number for number, piece in enumerate(document.pieces, 1)}
        self._plates = count(1) if plates else repeat(0)
        self._again: dict[str, str] = {}
        """By piece, its plan a second time: a reference to the first drawing."""

    def page(self) -> SimpleNamespace:
        document = self._sheet
        return SimpleNamespace(
            version=VERSION,
            language=document.language,
            slug=document.slug,
            head=SimpleNamespace(**structs.asdict(document.head)),
            summary=Html(self._words.runs(document.head.summary)),
            description=plain(document.head.summary, self._systems[0]),
            label=_labels(tuple(document.labels.items())),
            switch=len(self._systems) > 1,
            first=self._systems[0].value,
            draft=document.standing is model.Readiness.DRAFT,
            findings=[_finding(finding) for finding in document.findings if finding.strength > Strength.THOUGHT],
            time=document.totals.line,
            intro=Html(self._words.passage(document.intro)),
            photo=self._image(document.photo, 0, self._rooms.head, first=True) if document.photo else None,
            finished=self._drawing(document.finished, first=not document.photo) if document.finished else None,
            video=_address(document.head.video),
            supplies=[self._supply(supply) for supply in document.supplies],
            tools=[
                SimpleNamespace(
                    name=self._html(tool.name), instead=self._substitutes(tool.instead), optional=tool.optional
                )
                for tool in document.tools
            ],
            scale=self._scale(),
            pieces=[self._piece(number, piece) for number, piece in enumerate(document.pieces, 1)],
            cautions=[self._caution(caution) for caution in document.cautions],
            cautioned=document.cautioned,
            glance=[self._glance(step) for step in document.steps],
            steps=[self._step(step) for step in document.steps],
            before=[self._section(section) for section in document.sections if section.kind is SectionKind.BEFORE],
            sections=[
                self._section(section) for section in document.sections if section.kind is not SectionKind.BEFORE
            ],
            rounding=self._rounding(),
            legend=self._legend(),
            images=self._images,
        )

    def _image(self, photo: model.Photograph, width: int, rooms: tuple[Room, ...], first: bool = False) -> Image | None:
        """A photograph where it stands in the page; the `first` is that of the head."""
        image = self._show(photo, width)
        if image is None:
            return None
        self._images.append(structs.replace(image, rooms=rooms, first=first))
        return self._images[-1]

    def _legend(self) -> list[SimpleNamespace]:
        """Every kind of line the plans have, as a small picture and its name."""
        plans = [piece.picture for piece in self._sheet.pieces if piece.picture]
        drawings = [picture for step in self._sheet.steps for picture in step.pictures]
        kinds = {kind for picture in (*plans, *drawings) for kind in kinds_in(picture.scene)}
        names = self._sheet.labels
        drawn = draw_legend(kind for kind in LineKind if kind in kinds)
        put = self._drawings.put
        return [SimpleNamespace(picture=Html(put(svg)), name=names[f"{kind.value}-line"]) for kind, svg in drawn]

    def _scale(self) -> str:
        """That of the plans, where they tell one."""
        plans = [piece.picture for piece in self._sheet.pieces if piece.picture]
        return next((plan.told_scale for plan in plans if not plan.enlarged), "")

    def _rounding(self) -> SimpleNamespace | None:
        """Each note, with the class of the system it belongs to (none when the page shows only one).

        Their heading has a class as well when they are all of one system.
        """
        notes = [
            SimpleNamespace(unit=UNIT_CLASS[system] if len(self._systems) > 1 else "", text=text)
            for system in self._systems
            for text in self._sheet.rounding.of(system)
        ]
        units = {note.unit for note in notes}
        return SimpleNamespace(unit=units.pop() if len(units) == 1 else "", notes=notes) if notes else None

    def _supply(self, supply: model.SupplyLine) -> SimpleNamespace:
        return SimpleNamespace(
            name=self._html(supply.name),
            kind=supply.kind,
            amount=self._html(supply.amount),
            details=self._html(supply.details),
            packs=[self._html(pack) for pack in supply.packs],
            instead=self._substitutes(supply.instead),
            colours=supply.colours,
            contains=supply.contains,
            optional=supply.optional,
            note=self._html(supply.note),
        )

    def _html(self, runs: Runs) -> Html:
        return Html(self._words.runs(runs)) if runs else _NOTHING

    def _substitutes(self, instead: tuple[model.Substitute, ...]) -> list[SimpleNamespace]:
        return [SimpleNamespace(name=self._html(one.name), remark=self._html(one.remark)) for one in instead]

    def _section(self, section: model.SectionText) -> SimpleNamespace:
        words = Html(self._words.passage(section.words))
        return SimpleNamespace(kind=section.kind.value, heading=self._html(section.heading), words=words)

    def _piece(self, number: int, piece: model.PieceLine) -> SimpleNamespace:
        return SimpleNamespace(
            number=number,
            name=curled(piece.name),
            count=piece.count,
            supply=piece.supply,
            size=Html(self._words.phrases(piece.size)) if piece.size else "",
            work=[self._html(line) for line in piece.work],
            fit=[self._html(line) for line in (*piece.rows, *piece.fit)],
            plan=Html(self._plan(number, piece)) if piece.picture else "",
            enlarged=piece.picture is not None and piece.picture.enlarged,
            scale=piece.picture.told_scale if piece.picture else "",
            optional=piece.optional,
            note=self._html(piece.note),
        )

    def _plan(self, number: int, piece: model.PieceLine) -> str:
        picture = piece.picture
        assert picture is not None
        drawn: dict[System, str] = {}
        again: dict[System, str] = {}
        for system in self._systems:
            mark = f"plan-{number}-{system.value}"
            svg = self._draw(picture, system)
            drawn[system] = self._drawings.written(mark, svg, f'id="{mark}" class="drawing"')
            title = escape(plain(picture.title, system))
            again[system] = reference(mark, svg, f' role="img" aria-label="{title}"')
        self._again[piece.name] = self._words.both(_paired(again))
        return self._words.both(_paired(drawn))

    def _drawing(self, picture: model.Picture, plate: int = 0, first: bool = False) -> SimpleNamespace:
        """A picture, once where nothing is written on it, else in every system; `plate` is the number it may have."""
        if picture.scene.lengths:
            name = f"{picture.name}-{{}}".format
            drawn = {one: self._drawings.written(name(one.value), self._draw(picture, one)) for one in self._systems}
            both = self._words.both(_paired(drawn))
        else:
            both = self._drawings.unwritten(picture.name, self._draw(picture, self._systems[0]), first)
        stages = Html(self._stages(picture)) if picture.stages else ""
        return SimpleNamespace(
            kind=picture.kind,
            plate=plate,
            title=self._html(picture.title),
            name=curled(picture.piece),
            drawing=Html(both),
            stages=stages,
            enlarged=picture.enlarged,
        )

    def _stages(self, picture: model.Picture) -> str:
        def drawn() -> str:
            frame = picture.stages[0]
            return draw_stages(picture.stages, STAGES_MM * min(1.0, frame.width / frame.height), self._manner)

        name = picture.name, self._manner
        return self._drawings.stages(f"{picture.name}-stages", _STAGES.of(name, picture.stages, drawn))

    def _step(self, step: model.StepText) -> SimpleNamespace:
        photo = self._photo(step)
        plate = next(self._plates) if photo else 0
        return SimpleNamespace(
            number=step.number,
            heading=self._html(step.heading),
            words=Html(self._words.passage(step.words)),
            time=step.time.line,
            estimated=step.time.estimated,
            when=step.when_words,
            meanwhile=self._html(step.meanwhile),
            optional=step.optional,
            shows=[
                SimpleNamespace(name=name, number=self._numbers[name], again=Html(self._again[name]))
                for name in step.shows
                if name in self._again
            ],
            pictures=[self._drawing(picture, next(self._plates)) for picture in step.pictures],
            mind=self._mind(step.reminder) if step.reminder else None,
            trials=[self._html(line) for line in step.trials],
            tip=Html(self._words.passage(step.tip)),
            photo=photo,
            plate=plate,
            video=step.video,
            video_at=step.moment is not None,
            video_address=self._film(step),
        )

    def _film(self, step: model.StepText) -> str:
        """Where the step is shown: an address of its own, or its moment in the video."""
        film = _address(self._sheet.head.video)
        return at_moment(film, step.moment) if film and step.moment is not None else _address(step.video)

    def _photo(self, step: model.StepText, width: int = 0) -> Image | None:
        """The photograph of a step; at the last, if nothing else is to be seen there, that of the finished thing."""
        rooms = self._rooms.strip if width else self._rooms.step
        if step.photo:
            return self._image(step.photo, width, rooms)
        finished = self._sheet.photo if step is self._sheet.steps[-1] and not step.pictures else None
        return self._image(finished, width or _AGAIN_PX, rooms) if finished else None

    @staticmethod
    def _caution(caution: model.CautionText) -> SimpleNamespace:
        return SimpleNamespace(
            signal=caution.signal.name.lower(),
            word=caution.signal_word,
            hazard=caution.hazard,
            consequence=caution.consequence,
            avoid=caution.avoid,
        )

    def _mind(self, reminder: model.Reminder) -> SimpleNamespace:
        words = self._words.led(reminder.signal_word, reminder.words)
        return SimpleNamespace(signal=reminder.signal.name.lower(), words=Html(words))

    def _glance(self, step: model.StepText) -> SimpleNamespace:
        return SimpleNamespace(number=step.number, heading=self._html(step.heading), thumb=Html(self._thumb(step)))

    def _thumb(self, step: model.StepText) -> str:
        """The last picture of a step, small and without figures: drawn once more only where it has figures."""
        if step.pictures:
            picture = step.pictures[-1]
            if picture.scene.lengths:
                return self._drawings.small(picture.name, self._draw(_bare(picture), self._systems[0]))
            return self._drawings.again(picture.name, self._draw(picture, self._systems[0]))
        if image := self._photo(step, _THUMB_PX):
            return structs.replace(image, shows="").markup
        plans = (piece.picture for piece in self._sheet.pieces if piece.name in step.shows and piece.picture)
        small = ((plan.name, self._draw(_bare(plan), self._systems[0])) for plan in plans)
        return next((self._drawings.small(*one) for one in small), "")


@lru_cache(maxsize=16)
def _labels(labels: tuple[tuple[str, str], ...]) -> SimpleNamespace:
    return SimpleNamespace(**{name.replace("-", "_"): text for name, text in labels})


def _address(text: str) -> str:
    """The text when it is an address a page may link to."""
    return text if text.lower().startswith(SAFE_SCHEMES) else ""


def _bare(picture: model.Picture) -> model.Picture:
    """The thing alone, without a figure or a word on it."""
    scene = structs.replace(picture.scene, dimensions=(), captions=(), callouts=())
    return structs.replace(picture, scene=scene, labels=Both({}, {}), title=(), describes=Both("", ""))


def _paired(texts: dict[System, str]) -> Both[str]:
    return Both(texts.get(System.IMPERIAL, ""), texts.get(System.METRIC, ""))


def _finding(finding: Told) -> SimpleNamespace:
    ended = finding.says.endswith((".", "?", "!"))
    return SimpleNamespace(
        where=finding.where, ended=ended, says=finding.says, understood=finding.understood, remedy=finding.remedy
    )
