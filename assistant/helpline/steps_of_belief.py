"""How belief moved over a conversation, as the picture of it takes it."""

from collections.abc import Callable

from assistant.conversation.events import Believed, Event, Heard
from assistant.drawing.beliefs import BeliefStep

Log = tuple[tuple[int, Event], ...]
"""Events, each with its place in the log."""


def belief_steps(log: Log, words: Callable[[str], str]) -> list[BeliefStep]:
    """Belief after each message that moved it."""
    steps: list[BeliefStep] = []
    heard = 0
    for _, event in log:
        if isinstance(event, Heard):
            heard += 1
        if isinstance(event, Believed):
            shares = [(words(str(cause)), share) for cause, share in event.causes]
            step = BeliefStep(learnt=f"{heard}", shares=shares)
            if steps and steps[-1].learnt == step.learnt:
                steps[-1] = step
            else:
                steps.append(step)
    return steps
