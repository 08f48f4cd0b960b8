"""The words of the knowledge, and what all models share: texts in both languages, things, qualities, quantities.

An author meets these models through `kb.schema`, which holds the nodes made of them.
"""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, RootModel, StringConstraints

from kb.ids import Language, QualityId

Phrase = Annotated[str, StringConstraints(min_length=1, strip_whitespace=True)]

Day = Annotated[str, StringConstraints(pattern=r"^\d{4}-\d{2}-\d{2}$")]
"""As 2026-11-25."""


class Frozen(BaseModel):
    """The manner of every model here: unchangeable, and no unknown keys."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", populate_by_name=True, use_attribute_docstrings=True
    )


class Text(Frozen):
    """One text in both languages; Spanish is written, not translated."""

    en: Phrase
    es: Phrase

    def in_(self, language: Language) -> str:
        """The text in `language`."""
        return self.en if language == "en" else self.es


class Review(Frozen):
    """Who read a page through, and when."""

    by: Phrase
    """A role or a first name, as the desk knows it."""
    on: Day


class Node(Frozen):
    """What every page and every entry may say of itself."""

    was: tuple[str, ...] = ()
    """Ids that it had before: open cases that hold one go on with it."""
    reviewed: Review | None = None
    """Who of the trade read it through last."""


class Tombstone(Frozen):
    """What is left of an id that is no longer used."""

    instead: str | None = None
    """The id that says the same now; None: what cases hold under the old one counts no more."""
    since: Day
    why: Phrase


class Retired(RootModel[dict[str, Tombstone]]):
    """The ids of one kind that are no longer used. They never come back for something else."""

    model_config = ConfigDict(frozen=True)


class Wordings(Frozen):
    """Ways people say one thing, a list a language."""

    en: tuple[Phrase, ...] = ()
    es: tuple[Phrase, ...] = ()

    def in_(self, language: Language) -> tuple[str, ...]:
        """The wordings in `language`."""
        return self.en if language == "en" else self.es


class Thing(Node, Wordings):
    """Something that can be talked about: coil, door, fan. `en` and `es` are its names, singular and plural."""

    means: Phrase
    """For authors: what it is, in English."""


class Quality(Node, Wordings):
    """What can be said of things: iced, dirty, stopped. Every inflection that people use stands in the lists."""

    opposite: QualityId | None = None
    """What "not iced" amounts to, where it amounts to anything."""


class WordGroup(Node, Wordings):
    """Words that play one part where a danger is told: people, going in, not coming back, an engine, a closed place."""

    means: Phrase
    """For authors: the part that these words play, in English."""


class Quantity(Node):
    """Something with a number: the room's temperature, the length of a cord."""

    kind: Literal["temperature", "length", "duration", "power", "voltage", "current", "count", "mass"]
    means: Text
    words: Wordings
    """What marks a number as this one: "room", "set to", "outside"."""
    at_least: float
    at_most: float
    """In SI (°C, m, s, W, V, A): outside this range the number is asked about, never clamped."""


class Product(Node, Wordings):
    """Something that is kept cold. `en` and `es` are its names; the first of each is said back."""

    stored_as: Phrase
    """Its row in the engineering room's table of commodities."""
    bushel_kg: Annotated[float, Field(gt=0)] | None = None
    """What a bushel of it weighs; None: nobody sells it so."""
    food: Literal["quality only", "milk", "eggs", "meat", "poultry", "fish", "kept at 41"] = "quality only"
    """Which rule of temperature it falls under; whole produce and flowers have none."""
    source: Phrase = (
        "USDA, Weights, Measures, and Conversion Factors for Agricultural Commodities (AH 697), from memory"
    )
