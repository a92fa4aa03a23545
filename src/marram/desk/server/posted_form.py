"""A posted form as it comes over the wire: fields and files, no more of either than a page of ours sends."""

from __future__ import annotations

from starlette.datastructures import UploadFile
from starlette.requests import Request

from marram.desk.pages.posted import Posted, PostedFile

_MOST_FILES, _MOST_FIELDS = 8, 2000
_LARGEST_FIELD_BYTES = 512 * 1024


async def read_posted(request: Request) -> Posted:
    """Read a form.

    Args:
        request: The request; its size is held to account by the guard.

    Raises:
        HTTPException: It is damaged, or holds more fields or files than any of ours (400).
    """
    async with request.form(max_files=_MOST_FILES, max_fields=_MOST_FIELDS, max_part_size=_LARGEST_FIELD_BYTES) as form:
        fields, files = [], []
        for name, value in form.multi_items():
            if isinstance(value, UploadFile):
                files.append(PostedFile(field=name, name=value.filename or "", data=await value.read()))
            else:
                fields.append((name, value))
    return Posted(fields=tuple(fields), files=tuple(files))
