"""The socket of a moving ball: the newest place wins, an answer bears the number of its place, and nothing piles up."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass

from starlette.websockets import WebSocket, WebSocketDisconnect

from marram.desk.rulings.ruling_process import RulingProcesses

_LONGEST = 20_000


@dataclass(slots=True)
class _Newest:
    """The newest message; whoever is ready takes it, and one that came before it is let go."""

    text: str = ""
    is_over: bool = False


async def follow_ball(socket: WebSocket, processes: RulingProcesses) -> None:
    """Answer one moving ball until its page goes.

    Args:
        socket: The socket.
        processes: What makes rulings.
    """
    await socket.accept()
    newest, has_come = _Newest(), asyncio.Event()
    reading = asyncio.create_task(_read(socket, newest, has_come))
    try:
        while True:
            await has_come.wait()
            has_come.clear()
            if newest.is_over:
                return
            page = await processes.do("moving", newest.text)
            if newest.is_over:
                return
            await socket.send_text(page.text)
    except (WebSocketDisconnect, RuntimeError):
        return
    finally:
        reading.cancel()


async def _read(socket: WebSocket, newest: _Newest, has_come: asyncio.Event) -> None:
    """Keep the newest message; one that came before it is let go."""
    try:
        while True:
            text = await socket.receive_text()
            if len(text) > _LONGEST:
                await socket.close(1009)
                break
            newest.text = text
            has_come.set()
    except (WebSocketDisconnect, RuntimeError, KeyError):
        pass
    newest.is_over = True
    has_come.set()
