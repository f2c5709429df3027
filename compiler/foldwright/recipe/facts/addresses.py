"""Names made fit for an address: of a folder, and of a page about a tag."""

from __future__ import annotations

import re
import unicodedata

PAGE = "tutorial.html"
"""The page of a recipe, in the folder that is called like it."""
FEED = "feed.xml"
"""The feed of a library, at its top."""

_WORDS = re.compile(r"\w+")
_LONGEST = 100
"""Bytes of a name; with an ending and a number behind it, it is still short of the 255 that file systems take."""


def slug_of(name: str) -> str:
    """A folder's name made fit for an address: small letters and figures, hyphens between."""
    return "-".join(_WORDS.findall(unicodedata.normalize("NFC", name).lower())) or "recipe"


def address_of(name: str) -> str:
    """A name of any letters made fit for an address, without accents; a picture goes by what Unicode calls it.

    Empty where there are neither letters, figures nor pictures in it. Two names may share an address.
    """
    plain = unicodedata.normalize("NFKD", name.casefold())
    bare = "".join(letter for letter in plain if not unicodedata.combining(letter))
    words = _WORDS.findall(bare) or [
        word
        for letter in bare
        if unicodedata.category(letter) == "So"
        for word in _WORDS.findall(unicodedata.name(letter, "").casefold())
    ]
    return shortened(unicodedata.normalize("NFC", "-".join(word.strip("_") for word in words).strip("-")))


def shortened(name: str) -> str:
    """A name no longer than a file may be called."""
    return name.encode()[:_LONGEST].decode(errors="ignore").strip("-")
