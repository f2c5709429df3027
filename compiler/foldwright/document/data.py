"""A sheet as plain data for `sheet.json`: versioned by hand, described by `schema.json` beside this module."""

from __future__ import annotations

import json
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from foldwright.document.model import (
    CautionText,
    Document,
    Photograph,
    Picture,
    PieceLine,
    PlacedPicture,
    Quantity,
    StepText,
    Substitute,
    SupplyLine,
    TimeSpan,
    ToolLine,
)
from foldwright.document.told import Told
from foldwright.document.words import Both, Passage, Runs, SetMeasure, plain, plain_passage
from foldwright.measure.length import System

VERSION = 4
"""Raise it, and say so in schema.json, whenever a reader of the older format would go wrong."""

type Data = dict[str, Any]


@cache
def schema() -> Data:
    """The JSON Schema (draft 2020-12) of what `as_data` gives."""
    loaded: Data = json.loads(Path(__file__).with_name("schema.json").read_text(encoding="utf-8"))
    return loaded


def as_json(document: Document) -> str:
    return json.dumps(as_data(document), ensure_ascii=False, indent=2) + "\n"


def as_data(document: Document) -> Data:
    """Everything the compiler worked out. Texts that hold measures stand once per unit system."""
    head = document.head
    return {
        "version": VERSION,
        "language": document.language,
        "slug": document.slug,
        "written_in": document.system.value,
        "draft": document.standing.value == "draft",
        "title": head.title,
        "summary": _words(head.summary),
        "credit": head.credit,
        "licence": {"name": head.licence, "address": head.licence_address},
        "revised": head.revised,
        "makes": head.makes,
        "level": head.level,
        "audience": head.audience,
        "studio": head.studio,
        "author": head.author,
        "address": head.address,
        "video": head.video,
        "photo": _photo(document.photo),
        "intro": _passage(document.intro),
        "supplies": [_supply(supply) for supply in document.supplies],
        "tools": [_tool(tool) for tool in document.tools],
        "pieces": [_piece(piece) for piece in document.pieces],
        "cautions": [_caution(caution) for caution in document.cautions],
        "steps": [_step(step) for step in document.steps],
        "sections": [
            {"kind": section.kind, "heading": _words(section.heading), "words": _passage(section.words)}
            for section in document.sections
        ],
        "time": {
            "hands_on": document.totals.hands_on.seconds,
            "get_ready": _seconds(document.totals.get_ready),
            "waiting": _seconds(document.totals.waiting),
            "elapsed": document.totals.elapsed.seconds,
            "estimated": document.totals.estimated,
        },
        "rounding": {"imperial": list(document.rounding.imperial), "metric": list(document.rounding.metric)},
        "finished": _drawing(document.finished) if document.finished else None,
        "pictures": [_shown(shown, document) for shown in document.shown],
        "findings": [_finding(told) for told in document.findings],
    }


def _both(say: Callable[[System], str]) -> Data:
    return {system.value: say(system) for system in System}


def _words(runs: Runs) -> Data:
    return _both(lambda system: plain(runs, system))


def _passage(passage: Passage) -> Data:
    return _both(lambda system: plain_passage(passage, system))


def _phrases(phrases: Both[SetMeasure]) -> Data:
    return _both(lambda system: phrases.of(system).plain)


def _length(quantity: Quantity | None) -> Data | None:
    if quantity is None:
        return None
    return {"exact_mm": exact_mm(quantity.exact.mm), **_phrases(quantity.printed)}


def exact_mm(mm: Fraction) -> str:
    """`4191/40`, or `105` when it is whole."""
    return str(mm)


def _seconds(span: TimeSpan | None) -> int:
    return span.seconds if span else 0


def _shown(shown: PlacedPicture, document: Document) -> Data:
    drawing = document.picture(shown) if shown.drawing else None
    return {
        "step": shown.step,
        "piece": shown.piece,
        "photo": _photo(shown.photo),
        "drawing": _drawing(drawing) if drawing else None,
    }


def _drawing(picture: Picture) -> Data:
    return {
        "name": picture.name,
        "kind": picture.kind,
        "title": _words(picture.title),
        "shows": _both(picture.describes.of),
    }


def _photo(photo: Photograph | None) -> Data | None:
    return {"file": photo.path, "shows": photo.shows} if photo else None


def _instead(all_: tuple[Substitute, ...]) -> list[Data]:
    return [{"name": _words(one.name), "remark": _words(one.remark)} for one in all_]


def _supply(supply: SupplyLine) -> Data:
    return {
        "name": _words(supply.name),
        "kind": supply.kind,
        "amount": _words(supply.amount),
        "details": _words(supply.details),
        "packs": [_words(pack) for pack in supply.packs],
        "colours": supply.colours,
        "contains": supply.contains,
        "optional": supply.optional,
        "instead": _instead(supply.instead),
        "note": _words(supply.note),
    }


def _tool(tool: ToolLine) -> Data:
    return {"name": _words(tool.name), "optional": tool.optional, "instead": _instead(tool.instead)}


def _piece(piece: PieceLine) -> Data:
    return {
        "name": piece.name,
        "count": piece.count,
        "from": piece.supply,
        "optional": piece.optional,
        "size": {"across": _length(piece.across), "down": _length(piece.down)},
        "across": [{"name": panel.name, **(_length(panel.length) or {})} for panel in piece.panels_across],
        "down": [{"name": panel.name, **(_length(panel.length) or {})} for panel in piece.panels_down],
        "work": [_words(line) for line in piece.work],
        "worked_out": [_words(line) for line in piece.rows],
        "fit": [_words(line) for line in piece.fit],
        "picture": _both(piece.picture.describes.of) if piece.picture else None,
        "note": _words(piece.note),
    }


def _caution(caution: CautionText) -> Data:
    return {
        "code": caution.code,
        "signal": caution.signal.name.lower(),
        "hazard": caution.hazard,
        "consequence": caution.consequence,
        "avoid": caution.avoid,
        "own": _passage(caution.own),
    }


def _step(step: StepText) -> Data:
    time = step.time
    return {
        "number": step.number,
        "heading": _words(step.heading),
        "words": _passage(step.words),
        "short": _passage(step.wordings[-1]) if len(step.wordings) > 1 else None,
        "when": step.when.value,
        "hands_on": _seconds(time.hands_on),
        "get_ready": _seconds(time.get_ready),
        "waiting": _seconds(time.waiting),
        "estimated": time.estimated,
        "meanwhile": _words(step.meanwhile),
        "optional": step.optional,
        "pieces": list(step.pieces),
        "cautions": [_caution(caution) for caution in step.cautions],
        "drawings": [_drawing(picture) for picture in step.pictures],
        "checks": [_words(line) for line in step.trials],
        "tip": _passage(step.tip),
        "photo": _photo(step.photo),
        "video": step.video,
    }


def _finding(told: Told) -> Data:
    return {
        "code": told.code,
        "strength": told.strength.name.lower(),
        "file": told.file,
        "line": told.line,
        "column": told.column,
        "said": told.said,
        "says": told.says,
        "understood": told.understood,
        "remedy": told.remedy,
    }
