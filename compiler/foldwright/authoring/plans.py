"""The flat plan of every piece as a drawing whose parts lead to their numbers, for a page that is worked on."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import replace

from foldwright.authoring.marks import mark_of
from foldwright.authoring.origins import Origin, origins
from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.model import Document, Picture
from foldwright.document.words import plain
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.picking import with_picks
from foldwright.geometry.scene import Pick, Scene
from foldwright.measure.length import System
from foldwright.measure.printed import Printed
from foldwright.pipeline import Understood
from foldwright.render.drawing.svg import draw

_WIDTH_MM, _TEXT_PT = 120.0, 10.5
"""As wide as it is drawn and the letters of its figures: a page makes it narrower or wider as a whole."""


class Plan(Struct, frozen=True):
    """One piece: its drawing, the marks in it in the order of its parts, and how it fits, a sentence each."""

    piece: str
    title: str
    svg: str
    marks: tuple[str, ...]
    fit: tuple[str, ...] = ()


def piece_plans(understood: Understood, document: Document, text: str, system: System) -> tuple[Plan, ...]:
    """Every piece that could be laid flat, in one unit system; `text` is that of the recipe."""
    return plans_with(origins(understood, text), understood, document, system)


def plans_with(
    known: Mapping[str, Origin], understood: Understood, document: Document, system: System
) -> tuple[Plan, ...]:
    """The same where it is known already what comes from where."""
    words = catalogue(document.language)
    told = _Telling(understood.figures[system].printed, words)
    plans = []
    for line in document.pieces:
        blank = understood.flat.blank(line.name)
        if blank is None or line.picture is None:
            continue
        scene = with_picks(line.picture.scene, blank, understood.folding.nets.get(line.name))
        picks = tuple(_marked(pick, known, told) for pick in scene.picks)
        # What is printed on the paper takes most of the time to draw, and lies in the way of what is lit.
        papers = tuple(replace(paper, pattern="") for paper in scene.papers)
        plan = _plan(line.picture, replace(scene, picks=picks, papers=papers), system)
        plans.append(replace(plan, fit=tuple(plain(said, system) for said in line.fit)))
    return tuple(plans)


def _plan(picture: Picture, scene: Scene, system: System) -> Plan:
    title = plain(picture.title, system)
    svg = draw(scene, picture.labels.of(system), _WIDTH_MM, _TEXT_PT, title, "", picture.words)
    marks = dict.fromkeys(mark for pick in scene.picks for mark in pick.marks if mark)
    return Plan(picture.name, title, svg, tuple(marks))


def _marked(pick: Pick, known: Mapping[str, Origin], told: _Telling) -> Pick:
    """The part with the marks of what comes from somewhere, and what a reader hears of it."""
    marks = tuple(mark if mark in known else "" for mark in map(mark_of, pick.parts))
    return replace(pick, marks=marks, said=told.pick(pick))


class _Telling:
    """A part in words: `floor, 3 1/2 in, 2 1/2 in`."""

    def __init__(self, printed: Mapping[LengthId, Printed], words: Catalogue) -> None:
        self._printed, self._words = printed, words

    def pick(self, pick: Pick) -> str:
        lengths = [self._printed[part].plain for part in pick.parts if part in self._printed]
        name = pick.name or self._named(pick.parts[0])
        return self._words.say("desk-part.comma").join((name, *dict.fromkeys(lengths)))

    def _named(self, part: LengthId) -> str:
        say, number = self._words.say, part.number
        if part.place == "mark":
            return say(f"desk-part.mark-{part.side}", number=number)
        if part.side == "hole" and part.place in ("left", "right", "top", "bottom"):
            return say(f"desk-part.edge-{part.place}", number=number)
        if part.side in ("hole", "line"):
            return say(f"desk-part.{part.side}", number=number)
        if part.side == "panel" or part.place == "panel":
            return say("desk-part.panel", number=number)
        if part.side.endswith(" apart"):
            return say("desk-part.apart")
        return say(
            f"desk-part.{part.side}" if part.side in ("across", "down", "outline", "flap") else "desk-part.other"
        )
