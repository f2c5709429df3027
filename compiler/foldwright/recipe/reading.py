"""The whole of a recipe: the facts at the top, the words below, and everything that is wrong with either."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Finding, Place
from foldwright.measure.length import Unit
from foldwright.measure.reading import UNIT_WORDS
from foldwright.memory import Memory
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.days import day_of, looks_like_a_day
from foldwright.recipe.facts.entries import named_entries, with_entries_pushed_in
from foldwright.recipe.facts.known import Fact, Known, gather, spellings_in
from foldwright.recipe.facts.listing import LISTING_WORDS, listing_of
from foldwright.recipe.facts.moments import parted_film, read_film_length
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.source import Parts, split
from foldwright.recipe.facts.structure import Node, read_structure
from foldwright.recipe.facts.studio import STUDIO_WORDS, overruled, studio_of
from foldwright.recipe.facts.supplies import read_supplies, read_tools
from foldwright.recipe.facts.unprintable import gated
from foldwright.recipe.facts.values import photo_of, row_of, said_row, said_value, text_of
from foldwright.recipe.model import Recipe, Said, Size, Studio
from foldwright.recipe.pieces.piece import read_pieces
from foldwright.recipe.project_sizes import NOTHING, SizeChanges, changes_of, read_sizes
from foldwright.recipe.prose.body import read_body
from foldwright.recipe.words import Keep

SECTIONS = ("supplies", "tools", "pieces", "sizes")
_TEXTS = ("title", "makes", "summary", "credit", "level", "revised", "video", "captions", "for")
"""Facts of the whole that are plain texts."""
_OWN_WORDS = f"""title; summary; credit: credits; makes; measured in: measure in, units; level: difficulty; for;
    revised; {LISTING_WORDS}; photo: picture; photo shows: picture shows; video; captions; keep; hush: hushed;
    supplies: supply; tools: tool; pieces: piece; sizes: size"""
RECIPE_WORDS = Known(
    # `name` is the studio only in a file of its own.
    spellings_in(_OWN_WORDS) | {word: fact for word, fact in STUDIO_WORDS.spellings.items() if word != "name"}
)
_UNITS = {**UNIT_WORDS, "imperial": Unit.INCH, "metric": Unit.MILLIMETRE}
"""What a recipe may be measured in: then a bare number of its pieces and supplies is that long."""
_UNIT_OF_ITS_OWN = frozenset({"thickness"})
"""Facts whose bare number `measured in` says nothing of: card is never so many inches thick."""


_FRONTS: Memory[tuple[Recipe, tuple[Finding, ...]]] = Memory()


class Reading(Struct, frozen=True):
    """What could be read, and what was wrong, in the order of the text. `recipe` is None only for an empty text."""

    recipe: Recipe | None
    findings: tuple[Finding, ...]


def read_recipe(text: str, file: str, slug: str, studio: Studio | None = None, size: str = "") -> Reading:
    """Read a whole recipe. Nothing in the text can raise; what cannot be read is a finding, and the rest is read.

    `size` is the one of its sizes that is wanted; without it the recipe is read as it is written.
    """
    complaints = Complaints()
    if not text.strip():
        complaints.fault("file-empty", Place(file, 0, 0), file=file)
        return Reading(None, tuple(complaints.findings))
    text = gated(text, file, complaints)
    parts = split(text)
    _tell_slip(parts, file, complaints)
    asked = file, slug, parts.front, parts.front_offset, parts.slip, studio or Studio(), size
    front, slips = _FRONTS.of(size, asked, lambda: _read_facts(parts, file, slug, studio or Studio(), size))
    complaints.findings += slips
    pieces = tuple(piece.name.value for piece in front.pieces)
    supplies = tuple(supply.name.value for supply in front.supplies)
    body = read_body(parts.body, file, parts.body_offset, pieces, supplies)
    recipe = replace(front, intro=body.intro, steps=body.steps, sections=body.sections, not_measured=body.not_measured)
    found = (*complaints.findings, *body.findings)
    return Reading(recipe, tuple(sorted(found, key=lambda finding: finding.place.start if finding.place else 0)))


def _tell_slip(parts: Parts, file: str, complaints: Complaints) -> None:
    if parts.slip == "not-opened":
        complaints.thought("facts-not-opened", Place(file, parts.front_offset, parts.front_offset))
    elif parts.slip == "not-closed":
        complaints.fault("facts-not-closed", Place(file, parts.body_offset, parts.body_offset))
    elif parts.slip == "no-facts":
        complaints.fault("no-facts", Place(file, 0, 0))


def _read_facts(parts: Parts, file: str, slug: str, studio: Studio, size: str) -> tuple[Recipe, tuple[Finding, ...]]:
    complaints = Complaints()
    lines = read_structure(parts.front, file, parts.front_offset, complaints)
    front = _read_front(lines, file, slug, parts, studio, size, complaints)
    return front, tuple(complaints.findings)


def sizes_in(text: str, file: str) -> tuple[Size, ...]:
    """The sizes a recipe comes in, for who wants nothing else of it."""
    complaints = Complaints()
    parts = split(gated(text, file, complaints))
    facts = _facts_in(read_structure(parts.front, file, parts.front_offset, complaints), complaints)
    return read_sizes(facts["sizes"].node, (), complaints) if "sizes" in facts else ()


def _facts_in(lines: tuple[Node, ...], complaints: Complaints) -> dict[str, Fact]:
    lines = with_entries_pushed_in(lines, SECTIONS, RECIPE_WORDS, complaints)
    return gather(Node(None, None, lines), RECIPE_WORDS, complaints)


def _read_front(
    lines: tuple[Node, ...], file: str, slug: str, parts: Parts, studio: Studio, size: str, complaints: Complaints
) -> Recipe:
    facts = _facts_in(lines, complaints)
    sections = {word: facts[word].node if word in facts else None for word in SECTIONS}
    changes, called = NOTHING, None
    if size:
        changes, called = changes_of(sections["sizes"], size, _names(sections["pieces"]), _names(sections["supplies"]))
        facts |= gather(Node(None, None, changes.top), RECIPE_WORDS, complaints)
    studio = overruled(studio, studio_of(facts, complaints))
    measured = _measured_in(said_value(facts.get("measured in"), complaints), complaints)
    unit, before = measured.value if measured else None, len(complaints.findings)
    supplies = read_supplies(sections["supplies"], complaints, unit, studio.money, changes.supplies)
    pieces = read_pieces(sections["pieces"], supplies, complaints, unit, changes.pieces)
    if measured is None:
        _ask_for_unit(before, "measured in" in facts, complaints)
    names = [*(piece.name.value for piece in pieces), *(supply.name.value for supply in supplies)]
    sizes = read_sizes(sections["sizes"], names, complaints) if not size else ()
    text = {word: text_of(facts.get(word), complaints) for word in _TEXTS}
    listing = listing_of(facts, slug, complaints)
    video, video_length = _film_of(text["video"], complaints)
    title = _title_of(text["title"], changes, called, sizes)
    if title is None and "title" not in facts and parts.slip != "no-facts":
        first = parts.front_offset + len(parts.front) - len(parts.front.lstrip())
        complaints.fault("no-title", Place(file, first, first))
    return Recipe(
        file=file,
        slug=slug,
        title=title or Said(slug, Place(file, 0, 0)),
        makes=text["makes"],
        measured_in=Said(measured.value.system, measured.place) if measured else None,
        summary=text["summary"],
        credit=text["credit"],
        level=text["level"],
        revised=_date(text["revised"], complaints),
        tags=listing.tags,
        seasons=listing.seasons,
        published=listing.published,
        was=listing.was,
        video=video,
        video_length=video_length,
        captions=text["captions"],
        photo=photo_of(facts, complaints),
        audience=text["for"],
        studio=studio,
        supplies=supplies,
        tools=read_tools(sections["tools"], complaints),
        pieces=pieces,
        sizes=sizes,
        size=called.plain if called else "",
        keep=_kept(said_value(facts.get("keep"), complaints), complaints),
        hushed=said_row(said_value(facts.get("hush"), complaints)),
    )


def _title_of(
    title: Said[str] | None, changes: SizeChanges, called: Phrase | None, sizes: Sequence[Size]
) -> Said[str] | None:
    """`Drawer box, large`: the title with the size behind it, unless the size has a title of its own."""
    own = any(line.key and line.key.plain.casefold() == "title" for line in changes.top)
    size = called.plain if called else next((one.name.value for one in sizes if one.as_written), "")
    return Said(f"{title.value}, {size}", title.place) if title and size and not own else title


def _names(section: Node | None) -> tuple[str, ...]:
    """The names of a section's entries."""
    return tuple(name.plain for name, _ in named_entries(section, Complaints())) if section else ()


def _measured_in(value: Phrase | None, complaints: Complaints) -> Said[Unit] | None:
    if value is None:
        return None
    unit = _UNITS.get(value.plain.lower())
    if unit is None:
        complaints.fault("measured-in-what", value)
        return None
    return Said(unit, value.place)


def _kept(value: Phrase | None, complaints: Complaints) -> tuple[Keep, ...]:
    """`keep: pictures, tips`; a word it does not know is asked about and left out."""
    known, kept = {one.value: one for one in Keep}, dict[Keep, None]()
    for said in row_of(value):
        word = said.plain.casefold()
        if word in known:
            kept[known[word]] = None
        elif near := nearest(word, known):
            complaints.thought("keep-what-near", said, nearest=near, known=tuple(known))
        else:
            complaints.thought("keep-what", said, known=tuple(known))
    return tuple(kept)


def _ask_for_unit(before: int, unclear: bool, complaints: Complaints) -> None:
    """Many bare numbers are one omission, and one question; none where `measured in` itself was `unclear`."""
    found = complaints.findings
    bare = [
        one for one in found[before:] if one.code == "no-unit" and dict(one.facts).get("word") not in _UNIT_OF_ITS_OWN
    ]
    if len(bare) < 2 and not unclear:
        return
    found[:] = [one for one in found if one not in bare]
    first = bare[0] if bare else None
    if first is not None and first.place and not unclear:
        complaints.fault("units-missing", first.place, count=len(bare), said=dict(first.facts)["said"])


def _film_of(said: Said[str] | None, complaints: Complaints) -> tuple[Said[str] | None, Said[int] | None]:
    """The address of a video, and how long that is where somebody says: `https://… , 12:30 long`."""
    if said is None:
        return None, None
    address, length = parted_film(said.value)
    seconds = read_film_length(length) if length else None
    if length and seconds is None:
        complaints.fault("video-length-unreadable", said.place, said=length)
    return replace(said, value=address), Said(seconds, said.place) if seconds else None


def _date(said: Said[str] | None, complaints: Complaints) -> Said[str] | None:
    """A date is kept as it is written, and so is any other text; what looks like a day and is none is asked about."""
    if said and looks_like_a_day(said.value) and day_of(said.value) is None:
        complaints.thought("no-date", said.place, said=said.value)
    return said
