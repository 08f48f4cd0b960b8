"""How a case begins: who answers, that it is an assistant, how to get a person, who to call in danger."""

from assistant.conversation.events import CaseOpened, FactLearned
from assistant.conversation.happenings import CaseBegun
from assistant.conversation.turn import Turn
from kb.ids import FindingId, StateId

CARRIED_SURE = 0.9
"""What an earlier case knew may have changed since."""


def begin(turn: Turn, begun: CaseBegun) -> None:
    """Open the case; where its language is known already it may be greeted before any message."""
    turn.add(
        CaseOpened(
            at=begun.at,
            language=begun.language,
            channel=begun.channel,
            edition=turn.knowledge.edition,
            zone=begun.zone,
            region=begun.region,
            room=begun.room,
            desk_opens=begun.desk_opens,
            desk_closes=begun.desk_closes,
            agreed=begun.agreed,
            phone_line=begun.phone_line,
        )
    )
    for finding, state in begun.carried:
        _carry(turn, FindingId(finding), StateId(state))
    if begun.greet:
        turn.say("opening", alone=True)
        turn.say("opening_ask")
        turn.wait_for("opening")


def _carry(turn: Turn, finding: FindingId, state: StateId) -> None:
    node = turn.knowledge.findings.get(finding)
    if node is None or state not in node.states:
        return
    others = (1.0 - CARRIED_SURE) / max(len(node.states) - 1, 1)
    shares = tuple((name, CARRIED_SURE if name == state else others) for name in node.states)
    turn.add(
        FactLearned(
            at=turn.at,
            finding=finding,
            state=state,
            likelihood=shares,
            confidence=CARRIED_SURE,
            source="carried",
        )
    )
