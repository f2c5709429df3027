"""Which of the planned recipes somebody means by a project and a size, as people write them in a list."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from msgspec import Struct

from foldwright.recipe.facts.complaints import name_meant, nearest
from foldwright.vocabulary.names import plain_words


class Offered(Struct, frozen=True):
    """A recipe that is planned: the name of its folder, all names it answers to, and of which size it is.

    The first of the names is the one people are told. `size` is empty where the recipe comes in one size alone.
    """

    folder: str
    names: tuple[str, ...]
    size: str = ""


class ProjectMeant(Struct, frozen=True):
    """The number of the recipe from nought, or None and the code of what is the matter, with what to tell of it."""

    recipe: int | None
    slip: str = ""
    near: str = ""
    known: tuple[str, ...] = ()


# Common words of each language, from memory.
_SIZES = {
    "extra small": "xs extrasmall",
    "small": "s small little klein kleine petit petite pequeno pequeño piccolo piccola liten lille mały pieni malý",
    "medium": "m med medium middle mittel moyen moyenne mediano mediana medio media middel mellan średni keski střední",
    "large": "l large big groß gross grosse große grand grande groot grote stor stort duży suuri velký",
    "extra large": "xl extralarge",
}
_SIZE_OF = {word: size for size, words in _SIZES.items() for word in words.split()}


def size_word(text: str) -> str:
    """`L`, `gross` and `Large` are `large`; empty for what is no size that has a name."""
    return _SIZE_OF.get("".join(text.casefold().split()), "")


@lru_cache(maxsize=4096)
def projects_named(said: str, offered: tuple[Offered, ...]) -> tuple[int, ...]:
    """The recipes a text names, by number: those it names whole, else those that hold all its words or all of whose
    words it holds.
    """
    words = plain_words(said)
    if not words:
        return ()
    fits = [max(_fit(words, plain_words(name), plain_words(one.size)) for name in one.names) for one in offered]
    best = max(fits, default=0)
    return tuple(number for number, fit in enumerate(fits) if best and fit == best)


def _fit(words: tuple[str, ...], name: tuple[str, ...], size: tuple[str, ...]) -> int:
    """How well some words fit a name, with or without its size; 0 when not at all."""
    whole = "".join(words)
    if whole == "".join(name) or (size and whole == "".join((*name, *size))):
        return 3
    if {*words} <= {*name, *size} and not {*words}.isdisjoint(name):
        return 2
    return int(bool(name) and {*name} <= {*words})


def is_size(said: str, offered: tuple[Offered, ...]) -> bool:
    """Whether what a list says is a size: one by common words, or one that is offered."""
    return bool(size_word(said)) or any(_same_size(said, one.size) for one in offered if one.size)


def _same_size(said: str, size: str) -> bool:
    word = size_word(said)
    return plain_words(said) == plain_words(size) or (bool(word) and word == size_word(size))


@lru_cache(maxsize=4096)
def recipe_meant(project: str, size: str, offered: tuple[Offered, ...]) -> ProjectMeant:
    """The one recipe that a project and a size mean, either of which may be empty."""
    titles = tuple(dict.fromkeys(one.names[0] for one in offered))
    found = projects_named(project, offered) if project else tuple(range(len(offered)))
    if not found:
        near = name_meant(project.split(), titles) or nearest(project, titles)
        return ProjectMeant(None, "guests-project-unknown", near, titles)
    several = len({offered[number].folder for number in found}) > 1
    if several:
        named = tuple(dict.fromkeys(offered[number].names[0] for number in found))
        return ProjectMeant(None, "guests-project-several" if project else "guests-project-missing", known=named)
    # `drawer box, L`: the size stands among the words of the project.
    within = next((word for word in project.split() if size_word(word.strip("(),.;"))), "")
    return _in_size(found, size or (within.strip("(),.;") if len(found) > 1 else ""), offered)


def _in_size(found: Sequence[int], size: str, offered: tuple[Offered, ...]) -> ProjectMeant:
    """Of the sizes of one recipe the one that is meant."""
    alike = [number for number, one in enumerate(offered) if one.folder == offered[found[0]].folder]
    sizes = tuple(offered[number].size for number in alike)
    if not size:
        return ProjectMeant(found[0]) if len(found) == 1 else ProjectMeant(None, "guests-size-missing", known=sizes)
    fit = [number for number in alike if _same_size(size, offered[number].size)]
    if fit:
        return ProjectMeant(fit[0])
    if sizes == ("",):
        return ProjectMeant(found[0], "guests-size-one")
    return ProjectMeant(None, "guests-size-unknown", nearest(size, sizes), sizes)
