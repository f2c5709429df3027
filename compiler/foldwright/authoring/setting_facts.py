"""Facts put into a text: what a fact said gives way, and one that was not there comes where the reference lists it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from foldwright.authoring.places import FactPlace, Places, Span, StepPlace, line_after, line_start
from foldwright.finding.changes import Change
from foldwright.recipe.prose.body import STEP_WORDS
from foldwright.recipe.reading import RECIPE_WORDS

type Said = Mapping[str, str]
"""Facts by their words, in the order in which they are to stand."""


def set_in_step(text: str, step: StepPlace, said: Said) -> tuple[Change, ...]:
    """The changes that have a step say these facts, whatever it said of them before."""
    if step.block:
        return _set(text, step.facts, step.block[0], STEP_WORDS.words, said)
    at = line_after(text, step.start)
    follows = text[at : line_after(text, at)].strip()
    before = "\n" if text[at - 1] == "\n" else "\n\n"
    return (Change(at, at, f"{before}```step\n{_lines(said)}```\n" + "\n" * bool(follows)),)


def set_at_top(text: str, places: Places, said: Said) -> tuple[Change, ...]:
    """The changes that have the facts of the whole recipe say these."""
    if places.front is None:
        return (Change(0, 0, f"---\n{_lines(said)}---\n\n"),)
    start = places.front[0]
    return _set(text, places.facts, start + (text[start : start + 1] == "\n"), RECIPE_WORDS.words, said)


def _set(text: str, facts: Sequence[FactPlace], start: int, order: Sequence[str], said: Said) -> tuple[Change, ...]:
    there = {fact.word: fact for fact in reversed(facts)}
    inset = _inset(text, facts[0].whole) if facts else ""
    changes = [_instead(text, there[word], value) for word, value in said.items() if word in there]
    fresh: dict[int, dict[str, str]] = {}
    for word, value in said.items():
        if word not in there:
            before = [there[one] for one in order[: order.index(word)] if one in there]
            fresh.setdefault(before[-1].whole[1] if before else start, {})[word] = value
    return (*changes, *(_lines_at(text, at, inset, new) for at, new in fresh.items()))


def _instead(text: str, fact: FactPlace, value: str) -> Change:
    start, end = fact.value
    if "\n" not in text[line_start(text, fact.whole[0]) : end].strip("\n") and text[start:end].strip():
        return Change(start, end, value)
    # What stood on lines of its own, or nowhere, comes behind the word.
    line_end = "\n" if text[fact.whole[0] : fact.whole[1]].endswith("\n") else ""
    return Change(*fact.whole, f"{_inset(text, fact.whole)}{fact.word}: {value}{line_end}")


def _lines_at(text: str, at: int, inset: str, said: Said) -> Change:
    before = "\n" if text[:at] and text[at - 1] != "\n" else ""
    return Change(at, at, before + _lines(said, inset))


def _lines(said: Said, inset: str = "") -> str:
    return "".join(f"{inset}{word}: {value}\n" for word, value in said.items())


def _inset(text: str, whole: Span) -> str:
    line = text[whole[0] : whole[1]]
    return line[: len(line) - len(line.lstrip())]
