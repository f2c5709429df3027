"""The environment themes run in: Jinja's sandbox, which lets templates look at data and do nothing else."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from jinja2.sandbox import ImmutableSandboxedEnvironment


class Sandbox(ImmutableSandboxedEnvironment):
    """The sandbox, with a short way to the public attributes of the view: they hold data and are asked for most."""

    def getattr(self, obj: Any, attribute: str) -> Any:
        if type(obj) is SimpleNamespace and attribute[0] != "_" and attribute in obj.__dict__:
            return obj.__dict__[attribute]
        return super().getattr(obj, attribute)
