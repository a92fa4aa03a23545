"""A page that allows itself nothing but its own style sheet: no script, no address, no style on an element."""

from __future__ import annotations

import base64
import hashlib
import re

_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)
_CHARSET = '<meta charset="utf-8">'


def seal_page(html: str) -> str:
    """State in a page what it may load: what its style sheets hold, word for word, and nothing else.

    Args:
        html: A page with everything in one file.

    Returns:
        The page with its policy, which stands before anything that it governs.

    Source: Content Security Policy Level 3 (W3C working draft), sections 3.3 (policy in a meta element) and 2.3.1 (hash sources).
    """
    digests = (base64.b64encode(hashlib.sha256(sheet.encode()).digest()).decode() for sheet in _STYLE.findall(html))
    allowed = " ".join(f"'sha256-{digest}'" for digest in digests) or "'none'"
    policy = f"default-src 'none'; style-src {allowed}; base-uri 'none'; form-action 'none'"
    meta = f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
    return html.replace(_CHARSET, f"{_CHARSET}\n{meta}", 1)
