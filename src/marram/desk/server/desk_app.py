"""The application: each address passes what it is asked on to the processes that rule, and sends back what they give."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from functools import partial
from urllib.parse import parse_qsl, quote, urlencode

from fastapi import FastAPI, Request, WebSocket
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import RedirectResponse, Response

from marram import __version__
from marram.answers.error_answer import usage_answer
from marram.answers.shape import json_text
from marram.desk.pages.chapter_list import chapters
from marram.desk.pages.page import JSON, Page
from marram.desk.rulings.ruling_process import RulingProcesses
from marram.desk.server.described import ADDRESSES, describe
from marram.desk.server.guard import TOKEN, Door, Guard
from marram.desk.server.moving_ball import follow_ball
from marram.desk.server.posted_form import read_posted
from marram.desk.static.style_sheet import static_files, style_sheet

PAGES = {"/": "home"} | {f"/{job}": job for job in ("ask", "ruling", "act", "thing", "drop", "search", "form", "stopped", "incident")}
"""Pages, and the job that makes each."""
_CANNOT_BE_READ = 400
_PATIENCE_S = 5.0
"""So long the other processes wait for the first page to be asked."""


def make_app(processes: RulingProcesses, door: Door) -> FastAPI:
    """Make the application.

    Args:
        processes: What makes pages and rulings.
        door: Who may come in.
    """

    @asynccontextmanager
    async def living(app: FastAPI) -> AsyncIterator[None]:
        warming = asyncio.create_task(processes.warm(_PATIENCE_S))
        yield
        warming.cancel()
        processes.close()

    app = FastAPI(title="Marram desk", version=__version__, docs_url=None, redoc_url=None, openapi_url=None, lifespan=living)
    for path, job in PAGES.items():
        app.add_api_route(path, _page_of(processes, job, door), methods=["GET"], include_in_schema=False)
    for chapter in chapters():
        for path, job in chapter.looks.items():
            app.add_api_route(path, _page_of(processes, job, door), methods=["GET"], include_in_schema=False)
        for path, job in chapter.does.items():
            app.add_api_route(path, _done_by(processes, job), methods=["POST"], include_in_schema=False)
    for asked in ADDRESSES:
        app.add_api_route(
            asked.path, _answer_of(processes, asked.job), methods=[asked.method], summary=asked.does, openapi_extra=asked.extra
        )
    app.add_api_route("/desk.css", _style, methods=["GET"], include_in_schema=False)
    app.add_api_route("/static/{name}", _static, methods=["GET"], include_in_schema=False)
    app.add_api_route("/api", partial(describe, app), methods=["GET"], include_in_schema=False)
    app.add_api_websocket_route("/moving", _socket(processes))
    app.add_exception_handler(HTTPException, _not_there)
    app.add_middleware(GZipMiddleware, minimum_size=4096)  # drawings are mostly figures; no page holds a secret that this could tell
    app.add_middleware(Guard, door=door, largest={path: size for chapter in chapters() for path, size in chapter.takes_files.items()})
    return app


def _page_of(processes: RulingProcesses, job: str, door: Door) -> Callable[[Request], Awaitable[Response]]:
    async def page(request: Request) -> Response:
        if TOKEN in request.query_params:
            return _let_in(request, door)
        return _sent(await processes.do(job, request.url.query))

    return page


def _let_in(request: Request, door: Door) -> Response:
    """Give the browser what it holds from now on, and send it to the address without the token."""
    rest = urlencode([pair for pair in parse_qsl(request.url.query) if pair[0] != TOKEN])
    answer = RedirectResponse(f"{request.url.path}?{rest}" if rest else request.url.path, status_code=303)
    answer.set_cookie(door.cookie, door.held, httponly=True, samesite="strict", path="/")
    return answer


def _done_by(processes: RulingProcesses, job: str) -> Callable[[Request], Awaitable[Response]]:
    async def done(request: Request) -> Response:
        return _sent(await processes.do_posted(job, await read_posted(request)))

    return done


def _answer_of(processes: RulingProcesses, job: str) -> Callable[[Request], Awaitable[Response]]:
    async def answer(request: Request) -> Response:
        body = (await request.body()).decode("utf-8", errors="replace")
        return _sent(await processes.do(job, body or request.url.query))

    return answer


def _socket(processes: RulingProcesses) -> Callable[[WebSocket], Awaitable[None]]:
    async def moving(socket: WebSocket) -> None:
        await follow_ball(socket, processes)

    return moving


def _sent(page: Page) -> Response:
    if page.goes_to:
        return RedirectResponse(page.goes_to, status_code=303)
    headers = {"content-disposition": f"attachment; filename*=UTF-8''{quote(page.saved_as)}"} if page.saved_as else None
    return Response(page.data or page.text, status_code=page.status, media_type=page.media, headers=headers)


async def _style() -> Response:
    return Response(style_sheet(), media_type="text/css")


async def _static(name: str) -> Response:
    found = static_files().get(name)
    if found is None:
        raise HTTPException(404)
    return Response(found[1], media_type=found[0])


async def _not_there(request: Request, problem: Exception) -> Response:
    status, detail = (problem.status_code, problem.detail) if isinstance(problem, HTTPException) else (500, "")
    said, hint = f"The request cannot be read: {detail}", "Go back and send the form again."
    if status != _CANNOT_BE_READ:
        said, hint = "There is nothing at this address.", "The desk begins at /."
    told = usage_answer(said, where="address", hint=hint)
    return Response(json_text(told) + "\n", status_code=status, media_type=JSON)
