"""What goes inside, in the words of a call or of a sentence: how many of what, and how large.

`a dozen macarons 45 mm across x 20 mm high, 3 1/2 x 2 1/4 x 1 in bar of soap and a gift card`
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

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
_ARTICLES = frozenset(
    {"a", "an", "the", "my", "our", "some", "his", "her", "their", "your", "this", "these", "another"}
)
_NUMBERS = {
    word: value
    for value, word in enumerate(
        "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
        "eighteen nineteen".split(),
        start=1,
    )
} | {
    word: value
    for value, word in zip(
        range(20, 110, 10), "twenty thirty forty fifty sixty seventy eighty ninety hundred".split(), strict=True
    )
}
_DOZENS = {"dozen": 12, "dozens": 12}
_GROUPS = {"pair": 2, "pairs": 2, "couple": 2, "trio": 3}
_PIECES = frozenset("pcs pc pieces piece no no. nos off them".split())
"""`12 pcs`, `20 of them`."""
_SETS = frozenset({"set", "sets"})
_BUNDLES = frozenset({"pack", "packs", "packet", "box", "deck", "bundle", "stack", "bag", "case", "tray"})
_STANDING = {"standing": Posture.STANDS, "upright": Posture.STANDS, "lying": Posture.LIES, "flat": Posture.LIES}
_LEFT_OUT = frozenset("please thanks thank you in total altogether all wrapped inside it them or so down".split())
_SHAPES = frozenset("ball balls disc discs disk disks".split())
_WITH = frozenset({"with", "including", "incl"})
"""What may stand behind a size and says nothing more of it."""
_PLURAL = re.compile(r"(?<=[a-z])(?<!s)s$")
_ONE_ENDS_SO = frozenset({"scissors", "tweezers", "glasses", "spectacles", "sunglasses", "pliers", "tongs"})
_PAPER = re.compile(r"[abc](?:10|[0-9])", re.IGNORECASE)


_CROSS = Token(Kind.CROSS, "x")


class _Item(Struct):
    """What was said of one thing: its words and its size, either of which may be missing."""

    words: list[Token]
    size: list[Token]

    @property
    def named(self) -> bool:
        return any(token.kind is Kind.WORD and not _is_count(token.text.casefold()) for token in self.words)


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
    if isinstance(tokens, Unreadable) or _has_range(tokens):
        return Wrong.of("design.thing-unreadable", said=text)
    items = _items(tokens)
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


def _has_range(tokens: Sequence[Token]) -> bool:
    """`3-4 in`, `3 to 4 in`: no size."""
    kinds = zip(tokens, tokens[1:], tokens[2:], strict=False)
    return any(
        one.kind is other.kind is Kind.NUMBER and between.text.casefold() in ("-", "to", "or")
        for one, between, other in kinds
    )


def _distinct(things: Sequence[Things]) -> Iterator[Things]:
    """Names that are each used once: two treats of different sizes become `treat` and `treat 2`."""
    seen: Counter[str] = Counter()
    for one in things:
        seen[one.name] += 1
        number = seen[one.name]
        yield one if number == 1 else replace(one, name=f"{one.name} {number}")


# --- what belongs together --------------------------------------------------------------------------------------------


def _items(tokens: Sequence[Token]) -> list[_Item] | Wrong:
    """Each thing: the words before its size, or where there are none, those behind it."""
    items: list[_Item] = []
    waiting: list[list[Token]] = [[]]
    at = 0
    while at < len(tokens):
        if end := _size_end(tokens, at):
            _named_behind(items, waiting)
            said = [part for part in waiting if _says(part)]
            own = said.pop() if said else []
            labelled = any(one.kind is Kind.SIDE for one in tokens[at:end]) and _kind_at(tokens, end) is not Kind.WORD
            if not own and items and items[-1].named and labelled:
                # `a 6 in candle, 7/8 in thick`: its size goes on behind its name.
                items[-1].size += [_CROSS, *tokens[at:end]]
                waiting, at = [[]], end
                continue
            items += [_Item(part, []) for part in said]
            items.append(_Item(own, list(tokens[at:end])))
            waiting, at = [[]], end
            continue
        if tokens[at].kind is Kind.PARTS:
            waiting.append([])
        else:
            waiting[-1].append(tokens[at])
        at += 1
    _named_behind(items, waiting)
    if items and items[-1].size and _says(waiting[0]) and not _is_tally(waiting[0]):
        return Wrong.of("design.words-left", said=" ".join(token.text for token in waiting[0]))
    said = [part for part in waiting if _says(part)]
    if said and items and _is_tally(said[0]):
        items[-1].words.insert(0, next(token for token in said.pop(0) if token.kind is Kind.NUMBER))
    if len(said) == 1 and items and not items[-1].named and not _counted(said[0]):
        items[-1].words += said.pop()
    return [*items, *(_Item(part, []) for part in said)]


def _named_behind(items: Sequence[_Item], waiting: list[list[Token]]) -> None:
    """`3 x 2 x 1 in bar of soap`: the words right behind a size that nothing was said before.

    `soap 60 mm ball`, `a jar 3 in high with its lid`: behind one that is named, its shape or what is measured with it.
    """
    words = [token.text.casefold() for token in waiting[0] if token.kind is Kind.WORD]
    if not items or not items[-1].size or not words:
        return
    if not items[-1].named:
        items[-1].words += waiting[0]
        waiting[0] = []
    elif words[0] in _WITH or set(words) <= _SHAPES:
        waiting[0] = []


def _is_tally(part: Sequence[Token]) -> bool:
    """`50 of them`, `20 pieces`, `x 4`: how many there are of what was said before."""
    words = {token.text.casefold() for token in part if token.kind is Kind.WORD}
    numbers = [token for token in part if token.kind is Kind.NUMBER]
    times = any(token.kind is Kind.CROSS for token in part)
    return len(numbers) == 1 and (times or bool(words & _PIECES)) and words <= _PIECES | _LEFT_OUT


def _says(part: Sequence[Token]) -> bool:
    """Whether words name something, and are no courtesies."""
    return any(
        token.kind is Kind.NUMBER or (token.kind is Kind.WORD and token.text.casefold() not in _LEFT_OUT)
        for token in part
    )


def _counted(part: Sequence[Token]) -> bool:
    return part[0].kind is Kind.NUMBER or _is_count(part[0].text.casefold())


def _is_count(word: str) -> bool:
    """Whether a word before a name says how many."""
    return word in _ARTICLES or word in _DOZENS or word == "half" or _spelled(word) is not None


def _spelled(word: str) -> int | None:
    """`twelve`, `twenty-four`."""
    tens, _, ones = word.partition("-")
    if ones and _NUMBERS.get(tens, 0) >= 20 and _NUMBERS.get(ones, 10) < 10:
        return _NUMBERS[tens] + _NUMBERS[ones]
    return _NUMBERS.get(word)


def _size_end(tokens: Sequence[Token], at: int) -> int:
    """Where the size ends that begins here; 0 where none does."""
    end = _measure_end(tokens, at)
    crossed = False
    while end:
        then = end + 1 if end < len(tokens) and tokens[end].kind in (Kind.PARTS, Kind.NOTHING) else end
        if _kind_at(tokens, end) is Kind.CROSS and (further := _measure_end(tokens, end + 1, True)):
            end, crossed = further, True
        elif _kind_at(tokens, end) is Kind.SIDE:
            end += 1
        elif not crossed and (further := _measure_end(tokens, then)) and _goes_on(tokens, at, then, further):
            end = further
        else:
            break
    return end


def _goes_on(tokens: Sequence[Token], begin: int, at: int, end: int) -> bool:
    """Whether another measure without a cross is of the same thing: sides are named, or all have units and no words."""
    run = tokens[begin:end]
    numbers = [token for token in run if token.kind is Kind.NUMBER]
    named = any(token.kind is Kind.SIDE for token in tokens[at : end + 1])
    before = any(token.kind is Kind.SIDE for token in tokens[begin:at])
    word_next = _kind_at(tokens, end) is Kind.WORD
    return len(numbers) <= 3 and (named or not word_next) and (named or before or all(one.unit for one in numbers))


def _kind_at(tokens: Sequence[Token], at: int) -> Kind | None:
    return tokens[at].kind if at < len(tokens) else None


def _measure_end(tokens: Sequence[Token], at: int, crossed: bool = False) -> int:
    """Where a measure ends that begins here: a number that is no count, with what is said of it; 0 where none does."""
    while _kind_at(tokens, at) is Kind.DOUBT:
        at += 1
    begin = at
    if _kind_at(tokens, at) is Kind.SIDE:
        at += 1
        while _kind_at(tokens, at) in (Kind.NOTHING, Kind.DOUBT):
            at += 1
    if _kind_at(tokens, at) is not Kind.NUMBER:
        return 0
    said = at > begin or tokens[at].unit is not None or crossed
    follows = _kind_at(tokens, at + 1)
    if follows is Kind.SIDE or (follows is Kind.CROSS and _measure_end(tokens, at + 2, True)):
        said = True
    return at + 1 if said else 0


# --- one thing --------------------------------------------------------------------------------------------------------


class _ItemReader:
    """Reads what was said of one thing: its name, how many there are, and its size."""

    def __init__(self, item: _Item, text: str, unit: Unit | None, each: bool) -> None:
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
            stray = token.kind is Kind.NUMBER and self._name and not _stands_apart(words, at)
            if stray or not self._take(token, words[at + 1 :]):
                return Wrong.of("design.how-many-things", said=self._text, most=MOST_THINGS)
        while self._name and self._name[-1] == "of":
            self._name.pop()
        self._count_before_size()
        name = plain_name(" ".join(self._name))
        # `a pair of glasses` is one thing, `two glasses` are not.
        content = content_of(f"pair of {name}" if self._group > 1 else name)
        if content is UNKNOWN:
            content = content_of(_PLURAL.sub("", name))
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
        elif word in _PIECES and self._count is not None:
            pass
        elif self._name and _spelled(word) is not None:
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
        spelled = _spelled(word)
        behind = [token for token in rest[:3] if token.kind is Kind.NUMBER or _spelled(token.text.casefold())]
        if word in _ARTICLES:
            self._one |= word in ("a", "an", "another", "this")
        elif word == "half":
            self._half = True
        elif word in _DOZENS:
            self._count, self._one = (self._count or 1) * _DOZENS[word] // (2 if self._half else 1), False
        elif word in _GROUPS:
            self._group = _GROUPS[word]
        elif word in (*_SETS, *_BUNDLES) and behind:
            self._bundle, self._one = word in _BUNDLES and not self._each, False
        elif spelled is None:
            return False
        elif self._count is None or (self._count in range(20, 100, 10) and spelled < 10):
            self._count = (self._count or 0) + spelled
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


def _stands_apart(words: Sequence[Token], at: int) -> bool:
    """`caramels (6)`, `caramels x 6`, `caramels: 6 of them`: a count behind a name; not that of `2 or 3 in`."""
    if at + 1 < len(words) and words[at + 1].text.casefold() in _PIECES:
        return True
    last = at + 1 == len(words) or words[at + 1].kind is not Kind.WORD
    return last and words[at - 1].kind in (Kind.CROSS, Kind.NOTHING)
