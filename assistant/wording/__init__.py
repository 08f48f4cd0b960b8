"""Wording: our own sentences, numbers and hours, in English and Spanish.

In: a sentence's id, its values, a language. Out: the words. Never: a decision about what to say.
"""

from assistant.wording.clock import hour_words
from assistant.wording.emergency import call_words, with_calls
from assistant.wording.joining import sentence_list, tidy
from assistant.wording.numbers import (
    TemperatureUnit,
    as_said,
    bare,
    degrees,
    degrees_apart,
    power,
    rating,
    thickness,
)
from assistant.wording.sentences import SENTENCES, Sentence, variant

__all__ = [
    "SENTENCES",
    "Sentence",
    "TemperatureUnit",
    "as_said",
    "bare",
    "call_words",
    "degrees",
    "degrees_apart",
    "hour_words",
    "power",
    "rating",
    "sentence_list",
    "thickness",
    "tidy",
    "variant",
    "with_calls",
]
