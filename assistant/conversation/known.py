"""What is known of the room: which facts still count as now, and in which words they are said back."""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

from assistant.conversation.case import Case
from assistant.conversation.events import FactLearned, NumberLearned
from assistant.wording import TemperatureUnit, as_said, bare, degrees, hour_words, sentence_list
from kb.ids import CheckId, FindingId, Language, QuantityId, StateId
from kb.knowledge import Knowledge

NUMBER_LASTS = timedelta(hours=2)
"""A temperature older than this is asked for again when a sum needs it (common practice, no source)."""

NOW = timedelta(minutes=20)
"""A reading so fresh is said without its hour."""

EVERYBODY_HAS = frozenset({"gloves", "flashlight"})
AT_HAND = frozenset({"anywhere", "inside the room", "at the unit"})
"""Where the cold room is they can go; what they could not do there was that one thing."""


def touched_since(knowledge: Knowledge, case: Case, finding: FindingId, epoch: int) -> bool:
    """A fix done after `epoch` touches the finding, so that what was known of it no longer counts as now."""
    done = (fix for fix in case.fixes if fix.done_at is not None and fix.epoch >= epoch)
    return any(finding in knowledge.fixes[fix.fix].touches for fix in done if fix.fix in knowledge.fixes)


def counts_as_now(knowledge: Knowledge, case: Case, fact: FactLearned, at: datetime) -> bool:
    """The fact is neither touched by a later fix nor older than its finding lasts."""
    finding = knowledge.findings.get(fact.finding)
    if finding is None:
        return False
    if isinstance(finding.lasts, int) and at - fact.at > timedelta(minutes=finding.lasts):
        return False
    return finding.lasts == "always" or not touched_since(knowledge, case, fact.finding, fact.epoch)


def current_facts(knowledge: Knowledge, case: Case, at: datetime) -> dict[FindingId, FactLearned]:
    """The latest fact of each finding that counts as now."""
    facts = {fact.finding: fact for fact in case.facts}
    return {finding: fact for finding, fact in facts.items() if counts_as_now(knowledge, case, fact, at)}


def current_states(knowledge: Knowledge, case: Case, at: datetime) -> dict[FindingId, StateId]:
    """The state of each finding that counts as now."""
    return {finding: fact.state for finding, fact in current_facts(knowledge, case, at).items()}


def is_answered(
    knowledge: Knowledge, case: Case, check: CheckId, at: datetime, states: Mapping[FindingId, StateId]
) -> bool:
    """What the check would find is among the `states` that count as now, or the number that it measures is fresh."""
    node = knowledge.checks[check]
    if node.finds in states:
        return True
    if node.measures is None:
        return False
    number = case.latest_number(node.measures)
    if number is not None and knowledge.quantities[node.measures].kind != "temperature":
        return True  # a room stays as long as it is, and a label says the same tomorrow
    return (
        number is not None
        and at - number.read_at <= NUMBER_LASTS
        and number.read_at >= last_done_at(case, number.read_at)
    )


def out_of_reach(knowledge: Knowledge, case: Case) -> tuple[frozenset[str], frozenset[str]]:
    """(tools that they have not, places where they cannot or will not go), from the checks that they could not do.

    Who has no thermometer has none for the next check either; who will not climb to the outdoor unit to look at its fan
    will not climb there to feel its air. Where no tool of note was asked for, it was the place.
    """
    refused = [laid.check for laid in case.laid_aside if laid.reason == "cannot"]
    efforts = [knowledge.checks[check].effort for check in refused if check in knowledge.checks]
    tools = frozenset(tool for effort in efforts for tool in effort.tools if tool not in EVERYBODY_HAS)
    places = frozenset(effort.where for effort in efforts if not set(effort.tools) - EVERYBODY_HAS)
    return tools, places - AT_HAND


def last_done_at(case: Case, otherwise: datetime) -> datetime:
    """When the last fix was done."""
    return max((fix.done_at for fix in case.fixes if fix.done_at is not None), default=otherwise)


def unit_of(case: Case) -> TemperatureUnit:
    """The person's unit of temperature: of their last number, else of their part of the world."""
    said = next((n.unit for n in reversed(case.numbers) if n.unit in ("F", "C")), None)
    if said is not None:
        return "F" if said == "F" else "C"
    zone = case.opened.zone if case.opened else ""
    return "F" if zone.startswith(("America/", "US/", "Pacific/Honolulu")) and "Mexico" not in zone else "C"


def fact_words(knowledge: Knowledge, finding: FindingId, state: StateId, language: Language) -> str:
    """A fact as a list has it: "filter: clogged"."""
    node = knowledge.findings[finding]
    label = node.states[state].in_(language)[0]
    return f"{node.topic.in_(language)}: {label}"


def fact_said(knowledge: Knowledge, finding: FindingId, state: StateId, language: Language) -> str:
    """A fact as a person says it in a sentence: "the filter is clogged"; where nobody wrote that, as a list has it."""
    said = knowledge.findings[finding].say_back
    return said[state].in_(language) if state in said else fact_words(knowledge, finding, state, language)


def number_words(
    knowledge: Knowledge, quantity: QuantityId, si: float, case: Case, language: Language
) -> str:
    """A number in a few words: "the room: 52 F"."""
    node = knowledge.quantities[quantity]
    if node.kind == "temperature":
        return f"{node.means.in_(language)}: {degrees(si, unit_of(case))}"
    own = next((n for n in reversed(case.numbers) if n.quantity == quantity and n.si == si), None)
    if own is not None and own.unit:
        return f"{node.means.in_(language)}: {as_said(own.value, own.unit, language)}"
    if node.kind == "duration":
        return f"{node.means.in_(language)}: {bare(si / 60)} min"
    symbol = {"length": "m", "power": "W", "voltage": "V", "current": "A", "count": "", "mass": "kg"}[
        node.kind
    ]
    return f"{node.means.in_(language)}: {si:g} {symbol}".rstrip()


def readings_list(readings: Sequence[NumberLearned], case: Case, at: datetime, language: Language) -> str:
    """The room's temperatures of one message, with their hours: "58 F at 2 pm and 47 F now"."""
    zone = case.opened.zone if case.opened else "UTC"
    return sentence_list([_reading_words(one, case, at, zone, language) for one in readings], language)


def _reading_words(reading: NumberLearned, case: Case, at: datetime, zone: str, language: Language) -> str:
    shown = degrees(reading.si, unit_of(case))
    if reading.taken_at is None or reading.taken_at == at:
        return f"{shown} now" if language == "en" else f"{shown} ahora"
    hour = hour_words(reading.read_at, at, zone, language)
    return f"{shown} at {hour}" if language == "en" else f"{shown} a {hour}"


def all_in_words(knowledge: Knowledge, case: Case, at: datetime, language: Language) -> tuple[str, ...]:
    """Everything known now: complaints, numbers, facts; the order in which they were learnt."""
    complaints = [
        knowledge.symptoms[c.symptom].say_back.in_(language)
        for c in case.complaints
        if c.symptom in knowledge.symptoms
    ]
    quantities = dict.fromkeys(n.quantity for n in case.numbers if n.quantity in knowledge.quantities)
    latest = (number for quantity in quantities if (number := case.latest_number(quantity)) is not None)
    said_numbers = [number_words(knowledge, n.quantity, n.si, case, language) for n in latest]
    facts = [
        fact_said(knowledge, finding, fact.state, language)
        for finding, fact in current_facts(knowledge, case, at).items()
        if fact.source not in ("sum", "implied")
    ]
    return tuple(dict.fromkeys([*complaints, *said_numbers, *facts]))
