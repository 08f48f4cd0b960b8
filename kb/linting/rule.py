"""What a rule is: the name of a fault, and a search for it in knowledge that loads."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

from kb.knowledge import Knowledge
from kb.problems import Problem
from kb.shelf import Shelf

Search: TypeAlias = Callable[[Shelf, Knowledge], Iterator[Problem]]


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule is named after the fault it finds; its module's docstring shows what passes and what fails."""

    name: str
    search: Search
