"""Where we take words as read, where we say them back, and where we ask: one place for all of it.

A confidence is a probability. A wrong reading taken in silence costs about ten times what one more question costs
(ours: a wrong finding sends the grower to a wrong fix and must be found and taken back; a question costs a minute), so
taking pays from 1 - 1/10. Saying it back costs half a question and catches most errors, so it pays from about 0.6.
"""

from typing import Final

from assistant.reading.said import Outcome

TAKE: Final = 0.9
SAY_BACK: Final = 0.6
LEAST: Final = 0.3
"""Below this nothing is reported of a finding or a complaint."""
LEAST_HAZARD: Final = 0.3
"""A hazard comes before thrift: what is only half heard is reported, and the conversation asks."""


def outcome_of(confidence: float) -> Outcome:
    """What to do with something read with this confidence.

    >>> outcome_of(0.95), outcome_of(0.7), outcome_of(0.4)
    ('take', 'say_back', 'ask')
    """
    if confidence >= TAKE:
        return "take"
    return "say_back" if confidence >= SAY_BACK else "ask"
