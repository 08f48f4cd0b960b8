"""What a text said, as the other rooms receive it: every part with its span, its time and how sure we are."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal, NamedTuple

from kb.ids import CheckId, FindingId, HazardId, Language, ProductId, QuantityId, StateId, SymptomId, ThingId

When = Literal["now", "before", "would_be", "asked", "by_another"]
Move = Literal[
    "why", "how", "skip", "unsure", "cannot", "back", "start_over", "person", "next", "done", "pause",
    "yes", "no", "english", "spanish", "greeting", "thanks", "goodbye", "off_topic", "new_problem",
    "emergency_over", "give_up", "repeat", "is_it_fixed", "holds",
]  # fmt: skip
Outcome = Literal["take", "say_back", "ask"]


class Span(NamedTuple):
    """`[start, end)` in code points of the text as sent."""

    start: int
    end: int


NOWHERE: Final = Span(0, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingSaid:
    """One finding that the words speak of."""

    finding: FindingId
    state: StateId
    """The likeliest state; negation is already resolved into it."""
    likelihood: Mapping[StateId, float]
    """p(state | these words) over all states of the finding; sums to 1."""
    confidence: float
    when: When
    span: Span
    source: str = ""
    """How it was composed ("pair", "saying" …); empty where only the ear heard it."""
    denied: bool = False
    """The state is what a "not" left."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComplaintSaid:
    """One complaint."""

    symptom: SymptomId
    confidence: float
    span: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class QuantitySaid:
    """One number with its unit and role; `quantity` is None where the words do not settle which."""

    quantity: QuantityId | None
    value: float
    unit: str | None
    """As said ("F", "C", "ft", "h", …) or as settled; None where both units would make sense."""
    si: float | None
    """In SI (°C, m, s, W, V, A); None where the unit is open."""
    at: str | None = None
    """A clock time or "ago" said with it, as ISO-like words: "14:00"; "2:00", "11:00?" where the half of
    the day is open; "-PT2H"."""
    when: When = "now"
    confidence: float = 1.0
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardSaid:
    """One hazard heard in the words."""

    hazard: HazardId
    confidence: float
    span: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductSaid:
    """Something kept in the room that the words name."""

    product: ProductId
    span: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """How the text answers the open question."""

    kind: Literal["state", "number", "unsure", "cannot", "none"]
    state: str | None = None
    """The value of the option chosen (a state of the check's finding, or the option's own value)."""
    value: float | None = None
    unit: str | None = None
    likelihood: Mapping[str, float] = field(default_factory=dict)
    """p(option | words) over the options; empty where `kind` is not `state`."""
    confidence: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Unread:
    """Words that nothing was made of."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One way to answer the open question: its value and all that it is called, the label first."""

    value: str
    label: str
    wordings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenQuestion:
    """The question that was open when the text came."""

    check: CheckId | None = None
    finding: FindingId | None = None
    options: tuple[Option, ...] = ()
    told_as: tuple[Option, ...] = ()
    """The states in words where a number is asked: "miles over" tells something, too."""
    graded: bool = False
    """The options are grades in order: "some" beside "none" makes a grade between the ends."""
    number_of: QuantityId | None = None
    """A number is expected."""
    number_tells: QuantityId | None = None
    """What a number is that comes with an answer by words; None where a bare one would be nobody's."""
    yes_means: str | None = None
    """The option that a plain "yes" chooses, where the question's own words settle it ("Does it turn?")."""
    no_means: str | None = None
    """The option that a plain "no" chooses."""
    yes_no: bool = False
    """Options are "yes" and "no" (and the reading takes every shape of them)."""
    done: bool = False
    """We wait for "done"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """All that one text said."""

    language: Language
    language_confidence: float
    complaints: tuple[ComplaintSaid, ...] = ()
    findings: tuple[FindingSaid, ...] = ()
    quantities: tuple[QuantitySaid, ...] = ()
    hazards: tuple[HazardSaid, ...] = ()
    products: tuple[ProductSaid, ...] = ()
    moves: tuple[Move, ...] = ()
    answer: Answer = Answer(kind="none")
    outcome: Outcome = "take"
    """What the thresholds say of the answer (with a question open) or of the weakest finding (without)."""
    corrects: bool = False
    """The text takes something back ("sorry, I meant 48")."""
    unread: tuple[Unread, ...] = ()
    last_thing: ThingId | None = None
    """The thing named last: what "it" will mean in the next text."""
