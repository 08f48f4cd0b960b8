"""Something seen out of order that the customer can mend: it must be mended anyway, and mending it is the best question."""

from collections.abc import Collection
from typing import Final

from assistant.conversation import known
from assistant.conversation.events import FactLearned
from assistant.conversation.turn import Turn
from assistant.reading import TAKE
from assistant.reasoning import Belief, TryFix
from kb.ids import CauseId, FixId
from kb.knowledge import Knowledge
from kb.likelihood import strength
from kb.schema import Cause, Fix

LOOKED_AT: Final = 8
DEFECT_FROM: Final = 0.2
GIVES_AWAY: Final = 10.0
EASY_MINUTES: Final = 45.0
HELPED_FROM: Final = 0.5
SECOND_FROM: Final = 0.005
"""Of what is believed of a cause that may hold a room which one fix has helped in part: its sign was told, and mending it
is asked for anyway (ours, no source)."""

SHOWS_IT: Final = 0.77
"""As strongly as *usually*."""


def seen_defect(turn: Turn, belief: Belief, can_fix: Collection[FixId]) -> TryFix | None:
    """Something seen broken that the customer can mend: it must be mended anyway, and nothing is proved before.

    It is one when its cause is believed enough to matter, shows the state nearly always, and hardly anything else does.
    """
    seen = known.current_facts(turn.knowledge, turn.case, turn.at)
    found: list[tuple[float, CauseId, FixId]] = []
    for cause, probability in belief.top(LOOKED_AT):
        node = turn.knowledge.causes[cause]
        fix = next((fix for fix in node.fixes if fix in can_fix), None)
        if fix is None or probability < DEFECT_FROM or not easily_mended(turn.knowledge.fixes[fix]):
            continue
        if any(_gives_away(turn.knowledge, node, fact) for fact in seen.values()):
            found.append((probability, cause, fix))
    if not found:
        return None
    probability, cause, fix = max(found, key=lambda one: (one[0], one[1]))
    return TryFix(fix=fix, cause=cause, probability=probability)


def told_defect(turn: Turn, belief: Belief, can_fix: Collection[FixId]) -> tuple[TryFix, FactLearned] | None:
    """After a fix that helped in part: what else they told to be out of order, and can mend themselves."""
    last = turn.case.fixes[-1] if turn.case.fixes else None
    if last is None or last.worked is None or last.moved is None:
        return None
    if last.worked >= HELPED_FROM or last.moved < HELPED_FROM:
        return None
    told = known.current_facts(turn.knowledge, turn.case, turn.at)
    for cause, probability in belief.top(len(belief.causes)):
        if probability < SECOND_FROM:
            return None
        node = turn.knowledge.causes[cause]
        fix = next((fix for fix in node.fixes if fix in can_fix), None)
        if fix is None or not easily_mended(turn.knowledge.fixes[fix]):
            continue
        shown = next((fact for fact in told.values() if _shows(turn.knowledge, node, fact)), None)
        if shown is not None:
            return TryFix(fix=fix, cause=cause, probability=probability), shown
    return None


def _shows(knowledge: Knowledge, cause: Cause, fact: FactLearned) -> bool:
    """They told it themselves, it is not as it should be, and it is what the cause usually looks like."""
    finding = knowledge.findings[fact.finding]
    if fact.state == finding.normal or fact.source not in ("answer", "said") or fact.confidence < TAKE:
        return False
    if finding.normal is None or finding.lasts == "always":
        return False  # what a room is built of is no defect that a fix mends
    shows = cause.shows.get(fact.finding, {}).get(fact.state)
    return shows is not None and strength(shows) >= SHOWS_IT and next(iter(cause.shows)) == fact.finding


def mended_in_minutes(turn: Turn, belief: Belief, fact: FactLearned) -> bool:
    """The likeliest cause that the fact gives away is mended easily."""
    knowledge = turn.knowledge
    causes = (knowledge.causes[cause] for cause, _ in belief.top(len(belief.causes)))
    likeliest = next((cause for cause in causes if _gives_away(knowledge, cause, fact)), None)
    return likeliest is not None and any(easily_mended(knowledge.fixes[fix]) for fix in likeliest.fixes[:1])


def easily_mended(fix: Fix) -> bool:
    """Somebody who is no technician does it within the hour."""
    return fix.who == "customer" and fix.minutes <= EASY_MINUTES


def _gives_away(knowledge: Knowledge, cause: Cause, fact: FactLearned) -> bool:
    finding = knowledge.findings[fact.finding]
    if fact.state == finding.normal or fact.source not in ("answer", "said") or fact.confidence < TAKE:
        return False
    shows = cause.shows.get(fact.finding, {}).get(fact.state)
    usual = finding.background.get(fact.state)
    return shows is not None and usual is not None and strength(shows) / strength(usual) >= GIVES_AWAY
