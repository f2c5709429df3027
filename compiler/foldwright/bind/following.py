"""The words in another size: what was tied to the pieces as written says the same lengths of the pieces as they are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from foldwright.bind.spans import spans_by_piece
from foldwright.bind.words import Binding
from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.lengths import Equal, LengthId, Relation
from foldwright.measure.length import Length
from foldwright.recipe.model import Recipe, Step

if TYPE_CHECKING:
    from foldwright.geometry.pieces import Flat


def follow(written: Binding, before: Flat, flat: Flat, original: Recipe, recipe: Recipe, text: str) -> Binding:
    """The binding of a recipe in one of its sizes, from that of the recipe as written.

    `before` and `original` are the pieces and the recipe as written, `flat` and `recipe` those in the size; `text` is
    what places point into.
    """
    lengths = flat.lengths.by_id
    free = {name: _of_supply(name, length, original, recipe) for name, length in written.free.items()}
    findings: list[Finding] = []
    for place, names in written.ids.items():
        for name in names:
            if name not in free and name not in lengths:
                # It is printed as written, so that the rest of the sentence can be read.
                free[name] = before.lengths.by_id[name]
                findings.append(_finding("words-of-another-size", Strength.MISFIT, place, name.piece, recipe, text))
    relations: list[Relation] = []
    for relation in written.relations:
        if _holds(relation, lengths):
            relations.append(relation)
        elif isinstance(relation, Equal):
            said = next(place for place, names in written.ids.items() if relation.one in names)
            found = _finding("words-hold-in-one-size", Strength.MISFIT, said, relation.one.piece, recipe, text)
            findings.append(found)
    findings += _same(written, free, before, flat, recipe, text)
    known = spans_by_piece(lengths, flat.blanks)
    return Binding(written.ids, free, tuple(relations), tuple(dict.fromkeys(findings)), (), known, written.bare)


def _finding(code: str, strength: Strength, place: Place, piece: str, recipe: Recipe, text: str) -> Finding:
    said = " ".join(text[place.start : place.end].split())
    return Finding.of(code, strength, place, said=said, piece=piece, size=recipe.size)


def _holds(relation: Relation, lengths: dict[LengthId, Length]) -> bool:
    one = lengths.get(relation.one) if isinstance(relation, Equal) else None
    return isinstance(relation, Equal) and one is not None and one == lengths.get(relation.other)


def _of_supply(name: LengthId, length: Length, original: Recipe, recipe: Recipe) -> Length:
    """`Fold 120 mm of ribbon`, in a step that names the ribbon and no other supply used in that length: as long as the
    ribbon's use in the size."""
    step = _step_of(name, original)
    if step is None:
        return length
    spoken = {used.value.casefold() for used in step.uses}
    spoken |= {subject.casefold() for doing in step.doings for subject in doing.subjects}
    supplies = [one for one in original.supplies if one.use and one.name.value.casefold() in spoken]
    named = [one.name.value for one in supplies if one.use and one.use.value.length == length]
    own = next((supply for supply in recipe.supplies if [supply.name.value] == named), None)
    return (own.use.value.length if own and own.use else None) or length


def _same(
    written: Binding, free: dict[LengthId, Length], before: Flat, flat: Flat, recipe: Recipe, text: str
) -> Iterator[Finding]:
    """Numbers of no piece, in steps that work on a piece which differs: they may have been meant to differ too.

    A number that the piece has in both sizes (what is trimmed off its flaps) was not.
    """
    changed = _changed(before, flat)
    for place, names in written.ids.items():
        own = [name for name in names if name in written.free and name.side != "step short"]
        name = next((name for name in own if free[name] == written.free[name]), None)
        step = _step_of(name, recipe) if name else None
        if name is None or step is None:
            continue
        subjects = {subject for doing in step.doings for subject in doing.subjects}
        if subjects & changed and free[name] not in _kept(subjects, before, flat):
            yield _finding("same-in-every-size", Strength.THOUGHT, place, "", recipe, text)


def _kept(pieces: set[str], before: Flat, flat: Flat) -> set[Length]:
    """Lengths of some pieces that are the same in both sizes and no panels: their holes, what flaps are trimmed."""
    one, other = before.lengths.by_id, flat.lengths.by_id
    return {
        length
        for name, length in one.items()
        if name.piece in pieces and name.side not in ("across", "down") and other.get(name) == length
    }


def _step_of(name: LengthId, recipe: Recipe) -> Step | None:
    """The step in whose words (its own, or the short ones) a free length stands."""
    return recipe.steps[name.number - 1] if name.side in ("step", "step short") else None


def _changed(before: Flat, flat: Flat) -> frozenset[str]:
    """The pieces any length of which differs."""
    one, other = before.lengths.by_id, flat.lengths.by_id
    return frozenset(name.piece for name in one.keys() | other.keys() if one.get(name) != other.get(name))
