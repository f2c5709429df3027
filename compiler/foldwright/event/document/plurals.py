"""The names of pieces where there are several of them: authors write them for one."""

from __future__ import annotations

from foldwright.vocabulary.names import singular

_TO_VES = ("alf", "eaf", "elf", "nife")


def named(name: str, count: int) -> str:
    """`birdhouse fronts`, `boxes`; as it is for one, and where its last word is no word of small letters.

    The rule is that of English; a name that is in the plural already stays.
    """
    before, space, last = name.rpartition(" ")
    if count == 1 or not (last.isascii() and last.isalpha() and last[-1:].islower()) or singular(last) != last:
        return name
    return f"{before}{space}{_plural(last)}"


def _plural(word: str) -> str:
    if word.endswith(_TO_VES):
        return word.removesuffix("e")[:-1] + "ves"
    if word.endswith("y") and word[-2:-1] not in ("", "a", "e", "i", "o", "u"):
        return word[:-1] + "ies"
    return word + ("es" if word.endswith(("s", "x", "z", "ch", "sh")) else "s")
