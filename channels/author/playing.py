"""A few messages played from the beginning: what each was read as, what was answered, and what is believed at the end."""

from collections.abc import Sequence
from datetime import datetime

from assistant.conversation.pending import as_read
from assistant.conversation.turn import Turn
from assistant.helpline import insight_into
from assistant.reading import read
from assistant.reading.explain import explain
from assistant.workbench.replay import Player, as_text
from kb.ids import CauseId, CheckId, Language
from kb.knowledge import Knowledge

SHOWN = 6
Row = dict[str, object]


def played(knowledge: Knowledge, texts: Sequence[str], language: Language | None, at: datetime) -> Row:
    """Everything that the page shows; ready for JSON."""
    player = Player(knowledge, at, "America/New_York")
    player.begin(language)
    turns = [_turn(player, text) for text in texts]
    insight = insight_into(knowledge, player.case, player.at)
    return {
        "turns": turns,
        "state": player.case.state,
        "entropy_bits": round(insight.entropy_bits, 2),
        "believed": [
            {"id": cause, "words": knowledge.causes[CauseId(cause)].means.en, "share": round(share, 4)}
            for cause, share in insight.marginals[:SHOWN]
        ],
        "something_else": round(insight.something_else, 4),
        "why": _why(player) if insight.evidence is not None else [],
        "next": [
            {
                "id": one.check,
                "words": knowledge.checks[CheckId(one.check)].ask.en,
                "gain_bits": round(one.gain_bits, 3),
                "minutes": round(one.effort, 1),
                "apart": [f"{split.state} → {split.cause}" for split in one.apart],
            }
            for one in insight.next[:SHOWN]
        ],
    }


def _turn(player: Player, text: str) -> Row:
    question = as_read(Turn(knowledge=player.knowledge, case=player.case, at=player.at))
    reading = read(player.knowledge, text, about=question, language=player.case.language)
    understood = explain(player.knowledge, text, reading, question)
    return {"text": text, "read": understood, "said": [as_text(one) for one in player.hear(text)]}


def _why(player: Player) -> list[Row]:
    """What each thing learnt says for (+) or against (-) the leading cause, in bits; the most telling first."""
    evidence = insight_into(player.knowledge, player.case, player.at).evidence
    if evidence is None or not evidence.causes:
        return []
    rows = [(row.about.partition(":")[2], str(row.state), float(row.bits[0])) for row in evidence.rows]
    return [
        {"about": about, "state": state, "bits": round(bits, 2), "cause": str(evidence.causes[0])}
        for about, state, bits in sorted(rows, key=lambda row: (-abs(row[2]), row[0]))
    ]
