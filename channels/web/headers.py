"""What every response carries: a strict content policy, no sniffing, no framing, and nothing of a case in a cache."""

from typing import Final

from flask import Flask, Response, request

POLICY: Final = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
        "require-trusted-types-for 'script'",
    )
)
"""No inline script or style anywhere; the element builds its lines node by node and loads its own style sheet."""
ALWAYS: Final = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}
EMBEDDED: Final = ("/widget.js", "/widget.css")
"""What other sites may load into their own pages."""
A_YEAR_S: Final = 31_536_000


def add_headers(app: Flask, allowed_origins: tuple[str, ...]) -> None:
    """Put the headers on every response; `allowed_origins` may call the API from their own pages."""

    @app.after_request
    def headers(response: Response) -> Response:
        for name, value in ALWAYS.items():
            response.headers.setdefault(name, value)
        embedded = request.path in EMBEDDED
        response.headers.setdefault(
            "Cross-Origin-Resource-Policy", "cross-origin" if embedded else "same-origin"
        )
        if not embedded and not request.path.endswith((".css", ".svg")):
            response.headers.setdefault("Cache-Control", "no-store")
        if request.is_secure:
            response.headers.setdefault("Strict-Transport-Security", f"max-age={A_YEAR_S}; includeSubDomains")
        if request.path.startswith("/api/"):
            _share(response, allowed_origins)
        return response


def _share(response: Response, allowed_origins: tuple[str, ...]) -> None:
    if not allowed_origins:
        return
    response.headers.add("Vary", "Origin")
    origin = request.headers.get("Origin")
    if origin is None or origin not in allowed_origins:
        return
    response.headers["Access-Control-Allow-Origin"] = origin
    response.headers["Access-Control-Expose-Headers"] = "ETag, Retry-After"
    response.headers["Cross-Origin-Resource-Policy"] = "cross-origin"
    if request.method == "OPTIONS":
        response.headers["Access-Control-Allow-Methods"] = "GET, POST"
        response.headers["Access-Control-Allow-Headers"] = "Authorization, Content-Type, If-None-Match"
        response.headers["Access-Control-Max-Age"] = "600"
