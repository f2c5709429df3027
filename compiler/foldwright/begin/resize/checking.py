"""What only shows once the new size is laid out: words left behind, panels too narrow, overhangs that are gone."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.begin.draft.model import DraftNote
from foldwright.finding import Place
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat
from foldwright.measure.length import Length
from foldwright.pipeline import Understood

_NARROWEST = Fraction(5)
"""Millimetres: a panel between scores that is narrower can hardly be folded (common practice, no source)."""


def words_left_behind(written: Understood, now: Understood, text: str) -> Iterator[tuple[Place, DraftNote]]:
    """Places where the words say how much is used of a supply (`36 in of twine`) and would go on saying so, though the
    new size uses another length; and what is to be said of each."""
    changed = {}
    for old, new in zip(written.recipe.supplies, now.recipe.supplies, strict=True):
        was, is_ = (one.use.value.length if one.use else None for one in (old, new))
        if was and is_ and was != is_:
            changed[was] = (old.name.value, is_)
    for place, names in now.binding.ids.items():
        for name in names:
            said = now.binding.free.get(name)
            if said in changed:
                thing, length = changed[said]
                facts = {"thing": thing, "said": _said(text, place), "where": _where(name, now)}
                yield place, DraftNote.of("words-left-behind", **facts, length=(length,))


def _where(name: LengthId, now: Understood) -> str:
    """The heading the words stand under, or the title of all."""
    recipe = now.recipe
    return (recipe.steps[name.number - 1].heading if name.side.startswith("step") else recipe.title).value


def _said(text: str, place: Place) -> str:
    return " ".join(text[place.start : place.end].split())


def too_narrow(before: Flat, now: Flat) -> Iterator[DraftNote]:
    """Pieces with panels that were wide enough to fold and are no longer, each with the narrowest."""
    for old in before.blanks:
        new = now.blank(old.piece)
        rows = ((old.across, new.across), (old.down, new.down)) if new else ()
        pairs = [pair for strips, others in rows if len(strips) > 1 for pair in zip(strips, others, strict=False)]
        thin = [other for one, other in pairs if other.long < _NARROWEST <= one.long]
        if thin:
            least = min(thin, key=lambda strip: strip.long)
            long = Length(least.long, now.lengths.by_id[least.length].unit)
            yield DraftNote.of("panel-too-narrow", piece=old.piece, long=(long,))


def overhangs_lost(before: Flat, now: Flat) -> Iterator[DraftNote]:
    """Pieces that stood over what they lie on, and no longer do."""
    lost = {
        (name.piece, name.of)
        for name in before.lengths.by_id
        if name.side == "overhang" and name not in now.lengths.by_id
    }
    yield from (DraftNote.of("no-longer-sticks-out", piece=piece, under=under) for piece, under in sorted(lost))
