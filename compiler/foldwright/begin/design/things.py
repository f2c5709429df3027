"""What goes inside, in the words of a call or of a sentence: how many of what, and how large.

`a dozen macarons 45 mm across x 20 mm high, 3 1/2 x 2 1/4 x 1 in bar of soap and a gift card`
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.design.counting import ARTICLES, BUNDLES, DOZENS, GROUPS, PIECES, SETS, spelled
from foldwright.begin.design.items import Item, has_range, items_of, stands_apart
from foldwright.begin.design.model import Things
from foldwright.begin.design.sizes import (
    IncompleteError,
    Measure,
    NoUnitError,
    Size,
    measures_of,
    photo_unit,
    size_of_measures,
)
from foldwright.begin.design.tokens import Kind, Token, tokens_of
from foldwright.begin.draft.card import plain_name
from foldwright.begin.draft.model import DraftNote
from foldwright.finding import Wrong
from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import tidy
from foldwright.measure.paper import named_sheet
from foldwright.measure.unreadable import Unreadable
from foldwright.vocabulary.contents import UNKNOWN, Content, Posture, content_of

MOST_THINGS = 200
"""Of one kind in one box."""
MOST_KINDS = 6
_STANDING = {"standing": Posture.STANDS, "upright": Posture.STANDS, "lying": Posture.LIES, "flat": Posture.LIES}
_BESIDES = re.compile(r"\s(?:on|in|with|for|from|and)\s", re.IGNORECASE)
_PLURAL = re.compile(r"(?<=[a-z])(?<!s)s$")
_ONE_ENDS_SO = frozenset({"scissors", "tweezers", "glasses", "spectacles", "sunglasses", "pliers", "tongs"})
_PAPER = re.compile(r"[abc](?:10|[0-9])", re.IGNORECASE)


class ReadThings(Struct, frozen=True):
    """The things, and what was taken for granted."""

    things: tuple[Things, ...]
    taken: tuple[DraftNote, ...] = ()


def read_things(texts: Sequence[str], unit: Unit | None = None) -> ReadThings | Wrong:
    """`3 caramels of 1 1/8 x 3/4 x 1/2 in` in each text, or several of it, or the name of an envelope."""
    found: list[Things] = []
    taken: list[DraftNote] = []
    for text in texts:
        read = _envelope(text) or _all_of(text, unit)
        if isinstance(read, Wrong):
            return read
        found += read.things
        taken += read.taken
    if not found:
        return Wrong.of("design.nothing-to-hold")
    if len(found) > MOST_KINDS:
        return Wrong.of("design.too-many-kinds", count=len(found), most=MOST_KINDS)
    return ReadThings(tuple(_distinct(found)), tuple(dict.fromkeys(taken)))


def _envelope(text: str) -> ReadThings | None:
    called = re.sub(r"^(?:an?|the)\s+", "", " ".join(tidy(text).split()), flags=re.IGNORECASE)
    envelope = named_sheet(called) if "envelope" in called.lower() else None
    return ReadThings((Things(called, 1, envelope, called),)) if envelope else None


def _all_of(text: str, unit: Unit | None) -> ReadThings | Wrong:
    tokens = tokens_of(text)
    if isinstance(tokens, Unreadable) or has_range(tokens):
        return Wrong.of("design.thing-unreadable", said=text)
    items = items_of(tokens)
    if isinstance(items, Wrong):
        return items
    each = any(token.kind is Kind.EACH for token in tokens)
    taken = [DraftNote.of("about")] if any(token.kind is Kind.DOUBT for token in tokens) else []
    things: list[Things] = []
    for item in items:
        read = _ItemReader(item, text, unit, each).read()
        if isinstance(read, Wrong):
            return read
        things += read.things
        taken += read.taken
    return ReadThings(tuple(things), tuple(taken))


def _distinct(things: Sequence[Things]) -> Iterator[Things]:
    """Names that are each used once: two treats of different sizes become `treat` and `treat 2`."""
    seen: Counter[str] = Counter()
    for one in things:
        seen[one.name] += 1
        number = seen[one.name]
        yield one if number == 1 else replace(one, name=f"{one.name} {number}")


# --- one thing --------------------------------------------------------------------------------------------------------


class _ItemReader:
    """Reads what was said of one thing: its name, how many there are, and its size."""

    def __init__(self, item: Item, text: str, unit: Unit | None, each: bool) -> None:
        self._item, self._text, self._unit, self._each = item, text, unit, each
        self._size = list(item.size)
        self._name: list[str] = []
        self._count: int | None = None
        self._one = self._half = self._bundle = False
        self._group = 1
        self._posture: Posture | None = None

    def read(self) -> ReadThings | Wrong:
        words = self._item.words
        for at, token in enumerate(words):
            stray = token.kind is Kind.NUMBER and self._name and not stands_apart(words, at)
            if stray or not self._take(token, words[at + 1 :]):
                return Wrong.of("design.how-many-things", said=self._text, most=MOST_THINGS)
        while self._name and self._name[-1] == "of":
            self._name.pop()
        self._count_before_size()
        name = plain_name(" ".join(self._name))
        # `a pair of glasses` is one thing, `two glasses` are not; `earrings on a card` are earrings.
        head = _BESIDES.split(name)[0]
        content = content_of(f"pair of {head}" if self._group > 1 else head)
        if content is UNKNOWN:
            content = content_of(_PLURAL.sub("", head))
        if wrong := self._uncounted(name, content):
            return wrong
        count = (1 if self._count is None else self._count) * (1 if content.pair else self._group)
        if count not in range(1, MOST_THINGS + 1):
            return Wrong.of("design.how-many-things", said=self._text, most=MOST_THINGS)
        size = self._sized(name, content, count)
        return size if isinstance(size, Wrong) else self._things(name, content, count, size)

    # --- words -----------------------------------------------------------------------------------------------------

    def _take(self, token: Token, rest: Sequence[Token]) -> bool:
        """Take in a word; whether it leaves no doubt how many there are."""
        word = token.text.casefold()
        if token.kind is Kind.NUMBER:
            return self._counted(token.value)
        if token.kind is Kind.NOTHING and word == "of" and self._name:
            self._name.append(word)
        if token.kind is not Kind.WORD:
            return True
        if word in _STANDING and (self._name or len(rest) > 1):
            self._posture = _STANDING[word]
        elif word in PIECES and self._count is not None:
            pass
        elif self._name and spelled(word) is not None:
            return False
        elif self._name or not self._of_number(word, rest):
            self._name.append(token.text)
        return True

    def _counted(self, value: object) -> bool:
        if self._count is not None or value not in range(1, MOST_THINGS + 1) or (self._one and value != 1):
            return False
        self._count = int(value)  # type: ignore[call-overload]
        return True

    def _of_number(self, word: str, rest: Sequence[Token]) -> bool:
        """Whether a word before the name says how many."""
        number = spelled(word)
        behind = [token for token in rest[:3] if token.kind is Kind.NUMBER or spelled(token.text.casefold())]
        if word in ARTICLES:
            self._one |= word in ("a", "an", "another", "this")
        elif word == "half":
            self._half = True
        elif word in DOZENS:
            self._count, self._one = (self._count or 1) * DOZENS[word] // (2 if self._half else 1), False
        elif word in GROUPS:
            self._group = GROUPS[word]
        elif word in (*SETS, *BUNDLES) and behind:
            self._bundle, self._one = word in BUNDLES and not self._each, False
        elif number is None:
            return False
        elif self._count is None or (self._count in range(20, 100, 10) and number < 10):
            self._count = (self._count or 0) + number
        else:
            self._count = 0
        return True

    def _count_before_size(self) -> None:
        """`3 x 30 x 20 x 10 mm`, `12 x 7 mm x 175 mm`: the first number is no side."""
        numbers = [token for token in self._size if token.kind is Kind.NUMBER]
        first = self._size[0] if self._size else None
        bare = first is not None and first.kind is Kind.NUMBER and first.unit is None
        bare = bare and all(token.kind in (Kind.NUMBER, Kind.CROSS) for token in self._size)
        units = all(one.unit for one in numbers[1:])
        if self._count is None and bare and (len(numbers) == 4 or (len(numbers) == 3 and units)):
            del self._size[:2]
            self._counted(numbers[0].value)

    def _uncounted(self, name: str, content: Content) -> Wrong | None:
        """Several that nobody counted; a number that may be a count or a side."""
        numbers = [token for token in self._size if token.kind is Kind.NUMBER]
        if self._bundle and len(numbers) > 2:
            return Wrong.of("design.of-each-or-of-all", said=self._text)
        head = name.casefold().split(" of ")[0].rpartition(" ")[2]
        several = bool(_PLURAL.search(head)) and head not in _ONE_ENDS_SO and not content.pair
        if not several or self._one or self._count is not None or self._group > 1:
            return None
        if len(numbers) == 2 and numbers[0].unit is None:
            return Wrong.of("design.count-or-side", said=self._text, count=numbers[0].text, name=name)
        return Wrong.of("design.how-many", name=name)

    # --- size ------------------------------------------------------------------------------------------------------

    def _sized(self, name: str, content: Content, count: int) -> Size | Wrong:
        called = f"{count} {name or 'treats'}" if count > 1 else name or self._text
        try:
            by_name = photo_unit(self._size, content) if self._unit is None else None
            measures = measures_of(self._size, self._unit or by_name)
            if paper := self._paper(measures, content):
                return paper
            if not measures and content.size:
                sides = tuple(Length(side, Unit.MILLIMETRE) for side in content.size)
                thick = Length(content.thickness, Unit.MILLIMETRE) if content.thickness else None
                whole = (*sides, thick) if thick else sides
                return Size(sides, thickness=thick, notes=(DraftNote.of("one-size", size=whole),))
            size = size_of_measures(measures, content, name)
            notes = (DraftNote.of("photo-inches"),) if by_name and not any(one.unit for one in self._size) else ()
            return replace(size, notes=(*size.notes, *notes))
        except NoUnitError:
            return Wrong.of("design.which-unit", said=self._text)
        except IncompleteError:
            if content is UNKNOWN:
                return Wrong.of("design.thing-without-size", said=called)
            return Wrong.of(f"design.measure.{content.measures}", said=called)

    def _paper(self, measures: Sequence[Measure], content: Content) -> Size | None:
        """`A6 notebook, 12 mm thick`: as large as the sheet it is called by."""
        first = self._name[0] if self._name else ""
        sheet = named_sheet(first) if _PAPER.fullmatch(first) else None
        if sheet is None or len(measures) > 1:
            return None
        if measures:
            return Size((*sheet, measures[0].length))
        return size_of_measures([Measure(side) for side in sheet], content, "")

    def _things(self, name: str, content: Content, count: int, size: Size) -> ReadThings | Wrong:
        if "envelope" in name.lower() and len(size.sides) == 2 and not size.round:
            return Wrong.of("design.envelope-without-name", said=self._text)
        notes = list(size.notes)
        posture = content.posture if self._posture is None else self._posture
        if posture is Posture.UPRIGHT:
            notes.append(DraftNote.of("upright"))
        if content.measures == "handle" and size.round:
            notes.append(DraftNote.of("handle"))
        if content.pair and count == 1 and (self._group > 1 or _PLURAL.search(name)):
            notes.append(DraftNote.of("pair"))
            name = name if name.startswith("pair") else f"pair of {name}"
        plain = name or "treat"
        if count > 1:
            # What nobody named is a treat; several are treats.
            called = plain if name else f"{plain}s"
            plain = _PLURAL.sub("", plain)
        else:
            called = ""
        told = tuple(replace(note, facts=(("name", plain), *note.facts)) for note in notes)
        thing = Things(plain, count, size.sides, "", called, size.round, posture, content.alone, size.thickness)
        return ReadThings((thing,), told)
