"""Numbers as they are said aloud, put in figures of the same length: `twenty-five millimetres`, `two point five`.

The rest of what is said (`three and a half inches`, `an inch and a quarter`) the reader of prose knows as it stands.
"""

from __future__ import annotations

import re

_ONES = {word: value for value, word in enumerate("one two three four five six seven eight nine".split(), start=1)}
_TEENS = {
    word: value
    for value, word in enumerate(
        "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(), start=10
    )
}
_TENS = {
    word: value * 10
    for value, word in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split(), start=2)
}
_ONE, _TEEN, _TEN = ("|".join(words) for words in (_ONES, _TEENS, _TENS))
_BELOW_HUNDRED = rf"(?:(?:{_TEN})(?:[ -](?:{_ONE}))?|{_TEEN}|{_ONE})"
_WHOLE = rf"(?:(?:an?|{_ONE}) hundred(?:(?: and)? {_BELOW_HUNDRED})?|{_BELOW_HUNDRED})"
_DECIMALS = rf"(?: point(?: (?:zero|oh|nought|{_ONE}))+)"
_PARTS = r"(?! ?-?(?:second|third|fourth|fifth|sixth|eighth|tenth|sixteenth|half|halves|quarter)s?\b)"
"""`twenty thirds` and the like are parts of one, which stay in words."""
_NUMBER = re.compile(rf"\b(?P<whole>{_WHOLE}|zero|nought)(?P<decimals>{_DECIMALS})?{_PARTS}(?![a-z'’-])", re.IGNORECASE)
_BOTTOMS = {"sixteenth": 16, "thirty second": 32, "sixty fourth": 64}
_FINE = re.compile(
    rf"\b(?:(?P<whole>{_WHOLE}) and )?(?P<top>an?|{_BELOW_HUNDRED})[ -]"
    rf"(?P<bottom>sixteenth|thirty[ -]second|sixty[ -]fourth)s?(?![a-z'’-])",
    re.IGNORECASE,
)
"""Parts that rulers are marked in, and the reader of prose does not know all of."""
_DIGITS = {**_ONES, "zero": 0, "oh": 0, "nought": 0}


def in_figures(text: str) -> str:
    """The text with every number of more than one word, and every other that is said so, in figures; blanks behind each
    make it as long as it was, so that all keeps its place."""
    return _NUMBER.sub(_figures, _FINE.sub(_parts, text))


def _parts(found: re.Match[str]) -> str:
    whole = f"{_whole(found['whole'].lower())} " if found["whole"] else ""
    top = found["top"].lower()
    number = 1 if top in ("a", "an") else _whole(top)
    bottom = _BOTTOMS[found["bottom"].lower().replace("-", " ")]
    return f"{whole}{number}/{bottom}".ljust(len(found[0]))


def _figures(found: re.Match[str]) -> str:
    said = found["whole"].lower()
    if not found["decimals"] and (said in _ONES or said in ("zero", "nought")):
        return found[0]
    figures = str(_whole(said))
    if found["decimals"]:
        figures += "." + "".join(str(_DIGITS[word]) for word in found["decimals"].lower().split()[1:])
    return figures.ljust(len(found[0]))


def _whole(said: str) -> int:
    if said in ("zero", "nought"):
        return 0
    before, hundred, rest = said.partition("hundred")
    value = 100 * _ONES.get(before.strip(), 1) if hundred else 0
    words = [word for word in re.split("[ -]", rest if hundred else said) if word not in ("", "and")]
    return value + sum({**_ONES, **_TEENS, **_TENS}[word] for word in words)
