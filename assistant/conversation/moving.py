"""A case and a new edition: what it holds under old ids is found again, and what is nowhere counts no more.

The ids in a case are found from the types of its parts, so that no new part can be forgotten. What leads where is
worked out once, here, and stands in the event; folding the event only carries it out.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from datetime import datetime
from types import MappingProxyType
from typing import Any, Final, NewType, TypeVar, get_args, get_origin, get_type_hints

from assistant.conversation.edition_events import EditionMoved
from assistant.conversation.events import CaseOpened
from kb import ids
from kb.files import Kind
from kb.knowledge import Knowledge
from kb.mentions import KIND_OF_ID

STATE: Final = "state"
GONE: Final = object()
"""Nothing takes its place."""
NOT_RENAMED: Final = frozenset({"splits"})
"""The reasons for a question, in the words of the edition that asked: worked out anew when somebody asks why."""

T = TypeVar("T")
Lookup = Callable[[str, str], str | None]
"""(kind, id) → what it is called now, None where it is gone; of a state the id is `finding.state`."""


def edition_in(log: Iterable[tuple[int, object]]) -> str | None:
    """The edition that a log of numbered events goes by at its end."""
    told = [event for _, event in log if isinstance(event, CaseOpened | EditionMoved)]
    return told[-1].edition if told else None


def move(knowledge: Knowledge, case: object, at: datetime) -> EditionMoved:
    """What has to be known to go on with `case` under this knowledge."""
    found = _Found(knowledge)
    _walk(type(case), case, found.now, None)
    return EditionMoved(
        at=at,
        edition=knowledge.edition,
        renamed=tuple(sorted((kind, old, new) for (kind, old), new in found.renamed.items())),
        gone=tuple(sorted(found.gone)),
    )


def moved(case: T, event: EditionMoved) -> T:
    """The case with everything in it called as the event says, and without what is gone."""
    renamed = {(kind, old): new for kind, old, new in event.renamed}
    gone = set(event.gone)

    def now(kind: str, id_: str) -> str | None:
        if (kind, id_) in gone:
            return None
        return renamed.get((kind, id_), id_.partition(".")[2] if kind == STATE else id_)

    after = _walk(type(case), case, now, None)
    return case if after is GONE else after


@dataclass(slots=True)
class _Found:
    """Looks ids up in the new edition, and remembers which were not what they had been."""

    knowledge: Knowledge
    renamed: dict[tuple[str, str], str] = field(default_factory=dict)
    gone: set[tuple[str, str]] = field(default_factory=set)

    def now(self, kind: str, id_: str) -> str | None:
        there = self._state(id_) if kind == STATE else self._node(kind, id_)
        if there is None:
            self.gone.add((kind, id_))
        elif there != (id_.partition(".")[2] if kind == STATE else id_):
            self.renamed[kind, id_] = there
        return there

    def _node(self, kind: str, id_: str) -> str | None:
        of_kind = shelves(self.knowledge).get(kind, {})
        if id_ in of_kind:
            return id_
        left = next((one for one in self.knowledge.trail.kinds if one == kind), None)
        now = None if left is None else self.knowledge.trail.now(left, id_)
        return now if now in of_kind else None

    def _state(self, name: str) -> str | None:
        finding, _, state = name.partition(".")
        node = self.knowledge.findings.get(ids.FindingId(finding))
        if node is None or state in node.states:
            return None if node is None else state
        now = self.knowledge.trail.state_now(finding, state)
        return now if now in node.states else None


def shelves(knowledge: Knowledge) -> Mapping[str, Mapping[str, object]]:
    """What there is, by kind and id."""
    of: dict[Kind, Any] = {  # mappings whose keys are ids of their own kinds: all of them are words
        "symptom": knowledge.symptoms,
        "finding": knowledge.findings,
        "check": knowledge.checks,
        "cause": knowledge.causes,
        "fix": knowledge.fixes,
        "hazard": knowledge.hazards,
        "thing": knowledge.things,
        "quality": knowledge.qualities,
        "quantity": knowledge.quantities,
        "product": knowledge.products,
        "word_group": knowledge.word_groups,
    }
    return MappingProxyType({str(kind): nodes for kind, nodes in of.items()})


def _walk(
    annotation: Any, value: Any, now: Lookup, about: str | None
) -> Any:  # type expressions and what fits them
    """The value as it is called now; `about` is the finding whose states stand in it."""
    if value is None:
        return None
    if isinstance(annotation, NewType):
        return _one(annotation, value, now, about)
    if is_dataclass(value) and not isinstance(value, type):
        return _parts(value, now)
    if isinstance(value, tuple):
        return _items(annotation, value, now, about)
    for branch in get_args(annotation):
        if isinstance(branch, NewType):  # of `CheckId | None`: what is gone is then not known
            there = _one(branch, value, now, about)
            return None if there is GONE else there
    return value


def _one(type_: NewType, value: str, now: Lookup, about: str | None) -> object:
    if type_ is ids.StateId:
        there = value if about is None else now(STATE, f"{about}.{value}")
    else:
        kind = KIND_OF_ID.get(type_)
        there = value if kind is None else now(kind, value)
    return GONE if there is None else there


def _items(annotation: Any, value: tuple[Any, ...], now: Lookup, about: str | None) -> Any:  # as in `_walk`
    inside = next((branch for branch in _tuples(annotation)), ())
    if len(inside) == 2 and inside[1] is Ellipsis:  # noqa: PLR2004 - `tuple[X, ...]`
        walked = (_walk(inside[0], item, now, about) for item in value)
        return tuple(item for item in walked if item is not GONE)
    pairs = tuple(_walk(part, item, now, about) for part, item in zip(inside, value, strict=False))
    return GONE if any(part is GONE for part in pairs) else (pairs or value)


def _tuples(annotation: Any) -> list[tuple[Any, ...]]:  # type expressions
    if get_origin(annotation) is tuple:
        return [get_args(annotation)]
    return [found for part in get_args(annotation) for found in _tuples(part)]


def _parts(value: Any, now: Lookup) -> Any:  # a dataclass in, the same out, or GONE
    hints = get_type_hints(type(value))
    changes: dict[str, object] = {}
    finding = getattr(value, "finding", None)
    about = now("finding", finding) if isinstance(finding, str) else None
    for part in fields(value):
        before = getattr(value, part.name)
        if part.name in NOT_RENAMED:
            after: object = ()
        elif part.name == "hazards_met":
            after = tuple(there for met in before if (there := now("hazard", met)) is not None)
        else:
            after = _walk(hints[part.name], before, now, about)
        if after is GONE:
            return GONE
        if part.name == "waiting_for" and before is not None and _lost(before, after):
            after = None
        if after != before:
            changes[part.name] = after
    return replace(value, **changes) if changes else value


def _lost(before: Any, after: Any) -> bool:  # what is waited for, before and after
    """Something that the open question was about is gone: the next message is read without it."""
    return after is GONE or any(
        getattr(before, part.name) is not None and getattr(after, part.name) is None
        for part in fields(before)
    )
