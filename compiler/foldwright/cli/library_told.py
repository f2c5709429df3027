"""What is the matter with a library as a whole, in words: told in the texts of its recipes and of its stock list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from msgspec.structs import replace

from foldwright.document.findings import Told, tell
from foldwright.finding import Finding
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source


def in_words(findings: Sequence[Finding], sources: Mapping[str, Source], texts: Mapping[str, str]) -> tuple[Told, ...]:
    """The findings with their mends. `sources` are the recipes and `texts` the other files, by what findings call them.

    Only the recipes of which something is told are read.
    """
    if not findings:
        return ()
    from foldwright.mending.mends import with_mends
    from foldwright.pipeline import in_text_order

    named = {finding.place.file for finding in findings if finding.place}
    read = {name: read_texts(sources[name]).text for name in sorted(named & sources.keys())}
    known = {**texts, **{name: text for name, text in read.items() if text is not None}}
    return tuple(tell(finding, known) for finding in in_text_order(with_mends(findings, known)))


def under_shown_names(
    told: Sequence[Told], sources: Mapping[str, Source], folder: Path, stock: str
) -> tuple[Told, ...]:
    """The same under the names of files as the caller typed them; of what stands in none, under that of the folder."""
    names = {**{name: source.path for name, source in sources.items()}, stock: str(folder / stock), "": str(folder)}
    return tuple(replace(one, file=names.get(one.file, one.file)) for one in told)
