"""The talk with one tab over its web socket: what it says is done, what is to be told goes out in order."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Awaitable, Callable
from typing import Any

import msgspec
from starlette.websockets import WebSocket, WebSocketDisconnect

from foldwright.desk.compiling import Message, SheetWish
from foldwright.desk.keeping import Choice
from foldwright.desk.manuscript import Manuscript
from foldwright.desk.offsets import Offsets
from foldwright.recipe.facts.limits import MOST_BYTES

_MOST_WAITING = 500
"""Messages that a tab may be behind; one that does not listen any more is let go."""


class Said(msgspec.Struct, frozen=True):
    """What a tab says: what is to be done, and what it is about. `ask` numbers a question; the answer bears it too."""

    do: str
    ask: int = 0
    text: str | None = None
    at: int = 0
    what: str = ""
    seconds: int = 0
    look: str = ""
    paper: str = ""
    units: str = ""


class Talk:
    """One tab and the manuscript it shows."""

    def __init__(self, socket: WebSocket, manuscript: Manuscript) -> None:
        self._socket, self._manuscript = socket, manuscript
        self._out: asyncio.Queue[Message | None] = asyncio.Queue()
        self._does: dict[str, Callable[[Said], Awaitable[Message | None]]] = {
            "here": self._here,
            "text": self._text,
            "keep": self._keep,
            "wish": self._wish,
            "pick": self._pick,
            "complete": self._complete,
            "explain": self._explain,
            "insert": self._insert,
            "choose": self._choose,
            "versions": self._versions,
            "version": self._version,
        }

    async def go_on(self) -> None:
        """Until the tab is closed."""
        await self._socket.accept()
        sending = asyncio.create_task(self._send_on())
        try:
            while True:
                said = _read(await self._socket.receive_text())
                if said is None or said.do not in self._does:
                    break
                answer = await self._does[said.do](said)
                if said.ask:
                    self.tell({**(answer or {}), "to": said.ask})
        except WebSocketDisconnect:
            pass
        finally:
            self._manuscript.leave(self.tell)
            sending.cancel()
            with contextlib.suppress(RuntimeError):
                await self._socket.close()

    def tell(self, message: Message) -> None:
        """Hand it a message, which goes out when those before it have."""
        if self._out.qsize() < _MOST_WAITING:
            self._out.put_nowait(message)

    async def _send_on(self) -> None:
        with contextlib.suppress(WebSocketDisconnect, RuntimeError):
            while message := await self._out.get():
                await self._socket.send_text(msgspec.json.encode(message).decode())

    # --- what it asks for ---------------------------------------------------------------------------------------------

    async def _here(self, said: Said) -> None:
        self._manuscript.greet(self.tell, said.text)

    async def _text(self, said: Said) -> None:
        if said.text is not None and len(said.text.encode()) <= MOST_BYTES:
            self._manuscript.typed(said.text, self.tell)

    async def _keep(self, _said: Said) -> None:
        self._manuscript.tell(await asyncio.to_thread(self._manuscript.drafting.keep))

    async def _wish(self, said: Said) -> None:
        self._manuscript.wished(SheetWish(said.look, said.paper, said.units))

    async def _pick(self, said: Said) -> None:
        self._manuscript.sheets.picked = said.what

    async def _complete(self, said: Said) -> Message:
        return {"start": said.at, "options": []}

    async def _explain(self, said: Said) -> Message:
        return {"entry": None}

    async def _insert(self, said: Said) -> Message:
        return {"changes": [], "select": None}

    async def _choose(self, said: Said) -> None:
        text = await asyncio.to_thread(self._manuscript.drafting.choose, Choice(said.what))
        if text is not None:
            self._manuscript.typed(text, None)
        self._manuscript.tell(self._manuscript.drafting.state())

    async def _versions(self, _said: Said) -> Message:
        found = await asyncio.to_thread(self._manuscript.drafting.on_disk.versions)
        return {"versions": [{"name": one.name, "when": one.until.isoformat()} for one in found]}

    async def _version(self, said: Said) -> Message:
        found = await asyncio.to_thread(self._manuscript.drafting.on_disk.version, said.what)
        return {"text": found if isinstance(found, str) else ""}

    def _offsets(self) -> tuple[str, Offsets]:
        text = self._manuscript.text
        return text, Offsets(text)

    def _understood(self) -> Any:
        answer = self._manuscript.answer
        return answer.understood if answer else None


def _read(text: str) -> Said | None:
    try:
        return msgspec.json.decode(text, type=Said)
    except msgspec.DecodeError:
        return None
