"""The environment themes run in: Jinja's sandbox, which lets templates look at data and do nothing else."""

from __future__ import annotations

from contextlib import suppress
from types import SimpleNamespace
from typing import Any

from jinja2.bccache import Bucket, FileSystemBytecodeCache
from jinja2.sandbox import ImmutableSandboxedEnvironment
from msgspec import Struct

from foldwright.render.kept import kept_folder


class Sandbox(ImmutableSandboxedEnvironment):
    """The sandbox, with a short way to the public attributes of the view and the fields of our values: they hold data
    and are asked for most."""

    def getattr(self, obj: Any, attribute: str) -> Any:
        if type(obj) is SimpleNamespace and attribute[0] != "_" and attribute in obj.__dict__:
            return obj.__dict__[attribute]
        if isinstance(obj, Struct) and attribute[0] != "_" and attribute in obj.__struct_fields__:
            return getattr(obj, attribute)
        return super().getattr(obj, attribute)


class _Compiled(FileSystemBytecodeCache):
    """Templates already compiled; where they cannot be kept, they are compiled in every process."""

    def dump_bytecode(self, bucket: Bucket) -> None:
        with suppress(OSError):
            super().dump_bytecode(bucket)


def compiled_templates() -> FileSystemBytecodeCache | None:
    """The built-in templates compiled, kept between runs; None where they cannot be. Compiling takes a tenth of a
    second, which is a seventh of what one recipe takes. Jinja itself knows a copy by the template's text and its own
    version, and puts copies in place whole."""
    place = kept_folder()
    with suppress(OSError):
        place.mkdir(mode=0o700, parents=True, exist_ok=True)
    return _Compiled(str(place)) if place.is_dir() else None
