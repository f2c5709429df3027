"""A recipe back as text: what is read from it is the same recipe, up to the places of its words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from foldwright.measure.length import System
from foldwright.recipe.facts.durations import write_duration
from foldwright.recipe.model import Photo, Recipe, Said, Section, Size, Step, Studio, Trimmer, When
from foldwright.recipe.prose.writing_words import write_blocks, write_heading, write_line
from foldwright.recipe.words import Block
from foldwright.recipe.writing_facts import write_length, write_piece, write_supply, write_tool

_MEASURED_IN = {System.IMPERIAL: "inches", System.METRIC: "millimetres"}
_LIKE_A_FACT = re.compile(r"[A-Za-z][A-Za-z ]{0,22}:")


def write_recipe(recipe: Recipe) -> str:
    """The whole text of a recipe: facts between lines of dashes, then the words."""
    return f"---\n{_facts(recipe)}---\n\n{_words(recipe)}"


def _facts(recipe: Recipe) -> str:
    parts = [_lines(_top(recipe))]
    own = _lines(_studio(recipe.studio, recipe.file))
    parts += [own] if own else []
    if recipe.supplies:
        parts.append(_section("supplies", (line for supply in recipe.supplies for line in write_supply(supply))))
    if recipe.tools:
        parts.append(_section("tools", (f"- {write_tool(tool)}" for tool in recipe.tools)))
    if recipe.pieces:
        parts.append(_section("pieces", (line for piece in recipe.pieces for line in write_piece(piece))))
    if recipe.sizes:
        parts.append(_section("sizes", (line for size in recipe.sizes for line in _size(size))))
    return "\n".join(parts)


def _section(word: str, lines: Iterable[str]) -> str:
    return "".join([f"{word}:\n", *(f"  {line}\n" for line in lines)])


def _size(size: Size) -> Iterator[str]:
    """A size's name, and beneath it what differs."""
    if size.as_written:
        yield f"{size.name.value}: as written"
        return
    yield f"{size.name.value}:"
    for change in size.changes:
        if not change.name.value:
            yield from (f"  {word}: {value}" for word, value in change.facts)
            continue
        yield f"  {change.name.value}:"
        yield from (f"    {word}: {value}" for word, value in change.facts)


def _lines(facts: Iterable[tuple[str, str]]) -> str:
    return "".join(f"{word}: {value}\n" for word, value in facts if value)


def _top(recipe: Recipe) -> Iterator[tuple[str, str]]:
    yield "title", _title(recipe)
    yield "summary", _text(recipe.summary)
    yield "credit", _text(recipe.credit)
    yield "makes", _text(recipe.makes)
    yield "measured in", _MEASURED_IN[recipe.measured_in.value] if recipe.measured_in else ""
    yield "level", _text(recipe.level)
    yield "for", _text(recipe.audience)
    yield "revised", _text(recipe.revised)
    yield from _photo(recipe.photo)
    yield "video", _text(recipe.video)
    yield "hush", ", ".join(code.value for code in recipe.hushed)


def _title(recipe: Recipe) -> str:
    """The title without the name of the size it is written in, which reading adds."""
    named = next((size.name.value for size in recipe.sizes if size.as_written), "")
    return recipe.title.value.removesuffix(f", {named}") if named else recipe.title.value


def _photo(photo: Photo | None) -> Iterator[tuple[str, str]]:
    if photo:
        yield "photo", photo.path.value
        yield "photo shows", _text(photo.shows)


def _studio(studio: Studio, file: str) -> Iterator[tuple[str, str]]:
    """What the recipe itself says of the studio; the rest stands in the studio's own file."""

    def own(said: Said[str] | None) -> str:
        return said.value if said and said.place.file == file else ""

    yield "studio", own(studio.name)
    yield "author", own(studio.author)
    yield "licence", own(studio.licence)
    yield "money", own(studio.money)
    yield "papers", ", ".join(paper for paper in map(own, studio.papers) if paper)
    yield "theme", own(studio.theme)
    yield "trimmer", _trimmer(studio.trimmer, file)
    thickness = studio.card_thickness
    error = studio.hand_error
    yield "hand error", write_length(error.value) if error and error.place.file == file else ""
    yield "card thickness", write_length(thickness.value) if thickness and thickness.place.file == file else ""
    yield "hand", own(studio.hand)
    yield "address", own(studio.address)
    yield "numbers", studio.numbers.value.said if studio.numbers and studio.numbers.place.file == file else ""
    yield "spelling", own(studio.spelling)


def _trimmer(trimmer: Trimmer, file: str) -> str:
    facts = (("bed", trimmer.bed), ("reads", trimmer.reads))
    return ", ".join(f"{word} {write_length(said.value)}" for word, said in facts if said and said.place.file == file)


def _text(said: Said[str] | None) -> str:
    return said.value if said else ""


# --- the words --------------------------------------------------------------------------------------------------


def _words(recipe: Recipe) -> str:
    parts = [write_blocks(recipe.intro)] if recipe.intro else []
    parts += [_step(step) for step in recipe.steps]
    parts += [_part(section) for section in recipe.sections]
    return "\n\n".join(parts) + "\n"


def _step(step: Step) -> str:
    facts = "".join(f"{word}: {value}\n" for word, value in _step_facts(step) if value)
    words = write_blocks(step.words)
    # Without a block of its own, a paragraph such as `Time: plenty` would be read as facts.
    block = f"```step\n{facts}```" if facts or _LIKE_A_FACT.match(words) else ""
    return "\n\n".join(part for part in (f"## {write_heading(step.heading.value)}", block, words) if part)


def _step_facts(step: Step) -> Iterator[tuple[str, str]]:
    yield "do", _text(step.do)
    yield "time", _duration(step.time)
    yield "get ready", _duration(step.get_ready)
    yield "when", When.BEFORE_CLASS.value if step.when is When.BEFORE_CLASS else ""
    if step.wait:
        meanwhile = f", meanwhile {step.wait.value.meanwhile}" if step.wait.value.meanwhile else ""
        yield "wait", write_duration(step.wait.value.seconds) + meanwhile
    yield "within", _duration(step.within)
    yield from _photo(step.photo)
    yield "video", _text(step.video)
    yield "tip", _prose(step.tip)
    yield "caution", _prose(step.caution)
    yield "short", _prose(step.short)
    yield "share", f"{step.share.value[0]} {step.share.value[1]}" if step.share else ""
    yield "with", ", ".join(use.value for use in step.uses)
    yield "optional", "yes" if step.optional else ""


def _duration(said: Said[int] | None) -> str:
    return write_duration(said.value) if said else ""


def _prose(said: Said[tuple[Block, ...]] | None) -> str:
    return write_line(said.value) if said else ""


def _part(section: Section) -> str:
    words = write_blocks(section.words)
    # Its heading says what kind of section it is, so it stays as it is.
    return f"## {section.heading.value}\n\n{words}".rstrip()
