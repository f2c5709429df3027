"""The work a step leaves to the program to list: what it cuts, scores and pierces of each piece, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Set

from foldwright.document.catalogue import Catalogue
from foldwright.document.model import PieceLine
from foldwright.document.words import Part, Passage
from foldwright.recipe.model import Step
from foldwright.recipe.words import Items, Paragraph, Text
from foldwright.vocabulary.work import CUTTING, PIERCING, SCORING, SLITTING

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
            for name in doing.subjects:
                kinds = (
                    set(_kinds(doing.act, set(pieces[name].work_kinds), done.get(name, set())))
                    if name in pieces
                    else set()
                )
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
