"""What every way to begin ends with: a new folder in the desk's own, and the recipe opened where its words begin."""

from __future__ import annotations

import re
from collections.abc import Mapping
from urllib.parse import quote

from starlette.responses import RedirectResponse

from foldwright.begin.draft.begun import Begun, begin
from foldwright.begin.draft.model import Draft
from foldwright.desk.desk import Desk
from foldwright.desk.offsets import Offsets
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import Told, tell
from foldwright.finding import Finding, Wrong
from foldwright.outputs.new_folders import folder_for, studio_beside, write_new_folder
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import RECIPE

_FACTS = re.compile(r"---[^\S\n]*\n.*?^---[^\S\n]*\n\s*", re.DOTALL | re.MULTILINE)


def draft_tried(draft: Draft, desk: Desk) -> Begun:
    """The draft as a recipe of the desk's folder, checked."""
    source = folder_for(draft.title, desk.folder)
    return begin(draft, source.name, source.slug, studio_beside(desk.folder))


def name_wrong(title: str, desk: Desk) -> Wrong | None:
    """What is wrong with a name for a new recipe."""
    if not title:
        return Wrong.of("new.no-name")
    source = folder_for(title, desk.folder)
    there = source.folder.exists() or source.folder.is_symlink()
    return Wrong.of("new.there-already", path=source.slug) if there else None


def opened(title: str, text: str, files: Mapping[str, bytes], desk: Desk) -> RedirectResponse | Wrong:
    """The way to the new recipe, once its folder is there."""
    source = folder_for(title, desk.folder)
    if wrong := write_new_folder(source.folder, {RECIPE: text.encode(), **files}):
        return wrong
    return RedirectResponse(way_to(source, Offsets(text).there(words_begin(text))), 303)


def way_to(source: Source, at: int) -> str:
    """Where a recipe is written, with the cursor at an offset of its text as the browser counts."""
    return f"/recipe/{quote(source.slug)}?at={at}"


def words_begin(text: str) -> int:
    """Where the words of a recipe begin, behind its facts."""
    facts = _FACTS.match(text)
    return facts.end() if facts else 0


def told(wrong: Wrong) -> str:
    """What is wrong in words: in those of the desk where it has its own, which send nobody to a terminal."""
    words, name = catalogue(), wrong.message.rpartition(".")[2]
    keys = (f"desk-begin.wrong.{name}", f"command.{wrong.message}", f"command.wrong.{wrong.message}")
    return words.say(next(key for key in keys if words.has(key)), **dict(wrong.facts))


def told_findings(findings: tuple[Finding, ...], begun: Begun) -> tuple[Told, ...]:
    """Findings of a recipe that was begun, in words."""
    return tuple(tell(one, {begun.file: begun.text}) for one in findings)
