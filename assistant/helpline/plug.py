"""The conversation as the use cases need it: a plug, into which the real one fits, or a small one for tests."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from assistant.conversation.case import Case
from assistant.conversation.events import Event
from assistant.conversation.happenings import Happening
from assistant.helpline.insight import Insight
from assistant.helpline.sheets import Sheet
from assistant.helpline.steps_of_belief import Log
from assistant.helpline.talk_sheet import Talk
from kb.ids import Language


@dataclass(frozen=True, slots=True, kw_only=True)
class Conversing:
    """The conversation as the use cases need it, the knowledge already in its place; a test plugs in a small one."""

    edition: str
    safety: str = ""
    """A mark of all hazards and cautions: of two editions with the same, neither is the safer."""
    step: Callable[[Case, Happening], tuple[Event, ...]]
    answers: Callable[[Case, str], bool]
    """The text fits the question that is open."""
    waits_for_number: Callable[[Case], bool]
    lasting: Callable[[Case], tuple[tuple[str, str], ...]]
    """What the room's next case may know already."""
    insight: Callable[[Case, datetime], Insight]
    endangers: Callable[[str], bool] = lambda _text: False
    """The text tells of a danger to people, as far as can be told without its case."""
    sheet: Callable[[Log, datetime, Language], Sheet] | None = None
    """A case's log as the desk reads it; None in a conversation that has no desk."""
    states: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """What can be found, and its states."""
    causes: Mapping[Language, Mapping[str, str]] = field(default_factory=dict)
    """What can be wrong, in words, by id: what a case is closed with."""
    complaints: Mapping[Language, Mapping[str, str]] = field(default_factory=dict)
    hazards: Mapping[Language, Mapping[str, str]] = field(default_factory=dict)
    """What can hurt somebody, in words: in Spanish by what is said first of it."""
    fixes: Mapping[Language, Mapping[str, str]] = field(default_factory=dict)
    """What mends it, in words, by id."""
    sentences: Mapping[Language, Mapping[str, str]] = field(default_factory=dict)
    """What a colleague may send by its id, in words."""
    talk: Callable[[Log, Language], Talk] = lambda _log, _language: Talk(read_as={}, glosses={}, suggested=())
    """What stands beside the messages for a colleague."""
    draft: Callable[[Log, str, Language], str] = lambda _log, _words, _language: ""
    """A new failure path for the author, filled in with what a case showed."""
    files: Mapping[str, str] = field(default_factory=dict)
    """The knowledge as its files are, kept with the cases that it spoke in."""
