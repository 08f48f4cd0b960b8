"""A case on one sheet, in words, in the colleague's language: danger, room and number, known, ruled out, next."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import reduce
from typing import Final

from assistant.conversation.case import Case, apply, new_case
from assistant.conversation.deciding import askable, evidence_of, fixable, tried_of
from assistant.conversation.events import Heard, NumberLearned
from assistant.conversation.ids import MessageId
from assistant.conversation.known import counts_as_now, fact_words, number_words, unit_of
from assistant.conversation.turn import Turn
from assistant.conversation.worksheets import Worksheet, worksheet_of
from assistant.drawing.beliefs import draw_beliefs
from assistant.helpline.steps_of_belief import Log, belief_steps
from assistant.reasoning import Belief, evidence_table, rank, weigh, why_question
from assistant.wording import with_calls
from kb.compiling import Compiled, compile_
from kb.ids import CauseId, CheckId, FindingId, FixId, Language
from kb.knowledge import Knowledge

OUT_BELOW: Final = 0.01
"""A cause less likely than this is ruled out, if it was likelier before anything was said, by `OUT_BY` or more."""
OUT_BY: Final = 5.0
LEADING: Final = 5
SHOWN: Final = 8
LEAST_SHARE: Final = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Something known, in words."""

    words: str
    place: int | None
    """The message that it came from, by its place in the log; None: worked out, or brought along."""
    now: bool = True
    """False: a later fix touched it, or it is too old to count."""
    sure: bool = True
    how: str = "said"
    """said · answer · sum · implied · carried · colleague."""
    finding: str | None = None
    options: tuple[tuple[str, str], ...] = ()
    """(state, its words): what it could be instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RuledOut:
    """A cause that is out, and what spoke most against it."""

    cause: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What the assistant would ask next."""

    check: str
    ask: str
    theirs: str
    """The same in the customer's language: what would be sent."""
    why: str
    gain_bits: float
    finding: str
    options: tuple[tuple[str, str], ...]
    """(state, its words), in order; empty where a number is wanted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A fix, and how it went."""

    fix: str
    standing: str
    """offered · declined · done · worked · did not help."""
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Danger:
    """A hazard that stands, with what the customer was told first."""

    means: str
    level: str
    """danger · stop and confirm · care."""
    told: str
    place: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """What each thing learnt says for and against the leading causes, in bits."""

    causes: tuple[str, ...]
    rows: tuple[tuple[str, tuple[float, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A case as the desk reads it."""

    complaints: tuple[str, ...]
    numbers: tuple[Line, ...]
    facts: tuple[Line, ...]
    ruled_out: tuple[RuledOut, ...]
    believed: tuple[tuple[str, str, float], ...]
    """(cause, its words, probability), the likeliest first."""
    something_else: float
    nothing_wrong: float
    next: tuple[Question, ...]
    tried: tuple[Tried, ...]
    worked: str | None
    """The id of the fix that worked, where one did."""
    dangers: tuple[Danger, ...]
    sums: tuple[Worksheet, ...]
    """The latest of each, on its sheet with its picture."""
    weighed: Weighed
    picture: str
    """Beliefs over the conversation, as SVG; empty while nothing was believed."""


def sheet_of(
    knowledge: Knowledge,
    log: Log,
    at: datetime,
    language: Language,
) -> Sheet:
    """The sheet of a case from its log."""
    case = reduce(apply, (event for _, event in log), new_case())
    places: dict[MessageId | None, int] = {
        event.message: place for place, event in log if isinstance(event, Heard)
    }
    compiled = compile_(knowledge)
    belief = weigh(compiled, evidence_of(knowledge, case), tried_of(case))
    words = _cause_words(knowledge, language)
    steps = belief_steps(log, words)
    return Sheet(
        complaints=tuple(
            knowledge.symptoms[c.symptom].say_back.in_(language)
            for c in {c.symptom: c for c in case.complaints}.values()
            if c.symptom in knowledge.symptoms
        ),
        numbers=_numbers(knowledge, case, places, language),
        facts=_facts(knowledge, case, places, at, language),
        ruled_out=_ruled_out(knowledge, compiled, case, belief, language),
        believed=tuple(
            (str(cause), words(cause), share) for cause, share in belief.top(LEADING) if share >= LEAST_SHARE
        ),
        something_else=belief.something_else,
        nothing_wrong=belief.nothing_wrong,
        next=_next(knowledge, compiled, case, belief, at, language),
        tried=_tried(knowledge, case, language),
        worked=next((str(fix.fix) for fix in reversed(case.fixes) if (fix.worked or 0) > 0.5), None),  # noqa: PLR2004 - at 0.5 it says nothing
        dangers=_dangers(knowledge, case, places, language),
        sums=tuple(worksheet_of(done, unit_of(case), language) for done in case.sums),
        weighed=_weighed(knowledge, compiled, case, belief, language),
        picture=draw_beliefs(steps, language) if steps else "",
    )


def _cause_words(knowledge: Knowledge, language: Language) -> Callable[[str], str]:
    def words(cause: str) -> str:
        known = knowledge.causes.get(CauseId(cause))
        return cause.replace("_", " ") if known is None else known.means.in_(language)

    return words


def _numbers(
    knowledge: Knowledge, case: Case, places: Mapping[MessageId | None, int], language: Language
) -> tuple[Line, ...]:
    last: dict[str, NumberLearned] = {}
    for number in case.numbers:
        if number.quantity in knowledge.quantities:
            last.pop(number.quantity, None)
            last[number.quantity] = number
    return tuple(
        Line(
            words=number_words(knowledge, number.quantity, number.si, case, language),
            place=places.get(number.message),
        )
        for number in last.values()
    )


def _facts(
    knowledge: Knowledge, case: Case, places: Mapping[MessageId | None, int], at: datetime, language: Language
) -> tuple[Line, ...]:
    latest = {fact.finding: fact for fact in case.facts if fact.finding in knowledge.findings}
    lines = [
        Line(
            words=fact_words(knowledge, fact.finding, fact.state, language),
            place=places.get(fact.message),
            now=counts_as_now(knowledge, case, fact, at),
            sure=fact.confidence >= 0.9,  # noqa: PLR2004 - what is taken without saying it back
            how=fact.source,
            finding=str(fact.finding),
            options=_options(knowledge, fact.finding, language),
        )
        for fact in latest.values()
    ]
    return tuple(sorted(lines, key=lambda line: not line.now))


def _options(knowledge: Knowledge, finding: FindingId, language: Language) -> tuple[tuple[str, str], ...]:
    states = knowledge.findings[finding].states
    return tuple((str(state), node.in_(language)[0]) for state, node in states.items())


def _ruled_out(
    knowledge: Knowledge, compiled: Compiled, case: Case, belief: Belief, language: Language
) -> tuple[RuledOut, ...]:
    before = weigh(compiled, ())
    was = {cause: before.of(cause) for cause in before.causes}
    out = [
        cause
        for cause in sorted(was, key=lambda cause: (-was[cause], cause))
        if belief.of(cause) < OUT_BELOW
        and was[cause] >= OUT_BY * belief.of(cause)
        and was[cause] >= OUT_BELOW
    ]
    table = evidence_table(compiled, evidence_of(knowledge, case), belief, columns=len(belief.causes))
    column = {cause: place for place, cause in enumerate(table.causes)}
    ruled = []
    for cause in out[:SHOWN]:
        against = min(table.rows, key=lambda row: row.bits[column[cause]], default=None)
        if against is None or against.bits[column[cause]] >= -1:
            continue
        ruled.append(
            RuledOut(
                cause=knowledge.causes[cause].means.in_(language),
                by=_node_words(knowledge, str(against.about), str(against.state), language),
            )
        )
    return tuple(ruled)


def _weighed(
    knowledge: Knowledge, compiled: Compiled, case: Case, belief: Belief, language: Language
) -> Weighed:
    table = evidence_table(compiled, evidence_of(knowledge, case), belief, columns=LEADING)
    return Weighed(
        causes=tuple(knowledge.causes[cause].means.in_(language) for cause in table.causes),
        rows=tuple(
            (_node_words(knowledge, str(row.about), str(row.state), language), row.bits) for row in table.rows
        ),
    )


def _node_words(knowledge: Knowledge, node: str, state: str, language: Language) -> str:
    """A finding with its state, or a complaint, in words."""
    kind, _, name = node.partition(":")
    symptom = next((s for key, s in knowledge.symptoms.items() if key == name), None)
    if kind == "symptom" and symptom is not None:
        return symptom.say_back.in_(language)
    finding = next((key for key in knowledge.findings if key == name), None)
    states = {str(key): key for key in knowledge.findings[finding].states} if finding else {}
    if finding is None or state not in states:
        return f"{name} {state}".strip()
    return fact_words(knowledge, finding, states[state], language)


def _next(
    knowledge: Knowledge, compiled: Compiled, case: Case, belief: Belief, at: datetime, language: Language
) -> tuple[Question, ...]:
    if case.state in ("danger", "closed"):
        return ()
    turn = Turn(knowledge=knowledge, case=case, at=at)
    can_fix = fixable(turn)
    known = tuple(sorted({number.quantity for number in case.numbers}))
    ranked = rank(compiled, belief, askable(turn), fixable=can_fix, known_quantities=known)
    return tuple(
        Question(
            check=str(one.check),
            ask=knowledge.checks[one.check].ask.in_(language),
            theirs=knowledge.checks[one.check].ask.in_(case.language or language),
            why=_why(knowledge, compiled, belief, one.check, can_fix, language),
            gain_bits=one.gain_bits,
            finding=str(knowledge.checks[one.check].finds),
            options=()
            if knowledge.checks[one.check].measures
            else _options(knowledge, knowledge.checks[one.check].finds, language),
        )
        for one in ranked[:3]
    )


def _why(
    knowledge: Knowledge,
    compiled: Compiled,
    belief: Belief,
    check: CheckId,
    can_fix: Collection[FixId],
    language: Language,
) -> str:
    splits = why_question(compiled, belief, check, fixable=can_fix)
    finding = knowledge.findings[knowledge.checks[check].finds]
    told = (
        f"{finding.states[split.state].in_(language)[0]} → {knowledge.causes[split.cause].means.in_(language)}"
        for split in splits
    )
    return "; ".join(told)


def _tried(knowledge: Knowledge, case: Case, language: Language) -> tuple[Tried, ...]:
    return tuple(
        Tried(fix=knowledge.fixes[fix.fix].means.in_(language), standing=_standing(fix), at=fix.offered_at)
        for fix in case.fixes
        if fix.fix in knowledge.fixes
    )


def _standing(fix: object) -> str:
    worked, declined, done = (getattr(fix, name) for name in ("worked", "declined", "done_at"))
    if worked is not None:
        return "worked" if worked > 0.5 else "did not help"  # noqa: PLR2004 - at 0.5 it says nothing
    if declined:
        return "declined"
    return "done" if done is not None else "offered"


def _dangers(
    knowledge: Knowledge, case: Case, places: Mapping[MessageId | None, int], language: Language
) -> tuple[Danger, ...]:
    region = case.opened.region if case.opened else "unknown"
    return tuple(
        Danger(
            means=knowledge.hazards[raised.hazard].means,
            level=raised.level,
            told=with_calls(knowledge.hazards[raised.hazard].first.in_(language), language, region),
            place=places.get(raised.message),
        )
        for raised in case.hazards
        if raised.hazard in knowledge.hazards
    )
