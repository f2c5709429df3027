"""Work that a piece needs and no step does: pieces nobody cuts, boxes nobody folds.

Only recipes whose steps name acts in `do:` are asked. What a step says in its words counts as well as its `do:`, and
wherever it may be meant it is: a thought that is wrong is worse than one that is missing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct

from foldwright.finding import Finding, Strength
from foldwright.recipe.model import Piece, Recipe, Step
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary import ACTS, Phase
from foldwright.vocabulary.names import plain_words

_SENTENCE = re.compile(r"[.!?;:\n]+(?:\s|$)")
_ALL = re.compile(
    r"\b(?:everything|pieces|parts|shapes|layers|the (?:rest|others?)|(?:them|it) all|templates?)\b", re.IGNORECASE
)
"""Words that may mean any piece."""
_OTHERWISE = frozenset({"round", "remove"})
"""Words for acts that mostly mean something else."""
_FOLDS_TOO = frozenset({"assemble", "wrap", "close", "form", "shape", "build", "make", "roll", "bend"})
_STAND_UP = frozenset(
    {"tray", "lid", "sleeve", "card", "gate", "tri-fold", "accordion", "envelope", "gift bag", "pocket", "case"}
)
"""Forms that are nothing until somebody folds them, and whose pictures show it."""


class _KindOfWork(Struct, frozen=True):
    """A kind of work: the finding that says nobody does it, and all words for doing it."""

    code: str
    names: frozenset[str]
    words: frozenset[str]


def _work(code: str, phases: tuple[Phase, ...], more: frozenset[str] = frozenset()) -> _KindOfWork:
    acts = [act for act in ACTS if act.phase in phases or act.name in more]
    forms = (plain_words(form) for act in acts for form in (act.name, *act.forms))
    words = frozenset(form[0] for form in forms if len(form) == 1)
    return _KindOfWork(code, frozenset(act.name for act in acts) | more, (words | more) - _OTHERWISE)


_CUT = _work("piece-never-cut", (Phase.CUT, Phase.PIERCE))
_FOLDED = _work("piece-never-folded", (Phase.FOLD,), _FOLDS_TOO)


def undone_work(recipe: Recipe) -> Iterator[Finding]:
    """Each piece at most once: what is not even cut is not told to be unfolded."""
    done = {doing.act for step in recipe.steps for doing in step.doings}
    known = {subject for step in recipe.steps for doing in step.doings for subject in doing.subjects}
    if not known:
        return
    said = {step.number: [_WordsOfSentence.of(one) for one in _sentences(step)] for step in recipe.steps}
    for piece in recipe.pieces:
        wanted = [_CUT] if done & _CUT.names else []
        if piece.fold is not None and (piece.fold.value.form in _STAND_UP):
            wanted.append(_FOLDED)
        for work in wanted:
            if not _is_done(piece, work, recipe, said):
                if piece.name.value in known or _is_spoken_of(piece, said):
                    yield Finding.of(work.code, Strength.THOUGHT, piece.name.place, name=piece.name.value)
                break


class _WordsOfSentence(Struct, frozen=True):
    words: frozenset[str]
    of_all: bool

    @classmethod
    def of(cls, text: str) -> _WordsOfSentence:
        return cls(frozenset(plain_words(text)), _ALL.search(text) is not None)


type _Said = dict[int, list[_WordsOfSentence]]


def _is_done(piece: Piece, work: _KindOfWork, recipe: Recipe, said: _Said) -> bool:
    noun = plain_words(piece.name.value)[-1:]
    for step in recipe.steps:
        subjects = {subject for doing in step.doings for subject in doing.subjects}
        for doing in step.doings:
            if doing.act in work.names and (not doing.subjects or piece.name.value in doing.subjects):
                return True
        for one in said[step.number]:
            meant = piece.name.value in subjects or one.of_all or one.words.intersection(noun)
            if meant and one.words & work.words:
                return True
    return False


def _is_spoken_of(piece: Piece, said: _Said) -> bool:
    noun = plain_words(piece.name.value)[-1:]
    return any(one.words.intersection(noun) for sentences in said.values() for one in sentences)


def _sentences(step: Step) -> list[str]:
    text = f"{step.heading.value}\n{step.do.value if step.do else ''}\n{spoken_text(step.words)}"
    if step.short:
        text += "\n" + spoken_text(step.short.value)
    return _SENTENCE.split(text)
