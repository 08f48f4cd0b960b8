"""The names by which the knowledge calls its pieces; a type each, so that two cannot be swapped by mistake."""

from typing import Literal, NewType

SymptomId = NewType("SymptomId", str)
FindingId = NewType("FindingId", str)
StateId = NewType("StateId", str)
CheckId = NewType("CheckId", str)
CauseId = NewType("CauseId", str)
FixId = NewType("FixId", str)
HazardId = NewType("HazardId", str)
ThingId = NewType("ThingId", str)
QualityId = NewType("QualityId", str)
QuantityId = NewType("QuantityId", str)
ProductId = NewType("ProductId", str)
WordGroupId = NewType("WordGroupId", str)

Language = Literal["en", "es"]
LANGUAGES: tuple[Language, ...] = ("en", "es")
