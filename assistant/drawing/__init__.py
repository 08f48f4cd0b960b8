"""Drawing: pictures from values that stand in events.

In: plain values. Out: SVG text that carries its own alternative text. Never: a decision, a colour that speaks alone.
"""

from assistant.drawing.beliefs import BeliefStep, draw_beliefs
from assistant.drawing.reliability import Bin, draw_reliability

__all__ = ["BeliefStep", "Bin", "draw_beliefs", "draw_reliability"]
