"""What to measure before a folded piece is glued, in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from foldwright.geometry.flat import Flat
from foldwright.geometry.pictures.story import StepPicture
from foldwright.geometry.trying import Trial, trial_of
from foldwright.sheet.catalogue import Catalogue
from foldwright.sheet.measures import Measures
from foldwright.sheet.wording import sentence
from foldwright.sheet.words import Both, Phrase, Runs

_GLUED, _SHUT = "glue", "made"


def trials_by_step(
    told: Iterable[StepPicture], flat: Flat, measures: Measures, words: Catalogue
) -> Mapping[int, tuple[Runs, ...]]:
    """By the number of the step that glues a piece, or folds one that is not glued: a line for each piece."""
    found: dict[int, list[Runs]] = {}
    seen: set[str] = set()
    for picture in told:
        blank = flat.blank(picture.piece)
        if picture.code not in (_GLUED, _SHUT) or blank is None or blank.piece in seen:
            continue
        seen.add(blank.piece)
        trial = trial_of(blank)
        if trial is not None and all(map(measures.has, (*trial.lengths, *((trial.walls,) if trial.walls else ())))):
            glued = picture.code == _GLUED
            found.setdefault(picture.step, []).append(_line(blank.piece, trial, glued, measures, words))
    return {step: tuple(lines) for step, lines in found.items()}


def _line(piece: str, trial: Trial, glued: bool, measures: Measures, words: Catalogue) -> Runs:
    when = words.say("trial.before-glue" if glued else "trial.folded")
    if trial.code == "shut":
        return sentence(words, "trial.shut", None, when=when, piece=piece, size=measures.cross(*trial.lengths[:2]))
    facts: dict[str, str | Both[Phrase]] = {
        "when": when,
        "piece": piece,
        "size": measures.cross(*trial.lengths[:2]),
        "side": measures.single(trial.lengths[0]),
        "other": measures.single(trial.lengths[2]),
    }
    if trial.walls:
        return sentence(words, "trial.box-two-heights", None, **facts, walls=measures.single(trial.walls))
    return sentence(words, f"trial.{trial.code}", None, **facts)
