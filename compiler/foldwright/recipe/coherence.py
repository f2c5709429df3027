"""Whether the parts of a recipe know each other: names that name nothing, things never used, steps out of order."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from difflib import get_close_matches
from functools import cached_property

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.measure.paper import named_sheet
from foldwright.recipe.facts.complaints import name_meant, nearest
from foldwright.recipe.film import check_film
from foldwright.recipe.hazards import check_receivers
from foldwright.recipe.model import Photo, Piece, Placement, Recipe, Said, Step, Supply
from foldwright.recipe.undone import undone_work
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary import SUPPLY_KINDS, TOOLS, Act, act_of, kind_of, level_of, tool_of, tools_in
from foldwright.vocabulary.names import plain_words

_PLAIN_TOOLS = {"glue gun": "hot glue gun"} | {
    name: name
    for name in ("craft knife", "scissors", "bone folder", "scoring board", "cutting mat", "paper trimmer")
    + ("hole punch", "heat tool", "stapler")
}
"""Words that mean a tool and nothing else, to the tool."""
_KIND_NAMES = tuple(name for kind in SUPPLY_KINDS for name in (kind.name, *kind.forms))
_TOOL_NAMES = tuple(name for tool in TOOLS for name in (tool.name, *tool.forms))
_HARDLY_ANOTHER = 0.85
"""How like a known name another must be to be a slip of it (a careful guess)."""
_AT_HAND = frozenset({"pencil", "pen", "ruler"})
"""What every table has: nobody need list it."""
_STICKING = frozenset({"glue", "stick", "tape"})
_TOOL_WORDS = re.compile(r"\b(?:" + "|".join(_PLAIN_TOOLS) + r")\b", re.IGNORECASE)


def check_names(recipe: Recipe) -> tuple[Finding, ...]:
    """Everything about a recipe's names and order that can be seen without geometry; no finding repeats another."""
    spoken = _Spoken(recipe)
    return (
        *_broken_names(recipe),
        *_unused_supplies(recipe, spoken),
        *_unmentioned_pieces(recipe, spoken),
        *undone_work(recipe),
        *_scored_after_folding(recipe),
        *_missing_tools(recipe, spoken),
        *_missing_times(recipe),
        *_pictures(recipe),
        *check_film(recipe),
        *_new_words(recipe),
        *_headings(recipe),
        *check_receivers(recipe),
    )


def unknown_hushes(recipe: Recipe, codes: Collection[str]) -> tuple[Finding, ...]:
    """Hushed codes that name no finding; `codes` are all there are (the catalogue knows them)."""
    found: list[Finding] = []
    for said in recipe.hushed:
        if said.value not in codes:
            nearest = _nearest(said.value, codes)
            code = "hush-unknown" if nearest else "hush-unknown-at-all"
            found.append(_thought(code, said.place, name=said.value, nearest=nearest))
    return tuple(found)


def step_named(steps: Iterable[Step], heading: str) -> Step | None:
    """The step a `meanwhile` names; reading has turned its words into a heading."""
    return next((step for step in steps if heading and step.heading.value == heading), None)


class _Spoken(Struct, frozen=True, dict=True):
    """The words of a recipe, gathered only when a check asks for them."""

    recipe: Recipe

    @cached_property
    def text(self) -> str:
        """Everything the steps, the introduction and the sections say, headings and `do:` lines with them."""
        return "\n".join(_all_texts(self.recipe))

    @cached_property
    def words(self) -> frozenset[str]:
        return frozenset(plain_words(self.text))

    def mentions(self, name: str) -> bool:
        """Whether the last word of a name (its noun) is spoken anywhere."""
        words = plain_words(name)
        return bool(words) and words[-1] in self.words


def _all_texts(recipe: Recipe) -> Iterator[str]:
    yield spoken_text(recipe.intro)
    for step in recipe.steps:
        yield step.heading.value
        if step.do:
            yield step.do.value
        yield from (said.value for said in step.uses)
        yield spoken_text(step.words)
        for words in (step.tip, step.caution, step.short):
            if words:
                yield spoken_text(words.value)
    for section in recipe.sections:
        yield spoken_text(section.words)


def _broken_names(recipe: Recipe) -> Iterator[Finding]:
    supplies = {supply.name.value.casefold() for supply in recipe.supplies}
    everything = supplies | {piece.name.value.casefold() for piece in recipe.pieces}
    told: set[tuple[str, str]] = set()
    for piece in recipe.pieces:
        for code, strength, named, known in _names_used(piece, supplies, everything):
            # A supply that was forgotten is told once, however many pieces are cut from it.
            if (code, named.value.casefold()) not in told:
                told.add((code, named.value.casefold()))
                yield _names_nothing(code, strength, named, known, piece)
    for step in recipe.steps:
        yield from _too_early(step, recipe.steps)


def _names_used(
    piece: Piece, supplies: Collection[str], everything: Collection[str]
) -> Iterator[tuple[str, Strength, Said[str], Collection[str]]]:
    """The names of a piece that name nothing, with what they might have named."""
    if piece.supply and piece.supply.value.casefold() not in supplies:
        yield "from-names-nothing", Strength.FAULT, piece.supply, supplies
    for said in _placements(piece):
        if not _is_known(said.value.piece, everything) and not _is_an_envelope(said.value.piece):
            yield "place-names-nothing", Strength.MISFIT, Said(said.value.piece, said.place), everything
    for held in piece.holds:
        if not _is_known(held.value, everything):
            yield "holds-names-nothing", Strength.MISFIT, held, everything


def _is_an_envelope(name: str) -> bool:
    """`A2 envelope`, `DL envelope`: sizes everybody knows, named without being bought."""
    return "envelope" in name.casefold() and named_sheet(name) is not None


def _placements(piece: Piece) -> Iterator[Said[Placement]]:
    yield from piece.goes_on
    yield from piece.goes_round
    yield from piece.fits_over
    yield from piece.slides_in
    yield from piece.woven_with
    yield from (Said(said.value.to, said.place) for said in piece.glued)


def _is_known(name: str, known: Collection[str]) -> bool:
    """A name as it stands, in the plural, or at the beginning of more words (`base front`); no name at all is fine."""
    wanted = name.casefold().strip()
    if not wanted or wanted in known:
        return True
    words = plain_words(wanted)
    return any(plain_words(one) == words[: len(plain_words(one))] for one in known)


def _names_nothing(code: str, strength: Strength, said: Said[str], known: Collection[str], piece: Piece) -> Finding:
    nearest, word = _meant(said.value, known)
    facts = {"name": said.value, "piece": piece.name.value, "nearest": nearest, "known": tuple(sorted(known))}
    return Finding.of(code if nearest else f"{code}-at-all", strength, said.place, **facts, word=word)


def _nearest(name: str, known: Collection[str]) -> str:
    return _meant(name, known)[0]


def _meant(name: str, known: Collection[str]) -> tuple[str, str]:
    """The known name most like this one, and the words that mean it: in spelling, else with its noun or its first
    word; empty when none is.
    """
    words = name.split()
    for size in range(len(words), 0, -1):
        # `bse front` is a place on `base`.
        if meant := name_meant(words[:size], sorted(known)):
            return meant, " ".join(words[:size])
    close = get_close_matches(name.casefold(), sorted(known), 1, 0.6)
    own = set(plain_words(name))
    akin = (one for one in sorted(known) if own & set(plain_words(one)))
    return next(iter((*close, *akin)), ""), name


def _too_early(step: Step, steps: tuple[Step, ...]) -> Iterator[Finding]:
    """A step that comes before the wait cannot be done during it."""
    meant = step_named(steps, step.wait.value.meanwhile) if step.wait else None
    if step.wait and meant and meant.number <= step.number:
        yield Finding.of("meanwhile-before", Strength.MISFIT, step.wait.place, name=meant.heading.value)


def _unused_supplies(recipe: Recipe, spoken: _Spoken) -> Iterator[Finding]:
    used = {piece.supply.value.casefold() for piece in recipe.pieces if piece.supply}
    used |= {said.value.casefold() for step in recipe.steps for said in step.uses}
    used |= {held.value.casefold() for piece in recipe.pieces for held in piece.holds}
    glued = any(doing.act in _STICKING for step in recipe.steps for doing in step.doings)
    for supply in recipe.supplies:
        if supply.use or supply.little or supply.optional or supply.name.value.casefold() in used:
            continue
        if not (_is_spoken_of(supply, spoken) or (glued and _sticks(supply))):
            yield _thought("supply-unused", supply.name.place, name=supply.name.value)


def _sticks(supply: Supply) -> bool:
    kind = kind_of(supply.kind.value if supply.kind else supply.name.value)
    return kind is not None and kind.adhesive


def _is_spoken_of(supply: Supply, spoken: _Spoken) -> bool:
    names = [supply.name.value, *([supply.kind.value] if supply.kind else [])]
    kind = kind_of(supply.kind.value if supply.kind else supply.name.value)
    if kind and kind.sheet:
        # `card` is spoken of in every recipe: a sheet counts only by its own first word, or from a piece.
        first = plain_words(supply.name.value)[:1]
        return bool(first) and first[0] in spoken.words and first[0] not in ("card", "paper", "cardstock")
    return any(spoken.mentions(name) for name in names)


def _unmentioned_pieces(recipe: Recipe, spoken: _Spoken) -> Iterator[Finding]:
    if not recipe.steps:
        return
    done = {subject for step in recipe.steps for doing in step.doings for subject in doing.subjects}
    for piece in recipe.pieces:
        if piece.name.value not in done and not spoken.mentions(piece.name.value):
            yield _thought("piece-unmentioned", piece.name.place, name=piece.name.value)


def _scored_after_folding(recipe: Recipe) -> Iterator[Finding]:
    folded: dict[str, Step] = {}
    for step in recipe.steps:
        for doing in step.doings:
            for piece in doing.subjects:
                if doing.act == "fold":
                    folded.setdefault(piece, step)
                elif doing.act == "score" and piece in folded:
                    before, heading = folded.pop(piece).heading.value, step.heading.value
                    yield _thought("score-after-fold", _told_at(step), piece=piece, step=heading, folded=before)


def _missing_tools(recipe: Recipe, spoken: _Spoken) -> Iterator[Finding]:
    needs = _tool_acts(recipe)
    if not recipe.tools:
        if needs:
            act, step = needs[0]
            yield _thought("no-tools", step.heading.place, act=act.name, tools=act.tools[:3])
        return
    names = [name for tool in recipe.tools for name in (tool.name.value, *(one.value.name for one in tool.instead))]
    names += [supply.name.value for supply in recipe.supplies]
    have = {tool.name for name in names for tool in tools_in(name)}
    unknown = [word for name in names if not tool_of(name) for word in plain_words(name)]
    for act, step in needs:
        serves = have.intersection(act.tools) or any(word.startswith(act.name[:4]) for word in unknown)
        if not serves:
            yield _thought("tool-missing", _told_at(step), act=act.name, tools=act.tools[:3])
            have.update(act.tools)
    yield from _tools_in_words(recipe, spoken, have)


def _tool_acts(recipe: Recipe) -> list[tuple[Act, Step]]:
    """The acts of the steps that hands alone cannot do, each with the first step that has it."""
    needs: dict[str, tuple[Act, Step]] = {}
    for step in recipe.steps:
        for doing in step.doings:
            act = act_of(doing.act)
            if act and act.tools and _AT_HAND.isdisjoint(act.tools):
                needs.setdefault(act.name, (act, step))
    return list(needs.values())


def _tools_in_words(recipe: Recipe, spoken: _Spoken, have: set[str]) -> Iterator[Finding]:
    named = {_PLAIN_TOOLS[word.casefold()] for word in _TOOL_WORDS.findall(spoken.text)}
    for name in sorted(named - have):
        step = next((step for step in recipe.steps if name in _tools_of_step(step)), None)
        if step:
            yield _thought("tool-not-listed", step.heading.place, name=name)


def _tools_of_step(step: Step) -> set[str]:
    return {_PLAIN_TOOLS[word.casefold()] for word in _TOOL_WORDS.findall(spoken_text(step.words))}


def _missing_times(recipe: Recipe) -> Iterator[Finding]:
    without = [step for step in recipe.steps if step.time is None and not step.measured]
    if without:
        headings = tuple(step.heading.value for step in without)
        code = "no-time" if len(without) < len(recipe.steps) else "no-time-at-all"
        yield _thought(code, without[0].heading.place, count=len(without), steps=headings[:3])


def _pictures(recipe: Recipe) -> Iterator[Finding]:
    photos: list[Photo | None] = [recipe.photo, *(step.photo for step in recipe.steps)]
    for photo in photos:
        if photo and photo.shows is None:
            yield _thought("photo-without-words", photo.path.place, name=photo.path.value)


def _new_words(recipe: Recipe) -> Iterator[Finding]:
    """Kinds, levels and tools are open lists: a new word is a question."""
    if recipe.level and level_of(recipe.level.value) is None:
        yield _thought("level-unknown", recipe.level.place, name=recipe.level.value)
    for supply in recipe.supplies:
        if supply.kind and kind_of(supply.kind.value) is None:
            yield _unknown("kind-unknown", supply.kind, _KIND_NAMES)
    for tool in recipe.tools:
        if tool_of(tool.name.value) is None:
            if kind_of(tool.name.value):
                yield _thought("tool-is-supply", tool.name.place, name=tool.name.value)
            else:
                yield _unknown("tool-unknown", tool.name, _TOOL_NAMES)


def _unknown(code: str, said: Said[str], known: tuple[str, ...]) -> Finding:
    """A word that nobody knows; where one is hardly to be told from it, only its spelling is asked about."""
    near = nearest(said.value, known, _HARDLY_ANOTHER)
    if not near:
        return _thought(code, said.place, name=said.value)
    return _thought(f"{code}-near", said.place, name=said.value, nearest=near)


def _thought(code: str, place: Place, **facts: object) -> Finding:
    return Finding.of(code, Strength.THOUGHT, place, **facts)


def _told_at(step: Step) -> Place:
    return step.do.place if step.do else step.heading.place


def _headings(recipe: Recipe) -> Iterator[Finding]:
    seen: set[str] = set()
    for step in recipe.steps:
        heading = step.heading.value.casefold().strip()
        if heading in seen:
            yield _thought("heading-twice", step.heading.place, name=step.heading.value)
        seen.add(heading)
