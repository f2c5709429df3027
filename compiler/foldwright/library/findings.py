"""What is the matter with recipes that only shows where all of them are together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from foldwright.finding import Finding, Strength
from foldwright.outputs.entry import Entry


def about_listing(entries: Sequence[Entry]) -> Iterator[Finding]:
    """Recipes that are made and not listed: each whose day is to come, and in one those with something wrong, and
    those that say no day."""
    for entry in entries:
        if entry.unlisted == "later":
            place = entry.places.get("published")
            yield Finding.of("published-later", Strength.THOUGHT, place, day=entry.published, title=entry.title)
    for why, code in (("draft", "library-draft"), ("day", "library-undated")):
        if left_out := [entry.title for entry in entries if entry.unlisted == why]:
            facts = {"first": left_out[0], "count": len(left_out), "others": len(left_out) - 1}
            yield Finding.of(code, Strength.THOUGHT, None, **facts)


def about_tags(entries: Sequence[Entry]) -> Iterator[Finding]:
    """Tags that are spelled otherwise in most recipes; of two as common, the first by the alphabet is kept."""
    spelled = Counter(tag for entry in entries for tag in entry.tags)
    usual: dict[str, str] = {}
    for tag in sorted(spelled, key=lambda tag: (-spelled[tag], tag)):
        usual.setdefault(tag.casefold(), tag)
    for entry in entries:
        for tag in entry.tags:
            if tag != (kept := usual[tag.casefold()]):
                place = entry.places.get(f"tag {tag}")
                yield Finding.of("tag-spelled-otherwise", Strength.THOUGHT, place, said=tag, kept=kept)


def about_address(address: str) -> Iterator[Finding]:
    """Without the studio's address there is nothing that others find the library by."""
    if not address:
        yield Finding.of("library-without-address", Strength.THOUGHT, None)


def unhushed(findings: Iterable[Finding], entries: Sequence[Entry]) -> tuple[Finding, ...]:
    """The findings without those thoughts that the author of the recipe has asked not to hear again."""
    hushed = {(entry.file, code) for entry in entries for code in entry.hushed}
    return tuple(
        one
        for one in findings
        if one.strength > Strength.THOUGHT or one.place is None or (one.place.file, one.code) not in hushed
    )
