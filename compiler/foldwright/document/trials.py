"""What to measure before a folded piece is glued, in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set

from foldwright.document.catalogue import Catalogue
from foldwright.document.measures import Measures
from foldwright.document.wording import sentence
from foldwright.document.words import Both, Runs, SetMeasure
from foldwright.geometry.pieces import Flat
from foldwright.geometry.trials import Trial, trial_of
from foldwright.recipe.model import Recipe, Step
from foldwright.vocabulary.work import FOLDING, GLUING


def trials_by_step(recipe: Recipe, flat: Flat, measures: Measures, words: Catalogue) -> Mapping[int, tuple[Runs, ...]]:
    """By the number of the step that glues a piece, or folds one that is never glued: a line for each piece."""
    found: dict[int, list[Runs]] = {}
    for blank in flat.blanks:
        trial = None if blank.doubtful else trial_of(blank)
        if trial is None or not all(map(measures.has, (*trial.lengths, *((trial.walls,) if trial.walls else ())))):
            continue
        glued = _step_that(GLUING, blank.piece, recipe.steps)
        step = glued or _step_that(FOLDING, blank.piece, recipe.steps)
        if step:
            found.setdefault(step, []).append(_line(blank.piece, trial, glued > 0, measures, words))
    return {step: tuple(lines) for step, lines in found.items()}


def _step_that(acts: Set[str], piece: str, steps: Iterable[Step]) -> int:
    """The first step that does one of these to the piece alone; 0 when none does. `glue a to b` joins two."""
    return next(
        (
            step.number
            for step in steps
            for doing in step.doings
            if doing.act in acts and piece in doing.subjects and (doing.act not in GLUING or len(doing.subjects) == 1)
        ),
        0,
    )


def _line(piece: str, trial: Trial, glued: bool, measures: Measures, words: Catalogue) -> Runs:
    when = words.say("trial.before-glue" if glued else "trial.folded")
    if trial.code == "shut":
        return sentence(words, "trial.shut", None, when=when, piece=piece, size=measures.cross(*trial.lengths[:2]))
    facts: dict[str, str | Both[SetMeasure]] = {
        "when": when,
        "piece": piece,
        "size": measures.cross(*trial.lengths[:2]),
        "side": measures.single(trial.lengths[0]),
        "other": measures.single(trial.lengths[2]),
    }
    if trial.walls:
        return sentence(words, "trial.box-two-heights", None, **facts, walls=measures.single(trial.walls))
    return sentence(words, f"trial.{trial.code}", None, **facts)
