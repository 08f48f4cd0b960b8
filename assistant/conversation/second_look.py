"""A text that told nothing at first sight, looked at again: as a contradiction of what was told last, or as a doubtful fact.

"Only the bottom ones" answers no open question; it corrects what they said of the ice. And "no ice", too short to be sure
of, is asked about, not thrown away.
"""

from typing import Final

from assistant.conversation.danger import yes_no
from assistant.conversation.deciding import check_of
from assistant.conversation.events import FactLearned
from assistant.conversation.hearing import learn_implied
from assistant.conversation.ids import MessageId
from assistant.conversation.known import fact_said
from assistant.conversation.turn import Turn
from assistant.reading import LEAST, TAKE, Answer, FindingSaid, Reading, open_question, read
from kb.ids import FindingId, StateId

_LIMITS: Final = frozenset(
    {
        "actually",
        "only",
        "just",
        "solo",
        "solamente",
        "nomás",
        "nomas",
        "sólo",
        "perdón",
        "perdon",
        "sorry",
        "wait",
    }
)
"""With such a word a short text takes back part of what was said before."""

LAST_TOLD: Final = 3


def contradicts(turn: Turn, text: str, reading: Reading, message: MessageId) -> FindingId | None:
    """Take a text that corrects what was told last; the finding that it is about, or None."""
    words = text.casefold().replace(",", " ").split()
    if not words or not (reading.corrects or words[0] in _LIMITS):
        return None
    found = [one for finding in _talked_of(turn) if (one := _read_as(turn, text, finding)) is not None]
    if not found:
        return None
    finding, answer = max(found, key=lambda one: (one[1].confidence, one[0]))
    _replace(turn, finding, answer, message)
    turn.say("corrected", facts=fact_said(turn.knowledge, finding, StateId(str(answer.state)), turn.language))
    return finding


def _talked_of(turn: Turn) -> list[FindingId]:
    """The findings told last, and those that are asked about because of them."""
    knowledge = turn.knowledge
    told = [fact.finding for fact in turn.case.facts if fact.source in ("answer", "said")][-LAST_TOLD:]
    beside = [node.finds for node in knowledge.checks.values() if set(node.only_if) & set(told)]
    return list(dict.fromkeys([*told, *beside]))


def _read_as(turn: Turn, text: str, finding: FindingId) -> tuple[FindingId, Answer] | None:
    """The text as an answer about `finding`, where it surely is one and says something new."""
    check = check_of(turn.knowledge, finding)
    if check is None:
        return None
    about = open_question(turn.knowledge, check, turn.language)
    answer = read(turn.knowledge, text, about=about, language=turn.case.language).answer
    known = turn.case.latest_fact(finding)
    if answer.kind != "state" or answer.confidence < TAKE or answer.state is None:
        return None
    return None if known is not None and known.state == answer.state else (finding, answer)


def _replace(turn: Turn, finding: FindingId, answer: Answer, message: MessageId) -> None:
    before = turn.case.latest_fact(finding)
    states = turn.knowledge.findings[finding].states
    turn.add(
        FactLearned(
            at=turn.at,
            finding=finding,
            state=StateId(str(answer.state)),
            likelihood=tuple((state, answer.likelihood.get(str(state), 0.0)) for state in states),
            confidence=answer.confidence,
            source="said",
            message=message,
            epoch=turn.case.epoch,
            replaces=before is not None and before.epoch == turn.case.epoch,
        )
    )
    learn_implied(turn, finding)


def ask_back(turn: Turn, text: str, reading: Reading) -> bool:
    """Ask whether the doubtful fact is so that the text seems to tell; true when asked."""
    said = _doubtful(reading) or _doubtful(read(turn.knowledge, text, language=turn.case.language))
    if said is None or _asked_back(turn, said):
        return False
    words = fact_said(turn.knowledge, said.finding, said.state, turn.language)
    turn.say("say_back_ask", facts=words, options=yes_no(turn))
    turn.wait_for("say_back", finding=said.finding, state=said.state)
    return True


def _doubtful(reading: Reading) -> FindingSaid | None:
    now = [
        said for said in reading.findings if said.when in ("now", "by_another") and said.confidence >= LEAST
    ]
    return max(now, key=lambda said: (said.confidence, said.finding), default=None)


def _asked_back(turn: Turn, said: FindingSaid) -> bool:
    known = turn.case.latest_fact(said.finding)
    return known is not None and known.state == said.state
