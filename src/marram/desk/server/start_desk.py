"""Start the desk: on loopback alone, its address told once with the start token."""

from __future__ import annotations

import logging
import signal
import socket
import webbrowser
from collections.abc import Callable

import uvicorn

from marram.core.errors import DataError
from marram.desk.pages.case_address import Address
from marram.desk.pages.chapter_list import chapters
from marram.desk.rulings.ruling_process import DeskAsked, RulingProcesses, open_desk
from marram.desk.server.desk_app import make_app
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
    from marram.office.at_desk.stated_case import open_ground

    desk = open_desk(asked)
    if course:
        open_ground(desk.room, desk.folder, course)
    listening = _listen(port)
    door = Door(port=listening.getsockname()[1])
    address = door.address + Address(values={"course": (course,)} if course else {}).link("").replace("?", "&")
    logging.basicConfig(level=logging.WARNING, format="marram desk: %(message)s")
    processes = RulingProcesses(asked, frozenset(job for chapter in chapters() for job in chapter.takes_long))
    server = uvicorn.Server(
        uvicorn.Config(make_app(processes, door), log_level="warning", access_log=False, server_header=False, ws="auto")
    )
    tell(f"The desk is open: {address}")
    if opens:
        webbrowser.open(address)
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # the server hands a signal on when it has closed: either one ends the desk
    try:
        server.run(sockets=[listening])
    except KeyboardInterrupt:
        tell(CLOSED)
    finally:
        processes.close()


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
