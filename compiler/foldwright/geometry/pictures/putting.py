"""What a step puts on what, and what it all comes to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from msgspec.structs import replace

from foldwright.geometry.pictures.joining import Bench, drawn_out_scene, joined_scene, lidded_scene
from foldwright.geometry.pictures.state import Bond, State
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.sticking import sticker_of
from foldwright.geometry.pictures.workshop import Workshop
from foldwright.recipe.model import Doing, Step


def putting_pictures(
    workshop: Workshop, state: State, step: Step, doings: Sequence[Doing]
) -> tuple[tuple[StepPicture, ...], State]:
    """One picture of all that is put on one piece in a row, held off its place. Of each doing the last piece is the one
    below."""
    told: list[StepPicture] = []
    for onto, same in groupby(doings, lambda doing: doing.subjects[-1]):
        alike = tuple(same)
        tops = dict.fromkeys(top for doing in alike for top in doing.subjects[:-1])
        sticker = sticker_of(workshop.recipe, step, alike[-1])
        coming = tuple(replace(bond, under=sticker) for top in tops for bond in _bonds(workshop, top, onto))
        names = tuple(dict.fromkeys(bond.piece for bond in coming))
        root = beneath(onto, (*state.bonds, *coming))
        if not coming or any(workshop.net(name) is None for name in (root, *names)):
            continue
        opened_out = frozenset(bond.onto for bond in coming if _is_opened_out(workshop, state, bond))
        bench = workshop.bench(state, coming, opened_out)
        signs, state = state.stood(root, bench.stands(root))
        scene = replace(joined_scene(bench, root, workshop.view), signs=signs)
        code, thing = ("join-with", sticker.name.value) if sticker else ("join", "")
        told.append(StepPicture(step.number, code, names[0], scene, onto, names, thing=thing))
        state = state.bonded(coming)
    return tuple(told), state


def _is_opened_out(workshop: Workshop, state: State, bond: Bond) -> bool:
    """Whether a piece is laid flat to have something put inside: it is folded, and nothing holds it shut."""
    bending = workshop.bending(bond.onto)
    loose = bending is not None and not bending.wet and not bending.order.row
    return loose and state.of(bond.onto).bent and bond.placement.face == "inside"


def _bonds(workshop: Workshop, top: str, onto: str) -> Iterator[Bond]:
    piece = workshop.piece(top)
    for said in piece.goes_on if piece else ():
        under = workshop.named(said.value.piece)
        if under == onto:
            yield Bond(top, replace(said.value, piece=under))


def beneath(piece: str, bonds: Sequence[Bond]) -> str:
    """The piece at the very bottom of what lies on one another."""
    seen = {piece}
    while True:
        under = next((bond.onto for bond in bonds if bond.piece == piece and bond.onto not in seen), None)
        if under is None:
            return piece
        seen.add(under)
        piece = under


def finished_pictures(workshop: Workshop, state: State) -> Iterator[StepPicture]:
    """What all the steps come to: the pair that belongs together, or the piece with most on it."""
    bench = workshop.bench(state)
    names = [piece.name.value for piece in workshop.recipe.pieces]
    folded = [name for name in names if state.of(name).folded]
    for piece in workshop.recipe.pieces:
        name = piece.name.value
        for said, code in ((piece.fits_over, "lid"), (piece.slides_in, "drawer")):
            for placement in said:
                other = workshop.named(placement.value.piece)
                if name in folded and other in folded and (code == "lid" or _goes_through(workshop, name, other)):
                    yield _pair(workshop, bench, code, name, other)
                    return
    roots = [name for name in names if state.bonds and beneath(name, state.bonds) == name]
    roots = [name for name in roots if any(bond.onto == name for bond in state.bonds)] or folded[:1]
    if roots and workshop.net(roots[0]) is not None:
        yield StepPicture(0, "joined", roots[0], joined_scene(bench, roots[0], workshop.view))


def _goes_through(workshop: Workshop, name: str, other: str) -> bool:
    """Whether either is a sleeve. How a card looks half in its envelope tells nobody anything."""
    return "sleeve" in {blank.form for blank in map(workshop.flat.blank, (name, other)) if blank}


def _pair(workshop: Workshop, bench: Bench, code: str, name: str, other: str) -> StepPicture:
    """Said once, on either piece: the lid is the one with that form, the sleeve the one with that."""
    forms = {piece: blank.form for piece in (name, other) if (blank := workshop.flat.blank(piece))}
    outer, inner, wanted = (name, other, "lid") if code == "lid" else (other, name, "sleeve")
    if forms.get(inner) == wanted != forms.get(outer):
        outer, inner = inner, outer
    if code == "lid":
        return StepPicture(0, code, outer, lidded_scene(bench, inner, outer, workshop.view), inner)
    return StepPicture(0, code, inner, drawn_out_scene(bench, inner, outer, workshop.view), outer)
