"""The talk with one tab over its web socket: what it says is done, what is to be told goes out in order."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Awaitable, Callable

import msgspec
from starlette.websockets import WebSocket, WebSocketDisconnect

from foldwright.authoring.completing import completions
from foldwright.authoring.frames import foldable, folded_frames, folded_picture
from foldwright.authoring.inserting import insert, is_known
from foldwright.authoring.origins import marks_at
from foldwright.authoring.timing import time_measured
from foldwright.desk.keeping.on_disk import Choice
from foldwright.desk.offsets import Offsets
from foldwright.desk.writing.compiling import Message, SheetWish
from foldwright.desk.writing.entries import entry_at
from foldwright.desk.writing.manuscript import Manuscript
from foldwright.finding.changes import changed
from foldwright.pipeline import Understood
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
    size: str = ""


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
            "marks": self._marks,
            "frames": self._frames,
            "time": self._time,
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
        if said.text is None:
            return
        if len(said.text.encode()) <= MOST_BYTES:
            self._manuscript.typed(said.text, self.tell)
        else:
            # More than a recipe may have is kept as a draft, and nothing is made of it.
            self._manuscript.drafting.typed(said.text)
            self.tell({"is": "too-long"})

    async def _keep(self, _said: Said) -> None:
        self._manuscript.tell(await asyncio.to_thread(self._manuscript.drafting.keep))

    async def _wish(self, said: Said) -> None:
        self._manuscript.wished(SheetWish(said.look, said.paper, said.units, said.size))

    async def _pick(self, said: Said) -> None:
        self._manuscript.sheets.picked = said.what

    async def _complete(self, said: Said) -> Message:
        text, offsets = self._offsets()
        found = completions(text, offsets.here(said.at), self._understood())
        options = [{"text": one.text, "label": one.label, "line": one.line, "kind": one.kind} for one in found.options]
        return {"start": offsets.there(found.start), "options": options}

    async def _explain(self, said: Said) -> Message:
        text, offsets = self._offsets()
        entry = entry_at(text, offsets.here(said.at), self._understood())
        if entry is None:
            return {"entry": None}
        return {"entry": {"start": offsets.there(entry.start), "end": offsets.there(entry.end), "html": entry.html}}

    async def _insert(self, said: Said) -> Message:
        text, offsets = self._offsets()
        made = insert(said.what, text, offsets.here(said.at)) if is_known(said.what) else None
        if made is None:
            return {"changes": []}
        after = Offsets(changed(text, made.changes))
        return {"changes": offsets.changes(made.changes), "select": [after.there(one) for one in made.select]}

    async def _marks(self, said: Said) -> Message:
        drawn = self._manuscript.drawn
        here = self._offsets()[1].here(said.at)
        return {"marks": marks_at(drawn.marks, here) if drawn else ()}

    async def _frames(self, said: Said) -> Message:
        answer = self._manuscript.answer
        shown = answer.live.shown if answer else None
        if shown is None or said.what not in foldable(shown):
            return {"frames": None}
        frames = await asyncio.to_thread(folded_frames, shown, said.what)
        picture = await asyncio.to_thread(folded_picture, shown, said.what)
        return {"frames": frames, "picture": picture}

    async def _time(self, said: Said) -> Message:
        text, offsets = self._offsets()
        return {"changes": offsets.changes(time_measured(text, said.at, said.seconds))}

    async def _choose(self, said: Said) -> None:
        text = await asyncio.to_thread(self._manuscript.drafting.choose, Choice(said.what))
        if text is not None:
            self._manuscript.typed(text, None)
        self._manuscript.tell(self._manuscript.drafting.told())

    async def _versions(self, _said: Said) -> Message:
        found = await asyncio.to_thread(self._manuscript.drafting.on_disk.versions)
        return {"versions": [{"name": one.name, "when": one.until.isoformat()} for one in found]}

    async def _version(self, said: Said) -> Message:
        found = await asyncio.to_thread(self._manuscript.drafting.on_disk.version, said.what)
        return {"text": found if isinstance(found, str) else ""}

    def _offsets(self) -> tuple[str, Offsets]:
        text = self._manuscript.text
        return text, Offsets(text)

    def _understood(self) -> Understood | None:
        answer = self._manuscript.answer
        return answer.understood if answer else None


def _read(text: str) -> Said | None:
    try:
        return msgspec.json.decode(text, type=Said)
    except msgspec.DecodeError:
        return None
