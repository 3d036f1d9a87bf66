"""What a page of the book may load and run, in one place for every server and for the pages themselves."""

from __future__ import annotations

_ANYWHERE = (
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data:",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'self'",
)

IN_THE_PAGE = "; ".join(_ANYWHERE)
"""In every page's head, so that it holds on the plainest of servers too."""

IN_A_PAGE_OF_THE_BAY = f"{IN_THE_PAGE}; require-trusted-types-for 'script'; trusted-types rangebook"
"""The same where no script of the theme's runs: text becomes markup or an address of a script in one place alone, which is
``client/shared/trusted.js``. Source: W3C, Trusted Types (from memory)."""

CONTENT_SECURITY_POLICY = f"{IN_THE_PAGE}; frame-ancestors 'none'"
"""As a header: nothing from another host, nothing that stands in a page itself is run, and no other page shows this one in a frame,
which only a header can say. Source: W3C, Content Security Policy Level 3 (from memory)."""

HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
}
"""What every answer carries."""
