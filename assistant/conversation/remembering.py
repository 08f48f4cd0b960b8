"""What is still known of somebody's room, said once: when they come back to a case, and when a new one begins."""

from datetime import datetime, timedelta
from typing import Final

from assistant.conversation.known import all_in_words, fact_said
from assistant.conversation.turn import Turn
from assistant.wording import sentence_list

AWAY: Final = timedelta(hours=12)
"""Who writes again sooner remembers what was said."""
MOST_TOLD: Final = 3
MOST_CARRIED: Final = 4


def greet_again(turn: Turn, before: datetime | None) -> None:
    """One sentence for somebody who comes back to a case at rest: what it was about, and what was done."""
    if before is None or turn.at - before < AWAY:
        return
    told = [*all_in_words(turn.knowledge, turn.case, turn.at, turn.language)[:MOST_TOLD]]
    done = [fix for fix in turn.case.fixes if fix.done_at is not None and fix.fix in turn.knowledge.fixes]
    told += [turn.knowledge.fixes[fix.fix].means.in_(turn.language) for fix in done[-1:]]
    if told:
        turn.say("back_again", facts=sentence_list(tuple(dict.fromkeys(told)), turn.language))


def say_carried(turn: Turn) -> None:
    """What an earlier case of the room left to this one, so that it can be put right."""
    carried = [fact for fact in turn.case.facts if fact.source == "carried"]
    words = [
        fact_said(turn.knowledge, fact.finding, fact.state, turn.language) for fact in carried[:MOST_CARRIED]
    ]
    if words and not turn.has_said("carried"):
        turn.say("carried", facts=sentence_list(tuple(words), turn.language))
