"""What a browser searches and filters a library by: the data of all listed recipes, as a script to load."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

import msgspec

from foldwright.document.catalogue import Catalogue
from foldwright.library.cards import time_words
from foldwright.library.searching import LETTERS, index_of
from foldwright.library.shelves import Kind, Shelf
from foldwright.outputs.entry import Entry, key_of
from foldwright.outputs.model import PAGE
from foldwright.vocabulary import kind_of

FACETS = {"tag": Kind.TAG, "level": Kind.LEVEL, "form": Kind.FORM, "season": Kind.SEASON, "paper": Kind.PAPER}
"""What recipes can be filtered by, in the order in which the page asks; how long they take comes last."""
LIMITS = (15, 30, 60, 120)
"""Minutes a reader may have (a reasoned guess)."""


def finder_script(
    entries: Sequence[Entry], of_kind: Mapping[Kind, Sequence[Shelf]], stock: Iterable[str], words: Catalogue
) -> bytes:
    """The data as a script. `entries` are those listed, newest first, `of_kind` their shelves; `stock` is what the
    studio has, by name."""
    supplies = _supplies(entries)
    numbers = {_key(name): number for number, name in enumerate(supplies)}
    shelves = {name: of_kind[kind] for name, kind in FACETS.items()}
    at = {entry.slug: row for row, entry in enumerate(entries)}
    on: dict[str, list[list[int]]] = {name: [[] for _ in entries] for name in FACETS}
    for name, shelf_row in shelves.items():
        for number, shelf in enumerate(shelf_row):
            for entry in shelf.entries:
                on[name][at[entry.slug]].append(number)
    index = index_of(_fields(entry) for entry in entries)
    return _as_script(
        {
            "page": PAGE,
            "fold": LETTERS,
            "fields": _FIELDS,
            "words": index.words,
            "places": index.places,
            "names": {name: [shelf.name for shelf in shelf_row] for name, shelf_row in shelves.items()},
            "limits": [[limit, words.say("library.up-to", time=time_words(limit, words))] for limit in LIMITS],
            "times": [[one, time_words(one, words)] for one in sorted({entry.minutes for entry in entries})],
            "supplies": supplies,
            "kinds": [_kind(name) for name in supplies],
            "stock": [supplies[numbers[key]] for key in map(_key, stock) if key in numbers],
            "rows": [_row(entry, [on[name][row] for name in FACETS], numbers) for row, entry in enumerate(entries)],
        }
    )


_FIELDS = 5


def _fields(entry: Entry) -> tuple[str, ...]:
    """Where a word may stand, what tells most about a recipe first."""
    kinds = (*entry.tags, *entry.seasons, entry.level, *entry.forms, *entry.papers)
    needs = (name for need in entry.needs for name in (need.name, *need.instead))
    return entry.title, " ".join(kinds), " ".join(needs), entry.summary, " ".join(entry.words)


def _supplies(entries: Sequence[Entry]) -> list[str]:
    """The names of all that is needed or may stand in, what most recipes need first; one for all that mean the same."""
    used: Counter[str] = Counter()
    spelled: dict[str, str] = {}
    for entry in entries:
        names = {_key(name): name for need in entry.needs for name in (need.name, *need.instead)}
        used.update(names.keys())
        for key, name in names.items():
            spelled.setdefault(key, name)
    return [spelled[key] for key in sorted(used, key=lambda key: (-used[key], key))]


@lru_cache(maxsize=4096)
def _key(name: str) -> str:
    """The same for all names a shelf takes for one: `brown ink pads` and `ink pad, brown`."""
    return " ".join(sorted(key_of(name).split()))


def _kind(name: str) -> str:
    """What it is, if that is known: another of its kind may stand in for it."""
    kind = kind_of(name)
    return kind.name if kind else ""


def _row(entry: Entry, on: list[list[int]], numbers: Mapping[str, int]) -> dict[str, object]:
    needs = [
        [[numbers[_key(name)] for name in (need.name, *need.instead)], _kind(need.kind)]
        for need in entry.needs
        if not need.optional
    ]
    row: dict[str, object] = {
        "slug": entry.slug,
        "title": entry.title,
        "summary": entry.summary,
        "minutes": entry.minutes,
        "is": on,
        "needs": needs,
    }
    if shown := entry.picture:
        row["picture"] = [[[size.file, size.width, size.height] for size in shown.sizes], shown.shows]
    return row


def _as_script(data: Mapping[str, object]) -> bytes:
    """A call of the function that waits for it. JSON is JavaScript since ECMAScript 2019, and no author's word is a
    name in it: `__proto__` would be more than a name there."""
    return b"foldwrightLibrary(" + msgspec.json.encode(data) + b");\n"


def words_script(words: Mapping[str, object], script: str) -> bytes:
    """The page's script behind the words it says."""
    return b"const foldwrightWords = " + msgspec.json.encode(words) + b";\n" + script.encode() + b"\n"
