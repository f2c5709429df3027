"""Why a card or handout could not be made, or what it goes without, as findings with their places in the recipe."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping, Sequence

from foldwright.document.catalogue import catalogue
from foldwright.document.model import PlacedPicture
from foldwright.finding import Finding, Place, Strength
from foldwright.recipe.model import Recipe
from foldwright.render.paper.card import Misfit
from foldwright.render.paper.fitting import TooLong
from foldwright.render.paper.galley import Unprintable
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.prints import Unfit

_MOST_OF_A_WORD = 40
"""Letters of a word that are shown of it."""
_SHORT_BESIDE = 4
"""A part with so many times fewer words than the longest is not to blame."""


def misfit_findings(
    misfit: Misfit,
    file: str,
    paper: Paper,
    larger: Paper | None,
    fits_with_back: bool,
    recipe: Recipe,
    texts: Mapping[str, str],
) -> Iterator[Finding]:
    """Why `file` was not made on this paper; `larger` is the paper that may be tried instead."""
    yield from letters_missing(misfit.unprintable, recipe, texts)
    too_long = misfit.too_long
    if too_long is None:
        return
    facts: dict[str, object] = {"file": file, "paper": paper.name, "size": f"{paper.smallest_pt:g}"}
    if larger:
        facts["larger"] = larger.name
    if too_long.too_wide:
        code = "card-word-too-wide" if larger else "card-word-too-wide-for-any"
        yield _too_wide(code, too_long, recipe, texts, facts)
    else:
        code = "card-too-long-for-front" if fits_with_back else "card-too-long" if larger else "card-too-long-for-any"
        place, longest = _longest_place(too_long, recipe), _parts(too_long, recipe)
        yield Finding.of(code, Strength.MISFIT, place, count=too_long.over, longest=longest, **facts)


def handout_findings(
    misfit: Misfit, file: str, paper: Paper, pages: int, recipe: Recipe, texts: Mapping[str, str]
) -> Iterator[Finding]:
    """Why a handout was not made: only letters and words can be in its way, unless it may have only so many pages."""
    yield from letters_missing(misfit.unprintable, recipe, texts)
    too_long = misfit.too_long
    if too_long and too_long.too_wide:
        yield _too_wide("handout-word-too-wide", too_long, recipe, texts, {"file": file, "paper": paper.name})
    elif too_long:
        place, longest = _longest_place(too_long, recipe), _parts(too_long, recipe)
        facts = {"file": file, "paper": paper.name, "pages": pages, "count": too_long.over, "longest": longest}
        yield Finding.of("handout-too-long", Strength.MISFIT, place, **facts)


def _too_wide(
    code: str, too_long: TooLong, recipe: Recipe, texts: Mapping[str, str], facts: Mapping[str, object]
) -> Finding:
    """A word that is wider than its column; of a very long one only the beginning is shown."""
    said = too_long.wide_word
    word = said if len(said) <= _MOST_OF_A_WORD else said[: _MOST_OF_A_WORD - 1] + "…"
    place = _found(said, texts) or _place(too_long.too_wide, recipe)
    return Finding.of(code, Strength.MISFIT, place, word=word, **facts)


def nothing_in_class(recipe: Recipe) -> Finding:
    """A recipe whose steps are all done before class has nothing to hand out."""
    return Finding.of("handout-without-steps", Strength.THOUGHT, recipe.title.place)


def no_sheet_finding(up: int, paper: Paper) -> Finding:
    """So many cards fit on no sheet."""
    return Finding.of("cards-on-no-sheet", Strength.MISFIT, None, up=up, paper=paper.name)


def unfit_findings(unfit: Mapping[PlacedPicture, Unfit], recipe: Recipe) -> Iterator[Finding]:
    """Pictures that no card can show."""
    for shown, why in unfit.items():
        name = shown.photo.path if shown.photo else shown.piece
        yield Finding.of(f"print-{why.value}", Strength.THOUGHT, _picture_place(shown, recipe), name=name)


def _picture_place(shown: PlacedPicture, recipe: Recipe) -> Place | None:
    if shown.photo:
        photo = recipe.steps[shown.step - 1].photo if shown.step else recipe.photo
        return photo.path.place if photo else None
    return next((piece.name.place for piece in recipe.pieces if piece.name.value == shown.piece), None)


# --- what is too long -------------------------------------------------------------------------------------------------


def _parts(too_long: TooLong, recipe: Recipe) -> tuple[str, ...]:
    """The longest parts of the card, each with its number of words; none that is short beside the longest."""
    words = catalogue()
    most = max((count for _, count in too_long.longest), default=0)
    named = tuple(
        words.say("card-part.counted", part=_named(block, recipe), count=count)
        for block, count in too_long.longest
        if count * _SHORT_BESIDE > most
    )
    return named or (words.say("card-part.all"),)


def _named(block: str, recipe: Recipe) -> str:
    kind, number = _taken_apart(block)
    short = kind == "step" and recipe.steps[number - 1].short is not None
    heading = recipe.sections[number].heading.value if kind == "section" else ""
    return catalogue().say(f"card-part.{'step-short' if short else kind}", number=number, heading=heading)


def _longest_place(too_long: TooLong, recipe: Recipe) -> Place:
    """Where the longest step begins, or the longest part when no step is among them."""
    blocks = [block for block, _ in too_long.longest]
    steps = [block for block in blocks if block.startswith("step-")]
    return _place((steps or blocks or ["head"])[0], recipe)


def _place(block: str, recipe: Recipe) -> Place:
    kind, number = _taken_apart(block)
    needed = [one.name.place for one in recipe.supplies] + [one.name.place for one in recipe.tools]
    if kind == "step":
        return recipe.steps[number - 1].heading.place
    if kind == "section":
        return recipe.sections[number].heading.place
    if kind in ("supplies", "tools") and needed:
        return needed[0]
    if kind == "pieces" and recipe.pieces:
        return recipe.pieces[0].name.place
    return recipe.title.place


def _taken_apart(block: str) -> tuple[str, int]:
    """`step-3` is ("step", 3); blocks that are not numbered have 0."""
    kind, _, number = block.partition("-")
    return kind, int(number or 0)


def _found(words: str, texts: Mapping[str, str]) -> Place | None:
    """Where these words stand first."""
    found = ((file, text.find(words)) for file, text in texts.items() if words)
    return next((Place(file, at, at + len(words)) for file, at in found if at >= 0), None)


# --- letters nobody has -----------------------------------------------------------------------------------------------


def letters_missing(unprintable: Sequence[Unprintable], recipe: Recipe, texts: Mapping[str, str]) -> Iterator[Finding]:
    """The letters that no face has, all of one script together."""
    kinds: dict[str, dict[str, Unprintable]] = {}
    for one in unprintable:
        kinds.setdefault(_kind(one.letter), {}).setdefault(one.letter, one)
    for kind, letters in kinds.items():
        places = {letter: _found(letter, texts) or _place(one.block, recipe) for letter, one in letters.items()}
        first = min(places, key=lambda letter: places[letter])
        name = unicodedata.name(first, "").lower() or catalogue().say("card-letter.unnamed")
        facts = {"letter": first, "name": name, "point": f"U+{ord(first):04X}", "kind": kind, "count": len(letters)}
        yield Finding.of("letter-missing", Strength.MISFIT, places[first], **facts)


def _kind(letter: str) -> str:
    """What a letter is one of: a script's letters, by the first word of its name in Unicode, or signs."""
    script, _, rest = unicodedata.name(letter, "").partition(" ")
    of_a_script = unicodedata.category(letter)[0] in "LM" and rest and script != "COMBINING"
    words = catalogue()
    return words.say("card-letter.of", script=script.title()) if of_a_script else words.say("card-letter.sign")
