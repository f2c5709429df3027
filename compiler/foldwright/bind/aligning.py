"""Which step is spoken of when: the cues of captions matched with the steps of a recipe.

A cue speaks for a step by the words they share: a word of its heading counts two, another of its words one, each parted
among all steps that have it (so `card`, which all have, says little). Cues go to steps in their order, and before them
to the opening (title, summary and lists), so that all together speaks most; else a step begins as late as it may.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from enum import Enum
from fractions import Fraction

from msgspec import Struct

from foldwright.recipe.captions import Cue
from foldwright.recipe.model import Recipe, Step
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary import act_of
from foldwright.vocabulary.names import plain_words

_SILENT = frozenset(
    "the and for you your our its this that these those with from into onto out off over then than them they there "
    "here now next first last each every both all one two three four are was will can may just also some any not but "
    "who how when where what which have has had get got make made let going want little really very about thing".split()
)
"""Words that stand in every talk (common practice, no source)."""
_SHORTEST = 3
_HEADING, _WORDS = 2, 1


class Sureness(Enum):
    """How sure it is that a step begins there: half of its heading is said, or two words of it, or less."""

    SURE = "sure"
    LIKELY = "likely"
    GUESS = "guess"


class SpokenStep(Struct, frozen=True):
    """A step and the cues that speak of it."""

    step: Step
    cues: tuple[Cue, ...]
    sureness: Sureness

    @property
    def seconds(self) -> int:
        """Where the first of them begins."""
        return self.cues[0].begins // 1000


class Aligned(Struct, frozen=True):
    """What is said before the first step, and the steps that are spoken of, in their order."""

    opening: tuple[Cue, ...]
    steps: tuple[SpokenStep, ...]


def align(recipe: Recipe, cues: Sequence[Cue]) -> Aligned:
    """The steps with their cues."""
    bags = [_opening(recipe), *map(_of_step, recipe.steps)]
    shared = Counter(word for bag in bags for word in bag)
    weights = [{word: Fraction(count, shared[word]) for word, count in bag.items()} for bag in bags]
    telling = [telling_words(cue.text) for cue in cues]
    places = _in_order([[_score(words, bag) for bag in weights] for words in telling])
    held: dict[int, list[int]] = {}
    for number, place in enumerate(places):
        held.setdefault(place, []).append(number)
    steps = []
    for number, step in enumerate(recipe.steps, 1):
        if own := held.get(number):
            sureness = _sureness(step, bags[number], telling[own[0]])
            steps.append(SpokenStep(step, tuple(cues[at] for at in own), sureness))
    return Aligned(tuple(cues[at] for at in held.get(0, ())), tuple(steps))


def telling_words(text: str) -> frozenset[str]:
    """The words of a text that tell what it is about, acts in their plain form."""
    words = (word for word in plain_words(text) if len(word) >= _SHORTEST and not word[0].isdigit())
    return frozenset(_plain_act(word) for word in words if word not in _SILENT)


def _plain_act(word: str) -> str:
    act = act_of(word)
    return act.name if act else word


def _opening(recipe: Recipe) -> dict[str, int]:
    names = [*(supply.name for supply in recipe.supplies), *(tool.name for tool in recipe.tools)]
    said = (recipe.title, recipe.summary, *names)
    text = " ".join([*(one.value for one in said if one), spoken_text(recipe.intro)])
    return dict.fromkeys(telling_words(text), _WORDS)


def _of_step(step: Step) -> dict[str, int]:
    words = telling_words(f"{step.do.value if step.do else ''} {spoken_text(step.words)}")
    return dict.fromkeys(words, _WORDS) | dict.fromkeys(telling_words(step.heading.value), _HEADING)


def _score(words: frozenset[str], weights: Mapping[str, Fraction]) -> Fraction:
    return sum((weights[word] for word in words if word in weights), Fraction(0))


def _in_order(scores: Sequence[Sequence[Fraction]]) -> list[int]:
    """For each cue the place it goes to, never back, with the greatest sum; of several such, the latest beginnings."""
    best: list[list[Fraction]] = []
    came: list[list[int]] = []
    for row in scores:
        before = best[-1] if best else [Fraction(0)] * len(row)
        furthest, at = before[0], 0
        sums, origins = [], []
        for place, score in enumerate(row):
            if before[place] > furthest:
                furthest, at = before[place], place
            sums.append(furthest + score)
            origins.append(at)
        best.append(sums)
        came.append(origins)
    if not best:
        return []
    places = [best[-1].index(max(best[-1]))]
    for origins in reversed(came[1:]):
        places.append(origins[places[-1]])
    return places[::-1]


def _sureness(step: Step, bag: Mapping[str, int], spoken: frozenset[str]) -> Sureness:
    heading = telling_words(step.heading.value)
    if heading and 2 * len(heading & spoken) >= len(heading):
        return Sureness.SURE
    return Sureness.LIKELY if len(spoken & bag.keys()) > 1 else Sureness.GUESS
