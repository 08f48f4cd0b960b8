"""Drawing: pictures from values that stand in events.

In: plain values. Out: SVG text that carries its own alternative text. Never: a decision, a colour that speaks alone.
"""

from assistant.drawing.balances import balance_in_words, draw_balance
from assistant.drawing.beliefs import BeliefStep, draw_beliefs
from assistant.drawing.courses import CourseDrawn, course_in_words, draw_course
from assistant.drawing.reliability import Bin, draw_reliability

__all__ = [
    "BeliefStep",
    "Bin",
    "CourseDrawn",
    "balance_in_words",
    "course_in_words",
    "draw_balance",
    "draw_beliefs",
    "draw_course",
    "draw_reliability",
]
