"""Where the steps are in the video of a recipe, and whether those moments go with each other and with the video."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.recipe.facts.moments import near_moment, read_moment, write_moment
from foldwright.recipe.facts.web import as_uri
from foldwright.recipe.model import Recipe, Step


class Moment(Struct, frozen=True):
    """The step begins so many `seconds` from the beginning of the video."""

    step: Step
    seconds: int
    place: Place

    @property
    def written(self) -> str:
        return write_moment(self.seconds)


def moments_of(recipe: Recipe) -> tuple[Moment, ...]:
    """The moments the steps name, in the order of the steps. An address of a step's own video is none."""
    said = ((step, step.video, read_moment(step.video.value)) for step in recipe.steps if step.video)
    return tuple(Moment(step, seconds, video.place) for step, video, seconds in said if seconds is not None)


def check_film(recipe: Recipe) -> Iterator[Finding]:
    """What is the matter with the moments."""
    if recipe.video and not as_uri(recipe.video.value):
        yield Finding.of("video-odd", Strength.MISFIT, recipe.video.place, said=recipe.video.value)
    yield from _unread(recipe)
    moments = moments_of(recipe)
    if moments and recipe.video is None:
        said = moments[0].step.video
        assert said is not None
        yield Finding.of("video-without-address", Strength.THOUGHT, said.place, name=said.value)
    for before, after in pairwise(moments):
        if after.seconds > before.seconds:
            continue
        code = "video-moment-twice" if after.seconds == before.seconds else "video-moment-before"
        facts = {"said": after.written, "number": after.step.number, "other": before.step.number}
        yield Finding.of(code, Strength.MISFIT, after.place, **facts, before=before.written)
    length = recipe.video_length
    for moment in moments:
        if length and moment.seconds >= length.value:
            facts = {"said": moment.written, "number": moment.step.number, "length": write_moment(length.value)}
            yield Finding.of("video-moment-beyond", Strength.MISFIT, moment.place, **facts)


def _unread(recipe: Recipe) -> Iterator[Finding]:
    for step in recipe.steps:
        said = step.video
        if said and read_moment(said.value) is None and not is_address(said.value):
            near = near_moment(said.value)
            code = "video-moment-unread-near" if near else "video-moment-unread"
            yield Finding.of(code, Strength.MISFIT, said.place, said=said.value, nearest=near)


def is_address(text: str) -> bool:
    """Whether a text is an address of a page or a file."""
    return "://" in text or text.startswith("www.")
