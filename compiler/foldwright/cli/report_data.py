"""What `foldwright check` found, for other programs; findings.schema.json beside this module describes it."""

from __future__ import annotations

import json
from collections.abc import Sequence

from msgspec import structs

from foldwright.cli.check import Report
from foldwright.cli.measures import MeasureLine
from foldwright.cli.telling import extent
from foldwright.document.told import Told
from foldwright.finding import Strength


def as_data(reports: Sequence[Report], measures: bool) -> str:
    """The reports as JSON text."""
    files = []
    for one in reports:
        entry: dict[str, object] = {
            "recipe": one.source.path,
            "findings": [_finding_data(told) for told in one.told],
            "pieces": [structs.asdict(piece) for piece in one.pieces],
        }
        if one.source.size:
            entry["size"] = one.source.size
        if measures and not one.source.size:
            entry["measures"] = [_measure_data(measure) for measure in one.measures]
            entry["passed_over"] = [structs.asdict(passed) for passed in one.passed_over]
        files.append(entry)
    counts = {
        strength.name.lower(): sum(told.strength is strength for one in reports for told in one.told)
        for strength in sorted(Strength, reverse=True)
    }
    data = {"format": "foldwright findings", "version": 1, "recipes": files, "in_all": counts}
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def _finding_data(told: Told) -> dict[str, object]:
    return {
        "file": told.file,
        "line": told.line,
        "column": told.column,
        "length": extent(told),
        "strength": told.strength.name.lower(),
        "code": told.code,
        "says": told.says,
        "understood": told.understood,
        "remedy": told.remedy,
        "line_text": told.line_text,
    }


def _measure_data(measure: MeasureLine) -> dict[str, object]:
    return {
        "line": measure.line,
        "column": measure.column,
        "said": measure.said,
        "understood": measure.understood,
        "exact_mm": list(measure.exact_mm),
        "meant": measure.meant,
        "why": measure.why,
    }
