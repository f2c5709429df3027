"""A sheet as a schema.org HowTo in JSON-LD, for search engines and readers of other kinds."""

from __future__ import annotations

import json
from typing import Any

from foldwright.document.film import Chapter, at_moment, chapters_of, in_order, is_media, is_web_address
from foldwright.document.model import Document, StepText, SupplyLine
from foldwright.document.words import plain, plain_passage
from foldwright.measure.length import System

CONTEXT = "https://schema.org"
_UNSAFE = str.maketrans({"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"})


def how_to(document: Document, system: System) -> str:
    """The JSON text, safe inside a script element whatever the author wrote."""
    return json_ld(as_how_to(document, system))


def json_ld(data: dict[str, Any]) -> str:
    """Data as JSON, safe inside a script element whatever the author wrote."""
    return json.dumps(data, ensure_ascii=False, separators=(",", ":")).translate(_UNSAFE)


def as_how_to(document: Document, system: System) -> dict[str, Any]:
    """The same as data. Terms after schema.org: HowTo, HowToSupply, HowToTool, HowToStep."""
    head = document.head
    totals = document.totals
    data = {
        "@context": CONTEXT,
        "@type": "HowTo",
        "name": head.title,
        "description": plain(head.summary, system),
        "inLanguage": document.language,
        "datePublished": head.published,
        "dateModified": head.revised,
        "keywords": ", ".join((*head.tags, *head.seasons)),
        "license": head.licence_address or head.licence,
        "creditText": head.credit,
        "author": {"@type": "Person", "name": head.author} if head.author else None,
        "publisher": {"@type": "Organization", "name": head.studio} if head.studio else None,
        "url": head.address,
        "video": video_object(document, system) if is_web_address(head.video) else None,
        "educationalLevel": head.level,
        "yield": head.makes,
        "prepTime": duration(totals.get_ready.seconds) if totals.get_ready else None,
        "performTime": duration(totals.hands_on.seconds + (totals.waiting.seconds if totals.waiting else 0)),
        "totalTime": duration(totals.elapsed.seconds),
        "supply": [_supply(supply, system) for supply in document.supplies],
        "tool": [{"@type": "HowToTool", "name": plain(tool.name, system)} for tool in document.tools],
        "step": [_step(step, system) for step in document.steps],
    }
    return {name: value for name, value in data.items() if value not in (None, "", [])}


def video_object(document: Document, system: System) -> dict[str, Any]:
    """The video as a schema.org VideoObject, its chapters as its Clips."""
    head = document.head
    chapters = chapters_of(document)
    clips = chapters if in_order(chapters, head.video_seconds) else ()
    data = {
        "@type": "VideoObject",
        "name": head.title,
        "description": plain(head.summary, system),
        "contentUrl" if is_media(head.video) else "url": head.video,
        "duration": duration(head.video_seconds) if head.video_seconds else None,
        "hasPart": [_clip(chapter, head.video) for chapter in clips],
    }
    return {name: value for name, value in data.items() if value not in (None, "", [])}


def _clip(chapter: Chapter, address: str) -> dict[str, Any]:
    """One chapter; where nobody knows its end it has none."""
    clip = {"@type": "Clip", "name": chapter.title, "startOffset": chapter.start}
    end = {} if chapter.end is None else {"endOffset": chapter.end}
    return clip | end | {"url": at_moment(address, chapter.start)}


def _supply(supply: SupplyLine, system: System) -> dict[str, Any]:
    amount = plain(supply.amount, system)
    return {"@type": "HowToSupply", "name": plain(supply.name, system)} | (
        {"requiredQuantity": amount} if amount else {}
    )


def _step(step: StepText, system: System) -> dict[str, Any]:
    directions: list[dict[str, Any]] = [
        {"@type": "HowToDirection", "text": plain_passage(step.words, system)}
        | ({"performTime": duration(step.time.hands_on.seconds)} if step.time.hands_on else {})
    ]
    if step.tip:
        directions.append({"@type": "HowToTip", "text": plain_passage(step.tip, system)})
    return {
        "@type": "HowToStep",
        "position": step.number,
        "name": plain(step.heading, system),
        "url": f"#step-{step.number}",
        "itemListElement": directions,
    }


def duration(seconds: int) -> str:
    """A duration after RFC 3339, appendix A: `PT1H35M`; no unit is left out between two others (`PT1H0M5S`)."""
    hours, rest = divmod(seconds, 3600)
    minutes, left = divmod(rest, 60)
    parts = [(hours, "H"), (minutes, "M"), (left, "S")]
    said = [place for place, (number, _) in enumerate(parts) if number] or [2]
    return "PT" + "".join(f"{number}{unit}" for number, unit in parts[said[0] : said[-1] + 1])
