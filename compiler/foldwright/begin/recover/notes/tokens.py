"""A line of notes taken apart: numbers with their units, words that say how something was measured, marks between."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.recover.notes.words import KEYWORD, KEYWORDS, UNIT, UNIT_IN_LETTERS
from foldwright.measure.length import Unit
from foldwright.measure.numbers import FRACTION, SET_FRACTION, SLASHED, VULGAR, squeezed, tidy, value_of
from foldwright.measure.reading import UNIT_WORDS
from foldwright.measure.spelled import WORD_NUMBER
from foldwright.measure.unreadable import Unreadable

BETWEEN = frozenset(
    {"bar", "comma", "semicolon", "plus", "slash", "and", "line", "dash", "arrow", "gap", "stop", "cross"}
)
"""What stands between numbers."""

_VULGAR = "".join(VULGAR)
_FIGURES = re.compile(
    rf"(?P<mixed>[0-9]+(?: *{SET_FRACTION}|-{FRACTION}|(?P<blanks> +){SLASHED}| +(?:and|&) +{FRACTION}))"
    rf"|{FRACTION}(?![0-9])"
    r"|[0-9]*\.[0-9]+"
    # A comma without a blank is a decimal comma, unless more such commas or a fraction make a list of it.
    rf"|(?P<comma>(?<![0-9,{_VULGAR}],)[0-9]+,[0-9]+"
    rf"(?![,./]?[0-9]| ?/ ?[0-9]| +[0-9]+ ?/| *{SET_FRACTION}))"
    r"|[0-9]+"
)
_PARTS_SAID = re.compile(r"(?:ths?|nds?|rds?)\b(?: of an?(?= in))?", re.IGNORECASE)
"""`7/8ths`"""
_WHOLE = re.compile("[0-9]+")
_COMMA_CHAIN = re.compile(r"[0-9]+,[0-9](?:,[0-9]+,[0-9]){1,20}(?![0-9,])")
"""`62,5,22,5` may be two numbers with a decimal comma, or four."""
_SLASH_CHAIN = re.compile(r"[0-9]+(?:/[0-9]+){2,}")
_UNIT_BEHIND = re.compile(
    rf"(?:\s*|-)(?P<unit>(?!in\s+(?:the|all|total|both|each|either|order|a)\b)(?:{UNIT}))"
    r"(?:(?<=[^a-z])|(?!(?!x ?[0-9])[a-z0-9]))",
    re.IGNORECASE,
)
_SPOKEN = re.compile(
    rf"(?P<number>{WORD_NUMBER}|[0-9]+ and {WORD_NUMBER}|an?)(?:[ -](?P<unit>{UNIT_IN_LETTERS})\b"
    r"|(?=\s*(?:$|[|,;+)/\n])))",
    re.IGNORECASE,
)
_SPOKEN_ON = re.compile(
    rf"(?P<number>{WORD_NUMBER})(?P<unit>)(?= +(?:{WORD_NUMBER}|wide|high|tall|long|across|down|by|from|at)\b)",
    re.IGNORECASE,
)
_COUNTED_PARTS = re.compile("[a-z]+ (?:and )?[a-z]+", re.IGNORECASE)
"""`five eighths`, but not `half` alone."""
_REST = re.compile(rf" and (?P<part>(?:an? )?{WORD_NUMBER})(?!\w)(?! ?(?:{UNIT_IN_LETTERS})\b)", re.IGNORECASE)
"""`and a half`, behind a unit."""
_UNIT_ALONE = re.compile(rf"\( *(?:(?:all|both) )?(?:in )?(?P<unit>{UNIT}) *\)", re.IGNORECASE)
_PANEL = re.compile(
    r"(?:(?:panel|strip|section|segment|no\.?|number|nr\.?) ?#?|#)(?P<panel>[0-9]{1,3})"
    rf"(?![0-9./,]*[0-9/]| ?/| +[0-9]+ ?/ ?[0-9]| *{SET_FRACTION}|(?: *|-)(?:{UNIT})\b)",
    re.IGNORECASE,
)
_WORD = re.compile(r"[^\W\d_]+(?:['.&-](?=[^\W\d_])[^\W\d_]+)*\w*")
_SIGN_RUNS = (
    ("about", re.compile(r"\(\?+\)")),
    ("unread", re.compile(r"\?+|_+|…|\.{3,}")),
    ("arrow", re.compile(r"-+>|=+>|[→⟶⇒➔➞▸>]")),
    ("within", re.compile(r"±|\+ ?/ ?-|\+-")),
    ("over", re.compile(r"(?<=\S)\+(?=\s*(?:$|[|,;)\n]))")),
    ("under", re.compile(r"(?:(?<=[0-9\"])|(?<=[mc]m)|(?<=in))-(?=\s*(?:$|[|,;)\n]))")),
    ("dash", re.compile(r"-+")),
)
"""Signs that may be several characters. A plus that is glued to its number is a little more, a minus a little less."""
_SIGNS = {
    "|": "bar", ",": "comma", ";": "semicolon", "/": "slash", "\n": "line", ":": "colon", "=": "equals", "(": "open",
    ")": "close", ".": "stop", "~": "about", "≈": "about", "*": "cross", "@": "of", "+": "plus", "·": "comma",
    "•": "comma", "[": "open", "]": "close", "&": "and", "!": "stop", "↔": "across", "↕": "down",
}  # fmt: skip
_CROSS = re.compile(r"x(?=[0-9])", re.IGNORECASE)
"""`2x62`"""
_ISH = re.compile(r"ish\b", re.IGNORECASE)
_BLANKS = re.compile(r"[^\S\n]+")
_OTHERS_IN_A_WORD = re.compile(r"\w+|.", re.DOTALL)
_RULER_PARTS = frozenset({2, 4, 8, 16, 32, 64})


_IN_ONE_LETTER = {"l": "left", "r": "right", "t": "top", "b": "bottom"}
"""Edges."""
_KINDS = frozenset("wide high tall long square fold folded scored creased edge".split())


class Token(Struct, frozen=True):
    """A piece of a line. `kind` is `number`, `word`, `odd`, one of `BETWEEN`, or the kind of a keyword.

    `value` and `unit` are a number's; `value` also how many (`times`, `count`, `scores`) or which (`panel`). `detail`
    is the edge of a `from`. A number is `loose` where a blank parts its fraction from the whole before it, by `blanks`.
    `blank` is whether white space stands before it; `glued`, of a comma, that none stands about it.
    """

    kind: str
    start: int
    end: int
    value: Fraction | Unreadable | None = None
    unit: Unit | None = None
    detail: str = ""
    blanks: int = 0
    blank: bool = False
    glued: bool = False

    @property
    def loose(self) -> bool:
        return self.blanks > 0


def tokens_of(text: str) -> list[Token]:
    """The pieces of a text, every character but white space in one of them."""
    return list(_compound(list(_gaps(_named(list(_scan(text)), text), text))))


def _named(tokens: list[Token], text: str) -> list[Token]:
    """The tokens, what says of which kind a thing is (`tall box`, `high wall`, `folded card`) a part of its name."""
    for at, (token, following) in enumerate(pairwise(tokens)):
        if following.kind == "word" and text[token.start : token.end].casefold() in _KINDS:
            tokens[at] = replace(token, kind="word")
    return tokens


def _scan(text: str) -> Iterator[Token]:
    plain = tidy(text)
    at, blank = 0, False
    while at < len(plain):
        if match := _BLANKS.match(plain, at):
            at, blank = match.end(), True
            continue
        for token in _next(plain, text, at):
            yield replace(token, blank=blank)
            at, blank = token.end, False


def _next(plain: str, text: str, at: int) -> list[Token]:
    """The next piece; several where numbers hang together without blanks (`62/22/62`)."""
    character = plain[at]
    inside = at > 0 and plain[at - 1].isalnum()
    if not inside and (character.isalnum() or character == "#"):
        found = _words(plain, at)
        if found and not (found.kind == "filler" and _SPOKEN.match(plain, at)):
            return [found]
        if spoken := _spoken(plain, at):
            return [spoken]
    if match := _COMMA_CHAIN.match(plain, at):
        return [Token("unclear-comma", at, match.end())]
    if match := _FIGURES.match(plain, at):
        return _slashed(plain, at) or [_figures(match, plain, text)]
    return [_letters(plain, at, inside) if character.isalpha() else _sign(plain, at)]


def _letters(plain: str, at: int, inside: bool) -> Token:
    """A word that is no keyword, or what is glued to a number."""
    if inside and (match := _ISH.match(plain, at)):
        return Token("about", at, match.end())
    if _CROSS.match(plain, at):
        return Token("cross", at, at + 1)
    match = _WORD.match(plain, at)
    if match is None:
        return Token("odd", at, at + 1)
    unit = UNIT_WORDS.get(match[0].lower()) if len(match[0]) > 1 else None
    return Token("unit" if unit else "word", at, match.end(), unit=unit)


def _sign(plain: str, at: int) -> Token:
    """What is neither a letter nor the beginning of a number."""
    if match := _UNIT_ALONE.match(plain, at):
        return Token("unit", at, match.end(), unit=UNIT_WORDS[match["unit"].lower()])
    for kind, pattern in _SIGN_RUNS:
        if match := pattern.match(plain, at):
            return Token(kind, at, match.end())
    match = _OTHERS_IN_A_WORD.match(plain, at)
    end = match.end() if match else at + 1
    return Token(_SIGNS[plain[at]], at, at + 1) if plain[at] in _SIGNS else Token("odd", at, end)


def _words(plain: str, at: int) -> Token | None:
    """A panel's number, or a word that says how something was measured."""
    if match := _PANEL.match(plain, at):
        return Token("panel", at, match.end(), Fraction(int(match["panel"])))
    match = KEYWORD.match(plain, at)
    if match is None:
        return None
    row = next(number for number in range(len(KEYWORDS)) if match[f"k{number}"] is not None)
    kind = KEYWORDS[row][0]
    if kind in ("times", "count", "scores"):
        said = next(
            (
                match[name]
                for name in ("times", "times_at", "times_each", "times_ea", "times_before", "count", "scores")
                if match[name]
            ),
            "",
        )
        return Token(kind, at, match.end(), value_of(squeezed(said)) if said else None)
    unit = UNIT_WORDS[match["unit"].lower()] if kind == "unit" else None
    detail = (match["edge"] or match["other"] or "").lower() if kind == "from" else ""
    detail = _IN_ONE_LETTER.get(detail, detail)
    if kind == "ordinal":
        detail = match["ordinal"].lower()
    if kind == "edge":
        detail = next((edge for edge in ("left", "right", "top", "bottom") if edge in match[0].lower()), "")
    return Token(kind, at, match.end(), unit=unit, detail=detail)


# --- numbers --------------------------------------------------------------------------------------------------------


def _figures(match: re.Match[str], plain: str, text: str) -> Token:
    start, end = match.span()
    if match["mixed"] and "\t" in text[start:end]:
        # A tab parts columns: the whole is one number, the fraction the next.
        whole = _WHOLE.match(plain, start)
        end = whole.end() if whole else end
        return _with_unit(Token("number", start, end, value_of(plain[start:end])), plain)
    blanks = len(match["blanks"] or "")
    said = squeezed(plain[start:end])
    value = value_of(said)
    if isinstance(value, Fraction) and value.denominator > 1 and (parts := _PARTS_SAID.match(plain, end)):
        end = parts.end()
    if match["comma"] and not isinstance(value, Unreadable):
        return _with_unit(Token("number", start, end, value, detail=f"{len(said.partition(',')[2])}"), plain)
    return _with_unit(Token("number", start, end, value, blanks=blanks), plain)


def _with_unit(token: Token, plain: str) -> Token:
    """A number with the unit behind it, and with what follows that: `2 in and a half`."""
    match = _UNIT_BEHIND.match(plain, token.end)
    if match is None:
        return token
    token = replace(token, end=match.end(), unit=UNIT_WORDS[match["unit"].lower()])
    if plain[token.end : token.end + 1] == "." and not _ends_sentence(plain, token):
        token = replace(token, end=token.end + 1)
    rest = _REST.match(plain, token.end)
    part = value_of(rest["part"].lower()) if rest else None
    if rest and isinstance(part, Fraction) and part < 1 and isinstance(token.value, Fraction):
        return replace(token, end=rest.end(), value=token.value + part)
    return token


def _ends_sentence(plain: str, token: Token) -> bool:
    """Whether the full stop behind a unit ends a sentence, so that a new one begins. Behind `in.` may stand a name."""
    following = _BLANKS.match(plain, token.end + 1)
    begins = plain[following.end() : following.end() + 1] if following else ""
    keyword = begins.isalpha() and KEYWORD.match(plain, following.end() if following else 0) is not None
    short = plain[token.start : token.end].lower().endswith(("in", "ft", "yd"))
    return begins.isalpha() and (begins.isupper() and keyword if short else begins.isupper() or not keyword)


def _spoken(plain: str, at: int) -> Token | None:
    """A number in words."""
    match = _SPOKEN.match(plain, at) or _spoken_on(plain, at)
    if match is None or (match["number"].lower() in ("a", "an") and not match["unit"]):
        return None
    said = squeezed(match["number"]).lower()
    whole, _, part = said.partition(" and ")
    value = Fraction(1) if said in ("a", "an") else value_of(said)
    if isinstance(value, Unreadable) and part:
        both = value_of(whole), value_of(part)
        value = both[0] + both[1] if isinstance(both[0], Fraction) and isinstance(both[1], Fraction) else value
    unit = UNIT_WORDS[match["unit"].lower()] if match["unit"] else None
    token = Token("number", at, match.end(), value, unit)
    rest = _REST.match(plain, token.end) if unit else None
    more = value_of(squeezed(rest["part"]).lower()) if rest else None
    if rest and isinstance(more, Fraction) and more < 1 and isinstance(value, Fraction):
        return replace(token, end=rest.end(), value=value + more)
    return token


def _spoken_on(plain: str, at: int) -> re.Match[str] | None:
    """`five eighths two and seven eighths`: a fraction ends before the next number begins."""
    match = _SPOKEN_ON.match(plain, at)
    value = value_of(squeezed(match["number"]).lower()) if match else None
    told = match and _COUNTED_PARTS.match(match["number"])
    return match if told and isinstance(value, Fraction) and value.denominator > 1 else None


def _slashed(plain: str, at: int) -> list[Token]:
    """`62/22/62`: numbers with slashes between, three or more. Where two of them could be a fraction it is unclear."""
    match = _SLASH_CHAIN.match(plain, at)
    if match is None:
        return []
    numbers = match[0].split("/")
    tokens: list[Token] = []
    for number, (one, following) in enumerate(zip(numbers, [*numbers[1:], ""], strict=True)):
        if number:
            tokens.append(Token("slash", at, at + 1))
            at += 1
        tokens.append(Token("number", at, at + len(one), value_of(one)))
        at += len(one)
        if (
            following.isdigit()
            and len(following) < 3
            and int(following) in _RULER_PARTS
            and int(one[:9]) < int(following)
        ):
            return [Token("unclear-slash", match.start(), match.end())]
    return [*tokens[:-1], _with_unit(tokens[-1], plain)]


# --- numbers side by side ---------------------------------------------------------------------------------------------


def _gaps(tokens: Sequence[Token], text: str) -> Iterator[Token]:
    """A `gap` between two numbers that have only blanks between them; its `blanks` are how many, a tab being four."""
    last: Token | None = None
    for token in tokens:
        if last and last.kind == "number" and token.kind == "unread" and token.start == last.end:
            # `2 7/8?` was read, but not well.
            token = replace(token, kind="about")
        if last and token.kind in ("number", "unread") and last.kind in ("number", "unread"):
            between = text[last.end : token.start]
            if between or last.unit:
                yield Token("gap", last.end, token.start, blanks=len(between.expandtabs(4)) + 4 * between.count("\t"))
        glued = token.kind == "comma" and not token.blank and text[token.end : token.end + 1].isdigit()
        yield replace(token, glued=True) if glued else token
        last = token


def _compound(tokens: Sequence[Token]) -> Iterator[Token]:
    """The tokens, `1 ft 6 in` as one number."""
    at = 0
    while at < len(tokens):
        joined = _joined(*tokens[at : at + 3]) if len(tokens) - at > 2 else None
        yield joined or tokens[at]
        at += 3 if joined else 1


def _joined(one: Token, gap: Token, other: Token) -> Token | None:
    """Two numbers that are one, as the second has a smaller unit; of `5" 1/2` nobody knows."""
    if gap.kind != "gap" or one.unit is None or not isinstance(one.value, Fraction):
        return None
    if other.unit is None:
        part = isinstance(other.value, Fraction) and other.value < 1 and one.value.denominator == 1
        return Token("unclear-gap", one.start, other.end) if part else None
    smaller = other.unit.system is one.unit.system and other.unit.mm < one.unit.mm
    if not smaller or not isinstance(other.value, Fraction):
        return None
    value = one.value * one.unit.mm / other.unit.mm + other.value
    return replace(one, end=other.end, value=value, unit=other.unit)
