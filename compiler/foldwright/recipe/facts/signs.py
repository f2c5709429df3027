"""Anchors, aliases and tags of YAML: the facts have none, and each is told. Where prose is wanted they are text."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import zip_longest

from msgspec.structs import replace

from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.lines import FactLine, ValueKind
from foldwright.recipe.facts.phrase import Phrase

_SIGN = re.compile(r"(?:(?P<anchor>&)|(?P<tag>!!?)|(?P<alias>\*(?=[\w.-]+$)))(?P<name>[\w.-]+)(?:\s+|$)")
_MERGED = "<<"


def without_signs(value: Phrase, complaints: Complaints) -> Phrase:
    """What is left of a value without the signs at its beginning."""
    while sign := _SIGN.match(value.text):
        code = f"yaml-{'anchor' if sign['anchor'] else 'tag' if sign['tag'] else 'alias'}"
        complaints.fault(code, value.part(0, sign.end()), name=sign["name"])
        value = value.part(sign.end())
    return value


def told_of_signs(lines: Sequence[FactLine], complaints: Complaints) -> list[FactLine]:
    """The lines without the signs of which it is plain that they are not text.

    They stand alone above deeper lines, or one anchors what another names. A fact that calls for another is left out.
    """
    signs = [_SIGN.match(line.value.text) if line.value and line.kind is ValueKind.TEXT else None for line in lines]
    anchored = {sign["name"]: sign.end() < len(sign.string) for sign in signs if sign and sign["anchor"]}
    named = {sign["name"] for sign in signs if sign and sign["alias"]}
    told: list[FactLine] = []
    for line, sign, below in zip_longest(lines, signs, lines[1:]):
        if sign is None or line.value is None:
            told.append(line)
            continue
        name = sign["name"]
        leads = below is not None and below.column > line.column
        heads = leads and not _SIGN.sub("", line.value.text)
        calls = (line.key is not None and line.key.text == _MERGED) or (sign["alias"] and anchored.get(name))
        if calls or heads or (sign["anchor"] and name in named):
            value = without_signs(line.value, complaints)
            if calls and not leads and not line.dash:
                continue
            line = replace(line, value=value if value.text else None)
        told.append(line)
    return told
