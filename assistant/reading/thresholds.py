"""Where we take words as read, where we say them back, and where we ask: one place, derived from what each costs.

The unit is one more question (a minute of somebody's time). A wrong reading that stays costs about six (it sends the
grower to a wrong fix, and must be found and taken back); saying back what was read costs half a question to read over,
and four errors in five are caught by it (all three ours, no source). With probability p of being right the costs are

    take      (1 - p) WRONG
    say back  SAID_BACK + (1 - p) WRONG (1 - CAUGHT)
    ask       1

and the cheapest of them is done: taking from `TAKE` on, saying back from `SAY_BACK` on. That holds only as far as a
confidence is a probability (`assistant.reading.sureness`; `helpline read --score` prints how far).
"""

from typing import Final

from assistant.reading.said import Outcome

WRONG: Final = 6.25
SAID_BACK: Final = 0.5
CAUGHT: Final = 0.8
TAKE: Final = 1 - SAID_BACK / (WRONG * CAUGHT)
SAY_BACK: Final = round(1 - (1 - SAID_BACK) / (WRONG * (1 - CAUGHT)), 9)
LEAST: Final = 0.3
"""Below this nothing is reported of a finding or a complaint."""
LEAST_HAZARD: Final = 0.3
"""A hazard comes before thrift: what is only half heard is reported, and the conversation asks."""


def outcome_of(confidence: float) -> Outcome:
    """What to do with something read with this confidence.

    >>> round(TAKE, 9), SAY_BACK
    (0.9, 0.6)
    >>> outcome_of(0.95), outcome_of(0.7), outcome_of(0.4)
    ('take', 'say_back', 'ask')
    """
    if confidence >= TAKE:
        return "take"
    return "say_back" if confidence >= SAY_BACK else "ask"
