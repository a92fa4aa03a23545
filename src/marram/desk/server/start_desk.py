"""Start the desk: on loopback alone, its address told once with the start token."""

from __future__ import annotations

import logging
import signal
import socket
import webbrowser
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from typing import TYPE_CHECKING

from marram.core.errors import DataError
from marram.desk.pages.case_address import Address
from marram.desk.pages.chapter_list import chapters
from marram.desk.rulings.ruling_process import DeskAsked, RulingProcesses

if TYPE_CHECKING:
    import uvicorn

    from marram.desk.server.guard import Door

LOOPBACK, CLOSED = "127.0.0.1", "The desk is closed; what was stated stands in the addresses of its pages."


def start_desk(asked: DeskAsked, *, port: int, course: str, opens: bool, tell: Callable[[str], None]) -> None:
    """Run the desk until it is stopped.

    Args:
        asked: What desk is asked for.
        port: The port; 0 for any that is free.
        course: Name of the course that is shown first; empty for the first of the folder.
        opens: Whether a browser is opened.
        tell: Tells the address, and in the end that the desk is closed.

    Raises:
        DataError: The folder, a book or the course cannot be used, or the port is taken.
    """
    processes = RulingProcesses(asked, frozenset(job for chapter in chapters() for job in chapter.takes_long))
    try:
        with ThreadPoolExecutor(1) as beside, ExitStack() as ends:
            opened = beside.submit(processes.open, course)
            listening, door, server = _made_server(processes, port)  # while the first process opens the desk
            ends.enter_context(listening)
            opened.result()
            ends.pop_all()
        address = door.address + Address(values={"course": (course,)} if course else {}).link("").replace("?", "&")
        tell(f"The desk is open: {address}")
        if opens:
            webbrowser.open(address)
        # The server hands a signal on when it has closed: either one ends the desk.
        signal.signal(signal.SIGTERM, signal.default_int_handler)
        server.run(sockets=[listening])
    except KeyboardInterrupt:
        tell(CLOSED)
    finally:
        processes.close()


def _made_server(processes: RulingProcesses, port: int) -> tuple[socket.socket, Door, uvicorn.Server]:
    import uvicorn  # loaded here, since it takes as long as the processes take to begin

    from marram.desk.server.desk_app import make_app
    from marram.desk.server.guard import Door
    from marram.desk.static.style_sheet import style_sheet

    listening = _listen(port)
    door = Door(port=listening.getsockname()[1])
    logging.basicConfig(level=logging.WARNING, format="marram desk: %(message)s")
    app = make_app(processes, door)
    style_sheet()  # the first page asks for it
    return listening, door, uvicorn.Server(uvicorn.Config(app, log_level="warning", access_log=False, server_header=False, ws="auto"))


def _listen(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((LOOPBACK, port))
        listening.listen()  # a browser that comes before the server runs waits instead of being refused
    except (OSError, OverflowError) as problem:
        listening.close()
        raise DataError(
            f"Port {port} cannot be used: {problem}.", where="port", hint="Give another one, or 0 for any that is free."
        ) from None
    return listening
