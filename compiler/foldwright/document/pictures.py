"""The drawn pictures of the steps, with their words; and which pictures a page with little room wants first.

How the finished thing looks comes first, then one picture of each step, then the plans that lead no step. Of the steps'
pictures the plan with most work in it is needed most, then the folds and joints no plan shows, then what else hands do,
then the other plans. A plan is wanted once, at the first step that changes its piece; a piece no step changes has it
beside the list of pieces.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec.structs import replace

from foldwright.document.catalogue import Catalogue
from foldwright.document.measures import Measures
from foldwright.document.model import Photograph, Picture, PieceLine, PlacedPicture, StepText
from foldwright.document.papers import Papers
from foldwright.document.quote_marks import curled
from foldwright.document.wording import sentence
from foldwright.document.words import Both, Runs
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.step_picture import StepPicture

_WORTH_A_PLACE = (
    *("glue", "glue-part", "glue-number", "fold", "fold-part", "fold-number", "close", "roll-glue", "roll"),
    *("ring", "press-flat", "join", "join-with", "slit", "corners"),
)
"""The step pictures that show what no plan does, the one needed most first."""
_ON_A_PLAN = ("cut", "score-down", "score-across", "score-all-round", "score-drawn")
"""Step pictures whose numbers stand on the plan of the piece as well."""
_RESULT = "made"
"""What comes of a step: the picture of its work says more."""


def by_step(
    told: Iterable[StepPicture], made: str, papers: Papers, left_handed: bool, measures: Measures, words: Catalogue
) -> Mapping[int, tuple[Picture, ...]]:
    """The pictures of each step by its number; those of the finished thing by 0. `made` is what the recipe makes."""
    whole = " ".join(word for word in made.split() if not word[0].isdigit()) or words.say("drawn.unnamed.whole")
    found: dict[int, list[Picture]] = {}
    for one in told:
        of_step = found.setdefault(one.step, [])
        name = f"step-{one.step}-{len(of_step) + 1}" if one.step else "finished"
        named = replace(one, piece=one.piece or whole, thing=one.thing or words.say("drawn.unnamed.cord"))
        of_step.append(_picture(name, _painted(named, papers), left_handed, measures, words))
    return {step: tuple(pictures) for step, pictures in found.items()}


def _painted(one: StepPicture, papers: Papers) -> StepPicture:
    stages = tuple(map(papers.painted, one.stages))
    return replace(one, scene=papers.painted_flat(one.scene, one.piece), stages=stages)


def _picture(name: str, one: StepPicture, left_handed: bool, measures: Measures, words: Catalogue) -> Picture:
    labels = measures.labels(one.scene.lengths)
    told = [length for length in one.lengths if measures.has(length)]
    return Picture(
        name=name,
        scene=one.scene,
        labels=labels,
        title=_title(one, told, measures, words),
        describes=Both(*(_described(one, told, read, left_handed, words) for read in (labels.imperial, labels.metric))),
        words={"every": words.say("drawn.every", length="{length}", count="{count}")},
        kind=one.code,
        piece=one.piece,
        stages=one.stages,
    )


def _title(one: StepPicture, told: list[LengthId], measures: Measures, words: Catalogue) -> Runs:
    """What to do, in one sentence."""
    name, count = f"drawn.title.{one.code}", 0
    if even := _even(told):
        first, times = even
        return sentence(words, f"{name}-every", times, piece=one.piece, length=measures.single(first))
    if one.parts:
        count = len(one.parts)
    elif any(map(_back, told)):
        name += "-ends"
    shown = [length for length in told if not _back(length)]
    lengths = measures.listed(shown) if shown else ""
    parts = _parts(one, words)
    return sentence(words, name, count, piece=one.piece, onto=one.onto, thing=one.thing, lengths=lengths, parts=parts)


def _even(told: Sequence[LengthId]) -> tuple[LengthId, int] | None:
    """Of scores equally far apart: how far, and how many there are."""
    panels = [length for length in told if length.place == "panel"]
    scores = [length.number for length in told if length.place == "score"]
    return (panels[0], scores[-1]) if panels and scores else None


def _parts(one: StepPicture, words: Catalogue) -> str:
    """The parts it is about, each once; of several with one name the word for several where there is one."""
    counted = Counter(one.parts)
    several = {name: f"drawn.several.{name.replace(' ', '-')}" for name, count in counted.items() if count > 1}
    named = (words.say(several[name]) if words.has(several.get(name, "")) else curled(name) for name in counted)
    return words.listed(list(named))


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
    if not told and words.has(f"{name}-bare"):
        name = f"{name}-bare"
    shown = [length for length in told if one.code != "cut" or length.place == "size"]
    lengths = tuple(dict.fromkeys(labels[length] for length in shown))
    if even := _even(told):
        each, count = even
        last = labels[told[-1]]
        scores = words.say("drawn.scores.every", count=count, length=labels[each], last=last)
        return words.say(name, piece=curled(one.piece), scores=scores)
    scores = "drawn.scores.ends" if any(map(_back, told)) else "drawn.scores.at"
    parts = _parts(one, words)
    facts = {name: curled(said) for name, said in (("piece", one.piece), ("onto", one.onto), ("thing", one.thing))}
    signs = [words.say(f"drawn.sign.{sign.value}", **facts) for sign in one.scene.signs]
    told_scores = words.say(scores, count=len(told), lengths=lengths)
    said = words.say(name, **facts, lengths=lengths, parts=parts, scores=told_scores)
    return " ".join((*signs, said))


def ranked_pictures(
    photo: Photograph | None, finished: Picture | None, pieces: Sequence[PieceLine], steps: Sequence[StepText]
) -> tuple[PlacedPicture, ...]:
    """Every picture there may be room for on paper, the one needed most first."""
    work = Counter(name for step in steps for name in step.shows)
    plans = sorted(_plans(pieces, steps), key=lambda plan: -work[plan.piece])
    whole = [PlacedPicture(0, photo=photo)] if photo else [PlacedPicture(0, drawing=finished.name)] if finished else []
    leads = [lead for step in steps for lead in _lead(step, [plan for plan in plans if plan.step == step.number])]
    ranked = [lead for _, lead in sorted(leads, key=lambda one: (one[1] not in plans[:1], one[0]))]
    return (*whole, *ranked, *(plan for plan in plans if plan not in ranked))


def _lead(step: StepText, plans: Sequence[PlacedPicture]) -> Iterator[tuple[int, PlacedPicture]]:
    """The one picture that says most of a step, if it has any, with its rank: a photograph, a drawing or a plan."""
    drawn = [picture for picture in step.pictures if picture.kind not in (*_ON_A_PLAN, _RESULT)]
    best = min(drawn or ([] if plans else step.pictures), key=_rank, default=None)
    if step.photo:
        yield _rank(best) if best else len(_WORTH_A_PLACE), PlacedPicture(step.number, photo=step.photo)
    elif best:
        # What is done to the whole thing is a picture of no piece.
        piece = best.piece if best.piece in step.pieces else ""
        yield _rank(best), PlacedPicture(step.number, piece, drawing=best.name)
    elif plans:
        yield len(_WORTH_A_PLACE) + 1, plans[0]


def _rank(picture: Picture) -> int:
    return _WORTH_A_PLACE.index(picture.kind) if picture.kind in _WORTH_A_PLACE else len(_WORTH_A_PLACE)


def _plans(pieces: Sequence[PieceLine], steps: Sequence[StepText]) -> Iterator[PlacedPicture]:
    """One for each piece that has a plan, in the order of the steps."""
    first: dict[str, int] = {}
    for step in steps:
        for name in step.shows:
            first.setdefault(name, step.number)
    drawn = {piece.name for piece in pieces if piece.picture}
    yield from (PlacedPicture(number, name) for name, number in first.items() if name in drawn)
    yield from (PlacedPicture(0, piece.name) for piece in pieces if piece.picture and piece.name not in first)
