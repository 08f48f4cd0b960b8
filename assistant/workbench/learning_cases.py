"""From closed cases to proposals, and from proposals to an edit of the files that an author reviews.

In: logs (they hold no words), the shelf of the knowledge. Out: `Proposed` edits, each with its reason in numbers.
Never: a change by itself.
"""

import difflib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from math import log
from typing import Final

import numpy as np

from assistant.conversation import Case, apply, new_case
from assistant.conversation.events import Event, FactLearned, FixOffered
from assistant.conversation.moving import move, moved
from assistant.reasoning import ClosedCase, Proposal
from assistant.reasoning.evidence import VOLUNTEERED, channel
from kb.editing import Edit, edited, word_at
from kb.ids import CauseId, FindingId, StateId
from kb.knowledge import Knowledge
from kb.likelihood import HOW_COMMON
from kb.schema import Cause, HowCommon
from kb.shelf import Shelf

LOOKED_AT: Final = frozenset({"answer", "said", "colleague"})
"""What somebody saw; what we worked out, brought along or inferred teaches nothing new."""
CAME_RIGHT: Final = 0.5
"""From here on the numbers say that a fix worked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposed:
    """One value that cases speak against, in words, with the edit that would change it."""

    path: str
    reason: str
    edit: Edit | None
    """None: nothing in the file says it; an author decides where to write it."""


def closed_case(knowledge: Knowledge, events: Sequence[Event]) -> ClosedCase | None:
    """What a closed case teaches, in today's ids; None where its cause is not known or is no longer there."""
    case = reduce(apply, events, new_case())
    if case.closed is None or case.opened is None:
        return None
    cause, sure = _ended_by(case, events)
    now = None if cause is None else knowledge.trail.now("cause", cause)
    if now not in knowledge.causes:
        return None
    here = moved(case, move(knowledge, case, case.closed.at))
    return ClosedCase(causes=(CauseId(str(now)),), sure=sure, seen=dict(_seen(knowledge, here.facts)))


def _ended_by(case: Case, events: Sequence[Event]) -> tuple[CauseId | None, float]:
    """The cause, and how sure it is: a colleague's word, or the belief with which the fix that worked was offered."""
    if case.closed is not None and case.closed.reason == "by_colleague":
        return (None, 0.0) if case.closed.held is False else (case.closed.cause, 1.0)
    if case.closed is None or case.closed.reason != "held" or not case.fixes:
        return None, 0.0
    offered = [event for event in events if isinstance(event, FixOffered)]
    last = case.fixes[-1]
    if not offered or last.worked is None or last.worked <= CAME_RIGHT:
        return None, 0.0
    return last.cause, offered[-1].probability


def _seen(
    knowledge: Knowledge, facts: Iterable[FactLearned]
) -> Iterator[tuple[FindingId, Mapping[StateId, float]]]:
    """P(true state | what was told), of what was looked at before the first fix: p(told) through the check's reliability."""
    for fact in facts:
        node = knowledge.findings.get(fact.finding)
        if node is None or fact.epoch > 0 or fact.source not in LOOKED_AT:
            continue
        check = knowledge.checks.get(fact.check) if fact.check is not None else None
        states = tuple(node.states)
        told = np.array([dict(fact.likelihood).get(state, 0.0) for state in states])
        true = channel(len(states), VOLUNTEERED if check is None else check.people_are_right) @ told
        if true.sum() > 0.0:
            yield fact.finding, {state: float(p) for state, p in zip(states, true / true.sum(), strict=True)}


def proposed(shelf: Shelf, proposals: Sequence[Proposal]) -> tuple[Proposed, ...]:
    """Each proposal as an edit of its cause's file."""
    found = []
    for one in proposals:
        node = shelf.nodes["cause"][one.cause]
        assert isinstance(node, Cause)  # noqa: S101 - proposals are about causes
        page = shelf.origins["cause", one.cause].page
        make = _strength if one.finding is not None else _how_common
        found.append(make(page.file.shown, page.text, node, one))
    return tuple(found)


def _strength(path: str, text: str, cause: Cause, one: Proposal) -> Proposed:
    finding, state = FindingId(str(one.finding)), StateId(str(one.state))
    written = cause.shows.get(finding, {}).get(state)
    new = one.word if one.word != written else f"{one.learnt.mean:.2f}"
    edit = None if written is None else word_at(text, ("shows", finding, state), str(new), is_key=False)
    said = "is not written" if written is None else f"is written `{written}`"
    reason = (
        f"{cause.cause}: `{finding}: {state}` {said} ({one.written:.2f}); of {one.cases:.1f} closed cases "
        f"{one.count:.1f} had it, so {_interval(one)}: `{new}`"
    )
    return Proposed(path=path, reason=reason, edit=edit)


def _how_common(path: str, text: str, cause: Cause, one: Proposal) -> Proposed:
    """The word whose weight is nearest to the old weight, times what was learnt over what was written."""
    weight = HOW_COMMON[cause.how_common] * one.learnt.mean / one.written
    new: HowCommon = min(HOW_COMMON, key=lambda word: (round(abs(log(HOW_COMMON[word] / weight)), 9), word))
    edit = None if new == cause.how_common else word_at(text, ("how_common",), new, is_key=False)
    reason = (
        f"{cause.cause}: `how_common` is written `{cause.how_common}` ({one.written:.3f} of all); of {one.cases:.1f} closed "
        f"cases {one.count:.1f} were it, so {_interval(one)}: "
        + (f"`{new}`" if edit is not None else "no other word is nearer")
    )
    return Proposed(path=path, reason=reason, edit=edit)


def _interval(one: Proposal) -> str:
    return f"{one.learnt.mean:.2f} [{one.learnt.low:.2f} {one.learnt.high:.2f}]"


def as_diff(shelf: Shelf, proposals: Sequence[Proposed]) -> str:
    """The edits as one unified diff, which `git apply` takes; the reasons stand before each file's part, as remarks."""
    by_path: dict[str, list[Proposed]] = {}
    for one in proposals:
        by_path.setdefault(one.path, []).append(one)
    texts = {origin.page.file.shown: origin.page.text for origin in shelf.origins.values()}
    parts: list[str] = []
    for path, some in by_path.items():
        parts += [f"# {one.reason}\n" for one in some]
        after = edited(texts[path], [one.edit for one in some if one.edit is not None])
        lines = texts[path].splitlines(keepends=True), after.splitlines(keepends=True)
        parts += difflib.unified_diff(*lines, f"a/{path}", f"b/{path}")
    return "".join(parts)
