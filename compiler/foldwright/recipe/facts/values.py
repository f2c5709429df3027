"""Single values of the facts: text, lengths, whole numbers, yes and no, names in a row."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache

from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import NUMBER, tidy
from foldwright.measure.reading import read_length, read_lengths_cross, read_number
from foldwright.measure.spelled import WORD_NUMBER
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.known import Fact, unbraced
from foldwright.recipe.facts.lines import ONE_SPACE_REMARK
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.signs import without_signs
from foldwright.recipe.model import Dims, Photo, Said

_remembered = lru_cache(maxsize=2048)
length_in = _remembered(read_length)
lengths_in = _remembered(read_lengths_cross)
"""The same few measures stand again and again in the recipes of a studio."""
_ROW = re.compile(r"(?:\s*\n\s*|,(?![0-9])|(?<![0-9]),|;|(?:\s|^)(?:or|and|&)(?=[\s,;]|$))", re.IGNORECASE)
"""What stands between names in a row."""
_BULLET = re.compile(r"[-–—•*·‣]\s+")
_PROSE = frozenset({"title", "summary", "credit", "tip", "caution", "short", "photo shows", "note"})
"""Facts in which a star or an exclamation mark may begin what is meant to be read."""
_YES = frozenset({"", "yes", "y", "true", "on", "optional", "✓", "x"})
_NO = frozenset({"no", "n", "false", "off", "not"})
_WHOLE = re.compile(rf"(?P<number>{NUMBER}|{WORD_NUMBER})(?:\s+[^\W\d].*)?", re.IGNORECASE | re.DOTALL)


def text_of(fact: Fact | None, complaints: Complaints) -> Said[str] | None:
    """The value as it stands, on one line."""
    if fact is None or not _something(fact, complaints):
        return None
    said = fact.typed if fact.word in _PROSE else without_signs(fact.typed, complaints)
    text = said.plain
    if not text:
        return None
    if len(text) > 2 and text[0] == text[-1] == '"' and text.count('"') == 2:
        complaints.thought("quotes-kept", said, bare=text[1:-1])
    return Said(text, said.place)


def _something(fact: Fact, complaints: Complaints) -> bool:
    """Whether anything was said after the word; nothing said is complained of."""
    if fact.value.text:
        return True
    complaints.fault("nothing-said", fact.key, word=fact.word)
    return False


def said_value(fact: Fact | None, complaints: Complaints) -> Phrase | None:
    """What stands after a word, for reading; quotes and brackets round the whole of it are taken off."""
    if fact is None or not _something(fact, complaints):
        return None
    value = without_signs(unbraced(fact.value, complaints), complaints)
    if not value.text:
        return None
    if "#" in value.text and (remark := ONE_SPACE_REMARK.search(value.text)):
        # It was asked about when the line was read.
        value = value.part(0, remark.start())
    text = value.text
    if len(text) > 2 and text[0] in "\"'“" and text[-1] in "\"'”" and not text[1:-1].rstrip().endswith(("'", '"')):
        return value.part(1, -1)
    return value


def read_with[T](
    value: Phrase | None, word: str, reader: Callable[[str], T | Unreadable], complaints: Complaints
) -> Said[T] | None:
    """A value through a reader that knows nothing of places."""
    if value is None:
        return None
    read = reader(value.text)
    if isinstance(read, Unreadable):
        complaints.unreadable(read, value, word=word)
        return None
    return Said(read, value.place)


def length_of(
    value: Phrase | None, word: str, complaints: Complaints, default: Unit | None = None
) -> Said[Length] | None:
    """The length a fact gives, in `default` where it names no unit. None, and a complaint, where it is none."""
    return read_with(value, word, lambda text: length_in(text, default), complaints)


def dims_of(
    value: Phrase | None, word: str, complaints: Complaints, counts: Sequence[int] = (2,), default: Unit | None = None
) -> Said[Dims] | None:
    """Lengths with x between them; `counts` are the numbers of lengths that make sense here."""
    lengths = read_with(value, word, lambda text: lengths_in(text, default), complaints)
    if value is None or lengths is None:
        return None
    if len(lengths.value) not in counts:
        complaints.fault("wrong-number-of-lengths", value, word=word, count=len(lengths.value))
        return None
    return Said(Dims(lengths.value), value.place)


def whole_of(value: Phrase | None, word: str, most: int, complaints: Complaints) -> Said[int] | None:
    """A whole number from one; words behind it (`2 of each`) are no harm."""
    number = read_with(value, word, _first_number, complaints)
    if value is None or number is None:
        return None
    if number.value.denominator != 1 or number.value == 0:
        complaints.fault("not-a-whole-number", value, word=word)
        return None
    if number.value > most:
        complaints.fault("too-many", value, word=word, most=most)
        return None
    return Said(int(number.value), value.place)


def _first_number(text: str) -> Fraction | Unreadable:
    match = _WHOLE.fullmatch(tidy(text))
    return read_number(match["number"] if match else text)


def yes_of(fact: Fact | None, complaints: Complaints) -> bool:
    """A word alone means yes."""
    if fact is None:
        return False
    text = fact.value.plain.lower()
    if text in _YES or text == fact.word:
        return True
    if text not in _NO:
        complaints.fault("yes-or-no", fact.value, word=fact.word)
    return False


def row_of(value: Phrase | None) -> tuple[Phrase, ...]:
    """Names in a row: on lines of their own, or with commas, `or` and `and` between them; brackets are kept whole."""
    if value is None:
        return ()
    return tuple(without_bullet(part) for part in value.split_outside_brackets(_ROW) if part.text)


def without_bullet(part: Phrase) -> Phrase:
    """The part without the `-` or `*` it begins with, if any."""
    bullet = _BULLET.match(part.text)
    return part.part(bullet.end()) if bullet else part


def said_row(value: Phrase | None) -> tuple[Said[str], ...]:
    """The parts of a value listed with commas or line by line, each with its place."""
    return tuple(Said(part.plain, part.place) for part in row_of(value))


def choice_of(fact: Fact | None, choices: Mapping[str, str], complaints: Complaints) -> Said[str] | None:
    """One of a few words (every spelling to the plain one). Another word is kept and asked about."""
    said = text_of(fact, complaints)
    if said is None or fact is None:
        return None
    word = choices.get(said.value.lower().rstrip("."))
    if word is not None:
        return Said(word, said.place)
    known = tuple(dict.fromkeys(choices.values()))
    near = nearest(said.value, choices)
    if near:
        complaints.thought("new-word-near", fact.value, word=fact.word, nearest=choices[near], known=known)
    else:
        complaints.thought("new-word", fact.value, word=fact.word, known=known)
    return said


def photo_of(facts: Mapping[str, Fact], complaints: Complaints) -> Photo | None:
    """A photograph and what it shows; words for one that is not there are asked about."""
    path = text_of(facts.get("photo"), complaints)
    shows = text_of(facts.get("photo shows"), complaints)
    if path is None and shows and "photo" not in facts:
        complaints.thought("photo-shows-without-photo", shows.place)
    return Photo(path, shows) if path else None
