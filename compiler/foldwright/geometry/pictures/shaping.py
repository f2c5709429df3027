"""What a step does to one piece: cut, scored, its flaps freed, its holes opened, folded; a picture for each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.forms.round import ROLLED
from foldwright.geometry.flat.lines import FOLDS
from foldwright.geometry.pictures.bending import flaps_of, folding_scene, made_scene, motion_of
from foldwright.geometry.pictures.flat import (
    DRAWN,
    cutting_scene,
    drawn_scores_scene,
    punching_scene,
    scoring_scene,
    slitting_scene,
)
from foldwright.geometry.pictures.state import PieceState, State
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.workshop import Workshop
from foldwright.geometry.scene import Scene
from foldwright.recipe.model import Doing, Step
from foldwright.vocabulary.work import CUTTING, FOLDING, GLUING, PIERCING, SCORING, SLITTING

_ROLLED = {"fold": "roll", "glue": "roll-glue"}
"""What is shown of paper that is rolled and not folded."""


def shaping_pictures(
    workshop: Workshop, state: State, step: Step, doings: Sequence[Doing]
) -> tuple[tuple[StepPicture, ...], State]:
    """The pictures of all that is done to each piece, piece by piece, and what has been done after that."""
    told: list[StepPicture] = []
    for name, acts in _by_piece(doings).items():
        blank = workshop.blank(name)
        if blank is not None:
            shaper = _Shaper(workshop, step, blank, state.of(name), acts)
            told += shaper.tell()
            state = state.put(name, shaper.now)
    return tuple(told), state


def _by_piece(doings: Sequence[Doing]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for doing in doings:
        for name in doing.subjects:
            found.setdefault(name, set()).add(doing.act)
    return found


class _Shaper:
    """One piece in one step; `now` is what has been done to it."""

    def __init__(self, workshop: Workshop, step: Step, blank: Blank, now: PieceState, acts: set[str]) -> None:
        self.workshop, self.step, self.blank, self.now, self.acts = workshop, step, blank, now, acts

    def tell(self) -> Iterator[StepPicture]:
        yield from self._flat_work()
        yield from self._folding()

    def _flat_work(self) -> Iterator[StepPicture]:
        blank, acts = self.blank, self.acts
        first_cut = not self.now.cut_out and bool(acts & CUTTING)
        if acts & (CUTTING | SCORING):
            self.now = replace(self.now, cut_out=True)
        if first_cut and not acts & SCORING and _has_work(blank):
            yield self._picture("cut", cutting_scene(blank))
        if acts & SCORING:
            yield from self._scoring()
        later = acts - (CUTTING if first_cut else set())
        if (blank.flap_cuts or blank.corners_removed) and later & SLITTING and not self.now.freed:
            yield self._picture("corners" if blank.corners_removed else "slit", slitting_scene(blank, self.now))
            self.now = replace(self.now, freed=True)
        elif _is_pierced(blank, later) and not self.now.opened:
            scene = punching_scene(blank, self.now)
            lengths = tuple(length for callout in scene.callouts for length in callout.lengths)
            yield StepPicture(self.step.number, "punch", blank.piece, scene, "", lengths)
            self.now = replace(self.now, opened=True)

    def _scoring(self) -> Iterator[StepPicture]:
        """The direction with more scores first; a square tray is the same both ways and is shown once."""
        blank = self.blank
        sides = [side for side, strips in (("down", blank.down), ("across", blank.across)) if len(strips) > 1]
        sides = [side for side in sides if side not in self.now.scored]
        both = len(sides) == 2 and [one.end for one in blank.across] == [one.end for one in blank.down]
        for side in ["across"] if both else sides:
            scene = scoring_scene(blank, side, self.now, self.workshop.view.left_handed, self.workshop.spoken)
            yield self._picture("score-all-round" if both else f"score-{side}", scene)
            self._scored({side})
        if both:
            self._scored({"down"})
        if any(line.kind in FOLDS and not line.doubtful for line in blank.drawn) and not self.now.scored & DRAWN:
            yield self._picture("score-drawn", drawn_scores_scene(blank, self.now))
        self._scored(DRAWN)

    def _scored(self, sides: set[str] | frozenset[str]) -> None:
        self.now = replace(self.now, scored=self.now.scored | sides)

    def _folding(self) -> Iterator[StepPicture]:
        name, form, view = self.blank.piece, self.blank.form, self.workshop.view
        net, paper = self.workshop.folding.nets.get(name), self.workshop.papers[name]
        glues = bool(self.acts & GLUING)
        folds = bool(self.acts & FOLDING) and not self.now.bent
        if net is None or not (folds or glues) or self.now.folded:
            return
        if not self.now.bent:
            code = "glue" if glues else "fold"
            yield self._picture(_ROLLED[code] if form in ROLLED else code, folding_scene(net, form, glues, view, paper))
        self.now = replace(self.now, bent=True)
        if glues or not flaps_of(net):
            self.now = replace(self.now, glued=True)
            made = self._picture("rolled" if form in ROLLED else "made", made_scene(net, form, view, paper))
            yield replace(made, stages=motion_of(net, form, view, paper))

    def _picture(self, code: str, scene: Scene) -> StepPicture:
        return StepPicture(self.step.number, code, self.blank.piece, scene, "", scene.lengths)


def _is_pierced(blank: Blank, acts: set[str]) -> bool:
    return bool(blank.openings and acts & PIERCING) or bool(blank.notches and acts & (PIERCING | {"notch"}))


def _has_work(blank: Blank) -> bool:
    return len(blank.across) + len(blank.down) > 2 or bool(blank.drawn or blank.openings or blank.notches)
