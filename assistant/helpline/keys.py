"""Ids, tokens and digests, all from the server's key: the same request gives the same ones, and nobody can guess them."""

import base64
import hashlib
import hmac

ID_BYTES = 10
"""80 bits: enough that no two meet, short enough to read over the phone."""


def derived(key: bytes, *parts: str) -> bytes:
    """HMAC-SHA-256 over the parts, each with its length, so that no two lists of parts look alike."""
    whole = b"".join(len(part.encode()).to_bytes(8, "big") + part.encode() for part in parts)
    return hmac.new(key, whole, hashlib.sha256).digest()


def id_from(key: bytes, *parts: str) -> str:
    """A short id.

    >>> id_from(b"k", "case", "web", "1") == id_from(b"k", "case", "web", "1") != id_from(b"k", "case", "we", "b1")
    True
    """
    return base64.b32encode(derived(key, *parts)[:ID_BYTES]).decode().lower()


def digest(key: bytes, *parts: str) -> str:
    """A digest that says nothing of what went in without the key."""
    return derived(key, *parts).hex()


def token_for(key: bytes, case: str) -> str:
    """The token that opens a case to its customer."""
    return base64.urlsafe_b64encode(derived(key, "token", case)).decode().rstrip("=")


def token_hash(token: str) -> str:
    """What is kept of a token: it opens nothing."""
    return hashlib.sha256(token.encode()).hexdigest()


def fits(token: str, kept_hash: str) -> bool:
    """The token is the one whose hash was kept; compared in constant time."""
    return hmac.compare_digest(token_hash(token), kept_hash)
