"""Why we ask this, why we believe that: in a sentence that a grower understands, from what they told us themselves."""

from typing import Final

from assistant.conversation.deciding import evidence_of, fixable, tried_of
from assistant.conversation.events import Asked
from assistant.conversation.known import fact_said
from assistant.conversation.turn import Turn
from assistant.reasoning import evidence_table, weigh, why_question
from assistant.wording import sentence_list
from kb.compiling import Node, compile_, finding_node, symptom_node
from kb.ids import CauseId, CheckId, StateId

SPEAKS_BITS: Final = 0.5
"""From here on something told is worth naming as a reason."""
REASONS_MOST: Final = 2


def why_check(turn: Turn, check: CheckId) -> None:
    """First why the check is worth its minutes, and what made us think of it; then what its answer tells apart."""
    place = f"why:{check}"
    if turn.case.times_said(place) == 0:
        turn.say_text(place, turn.knowledge.checks[check].why.in_(turn.language))
        _say_suspicion(turn, check)
        return
    apart = {state: turn.knowledge.causes[cause] for cause, state in reversed(_splits(turn, check))}
    if len(apart) < 2:  # noqa: PLR2004 - two things are needed to tell apart
        turn.say("how_more")
        return
    first, second = [cause.means.in_(turn.language) for cause in list(apart.values())[-1:-3:-1]]
    turn.say("why_apart", first=first, second=second)


def reasons_for(turn: Turn, cause: CauseId) -> tuple[str, ...]:
    """What was told that speaks for the cause, the most telling first, in the customer's words for it."""
    compiled, evidence = compile_(turn.knowledge), evidence_of(turn.knowledge, turn.case)
    belief = weigh(compiled, evidence, tried_of(turn.case))
    table = evidence_table(compiled, evidence, belief, columns=len(belief.causes))
    column = table.causes.index(cause)
    speaking = sorted(table.rows, key=lambda row: (-round(row.bits[column], 9), row.about))
    said = [_words(turn, row.about, row.state) for row in speaking if row.bits[column] >= SPEAKS_BITS]
    return tuple(dict.fromkeys(words for words in said if words))[:REASONS_MOST]


def _say_suspicion(turn: Turn, check: CheckId) -> None:
    """The likeliest cause that the answer may show, if something that was told speaks for it."""
    for cause, _ in _splits(turn, check):
        facts = reasons_for(turn, cause)
        if facts:
            means = turn.knowledge.causes[cause].means.in_(turn.language)
            turn.say("why_suspect", cause=means, facts=sentence_list(facts, turn.language))
            return


def _splits(turn: Turn, check: CheckId) -> tuple[tuple[CauseId, StateId], ...]:
    """What the question tells apart, as decided when it was asked; worked out where it was asked for another reason."""
    asked: Asked | None = next((one for one in reversed(turn.case.asked) if one.check == check), None)
    if asked is not None and asked.splits:
        return asked.splits
    compiled = compile_(turn.knowledge)
    belief = weigh(compiled, evidence_of(turn.knowledge, turn.case), tried_of(turn.case))
    splits = why_question(compiled, belief, check, fixable=fixable(turn))
    return tuple((split.cause, split.state) for split in splits)


def _words(turn: Turn, about: Node, state: StateId) -> str:
    knowledge, language = turn.knowledge, turn.language
    symptom = next((node for name, node in knowledge.symptoms.items() if symptom_node(name) == about), None)
    if symptom is not None:
        return symptom.say_back.in_(language)
    finding = next((name for name in knowledge.findings if finding_node(name) == about), None)
    return fact_said(knowledge, finding, state, language) if finding is not None else ""
