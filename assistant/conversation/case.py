"""What is remembered of a case, and how events change it. Folding never decides: whatever was decided stands in them."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import assert_never

from assistant.conversation import events as ev
from assistant.conversation import line_events, moving, sum_events
from assistant.conversation.desk_events import ColleagueSpoke, HeldTold
from assistant.conversation.edition_events import EditionMoved
from assistant.conversation.ids import ASSISTANT, CaseState, ConsentScope, SentenceId, TimerName
from kb.ids import CauseId, CheckId, FindingId, FixId, Language, ProductId, ThingId


@dataclass(frozen=True, slots=True, kw_only=True)
class FixProgress:
    """How far one fix has come."""

    fix: FixId
    cause: CauseId
    offered_at: datetime
    upto: int = 0
    """Steps sent so far."""
    done_at: datetime | None = None
    epoch: int = 0
    """The epoch in which it was offered; doing it begins the next one."""
    declined: bool = False
    worked: float | None = None
    moved: float | None = None
    """How surely it helped though the room stopped short of its target."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Everything that `step` may decide from. `opened` is None only before the first event."""

    opened: ev.CaseOpened | None = None
    edition: str | None = None
    """The edition of the knowledge that it goes by."""
    language: Language | None = None
    state: CaseState = "asking"
    voice: str = ASSISTANT
    heard: int = 0
    """Messages taken in so far."""
    misread: int = 0
    """Messages in a row that gave no answer and no fact."""
    last_heard_at: datetime | None = None
    last_thing: ThingId | None = None
    """The thing that the customer named last."""
    facts: tuple[ev.FactLearned, ...] = ()
    complaints: tuple[ev.ComplaintHeard, ...] = ()
    numbers: tuple[ev.NumberLearned, ...] = ()
    hazards: tuple[ev.HazardRaised, ...] = ()
    """Raised and not yet cleared."""
    hazards_met: tuple[str, ...] = ()
    """Every hazard ever raised here, in order."""
    believed: ev.Believed | None = None
    asked: tuple[ev.Asked, ...] = ()
    laid_aside: tuple[ev.CheckLaidAside, ...] = ()
    waiting_for: ev.WaitingFor | None = None
    fixes: tuple[FixProgress, ...] = ()
    epoch: int = 0
    said: tuple[tuple[SentenceId, str], ...] = ()
    """Sentence and words of everything the assistant said: so that nothing is said twice in the same words."""
    timers: tuple[ev.TimerSet, ...] = ()
    held_times: int = 0
    watch: sum_events.WatchBegun | None = None
    """The room is being watched."""
    watched: int = 0
    """How many watches have begun here."""
    products: tuple[ProductId, ...] = ()
    """What is kept in the room, the last named last."""
    sums: tuple[sum_events.SumDone, ...] = ()
    desk_calls: tuple[ev.DeskCalled, ...] = ()
    consents: tuple[tuple[ConsentScope, bool], ...] = ()
    """What they said to texts that come unasked."""
    closed: ev.CaseClosed | None = None

    @property
    def fix_under_way(self) -> FixProgress | None:
        """The fix offered last, unless it was declined or judged."""
        if not self.fixes or self.fixes[-1].declined or self.fixes[-1].worked is not None:
            return None
        return self.fixes[-1]

    def consent(self, scope: ConsentScope) -> bool | None:
        """Whether they want such texts unasked; None: nobody has asked. A channel that needs no yes has one."""
        said = dict(self.consents).get(scope)
        if said is not None or self.opened is None:
            return said
        return True if self.opened.agreed is None or scope in self.opened.agreed else None

    def times_asked(self, check: CheckId) -> int:
        """How often a check was put to the customer."""
        return sum(asked.check == check for asked in self.asked)

    def times_said(self, sentence: str) -> int:
        """How often a sentence was said."""
        return sum(said == sentence for said, _ in self.said)

    def latest_fact(self, finding: FindingId) -> ev.FactLearned | None:
        """What was learnt last of a finding."""
        return next((fact for fact in reversed(self.facts) if fact.finding == finding), None)

    def latest_number(self, quantity: str) -> ev.NumberLearned | None:
        """The number of a quantity that was read off last, however late it was told."""
        told = (number for number in reversed(self.numbers) if number.quantity == quantity)
        return max(told, key=lambda number: number.read_at, default=None)

    def latest_sum(self, name: str) -> sum_events.SumDone | None:
        """The last sum of this name."""
        return next((done for done in reversed(self.sums) if done.sum == name), None)


def new_case() -> Case:
    """A case before its first event."""
    return Case()


def apply(case: Case, event: ev.Event) -> Case:  # noqa: C901, PLR0911, PLR0912 - one arm a kind of event
    """The case after one more event."""
    match event:
        case ev.CaseOpened():
            return replace(case, opened=event, edition=event.edition, language=event.language)
        case EditionMoved():
            return moving.moved(replace(case, edition=event.edition), event)
        case ev.Heard():
            return _heard(case, event)
        case ev.FactLearned():
            return replace(case, facts=(*_without_replaced(case, event), event))
        case ev.FactTakenBack():
            left = tuple(f for f in case.facts if f.finding != event.finding or f.epoch != case.epoch)
            return replace(case, facts=left)
        case ev.ComplaintHeard():
            return replace(case, complaints=(*case.complaints, event))
        case ev.NumberLearned():
            return _number_learned(case, event)
        case ev.HazardRaised():
            met = (*case.hazards_met, str(event.hazard))
            return replace(case, hazards=(*case.hazards, event), hazards_met=met)
        case ev.HazardCleared():
            return replace(case, hazards=tuple(h for h in case.hazards if h.hazard != event.hazard))
        case ev.Believed():
            return replace(case, believed=event)
        case ev.Asked():
            return replace(case, asked=(*case.asked, event))
        case ev.CheckLaidAside():
            return replace(case, laid_aside=(*case.laid_aside, event))
        case ev.WaitingFor():
            return replace(case, waiting_for=None if event.kind == "nothing" else event)
        case ev.FixOffered() | ev.StepGiven() | ev.FixDone() | ev.FixDeclined() | ev.FixJudged():
            return _fix_moved(case, event)
        case ev.Held():
            return replace(case, held_times=event.times)
        case ev.Said():
            return case if event.message else replace(case, said=(*case.said, *_sentences_of(event)))
        case ev.TimerSet():
            return replace(case, timers=(*_timers_but(case, event.timer), event))
        case ev.TimerDropped():
            return replace(case, timers=_timers_but(case, event.timer))
        case ev.StateChanged():
            reopened = case.closed if event.state == "closed" else None
            return replace(case, state=event.state, closed=reopened)
        case ev.VoiceChanged():
            return replace(case, voice=event.voice)
        case ev.DeskCalled():
            return replace(case, desk_calls=(*case.desk_calls, event))
        case ev.LanguageChosen():
            return replace(case, language=event.language)
        case ev.StartedOver():
            return _started_over(case)
        case ev.CaseClosed():
            return replace(case, state="closed", closed=event, waiting_for=None)
        case sum_events.ProductLearned():
            others = tuple(product for product in case.products if product != event.product)
            return replace(case, products=(*others, event.product))
        case sum_events.WatchBegun():
            return replace(case, watch=event, watched=case.watched + 1, held_times=0)
        case sum_events.WatchEnded():
            return replace(case, watch=None)
        case sum_events.SumDone():
            return replace(case, sums=(*(s for s in case.sums if s.sum != event.sum), event))
        case HeldTold():
            return replace(case, waiting_for=None)
        case ColleagueSpoke() | line_events.PhotoTaken():
            return case
        case line_events.ConsentAnswered():
            answers = tuple(said for said in case.consents if said[0] != event.scope)
            return replace(case, consents=(*answers, (event.scope, event.yes)))
        case _:
            assert_never(event)


def _heard(case: Case, event: ev.Heard) -> Case:
    return replace(
        case,
        heard=case.heard + 1,
        last_heard_at=event.at,
        misread=0 if event.answered else case.misread + 1,
        last_thing=ThingId(event.last_thing) if event.last_thing else case.last_thing,
    )


def _without_replaced(case: Case, event: ev.FactLearned) -> tuple[ev.FactLearned, ...]:
    if not event.replaces:
        return case.facts
    return tuple(f for f in case.facts if f.finding != event.finding or f.epoch != event.epoch)


def _number_learned(case: Case, event: ev.NumberLearned) -> Case:
    kept = case.numbers
    if event.replaces:
        mistaken = case.latest_number(event.quantity)
        kept = tuple(number for number in kept if number is not mistaken)
    return replace(case, numbers=(*kept, event))


def _fix_moved(
    case: Case, event: ev.FixOffered | ev.StepGiven | ev.FixDone | ev.FixDeclined | ev.FixJudged
) -> Case:
    if isinstance(event, ev.FixOffered):
        begun = FixProgress(fix=event.fix, cause=event.cause, offered_at=event.at, epoch=case.epoch)
        return replace(case, fixes=(*case.fixes, begun))
    last = max((i for i, f in enumerate(case.fixes) if f.fix == event.fix), default=None)
    if last is None:
        return case
    fix = case.fixes[last]
    match event:
        case ev.StepGiven():
            fix = replace(fix, upto=event.upto)
        case ev.FixDone():
            fix = replace(fix, done_at=event.since or event.at)
            case = replace(case, epoch=case.epoch + 1, held_times=0)
        case ev.FixDeclined():
            fix = replace(fix, declined=True)
        case ev.FixJudged():
            fix = replace(fix, worked=event.worked, moved=event.moved)
    return replace(case, fixes=(*case.fixes[:last], fix, *case.fixes[last + 1 :]))


def _sentences_of(event: ev.Said) -> tuple[tuple[SentenceId, str], ...]:
    return (*((sentence, "") for sentence in event.opens_with), (event.sentence, event.text))


def _timers_but(case: Case, name: TimerName) -> tuple[ev.TimerSet, ...]:
    return tuple(timer for timer in case.timers if timer.timer != name)


def _started_over(case: Case) -> Case:
    return replace(
        case,
        facts=(),
        complaints=(),
        numbers=(),
        believed=None,
        laid_aside=(),
        waiting_for=None,
        fixes=(),
        epoch=0,
        held_times=0,
        misread=0,
        watch=None,
        products=(),
        sums=(),
    )
