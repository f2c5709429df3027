"""The drawn pictures of the steps, with their words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from foldwright.document.catalogue import Catalogue
from foldwright.document.measures import Measures
from foldwright.document.model import Picture
from foldwright.document.quote_marks import curled
from foldwright.document.wording import sentence
from foldwright.document.words import Both, Runs
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.story import StepPicture
from foldwright.geometry.scene import Stress, Tone
from foldwright.measure.length import System
from foldwright.measure.writing import typographic


def by_step(
    told: Iterable[StepPicture], left_handed: bool, measures: Measures, words: Catalogue
) -> Mapping[int, tuple[Picture, ...]]:
    """The pictures of each step by its number; those of the finished thing by 0."""
    found: dict[int, list[Picture]] = {}
    for one in told:
        of_step = found.setdefault(one.step, [])
        name = f"step-{one.step}-{len(of_step) + 1}" if one.step else "finished"
        of_step.append(_picture(name, one, left_handed, measures, words))
    return {step: tuple(pictures) for step, pictures in found.items()}


def _picture(name: str, one: StepPicture, left_handed: bool, measures: Measures, words: Catalogue) -> Picture:
    shown = [length for length in one.scene.lengths if measures.has(length)]
    labels = Both(
        {length: typographic(measures.printed(length).imperial) for length in shown},
        {length: typographic(measures.printed(length).metric) for length in shown},
    )
    told = [length for length in one.lengths if measures.has(length)]
    return Picture(
        name=name,
        scene=one.scene,
        labels=labels,
        title=_title(one, told, measures, words),
        describes=Both(*(_described(one, told, labels.of(system), left_handed, words) for system in _ORDER)),
        kind=one.code,
        piece=one.piece,
        stages=one.stages,
    )


_ORDER = (System.IMPERIAL, System.METRIC)


def _title(one: StepPicture, told: list[LengthId], measures: Measures, words: Catalogue) -> Runs:
    """What to do, in one sentence."""
    name, count = f"drawn.title.{one.code}", 0
    if one.code == "punch":
        name, count = _openings(one)
    elif any(map(_back, told)):
        name += "-ends"
    shown = [length for length in told if not _back(length)]
    lengths = measures.listed(shown) if shown else ""
    return sentence(words, name, count, piece=one.piece, onto=one.onto, lengths=lengths)


def _openings(one: StepPicture) -> tuple[str, int]:
    """The sentence for what is opened, and how many: a punch makes holes, everything else is cut."""
    made = [stroke for stroke in one.scene.strokes if stroke.emphasis is Stress.STRONG]
    holes = sum(face.tone is Tone.HOLE for face in one.scene.faces)
    round_holes = holes == len(made) and all(callout.round for callout in one.scene.callouts)
    return f"drawn.title.{'punch' if round_holes else 'open'}", len(made)


def _back(length: LengthId) -> bool:
    """Whether it is counted from the far end: the stop is set once for two scores, and the piece turned."""
    return length.place.endswith(" back")


def _described(
    one: StepPicture, told: list[LengthId], labels: Mapping[LengthId, str], left_handed: bool, words: Catalogue
) -> str:
    name = f"drawn.says.{one.code}"
    if left_handed and words.has(f"{name}-left"):
        name = f"{name}-left"
    if one.code == "slit" and len(told) < 2:
        name = f"{name}-whole"
    lengths = tuple(dict.fromkeys(labels[length] for length in told))
    scores = "drawn.scores.ends" if any(map(_back, told)) else "drawn.scores.at"
    facts = {"piece": curled(one.piece), "onto": curled(one.onto), "lengths": lengths}
    return words.say(name, **facts, scores=words.say(scores, count=len(told), lengths=lengths))
