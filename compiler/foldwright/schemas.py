"""The JSON Schemas that are shipped, made of the types of their formats by `python3 compiler/start.py schemas`."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from foldwright.cli.report import CheckData
from foldwright.document.data_format import schema_text
from foldwright.document.sheet_data import SheetData
from foldwright.event.document.kit_data import KitData


def schemas() -> Mapping[Path, str]:
    """The text of every schema by the file it stands in."""
    here = Path(__file__).parent
    return {
        here / "document" / "sheet.schema.json": schema_text(SheetData, "sheet.json"),
        here / "cli" / "findings.schema.json": schema_text(CheckData, "foldwright check --format json"),
        here / "event" / "document" / "kit.schema.json": schema_text(KitData, "kit.json"),
    }


def write_schemas() -> None:
    """Writes every schema beside the types it is made of."""
    for path, text in schemas().items():
        path.write_text(text, encoding="utf-8")
