"""Who is signed in, and whether a form came from a page of ours."""

import hmac
from dataclasses import dataclass
from hashlib import sha256
from typing import Final

from flask import g, redirect, request, url_for
from werkzeug.exceptions import Forbidden
from werkzeug.wrappers import Response

from assistant.casebook.staff import SignedIn
from assistant.helpline import CaseClock, Door

COOKIE: Final = "cold_room_desk"


@dataclass(frozen=True, slots=True)
class Guard:
    """Stands before every page of the desk."""

    door: Door
    clock: CaseClock

    def check(self) -> Response | None:
        """Let somebody signed in on; send others to the sign-in. A form without our mark is turned away."""
        g.colleague = self.door.who(session_key(), self.clock.now()) if session_key() else None
        if request.endpoint in ("desk.sign_in", "desk.asset"):
            return None
        if g.colleague is None:
            return redirect(
                url_for("desk.sign_in", to=request.path if request.method == "GET" else None), 303
            )
        if request.method == "POST" and not hmac.compare_digest(mark(), request.form.get("mark", "")):
            raise Forbidden("This form is old. Go back, load the page again and send it once more.")
        return None


def colleague() -> SignedIn:
    """Who is signed in."""
    found = g.colleague
    assert isinstance(found, SignedIn)  # noqa: S101 - the guard stood before
    return found


def mark() -> str:
    """What a form of this session carries: worked out from the session's key, so that no other site can know it."""
    return hmac.new(session_key().encode(), b"a form of ours", sha256).hexdigest()


def set_key(response: Response, key: str) -> None:
    """Give the browser the session's key."""
    response.set_cookie(COOKIE, key, path="/desk", httponly=True, samesite="Strict", secure=request.is_secure)


def drop_key(response: Response) -> None:
    """Take it back."""
    response.delete_cookie(COOKIE, path="/desk")


def session_key() -> str:
    """The key of this session; empty without one."""
    return request.cookies.get(COOKIE, "")
