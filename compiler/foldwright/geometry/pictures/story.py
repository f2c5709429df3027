"""Which pictures the steps of a recipe get: what each does to paper, shown before or after, one thing a picture."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.lines import FOLDS
from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.pieces import Folding
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.bending import folding_scene, made_scene, motion_of
from foldwright.geometry.pictures.flat import (
    DRAWN,
    cutting_scene,
    drawn_scores_scene,
    punching_scene,
    scoring_scene,
    slitting_scene,
)
from foldwright.geometry.pictures.joining import Bench, Bond, drawn_out_scene, joined_scene, lidded_scene
from foldwright.geometry.pictures.view import View
from foldwright.geometry.pieces import Flat
from foldwright.geometry.scene import Scene
from foldwright.recipe.model import Doing, Recipe, Step
from foldwright.vocabulary.work import CUTTING, FOLDING, GLUING, PIERCING, SCORING, SLITTING


class StepPicture(Struct, frozen=True):
    """A picture of step `step` (0: of the finished thing).

    `code` says what it shows of `piece`: `cut`, `score-across`, `score-down`, `score-all-round`, `score-drawn` (lines
    that lie anywhere), `slit`, `corners`, `punch`, `fold`, `glue` (folding, with glue on the flaps), `made` (folded),
    `join` (on its way to `onto`), `joined`, `lid` (over `onto`), `drawer` (half out of `onto`). `lengths` are those it
    shows, in the order they are worked.
    """

    step: int
    code: str
    piece: str
    scene: Scene
    onto: str = ""
    lengths: tuple[LengthId, ...] = ()
    stages: tuple[Scene, ...] = ()
    """Of a piece that is folded: the way there, from flat to folded, all in one frame."""


def step_pictures(
    recipe: Recipe, flat: Flat, folding: Folding, spoken: frozenset[LengthId] = frozenset()
) -> tuple[StepPicture, ...]:
    """Every picture in the order of the steps, the finished thing last. `spoken` are the lengths the words name."""
    return tuple(_Story(recipe, flat, folding, spoken).tell())


def left_handed(recipe: Recipe) -> bool:
    """Whether the studio asks for pictures for left-handed people (`hand: left`)."""
    hand = recipe.studio.hand
    return hand is not None and "left" in hand.value.casefold()


class _Story:
    """Goes through the steps and remembers what has been done to each piece."""

    def __init__(self, recipe: Recipe, flat: Flat, folding: Folding, spoken: frozenset[LengthId]) -> None:
        self.recipe = recipe
        self.spoken = spoken
        self.flat = flat
        self.folding = folding
        self.view = View(left_handed(recipe))
        self.pieces = {piece.name.value: piece for piece in recipe.pieces}
        self.done: dict[str, set[str]] = {name: set() for name in self.pieces}
        self.there: list[Bond] = []
        self.nets: dict[str, Net] = dict(folding.nets)
        self.papers = _papers(recipe)

    def tell(self) -> Iterator[StepPicture]:
        for step in self.recipe.steps:
            yield from self._of_step(step)
        yield from self._finished()

    # --- one step -------------------------------------------------------------------------------------------------

    def _of_step(self, step: Step) -> Iterator[StepPicture]:
        coming: list[Bond] = []
        for name, acts in _by_piece(step.doings).items():
            blank = self._blank(name)
            if blank is not None:
                yield from self._flat_work(step, blank, acts)
                yield from self._folding(step, blank, acts)
        for doing in step.doings:
            if doing.act in GLUING and len(doing.subjects) >= 2:
                *tops, onto = doing.subjects
                coming += [bond for top in tops for bond in self._bonds(top, onto)]
        if coming:
            yield from self._joining(step, coming)

    def _flat_work(self, step: Step, blank: Blank, acts: set[str]) -> Iterator[StepPicture]:
        name, done = blank.piece, self.done[blank.piece]
        first_cut = "cut out" not in done and bool(acts & CUTTING)
        if acts & (CUTTING | SCORING):
            done.add("cut out")
        if first_cut and not acts & SCORING and _has_work(blank):
            yield self._picture(step, "cut", blank, cutting_scene(blank))
        if acts & SCORING:
            yield from self._scoring(step, blank)
        later = acts - (CUTTING if first_cut else set())
        if (blank.flap_cuts or blank.corners_removed) and later & SLITTING and "flaps" not in done:
            code = "corners" if blank.corners_removed else "slit"
            yield self._picture(step, code, blank, slitting_scene(blank, frozenset(done)))
            done.add("flaps")
        elif _is_pierced(blank, later) and "holes" not in done:
            scene = punching_scene(blank, frozenset(done))
            lengths = tuple(length for callout in scene.callouts for length in callout.lengths)
            yield StepPicture(step.number, "punch", name, scene, "", lengths)
            done.add("holes")

    def _scoring(self, step: Step, blank: Blank) -> Iterator[StepPicture]:
        """The direction with more scores first; a square tray is the same both ways and is shown once."""
        done = self.done[blank.piece]
        sides = [side for side, strips in (("down", blank.down), ("across", blank.across)) if len(strips) > 1]
        sides = [side for side in sides if side not in done]
        if len(sides) == 2 and _same_both_ways(blank):
            sides, both = ["across"], True
        else:
            both = False
        for side in sides:
            scene = scoring_scene(blank, side, frozenset(done), self.view.left_handed, self.spoken)
            code = "score-all-round" if both else f"score-{side}"
            yield self._picture(step, code, blank, scene)
            done.add(side)
        if both:
            done.add("down")
        if any(line.kind in FOLDS and not line.doubtful for line in blank.drawn) and not done & DRAWN:
            yield self._picture(step, "score-drawn", blank, drawn_scores_scene(blank, frozenset(done)))
        done |= DRAWN

    def _folding(self, step: Step, blank: Blank, acts: set[str]) -> Iterator[StepPicture]:
        name, done = blank.piece, self.done[blank.piece]
        net = self.folding.nets.get(name)
        glues = bool(acts & GLUING)
        folds = bool(acts & FOLDING) and "bent" not in done
        if net is None or not (folds or glues) or "folded" in done:
            return
        if "bent" not in done:
            code = "glue" if glues else "fold"
            yield self._picture(step, code, blank, folding_scene(net, blank.form, glues, self.view, self.papers[name]))
        done.add("bent")
        if glues or not _wants_glue(net):
            done.add("folded")
            made = self._picture(step, "made", blank, made_scene(net, blank.form, self.view, self.papers[name]))
            yield replace(made, stages=motion_of(net, blank.form, self.view, self.papers[name]))

    def _joining(self, step: Step, coming: Sequence[Bond]) -> Iterator[StepPicture]:
        bench = self._bench(tuple(coming))
        root = _beneath(coming[-1].onto, (*self.there, *coming))
        if self._net(root) is None or any(self._net(bond.piece) is None for bond in coming):
            return
        tops = dict.fromkeys(bond.piece for bond in coming)
        scene = joined_scene(bench, root, self.view)
        yield StepPicture(step.number, "join", next(iter(tops)), scene, coming[-1].onto)
        self.there += coming

    # --- the end --------------------------------------------------------------------------------------------------

    def _finished(self) -> Iterator[StepPicture]:
        """What all the steps come to: the pair that belongs together, or the piece with most on it."""
        bench = self._bench(())
        folded = [name for name, done in self.done.items() if "folded" in done]
        for piece in self.recipe.pieces:
            name = piece.name.value
            for said, code in ((piece.fits_over, "lid"), (piece.slides_in, "drawer")):
                for placement in said:
                    other = self._named(placement.value.piece)
                    if name in folded and other in folded and (code == "lid" or self._goes_through(name, other)):
                        yield self._pair(bench, code, name, other)
                        return
        roots = [name for name in self.pieces if self.there and _beneath(name, self.there) == name]
        roots = [name for name in roots if any(bond.onto == name for bond in self.there)] or folded[:1]
        if roots and self._net(roots[0]) is not None:
            yield StepPicture(0, "joined", roots[0], joined_scene(bench, roots[0], self.view))

    def _goes_through(self, name: str, other: str) -> bool:
        """Whether either is a sleeve. How a card looks half in its envelope tells nobody anything."""
        return "sleeve" in {blank.form for blank in map(self.flat.blank, (name, other)) if blank}

    def _pair(self, bench: Bench, code: str, name: str, other: str) -> StepPicture:
        """Said once, on either piece: the lid is the one with that form, the sleeve the one with that."""
        blanks = {piece: self.flat.blank(piece) for piece in (name, other)}
        forms = {piece: blank.form for piece, blank in blanks.items() if blank}
        outer, inner = (name, other) if code == "lid" else (other, name)
        wanted = "lid" if code == "lid" else "sleeve"
        if forms.get(inner) == wanted != forms.get(outer):
            outer, inner = inner, outer
        if code == "lid":
            return StepPicture(0, code, outer, lidded_scene(bench, inner, outer, self.view), inner)
        return StepPicture(0, code, inner, drawn_out_scene(bench, inner, outer, self.view), outer)

    # --- what is known --------------------------------------------------------------------------------------------

    def _bench(self, coming: tuple[Bond, ...]) -> Bench:
        folded = frozenset(name for name, done in self.done.items() if done & {"folded", "bent"})
        for name in self.pieces:
            self._net(name)
        return Bench(self.flat, self.nets, folded, tuple(self.there), coming, self.papers)

    def _net(self, name: str) -> Net | None:
        """A piece that does not fold is one panel, or what its cuts leave of it."""
        from foldwright.geometry.folding.subdividing import net_of

        if name not in self.nets:
            blank = self._blank(name)
            if blank is None:
                return None
            self.nets[name] = net_of(blank, {})
        return self.nets[name]

    def _blank(self, name: str) -> Blank | None:
        blank = self.flat.blank(name) if name in self.pieces else None
        return None if blank is None or blank.doubtful else blank

    def _bonds(self, top: str, onto: str) -> Iterator[Bond]:
        piece = self.pieces.get(top)
        for said in piece.goes_on if piece else ():
            under = self._named(said.value.piece)
            if under == onto:
                yield Bond(top, replace(said.value, piece=under))

    def _named(self, name: str) -> str:
        return next((own for own in self.pieces if own.casefold() == name.casefold()), name)

    def _picture(self, step: Step, code: str, blank: Blank, scene: Scene) -> StepPicture:
        return StepPicture(step.number, code, blank.piece, scene, "", scene.lengths)


def _papers(recipe: Recipe) -> dict[str, int]:
    """The supply each piece is cut from, numbered in order of mention."""
    names = {piece.name.value: piece.supply.value if piece.supply else "" for piece in recipe.pieces}
    order = list(dict.fromkeys(names.values()))
    return {piece: order.index(supply) for piece, supply in names.items()}


def _by_piece(doings: Sequence[Doing]) -> dict[str, set[str]]:
    """What is done to each piece of a step; of two pieces that are joined, nothing but that."""
    found: dict[str, set[str]] = {}
    for doing in doings:
        joined = doing.act in GLUING and len(doing.subjects) >= 2
        for name in () if joined else doing.subjects:
            found.setdefault(name, set()).add(doing.act)
    return found


def _is_pierced(blank: Blank, acts: set[str]) -> bool:
    return bool(blank.openings and acts & PIERCING) or bool(blank.notches and acts & (PIERCING | {"notch"}))


def _has_work(blank: Blank) -> bool:
    return len(blank.across) + len(blank.down) > 2 or bool(blank.drawn or blank.openings or blank.notches)


def _same_both_ways(blank: Blank) -> bool:
    across, down = ([strip.end for strip in strips] for strips in (blank.across, blank.down))
    return across == down


def _wants_glue(net: Net) -> bool:
    return any(panel.glued or panel.name == "flap" for panel in net.panels)


def _beneath(piece: str, bonds: Sequence[Bond]) -> str:
    """The piece at the very bottom of what lies on one another."""
    seen = {piece}
    while True:
        under = next((bond.onto for bond in bonds if bond.piece == piece and bond.onto not in seen), None)
        if under is None:
            return piece
        seen.add(under)
        piece = under
