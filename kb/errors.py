"""Errors, sorted by who can mend them; a bug is none of these and stays a plain exception."""

from typing import Literal

from kb.problems import Problem

Refusal = Literal["not_found", "forbidden", "conflict", "too_long", "too_large", "too_many", "invalid"]
"""Why a request is turned down; a channel makes its own status of it."""


class HelplineError(Exception):
    """Something that a person can mend: `what` is wrong in one line, how to `mend` it in another.

    >>> print(HelplineError("no case `k7`", mend="list the cases with `helpline desk list`"))
    no case `k7`
    mend: list the cases with `helpline desk list`
    """

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(what)
        self.what = what
        self.mend = mend

    def __str__(self) -> str:
        return f"{self.what}\nmend: {self.mend}"


class KnowledgeError(HelplineError):
    """The author can mend it: carries every problem found in one run, each with its place."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        places = len({problem.path for problem in problems})
        super().__init__(
            f"the knowledge has {_count(len(problems), 'problem')} in {_count(places, 'file')}",
            mend="mend the places above; `helpline kb check` lists them again",
        )
        self.problems = problems

    def __str__(self) -> str:
        return "\n\n".join((*map(str, self.problems), super().__str__()))


class RequestError(HelplineError):
    """The caller can mend it: an unknown case, a bad token, a text too long; `kind` says which sort of no it is."""

    def __init__(
        self, what: str, mend: str, kind: Refusal = "invalid", again_in_s: int | None = None
    ) -> None:
        super().__init__(what, mend)
        self.kind: Refusal = kind
        self.again_in_s = again_in_s


class SettingsError(HelplineError):
    """The operator can mend it: a setting missing, a database that needs its upgrade."""


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
