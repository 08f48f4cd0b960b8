"""Customers of sheets played through the whole conversation: their sentences are read, not their states.

Beside the simulation that draws its customers from the knowledge, which flatters it, this one knows nothing of it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final, TypeGuard

from assistant.conversation.events import (
    Asked,
    DeskCalled,
    Event,
    FactLearned,
    FixOffered,
    HazardRaised,
    WaitingFor,
)
from assistant.workbench.people_sheets import SOMETHING_ELSE, Sheet
from assistant.workbench.replay import Player
from kb.ids import CauseId, CheckId, FindingId, FixId, StateId
from kb.knowledge import Knowledge

BEGUN_AT: Final = datetime(2026, 7, 14, 15, 0, tzinfo=UTC)
ZONES: Final = {"en": "America/Chicago", "es": "America/Mexico_City"}
TEXTS_MOST: Final = 24
AFTER: Final = (3, 5, 7, 10)
CANNOT: Final = {"en": "I can't get to that right now", "es": "ahorita no puedo revisar eso"}
UNSURE: Final = {"en": "not sure", "es": "no sé"}
WORDS: Final = {"yes": {"en": "yes", "es": "sí"}, "no": {"en": "no", "es": "no"}}


@dataclass(frozen=True, slots=True, kw_only=True)
class Played:
    """How it went with one customer."""

    sheet: Sheet
    questions: int
    """Asked before the first remedy, or before the end."""
    texts: int
    fix: FixId | None
    """The first remedy; None: handed over, or nothing came."""
    cause: CauseId | None
    handed_over: str | None
    """Why a person was called, where one was before any remedy."""
    right: bool
    misread: tuple[tuple[FindingId, StateId], ...]
    """Facts taken that they did not tell."""
    false_alarms: tuple[str, ...]
    asked: tuple[CheckId, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """All customers together."""

    customers: int
    right: int
    right_within: tuple[tuple[int, int], ...]
    """(questions, customers for whom the right remedy came first within so many)."""
    handed_over: int
    mean_questions: float
    misread: int
    false_alarms: int


def play(knowledge: Knowledge, sheet: Sheet) -> Played:
    """Text as this customer until the first remedy, a hand-over, or the end of their patience."""
    player = Player(knowledge, BEGUN_AT, ZONES[sheet.language], "911")
    player.begin(None)
    player.hear(sheet.first)
    texts = 1
    while texts < TEXTS_MOST and not _decided(player):
        player.hear(_reply(knowledge, sheet, player))
        texts += 1
    return _judged(sheet, player, texts)


def play_all(knowledge: Knowledge, sheets: Sequence[Sheet]) -> tuple[Played, ...]:
    """Every customer, in order."""
    return tuple(play(knowledge, sheet) for sheet in sheets)


def figures_of(played: Sequence[Played]) -> Figures:
    """The curve, and what went wrong on the way."""
    right = [one for one in played if one.right]
    return Figures(
        customers=len(played),
        right=len(right),
        right_within=tuple((n, sum(one.questions <= n for one in right)) for n in AFTER),
        handed_over=sum(one.handed_over is not None for one in played),
        mean_questions=sum(one.questions for one in played) / max(len(played), 1),
        misread=sum(len(one.misread) for one in played),
        false_alarms=sum(len(one.false_alarms) for one in played),
    )


def _decided(player: Player) -> bool:
    return any(isinstance(event, FixOffered) or _hands_over(event) for event in player.events)


def _hands_over(event: Event) -> TypeGuard[DeskCalled]:
    """The case goes to a person; food on the clock only tells the desk to hurry."""
    return isinstance(event, DeskCalled) and event.why != "food"


def _reply(knowledge: Knowledge, sheet: Sheet, player: Player) -> str:
    waiting = player.case.waiting_for
    if waiting is None:
        return sheet.first
    match waiting.kind:
        case "check" if waiting.check is not None:
            again = player.case.times_asked(waiting.check) > 1 or _put_again(player)
            return _answer(knowledge, sheet, waiting.check, in_words=not again)
        case "say_back" if waiting.finding is not None:
            is_so = sheet.reported(waiting.finding) in (waiting.state, None)
            return WORDS["yes" if is_so else "no"][sheet.language]
        case "number" | "which_unit":
            return _number(sheet, waiting)
        case "hazard_sign" | "say_back" | "hazard_done":
            return WORDS["no"][sheet.language]
        case _:
            return UNSURE[sheet.language]


def _number(sheet: Sheet, waiting: WaitingFor) -> str:
    if waiting.kind == "which_unit":
        return sheet.unit
    told = sheet.numbers.get(waiting.quantity) if waiting.quantity else None
    return told or UNSURE[sheet.language]


def _put_again(player: Player) -> bool:
    """Their last words were no answer: most people then send the number of the option."""
    return player.case.misread > 0


def _answer(knowledge: Knowledge, sheet: Sheet, check: CheckId, *, in_words: bool) -> str:
    """In their own words where the sheet has them, else the number of the option."""
    node = knowledge.checks[check]
    finding = node.finds
    if finding in sheet.cannot:
        return CANNOT[sheet.language]
    if finding in sheet.unsure:
        return UNSURE[sheet.language]
    if node.measures is not None:
        return sheet.numbers.get(node.measures, UNSURE[sheet.language])
    if in_words and finding in sheet.says:
        return sheet.says[finding]
    state = sheet.reported(finding)
    offers = node.offers or tuple(knowledge.findings[finding].states)
    return f"{offers.index(state) + 1}" if state in offers else UNSURE[sheet.language]


def _judged(sheet: Sheet, player: Player, texts: int) -> Played:
    offered = next((event for event in player.events if isinstance(event, FixOffered)), None)
    called = next((event for event in player.events if _hands_over(event)), None)
    first_call = called is not None and (offered is None or called.at < offered.at)
    ends_at = offered.at if offered is not None else player.at
    asked = tuple(event.check for event in player.events if isinstance(event, Asked) and event.at <= ends_at)
    fix = None if offered is None else offered.fix
    cause = None if offered is None else offered.cause
    if fix is None and called is not None:
        fix, cause = called.fix, called.cause
    handed = called.why if called is not None and first_call else None
    return Played(
        sheet=sheet,
        questions=len(asked),
        texts=texts,
        fix=fix,
        cause=cause,
        handed_over=handed,
        right=_is_right(sheet, fix, cause, handed),
        misread=_misread(sheet, player),
        false_alarms=tuple(
            str(event.hazard)
            for event in player.events
            if isinstance(event, HazardRaised) and event.message is not None
        ),
        asked=asked,
    )


def _is_right(sheet: Sheet, fix: FixId | None, cause: CauseId | None, handed: str | None) -> bool:
    if SOMETHING_ELSE in sheet.truth:
        return (handed is not None and fix is None) or fix in sheet.fixes
    return fix in sheet.fixes or cause in (*sheet.truth, *sheet.also_right)


def _misread(sheet: Sheet, player: Player) -> tuple[tuple[FindingId, StateId], ...]:
    """What was taken from their words although they would report something else."""
    taken = [
        event
        for event in player.events
        if isinstance(event, FactLearned) and event.source in ("answer", "said")
    ]
    return tuple(
        (fact.finding, fact.state)
        for fact in taken
        if (told := sheet.reported(fact.finding)) is not None and told != fact.state
    )
