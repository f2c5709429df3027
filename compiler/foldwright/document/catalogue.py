"""Every word a user sees, by name: TOML files of one language folder, and the filling of their slots.

A file holds tables; a name is the dotted path to a text (`panels-do-not-add-up.says`). A table whose names are plural
categories (`one`, `other`, ...) is a single text in several forms, chosen by the fact `count`.

What a region writes otherwise (`en-US`) stands in a file of its own: words that take the place of others wherever they
stand, and whole texts where that is not enough.
"""

from __future__ import annotations

import re
import tomllib
import warnings
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from threading import Lock
from typing import Any

from msgspec import Struct, field

from foldwright.measure.length import Length
from foldwright.measure.printed import Printed

_FOLDER = Path(__file__).parent / "catalogue"
_SLOT = re.compile(r"\{([a-z][a-z0-9_]*)\}")
_WORD = re.compile(r"[^\W\d_]+")
_HEAD = re.compile(r"^\[([\w-]+)[\].]", re.MULTILINE)
"""The head of a table; the first word is what texts are found by."""
_CATEGORIES = frozenset({"zero", "one", "two", "few", "many", "other"})
"""The plural categories of CLDR (Unicode Technical Standard 35, part 3)."""


class WordingMissing(UserWarning):
    """A text or a fact that should have been there. The page still comes out; the tests turn this into an error."""


class CatalogueError(ValueError):
    """The catalogue's own files contradict each other; the message names the files."""


class SlottedText(Struct, frozen=True):
    """A text cut at its slots: literal and slot name in turn, beginning and ending with a literal."""

    parts: tuple[str, ...]

    @classmethod
    def of(cls, text: str) -> SlottedText:
        return cls(tuple(_SLOT.split(text)))

    @property
    def slots(self) -> frozenset[str]:
        return frozenset(self.parts[1::2])


type Entry = SlottedText | Mapping[str, SlottedText]
"""One text, or its forms by plural category."""


class Catalogue:
    """The texts of one language. `say` fills slots and picks plural forms; nothing else is ever worded."""

    def __init__(self, language: str, entries: Mapping[str, Entry]) -> None:
        self.language = language
        self._entries = entries
        self._below: dict[str, Mapping[str, str]] = {}

    @property
    def locale(self) -> str:
        """The language as Babel wants it: `en_US`."""
        return self.language.replace("-", "_")

    def say(self, key: str, **facts: object) -> str:
        """The text called `key`, its slots filled with the facts of the same names.

        A fact may be a str, a whole number, a Fraction, a Length (its exact printed form), a Printed, or a tuple of
        these (`a, b and c`). A missing text or fact warns `WordingMissing` and shows its name instead.
        """
        parts = self.parts(key, facts.get("count"))
        if parts == (key,) and not self.has(key):
            return " ".join([key, *(self.worded(value) for value in facts.values())])
        return parts[0] if len(parts) == 1 else "".join(self._filled(key, parts, facts))

    def parts(self, key: str, count: object = None) -> tuple[str, ...]:
        """The text cut at its slots: literal and slot name in turn. For sentences whose slots hold more than words."""
        entry = self._entries.get(key)
        if entry is None:
            warnings.warn(f"no text called {key}", WordingMissing, stacklevel=3)
            return (key,)
        if isinstance(entry, SlottedText):
            return entry.parts
        if count is None:
            warnings.warn(f"{key} needs a count", WordingMissing, stacklevel=3)
            return entry["other"].parts
        number = _number(count)
        # A language that has no category for nothing may still have words of their own for it.
        category = "zero" if not number and "zero" in entry else _plural(self.language)(number)
        return entry.get(category, entry["other"]).parts

    def has(self, key: str) -> bool:
        return key in self._entries

    def names(self) -> Iterator[str]:
        return iter(self._entries)

    def slots(self, key: str) -> frozenset[str]:
        """Every fact the text may ask for, whichever plural form is taken."""
        entry = self._entries[key]
        forms = (entry,) if isinstance(entry, SlottedText) else tuple(entry.values())
        return frozenset().union(*(form.slots for form in forms))

    def below(self, prefix: str) -> Mapping[str, str]:
        """The texts under a table that need no facts, by the rest of their names. Gathered once."""
        if prefix not in self._below:
            start = prefix + "."
            entries = self._entries.beside(prefix) if isinstance(self._entries, _CatalogueFiles) else self._entries
            self._below[prefix] = {
                key[len(start) :]: entry.parts[0]
                for key, entry in entries.items()
                if key.startswith(start) and isinstance(entry, SlottedText) and len(entry.parts) == 1
            }
        return self._below[prefix]

    def unfilled(self, prefix: str) -> Mapping[str, str]:
        """The texts under a table as they are written, slots and all, for who fills them elsewhere; none where there
        is no such table."""
        start = prefix + "."
        entries = self._entries.beside(prefix) if isinstance(self._entries, _CatalogueFiles) else self._entries
        return {
            key: "".join(f"{{{part}}}" if at % 2 else part for at, part in enumerate(entry.parts))
            for key, entry in entries.items()
            if key.startswith(start) and isinstance(entry, SlottedText)
        }

    def worded(self, value: object) -> str:
        """A fact as it stands in a sentence."""
        match value:
            case str():
                return value
            case Length():
                from foldwright.measure.writing import write_readable

                return write_readable(value).plain
            case Printed():
                return value.plain
            case Fraction():
                return _fraction(value)
            case tuple() | list():
                return self.listed([self.worded(one) for one in value])
            case None:
                return ""
            case _:
                return str(value)

    def listed(self, items: list[str], last: str = "list.and") -> str:
        """`a`, `a and b`, `a, b and c`; `last` is the name of what stands before the last."""
        if len(items) < 2:
            return "".join(items)
        return self.say("list.comma").join(items[:-1]) + self.say(last) + items[-1]

    def _filled(self, key: str, parts: tuple[str, ...], facts: Mapping[str, object]) -> Iterator[str]:
        for number, part in enumerate(parts):
            if number % 2 == 0:
                yield part
            elif part in facts:
                yield self.worded(facts[part])
            else:
                warnings.warn(f"{key} needs {part}", WordingMissing, stacklevel=3)
                yield part


@cache
def catalogue(language: str = "en") -> Catalogue:
    """The catalogue of a language, of a region if it has one (`en-US`); each of its files is read when something in it
    is first said."""
    file = _FOLDER / f"{language}.toml"
    regional = RegionalWords.read(file) if file.exists() else RegionalWords()
    return Catalogue(language, _CatalogueFiles(_FOLDER / language.partition("-")[0], regional))


def read_catalogue(folder: Path, language: str) -> Catalogue:
    """All the TOML files of a folder, read now. Raises CatalogueError when they contradict each other."""
    return Catalogue(language, dict(_CatalogueFiles(folder)))


class RegionalWords(Struct, frozen=True):
    """What a region writes otherwise: words for words, in small letters, and whole texts by their names."""

    words: Mapping[str, str] = field(default_factory=dict)
    texts: Mapping[str, Entry] = field(default_factory=dict)

    @classmethod
    def read(cls, file: Path) -> RegionalWords:
        tables = dict(_tables(file))
        words: dict[str, str] = tables.pop("words", {})
        return cls(words, dict(entry for table, content in tables.items() for entry in _flattened(table, content)))

    def of(self, key: str, entry: Entry) -> Entry:
        """An entry as the region has it."""
        if key in self.texts or not self.words:
            return self.texts.get(key, entry)
        if isinstance(entry, SlottedText):
            return self._spelled(entry)
        return {category: self._spelled(form) for category, form in entry.items()}

    def _spelled(self, text: SlottedText) -> SlottedText:
        return SlottedText(tuple(part if at % 2 else _WORD.sub(self._word, part) for at, part in enumerate(text.parts)))

    def _word(self, found: re.Match[str]) -> str:
        word = found[0]
        other = self.words.get(word.lower())
        if other is None:
            return word
        return other.capitalize() if word[0].isupper() else other


class _CatalogueFiles(Mapping[str, Entry]):
    """The texts of a folder's TOML files. Which file holds a table is seen from the heads of the tables alone."""

    def __init__(self, folder: Path, regional: RegionalWords | None = None) -> None:
        self._regional = regional or RegionalWords()
        self._entries: dict[str, Entry] = {}
        self._holders: dict[str, Path] = {}
        self._unread = set(folder.glob("*.toml"))
        self._reading = Lock()
        if not self._unread:
            raise CatalogueError(f"there is no catalogue in {folder.name}")
        for file in sorted(self._unread):
            for table in dict.fromkeys(_HEAD.findall(file.read_text(encoding="utf-8"))):
                if table in self._holders:
                    raise CatalogueError(f"{table} stands in {self._holders[table].name} and again in {file.name}")
                self._holders[table] = file

    def __getitem__(self, key: str) -> Entry:
        return self.beside(key)[key]

    def beside(self, key: str) -> Mapping[str, Entry]:
        """The texts read so far, among them all of the file that holds `key`."""
        self._read(self._holders[key.partition(".")[0]])
        return self._entries

    def __iter__(self) -> Iterator[str]:
        for file in sorted(self._unread):
            self._read(file)
        return iter(self._entries)

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def _read(self, file: Path) -> None:
        if file not in self._unread:
            return
        # Threads of the desk say things at the same time: whoever comes second waits until all of the file is there.
        with self._reading:
            if file in self._unread:
                texts = (one for table, content in _tables(file).items() for one in _flattened(table, content))
                # Another dictionary: somebody may just be going through the last one.
                self._entries = {**self._entries, **{key: self._regional.of(key, entry) for key, entry in texts}}
                self._unread.remove(file)


def _tables(file: Path) -> Mapping[str, Any]:
    try:
        return _parsed(file.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise CatalogueError(f"{file.name}: {error}") from error


@cache
def _parsed(text: str) -> Mapping[str, Any]:
    """The tables of a file; the same file serves both spellings of a language."""
    return tomllib.loads(text)


def _flattened(path: str, content: Any) -> Iterator[tuple[str, Entry]]:
    if isinstance(content, str):
        yield path, SlottedText.of(content)
    elif not isinstance(content, dict):
        raise CatalogueError(f"{path} is neither a text nor a table of texts")
    elif "other" in content and content.keys() <= _CATEGORIES:
        yield path, {category: SlottedText.of(text) for category, text in content.items()}
    else:
        for name, below in content.items():
            yield from _flattened(f"{path}.{name}", below)


@cache
def _plural(language: str) -> Callable[[int | float], str]:
    if language.partition("-")[0] == "en":
        # CLDR's rule for English ("one: i = 1 and v = 0"), without the tenth of a second that Babel takes to load.
        return lambda number: "one" if number == 1 else "other"
    from babel.core import Locale

    return Locale.parse(language).plural_form


def _number(count: object) -> int | float:
    if isinstance(count, Fraction):
        return count.numerator if count.denominator == 1 else float(count)
    return count if isinstance(count, int | float) else 0


def _fraction(value: Fraction) -> str:
    whole, rest = divmod(value.numerator, value.denominator)
    if not rest:
        return str(whole)
    if value < 0:
        return f"-{_fraction(-value)}"
    return f"{whole} {rest}/{value.denominator}" if whole else f"{rest}/{value.denominator}"
