"""What `sheet.json` and `kit.json` have in common: frozen types that are the format, as JSON and as JSON Schema."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace
from typing import Annotated

import msgspec
from msgspec import Meta, Struct


class DataPart(Struct, frozen=True, forbid_unknown_fields=True):
    """A part of a format: its fields are the keys, all always there, and no others."""


type Exact = Annotated[Fraction, Meta(description="Exact, in millimetres: a fraction in lowest terms.")]
type Ratio = Annotated[Fraction, Meta(description="An exact number: a fraction in lowest terms.")]
type Count = Annotated[int, Meta(ge=0)]
type Ordinal = Annotated[int, Meta(ge=1, description="Counts from 1.")]
type Seconds = Annotated[int, Meta(ge=0, description="Whole seconds.")]


def copied[T: Struct](kind: type[T], one: object, /, **given: object) -> T:
    """A part of a format from a value of a plan: what is not `given` goes by its name there; an empty text is null."""
    names = [name for name in kind.__struct_fields__ if name not in given]
    found = {name: None if (value := getattr(one, name)) == "" else value for name in names}
    return msgspec.convert(SimpleNamespace(**found, **given), kind, from_attributes=True)


def encoded(data: DataPart, indent: int) -> str:
    """JSON text a person can read; the same text for the same data. A Fraction is written `4191/40`, or `105`."""
    return msgspec.json.format(msgspec.json.encode(data, enc_hook=str), indent=indent).decode() + "\n"


def decoded[T: Struct](text: str, kind: type[T]) -> T:
    """The data some JSON text holds. Raises `msgspec.DecodeError` for any other."""
    return msgspec.json.decode(text, type=kind, dec_hook=lambda _, said: Fraction(said))


def schema_text(kind: type[DataPart], title: str) -> str:
    """The JSON Schema (draft 2020-12) of a format, as the file that is shipped."""
    made = msgspec.json.schema(kind, schema_hook=_schema_of_fraction)
    whole = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title, **made}
    return msgspec.json.format(msgspec.json.encode(whole), indent=1).decode() + "\n"


def _schema_of_fraction(kind: type) -> dict[str, object]:
    if kind is Fraction:
        return {"type": "string", "pattern": r"^-?\d+(/[1-9]\d*)?$"}
    raise NotImplementedError
