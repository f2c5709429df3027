"""Numbers as they are said aloud, put in figures of the same length: `twenty-five millimetres`, `two point five`.

The rest of what is said (`three and a half inches`, `an inch and a quarter`) the reader of prose knows as it stands.
"""

from __future__ import annotations

import re

from foldwright.measure.spelled import DECIMALS, DIGITS, ONE, ONES, TEEN, TEN, whole_of

_BELOW_HUNDRED = rf"(?:(?:{TEN})(?:[ -](?:{ONE}))?|{TEEN}|{ONE})"
_WHOLE = rf"(?:(?:an?|{ONE}) hundred(?:(?: and)? {_BELOW_HUNDRED})?|{_BELOW_HUNDRED})"
_PARTS = r"(?! ?-?(?:second|third|fourth|fifth|sixth|eighth|tenth|sixteenth|half|halves|quarter)s?\b)"
"""`twenty thirds` and the like are parts of one, which stay in words."""
_NUMBER = re.compile(rf"\b(?P<whole>{_WHOLE}|zero|nought)(?P<decimals>{DECIMALS})?{_PARTS}(?![a-z'’-])", re.IGNORECASE)
_BOTTOMS = {"sixteenth": 16, "thirty second": 32, "sixty fourth": 64}
_FINE = re.compile(
    rf"\b(?:(?P<whole>{_WHOLE}) and )?(?P<top>an?|{_BELOW_HUNDRED})[ -]"
    rf"(?P<bottom>sixteenth|thirty[ -]second|sixty[ -]fourth)s?(?![a-z'’-])",
    re.IGNORECASE,
)
"""Parts that rulers are marked in, and the reader of prose does not know all of."""


def in_figures(text: str) -> str:
    """The text with every number of more than one word, and every other that is said so, in figures; blanks behind each
    make it as long as it was, so that all keeps its place."""
    return _NUMBER.sub(_figures, _FINE.sub(_parts, text))


def _parts(found: re.Match[str]) -> str:
    whole = f"{whole_of(found['whole'].lower())} " if found["whole"] else ""
    top = found["top"].lower()
    number = 1 if top in ("a", "an") else whole_of(top)
    bottom = _BOTTOMS[found["bottom"].lower().replace("-", " ")]
    return f"{whole}{number}/{bottom}".ljust(len(found[0]))


def _figures(found: re.Match[str]) -> str:
    said = found["whole"].lower()
    if not found["decimals"] and (said in ONES or said in ("zero", "nought")):
        return found[0]
    figures = str(whole_of(said))
    if found["decimals"]:
        figures += "." + "".join(str(DIGITS[word]) for word in found["decimals"].lower().split()[1:])
    return figures.ljust(len(found[0]))
