"""What an author may write: one model per kind of file, checked once, believed ever after.

Five kinds of node make the graph (symptom, finding, check, cause, fix); hazards hang beside them; things, qualities
and quantities are the words that the reading room composes. Every model refuses keys it does not know.
"""

from typing import Annotated, Literal

from pydantic import Field

from kb.ids import (
    CauseId,
    CheckId,
    FindingId,
    FixId,
    HazardId,
    QualityId,
    QuantityId,
    StateId,
    SymptomId,
    ThingId,
    WordGroupId,
)
from kb.schema_words import (
    Frozen,
    Node,
    Phrase,
    Product,
    Quality,
    Quantity,
    Retired,
    Review,
    Text,
    Thing,
    Tombstone,
    WordGroup,
    Wordings,
)

__all__ = [
    "ROOM_AC", "Cause", "Check", "Effort", "Equipment", "Example", "Finding", "Fix", "Frozen", "Hazard", "HowCommon",
    "HowStrongly", "Node", "Phrase", "Product", "Quality", "Quantity", "Retired", "Review", "Said", "State", "Step", "Strength",
    "Sum", "Symptom", "Text", "Thing", "Told", "Tombstone", "Verify", "Where", "WhoFixes", "WordGroup", "Wordings",
]  # fmt: skip

HowStrongly = Literal["nearly always", "usually", "often", "sometimes", "rarely", "almost never"]
HowCommon = Literal["very common", "common", "uncommon", "rare", "very rare"]
Strength = HowStrongly | Annotated[float, Field(gt=0, lt=1)]
"""A word from the one table in `kb.likelihood`, or a share between 0 and 1 where somebody counted."""

Equipment = Literal["window", "through_wall", "mini_split", "packaged", "condensing_unit", "something_else"]
ROOM_AC: tuple[Equipment, ...] = ("window", "through_wall", "mini_split")

Where = Literal["anywhere", "inside the room", "at the unit", "outside", "at the panel"]
WhoFixes = Literal["customer", "desk", "refrigeration trade", "electrician", "nobody"]
"""`nobody`: nothing is wrong, and the fix is an explanation."""


class State(Wordings):
    """One state of a finding. The first wording of each language is the option as shown to the customer.

    The others are ways people say it *of the finding's things* ("full of fluff"), or in answer to its question.
    """

    is_: Annotated[tuple[QualityId, ...], Field(alias="is")] = ()
    """Shared qualities that mean this state when said of one of the finding's things."""
    was: tuple[StateId, ...] = ()
    """Names that the state had before."""


class Sum(Frozen):
    """A finding that is worked out from numbers in place of being looked at."""

    name: Literal[
        "room_above_target", "display_minus_thermometer", "outdoor_level", "target_level", "load_against_capacity",
        "ice_point", "line_loss",
    ]  # fmt: skip
    of: tuple[QuantityId, ...]
    also: tuple[QuantityId, ...] = ()
    """Numbers that it takes where they are known, and else a stated guess."""
    facts: tuple[FindingId, ...] = ()
    """Findings that it takes where they are known."""


class Finding(Node):
    """A fact about the room, with its states in order; `normal` is one of them, or None where nothing is normal."""

    finding: FindingId
    means: Text
    """For authors and colleagues: "how dirty the filter is"."""
    topic: Text
    """What it is about, in a few words: "filter"; said back as "filter: clogged" where `say_back` has nothing."""
    say_back: dict[StateId, Text] = {}
    """Each state as a person would say it in the middle of a sentence: "the filter is clogged"."""
    normal: StateId | None
    background: dict[StateId, Strength] = {}
    """How often each state shows where no listed cause is at work; the normal state takes the rest."""
    ordered: bool = True
    history: bool = False
    """True where the past counts as much as now: trips, shocks, gas added."""
    lasts: Literal["always", "until a fix that touches it"] | Annotated[int, Field(gt=0)] = (
        "until a fix that touches it"
    )
    """A number is minutes."""
    group: Phrase | None = None
    """Findings of one group tell the same story twice: only the most telling of them counts."""
    things: tuple[ThingId, ...] = ()
    states: dict[StateId, State]
    sayings: dict[StateId, Wordings] = {}
    """Whole phrases that say the state without naming the thing: "it's an igloo in there"."""
    answers: dict[StateId, Wordings] = {}
    """What people say who were asked: words that tell the state to its question and, alone, to nothing else."""
    sum: Sum | None = None
    implies: dict[FindingId, StateId] = {}
    """To know this at all means that: who reads a sentence off the display has a display that works."""


class Symptom(Node):
    """A complaint: evidence, never a filter."""

    symptom: SymptomId
    means: Text
    background: Strength = "rarely"
    """How often people complain of this where no listed cause is at work."""
    request: bool = False
    """A wish or a question of theirs: whoever asks it, or would like it, says it."""
    same_as: dict[FindingId, StateId] = {}
    """Findings that this complaint is another name for: then it counts once."""
    says: tuple["Said", ...] = ()
    sayings: Wordings
    say_back: Text
    """What we heard, as the end of a sentence: "the room is too warm"."""


class Said(Frozen):
    """Things × qualities: any of the things with any of the qualities in one clause."""

    things: tuple[ThingId, ...]
    is_: Annotated[tuple[QualityId, ...], Field(alias="is")]


class Told(Frozen):
    """Words that tell a hazard together: one of each group in one breath, in any order, with anything between."""

    all_: Annotated[tuple[WordGroupId, ...], Field(alias="all", min_length=1)]
    """The first one is the head: whether it is so now, was, or is only supposed is heard there."""
    unless: tuple[WordGroupId, ...] = ()
    """Words in the same sentence that explain it away: "we roast coffee next door"."""
    within: Annotated[int, Field(ge=1, le=40)] = 26
    """Other words that may stand between, at most."""
    act: bool = False
    """Somebody does it: meaning to do it, or asking whether one may, tells it as well as doing it."""
    after: HazardId | None = None
    """Counts only where that hazard was met before in the case: "it quit again" after a first trip."""
    doubtful: bool = False
    """May well be harmless: the safe thing is said, and it is asked."""


class Effort(Frozen):
    """What a check costs the grower."""

    minutes: Annotated[float, Field(gt=0)]
    where: Where = "anywhere"
    tools: tuple[
        Literal["thermometer", "screwdriver", "tape measure", "flashlight", "gloves", "meter"], ...
    ] = ()
    unpleasant: bool = False
    wait_minutes: Annotated[float, Field(ge=0)] = 0


class Check(Node):
    """A way to learn one finding."""

    check: CheckId
    finds: FindingId
    ask: Text
    again: Text
    """The same question in other words, for the second time."""
    why: Text
    """One sentence that begins "Because …" / "Porque …"."""
    how: Text
    """How to do it, for somebody who never has."""
    measures: QuantityId | None = None
    """Answered by a number of this quantity; the finding's sum does the rest."""
    number_tells: QuantityId | None = None
    """What a number is that comes with the answer ("7 minutes" to "how long does it rest?"): kept beside it."""
    offers: tuple[StateId, ...] = ()
    """The states offered as options, in order; empty: all of the finding's."""
    effort: Effort
    people_are_right: HowStrongly = "usually"
    only_if: dict[FindingId, tuple[StateId, ...]] = {}
    """Asked only when each of these findings is known to be in one of these states."""
    unless: dict[FindingId, tuple[StateId, ...]] = {}
    """Never asked when one of these findings is known to be in one of these states (ducts of a plug on a mini-split)."""
    caution: Text | None = None
    """Said before the question."""


class Example(Frozen):
    """Facts said, and what must follow."""

    said: dict[FindingId, StateId]
    complaint: SymptomId | None = None
    fix: FixId | None = None
    """The fix that must come first in belief."""
    ask: tuple[CheckId, ...] = ()
    """One of these checks must be asked next."""


class Cause(Node):
    """Something that can be wrong, or (`kind: normal`) look wrong and be right."""

    cause: CauseId
    means: Text
    """After "It looks as if …" / "Parece que …"."""
    kind: Literal["fault", "normal"] = "fault"
    equipment: tuple[Equipment, ...]
    how_common: HowCommon
    complaints: dict[SymptomId, Strength] = {}
    shows: dict[FindingId, dict[StateId, Strength]]
    fixes: tuple[FixId, ...]
    """In the order in which they are tried."""
    hides: tuple[CauseId, ...] = ()
    """Causes that cannot be seen while this one is there."""
    sealed_circuit: bool = False
    examples: tuple[Example, ...] = ()
    source: Phrase = "common practice, no source"


class Step(Text):
    """One thing to do; its caution is said before it."""

    caution: Text | None = None


class Verify(Frozen):
    """How we see that it worked."""

    after_hours: Annotated[float, Field(ge=0, le=48)]
    ask: CheckId | None = None
    """A check to ask again; None: the room's temperature at the same point of the cycle."""
    expect: tuple[StateId, ...] = ()
    """With `ask`: the states that say it worked."""


class Fix(Node):
    """One remedy, with its cautions before the steps they guard."""

    fix: FixId
    means: Text
    """An order in a few words: "clean the filter"."""
    who: WhoFixes
    steps: tuple[Step, ...]
    """For a trade or the desk: what the customer can do meanwhile, never the licensed work. For `nobody`: the explanation."""
    minutes: Annotated[float, Field(gt=0)]
    parts: tuple[Phrase, ...] = ()
    works: HowStrongly = "usually"
    works_for: dict[CauseId, HowStrongly] = {}
    touches: tuple[FindingId, ...] = ()
    """Findings that no longer count as now once this is done."""
    unless: dict[FindingId, tuple[StateId, ...]] = {}
    watch: bool = False
    """With `who: nobody`, where only time is needed: the room's numbers are watched until it holds."""
    verify: Verify
    should_change: Text
    """What the grower will see if it worked."""


class Hazard(Node):
    """Something that can hurt somebody; it comes before everything else."""

    hazard: HazardId
    level: Literal["danger", "stop and confirm", "care"]
    means: Phrase
    told_of: Text
    """What people wrote of, in the middle of a sentence: "a burning smell"."""
    first: Text
    """The first sentence, as reviewed; `{call}` and `{call_all}` are whole sentences by region."""
    then: Text | None = None
    """A second text, where there is one."""
    after: dict[Literal["sign", "no sign", "not sure"], Text] = {}
    """For a hazard that asks: the text after each answer."""
    becomes: HazardId | None = None
    """The danger that it turns into with a sign of people at risk or a second time."""
    never: Phrase
    act: bool = False
    """What it warns of is done by somebody: its sayings count when they are only meant or asked about, too."""
    covers: tuple[HazardId, ...] = ()
    """Hazards of which this one says more: told by the same text, they give way. Two that cover each other are rivals:
    the one that is less the very words gives way, and where the words leave it open, both are said."""
    unless: tuple[WordGroupId, ...] = ()
    """Words in the same sentence that explain it away, however it is told."""
    unless_ours_is_named: tuple[WordGroupId, ...] = ()
    """The same, but where one of the room's own machines is named beside them it stays doubtful."""
    says: tuple[Said, ...] = ()
    told: tuple[Told, ...] = ()
    sayings: Wordings
    not_these: Wordings = Wordings()
    """Figures of speech and ordinary uses that look like this hazard and are not."""
