"""Every id in the knowledge leads somewhere: each reference, what it is for, and what is near where it leads nowhere."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from pydantic import BaseModel

from kb.files import Kind
from kb.ids import StateId
from kb.schema import Cause, Check, Finding, Fix, Hazard, Quality, Said, Symptom
from kb.written import Location

Nodes: TypeAlias = Mapping[Kind, Mapping[str, BaseModel]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """One id written at one place. With `state`, the id is a finding and the state must be one of its own."""

    at: Location
    kind: Kind
    id: str
    why: str
    """What goes wrong when the id leads nowhere."""
    state: StateId | None = None
    state_at: Location = ()
    is_key: bool = False
    """True where `at` (or `state_at`, with a state) is a key of a mapping and not a value."""


UNHEARD = "nobody could ever say this"
UNFOUND = "no answer could ever speak of it, so it could change nothing"
UNEXPLAINED = "it would explain nothing"
UNGAINED = "no answer can ever give this state, so it could change nothing"


def references(kind: Kind, node: BaseModel, nodes: Nodes) -> Iterator[Reference]:
    """All references that a node makes, in the order of the schema."""
    match node:
        case Finding():
            yield from _of_finding(node)
        case Check():
            yield from _of_check(node)
        case Cause():
            yield from _of_cause(node)
        case Fix():
            yield from _of_fix(node, nodes)
        case Symptom():
            yield from _states(("same_as",), ((f, (s,)) for f, s in node.same_as.items()), listed=False)
            yield from _said(node.says)
        case Hazard():
            yield from _of_hazard(node)
        case Quality():
            yield from _ids(
                ("opposite",),
                "quality",
                () if node.opposite is None else (node.opposite,),
                "a plain not would mean nothing",
                single=True,
            )
        case _:
            return


def _of_finding(finding: Finding) -> Iterator[Reference]:
    yield from _ids(("things",), "thing", finding.things, UNHEARD)
    for state, wordings in finding.states.items():
        yield from _ids(("states", state, "is"), "quality", wordings.is_, UNHEARD)
    if finding.sum is not None:
        yield from _ids(("sum", "of"), "quantity", finding.sum.of, "the sum would lack its number")
        yield from _ids(("sum", "also"), "quantity", finding.sum.also, "the sum could never take it")
        yield from _ids(("sum", "facts"), "finding", finding.sum.facts, "the sum could never take it")
    yield from _states(("implies",), ((f, (s,)) for f, s in finding.implies.items()), listed=False)


def _of_check(check: Check) -> Iterator[Reference]:
    yield from _ids(
        ("finds",), "finding", (check.finds,), "the answer would be an answer to nothing", single=True
    )
    if check.measures is not None:
        yield from _ids(
            ("measures",), "quantity", (check.measures,), "the number could not be read", single=True
        )
    if check.number_tells is not None:
        yield from _ids(
            ("number_tells",), "quantity", (check.number_tells,), "the number would be lost", single=True
        )
    for index, state in enumerate(check.offers):
        yield Reference(
            at=("finds",),
            kind="finding",
            id=check.finds,
            why=UNGAINED,
            state=state,
            state_at=("offers", index),
        )
    yield from _states(("only_if",), check.only_if.items())
    yield from _states(("unless",), check.unless.items())


def _of_cause(cause: Cause) -> Iterator[Reference]:
    yield from _keys(("complaints",), "symptom", cause.complaints, UNFOUND)
    yield from _states(("shows",), cause.shows.items(), keys=True)
    yield from _ids(("fixes",), "fix", cause.fixes, "the cause would be found and not mended")
    yield from _ids(("hides",), "cause", cause.hides, "there would be nothing to hide")
    for index, example in enumerate(cause.examples):
        top: Location = ("examples", index)
        yield from _states((*top, "said"), ((f, (s,)) for f, s in example.said.items()), listed=False)
        yield from _ids(
            (*top, "complaint"),
            "symptom",
            () if example.complaint is None else (example.complaint,),
            UNFOUND,
            single=True,
        )
        yield from _ids(
            (*top, "fix"),
            "fix",
            () if example.fix is None else (example.fix,),
            "the example could never pass",
            single=True,
        )
        yield from _ids((*top, "ask"), "check", example.ask, "the example could never pass")


def _of_fix(fix: Fix, nodes: Nodes) -> Iterator[Reference]:
    yield from _keys(("works_for",), "cause", fix.works_for, "the chance would be the chance of nothing")
    yield from _ids(("touches",), "finding", fix.touches, "there would be nothing to look at again")
    yield from _states(("unless",), fix.unless.items())
    if fix.verify.ask is None:
        return
    yield from _ids(
        ("verify", "ask"), "check", (fix.verify.ask,), "nobody would learn whether it held", single=True
    )
    check = nodes["check"].get(fix.verify.ask)
    if isinstance(check, Check):
        for index, state in enumerate(fix.verify.expect):
            at: Location = ("verify", "expect", index)
            yield Reference(at=at, kind="finding", id=check.finds, why=UNGAINED, state=state, state_at=at)


def _of_hazard(hazard: Hazard) -> Iterator[Reference]:
    becomes = () if hazard.becomes is None else (hazard.becomes,)
    yield from _said(hazard.says)
    yield from _ids(("becomes",), "hazard", becomes, "a worse sign would lead nowhere", single=True)
    yield from _ids(("covers",), "hazard", hazard.covers, "nothing would give way to it")
    yield from _ids(("unless",), "word_group", hazard.unless, UNEXPLAINED)
    at = "unless_ours_is_named"
    yield from _ids((at,), "word_group", hazard.unless_ours_is_named, UNEXPLAINED)
    for index, told in enumerate(hazard.told):
        yield from _ids(("told", index, "all"), "word_group", told.all_, UNHEARD)
        before = () if told.after is None else (told.after,)
        yield from _ids(("told", index, "after"), "hazard", before, UNHEARD, single=True)
        yield from _ids(("told", index, "unless"), "word_group", told.unless, UNEXPLAINED)


def _said(says: Iterable[Said]) -> Iterator[Reference]:
    for index, said in enumerate(says):
        yield from _ids(("says", index, "things"), "thing", said.things, UNHEARD)
        yield from _ids(("says", index, "is"), "quality", said.is_, UNHEARD)


def _ids(
    at: Location, kind: Kind, ids: Iterable[str], why: str, *, single: bool = False
) -> Iterator[Reference]:
    for index, id_ in enumerate(ids):
        yield Reference(at=at if single else (*at, index), kind=kind, id=id_, why=why)


def _keys(at: Location, kind: Kind, ids: Iterable[str], why: str) -> Iterator[Reference]:
    for id_ in ids:
        yield Reference(at=(*at, id_), kind=kind, id=id_, why=why, is_key=True)


def _states(
    at: Location, pairs: Iterable[tuple[str, Iterable[StateId]]], *, keys: bool = False, listed: bool = True
) -> Iterator[Reference]:
    """Findings with states: `{finding: {state: …}}` with `keys`, else `{finding: [state, …]}` or `{finding: state}`."""
    for finding, states in pairs:
        yield Reference(at=(*at, finding), kind="finding", id=finding, why=UNFOUND, is_key=True)
        for index, state in enumerate(states):
            below: Location = (state,) if keys else (index,) if listed else ()
            yield Reference(
                at=(*at, finding),
                kind="finding",
                id=finding,
                why=UNGAINED,
                state=state,
                state_at=(*at, finding, *below),
                is_key=keys,
            )
