"""Reasoning: from what was learnt to what is believed, and what to do next.

In: compiled knowledge (`kb.compiling.compile_`), evidence, the fixes tried. Out: a `Belief`, ranked questions, a choice,
and the reasons as data. Never: a sentence, a clock, chance, a memory of its own. Start at `weigh`, then `choose`.
"""

from assistant.reasoning.belief import Belief, weigh
from assistant.reasoning.choice import AskCheck, Choice, Explain, HandOver, TryFix, choose
from assistant.reasoning.conflict import Conflict, Doubt, conflict, conflict_bits
from assistant.reasoning.costs import CALM, Situation, ask_minutes, fix_minutes, patience_left
from assistant.reasoning.evidence import Evidence, FixTried, complained, found
from assistant.reasoning.learning import ClosedCase, Interval, Proposal, propose
from assistant.reasoning.open import missing_quantities, open_checks, open_fixes
from assistant.reasoning.ranking import Ranked, rank
from assistant.reasoning.why import EvidenceRow, EvidenceTable, Split, evidence_table, why_question

__all__ = [
    "CALM",
    "AskCheck",
    "Belief",
    "Choice",
    "ClosedCase",
    "Conflict",
    "Doubt",
    "Evidence",
    "EvidenceRow",
    "EvidenceTable",
    "Explain",
    "FixTried",
    "HandOver",
    "Interval",
    "Proposal",
    "Ranked",
    "Situation",
    "Split",
    "TryFix",
    "ask_minutes",
    "choose",
    "complained",
    "conflict",
    "conflict_bits",
    "evidence_table",
    "fix_minutes",
    "found",
    "missing_quantities",
    "open_checks",
    "open_fixes",
    "patience_left",
    "propose",
    "rank",
    "weigh",
    "why_question",
]
