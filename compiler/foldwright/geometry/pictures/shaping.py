"""What a step does to one piece: cut, scored, its flaps freed, its holes opened, folded; a picture for each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.forms.round import ROLLED
from foldwright.geometry.flat.inside import TRAYS
from foldwright.geometry.flat.lines import FOLDS
from foldwright.geometry.pictures.bending import Bending
from foldwright.geometry.pictures.flat import (
    DRAWN,
    cutting_scene,
    drawn_scores_scene,
    punching_scene,
    rounding_scene,
    scoring_scene,
    slitting_scene,
)
from foldwright.geometry.pictures.folding import (
    Shot,
    folding_scene,
    gluing_shots,
    made_scene,
    motion_of,
    panels_moved,
    shot_standing,
    shots_of,
)
from foldwright.geometry.pictures.piercing import layers_on, piercing_scene
from foldwright.geometry.pictures.schedule import PUNCHING
from foldwright.geometry.pictures.standing import Standing
from foldwright.geometry.pictures.state import PieceState, State
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.workshop import Workshop, is_opened
from foldwright.geometry.scene import Scene
from foldwright.recipe.model import Doing, Step
from foldwright.vocabulary.work import CLOSING, CUTTING, FOLDING, GLUING, PRESSING, SCORING

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
            shaper = _Shaper(workshop, state, step, blank, acts)
            told += shaper.tell()
            state = shaper.state
    return tuple(told), state


def _by_piece(doings: Sequence[Doing]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for doing in doings:
        for name in doing.subjects:
            found.setdefault(name, set()).add(doing.act)
    return found


class _Shaper:
    """One piece in one step; `now` is what has been done to it."""

    def __init__(self, workshop: Workshop, state: State, step: Step, blank: Blank, acts: set[str]) -> None:
        self.workshop, self.state, self.step, self.blank, self.acts = workshop, state, step, blank, acts
        self.schedule = workshop.schedules[blank.piece]

    @property
    def now(self) -> PieceState:
        return self.state.of(self.blank.piece)

    def done(self, now: PieceState) -> None:
        self.state = self.state.put(self.blank.piece, now)

    def tell(self) -> Iterator[StepPicture]:
        yield from self._cutting()
        if self.acts & SCORING:
            yield from self._scoring()
        yield from self._freeing()
        yield from self._opening()
        if "round" in self.acts and not self.now.bent:
            yield self._picture("round", rounding_scene(self.blank, self.now))
        yield from self._folding()

    def _cutting(self) -> Iterator[StepPicture]:
        if self.now.cut_out or not self.acts & (CUTTING | SCORING):
            return
        with_holes = is_opened(self.blank) and not self.schedule.told
        self.done(replace(self.now, cut_out=True, opened=with_holes))
        if self.acts & CUTTING:
            yield self._picture("cut", cutting_scene(self.blank, self.now))

    def _scoring(self) -> Iterator[StepPicture]:
        """The direction with more scores first; a square tray is the same both ways and is shown once."""
        blank = self.blank
        if {"across", "down"} <= self.now.scored:
            # It was scored before, and is once more.
            self.done(replace(self.now, scored=frozenset()))
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
        self._scored(DRAWN | {"across", "down"})

    def _scored(self, sides: set[str] | frozenset[str]) -> None:
        self.done(replace(self.now, scored=self.now.scored | sides))

    def _freeing(self) -> Iterator[StepPicture]:
        """Corner flaps cut free, corners cut away: when a step says so, or else before the first fold."""
        blank = self.blank
        if self.now.freed or not (blank.flap_cuts or blank.corners_removed):
            return
        if self.step.number == self.schedule.freed or self.acts & FOLDING:
            yield self._picture("corners" if blank.corners_removed else "slit", slitting_scene(blank, self.now))
            self.done(replace(self.now, freed=True))

    def _opening(self) -> Iterator[StepPicture]:
        """Holes, notches and cuts, in the piece as it is by then."""
        blank = self.blank
        if self.now.opened or not is_opened(blank) or self.step.number != self.schedule.opened:
            return
        openings = [opening.shape for opening in (*blank.openings, *blank.notches)]
        openings += ["cut" for line in blank.drawn if line.kind == "cut" and line.number]
        code = "punch" if set(openings) == {"round"} and not blank.notches else "open"
        if self.now.bent:
            through = self.now.folds if self.acts & PUNCHING else 0
            self.done(replace(self.now, opened=True, through=through))
            scene = piercing_scene(self.workshop.bench(self.state), blank, self.workshop.view)
            yield replace(self._picture(f"{code}-folded", scene), parts=tuple(openings))
            return
        scene = punching_scene(blank, self.now, layers_on(self.workshop.bench(self.state), blank.piece))
        sizes = tuple(length for callout in scene.callouts for length in callout.lengths)
        yield replace(self._picture(code, scene), lengths=sizes, parts=tuple(openings))
        self.done(replace(self.now, opened=True))

    # --- folding -----------------------------------------------------------------------------------------------------

    def _folding(self) -> Iterator[StepPicture]:
        bending = self.workshop.bending(self.blank.piece, self.now.opened, self.now.through)
        glues, closes = bool(self.acts & GLUING), bool(self.acts & CLOSING)
        closes = closes or (self.blank.pressed and PRESSING in self.acts)
        if bending is None or self.blank.piece not in self.workshop.folding.nets or self.now.folded:
            return
        start, end = self.now.folds, self._folded_to(bending, closes)
        if not (self.acts & FOLDING or glues or (closes and start < end)):
            return
        shots = shots_of(bending, start, end)
        if glues and not shots and not self.now.glued and bending.wet:
            shots = gluing_shots(bending, shots_of(bending, 0, end))
        yield from self._shots(bending, shots, glues, closes)
        flaps = bool(bending.wet)
        self.done(replace(self.now, folds=end, glued=self.now.glued or glues or not flaps))
        if self.now.glued:
            self.done(replace(self.now, folded=end == bending.last))
            yield self._made(start, end)

    def _folded_to(self, bending: Bending, closes: bool) -> int:
        """How many groups are folded by the end of this step: the last end waits when it is shut later."""
        later = self.schedule.shut and self.step.number < self.schedule.shut
        # An open tray has no end that is shut: what closes it is its lid.
        if closes or not later or bending.last < 2 or self.blank.form in TRAYS:
            return bending.last
        ends = bending.order.ends
        return next(at for at in range(bending.last) if ends[at] == ends[-1]) if ends[-1] else bending.last - 1

    def _shots(self, bending: Bending, shots: Sequence[Shot], glues: bool, closes: bool) -> Iterator[StepPicture]:
        bench = self.workshop.bench(self.state)
        whole = len(shots) == 1 and shots[0] == Shot(0, bending.last)
        glued = gluing_shots(bending, shots) if glues else ()
        for shot in shots:
            code = self._code(bending, shot, closes, glues and (shot in glued or bending.net.curved))
            # What is bent is glued before its ends are shut.
            wet = glues and not (bending.net.curved and shot.start)
            scene = folding_scene(bench, self.blank.piece, shot, wet, self.workshop.view)
            panels = () if whole or (closes and len(shots) == 1) else panels_moved(bending, shot)
            named = "part" if panels and not panels[0].isdigit() else "number"
            scene = self._signed(scene, shot_standing(bending, shot))
            picture = self._picture(f"{code}-{named}" if panels else code, scene)
            yield replace(picture, parts=panels)

    def _code(self, bending: Bending, shot: Shot, closes: bool, glues: bool) -> str:
        """What a picture of folding shows."""
        if self.blank.pressed:
            return "press-flat" if shot.start else "ring" if glues else "fold"
        if closes or (bending.net.curved and shot.start):
            return "close"
        code = "glue" if glues else "fold"
        return _ROLLED[code] if self.blank.form in ROLLED else code

    def _made(self, start: int, end: int) -> StepPicture:
        bench, view, name = self.workshop.bench(self.state), self.workshop.view, self.blank.piece
        code = "rolled" if self.blank.form in ROLLED else "made"
        made = self._picture(code, self._signed(made_scene(bench, name, view), bench.stands(name)))
        return replace(made, stages=motion_of(bench, name, start, end, view)) if end > start else made

    def _signed(self, scene: Scene, standing: Standing) -> Scene:
        """The scene with signs where the piece stands another way than in the picture before."""
        signs, self.state = self.state.stood(self.blank.piece, standing)
        return replace(scene, signs=signs)

    def _picture(self, code: str, scene: Scene) -> StepPicture:
        return StepPicture(self.step.number, code, self.blank.piece, scene, lengths=scene.lengths)
