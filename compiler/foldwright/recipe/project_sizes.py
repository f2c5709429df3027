"""`sizes:`: one project in several sizes, each of which lists only what differs from the recipe as it is written."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from msgspec import Struct, field

from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.entries import named_entries
from foldwright.recipe.facts.limits import MOST_SIZES
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.structure import Node
from foldwright.recipe.model import Said, Size

TOP_WORDS = ("title", "summary", "makes", "level")
"""What a size may say of the whole."""
_AS_WRITTEN = frozenset({"as written", "as above", "as it is written", "the recipe as written"})


class SizeChanges(Struct, frozen=True):
    """What one size changes: the lines of pieces and of supplies, by name in small letters, and facts of the whole."""

    pieces: Mapping[str, Node] = field(default_factory=dict)
    supplies: Mapping[str, Node] = field(default_factory=dict)
    top: tuple[Node, ...] = ()


NOTHING = SizeChanges()


def read_sizes(section: Node | None, names: Sequence[str], complaints: Complaints) -> tuple[Size, ...]:
    """The sizes as they are listed; `names` are those of the pieces and supplies."""
    if section is None:
        return ()
    sizes: list[Size] = []
    for name, node in named_entries(section, complaints):
        if any(size.name.value.casefold() == name.plain.casefold() for size in sizes):
            continue
        if len(sizes) == MOST_SIZES:
            complaints.fault("too-many-sizes", name, most=MOST_SIZES)
            break
        sizes.append(_size(name, node, names, sizes, complaints))
    return tuple(sizes)


def _size(name: Phrase, node: Node, names: Sequence[str], others: Sequence[Size], complaints: Complaints) -> Size:
    said = Said(name.plain, name.place)
    if name.plain.casefold() in _AS_WRITTEN:
        complaints.fault("size-name-taken", name)
    elif any(_folder(size.name.value) == _folder(name.plain) for size in others):
        complaints.fault("sizes-alike", name)
    as_written = node.value is not None and node.value.plain.casefold() in _AS_WRITTEN
    if node.value is not None and not as_written:
        # What stands beneath is read all the same.
        complaints.fault("size-on-one-line", node.value)
    if node.value is not None and (as_written or not node.entries):
        if as_written and node.entries:
            complaints.fault("as-written-and-more", node.value)
        elif as_written and any(size.as_written for size in others):
            complaints.fault("as-written-twice", node.value)
        return Size(said, as_written=True)
    if not node.entries:
        complaints.fault("size-changes-nothing", name)
    for nameless in (entry for entry in node.entries if entry.key is None):
        complaints.fault("size-of-what", nameless.first, known=(*names, *TOP_WORDS))
    keyed = Node(None, None, tuple(entry for entry in node.entries if entry.key is not None))
    for entry in dict.fromkeys(entry for _, entry in named_entries(keyed, complaints)):
        _check_change(entry, names, complaints)
    return Size(said)


def _folder(name: str) -> str:
    """What is left of a name in the name of a folder: `60 mm` and `60-mm` would share one."""
    return "-".join(re.findall(r"\w+", name.casefold()))


def _check_change(entry: Node, names: Sequence[str], complaints: Complaints) -> None:
    """Whether it changes something that is there. What its facts say is looked into when the size itself is read."""
    assert entry.key is not None
    word, known = entry.key.plain, (*names, *TOP_WORDS)
    if not entry.written.text:
        complaints.fault("size-changes-nothing", entry.key)
    elif word.casefold() not in {one.casefold() for one in known}:
        if near := nearest(word, known):
            complaints.fault("size-of-what-near", entry.key, nearest=near, known=known)
        else:
            complaints.fault("size-of-what", entry.key, known=known)


def changes_of(
    section: Node | None, size: str, pieces: Sequence[str], supplies: Sequence[str]
) -> tuple[SizeChanges, Phrase | None]:
    """What the size of that name changes, and the name as it is written; nothing for the recipe as written."""
    entries = named_entries(section, Complaints()) if section else ()
    found = next((entry for entry in entries if entry[0].plain.casefold() == size.casefold()), None)
    if found is None:
        return NOTHING, None
    name, node = found
    known = {piece.casefold() for piece in pieces}
    sold = {supply.casefold() for supply in supplies} - known
    # Of two entries of one name the first counts, as everywhere.
    by_name = {entry.key.plain.casefold(): entry for entry in reversed(node.entries) if entry.key}
    return (
        SizeChanges(
            {word: entry for word, entry in by_name.items() if word in known},
            {word: entry for word, entry in by_name.items() if word in sold},
            tuple(entry for word, entry in by_name.items() if word in TOP_WORDS and word not in known | sold),
        ),
        name,
    )
