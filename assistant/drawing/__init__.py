"""Drawing: pictures from values that stand in events.

In: plain values. Out: SVG text that carries its own alternative text. Never: a decision, a colour that speaks alone.
"""

from assistant.drawing.beliefs import BeliefStep, draw_beliefs

__all__ = ["BeliefStep", "draw_beliefs"]
