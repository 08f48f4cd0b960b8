"""One step in the making: events are added one by one, and each is folded at once, so that what follows sees it.

Words are gathered as pieces and joined at the end into as few texts as fit two SMS parts each.
"""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

from assistant.conversation import events as ev
from assistant.conversation.case import Case, apply
from assistant.conversation.ids import ASSISTANT, ConsentScope, SentenceId
from assistant.wording import tidy, variant, with_calls
from kb.gsm7 import fold_for_sms, segments
from kb.ids import CheckId, FindingId, FixId, HazardId, Language, QuantityId, StateId
from kb.knowledge import Knowledge

PARTS_A_TEXT = 2
"""One or two SMS parts a text is the rule; longer fixes come in several texts."""

WaitKind = Literal[
    "check",
    "say_back",
    "done",
    "hazard_done",
    "hazard_sign",
    "number",
    "opening",
    "which_unit",
    "resolved",
    "consent",
    "did_it_hold",
    "made_safe",
    "nothing",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A few words on their way into a text."""

    sentence: SentenceId
    text: str
    options: tuple[tuple[str, str], ...] = ()
    urgent: bool = False
    opens_with: tuple[SentenceId, ...] = ()
    alone: bool = False
    """Never joined with its neighbours: danger, and numbered parts."""


@dataclass(slots=True)
class Turn:
    """What a step has decided so far."""

    knowledge: Knowledge
    case: Case
    at: datetime
    urgent: bool = False
    """An answer to somebody who just wrote: quiet hours do not hold it."""
    voice: str = ASSISTANT
    """Who says it."""
    events: list[ev.Event] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)

    @property
    def language(self) -> Language:
        """The language of our replies."""
        return self.case.language or "en"

    @property
    def region(self) -> str:
        """Which number saves lives where the room is."""
        return self.case.opened.region if self.case.opened else "unknown"

    @property
    def zone(self) -> str:
        """The room's time zone."""
        return self.case.opened.zone if self.case.opened else "UTC"

    def add(self, event: ev.Event) -> None:
        """Decide one more thing."""
        self.events.append(event)
        self.case = apply(self.case, event)

    def say(
        self, sentence: str, *, options: tuple[tuple[str, str], ...] = (), alone: bool = False, **values: str
    ) -> None:
        """Say one of our own sentences, in other words than the last time."""
        nth = self.case.times_said(sentence) + self._times_pending(sentence)
        words = variant(sentence, self.language, nth, **values)
        self.say_text(sentence, words, options=options, alone=alone)

    def say_text(
        self, sentence: str, text: str, *, options: tuple[tuple[str, str], ...] = (), alone: bool = False
    ) -> None:
        """Say words that stand in the knowledge, under a sentence id that names their place."""
        words = tidy(with_calls(text, self.language, self.region))
        piece = Piece(
            sentence=SentenceId(sentence), text=words, options=options, urgent=self.urgent, alone=alone
        )
        self.pieces.append(piece)

    def has_said(self, sentence: str) -> bool:
        """Said in this case already, or about to be."""
        return bool(self.case.times_said(sentence)) or self._times_pending(sentence) > 0

    def wait_for(
        self,
        kind: WaitKind,
        *,
        check: CheckId | None = None,
        finding: FindingId | None = None,
        state: StateId | None = None,
        quantity: QuantityId | None = None,
        value: float | None = None,
        hazard: HazardId | None = None,
        fix: FixId | None = None,
        scope: ConsentScope | None = None,
    ) -> None:
        """Set what the next message is read against."""
        self.add(
            ev.WaitingFor(
                at=self.at,
                kind=kind,
                check=check,
                finding=finding,
                state=state,
                quantity=quantity,
                value=value,
                hazard=hazard,
                fix=fix,
                scope=scope,
            )
        )

    def finish(self) -> tuple[ev.Event, ...]:
        """All events, with what is said at their end."""
        for piece in joined(self.pieces):
            self.add(
                ev.Said(
                    at=self.at,
                    sentence=piece.sentence,
                    language=self.language,
                    text=piece.text,
                    opens_with=piece.opens_with,
                    options=piece.options,
                    urgent=piece.urgent,
                    voice=self.voice,
                )
            )
        return tuple(self.events)

    def _times_pending(self, sentence: str) -> int:
        return sum(piece.sentence == sentence for piece in self.pieces)


def joined(pieces: list[Piece]) -> list[Piece]:
    """Neighbours joined as long as the whole fits `PARTS_A_TEXT`; the last sentence names the text."""
    texts: list[Piece] = []
    for piece in pieces:
        last = texts[-1] if texts else None
        if last is None or last.alone or piece.alone or last.options or not _fit(last, piece):
            texts.append(piece)
            continue
        texts[-1] = Piece(
            sentence=piece.sentence,
            text=f"{last.text} {piece.text}",
            options=piece.options,
            opens_with=(*last.opens_with, last.sentence),
            urgent=last.urgent or piece.urgent,
        )
    return texts


def _fit(first: Piece, second: Piece) -> bool:
    whole = f"{first.text} {second.text} {numbered(second.options)}"
    return segments(fold_for_sms(whole)) <= PARTS_A_TEXT


def numbered(options: tuple[tuple[str, str], ...]) -> str:
    """Options as a text message shows them.

    >>> numbered((("clean", "clean"), ("clogged", "packed with dust")))
    '1 clean, 2 packed with dust'
    """
    return ", ".join(f"{number} {label}" for number, (_, label) in enumerate(options, start=1))
