"""One fault in the knowledge, and how it is told: place, what, why, mend."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

from rapidfuzz import fuzz, process

Severity = Literal["error", "warning"]

NEAR_ENOUGH: Final = 70.0
"""The least likeness, of 100, at which a word is proposed in place of another (tried on our own slips)."""
WIDEST_EXCERPT: Final = 120
"""Columns of a line shown above the carets; a longer line is cut around its fault."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where something stands: line and column count from 1; both None where the whole file is meant."""

    path: str
    line: int | None = None
    column: int | None = None
    length: int = 1
    excerpt: str = ""
    """The line itself, for the carets."""

    def __str__(self) -> str:
        return self.path if self.line is None else f"{self.path}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One fault. `what` only says what is wrong; only `mend` advises; `rule` is named after the fault.

    >>> print(Problem(place=Place(path="a.yaml", line=8, column=3, length=5, excerpt="  mated: often"),
    ...               what="no state `mated`", why="no answer gives it", mend="write `matted`", rule="unknown-state"))
    a.yaml:8:3: error: no state `mated` [unknown-state]
       8 |   mated: often
         |   ^^^^^
      why:  no answer gives it
      mend: write `matted`
    """

    place: Place
    what: str
    why: str
    mend: str
    rule: str
    severity: Severity = "error"

    @property
    def path(self) -> str:
        """The file, as the author knows it."""
        return self.place.path

    @property
    def line(self) -> int | None:
        """Counted from 1; None where the whole file is meant."""
        return self.place.line

    @property
    def column(self) -> int | None:
        """Counted from 1; None where the whole file is meant."""
        return self.place.column

    def __str__(self) -> str:
        first = f"{self.place}: {self.severity}: {self.what} [{self.rule}]"
        return "\n".join((first, *_excerpt(self.place), f"  why:  {self.why}", f"  mend: {self.mend}"))

    def as_row(self) -> dict[str, str | int | None]:
        """The problem for a program: what `helpline kb check --json` prints."""
        return {
            "path": self.path,
            "line": self.line,
            "column": self.column,
            "length": None if self.line is None else self.place.length,
            "severity": self.severity,
            "rule": self.rule,
            "what": self.what,
            "why": self.why,
            "mend": self.mend,
        }


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Sorted by place, then rule and words; one fault told twice is kept once."""
    return tuple(sorted(set(problems), key=_order))


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like `word`, or None where none is near; ties go to the first in the alphabet.

    >>> nearest("mated", ["clean", "dusty", "matted"]), nearest("zzz", ["clean"])
    ('matted', None)
    """
    best = process.extractOne(word, sorted(known), scorer=fuzz.ratio, score_cutoff=NEAR_ENOUGH)
    return None if best is None else str(best[0])


def listed(words: Iterable[str], at_most: int = 12) -> str:
    """Words as the end of a sentence, cut where there are too many to read.

    >>> listed(["a", "b", "c"], at_most=2)
    'a, b, …'
    """
    shown = list(words)
    return ", ".join((*shown[:at_most], *(["…"] if len(shown) > at_most else [])))


def _order(problem: Problem) -> tuple[str, int, int, str, str]:
    return (problem.path, problem.line or 0, problem.column or 0, problem.rule, problem.what)


def _excerpt(place: Place) -> tuple[str, ...]:
    if place.line is None or place.column is None or not place.excerpt:
        return ()
    text, before = place.excerpt.replace("\t", " "), place.column - 1
    if len(text) > WIDEST_EXCERPT:
        start = max(0, before - WIDEST_EXCERPT // 2)
        text, before = text[start : start + WIDEST_EXCERPT], before - start
    carets = "^" * max(1, min(place.length, len(text) - before))
    return (f"{place.line:>4} | {text}", f"{'':>4} | {'':>{before}}{carets}")
