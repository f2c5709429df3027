"""What is listed at a step: the work that it leaves to the program to list, and what to measure before it glues."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Set

from foldwright.document.catalogue import Catalogue
from foldwright.document.measures import Measures
from foldwright.document.model import PieceLine
from foldwright.document.wording import sentence
from foldwright.document.words import Both, Part, Passage, Runs, SetMeasure
from foldwright.geometry.pieces import Flat
from foldwright.geometry.trials import Trial, trial_of
from foldwright.recipe.model import Recipe, Step
from foldwright.recipe.words import Items, Paragraph, Text
from foldwright.vocabulary.work import CUTTING, FOLDING, GLUING, PIERCING, SCORING, SLITTING

_CUT, _SCORE, _SLIT, _HOLE = "cut", "score", "slit", "hole"


def work_lists(steps: Iterable[Step], pieces: Mapping[str, PieceLine], words: Catalogue) -> Mapping[int, Passage]:
    """By the number of each step: a list for each of its pieces there is anything to do to, headed where several are.

    Work that no step says it does (the flaps of a box that is only ever `cut and scored`) belongs to the first step
    that works on the piece.
    """
    kinds = _kinds_by_step(steps, pieces)
    lists: dict[int, Passage] = {}
    for number, done in kinds.items():
        parts: list[Part] = []
        for name, listed in ((name, _lines(pieces[name], some)) for name, some in done.items()):
            if not listed:
                continue
            if len(done) > 1:
                parts.append(Paragraph((Text(words.say("piece.of", piece=name)),)))
            parts.append(Items(False, listed))
        lists[number] = tuple(parts)
    return lists


def _lines(piece: PieceLine, kinds: Set[str]) -> tuple[Passage, ...]:
    return tuple((Paragraph(line),) for kind, line in zip(piece.work_kinds, piece.work, strict=True) if kind in kinds)


def _kinds_by_step(steps: Iterable[Step], pieces: Mapping[str, PieceLine]) -> dict[int, dict[str, set[str]]]:
    """What kinds of work each step does to each piece."""
    found: dict[int, dict[str, set[str]]] = {}
    done: dict[str, set[str]] = {}
    first: dict[str, int] = {}
    for step in steps:
        own = found.setdefault(step.number, {})
        for doing in step.doings:
            for name in filter(pieces.__contains__, doing.subjects):
                kinds = set(_kinds(doing.act, set(pieces[name].work_kinds), done.get(name, set())))
                if kinds:
                    own.setdefault(name, set()).update(kinds)
                    done.setdefault(name, set()).update(kinds)
                    first.setdefault(name, step.number)
    for name, number in first.items():
        found[number][name] |= set(pieces[name].work_kinds) - done[name]
    return found


def _kinds(act: str, there: Set[str], done: Set[str]) -> Iterator[str]:
    """What an act does to a piece whose work is `there`: cutting first cuts it out, later its flaps, then its holes."""
    if act in CUTTING and _CUT not in done:
        yield _CUT
    elif act in SCORING:
        yield _SCORE
    elif act in SLITTING and _SLIT in there - done:
        yield _SLIT
    elif act in PIERCING:
        yield _HOLE


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
        "other": measures.single(trial.lengths[-1]),
    }
    if trial.walls:
        return sentence(words, "trial.box-two-heights", None, **facts, walls=measures.single(trial.walls))
    return sentence(words, f"trial.{trial.code}", None, **facts)
